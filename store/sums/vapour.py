"""How much water vapour a film lets through: ISO 7783, EN 1062-1, US perms."""

from __future__ import annotations

from collections.abc import Sequence

from store.sums.result import Result, above_zero, within

_AIR = 20.4
"""sd in m times the transmission in g/(m2.d), at the test's own climate."""
_FASTEST = 680.0
_PERM = 57.2


def vapour(figure: float, stated: str) -> tuple[Result, Result]:
    """Transmission V in g/(m2.d), with its class as the word, and the equal layer of air sd in m.

    stated is 'V' or 'sd': which of the two the figure is.
    """
    if stated == "V":
        through = within(
            "vapour transmission", above_zero("vapour transmission", figure, "g/m²d"), 0, _FASTEST, "g/m²d"
        )
        air = _AIR / through
    else:
        air = within("air layer", figure, round(_AIR / _FASTEST, 3), None, "m")
        through = _AIR / air
    # To the digits that a class is given in: 20.4 / 1.36 is 15, not a hair less.
    exact = round(through, 6)
    kind = "V1, high" if exact > 150 else "V3, low" if exact < 15 else "V2, medium"
    valid = "sd of 0.03 m and more (V to 680 g/m²d): above that ISO 7783 is not accurate; one film, at its thickness"
    source = "sd = 20.4 ÷ V (checked at the limit that ISO 7783:2018 names); classes of EN 1062-1, from memory"
    return (
        Result(
            through, "g/m²d", f"20.4 ÷ {air:.3g} = {through:.3g}; V1 above 150, V3 below 15", source, valid, word=kind
        ),
        Result(air, "m", f"20.4 ÷ {through:.3g} = {air:.3g}", source, valid),
    )


def layers(perms: Sequence[float]) -> tuple[Result, Result]:
    """What films over each other let through together, in US perms and in ng/(s.m2.Pa)."""
    within("number of layers", len(perms), 1, None, "")
    for perm in perms:
        above_zero("permeance", perm, "perm")
    value = 1 / sum(1 / perm for perm in perms)
    parts = " + ".join(f"1/{perm:g}" for perm in perms)
    valid = (
        "films one on the other, measured by the same cup; dry-cup and wet-cup figures must not be mixed (ASTM D1653)"
    )
    metric = value * _PERM
    return (
        Result(value, "perm", f"1 ÷ ({parts}) = {value:.4g}", "layers in series: 1/P = sum of 1/P of each", valid),
        Result(
            metric,
            "ng/(s·m²·Pa)",
            f"{value:.4g} × {_PERM} = {metric:.4g}",
            "1 US perm = 57.2 ng/(s·m²·Pa), from memory",
            valid,
        ),
    )
