"""A document of another language, glossed as a whole."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from extract.document import Block, Cell, Document, Passage, Row, Section, Statement, Table
from extract.gloss.doubts import Doubt, doubt_about, doubts_of
from extract.gloss.glossing import Gloss, Glosser
from extract.gloss.words import Tongue, tongue

READER = "en"
"""The language of the gloss."""


class SheetGloss:
    """Glosses the blocks of one language; doubts holds what was not understood in them."""

    def __init__(self, tongue: Tongue, names: Sequence[str] = ()) -> None:
        self._glosser = Glosser(tongue, names)
        self._known: dict[tuple[int, bool], tuple[Passage, Gloss]] = {}
        self.doubts: list[Doubt] = []

    def block(self, block: Block) -> Block:
        return self._table(block) if isinstance(block, Table) else self._statement(block)

    def _statement(self, block: Statement) -> Statement:
        frame = [p for p in (block.lead, block.label, *block.notes) if p is not None]
        self._doubt_within(frame, block.section, [block.passage])
        return replace(
            block,
            passage=self._plain(block.passage),
            section=self._section(block.section),
            lead=None if block.lead is None else self._plain(block.lead),
            label=None if block.label is None else self.head(block.label),
            notes=tuple(self._plain(n) for n in block.notes),
        )

    def _table(self, table: Table) -> Table:
        heads = [c.passage for stack in table.heads for c in stack]
        frame = [table.title, table.corner, *heads, *table.legend, *table.notes]
        frame += [table.lead] if table.lead is not None else []
        cells = [p for row in table.rows for p in (row.label.passage, *(c.passage for c in row.cells))]
        self._doubt_within(frame, table.section, cells)
        return replace(
            table,
            corner=self.head(table.corner),
            heads=tuple(tuple(self._cell(c, head=True) for c in stack) for stack in table.heads),
            rows=tuple(self._row(r) for r in table.rows),
            section=self._section(table.section),
            title=self.head(table.title),
            lead=None if table.lead is None else self._plain(table.lead),
            legend=tuple(self._plain(p) for p in table.legend),
            notes=tuple(self._plain(p) for p in table.notes),
        )

    def _row(self, row: Row) -> Row:
        cells = (row.label, *row.cells)
        frame = [row.group, *(n for c in cells for n in c.notes), *row.notes]
        # A doubt in one cell is a doubt about what the whole row permits.
        frame += [c.passage for c in cells]
        self._doubt_within(frame, None, [c.passage for c in cells])
        return replace(
            row,
            label=self._cell(row.label, head=True),
            cells=tuple(self._cell(c, head=True) for c in row.cells),
            notes=tuple(self._plain(n) for n in row.notes),
            group=self.head(row.group),
        )

    def _cell(self, cell: Cell, *, head: bool) -> Cell:
        passage = self.head(cell.passage) if head else self._plain(cell.passage)
        return Cell(passage, tuple(self._plain(n) for n in cell.notes))

    def _section(self, section: Section) -> Section:
        return Section(tuple(self.head(h) for h in section.headings), READER)

    def _plain(self, passage: Passage) -> Passage:
        return self._glossed(passage, head=False).passage

    def head(self, passage: Passage) -> Passage:
        return self._glossed(passage, head=True).passage

    def title(self, passage: Passage) -> Passage:
        return self._glosser.gloss(passage, head=True, title=True).passage

    def _glossed(self, passage: Passage, *, head: bool) -> Gloss:
        key = (id(passage), head)
        if key not in self._known:
            gloss = self._glosser.gloss(passage, head=head)
            # The passage is kept with it, so that no other one takes over its id.
            self._known[key] = (passage, gloss)
            self.doubts.extend(doubts_of(passage, gloss))
        return self._known[key][1]

    def _doubt_within(self, frame: list[Passage], section: Section | None, governed: list[Passage]) -> None:
        """What governs these passages and denies or limits in words not understood leaves all of them in doubt."""
        heads = () if section is None else section.headings
        glosses = [self._glossed(p, head=True) for p in (*frame, *heads)]
        if any(g.doubts for g in glosses):
            for passage in governed:
                self.doubts.extend(doubt_about(passage, firm=True))


@dataclass(frozen=True, slots=True)
class Glossed:
    """A document of one or several languages, all in the reader's English; doubts as in doubts.py."""

    document: Document
    doubts: tuple[Doubt, ...]
    unread: frozenset[str]
    """Languages of sections that were left out, as there are no words for them."""


def languages_of(document: Document) -> frozenset[str]:
    """The languages of a document's sections."""
    return frozenset(b.section.language or document.language for b in document.blocks) | {document.language}


def gloss_document(document: Document, names: Sequence[str] = ()) -> Glossed:
    """The document with every section of another language glossed, and without those of a language unknown.

    names are left as they stand.
    """
    glosses: dict[str, SheetGloss | None] = {READER: None}
    blocks: list[Block] = []
    unread: set[str] = set()
    for language in languages_of(document) - {READER}:
        known = tongue(language)
        if known is None:
            unread.add(language)
        else:
            glosses[language] = SheetGloss(known, names)
    for block in document.blocks:
        language = block.section.language or document.language
        if language not in unread:
            gloss = glosses[language]
            blocks.append(block if gloss is None else gloss.block(block))
    main = glosses.get(document.language)
    whole = replace(document, blocks=tuple(blocks), language=READER)
    if main is not None:
        whole = replace(
            whole,
            titles=tuple(main.title(p) for p in document.titles),
            running=tuple(main.title(p) for p in document.running),
        )
    return Glossed(whole, tuple(d for g in glosses.values() if g is not None for d in g.doubts), frozenset(unread))
