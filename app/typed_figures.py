"""Figures as people type them, with a comma or a point. No Qt: the command line reads the same."""

from __future__ import annotations

import math
import re
from collections.abc import Mapping

from store.sums.units import UNITS, convert

_FIGURE = re.compile(r"[+-]?(\d+([.,]\d*)?|[.,]\d+)")


class NotAFigure(ValueError):
    """Typed words that are no figure."""

    def __init__(self, typed: str) -> None:
        super().__init__(f"not a figure: {typed}")
        self.typed = typed


def read_figure(typed: str) -> float | None:
    """'12,5', '12.5' and ' −3 ' as numbers; None where nothing is typed.

    A comma and a point in one figure could each be the decimal sign, so that is not guessed: raises NotAFigure.
    """
    text = re.sub(r"[\s  ]", "", typed).replace("−", "-")
    if not text:
        return None
    if _FIGURE.fullmatch(text) is None:
        raise NotAFigure(typed.strip())
    return float(text.replace(",", "."))


def read_ratio(typed: str) -> tuple[float, ...]:
    """'4:1', '4 : 1 : 0,5', '100 + 2' as parts; () where nothing is typed. Raises NotAFigure on anything else."""
    if not typed.strip():
        return ()
    parts = [read_figure(part) for part in re.split(r"[:+/]", typed)]
    if len(parts) < 2 or any(part is None or part <= 0 for part in parts):
        raise NotAFigure(typed.strip())
    return tuple(part for part in parts if part is not None)


def figure_text(value: float, digits: int = 4) -> str:
    """A figure of a sum: as many digits as are worth reading, a true minus sign, no powers of ten."""
    if not math.isfinite(value):
        return "–"
    whole = len(str(int(abs(value)))) if abs(value) >= 1 else 0
    leading = whole - 1 if whole else math.floor(math.log10(abs(value))) if value else 0
    decimals = max(0, digits - 1 - leading)
    text = f"{value:.{min(decimals, 12)}f}"
    if "." in text:
        text = text.rstrip("0").rstrip(".")
    return "0" if text in {"-0", ""} else text.replace("-", "−")


_CALLED: Mapping[str, str] = {
    "um": "µm", "μm": "µm", "micron": "µm", "microns": "µm", "mils": "mil", "thou": "mil", "in": "inch", '"': "inch",
    "c": "°C", "degc": "°C", "f": "°F", "degf": "°F", "m2": "m²", "sqm": "m²", "ft2": "ft²", "sqft": "ft²",
    "sq ft": "ft²", "yd2": "yd²", "gal": "US gal", "us gal": "US gal", "qt": "US qt", "pt": "US pt",
    "fl oz": "US fl oz", "litre": "l", "litres": "l", "liter": "l", "liters": "l", "lbs": "lb",
    "lb/gal": "lb/US gal", "m2/l": "m²/l", "ft2/gal": "ft²/US gal", "gram": "g", "grams": "g",
}  # fmt: skip
"""What people write for a unit of store.sums.units, in small letters."""
_PLAIN: Mapping[str, tuple[str, ...]] = {
    "%": ("%", "percent"),
    "% of the paint": ("%", "percent"),
    "% of the mix": ("%", "percent"),
    "K": ("k", "°c", "c"),
    "s": ("s", "sec", "seconds"),
    "parts": ("parts", "part"),
    "coats": ("coats", "coat"),
}
_TIMES: Mapping[str, float] = {"min": 1, "minutes": 1, "h": 60, "hour": 60, "hours": 60, "d": 1440, "days": 1440}


def read_quantity(typed: str, unit: str) -> float | None:
    """A figure in `unit`, typed bare or with a unit of its own that can be turned into it ('3 mil' for µm).

    None where nothing is typed. Raises NotAFigure on anything else.
    """
    text = typed.strip()
    figure = re.match(r"[+\-−]?[\d\s.,]*", text)
    number, own = (text[: figure.end()], text[figure.end() :].strip()) if figure else ("", text)
    if not own:
        return read_figure(text)
    value = read_figure(number)
    if value is None:
        raise NotAFigure(typed.strip())
    small = own.casefold()
    if small == unit.casefold() or small in _PLAIN.get(unit, ()):
        return value
    if unit == "min" and small in _TIMES:
        return value * _TIMES[small]
    if unit == "K" and small in {"f", "°f", "degf"}:
        return value / 1.8
    name = _CALLED.get(small, next((known for known in UNITS if known.casefold() == small), ""))
    if name and unit in UNITS and UNITS[name].quantity == UNITS[unit].quantity:
        return convert(value, name, unit).value
    raise NotAFigure(typed.strip())


def read_quantities(typed: str, unit: str) -> tuple[float, ...]:
    """'98 104,5; 112' as figures in `unit`: parted by spaces, semicolons, or commas with a space after them.

    Raises NotAFigure with the first part that is none.
    """
    parts = re.split(r";|,(?=\s)|\s+", typed.strip())
    values = [read_quantity(part, unit) for part in parts if part.strip()]
    return tuple(value for value in values if value is not None)
