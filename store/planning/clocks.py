"""From a coat put on at a time to times of day for the next one.

The earliest runs on the warmth that the coat really had: each stretch of the forecast counts as the share of the wait
that it makes up at its own temperature. The latest runs at the highest temperature seen since the coat went on, the
rule of UFGS-09971 for recoat windows. All sums are done in UTC, so clocks that change and months of any length are
right; results come back in the time zone of the start.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta

from store.rules.window_table import WindowRow, read_at


@dataclass(frozen=True, slots=True)
class Warmth:
    """The temperature in degC from a moment on, until the next one of the forecast."""

    since: datetime
    temperature: float


@dataclass(frozen=True, slots=True)
class Clock:
    """Earliest and latest moment; None with a reason where the sheet does not say, or where there is no end."""

    earliest: datetime | None
    latest: datetime | None
    unlimited: bool = False
    no_earliest: str = ""
    no_latest: str = ""


def steady(start: datetime, temperature: float) -> tuple[Warmth, ...]:
    """A forecast of one temperature."""
    return (Warmth(start, temperature),)


def clock(rows: Sequence[WindowRow], start: datetime, forecast: Sequence[Warmth]) -> Clock:
    """When the next coat may go on. start and forecast are aware datetimes; raises ValueError where they are not."""
    if start.tzinfo is None or any(w.since.tzinfo is None for w in forecast):
        raise ValueError("times need a time zone")
    spells = _spells(start, forecast)
    earliest, no_earliest = _earliest(rows, spells)
    latest, unlimited, no_latest = _latest(rows, spells)
    zone = start.tzinfo
    return Clock(
        earliest.astimezone(zone) if earliest else None,
        latest.astimezone(zone) if latest else None,
        unlimited,
        no_earliest,
        no_latest,
    )


@dataclass(frozen=True, slots=True)
class _Spell:
    start: datetime
    end: datetime | None
    temperature: float


def _spells(start: datetime, forecast: Sequence[Warmth]) -> tuple[_Spell, ...]:
    """The forecast from start on, in UTC; its first temperature holds before its first moment."""
    if not forecast:
        raise ValueError("no temperature given")
    ordered = sorted((w.since.astimezone(UTC), w.temperature) for w in forecast)
    begin = start.astimezone(UTC)
    current = ordered[0][1]
    for since, temperature in ordered:
        if since <= begin:
            current = temperature
    later = [(s, t) for s, t in ordered if s > begin]
    points = [(begin, current), *later]
    ends: list[datetime | None] = [s for s, _ in later]
    ends.append(None)
    return tuple(_Spell(s, e, t) for (s, t), e in zip(points, ends, strict=True))


def _earliest(rows: Sequence[WindowRow], spells: Sequence[_Spell]) -> tuple[datetime | None, str]:
    done = 0.0
    reason = ""
    for spell in spells:
        at = read_at(rows, spell.temperature)
        if at.low is None:
            # A spell colder than the sheet speaks of counts for nothing: the film may not cure in it at all.
            reason = at.no_low
            continue
        if at.low == 0:
            return spell.start, ""
        remaining = timedelta(minutes=(1 - done) * at.low)
        if spell.end is None or spell.start + remaining <= spell.end:
            return spell.start + remaining, ""
        done += (spell.end - spell.start) / timedelta(minutes=at.low)
    return None, reason


def _latest(rows: Sequence[WindowRow], spells: Sequence[_Spell]) -> tuple[datetime | None, bool, str]:
    begin = spells[0].start
    hottest = float("-inf")
    for spell in spells:
        hottest = max(hottest, spell.temperature)
        at = read_at(rows, hottest)
        if at.high is None and not at.unlimited:
            return None, False, at.no_high
        if at.unlimited:
            continue
        end = begin + timedelta(minutes=at.high or 0.0)
        if end <= spell.start:
            return spell.start, False, ""
        if spell.end is None or end <= spell.end:
            return end, False, ""
    return None, True, ""
