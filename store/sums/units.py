"""Units met on data sheets. Exact by the international yard and pound (1959) and the litre (1964)."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from store.sums.result import Result, within

_GALLON_US, _GALLON_IMP, _FOOT = 3.785411784, 4.54609, 0.3048
_POUND = 453.59237


@dataclass(frozen=True, slots=True)
class Unit:
    """A unit: value in the quantity's base unit = (printed + offset) x factor."""

    name: str
    quantity: str
    factor: float
    offset: float = 0.0


_ALL = (
    Unit("µm", "thickness", 1), Unit("mil", "thickness", 25.4), Unit("mm", "thickness", 1000),
    Unit("inch", "thickness", 25400),
    Unit("l", "volume", 1), Unit("ml", "volume", 0.001), Unit("US gal", "volume", _GALLON_US),
    Unit("US qt", "volume", _GALLON_US / 4), Unit("US pt", "volume", _GALLON_US / 8),
    Unit("US fl oz", "volume", _GALLON_US / 128), Unit("imp gal", "volume", _GALLON_IMP),
    Unit("imp pt", "volume", _GALLON_IMP / 8), Unit("imp fl oz", "volume", _GALLON_IMP / 160),
    Unit("m²", "area", 1), Unit("ft²", "area", _FOOT**2), Unit("yd²", "area", (3 * _FOOT) ** 2),
    Unit("m²/l", "coverage", 1), Unit("ft²/US gal", "coverage", _FOOT**2 / _GALLON_US),
    Unit("ft²/imp gal", "coverage", _FOOT**2 / _GALLON_IMP),
    Unit("yd²/imp gal", "coverage", (3 * _FOOT) ** 2 / _GALLON_IMP),
    Unit("g", "weight", 1), Unit("kg", "weight", 1000), Unit("oz", "weight", _POUND / 16), Unit("lb", "weight", _POUND),
    Unit("g/l", "density", 1), Unit("kg/l", "density", 1000), Unit("lb/US gal", "density", _POUND / _GALLON_US),
    Unit("lb/imp gal", "density", _POUND / _GALLON_IMP),
    Unit("bar", "pressure", 1), Unit("psi", "pressure", 0.0689475729), Unit("MPa", "pressure", 10),
    Unit("l/min", "air flow", 1), Unit("ft³/min", "air flow", 28.316846592),
    Unit("mm²/s", "kinematic viscosity", 1), Unit("cSt", "kinematic viscosity", 1),
    Unit("g/m²", "weight on an area", 1), Unit("oz/yd²", "weight on an area", _POUND / 16 / (3 * _FOOT) ** 2),
    Unit("°C", "temperature reading", 1), Unit("°F", "temperature reading", 1 / 1.8, -32),
    Unit("K (difference)", "temperature difference", 1), Unit("°F (difference)", "temperature difference", 1 / 1.8),
)  # fmt: skip
UNITS: Mapping[str, Unit] = {unit.name: unit for unit in _ALL}


def convert(value: float, source: str, target: str) -> Result:
    """value of unit source in unit target. Raises KeyError on an unknown unit, ValueError on two quantities."""
    first, second = UNITS[source], UNITS[target]
    if first.quantity != second.quantity:
        raise ValueError(f"{source} is a {first.quantity}, {target} a {second.quantity}")
    if first.quantity == "temperature reading":
        within("temperature", (value + first.offset) * first.factor, -273.15, None, "°C")
    elif first.quantity != "temperature difference":
        within("value", value, 0, None, source)
    found = (value + first.offset) * first.factor / second.factor - second.offset
    return Result(
        found,
        target,
        f"{value:g} {source} = {found:.6g} {target}",
        "exact definitions: yard and pound 1959, litre 1964; psi to nine figures",
        "any value" if first.quantity.startswith("temperature") else "nothing and above",
    )
