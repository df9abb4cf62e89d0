"""Spreading rate, paint needed, and what a blast profile takes. Areas m2, volumes l, films um."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from store.sums.result import COMMON_PRACTICE, Result, above_zero, within

_SOURCE = "definition: 1 l at 100 % solids covers 1000 m2 at 1 µm; 1604.17 ft2/US gal at 1 mil (231/144 × 1000)"


@dataclass(frozen=True, slots=True)
class LossPractice:
    """A usual loss by way of application, in % of the paint wasted."""

    name: str
    low: float
    high: float
    source: str


LOSSES: tuple[LossPractice, ...] = (
    LossPractice("brush or roller", 10, 15, "a paint maker's public coverage page"),
    LossPractice("airless", 30, 30, "a paint maker's public coverage page"),
    LossPractice("conventional air spray", 50, 50, "a paint maker's public coverage page"),
    LossPractice("HVLP gun, car panels indoors", 35, 45, COMMON_PRACTICE),
    LossPractice("HVLP gun, small parts", 50, 70, COMMON_PRACTICE),
    LossPractice("aerosol can", 40, 60, COMMON_PRACTICE),
)


@dataclass(frozen=True, slots=True)
class ProfileAllowance:
    """Extra dry film to buy for a blasted surface, by profile height in um (low to high)."""

    name: str
    low: float
    high: float
    extra: float


PROFILE_ALLOWANCES: tuple[ProfileAllowance, ...] = (
    ProfileAllowance("round shot, shop primed", 0, 50, 10),
    ProfileAllowance("fine open blasting", 50, 100, 35),
    ProfileAllowance("coarse open blasting", 100, 150, 60),
    ProfileAllowance("old pitted steel, blasted again", 150, 300, 125),
)
"""A public guidance note on theoretical spreading rate and application losses."""


_SHARES: Mapping[str, tuple[float, str, str]] = {
    "two thirds": (2 / 3, "2/3", "dead volume of marine handbooks, from memory: 0.02 l/m² at 30 µm to 0.07 at 105 µm"),
    "in full": (1.0, "1", "worst case of a blasting equipment house's article: the height counted in full"),
}


def spreading_rate(solids: float, dry: float) -> Result:
    """Theoretical spreading rate in m2 per litre of unthinned paint."""
    within("volume solids", solids, 1, 100, "%")
    above_zero("dry film", dry, "µm")
    value = 10 * solids / dry
    return Result(
        value, "m²/l", f"10 × {solids:g} ÷ {dry:g} = {value:.2f}", _SOURCE, "volume solids 1 to 100 %, any dry film"
    )


def spreading_rate_of_mix(solids: float, dry: float, thinner: float) -> Result:
    """Spreading rate in m2 per litre of the thinned mix: thinner adds litres, never film."""
    within("thinner", thinner, 0, 200, "% of the paint")
    paint = spreading_rate(solids, dry).value
    value = paint / (1 + thinner / 100)
    return Result(
        value,
        "m²/l of mix",
        f"{paint:.2f} ÷ (1 + {thinner:g}/100) = {value:.2f}",
        _SOURCE,
        "thinner 0 to 200 % of the paint",
    )


def paint_needed(area: float, dry: float, solids: float, loss: float = 0, profile_extra: float = 0) -> Result:
    """Litres of unthinned paint for area at dry film; loss in % of the paint wasted (divides by 1 - loss).

    profile_extra is dry film in um that the blast profile swallows (published practice runs from 0.2 to
    1.0 of the profile's height, so it is given, not guessed).
    """
    above_zero("area", area, "m²")
    above_zero("dry film", dry, "µm")
    within("volume solids", solids, 1, 100, "%")
    within("loss", loss, 0, 95, "%")
    within("film lost in the profile", profile_extra, 0, 500, "µm")
    value = area * (dry + profile_extra) / (10 * solids) / (1 - loss / 100)
    extra = f" + {profile_extra:g}" if profile_extra else ""
    return Result(
        value,
        "l",
        f"{area:g} × ({dry:g}{extra}) ÷ (10 × {solids:g}) ÷ (1 − {loss:g}/100) = {value:.3f}",
        "volume balance; loss as the share of paint wasted",
        "loss 0 to 95 %, profile allowance 0 to 500 µm",
    )


PROFILE_COUNTS = ("by class", "two thirds", "in full")
"""How published practice counts a profile: by classes of it, as two thirds of its height, or all of it."""


def profile_allowance(profile: float, counts: str = PROFILE_COUNTS[0]) -> Result:
    """Extra dry film in um for a profile height in um, as one of PROFILE_COUNTS says.

    By class it is the published guidance's (the higher class at a border); practice runs from 0.2 to 1.0 of the height.
    """
    within("profile", profile, 0, 300, "µm")
    if counts != PROFILE_COUNTS[0]:
        share, words, source = _SHARES[counts]
        return Result(
            profile * share, "µm", f"{profile:g} × {words} = {profile * share:.0f} µm", source, "profiles 0 to 300 µm"
        )
    row = next(r for r in reversed(PROFILE_ALLOWANCES) if profile >= r.low)
    return Result(
        row.extra,
        "µm",
        f"{profile:g} µm: {row.name} ({row.low:g}–{row.high:g} µm) → {row.extra:g} µm",
        "public guidance note on spreading rate and application losses; others count from 0.2 to 1.0 of the height",
        "profiles 0 to 300 µm; abrasive-sanded panels: nothing to add (" + COMMON_PRACTICE + ")",
    )
