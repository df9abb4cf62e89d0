"""What is put on: coats, wet and dry film, layers, coverage, solids."""

from __future__ import annotations

import re
from collections.abc import Iterator

from extract.claims import Claim, Stance, Topic, Why
from extract.document import Document, Statement
from extract.figures.claims import claims_of
from extract.figures.reading import read_figures
from extract.quantities import find_quantities
from extract.terms import SubjectNames, Vocabulary
from extract.units import Dimension, units


def find(document: Document, subject: SubjectNames, vocabulary: Vocabulary) -> Iterator[Claim]:
    """Claims of the topic film."""
    yield from claims_of(read_figures(document), Topic.FILM, vocabulary)
    for block in document.blocks:
        if isinstance(block, Statement):
            yield from _area_covered(block)


_COVERS = re.compile(
    r"\b(?:an?|one|1|each|per)\s+(?:us\s+|u\.s\.\s+)?(?P<measure>gallon|gal|litre|liter|quart|qt|pint|kilo|kg)\b"
    r"[^.;]{0,70}?\b(?:covers?|does|yields?|gives?|is enough for|will (?:cover|do)|treats?|goes)\b"
)
_MEASURES = {
    "gallon": "us_gal", "gal": "us_gal", "litre": "l", "liter": "l", "quart": "us_qt", "qt": "us_qt", "pint": "pt",
}  # fmt: skip


def _area_covered(statement: Statement) -> Iterator[Claim]:
    """'A gallon covers 100 sq. ft.': a spreading rate told as an area."""
    folded = statement.passage.folded
    m = _COVERS.search(folded)
    if m is None or m.group("measure") not in _MEASURES:
        return
    area = next((q for q in find_quantities(folded) if q.dimension is Dimension.AREA and q.start >= m.end()), None)
    if area is None or len(folded[m.end() : area.lead]) > 30:
        return
    litres = units()[_MEASURES[m.group("measure")]].factor
    yield Claim(
        topic=Topic.FILM,
        property="coverage",
        stance=Stance.STATES,
        evidence=statement.passage.evidence(m.start(), area.end),
        low=None if area.low is None else round(area.low / litres, 4),
        high=None if area.high is None else round(area.high / litres, 4),
        unit="m2/l",
        confidence=0.85,
        why=Why("film.area_covered", (m.group("measure"),)),
    )
