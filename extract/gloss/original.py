"""Claims read from a gloss, shown in the words of the sheet."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

from extract.claims import Box, Claim, Evidence
from extract.document import Block, Document, Passage, Table, evidence_of


class Original:
    """The passages of a document as printed, to find those in which a claim's evidence stands."""

    def __init__(self, document: Document) -> None:
        self._by_page: dict[int, list[Passage]] = {}
        seen: set[int] = set()
        for passage in passages_of(document.blocks):
            pages = {g.page for g in passage.origins if g is not None}
            if id(passage) not in seen:
                seen.add(id(passage))
                for page in pages:
                    self._by_page.setdefault(page, []).append(passage)

    def claim(self, claim: Claim) -> Claim:
        """The claim with the original's words as its quote; as it is where they are nowhere found."""
        parts = list(self._parts(claim.evidence))
        if not parts:
            return claim
        return replace(claim, evidence=evidence_of(parts))

    def _parts(self, evidence: Evidence) -> Iterator[Passage]:
        taken: set[tuple[Box, int]] = set()
        for passage in self._by_page.get(evidence.page, ()):
            inside = [
                (i, g)
                for i, g in enumerate(passage.origins)
                if g is not None and g.page == evidence.page and _within(g.box, evidence.boxes)
            ]
            fresh = [(i, g) for i, g in inside if (g.box, g.line) not in taken]
            if not fresh:
                continue
            taken.update((g.box, g.line) for _, g in inside)
            start, end = fresh[0][0], fresh[-1][0] + 1
            yield passage.part(_word_start(passage.text, start), _word_end(passage.text, end))


def passages_of(blocks: Iterable[Block]) -> Iterator[Passage]:
    """Every passage of the blocks in reading order, headings and notes too."""
    for block in blocks:
        yield from block.section.headings
        if isinstance(block, Table):
            yield from (block.title, *((block.lead,) if block.lead else ()), block.corner)
            yield from (c.passage for stack in block.heads for c in stack)
            for row in block.rows:
                yield from (row.group, row.label.passage, *(c.passage for c in row.cells))
                yield from (n for c in (row.label, *row.cells) for n in c.notes)
                yield from row.notes
            yield from (*block.legend, *block.notes)
        else:
            yield from (p for p in (block.lead, block.label) if p is not None)
            yield from (block.passage, *block.notes)


def _within(box: Box, boxes: Sequence[Box]) -> bool:
    x, y = (box[0] + box[2]) / 2, (box[1] + box[3]) / 2
    return any(b[0] - 0.1 <= x <= b[2] + 0.1 and b[1] - 0.1 <= y <= b[3] + 0.1 for b in boxes)


def _word_start(text: str, at: int) -> int:
    while at > 0 and text[at].isalnum() and text[at - 1].isalnum():
        at -= 1
    return at


def _word_end(text: str, at: int) -> int:
    while at < len(text) and text[at - 1].isalnum() and text[at].isalnum():
        at += 1
    return at
