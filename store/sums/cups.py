"""Flow cups: seconds to kinematic viscosity in mm2/s (cSt), and back.

Constants: ISO 2431, DIN 53211 (withdrawn 1996), ASTM D1200 (Ford) and ASTM D4212 (Zahn) as quoted by an open-source
flow cup module and agreeing with a reference oil maker's table within 0.6 s. Thixotropic paints have no true value.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

from store.sums.result import OutOfRange, Result, within


@dataclass(frozen=True, slots=True)
class Cup:
    """v = a t - b / t, or v = a (t - c) where b is 0; t in s from low to high."""

    name: str
    a: float
    b: float
    c: float
    low: float
    high: float
    standard: str

    def viscosity(self, seconds: float) -> float:
        return self.a * (seconds - self.c) - self.b / seconds

    def seconds(self, viscosity: float) -> float:
        if not self.b:
            return viscosity / self.a + self.c
        return (viscosity + math.sqrt(viscosity**2 + 4 * self.a * self.b)) / (2 * self.a)


_ISO, _DIN, _FORD, _ZAHN = "ISO 2431", "DIN 53211 (withdrawn 1996)", "ASTM D1200", "ASTM D4212"
_ALL = (
    Cup("ISO 3 mm", 0.443, 200, 0, 30, 100, _ISO),
    Cup("ISO 4 mm", 1.37, 200, 0, 30, 100, _ISO),
    Cup("ISO 5 mm", 3.28, 220, 0, 30, 100, _ISO),
    Cup("ISO 6 mm", 6.90, 570, 0, 30, 100, _ISO),
    Cup("DIN 4 mm", 4.57, 452, 0, 25, 150, _DIN),
    Cup("Ford 1", 0.49, 0, 35, 55, 100, _FORD),
    Cup("Ford 2", 1.44, 0, 18, 40, 100, _FORD),
    Cup("Ford 3", 2.31, 0, 6.58, 20, 100, _FORD),
    Cup("Ford 4", 3.85, 0, 4.49, 20, 100, _FORD),
    Cup("Ford 5", 12.1, 0, 2.00, 20, 100, _FORD),
    Cup("Zahn 1", 1.1, 0, 29, 35, 80, _ZAHN),
    Cup("Zahn 2", 3.5, 0, 14, 20, 80, _ZAHN),
    Cup("Zahn 3", 11.7, 0, 7.5, 20, 80, _ZAHN),
    Cup("Zahn 4", 14.8, 0, 5, 20, 80, _ZAHN),
    Cup("Zahn 5", 23, 0, 0, 20, 80, _ZAHN),
)
CUPS: Mapping[str, Cup] = {cup.name: cup for cup in _ALL}


def viscosity(cup_name: str, seconds: float) -> Result:
    """mm2/s from seconds in a cup. Raises KeyError on an unknown cup, OutOfRange outside the cup's seconds."""
    cup = CUPS[cup_name]
    within(f"time in {cup.name}", seconds, cup.low, cup.high, "s")
    value = cup.viscosity(seconds)
    if cup.b:
        formula = f"{cup.a:g} × {seconds:g} − {cup.b:g} ÷ {seconds:g} = {value:.1f}"
    else:
        formula = f"{cup.a:g} × ({seconds:g} − {cup.c:g}) = {value:.1f}"
    return Result(value, "mm²/s", formula, cup.standard, f"{cup.low:g} to {cup.high:g} s; not for thixotropic paint")


def seconds_in(cup_name: str, other_name: str, seconds: float) -> Result:
    """Seconds in other_name of the liquid that takes seconds in cup_name. Both must be inside their ranges."""
    first = viscosity(cup_name, seconds)
    other = CUPS[other_name]
    value = other.seconds(first.value)
    if not other.low <= value <= other.high:
        raise OutOfRange(f"time in {other.name}", round(value, 1), other.low, other.high, "s")
    return Result(
        value,
        "s",
        f"{seconds:g} s in {cup_name} = {first.value:.1f} mm²/s = {value:.1f} s in {other_name}",
        f"{CUPS[cup_name].standard}; {other.standard}",
        f"{other.low:g} to {other.high:g} s in {other_name}; not for thixotropic paint",
    )
