"""What the parts of a mix are called and counted in, in lines, fields and tables alike."""

from __future__ import annotations

import re
from collections.abc import Sequence

from extract.claims import Claim, Stance, Topic, Why
from extract.clauses.headings import same_section
from extract.document import Document, Passage, Statement, Table, evidence_of, fold
from extract.figures.ratios import Ratio, basis_of, part_value
from extract.names import own_forms
from extract.sections import Sense
from extract.terms import SubjectNames

SKIPPED = {Sense.FAULTS, Sense.SYSTEMS, Sense.QUESTIONS, Sense.LEGAL, Sense.CLEANING, Sense.PACKAGING, Sense.GOES_OVER}
OTHER_COMPONENT = re.compile(
    r"\b(?:hardener|activator|catalyst|catalyser|curing agent|component b|comp\. b|part b|b-component|thinner|reducer|"
    r"diluent|accelerator|peroxide|paste|retarder|bpo|mekp)\b"
)
_UNIT = re.compile(
    r"\s*(?:parts?|pts?\.?|vols?\.?|volumes?|measures?|p\.?b\.?[vw]\.?)(?:\s*(?:by|in)\s*(?:volume|weight|vol\.?|wt\.?))?\s*$"
)


def component(text: str, subject: SubjectNames) -> str | None:
    """'self' for the product, 'other' for hardener or thinner, None for anything else."""
    folded = fold(text)
    if OTHER_COMPONENT.search(folded):
        return "other"
    names = [fold(n) for n in own_forms(subject)]
    squashed = re.sub(r"[^a-z0-9]", "", folded)
    if any(re.sub(r"[^a-z0-9]", "", n) in squashed for n in names if len(n) > 2):
        return "self"
    if re.search(
        r"\b(?:base|component a|comp\. a|part a|paint|enamel|primer|surfacer|filler|resin|product|clear|lacquer)\b",
        folded,
    ):
        return "self"
    # A bare code beside the product's own ('CM-301', 'CM-91') is a component of the mix.
    if re.fullmatch(r"[a-z]{1,4}[- ]?\d{1,4}(?:[-/]\d{1,4})?[a-z]?(?:\s+\w+)?", folded.strip()):
        return "other"
    return None


def counted(folded: str) -> float | None:
    """As part_value, with what the part is counted in behind it: '3 parts', '½ part', '2 vol.'."""
    return part_value(_UNIT.sub("", folded))


def said_of_parts(document: Document, table: Table) -> str | None:
    """Whether the statements of a table's section measure by 'volume' or by 'weight'; None where they say neither."""
    said = [
        b.passage.folded
        for b in document.blocks
        if isinstance(b, Statement) and table.section.headings and same_section(b.section, table.section)
    ]
    return basis_of(" ".join(said))


def ratio_claim(ratio: Ratio, words: Sequence[Passage], text: str | None, confidence: float, cell: str = "") -> Claim:
    return Claim(
        topic=Topic.MIXING,
        property="ratio",
        stance=Stance.STATES,
        evidence=evidence_of(words),
        parts=ratio.parts,
        basis=ratio.basis,
        text=text,
        confidence=confidence,
        why=Why("mixing.ratio", (), cell),
    )
