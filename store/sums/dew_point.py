"""Dew point by the Magnus formula with Sonntag's coefficients, and the margin of a surface over it.

Sonntag 1990, Z. Meteorol. 70, 340-344 (A = 17.62, B = 243.12 degC), recommended by the WMO CIMO guide (2008 edition,
part I ch. 4) for -45 to +60 degC over liquid water. Below 0 degC what forms is frost: the frost point (over ice,
A = 22.46, B = 272.62 degC, same guide, from memory) is given and said.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from store.sums.result import Result, within

_A, _B = 17.62, 243.12
_A_ICE, _B_ICE = 22.46, 272.62
_SOURCE = "Magnus formula, Sonntag 1990 (WMO CIMO guide 2008, part I ch. 4): A = 17.62, B = 243.12 °C"
_VALID = "air −45 to 60 °C, relative humidity 1 to 100 %"


def dew_point(air: float, humidity: float) -> Result:
    """Dew point in degC over liquid water; below 0 degC a note gives the frost point."""
    within("air temperature", air, -45, 60, "°C")
    within("relative humidity", humidity, 1, 100, "%")
    gamma = math.log(humidity / 100) + _A * air / (_B + air)
    value = _B * gamma / (_A - gamma)
    notes: tuple[str, ...] = ()
    if value < 0:
        notes = (f"Frost forms first: frost point {frost_point(air, humidity):.1f} °C.",)
    return Result(
        value,
        "°C",
        f"γ = ln({humidity:g}/100) + 17.62 × {air:g} ÷ (243.12 + {air:g}); 243.12 γ ÷ (17.62 − γ) = {value:.1f}",
        _SOURCE,
        _VALID,
        notes,
    )


def frost_point(air: float, humidity: float) -> float:
    """Temperature in degC at which frost forms, from the vapour pressure over water at air and humidity (%)."""
    within("air temperature", air, -45, 60, "°C")
    within("relative humidity", humidity, 1, 100, "%")
    # Over water and over ice the formulas meet at 0.01 degC with the same 6.112 hPa, so pressures compare directly.
    log_pressure = math.log(humidity / 100) + _A * air / (_B + air)
    return _B_ICE * log_pressure / (_A_ICE - log_pressure)


def humidity_from_dew_point(air: float, dew: float) -> Result:
    """Relative humidity in % at air temperature for a dew point, both degC."""
    within("air temperature", air, -45, 60, "°C")
    within("dew point", dew, -45, air, "°C")
    value = 100 * math.exp(_A * dew / (_B + dew) - _A * air / (_B + air))
    valid = "air −45 to 60 °C, dew point −45 °C to that of the air"
    return Result(value, "%", f"100 × exp(A·Td/(B+Td) − A·T/(B+T)) = {value:.1f}", _SOURCE, valid)


@dataclass(frozen=True, slots=True)
class Margin:
    """How far a surface stands above the dew point, in K, against what is asked."""

    margin: float
    asked: float
    dew: Result
    passes: bool


def margin(air: float, humidity: float, surface: float, asked: float = 3.0) -> Margin:
    """Margin of a surface (degC) over the dew point against the K asked (a sheet's own figure wins over 3 K)."""
    within("surface temperature", surface, -45, 120, "°C")
    within("margin asked", asked, 0, 20, "K")
    dew = dew_point(air, humidity)
    found = surface - dew.value
    return Margin(found, asked, dew, found >= asked)
