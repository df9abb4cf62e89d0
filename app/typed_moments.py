"""Moments and days as people type them: '14:05', 'yesterday 16:30', 'Thu 8:00', '30.3. 14:05', '2026-03-30'. No Qt.

A time of day is the wall clock's of this machine; Python works out the difference from UTC of that very day, so a
moment typed across a change of the clocks is right. Nothing that could be two days is guessed: '3/4/2026' is refused.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from datetime import date, datetime, time, timedelta

_CLOCK = re.compile(r"(?<!\d)(\d{1,2})[:.h](\d{2})(?!\d|\.)\s*$")
_ISO = re.compile(r"(\d{4})-(\d{1,2})-(\d{1,2})")
_DOTTED = re.compile(r"(\d{1,2})\.(\d{1,2})\.(\d{4}|\d{2})?")
_NAMED = re.compile(r"(\d{1,2})\.? ([a-z]{3,9})(?: (\d{4}))?")
_MONTH_ONLY = re.compile(r"(\d{1,2})[/.](\d{4})")
_DAY_NAMES = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
_MONTHS = ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec")
_RELATIVE: Mapping[str, int] = {"today": 0, "yesterday": -1, "tomorrow": 1, "": 0}


class NotAMoment(ValueError):
    """Typed words that are no moment or day."""

    def __init__(self, typed: str) -> None:
        super().__init__(f"not a moment: {typed}")
        self.typed = typed


def read_moment(typed: str, now: datetime, *, ahead: bool = False) -> datetime:
    """A typed moment, aware. 'now' is now; a time alone is of today; a bare weekday is the last one, or with ahead
    the next. Raises NotAMoment."""
    text = " ".join(typed.strip().casefold().replace(",", " ").split())
    if text == "now":
        return now
    clock = _CLOCK.search(text)
    if clock is None:
        raise NotAMoment(typed.strip())
    try:
        at = time(int(clock[1]), int(clock[2]))
    except ValueError:
        raise NotAMoment(typed.strip()) from None
    day = _day(text[: clock.start()].strip(), now.date(), ahead=ahead)
    if day is None:
        raise NotAMoment(typed.strip())
    # Without a zone it is the wall clock of this machine, on that day.
    return datetime.combine(day, at).astimezone() if now.tzinfo is None or _is_local(now) else _in_zone(day, at, now)


def read_day(typed: str, today: date) -> date | None:
    """A typed day; None where nothing is typed. '3/2026' is the first of that month. Raises NotAMoment."""
    text = " ".join(typed.strip().casefold().replace(",", " ").split())
    if not text:
        return None
    month = _MONTH_ONLY.fullmatch(text)
    found = _date(int(month[2]), int(month[1]), 1) if month is not None else _day(text, today, ahead=False)
    if found is None:
        raise NotAMoment(typed.strip())
    return found


def day_text(day: date | None) -> str:
    """'30 Mar 2026': what read_day reads."""
    return "" if day is None else f"{day.day} {_MONTHS[day.month - 1].capitalize()} {day.year}"


def moment_text(at: datetime) -> str:
    """'Mon 30 Mar 2026, 14:05' by the clock that `at` is given in: what read_moment reads."""
    return f"{_DAY_NAMES[at.weekday()].capitalize()} {day_text(at.date())}, {at:%H:%M}"


def _is_local(now: datetime) -> bool:
    return now.utcoffset() == now.astimezone().utcoffset()


def _in_zone(day: date, at: time, now: datetime) -> datetime:
    return datetime.combine(day, at, now.tzinfo)


def _day(text: str, today: date, *, ahead: bool) -> date | None:
    if text in _RELATIVE:
        return today + timedelta(days=_RELATIVE[text])
    words = text.split()
    weekday = next((at for at, name in enumerate(_DAY_NAMES) if words[0].startswith(name)), None)
    if weekday is not None and len(words) > 1:
        found = _day(" ".join(words[1:]), today, ahead=ahead)
        return found if found is not None and found.weekday() == weekday else None
    if weekday is not None:
        days = (weekday - today.weekday()) % 7 if ahead else -((today.weekday() - weekday) % 7)
        return today + timedelta(days=days)
    iso = _ISO.fullmatch(text)
    if iso is not None:
        return _date(int(iso[1]), int(iso[2]), int(iso[3]))
    dotted = _DOTTED.fullmatch(text)
    if dotted is not None:
        year = int(dotted[3]) if dotted[3] else today.year
        return _date(year + 2000 if year < 100 else year, int(dotted[2]), int(dotted[1]))
    named = _NAMED.fullmatch(text)
    if named is not None and named[2][:3] in _MONTHS:
        return _date(int(named[3] or today.year), _MONTHS.index(named[2][:3]) + 1, int(named[1]))
    return None


def _date(year: int, month: int, day: int) -> date | None:
    try:
        return date(year, month, day)
    except ValueError:
        return None
