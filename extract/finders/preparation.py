"""What must be done to a surface, an old finish or a lower coat before this product goes on."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import replace

from extract.claims import SELF, Claim, Stance, Topic, Why
from extract.document import Cell, Document, Passage, Row, Statement, StatementKind, Table, evidence_of
from extract.finders.prepared import OWN_FILM, TO_BRIGHT, Place, Prepared, sentence_start
from extract.finders.preparing import Action, actions, cleaner_in_cell, wordings
from extract.phrases import clause_around
from extract.sections import Sense, sense_of, sense_of_text
from extract.terms import SubjectNames, Vocabulary

_BENEATH = frozenset({Sense.GOES_OVER, Sense.PREPARATION})
_OWN = frozenset({Sense.TOPPED_BY, Sense.OVERCOATING, Sense.OWN_FILM, Sense.DRYING, Sense.EXPOSURE, Sense.FILM})
_SILENT = frozenset(
    {
        Sense.FAULTS, Sense.SYSTEMS, Sense.CLEANING, Sense.PACKAGING, Sense.LEGAL, Sense.STORAGE, Sense.SAFETY,
        Sense.MIXING, Sense.QUESTIONS,
    }
)  # fmt: skip
_ANYWHERE = frozenset({"degrease", "derust", "neutralise", "rinse", "blast", "prime_within"})
"""What means the surface below wherever it is said; sanding and testing may mean this product's own film."""


def find(document: Document, subject: SubjectNames, vocabulary: Vocabulary) -> Iterator[Claim]:
    """Claims of the topic preparation, each of one thing to do to one object; doubles are left out."""
    if wordings(document.language) is None:
        return
    reader = _Reader(document.language, vocabulary.bind(document, subject))
    best: dict[tuple[object, ...], Claim] = {}
    for block in document.blocks:
        made = reader.table(block) if isinstance(block, Table) else reader.statement(block)
        for claim in made:
            key = (claim.property, claim.object, claim.low, claim.high, _short(claim.text))
            if key not in best:
                best[key] = claim
    with_means = {(c.property, c.object) for c in best.values() if c.text is not None}
    for claim in best.values():
        # 'Degrease' says nothing more where another sentence says with what.
        if claim.property != "degrease" or claim.text is not None or (claim.property, claim.object) not in with_means:
            yield claim


def _short(text: str | None) -> str:
    """'TR-12 Cleaner' and 'TR-12' are one means."""
    return "" if text is None else text.casefold().split()[0]


class _Reader:
    def __init__(self, language: str, vocabulary: Vocabulary) -> None:
        self._language = language
        self._prepared = Prepared(language, vocabulary)
        self._noted: set[tuple[str, int]] = set()

    # --- statements ----------------------------------------------------------------------------------------

    def statement(self, block: Statement) -> Iterator[Claim]:
        senses = sense_of(block.section, self._language)
        label = block.label
        if label is not None and block.kind is not StatementKind.BULLET:
            senses = senses | sense_of_text(label.text, self._language)
        if senses & _SILENT and not senses & _BENEATH:
            return
        if block.label is None and self._prepared.is_about_another(block.passage):
            return
        denied = block.mark in _CROSSES or (block.lead is not None and _denies(block.lead.folded))
        own = bool(senses & _OWN) and not senses & _BENEATH
        objects: tuple[str, ...] = ()
        quoted: tuple[Passage, ...] = ()
        if label is not None:
            objects = self._prepared.objects(label)
            printed = block.passage.text.startswith(label.text)
            quoted = (label,) if objects and not printed else ()
        if Sense.TOPPED_BY in senses and not objects:
            objects = tuple(o for o in self._prepared.objects(block.passage) if o != SELF)
        place = Place(
            objects,
            quoted,
            own=own,
            denied=denied,
            listed=block.kind is StatementKind.BULLET and bool(senses & _BENEATH),
            certain=0.0 if senses & _BENEATH else -0.15,
        )
        known = bool(senses & _BENEATH)
        yield from self._text(block.passage, place, known=known)
        words = wordings(self._language)
        if label is not None and words is not None and words.cleaning.search(label.folded) and not (own or denied):
            means = cleaner_in_cell(block.passage)
            if means is not None:
                yield from self._claims(block.passage, replace(place, quoted=(label,)), means, objects)
        if known:
            mentioned = self._prepared.objects(block.passage) or objects
            for note in block.notes:
                yield from self._note(note, mentioned)

    def _note(self, note: Passage, objects: tuple[str, ...]) -> Iterator[Claim]:
        origin = next((g.line for g in note.origins if g is not None), 0)
        if (note.text, origin) in self._noted:
            return
        self._noted.add((note.text, origin))
        yield from self._text(note, Place(objects if len(objects) == 1 else ()), known=True)

    # --- tables ----------------------------------------------------------------------------------------------

    def table(self, table: Table) -> Iterator[Claim]:
        corner = sense_of(table.corner, self._language)
        around = sense_of(table.section, self._language) | sense_of(table.title, self._language)
        heads = [sense_of_text(h[-1].text, self._language) if h else frozenset() for h in table.heads]
        if not self._speaks_of_beneath(corner, around, heads):
            if Sense.TOPPED_BY in corner | around:
                yield from self._rows(table, own=True)
            return
        for stack in ((Cell(table.corner),), *table.heads):
            for cell in stack:
                yield from self._text(cell.passage, Place(), known=True)
        yield from self._rows(table, own=False)
        for note in (*table.notes, *table.legend):
            yield from self._note(note, ())

    @staticmethod
    def _speaks_of_beneath(
        corner: frozenset[Sense], around: frozenset[Sense], heads: Iterable[frozenset[Sense]]
    ) -> bool:
        if Sense.TOPPED_BY in corner or Sense.OVERCOATING in corner:
            return False
        if Sense.GOES_OVER in corner:
            return not around & (_SILENT - {Sense.MIXING}) or bool(around & _BENEATH)
        if around & _BENEATH:
            return not around & {Sense.SYSTEMS, Sense.FAULTS}
        return not around and any(Sense.PREPARATION in h for h in heads)

    def _rows(self, table: Table, *, own: bool) -> Iterator[Claim]:
        for row in table.rows:
            if _is_line(row):
                if not own:
                    yield from self._note(row.label.passage, ())
                continue
            objects = self._prepared.objects(row.label.passage, label=True)
            denied = any(_CROSS_CELL.match(c.passage.folded.strip()) for c in row.cells)
            for i, cell in enumerate(row.cells):
                heads = table.heads[i] if i < len(table.heads) else ()
                yield from self._cell(row, cell, heads, objects, own=own, denied=denied)
            if own:
                continue
            for note in (*row.label.notes, *row.notes, *(n for c in row.cells for n in c.notes)):
                yield from self._note(note, objects)

    def _cell(
        self, row: Row, cell: Cell, heads: tuple[Cell, ...], objects: tuple[str, ...], *, own: bool, denied: bool
    ) -> Iterator[Claim]:
        if not cell.text.strip():
            return
        head = heads[-1].passage if heads else None
        quoted: tuple[Passage, ...] = (row.label.passage,)
        if not objects and head is not None:
            # Substrates as columns, what to do as rows.
            objects = self._prepared.objects(head, label=True)
            quoted = (row.label.passage, head) if objects else quoted
        variant = ""
        if head is not None and (found := _VARIANT_HEAD.match(head.folded.strip())):
            variant = found.group(1)
        words = wordings(self._language)
        if not objects and not own and not (words and words.general.search(row.label.passage.folded)):
            # A row for something that the vocabulary does not know, or a cell that lost its row: not for any surface.
            return
        place = Place(
            objects,
            quoted if row.label.text.strip() else (),
            cell=f"{row.label.text.strip()} / {head.text.strip() if head else ''}",
            own=own,
            denied=denied,
            variant=variant,
            certain=0.05,
        )
        yield from self._text(cell.passage, place, known=True, in_cell=True)
        title = head if quoted == (row.label.passage,) else row.label.passage
        if objects and not own and not denied and words and title is not None and words.cleaning.search(title.folded):
            means = cleaner_in_cell(cell.passage)
            if means is not None and not any(a.property == "degrease" for a in actions(cell.passage, self._language)):
                yield from self._claims(cell.passage, place, means, objects)

    # --- one text --------------------------------------------------------------------------------------------

    def _text(self, passage: Passage, place: Place, *, known: bool, in_cell: bool = False) -> Iterator[Claim]:
        todo = actions(passage, self._language)
        if not todo:
            return
        mentions = self._prepared.mentions(passage)
        grades = [a for a in todo if a.property == "abrade"]
        for action in todo:
            if action.property == "abrade":
                continue
            if action.property == "own_film":
                if not place.denied:
                    yield from self._claims(passage, place, action, (None,))
                continue
            if not known and action.property not in _ANYWHERE:
                continue
            if place.own or (place.denied and action.property not in ("derust", "test_patch")):
                continue
            objects = place.objects if in_cell else self._prepared.of(action, passage, mentions, place)
            if action.name == TO_BRIGHT and not _is_rusted(objects, passage.folded):
                continue
            yield from self._claims(passage, place, action, objects)
        for group, objects in self._prepared.groups(passage, grades, mentions, place, in_cell=in_cell):
            yield from self._abrading(passage, place, group, objects, known=known)

    def _abrading(
        self, passage: Passage, place: Place, group: list[Action], objects: tuple[str | None, ...], *, known: bool
    ) -> Iterator[Claim]:
        if place.own or objects == OWN_FILM:
            words = wordings(self._language)
            if words and words.past.search(passage.folded):
                # Past the latest time: that belongs to the window.
                return
            nexts = tuple(o for o in (place.objects if place.own else ()) if o != SELF)
            for action in (a for a in group if a.low is not None or a.text is not None):
                made = replace(action, property="own_film")
                yield from self._claims(passage, place, made, nexts or (None,))
            return
        words = wordings(self._language)
        named = known or (words is not None and words.beneath.search(passage.folded) is not None)
        if place.denied or (not named and objects == (None,)):
            return
        for action in _merged(group, place.variant):
            yield from self._claims(passage, place, action, objects)

    def _claims(self, passage: Passage, place: Place, action: Action, objects: Iterable[str | None]) -> Iterator[Claim]:
        _, end = clause_around(passage.folded, action.start, action.end)
        start = sentence_start(passage.folded, action.start)
        evidence = evidence_of([*place.quoted, passage.part(start, end)])
        for obj in objects or (None,):
            yield Claim(
                topic=Topic.PREPARATION,
                property=action.property,
                stance=Stance.REQUIRES,
                object=obj,
                low=action.low,
                high=action.high,
                unit=action.unit,
                text=action.text,
                evidence=evidence,
                confidence=max(0.3, min(0.97, action.confidence + place.certain)),
                why=Why(f"preparation: {action.name}", (obj,) if obj else (), place.cell),
            )


_CROSSES = frozenset("✗✘×✕✖❌")
_CROSS_CELL = re.compile(r"^(?:[✗✘✕✖❌]|(?:no|not suitable|unsuitable|not recommended|not permitted)\b(?!\.? ?\d))")
_NEGATIVE_LEAD = re.compile(r"\b(?:not|never|don't|avoid|unsuitable|excluded)\b")
_VARIANT_HEAD = re.compile(r"(dry|wet)(?: sand\w*| flat\w*| paper)?$")


def _is_rusted(objects: tuple[str | None, ...], folded: str) -> bool:
    """Stripping a primer to bare metal is no derusting."""
    return "rust" in folded or any(o is None or o.startswith("surface.") for o in objects)


def _is_line(row: Row) -> bool:
    """A sentence that runs under a table as if it were a row: only its label has words, and many."""
    return len(row.label.text) > 60 and not any(c.text.strip() for c in row.cells)


def _denies(folded: str) -> bool:
    return bool(_NEGATIVE_LEAD.search(folded))


def _merged(group: list[Action], variant: str) -> list[Action]:
    """Grades for one thing: 'P180, finishing P240' is one range; dry and wet papers stay two, told apart by text."""
    if variant:
        return [replace(a, text=a.text or variant) for a in group]
    variants = {a.variant for a in group if a.low is not None}
    if {"dry", "wet"} <= variants or (len(group) > 1 and "wet" in variants):
        return [replace(a, text=a.text or a.variant or "dry") for a in group]
    papers = [a for a in group if a.low is not None and a.high is not None]
    rest = [a for a in group if a.low is None]
    if len(papers) > 1:
        low = min(a.low for a in papers if a.low is not None)
        high = max(a.high for a in papers if a.high is not None)
        papers = [replace(papers[0], low=low, high=high, end=papers[-1].end, confidence=papers[0].confidence - 0.1)]
    return [*papers, *rest]
