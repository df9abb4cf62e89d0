"""A pot of mixed paint and its clock: how long it may still be sprayed. Pure; the moment is always given."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from enum import StrEnum

_EARLY_SHARE = 0.25
_EARLY_LEAST, _EARLY_MOST = timedelta(minutes=5), timedelta(minutes=30)


class PotStage(StrEnum):
    FRESH = "fresh"
    ENDING = "ending"
    """Time to finish: the last quarter, at least 5 and at most 30 minutes."""
    OVER = "over"


@dataclass(frozen=True, slots=True)
class PotMoment:
    """left is below nothing once it is over."""

    left: timedelta
    stage: PotStage


@dataclass(frozen=True, slots=True)
class Pot:
    """A mix made at a moment that keeps for `minutes`. mixed_at must know its time zone; raises ValueError else."""

    name: str
    mixed_at: datetime
    minutes: float

    def __post_init__(self) -> None:
        if self.mixed_at.tzinfo is None:
            raise ValueError("the time of mixing needs a time zone")
        if not 0 < self.minutes < 60 * 24 * 366:
            raise ValueError("a pot life must be above nothing and below a year")

    @property
    def ends_at(self) -> datetime:
        # In UTC: hours of a wall clock are not all alike on the nights when clocks change.
        return (self.mixed_at.astimezone(UTC) + timedelta(minutes=self.minutes)).astimezone(self.mixed_at.tzinfo)

    @property
    def warns_at(self) -> datetime:
        early = timedelta(minutes=self.minutes * _EARLY_SHARE)
        early = min(max(early, _EARLY_LEAST), _EARLY_MOST)
        warns = max(self.ends_at.astimezone(UTC) - early, self.mixed_at.astimezone(UTC))
        return warns.astimezone(self.mixed_at.tzinfo)

    def at(self, now: datetime) -> PotMoment:
        moment = now.astimezone(UTC)
        left = self.ends_at.astimezone(UTC) - moment
        if left <= timedelta(0):
            return PotMoment(left, PotStage.OVER)
        return PotMoment(left, PotStage.ENDING if moment >= self.warns_at.astimezone(UTC) else PotStage.FRESH)


def pot_to_text(pot: Pot) -> str:
    """One line to remember it by; pot_from_text reads it again."""
    return f"{pot.mixed_at.isoformat()} {pot.minutes!r} {pot.name}"


def pot_from_text(text: str) -> Pot | None:
    """None for a line that no pot wrote."""
    try:
        at, minutes, name = text.split(" ", 2)
        return Pot(name, datetime.fromisoformat(at), float(minutes))
    except ValueError:
        return None
