"""What a sheet's window says at a temperature: careful between its rows, never beyond them.

Earliest times are read so that they are never too short, latest times so that they are never too long: between two
rows the longer earliest and the shorter latest. A straight line would do for the earliest (the true curve bends below
it) but not for the latest, where it lies above the true curve. Hotter than the table the hottest row's earliest still
holds and the latest is unknown; colder, the coldest row's latest holds and the earliest is unknown: a film cures faster
in warmth, so a time too long at one temperature is too long at no other that is colder, and the other way round.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

SAME_C = 0.6
"""Two readings this close are one: thermometers show whole degrees, and 70 degF is 21.1 degC."""


@dataclass(frozen=True, slots=True)
class WindowRow:
    """One row: earliest and latest in minutes (None: not said) at degC (None: no temperature said)."""

    at_c: float | None
    low: float | None
    high: float | None
    unlimited: bool = False


@dataclass(frozen=True, slots=True)
class WindowAt:
    """A window read at a temperature, minutes. Reasons say in words why an end is unknown, '' where it is known."""

    low: float | None
    high: float | None
    unlimited: bool
    no_low: str = ""
    no_high: str = ""


def read_at(rows: Sequence[WindowRow], temperature: float) -> WindowAt:
    """The window at temperature in degC."""
    if not rows:
        return WindowAt(None, None, False, "the sheet gives no window", "the sheet gives no window")
    untold = [row for row in rows if row.at_c is None]
    told = [row for row in rows if row.at_c is not None]
    if not told:
        return _narrowest(untold)
    low, no_low = _earliest(told, temperature)
    high, unlimited, no_high = _latest(told, temperature)
    return WindowAt(low, high, unlimited, no_low, no_high)


def _narrowest(rows: Sequence[WindowRow]) -> WindowAt:
    lows = [r.low for r in rows if r.low is not None]
    highs = [r.high for r in rows if r.high is not None]
    unlimited = not highs and any(r.unlimited for r in rows)
    return WindowAt(
        max(lows) if lows else None,
        min(highs) if highs else None,
        unlimited,
        "" if lows else "the sheet gives no earliest time",
        "" if highs or unlimited else "the sheet gives no latest time",
    )


def _earliest(rows: Sequence[WindowRow], temperature: float) -> tuple[float | None, str]:
    """Of the two rows about temperature the longer earliest; None colder than every row that gives one."""
    ends = [(row.at_c, row.low) for row in rows if row.at_c is not None and row.low is not None]
    if not ends:
        return None, "the sheet gives no earliest time"
    colder, hotter = _about(ends, temperature)
    if not colder:
        return None, f"the sheet gives no earliest time below {min(at_c for at_c, _ in ends):.0f} °C"
    return max((*colder, *hotter)), ""


def _latest(rows: Sequence[WindowRow], temperature: float) -> tuple[float | None, bool, str]:
    """Of the two rows about temperature the shorter latest; None hotter than every row that gives one."""
    ends = [
        (row.at_c, math.inf if row.high is None else row.high)
        for row in rows
        if row.at_c is not None and (row.high is not None or row.unlimited)
    ]
    if not ends:
        return None, False, "the sheet gives no latest time"
    colder, hotter = _about(ends, temperature)
    if not hotter:
        return None, False, f"the sheet gives no latest time above {max(at_c for at_c, _ in ends):.0f} °C"
    end = min((*colder, *hotter))
    return (None, True, "") if math.isinf(end) else (end, False, "")


def _about(ends: Sequence[tuple[float, float]], temperature: float) -> tuple[list[float], list[float]]:
    """The times of the nearest row that is not hotter than temperature, and of the nearest that is not colder."""
    colder = [at_c for at_c, _ in ends if at_c <= temperature + SAME_C]
    hotter = [at_c for at_c, _ in ends if at_c >= temperature - SAME_C]
    return (
        [time for at_c, time in ends if colder and at_c == max(colder)],
        [time for at_c, time in ends if hotter and at_c == min(hotter)],
    )
