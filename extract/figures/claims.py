"""From a bound figure to a claim: the unit that the property fixes, and what is plausible for it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from extract.bounds import Bound
from extract.claims import PROPERTIES, Claim, Stance, Topic, Why
from extract.document import evidence_of
from extract.figures.bound import BoundFigure
from extract.figures.labels import FigureSpec
from extract.figures.strangers import is_of_another
from extract.quantities import Quantity
from extract.terms import Vocabulary
from extract.units import Dimension, units

PLAUSIBLE: dict[tuple[Topic, str], tuple[float, float]] = {
    (Topic.MIXING, "thinner"): (0, 150),
    (Topic.MIXING, "pot_life"): (0.5, 60 * 24 * 120),
    (Topic.MIXING, "induction"): (0.5, 60 * 24),
    (Topic.MIXING, "mixed_viscosity"): (8, 300),
    (Topic.FILM, "coats"): (1, 12),
    (Topic.FILM, "wet"): (3, 3000),
    (Topic.FILM, "dry"): (2, 2000),
    (Topic.FILM, "dry_total_max"): (5, 60000),
    (Topic.FILM, "layer"): (100, 60000),
    (Topic.FILM, "coverage"): (0.2, 60),
    (Topic.FILM, "volume_solids"): (2, 100),
    (Topic.APPLICATION, "air_temp"): (-25, 60),
    (Topic.APPLICATION, "surface_temp"): (-25, 80),
    (Topic.APPLICATION, "humidity"): (5, 100),
    (Topic.APPLICATION, "dew_margin"): (0.5, 15),
    (Topic.APPLICATION, "nozzle"): (0.1, 8),
    (Topic.APPLICATION, "pressure"): (0.1, 600),
    (Topic.APPLICATION, "flash_off"): (0.5, 60 * 4),
    (Topic.DRYING, "dust"): (0.2, 60 * 48),
    (Topic.DRYING, "touch"): (0.2, 60 * 24 * 7),
    (Topic.DRYING, "handle"): (0.5, 60 * 24 * 21),
    (Topic.DRYING, "sand"): (0.5, 60 * 24 * 21),
    (Topic.DRYING, "hard"): (0.1, 60 * 24 * 30),
    (Topic.DRYING, "cure"): (0.1, 60 * 24 * 120),
    (Topic.DRYING, "return_to_service"): (5, 60 * 24 * 60),
    (Topic.STORAGE, "shelf_life"): (0.9, 240),
    (Topic.STORAGE, "temp"): (-40, 60),
}
"""Widest figures that a coating's sheet prints, in the property's unit (common practice, no source)."""

_LONG_FLASH = 60.0
"""Minutes (common practice, no source)."""
_MONTHS = {"year": 12.0, "month": 1.0}


def claims_of(figures: Iterable[BoundFigure], topic: Topic, vocabulary: Vocabulary) -> Iterator[Claim]:
    """The claims of one topic. Figures of another product, and such as no sheet would print, are left out."""
    for figure in figures:
        if figure.spec.topic is topic and not is_of_another(figure, vocabulary):
            claim = claim_of(figure)
            if claim is not None:
                yield claim


def is_plausible(spec: FigureSpec, q: Quantity) -> bool:
    """Whether a sheet could print this figure for this property; True for a decoy."""
    if spec.topic is None or spec.property is None:
        return True
    limits = PLAUSIBLE.get((spec.topic, spec.property))
    if limits is None:
        return True
    if spec.property == "flash_off" and q.bound is Bound.LEAST and (q.low or 0.0) > _LONG_FLASH:
        return False  # 'at least 3 h between coats' is a time to recoat
    ends = [v for v in in_property_unit(q, spec.property) if v is not None]
    return any(limits[0] <= v <= limits[1] for v in ends)


def claim_of(figure: BoundFigure) -> Claim | None:
    spec = figure.spec
    if spec.topic is None or spec.property is None:
        return None
    low, high = in_property_unit(figure.quantity, spec.property)
    if spec.property == "thinner" and low is None:
        low = 0.0  # 'up to 10 %' leaves it open whether any
    if spec.property == "dry_total_max":
        low, high = None, high if high is not None else low
    if spec.property in {"pot_life", "shelf_life"} and (low is None or high is None):
        # 'Use within 6 h' is a pot life of 6 h; 'at least 24 months' can be counted on for 24.
        low = high = low if low is not None else high
    if spec.property == "dew_margin" and low is not None:
        high = None  # a margin is a least one, however it is put
    if spec.property == "humidity" and not low:
        low = None  # 'from 0 %' bounds nothing
    if spec.topic is Topic.DRYING and low is None:
        low = high  # 'dust-free within 20 min' is dust-free after 20 min
    limits = PLAUSIBLE.get((spec.topic, spec.property))
    if limits is not None and any(v is not None and not limits[0] <= v <= limits[1] for v in (low, high)):
        return None
    if not any(p.text.strip() for p in figure.words):
        return None
    approximate = 0.04 if figure.quantity.approximate else 0.0
    return Claim(
        topic=spec.topic,
        property=spec.property,
        stance=Stance.STATES,
        evidence=evidence_of(figure.words),
        low=low,
        high=high,
        unit=PROPERTIES[spec.topic][spec.property],
        at_c=figure.at_c,
        method=figure.method if spec.topic is Topic.DRYING or spec.property == "flash_off" else None,
        text=figure.text,
        confidence=max(0.05, figure.confidence - approximate),
        why=Why(f"figures.{spec.property}", (figure.label,) if figure.label else (), figure.cell),
    )


def in_property_unit(q: Quantity, name: str) -> tuple[float | None, float | None]:
    """Both ends in the unit of the property: months for a shelf life, mm for a nozzle, µm for a film."""
    low, high = q.low, q.high
    if name == "shelf_life":
        size = _MONTHS.get(q.printed_unit)
        if size is not None:
            low, high = (None if v is None else v * size for v in (q.printed_low, q.printed_high))
        else:
            low, high = (None if v is None else v / units()["month"].factor for v in (low, high))
    elif name == "nozzle":
        low, high = (None if v is None else v / 1000.0 for v in (low, high))
    elif name == "coverage" and q.dimension is Dimension.VOLUME_PER_AREA:
        # So much for a square metre is a spreading rate the other way up.
        low, high = (1.0 / high if high else None), (1.0 / low if low else None)
    elif name == "dew_margin" and q.dimension is Dimension.TEMPERATURE:
        difference = q.as_difference()
        low, high = difference.low, difference.high
    return _tidy(low), _tidy(high)


def _tidy(value: float | None) -> float | None:
    """Rounding that hides the noise of a conversion and nothing else: four decimals."""
    return None if value is None else round(value, 4)
