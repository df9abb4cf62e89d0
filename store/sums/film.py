"""Wet and dry film. Thicknesses in um, volume solids and thinner in % (thinner: % of the paint's volume)."""

from __future__ import annotations

from store.sums.result import COMMON_PRACTICE, Result, above_zero, density_of, within

_DFT_SOURCE = "MIL-HDBK-1110 par. 2.1.5 (dry film = wet film x volume solids)"
_VALID = "volume solids 1 to 100 %, thinner 0 to 200 % of the paint"


def _check(solids: float, thinner: float) -> None:
    within("volume solids", solids, 1, 100, "%")
    within("thinner", thinner, 0, 200, "% of the paint")


def solids_after_thinning(solids: float, thinner: float) -> Result:
    """Volume solids of the mix in %, from those of the unthinned paint."""
    _check(solids, thinner)
    value = solids / (1 + thinner / 100)
    return Result(
        value,
        "%",
        f"{solids:g} ÷ (1 + {thinner:g}/100) = {value:.2f}",
        "follows from volumes adding; worked example 60 % + 1 qt in 1 US gal = 48 % in a coating trade school's notes",
        _VALID,
    )


def dry_from_wet(wet: float, solids: float, thinner: float = 0) -> Result:
    """Dry film in um that a wet film of the thinned mix leaves."""
    above_zero("wet film", wet, "µm")
    mix = solids_after_thinning(solids, thinner).value
    value = wet * mix / 100
    return Result(value, "µm", f"{wet:g} × {mix:.2f}/100 = {value:.1f}", _DFT_SOURCE, _VALID)


def wet_from_dry(dry: float, solids: float, thinner: float = 0) -> Result:
    """Wet film in um of the thinned mix that leaves the dry film wanted."""
    above_zero("dry film", dry, "µm")
    _check(solids, thinner)
    value = dry * (100 + thinner) / solids
    return Result(
        value,
        "µm",
        f"{dry:g} × (100 + {thinner:g}) ÷ {solids:g} = {value:.1f}",
        _DFT_SOURCE + f"; thinning: {COMMON_PRACTICE}",
        _VALID,
    )


def wet_from_weight(weight: float, density: float) -> Result:
    """Wet film in um of a weight on an area (g/m2) of paint of density kg/l: 1 g/m2 of water is 1 um."""
    above_zero("weight on an area", weight, "g/m²")
    density_of("", density)
    value = weight / density
    return Result(
        value,
        "µm",
        f"{weight:g} ÷ {density:g} = {value:.1f}",
        "volume = weight ÷ density, by definition",
        "densities 0.3 to 8 kg/l, of the paint as it is put on",
    )


def film_disagrees(wet: float, dry: float, solids: float, tolerance: float = 0.25) -> bool:
    """True where a sheet's own wet film, dry film and solids cannot all be right.

    Some official texts fail this: a wash primer at 0.6 mil wet for 0.25 mil dry would need 42 % solids.
    """
    expected = wet * solids / 100
    return abs(expected - dry) > tolerance * max(expected, dry)
