"""Numbers, times, temperatures and dates as a painter says them. No Qt."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping, Sequence
from datetime import date, timedelta
from math import ceil, floor

from app.translating import QT_TRANSLATE_NOOP, Counting, translate

_MINUTES_A_DAY = 1440
_MINUTES_A_MONTH = 43200
_MINUTES_A_YEAR = 525600

_MONTHS = (
    QT_TRANSLATE_NOOP("figures", "January"),
    QT_TRANSLATE_NOOP("figures", "February"),
    QT_TRANSLATE_NOOP("figures", "March"),
    QT_TRANSLATE_NOOP("figures", "April"),
    QT_TRANSLATE_NOOP("figures", "May"),
    QT_TRANSLATE_NOOP("figures", "June"),
    QT_TRANSLATE_NOOP("figures", "July"),
    QT_TRANSLATE_NOOP("figures", "August"),
    QT_TRANSLATE_NOOP("figures", "September"),
    QT_TRANSLATE_NOOP("figures", "October"),
    QT_TRANSLATE_NOOP("figures", "November"),
    QT_TRANSLATE_NOOP("figures", "December"),
)

_SHORT_MONTHS = (
    QT_TRANSLATE_NOOP("figures", "Jan"),
    QT_TRANSLATE_NOOP("figures", "Feb"),
    QT_TRANSLATE_NOOP("figures", "Mar"),
    QT_TRANSLATE_NOOP("figures", "Apr"),
    QT_TRANSLATE_NOOP("figures", "May"),
    QT_TRANSLATE_NOOP("figures", "Jun"),
    QT_TRANSLATE_NOOP("figures", "Jul"),
    QT_TRANSLATE_NOOP("figures", "Aug"),
    QT_TRANSLATE_NOOP("figures", "Sep"),
    QT_TRANSLATE_NOOP("figures", "Oct"),
    QT_TRANSLATE_NOOP("figures", "Nov"),
    QT_TRANSLATE_NOOP("figures", "Dec"),
)

_DAYS = (
    QT_TRANSLATE_NOOP("figures", "Mon"),
    QT_TRANSLATE_NOOP("figures", "Tue"),
    QT_TRANSLATE_NOOP("figures", "Wed"),
    QT_TRANSLATE_NOOP("figures", "Thu"),
    QT_TRANSLATE_NOOP("figures", "Fri"),
    QT_TRANSLATE_NOOP("figures", "Sat"),
    QT_TRANSLATE_NOOP("figures", "Sun"),
)

figures = Counting("figures")

_COUNTED: Mapping[str, Callable[[int], str]] = {
    "day": lambda count: figures.tr("%n days", "%n day", count),
    "week": lambda count: figures.tr("%n weeks", "%n week", count),
    "month": lambda count: figures.tr("%n months", "%n month", count),
    "year": lambda count: figures.tr("%n years", "%n year", count),
    "coat": lambda count: figures.tr("%n coats", "%n coat", count),
    "condition": lambda count: figures.tr("%n conditions", "%n condition", count),
    "page": lambda count: figures.tr("%n pages", "%n page", count),
    "panel": lambda count: figures.tr("%n panels", "%n panel", count),
    "tin": lambda count: figures.tr("%n tins", "%n tin", count),
    "sheet": lambda count: figures.tr("%n sheets", "%n sheet", count),
}
_UNITS: Mapping[str, str] = {"um": "µm", "degC": "°C", "m2/l": "m²/l"}


def joined(words: Sequence[str], *, either: bool = False) -> str:
    """'a', 'a and b', 'a, b and c'; either for 'a, b or c'."""
    if len(words) < 2:
        return "".join(words)
    pattern = translate("figures", "{words} or {last}") if either else translate("figures", "{words} and {last}")
    return pattern.format(words=", ".join(words[:-1]), last=words[-1])


def true_minus(words: str) -> str:
    """A hyphen before a figure as the minus sign that it stands for; hyphens within words and dates stay."""
    return re.sub(r"(?<![\w-])-(?=\d)", "−", words)


def number_words(value: float) -> str:
    """Up to two decimals, no trailing zeros, a true minus sign."""
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return text.replace("-", "−") if text not in {"-0", ""} else "0"


def duration_words(minutes: float) -> str:
    """'30 min', '1 h 30', '36 h', '3 days', '3 months', '1 year'."""
    if minutes < 1 and minutes > 0:
        return f"{number_words(minutes * 60)} s"
    if minutes < 60:
        return translate("figures", "{number} min").format(number=number_words(minutes))
    whole = round(minutes)
    if whole >= _MINUTES_A_YEAR and whole % _MINUTES_A_YEAR == 0:
        return counted_words(whole // _MINUTES_A_YEAR, "year")
    if whole >= 2 * _MINUTES_A_MONTH and whole % _MINUTES_A_MONTH == 0:
        return counted_words(whole // _MINUTES_A_MONTH, "month")
    if whole >= 3 * _MINUTES_A_DAY:
        days, rest = divmod(whole, _MINUTES_A_DAY)
        hours = f" {_hours(rest)}" if rest else ""
        return f"{counted_words(days, 'day')}{hours}"
    return _hours(whole)


def rough_words(span: timedelta, *, up: bool) -> str:
    """A span measured by the clock: '40 min', '2 h 30', '36 h', '103 days'. No minutes from twelve hours on, no hours
    from three days on; what is dropped is rounded up or down, whichever is the careful side.
    """
    whole = ceil if up else floor
    exact = abs(span) / timedelta(minutes=1)
    minutes = whole(exact)
    # Seconds round no hour and no day: what began 48 h and a moment ago has not stood for 49.
    if minutes >= 3 * _MINUTES_A_DAY:
        return counted_words(whole(floor(exact) / _MINUTES_A_DAY), "day")
    if minutes >= _MINUTES_A_DAY / 2:
        return duration_words(60 * whole(floor(exact) / 60))
    return duration_words(minutes) if minutes else translate("figures", "less than a minute")


def _hours(minutes: int) -> str:
    hours, rest = divmod(minutes, 60)
    if not hours:
        return translate("figures", "{rest} min").format(rest=rest)
    return f"{hours} h {rest:02d}" if rest else f"{hours} h"


def counted_words(count: int, what: str) -> str:
    """'1 day', '3 days'; what is one of day, week, month, year, coat, condition, page, panel, sheet and tin."""
    return _COUNTED[what](count)


def temperature_words(at_c: float) -> str:
    return f"{number_words(round(at_c, 1))} °C"


def range_words(low: float | None, high: float | None, unit: str | None) -> str:
    """'P180–P240', '25–40 µm', '1 h – 3 days', 'at least 80 µm', 'at most 30 min'; empty without a figure."""
    if low is not None and high is not None:
        if low == high:
            return figure_words(low, unit)
        if unit in {"min", "months"}:
            return f"{figure_words(low, unit)} – {figure_words(high, unit)}"
        if unit == "P":
            return f"{figure_words(low, unit)}–{figure_words(high, unit)}"
        return f"{number_words(low)}–{figure_words(high, unit)}"
    if low is not None:
        return translate("figures", "at least {figure}").format(figure=figure_words(low, unit))
    return translate("figures", "at most {figure}").format(figure=figure_words(high, unit)) if high is not None else ""


def figure_words(value: float, unit: str | None) -> str:
    if unit == "min":
        return duration_words(value)
    if unit == "months":
        return (
            counted_words(round(value), "month")
            if value == round(value)
            else translate("figures", "{number} months").format(number=number_words(value))
        )
    if unit == "P":
        return f"P{number_words(value)}"
    if unit in {None, "count"}:
        return number_words(value)
    return f"{number_words(value)} {_UNITS.get(unit, unit)}"


def date_words(issued: str) -> str:
    """'2024-03-01' as '1 March 2024'; anything else as it stands."""
    parts = issued.split("-")
    if len(parts) != 3 or not all(part.isdigit() for part in parts) or not 1 <= int(parts[1]) <= 12:
        return issued
    return translate("figures", "{day} {month} {year}").format(
        day=int(parts[2]), month=translate("figures", _MONTHS[int(parts[1]) - 1]), year=parts[0]
    )


def page_words(page: int) -> str:
    """'p. 2'."""
    return translate("figures", "p. {page}").format(page=page)


def month_words(day: date) -> str:
    """'Mar'."""
    return translate("figures", _SHORT_MONTHS[day.month - 1])


def short_day_words(day: date) -> str:
    """'30 Mar'."""
    return translate("figures", "{day} {month}").format(day=day.day, month=month_words(day))


def weekday_words(day: date) -> str:
    """'Mon'; of a moment by its own clock."""
    return translate("figures", _DAYS[day.weekday()])


def day_of_year_words(day: date) -> str:
    """'30 March'."""
    return translate("figures", "{day} {month}").format(day=day.day, month=translate("figures", _MONTHS[day.month - 1]))


def times_words(low: float | None, high: float | None, unlimited: bool, at_c: float | None) -> str:
    """A window: 'earliest next coat 1 h, latest 3 days, at 20 °C'."""
    parts = []
    if low is not None:
        parts.append(translate("figures", "earliest next coat {duration}").format(duration=duration_words(low)))
    if high is not None:
        parts.append(
            translate("figures", "latest {duration}").format(duration=duration_words(high))
            if parts
            else translate("figures", "latest next coat {duration}").format(duration=duration_words(high))
        )
    elif unlimited:
        parts.append(translate("figures", "no latest time"))
    if not parts:
        return translate("figures", "no time is given")
    if at_c is not None:
        parts.append(translate("figures", "at {temperature}").format(temperature=temperature_words(at_c)))
    return ", ".join(parts)
