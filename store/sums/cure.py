"""A time to the next coat at another temperature than the one that the sheet states: a hint on the careful side."""

from __future__ import annotations

from math import exp

from store.sums.result import Result, above_zero, within

_STEEP, _USUAL = 3.0, 2.0
_KELVIN, _GAS, _ENERGY = 273.15, 8.314, 50_000.0
_SOURCE = (
    "a third for each 10 K: a waterborne epoxy that went from 16 to 72 h between 20 and 10 °C (site work instruction) "
    "is past doubling"
)
_VALID = "5 to 35 °C and nowhere below the sheet's least temperature; a hint only: a figure on the sheet wins"


def earliest(hours: float, stated_c: float, asked_c: float) -> Result:
    """Hours to the earliest next coat: longer where it is colder, never shorter where it is warmer."""
    colder = _checked(hours, stated_c, asked_c)
    value: float = hours * _STEEP ** (max(colder, 0.0) / 10)
    return Result(value, "h", f"{hours:g} × 3^({max(colder, 0.0):g}/10) = {value:.1f}", _SOURCE, _VALID)


def latest(hours: float, stated_c: float, asked_c: float) -> Result:
    """Hours to the latest next coat: shorter where it is warmer, never longer where it is colder."""
    warmer = -_checked(hours, stated_c, asked_c)
    value: float = hours * _STEEP ** (-max(warmer, 0.0) / 10)
    return Result(value, "h", f"{hours:g} × 3^(−{max(warmer, 0.0):g}/10) = {value:.1f}", _SOURCE, _VALID)


def doubled(hours: float, stated_c: float, asked_c: float) -> Result:
    """By the rule of thumb that it doubles for each 10 K colder: to compare, not to go by."""
    colder = _checked(hours, stated_c, asked_c)
    value: float = hours * _USUAL ** (colder / 10)
    return Result(
        value,
        "h",
        f"{hours:g} × 2^({colder:g}/10) = {value:.1f}".replace("-", "−"),
        "trade text: at 10 °C twice the time of 20 °C, at 30 °C half of it",
        _VALID,
    )


def by_energy(hours: float, stated_c: float, asked_c: float) -> Result:
    """By Arrhenius with 50 kJ/mol, a usual default where nothing is known of the paint."""
    _checked(hours, stated_c, asked_c)
    value = hours * exp(_ENERGY / _GAS * (1 / (asked_c + _KELVIN) - 1 / (stated_c + _KELVIN)))
    return Result(
        value,
        "h",
        f"{hours:g} × exp(50000/8.314 × (1/{asked_c + _KELVIN:g} − 1/{stated_c + _KELVIN:g})) = {value:.1f}",
        "Arrhenius, textbook; 50 kJ/mol as a public calculator's default",
        _VALID,
    )


def _checked(hours: float, stated_c: float, asked_c: float) -> float:
    """How much colder it is than stated, in K."""
    above_zero("time to the next coat", hours, "h")
    within("temperature", stated_c, 5, 35, "°C")
    within("temperature", asked_c, 5, 35, "°C")
    return stated_c - asked_c
