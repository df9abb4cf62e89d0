"""Figures that are no plain number with a unit: times in words, abrasive grades, kelvins above the dew point."""

from __future__ import annotations

import re
from collections.abc import Iterator

from extract.bounds import Bound
from extract.quantity import Quantity
from extract.units import Dimension

# --- times that are words --------------------------------------------------------------------------------------

_WORDED: tuple[tuple[re.Pattern[str], float | None, float | None, str], ...] = tuple(
    (re.compile(pattern), low, high, word)
    for pattern, low, high, word in (
        (r"\ban?\s+hour\s+or\s+two\b", 60, 120, ""),
        (r"\ban?\s+day\s+or\s+two\b", 1440, 2880, ""),
        (r"\ban?\s+hour\s+and\s+a\s+half\b", 90, 90, ""),
        (r"\bthree[- ]quarters\s+of\s+an\s+hour\b", 45, 45, ""),
        (r"(?:\b1/4|¼|\ba?\s?quarter)[- ](?:of\s+an\s+|an\s+)?hour\b", 15, 15, ""),
        (r"(?:\b1/2|½|\bhalf)[- ](?:an?[- ])?hour\b", 30, 30, ""),
        (r"\bhalf[- ]a[- ]day\b", 720, 720, ""),
        (r"\bhalf[- ]a[- ]year\b", 262800, 262800, ""),
        (r"\bwithin\s+(?:the|an|one)\s+hour\b", None, 60, "within the hour"),
        (r"\b(?:on|within|during)?\s*(?:the\s+)?same\s+(?:working\s+)?day\b", None, 1440, "same day"),
        (r"\bwithin\s+the\s+(?:day|working\s+day)\b", None, 1440, "within the day"),
        (r"\b(?:within|in|during)\s+the\s+(?:same\s+)?shift\b", None, 480, "within the shift"),
        (r"\bover\s?night\b", 960, 960, "overnight"),
    )
)

# --- abrasive grades -------------------------------------------------------------------------------------------

_GRADE_NUMBER = r"(?:[pf]\s?)?(\d{2,4})"
_GRADE = re.compile(
    rf"(?<![a-z0-9])(?<![a-z]-)p\s?(\d{{2,4}})(?!\d)(?:\s*(?:-|to|/|\.\.\.?)\s*{_GRADE_NUMBER}(?![\d%]))?(?:\s*-?\s?grit)?"
    rf"|(?<![\d.,-])(\d{{2,4}})(?:\s*(?:-|to|/)\s*(\d{{2,4}}))?\s*-?\s?(?:grit|wet (?:or|and|&) dry|wet/dry)\b"
    rf"|\b(?:grit|grade|grade no\.?|grit no\.?)\s*(?:size\s*)?#?{_GRADE_NUMBER}(?:\s*(?:-|to|/)\s*{_GRADE_NUMBER})?"
    rf"(?![\d°%])|#\s?(\d{{2,4}})(?:\s*(?:-|to|/)\s*#?(\d{{2,4}}))?(?!\d)"
)

_KELVIN = re.compile(r"(?<![a-z0-9])(\d+(?:[.,]\d+)?)\s?k(?=\s+(?:above|over|higher))")


def worded_quantities(text: str) -> Iterator[Quantity]:
    """Every figure of a folded text that is written in one of these ways, sort by sort."""
    yield from _worded(text)
    yield from _grades(text)
    yield from _kelvin(text)


_SPANS_OF_TIME = re.compile("hour|day|shift|night|year")
"""In each of the times that are words stands one of these."""


def _worded(text: str) -> Iterator[Quantity]:
    if _SPANS_OF_TIME.search(text) is None:
        return
    spans: list[tuple[int, int]] = []
    for pattern, low, high, word in _WORDED:
        for m in pattern.finditer(text):
            if any(m.start() < e and s < m.end() for s, e in spans):
                continue
            spans.append((m.start(), m.end()))
            bound = Bound.MOST if low is None else Bound.NONE
            span = (m.start(), m.end(), low, high)
            yield Quantity(
                *span, "min", Dimension.TIME, bound, bool(word), m.group(), low, high, "min", m.start(), word
            )


def _grades(text: str) -> Iterator[Quantity]:
    for m in _GRADE.finditer(text):
        numbers = [int(g) for g in m.groups() if g]
        if not all(12 <= n <= 5000 for n in numbers):
            continue
        low, high = float(numbers[0]), float(numbers[-1])
        unit = "P" if re.search(r"(?<![a-z])p\s?\d", m.group()) else "grit"
        yield Quantity(m.start(), m.end(), min(low, high), max(low, high), "P", Dimension.GRADE, Bound.NONE, False,
                       m.group(), min(low, high), max(low, high), unit, m.start())  # fmt: skip


def _kelvin(text: str) -> Iterator[Quantity]:
    for m in _KELVIN.finditer(text):
        value = float(m.group(1).replace(",", "."))
        yield Quantity(m.start(), m.end(), value, value, "degC", Dimension.TEMPERATURE_DIFFERENCE, printed=m.group(),
                       printed_low=value, printed_high=value, printed_unit="degC", lead=m.start())  # fmt: skip
