"""Dates of a tin: calendar months, clamped to the end of the month. Past its date: test or discard, not useless."""

from __future__ import annotations

import calendar
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from enum import StrEnum


class TinState(StrEnum):
    GOOD = "good"
    SOON = "soon"
    """Within the warning time."""
    PAST = "past"
    """Past its date: retest or discard."""
    UNKNOWN = "unknown"
    """No date made or bought, or no shelf life said. Never guessed from a batch number."""


def months_later(start: date, months: int) -> date:
    """The same day months later, or the last day of that month where it is shorter."""
    index = start.year * 12 + start.month - 1 + months
    year, month = divmod(index, 12)
    day = min(start.day, calendar.monthrange(year, month + 1)[1])
    return date(year, month + 1, day)


@dataclass(frozen=True, slots=True)
class ShelfDates:
    """When a tin's life ends: unopened (from made, else bought) and opened (from opened); the earlier rules."""

    until: date | None
    why: str


def use_by(
    *,
    made: date | None,
    bought: date | None,
    opened: date | None,
    life_months: float | None,
    opened_months: float | None = None,
) -> ShelfDates:
    """The last day of a tin. Months may be fractional (a half counts as 15 days)."""
    ends: list[tuple[date, str]] = []
    start = made or bought
    if start is not None and life_months is not None:
        ends.append((_later(start, life_months), "from the day it was " + ("made" if made else "bought")))
    if opened is not None and opened_months is not None:
        ends.append((_later(opened, opened_months), "from the day it was opened"))
    if not ends:
        missing = "no shelf life on the sheet" if life_months is None else "no date made or bought"
        return ShelfDates(None, missing)
    until, why = min(ends)
    return ShelfDates(until, why)


def _later(start: date, months: float) -> date:
    whole = int(months)
    end = months_later(start, whole)
    return end if months == whole else date.fromordinal(end.toordinal() + round((months - whole) * 30))


def state(until: date | None, today: date, warn_days: int = 30) -> TinState:
    """How a tin stands today."""
    if until is None:
        return TinState.UNKNOWN
    if today > until:
        return TinState.PAST
    return TinState.SOON if (until - today).days <= warn_days else TinState.GOOD


def mix_until(dates: Sequence[date | None]) -> date | None:
    """The earliest date of the components rules the mix; None where one is unknown."""
    if not dates or any(d is None for d in dates):
        return None
    return min(d for d in dates if d is not None)
