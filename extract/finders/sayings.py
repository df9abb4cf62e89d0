"""The texts of a document that a finder of plain facts reads, one by one, and what their words are about."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass

from extract.document import Document, Passage, Section, Statement, StatementKind, Table, join
from extract.kinds import ancestors, is_kind_of, is_known, sort_of
from extract.sections import Sense, sense_of, sense_of_text
from extract.terms import Mention, Vocabulary


@dataclass(frozen=True, slots=True)
class Saying:
    """A sentence, bullet or field, or a table row's label with one of its cells ('Wet sanding: no')."""

    passage: Passage
    section: Section
    senses: frozenset[Sense]
    statement: Statement | None = None
    cell: str = ""

    @property
    def is_bullet(self) -> bool:
        return self.statement is not None and self.statement.kind is StatementKind.BULLET


def sayings(document: Document) -> Iterator[Saying]:
    """Every text of the document in order; senses are those of its heading."""
    for block in document.blocks:
        senses = sense_of(block.section, document.language)
        if isinstance(block, Table):
            yield from _of_table(block, senses, document.language)
            continue
        yield Saying(_with_label(block), block.section, senses, block)
        for note in block.notes:
            yield Saying(note, block.section, senses, block)


def _with_label(statement: Statement) -> Passage:
    label = statement.label
    if statement.kind is StatementKind.FIELD and label is not None and label.text.strip():
        if statement.passage.text.startswith(label.text):
            return statement.passage
        return join([label, statement.passage], by=": ")
    lead = statement.lead
    if statement.kind is StatementKind.BULLET and lead is not None and lead.text.strip():
        bare = lead.text.rstrip(" :")
        if _UNFINISHED.search(bare.lower()):
            return join([lead.part(0, len(bare)), statement.passage])
    return statement.passage


_UNFINISHED = re.compile(
    r"\b(?:be|not|never|for|to|from|against|is|are|can|may|must|should|with|of|on|by|in|the|it|before|after|when)$"
)
"""A lead-in that breaks off, so that its bullets are the end of the sentence ('The film must not be:')."""


def _of_table(table: Table, senses: frozenset[Sense], language: str) -> Iterator[Saying]:
    for row in table.rows:
        if row.label.text.strip() and not any(c.text.strip() for c in row.cells):
            yield Saying(row.label.passage, table.section, senses)
        for i, cell in enumerate(row.cells):
            if not cell.text.strip():
                continue
            own = sense_of_text(table.heads[i][-1].text, language) if i < len(table.heads) and table.heads[i] else None
            place = f"{row.label.text.strip()} / {table.heads[i][-1].text.strip()}" if own is not None else ""
            parts = [row.label.passage, cell.passage] if row.label.text.strip() else [cell.passage]
            yield Saying(join(parts, by=": "), table.section, senses | (own or frozenset()), None, place)
    for note in (*table.notes, *table.legend):
        yield Saying(note, table.section, senses)


def speaks_of_another(folded: str, start: int, clause_start: int, vocabulary: Vocabulary, own: str | None) -> bool:
    """True where the nearest coating named before folded[start:] in its clause is not the sheet's own product."""
    coatings = [m for m in vocabulary.mentions(folded) if clause_start <= m.start and m.end <= start + 1]
    coatings = [m for m in coatings if m.is_self or m.is_product or _is_coating(m)]
    if not coatings:
        return False
    nearest = coatings[-1]
    return not (nearest.is_self or _may_be_own(folded, nearest, own))


def _is_coating(mention: Mention) -> bool:
    return is_known(mention.object) and not mention.object.startswith("family.") and sort_of(mention.object) == "put_on"


_LOOSE = frozenset({"primer", "surfacer", "sealer", "filler"})
"""Words that makers use for one another: a surfacer's sheet calls it 'the primer' and 'the filler'."""
_POINTING = re.compile(r"\b(?:the|this|our|cured|dry|hard|hardened|sanded|fresh)\s+(?:\w+\s+)?$")


_UNCOATED = re.compile(r"\b(?:unpainted|uncoated|untopcoated|open)\s+$")
"""'Unpainted filler' on a surfacer's sheet: what a knife fills would be primed, not painted."""


def _may_be_own(folded: str, mention: Mention, own: str | None) -> bool:
    if mention.is_product:
        return False
    if own is None or not is_known(own):
        return True
    if is_kind_of(own, mention.object) or is_kind_of(mention.object, own):
        return True
    root = (ancestors(own) or (own,))[-1]
    before = folded[: mention.start]
    if root == "surfacer" and mention.object == "filler" and _UNCOATED.search(before):
        return True
    return mention.object in _LOOSE and root in _LOOSE and bool(_POINTING.search(before))
