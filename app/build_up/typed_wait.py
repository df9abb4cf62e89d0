"""A wait as it is typed: '24 h', '1 h 30', '90 min', '3 days', '2 weeks', '1 week 2 days'. No Qt."""

from __future__ import annotations

import re

from app.typed_figures import NotAFigure

_MINUTES = {"m": 1.0, "h": 60.0, "d": 1440.0, "w": 10080.0}
_WORDS = {
    "m": ("m", "min", "mins", "minute", "minutes"),
    "h": ("h", "hr", "hrs", "hour", "hours"),
    "d": ("d", "day", "days"),
    "w": ("w", "wk", "week", "weeks"),
}
_UNIT = {word: unit for unit, words in _WORDS.items() for word in words}
_PART = re.compile(r"(\d+(?:[.,]\d+)?)\s*([a-z]*)\s*")


def read_wait(typed: str) -> float | None:
    """Minutes; None where nothing is typed. A figure without a unit follows hours as minutes ('1 h 30').

    Raises NotAFigure, also for a bare figure: it could be hours or days.
    """
    text = " ".join(typed.casefold().split())
    if not text:
        return None
    total, at, last = 0.0, 0, ""
    while at < len(text):
        found = _PART.match(text, at)
        unit = None if found is None else _UNIT.get(found[2]) if found[2] else ("m" if last == "h" else None)
        if found is None or unit is None:
            raise NotAFigure(typed.strip())
        total += float(found[1].replace(",", ".")) * _MINUTES[unit]
        at, last = found.end(), unit
    return total
