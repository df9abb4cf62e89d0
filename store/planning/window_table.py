"""What a sheet's window says at a temperature: careful between its rows, never beyond them.

Earliest times are read so that they are never too short, latest times so that they are never too long: between two
rows the colder row's earliest and the hotter row's latest. A straight line would do for the earliest (the true curve
bends below it) but not for the latest, where it lies above the true curve. Hotter than the table the hottest row's
earliest still holds and the latest is unknown; colder, the coldest row's latest holds and the earliest is unknown.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

_SAME_C = 0.6
"""Two readings this close are one: 70 degF is 21.1 degC, thermometers show whole degrees."""


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
    untold = [r for r in rows if r.at_c is None]
    told = sorted((r for r in rows if r.at_c is not None), key=lambda r: r.at_c or 0.0)
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
    """Of the rows at or below temperature the hottest, its earliest; never longer than a colder row's is needed."""
    with_low = [r for r in rows if r.low is not None]
    if not with_low:
        return None, "the sheet gives no earliest time"
    colder = [r for r in with_low if r.at_c is not None and r.at_c <= temperature + _SAME_C]
    if not colder:
        coldest = min(r.at_c for r in with_low if r.at_c is not None)
        return None, f"the sheet gives no earliest time below {coldest:.0f} °C"
    nearest = max(r.at_c for r in colder if r.at_c is not None)
    return max(r.low for r in colder if r.at_c == nearest and r.low is not None), ""


def _latest(rows: Sequence[WindowRow], temperature: float) -> tuple[float | None, bool, str]:
    with_high = [r for r in rows if r.high is not None or r.unlimited]
    if not with_high:
        return None, False, "the sheet gives no latest time"
    hotter = [r for r in with_high if r.at_c is not None and r.at_c >= temperature - _SAME_C]
    if not hotter:
        hottest = max(r.at_c for r in with_high if r.at_c is not None)
        return None, False, f"the sheet gives no latest time above {hottest:.0f} °C"
    nearest = min(r.at_c for r in hotter if r.at_c is not None)
    ends = [math.inf if r.high is None else r.high for r in hotter if r.at_c == nearest]
    end = min(ends)
    return (None, True, "") if math.isinf(end) else (end, False, "")
