"""Spans in which no coat may follow, said in a sentence of their own: they end a window that another sentence opens."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace

from extract.claims import Claim, Evidence
from extract.clauses.cues import Cues
from extract.document import Document, Statement
from extract.finders.window_times import shut_spans
from extract.sections import Sense, sense_of
from extract.terms import Vocabulary

_ABOUT = frozenset({Sense.OVERCOATING, Sense.TOPPED_BY, Sense.DRYING})
_APART = frozenset({Sense.STORAGE, Sense.MIXING, Sense.CLEANING, Sense.LEGAL, Sense.PACKAGING, Sense.FAULTS})


@dataclass(frozen=True, slots=True)
class Gap:
    """From low to high minutes no coat may follow; objects are the coats that the sentence names, if it names any."""

    low: float
    high: float
    objects: frozenset[str]
    evidence: Evidence


def gaps_of(document: Document, vocabulary: Vocabulary, known: Cues) -> list[Gap]:
    """Every such span of a sheet: 'Between 2 and 48 hours it must not be recoated'."""
    return list(_gaps(document, vocabulary, known))


def _gaps(document: Document, vocabulary: Vocabulary, known: Cues) -> Iterator[Gap]:
    for block in document.blocks:
        if not isinstance(block, Statement):
            continue
        senses = sense_of(block.section, vocabulary.language)
        folded = block.passage.folded
        if senses & _APART or not (senses & _ABOUT or known.window["verbs"].search(folded)):
            continue
        for low, high in shut_spans(folded, known):
            objects = frozenset(m.object for m in vocabulary.mentions(block.passage.text) if not m.pronoun)
            yield Gap(low, high, objects, block.passage.evidence())


def kept_apart(claims: Iterable[Claim], gaps: Iterable[Gap]) -> Iterator[Claim]:
    """The windows, none reaching into a gap that the sheet sets for the coat or for all."""
    known = list(gaps)
    for claim in claims:
        held = claim
        for gap in known:
            if claim.property != "window" or (claim.object and gap.objects and claim.object not in gap.objects):
                continue
            opens = held.low if held.low is not None else 0.0
            if opens < gap.low and (held.high is None or held.high > gap.low):
                held = replace(held, high=gap.low, unlimited=False, evidence=_both(held.evidence, gap.evidence))
        yield held


def _both(a: Evidence, b: Evidence) -> Evidence:
    if a.page != b.page or b.quote in a.quote:
        return a
    return Evidence(a.page, f"{a.quote} … {b.quote}", (*a.boxes, *(box for box in b.boxes if box not in a.boxes)))
