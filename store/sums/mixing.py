"""Mixing by volume and by weight. Volumes ml, weights g, densities kg/l (= g/ml)."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from store.sums.result import COMMON_PRACTICE, OutOfRange, Result, above_zero, density_of, within


@dataclass(frozen=True, slots=True)
class Part:
    """One component of a mix: how much by volume (ml) and, where its density is known, by weight (g)."""

    name: str
    ml: float
    g: float | None


def _check_parts(parts: Sequence[float]) -> None:
    if len(parts) < 2:
        raise OutOfRange("parts", len(parts), 2, None, "parts")
    above_zero("first part", parts[0], "parts")
    for part in parts[1:]:
        within("part", part, 0, None, "parts")


def by_volume(
    parts: Sequence[float], total_ml: float, names: Sequence[str], densities: Sequence[float | None]
) -> tuple[Part, ...]:
    """A ratio by volume shared out over total_ml; weights where densities are known."""
    _check_parts(parts)
    above_zero("amount", total_ml, "ml")
    share = total_ml / sum(parts)
    out = []
    for part, name, density in zip(parts, names, densities, strict=True):
        if density is not None:
            density_of(name, density)
        out.append(Part(name, part * share, None if density is None else part * share * density))
    return tuple(out)


def by_weight(
    parts: Sequence[float], total_g: float, names: Sequence[str], densities: Sequence[float | None]
) -> tuple[Part, ...]:
    """A ratio by weight shared out over total_g. Volumes need every density: raises OutOfRange where one lacks."""
    _check_parts(parts)
    above_zero("amount", total_g, "g")
    share = total_g / sum(parts)
    out = []
    for part, name, density in zip(parts, names, densities, strict=True):
        known = density_of(name, density if density is not None else 0.0)
        out.append(Part(name, part * share / known, part * share))
    return tuple(out)


def weight_ratio(volume_parts: Sequence[float], densities: Sequence[float]) -> tuple[float, ...]:
    """The ratio by weight, first part 100, of a ratio by volume (densities kg/l)."""
    _check_parts(volume_parts)
    weights = [p * density_of("", d) for p, d in zip(volume_parts, densities, strict=True)]
    return tuple(100 * w / weights[0] for w in weights)


def volume_ratio(weight_parts: Sequence[float], densities: Sequence[float]) -> tuple[float, ...]:
    """The ratio by volume, last part 1, of a ratio by weight (densities kg/l)."""
    _check_parts(weight_parts)
    volumes = [p / density_of("", d) for p, d in zip(weight_parts, densities, strict=True)]
    return tuple(v / volumes[-1] for v in volumes)


def thinner_of_paint(paint: float, percent: float) -> Result:
    """Thinner to add (same unit as paint) at percent of the paint, base and hardener together."""
    above_zero("paint", paint, "ml")
    within("thinner", percent, 0, 200, "% of the paint")
    value = paint * percent / 100
    share = 100 * percent / (100 + percent)
    return Result(
        value,
        "ml",
        f"{paint:g} × {percent:g}/100 = {value:.1f} ({share:.2f} % of the mix)",
        f"percent of the paint, base and hardener together: {COMMON_PRACTICE}; the sheet's own words win",
        "0 to 200 % of the paint",
    )


def thinner_of_mix(paint: float, percent: float) -> Result:
    """Thinner to add where the sheet means percent of the finished mix."""
    above_zero("paint", paint, "ml")
    within("thinner", percent, 0, 90, "% of the mix")
    value = paint * percent / (100 - percent)
    return Result(
        value,
        "ml",
        f"{paint:g} × {percent:g} ÷ (100 − {percent:g}) = {value:.1f}",
        "share of the finished mix, by definition",
        "0 to 90 % of the mix",
    )


def solvent_as_applied(solvent: float, percent: float, thinner_density: float) -> Result:
    """Solvent (VOC, g/l) of the mix as it is put on: paint with solvent g/l and percent of thinner, all of it solvent.

    European sheets count it so ('ready to use'); American ones may leave out water and exempt solvents.
    """
    within("solvent", solvent, 0, 1000, "g/l")
    within("thinner", percent, 0, 200, "% of the paint")
    density_of("thinner", thinner_density)
    value = (solvent + percent / 100 * thinner_density * 1000) / (1 + percent / 100)
    return Result(
        value,
        "g/l",
        f"({solvent:g} + {percent:g}/100 × {thinner_density:g} × 1000) ÷ (1 + {percent:g}/100) = {value:.1f}",
        "weights and volumes adding; the thinner counts as solvent altogether",
        "solvent 0 to 1000 g/l, thinner 0 to 200 % of the paint; not 'less water and exempt solvents'",
    )


def pot_life_at(minutes: float, stated_c: float, asked_c: float) -> Result:
    """A hint, never a rule: pot life halves for each 10 K warmer; not stretched below the stated temperature.

    UFGS-09971 par. 3.7.1.3 gives the halving. A urethane of 8 h at 23 degC lasted 2 h at 38 degC where the rule says
    2.8 h (an Army maintenance monthly, issue 396), so the warm side is taken at a third per 10 K.
    """
    above_zero("pot life", minutes, "min")
    within("temperature", stated_c, -10, 50, "°C")
    within("temperature", asked_c, -10, 50, "°C")
    warmer = max(0.0, asked_c - stated_c)
    value: float = minutes * 3.0 ** (-warmer / 10)
    return Result(
        value,
        "min",
        f"{minutes:g} × 3^(−{warmer:g}/10) = {value:.0f}",
        "UFGS-09971 par. 3.7.1.3 (halves per 10 K), here a third per 10 K: halving proved unsafe for a urethane",
        "−10 to 50 °C; a hint only: a figure on the sheet wins, and colder than stated it is not stretched",
    )
