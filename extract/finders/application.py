"""How and in what weather the product is put on."""

from __future__ import annotations

import re
from collections.abc import Iterator

from extract.claims import Claim, Stance, Topic, Why
from extract.document import Document, Passage, Statement, Table
from extract.figures.claims import claims_of
from extract.figures.methods import Way, ways_in
from extract.figures.reading import read_figures
from extract.sections import Sense, sense_of
from extract.terms import SubjectNames, Vocabulary

_WHERE = {Sense.APPLICATION, Sense.FILM, Sense.MIXING}
_NOT_WHERE = {Sense.FAULTS, Sense.SYSTEMS, Sense.QUESTIONS, Sense.LEGAL, Sense.CLEANING, Sense.PACKAGING, Sense.SAFETY}


def find(document: Document, subject: SubjectNames, vocabulary: Vocabulary) -> Iterator[Claim]:
    """Claims of the topic application: conditions, gun settings, flash-off, and the ways of putting it on."""
    yield from claims_of(read_figures(document), Topic.APPLICATION, vocabulary)
    seen: set[tuple[str, Stance]] = set()
    for block in document.blocks:
        senses = sense_of(block.section, document.language)
        if not senses & _WHERE or senses & _NOT_WHERE:
            continue
        for passage in _passages(block):
            for way in ways_in(passage.folded, document.language):
                stance = Stance.FORBIDS if way.forbidden else Stance.STATES
                if (way.name, stance) not in seen:
                    seen.add((way.name, stance))
                    yield _claim(passage, way, stance)


def _passages(block: Statement | Table) -> Iterator[Passage]:
    if isinstance(block, Statement):
        if block.label is not None:
            yield block.label
        yield block.passage
        return
    for row in block.rows:
        yield row.label.passage
    for stack in block.heads:
        for cell in stack:
            yield cell.passage


def _claim(passage: Passage, way: Way, stance: Stance) -> Claim:
    return Claim(
        topic=Topic.APPLICATION,
        property="method",
        stance=stance,
        evidence=passage.evidence(way.start, way.end),
        text=way.name,
        confidence=0.85 if re.search(r"gun|spray|brush|roll", way.name) else 0.8,
        why=Why("application.method", (passage.folded[way.start : way.end],)),
    )
