"""Moments and days as people type them: '14:05', 'yesterday 16:30', 'Thu 8:00', '30.3. 14:05', '2026-03-30'. No Qt.

A time of day is the wall clock's of this machine; Python works out the difference from UTC of that very day, so a
moment typed across a change of the clocks is right. Nothing that could be two days is guessed: '3/4/2026' is refused.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping, Sequence
from datetime import date, datetime, time, timedelta

from app.figure_words import month_words, short_day_words, weekday_words
from app.translating import QT_TRANSLATE_NOOP, translate

_CLOCK = re.compile(r"(?<!\d)(\d{1,2})[:.h](\d{2})(?!\d|\.)\s*$")
_ISO = re.compile(r"(\d{4})-(\d{1,2})-(\d{1,2})")
_DOTTED = re.compile(r"(\d{1,2})\.(\d{1,2})\.(\d{4}|\d{2})?")
_NAMED = re.compile(r"(\d{1,2})\.? ([^\W\d_]{3,}\.?)(?: (\d{4}))?")
_MONTH_ONLY = re.compile(r"(\d{1,2})[/.](\d{4})")
_DAY_NAMES = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
_MONTHS = ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec")
_A_MONDAY = date(2024, 1, 1)
_RELATIVE: Mapping[str, int] = {
    QT_TRANSLATE_NOOP("moments", "today"): 0,
    QT_TRANSLATE_NOOP("moments", "yesterday"): -1,
    QT_TRANSLATE_NOOP("moments", "tomorrow"): 1,
    "": 0,
}


class NotAMoment(ValueError):
    """Typed words that are no moment or day."""

    def __init__(self, typed: str) -> None:
        super().__init__(f"not a moment: {typed}")
        self.typed = typed


def read_moment(typed: str, now: datetime, *, ahead: bool = False) -> datetime:
    """A typed moment, aware. 'now' is now; a time alone is of today; a bare weekday is the last one, or with ahead
    the next. Raises NotAMoment."""
    text = " ".join(typed.strip().casefold().replace(",", " ").split())
    if text in {"now", translate("moments", "now").casefold()}:
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
    """'30 Mar 2026' in the language of the window: what read_day reads."""
    return "" if day is None else f"{short_day_words(day)} {day.year}"


def moment_text(at: datetime) -> str:
    """'Mon 30 Mar 2026, 14:05' by the clock that `at` is given in: what read_moment reads."""
    return f"{weekday_words(at)} {day_text(at.date())}, {at:%H:%M}"


def _is_local(now: datetime) -> bool:
    return now.utcoffset() == now.astimezone().utcoffset()


def _in_zone(day: date, at: time, now: datetime) -> datetime:
    return datetime.combine(day, at, now.tzinfo)


def _day(text: str, today: date, *, ahead: bool) -> date | None:
    relative = dict(_RELATIVE) | {
        translate("moments", name).casefold(): days for name, days in _RELATIVE.items() if name
    }
    if text in relative:
        return today + timedelta(days=relative[text])
    words = text.split()
    weekday = _named_at(words[0], _DAY_NAMES, lambda at: weekday_words(_A_MONDAY + timedelta(days=at)))
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
    if named is not None:
        month = _named_at(named[2], _MONTHS, lambda at: month_words(date(2000, at + 1, 1)))
        if month is not None:
            return _date(int(named[3] or today.year), month + 1, int(named[1]))
    return None


def _named_at(word: str, english: Sequence[str], called: Callable[[int], str]) -> int | None:
    """Which of the names a word begins with, in English or as the window's language calls them."""
    for at, name in enumerate(english):
        if word.startswith((name, called(at).casefold())):
            return at
    return None


def _date(year: int, month: int, day: int) -> date | None:
    try:
        return date(year, month, day)
    except ValueError:
        return None
