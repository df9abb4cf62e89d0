"""Units of measure: what each is worth in the canonical unit of its dimension, and figures as words.

The table is data, extract/vocabulary/units.toml; no general unit library ever sees a sheet's text, because such
libraries read "1,5 h" as 15 h and "3 mil" as an angle.
"""

from __future__ import annotations

import re
import tomllib
from dataclasses import dataclass
from enum import StrEnum
from functools import cache
from importlib import resources


class Dimension(StrEnum):
    TIME = "time"
    SECONDS = "seconds"
    """Seconds of a flow cup, or of a lamp: kept apart from drying times, which nobody prints in seconds."""
    TEMPERATURE = "temperature"
    TEMPERATURE_DIFFERENCE = "temperature_difference"
    LENGTH = "length"
    PRESSURE = "pressure"
    PERCENT = "percent"
    GRADE = "grade"
    """Abrasive paper, the number as printed; printed_unit says which scale ('P' or 'grit')."""
    COUNT = "count"
    VOLUME = "volume"
    MASS = "mass"
    AREA = "area"
    COVERAGE = "coverage"
    VOLUME_PER_AREA = "volume_per_area"
    AREA_PER_MASS = "area_per_mass"
    MASS_PER_AREA = "mass_per_area"
    DENSITY = "density"
    MASS_FRACTION = "mass_fraction"
    DYNAMIC_VISCOSITY = "dynamic_viscosity"
    KREBS = "krebs"
    POWER = "power"
    SPEED = "speed"


CANONICAL: dict[Dimension, str] = {
    Dimension.TIME: "min",
    Dimension.SECONDS: "s",
    Dimension.TEMPERATURE: "degC",
    Dimension.TEMPERATURE_DIFFERENCE: "degC",
    Dimension.LENGTH: "um",
    Dimension.PRESSURE: "bar",
    Dimension.PERCENT: "%",
    Dimension.GRADE: "P",
    Dimension.COUNT: "count",
    Dimension.VOLUME: "l",
    Dimension.MASS: "kg",
    Dimension.AREA: "m2",
    Dimension.COVERAGE: "m2/l",
    Dimension.VOLUME_PER_AREA: "l/m2",
    Dimension.AREA_PER_MASS: "m2/kg",
    Dimension.MASS_PER_AREA: "kg/m2",
    Dimension.DENSITY: "kg/l",
    Dimension.MASS_FRACTION: "g/kg",
    Dimension.DYNAMIC_VISCOSITY: "mpas",
    Dimension.KREBS: "ku",
    Dimension.POWER: "w",
    Dimension.SPEED: "mm/s",
}


@dataclass(frozen=True, slots=True)
class Unit:
    """A unit: value in the canonical unit = printed value * factor (+ the offset of a Fahrenheit reading)."""

    id: str
    dimension: Dimension
    factor: float
    spellings: tuple[str, ...]

    def canonical(self, value: float) -> float:
        """A reading in the canonical unit of the dimension."""
        if self.id == "degF":
            return (value - 32.0) * 5.0 / 9.0
        return value * self.factor

    def printed(self, canonical: float) -> float:
        """Inverse of canonical()."""
        if self.id == "degF":
            return canonical * 9.0 / 5.0 + 32.0
        return canonical / self.factor

    def difference(self, value: float) -> float:
        """A difference of two readings in the canonical unit: 5 degF are 2.78 K, whatever a sheet prints."""
        return value * self.factor


_PER = r"\s*(?:/|per|a|to the|/ ?1)\s*"


@cache
def units() -> dict[str, Unit]:
    """Every unit by id, plain ones first. Raises KeyError or ValueError on a damaged table."""
    data = tomllib.loads(resources.files("extract.vocabulary").joinpath("units.toml").read_text("utf-8"))
    table: dict[str, Unit] = {}
    for row in data["unit"]:
        unit = Unit(row["id"], Dimension(row["dimension"]), float(row["factor"]), tuple(row["spellings"]))
        table[unit.id] = unit
    for row in data["compound"]:
        for over in row["over"]:
            for under in row["under"]:
                a, b = table[over], table[under]
                unit_id = f"{over}/{under}"
                table[unit_id] = Unit(unit_id, Dimension(row["dimension"]), a.factor / b.factor, ())
    return table


def _spelling_pattern(spelling: str) -> str:
    words = [re.escape(word) for word in spelling.split(" ")]
    # Abbreviations may carry a dot before the next word: "sq. ft.", "sq ft".
    return r"\.?\s*".join(words)


def _alternatives(unit: Unit) -> str:
    return "|".join(_spelling_pattern(s) for s in sorted(unit.spellings, key=len, reverse=True))


_ENDS = r"(?![a-z0-9²³µ])"


@cache
def unit_pattern() -> tuple[str, dict[str, str]]:
    """One alternation over every spelling, and which unit id each of its groups stands for."""
    table = units()
    data = tomllib.loads(resources.files("extract.vocabulary").joinpath("units.toml").read_text("utf-8"))
    groups: dict[str, str] = {}
    parts: list[str] = []
    for row in data["compound"]:
        for over in row["over"]:
            for under in row["under"]:
                group = f"u{len(groups)}"
                groups[group] = f"{over}/{under}"
                parts.append(
                    f"(?P<{group}>(?:{_alternatives(table[over])})\\.?{_PER}(?:{_alternatives(table[under])}){_ENDS})"
                )
    plain = [u for u in table.values() if u.spellings]
    for unit in sorted(plain, key=lambda u: max(map(len, u.spellings)), reverse=True):
        group = f"u{len(groups)}"
        groups[group] = unit.id
        ends = _ENDS if unit.id not in {"%", "deg"} else ""
        parts.append(f"(?P<{group}>(?:{_alternatives(unit)}){ends})")
    # "deg" would swallow the head of "degrees f": scales come first.
    order = {"degC": -2, "degF": -1, "deg": 1}
    parts.sort(key=lambda p: order.get(groups[p[4 : p.index(">")]], 0) if "deg" in groups[p[4 : p.index(">")]] else 0)
    return "|".join(parts), groups


def in_unit(value: float, unit: str) -> float:
    """A canonical value in another unit of the same dimension ('mm' for lengths, 'months' for times)."""
    if unit == "months":
        return value / units()["month"].factor
    return units()[unit].printed(value)


_STEPS = ((525600.0, "year", "years"), (43200.0, "month", "months"), (10080.0, "week", "weeks"),
          (1440.0, "day", "days"), (60.0, "h", "h"))  # fmt: skip


def format_number(value: float) -> str:
    """At most four significant digits, no trailing zeros: 2.25, 1440, 0.013."""
    return f"{value:.4g}" if abs(value) < 10000 else f"{value:.0f}"


def format_value(value: float, unit: str) -> str:
    """A figure in its canonical unit as a sheet would print it. Reads back to the same value (within rounding).

    >>> format_value(4320, "min")
    '3 days'
    """
    match unit:
        case "min":
            return _format_minutes(value)
        case "degC":
            return f"{format_number(value)} °C"
        case "um":
            return f"{format_number(value)} µm"
        case "m2/l":
            return f"{format_number(value)} m²/l"
        case "P":
            return f"P{value:.0f}"
        case "count":
            return f"{format_number(value)} coat" + ("" if value == 1 else "s")
        case "months":
            return f"{format_number(value)} month" + ("" if value == 1 else "s")
        case _:
            return f"{format_number(value)} {unit}"


def _format_minutes(value: float) -> str:
    for size, one, many in _STEPS:
        if (size in (525600.0, 10080.0) and value % size) or (size == 1440.0 and value < 2880):
            continue
        if value >= size and (value * 2) % size == 0 and (size > 60 or value < 1440 * 2 + 1):
            count = value / size
            return f"{format_number(count)} {one if count == 1 else many}"
    if value > 60 and value == int(value):
        return f"{int(value) // 60} h {int(value) % 60} min"
    return f"{format_number(value)} min"
