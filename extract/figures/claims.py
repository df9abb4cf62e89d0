"""From a bound figure to a claim: the unit that the property fixes, and what is plausible for it."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence

from extract.claims import PROPERTIES, Claim, Stance, Topic, Why
from extract.dates import header_words
from extract.document import evidence_of, fold
from extract.figures.bound import BoundFigure
from extract.mention import Mention
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
    (Topic.APPLICATION, "flash_off"): (0.5, 60 * 24),
    (Topic.STORAGE, "shelf_life"): (0.9, 240),
    (Topic.STORAGE, "temp"): (-40, 60),
}
"""Widest figures that a coating's sheet prints, in the property's unit (common practice, no source)."""

_MONTHS = {"year": 12.0, "month": 1.0}


def claims_of(figures: Iterable[BoundFigure], topic: Topic, vocabulary: Vocabulary) -> Iterator[Claim]:
    """The claims of one topic. Figures of another product, and such as no sheet would print, are left out."""
    for figure in figures:
        if figure.spec.topic is not topic or any(_is_other_product(head, vocabulary) for head in figure.heads):
            continue
        if figure.heads and is_range_table(figure.about) and not _is_own(figure.heads[0], vocabulary):
            continue
        if not _speaks_of_another(figure, vocabulary):
            claim = claim_of(figure)
            if claim is not None:
                yield claim


_RANGE = re.compile(
    r"\b(?:complements?|complementary|(?:other|related|associated|accompanying|companion|auxiliary|further|ancillary|"
    r"matching) (?:products?|materials?|items?)|(?:of|from|in) (?:the|our) (?:range|programme|program|line|family)|"
    r"product range|also available|goes with|to go with)\b"
)


def is_range_table(about: str) -> bool:
    """Whether a table's corner, title or heading (folded) says that its rows are other products of the maker."""
    return _RANGE.search(about) is not None


def _is_own(head: str, vocabulary: Vocabulary) -> bool:
    return any(m.is_self for m in vocabulary.mentions(head))


def _is_other_product(head: str, vocabulary: Vocabulary) -> bool:
    """Whether a row or a column is headed by the name of another product and by nothing else."""
    mentions = vocabulary.mentions(head)
    if any(m.is_self for m in mentions) or _COMPONENT.search(fold(head)):
        return False
    return any(m.is_product and m.end - m.start >= 0.7 * len(head.strip()) for m in mentions)


def _speaks_of_another(figure: BoundFigure, vocabulary: Vocabulary) -> bool:
    """Whether a sentence's subject is another product: 'The clear coat TR 12 is dry to touch after 20 min.'"""
    if figure.heads:
        return False
    mentions = vocabulary.mentions(figure.clause)
    if is_subject_another(figure.clause, mentions) or _opens_with_a_name(figure, vocabulary):
        return True
    if figure.spec.topic not in {Topic.DRYING, Topic.FILM}:
        return False
    before = figure.clause[: max(0, figure.clause.find(figure.label))]
    ahead = [m for m in mentions if m.end <= len(before)]
    if not ahead or any(m.is_self for m in mentions) or _COMPONENT.search(before):
        return False
    return ahead[-1].is_product and len(before) - ahead[-1].end < 20


_OPENING = re.compile(r"(?:(?:the|our|for|with|an?)\s+|[\w-]+\s+){0,3}")
_VERB_AHEAD = re.compile(
    r"[\s,)®™]*(?:[a-z-]+\s+){0,2}?(?:is|are|has|have|wants?|needs?|takes?|can|may|must|should|will|contains?|requires?|"
    r"dries|cures|sands|flashes|works|gives|goes|does|uses)\b"
)


_NAME_AHEAD = re.compile(
    r"(?:(?:The|Our|For|With)\s+(?:[a-z]+\s+)?)?"
    r"(?P<name>[A-ZÀ-Þ][A-ZÀ-Þ\d-]{4,}(?:\s[A-Z\d][\w.-]*)*|[A-ZÀ-Þ][\w-]+(?:\s[A-Z\d][\w.-]*)+)\s+"
    r"(?P<verb>is|are|has|wants|needs|takes|can|may|must|should|will|requires|dries|cures|sands|flashes|gives|goes)\b"
)


def _opens_with_a_name(figure: BoundFigure, vocabulary: Vocabulary) -> bool:
    """Whether a sentence's subject is written as a name that is neither the sheet's own nor words of the trade."""
    m = _NAME_AHEAD.match(figure.about)
    if m is None or figure.label in fold(m.group("name")) or _COMPONENT.search(fold(m.group())):
        return False
    name = m.group("name")
    if any(x.is_self for x in vocabulary.mentions(name)):
        return False
    kinds = [x for x in vocabulary.mentions(name) if not x.is_product]
    rest = [w for w in re.finditer(r"\S+", name) if not any(k.start <= w.start() < k.end for k in kinds)]
    return any(fold(w.group()) not in _TRADE_WORDS for w in rest)


_TRADE_WORDS = frozenset(header_words()["words"]["descriptive"]) | {
    "dry", "wet", "film", "spray", "gun", "minimum", "maximum", "relative", "air", "surface", "mixed", "mixing", "the",
    "flash", "pot", "life", "drying", "curing", "volume", "solids", "colours", "colors", "metallic", "pearl", "relative",
    "humidity", "temperature", "both", "all", "each", "object", "substrate", "dew", "point", "shelf", "spraying", "coats",
}  # fmt: skip


def is_subject_another(folded: str, mentions: Sequence[Mention]) -> bool:
    """Whether a sentence is about another product, named before its verb: 'TR 12 is diluted 5 % and ...'."""
    if not mentions or any(m.is_self for m in mentions):
        return False
    first = mentions[0]
    if not first.is_product or not _OPENING.fullmatch(folded[: first.start]):
        return False
    about = folded[: first.end + 16]
    return not _COMPONENT.search(about) and _VERB_AHEAD.match(folded, first.end) is not None


_COMPONENT = re.compile(r"hardener|activator|catalyst|thinner|reducer|diluent|component|additive|\b\d+\.\d{3,}")


def claim_of(figure: BoundFigure) -> Claim | None:
    spec = figure.spec
    if spec.topic is None or spec.property is None:
        return None
    low, high = in_property_unit(figure.quantity, spec.property)
    if spec.property == "dry_total_max":
        low, high = None, high if high is not None else low
    if spec.property in {"pot_life", "shelf_life"} and (low is None or high is None):
        # 'Use within 6 h' is a pot life of 6 h; 'at least 24 months' can be counted on for 24.
        low = high = low if low is not None else high
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
    elif name == "dew_margin" and q.dimension is Dimension.TEMPERATURE:
        difference = q.as_difference()
        low, high = difference.low, difference.high
    return _tidy(low), _tidy(high)


def _tidy(value: float | None) -> float | None:
    """Rounding that hides the noise of a conversion and nothing else: four decimals."""
    return None if value is None else round(value, 4)
