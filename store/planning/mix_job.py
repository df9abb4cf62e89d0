"""A coat for a job, from the area to what goes into the cup: the whole of what to mix, or the first thing that lacks.

Volume solids are those of the paint mixed with its hardener, unthinned. Film is dry film of each coat in um, area m2,
loss % of the paint wasted, densities kg/l, prices per litre.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from store.planning.buying import Mix, ToMix, ready_to_spray, to_mix
from store.planning.measuring import Measure, cup_step
from store.sums.mixing import Part
from store.sums.result import above_zero, within


@dataclass(frozen=True, slots=True)
class MixJob:
    """parts () is one component. thinner in %, of the paint with its hardener or (thinner_of_mix) of the whole mix.

    third_is_thinner: the third part of the ratio is the thinner; `thinner` does not count then.
    """

    area: float
    coats: float
    dry: float
    solids: float
    loss: float = 0.0
    parts: tuple[float, ...] = ()
    basis: str = "volume"
    thinner: float = 0.0
    thinner_of_mix: bool = False
    third_is_thinner: bool = False
    densities: tuple[float | None, ...] = (None, None, None)
    """Base, hardener, third component."""
    thinner_density: float | None = None
    prices: tuple[float | None, ...] = (None, None, None)
    thinner_price: float | None = None
    measure: Measure = Measure.CUP


@dataclass(frozen=True, slots=True)
class Mixed:
    """wanted_ml is what the area needs; made what is mixed for it, on the marks of the cup or scale."""

    wanted_ml: float
    made: ToMix
    thinner_of_paint: float


class DensitiesLacking(ValueError):
    """A ratio by weight was given without the density of each component, so litres cannot be turned into grams."""


NAMES = ("base", "hardener", "third component")


def mixed(job: MixJob) -> Mixed:
    """Raises OutOfRange on a figure that cannot be, DensitiesLacking."""
    parts = job.parts
    for part in parts:
        above_zero("part", part, "parts")
    percent = _thinner_of_paint(job)
    if job.third_is_thinner and len(parts) == 3:
        parts = parts[:2]
    densities, prices = job.densities[: max(len(parts), 1)], job.prices[: max(len(parts), 1)]
    if job.basis == "weight" and len(parts) > 1 and any(d is None for d in densities):
        raise DensitiesLacking
    wanted = ready_to_spray(job.area, job.dry, job.coats, job.solids, job.loss, percent)
    if len(parts) < 2:
        return Mixed(wanted, _one_component(job, wanted, percent), percent)
    mix = Mix(NAMES[: len(parts)], parts, job.basis, percent, densities, job.thinner_density)
    made = to_mix(mix, wanted, step_ml=_step(job, mix, wanted), prices=(*prices, job.thinner_price))
    return Mixed(wanted, made, percent)


def _thinner_of_paint(job: MixJob) -> float:
    """Thinner in % of the paint with its hardener, however the sheet counts it."""
    if job.third_is_thinner and len(job.parts) == 3:
        if job.basis == "volume":
            return 100 * job.parts[2] / (job.parts[0] + job.parts[1])
        base, hardener = job.densities[0], job.densities[1]
        if base is None or hardener is None or job.thinner_density is None:
            raise DensitiesLacking
        return 100 * (job.parts[2] / job.thinner_density) / (job.parts[0] / base + job.parts[1] / hardener)
    if job.thinner_of_mix:
        within("thinner", job.thinner, 0, 90, "% of the mix")
        return 100 * job.thinner / (100 - job.thinner)
    return within("thinner", job.thinner, 0, 200, "% of the paint")


def _step(job: MixJob, mix: Mix, wanted: float) -> float:
    """The base's step in ml: what a cup can show, or a scale where the base's density is known."""
    if job.measure is Measure.CUP:
        if mix.basis == "weight":
            return Measure.CUP.mark
        thinner = (sum(mix.parts) * mix.thinner / 100,) if mix.thinner else ()
        # Rounding up must not cost half as much again as the job takes.
        step = cup_step((*mix.parts, *thinner))
        return step if step <= wanted / 4 else Measure.CUP.mark
    density = mix.densities[0] if mix.densities else None
    return job.measure.mark / density if density else 1.0


def _one_component(job: MixJob, wanted: float, percent: float) -> ToMix:
    """Paint that needs no hardener, thinned or not; rounded up to the cup's or the scale's mark."""
    density = job.densities[0]
    step = job.measure.mark if job.measure is Measure.CUP else job.measure.mark / (density or 1.0)
    paint = math.ceil(wanted / (1 + percent / 100) / step - 1e-9) * step
    parts = [Part("paint", paint, None if density is None else paint * density)]
    prices: list[float | None] = [job.prices[0]]
    if percent:
        thinner = paint * percent / 100
        weight = None if job.thinner_density is None else thinner * job.thinner_density
        parts.append(Part("thinner", thinner, weight))
        prices.append(job.thinner_price)
    cost = _cost(parts, prices)
    return ToMix(sum(p.ml for p in parts), tuple(parts), cost, ())


def _cost(parts: Sequence[Part], prices: Sequence[float | None]) -> float | None:
    known = [price for price in prices if price is not None]
    if len(known) != len(parts):
        return None
    return sum(part.ml / 1000 * price for part, price in zip(parts, known, strict=True))


def with_film_of_all_coats(job: MixJob) -> MixJob:
    """The same job where `dry` was given for all coats together."""
    return replace(job, dry=job.dry / above_zero("coats", job.coats, "coats"))
