"""What to mix and buy for an area: ready-to-spray volume first, then each component by volume and by weight.

One square metre at one micrometre of dry film holds one millilitre of solids.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from store.sums.mixing import Part, by_volume, by_weight
from store.sums.result import COMMON_PRACTICE, OutOfRange, above_zero, within


@dataclass(frozen=True, slots=True)
class UsualPanel:
    """A panel of a medium-sized car with the area of one side, m2."""

    name: str
    area: float
    source: str = COMMON_PRACTICE


USUAL_PANELS: tuple[UsualPanel, ...] = (
    UsualPanel("bonnet, outside", 1.6),
    UsualPanel("roof", 2.0),
    UsualPanel("boot lid, outside", 1.0),
    UsualPanel("door, outside", 0.9),
    UsualPanel("front wing", 0.7),
    UsualPanel("rear quarter", 1.0),
    UsualPanel("sill", 0.4),
    UsualPanel("bumper", 0.8),
    UsualPanel("body shell, outside", 10.0),
    UsualPanel("body shell, outside and inside", 22.0),
    UsualPanel("van floor", 4.0),
    UsualPanel("steel wheel, both faces", 0.5),
)


@dataclass(frozen=True, slots=True)
class Mix:
    """How a product is mixed: parts by basis ('volume' or 'weight'), base first; thinner in % of base and hardener.

    densities in kg/l, None where the sheet gives none.
    """

    names: tuple[str, ...]
    parts: tuple[float, ...]
    basis: str
    thinner: float = 0.0
    densities: tuple[float | None, ...] = ()
    thinner_density: float | None = None


@dataclass(frozen=True, slots=True)
class ToMix:
    """ml ready to spray, and each component. cost is None where a price is missing."""

    ready_ml: float
    parts: tuple[Part, ...]
    cost: float | None
    steps: tuple[str, ...]


def ready_to_spray(area: float, dry: float, coats: float, solids: float, loss: float, thinner: float = 0.0) -> float:
    """ml of ready mix: area m2, dry film um a coat, solids % of the unthinned mix, loss % wasted, thinner % of it."""
    above_zero("area", area, "m²")
    above_zero("dry film", dry, "µm")
    above_zero("coats", coats, "coats")
    within("volume solids", solids, 1, 100, "%")
    within("loss", loss, 0, 95, "%")
    within("thinner", thinner, 0, 200, "% of the paint")
    paint = area * dry * coats / (solids / 100) / (1 - loss / 100)
    return paint * (1 + thinner / 100)


def to_mix(mix: Mix, ready_ml: float, *, step_ml: float = 10, prices: Sequence[float | None] = ()) -> ToMix:
    """Components for at least ready_ml, the base rounded up to step_ml and the rest in proportion.

    prices are per litre, in the order of names and then the thinner. Raises OutOfRange where a ratio by weight
    lacks a density, for a volume cannot be had then.
    """
    above_zero("amount", ready_ml, "ml")
    above_zero("step", step_ml, "ml")
    densities = mix.densities or (None,) * len(mix.parts)
    unthinned = ready_ml / (1 + mix.thinner / 100)
    parts = _share(mix, unthinned, densities)
    rounded = math.ceil(parts[0].ml / step_ml - 1e-9) * step_ml
    parts = _share(mix, unthinned * rounded / parts[0].ml, densities)
    steps = [f"{ready_ml:.0f} ml ready to spray, base rounded up to {rounded:g} ml"]
    total = sum(p.ml for p in parts)
    if mix.thinner:
        thinner_ml = total * mix.thinner / 100
        weight = None if mix.thinner_density is None else thinner_ml * mix.thinner_density
        parts = (*parts, Part("thinner", thinner_ml, weight))
        steps.append(f"thinner {mix.thinner:g} % of {total:.0f} ml (of base and hardener together: {COMMON_PRACTICE})")
    return ToMix(sum(p.ml for p in parts), parts, _cost(parts, prices), tuple(steps))


def _share(mix: Mix, total_ml: float, densities: Sequence[float | None]) -> tuple[Part, ...]:
    if mix.basis == "volume":
        return by_volume(mix.parts, total_ml, mix.names, densities)
    known = [d for d in densities if d is not None]
    if len(known) != len(mix.parts):
        raise OutOfRange("densities known", len(known), len(mix.parts), None, "of the components")
    volume_of_one = sum(p / d for p, d in zip(mix.parts, known, strict=True))
    return by_weight(mix.parts, total_ml * sum(mix.parts) / volume_of_one, mix.names, densities)


def _cost(parts: Sequence[Part], prices: Sequence[float | None]) -> float | None:
    if len(prices) < len(parts):
        return None
    total = 0.0
    for part, price in zip(parts, prices, strict=False):
        if price is None:
            return None
        total += part.ml / 1000 * price
    return total
