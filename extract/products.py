"""One PDF, several products: which blocks belong to which, so that no claim crosses from one to another."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from statistics import median

from extract.claims import PageWord
from extract.dates import header_words
from extract.document import Block, Document, Glyph, Passage, Table
from extract.gloss.heads import in_english
from extract.names import document_texts
from extract.product_columns import named_in, split_by_columns
from extract.sections import Sense, sense_of_text

_SHARED_SENSES = 2
"""How many subjects ('mixing', 'drying') two parts must both treat to be two sheets and not two chapters of one."""

_MOST_WORDS = 7
"""A title of more words than this is no product's name."""

_TELLING = {
    Sense.GOES_OVER, Sense.TOPPED_BY, Sense.PREPARATION, Sense.MIXING, Sense.APPLICATION, Sense.FILM, Sense.DRYING,
    Sense.OVERCOATING, Sense.STORAGE, Sense.SAFETY, Sense.EXPOSURE, Sense.ABOUT,
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class _Part:
    title: Passage
    blocks: tuple[Block, ...]
    shared: frozenset[int] = frozenset()
    """Which of the blocks (by place) are said of other products too."""

    def senses(self, language: str) -> set[Sense]:
        found: set[Sense] = set()
        for i, block in enumerate(self.blocks):
            if i in self.shared:
                continue
            own = block.section.language or language
            for heading in block.section.headings:
                found |= _senses_of(heading.text, own)
            if isinstance(block, Table) and block.corner.text:
                found |= _senses_of(block.corner.text, own)
        return found & _TELLING


def _senses_of(heading: str, language: str) -> frozenset[Sense]:
    """What a heading speaks of, in whichever language."""
    return frozenset(sense_of_text(in_english(heading, language)))


def split_products(document: Document) -> tuple[Document, ...]:
    """The document of each product, in order; the document itself where it covers one.

    A part is what stands under one outermost heading, or on the pages that one large title begins (which the layout
    may take for a running head). Parts are products of their own where each treats the subjects of a sheet again
    under its own title; a sheet with two chapters treats each subject once.
    """
    for parts in (list(_parts_by_page(document)), list(_parts(document)), list(_parts_within(document))):
        senses = [part.senses(document.language) for part in parts]
        whole = [i for i, found in enumerate(senses) if len(found) >= _SHARED_SENSES]
        products = [i for i in whole if any(j != i and len(senses[i] & senses[j]) >= _SHARED_SENSES for j in whole)]
        if len(products) >= 2 and _are_titles([parts[i].title for i in products], document.language):
            return tuple(_alone(document, parts[i]) for i in products)
    return split_by_columns(document)


def _parts_by_page(document: Document) -> Iterator[_Part]:
    titles = _page_titles(document)
    if len({t.text.lower() for t in titles.values()}) < 2:
        return
    title: Passage | None = None
    blocks: list[Block] = []
    page = 0
    for block in document.blocks:
        page = _page_of(block) or page
        begun = max((p for p in titles if p <= page), default=None)
        here = titles[begun] if begun is not None else None
        if here is not None and (title is None or here.text != title.text):
            if title is not None:
                yield _Part(title, tuple(blocks))
            title, blocks = here, []
        blocks.append(block)
    if title is not None:
        yield _Part(title, tuple(blocks))


def _page_of(block: Block) -> int | None:
    passages = (
        [c.passage for row in block.rows for c in (row.label, *row.cells)]
        if isinstance(block, Table)
        else [block.passage]
    )
    return next((g.page for p in passages for g in p.origins if g is not None), None)


def _page_titles(document: Document) -> dict[int, Passage]:
    """The largest line of each page that is as large as the largest of the file, and larger than its text."""
    lines: dict[int, tuple[float, list[PageWord]]] = {}
    heights: list[float] = []
    for page in document.pages:
        heights += [w.box[3] - w.box[1] for w in page.words]
        tallest = max((w.box[3] - w.box[1] for w in page.words), default=0.0)
        line = [w for w in page.words if w.box[3] - w.box[1] >= 0.92 * tallest]
        if line and tallest > 0:
            kept = [w for w in line if abs(w.box[1] - line[0].box[1]) < 0.5 * tallest]
            lines[page.number] = (tallest, kept)
    if not lines:
        return {}
    usual = median(heights)
    largest = max(height for height, _ in lines.values())
    return {
        number: _title_passage(number, words)
        for number, (height, words) in lines.items()
        if height >= 0.9 * largest and height >= 1.4 * usual and len(words) <= _MOST_WORDS
    }


def _title_passage(page: int, words: Sequence[PageWord]) -> Passage:
    text = " ".join(w.text for w in words)
    origins: list[Glyph | None] = []
    for word in words:
        origins += ([None] if origins else []) + [Glyph(page, 0, word.box)] * len(word.text)
    return Passage(text, tuple(origins), size=words[0].box[3] - words[0].box[1])


def _alone(document: Document, part: _Part) -> Document:
    """The document of one product: its blocks, and what runs on its own pages; no file title, which names another."""
    pages = {g.page for p in _passages(part) for g in p.origins if g is not None}
    running = tuple(p for p in document.running if any(g is not None and g.page in pages for g in p.origins))
    metadata = tuple((key, value) for key, value in document.metadata if key.lower() != "title")
    return replace(document, blocks=part.blocks, titles=(part.title,), running=running, metadata=metadata)


def _passages(part: _Part) -> Iterator[Passage]:
    yield part.title
    for block in part.blocks:
        if isinstance(block, Table):
            yield from (row.label.passage for row in block.rows)
        else:
            yield block.passage


def _parts(document: Document) -> Iterator[_Part]:
    title: Passage | None = None
    blocks: list[Block] = []
    for block in document.blocks:
        headings = block.section.headings
        outermost = headings[0] if headings else None
        if outermost is not None and (title is None or outermost.text != title.text):
            if title is not None:
                yield _Part(title, tuple(blocks))
            title, blocks = outermost, []
        blocks.append(block)
    if title is not None:
        yield _Part(title, tuple(blocks))


def _parts_within(document: Document) -> Iterator[_Part]:
    """What stands under headings of the second rank that are names of one family, under one title for them all.

    What stands under other headings is said of each.
    """
    second: dict[str, dict[str, Passage]] = {}
    for block in document.blocks:
        if len(trail := block.section.headings) > 1:
            second.setdefault(trail[0].text, {})[trail[1].text] = trail[1]
    for outer, titles in second.items():
        names = [n for n in named_in(list(titles)) if n in titles and not _senses_of(n, document.language)]
        if len(names) < 2 or _is_a_word(names[0].split()[0], document):
            continue
        for name in names:
            others = {n for n in names if n != name}
            kept = [
                b
                for b in document.blocks
                if not (len(h := b.section.headings) > 1 and h[0].text == outer and h[1].text in others)
            ]
            alone = [len(h := b.section.headings) > 1 and h[1].text == name for b in kept]
            yield _Part(titles[name], tuple(kept), frozenset(i for i, own in enumerate(alone) if not own))
        return


def _is_a_word(word: str, document: Document) -> bool:
    """Whether a word is one of the language, and no name: it stands in small letters somewhere on the sheet."""
    pattern = re.compile(rf"(?<!\w){re.escape(word.lower())}(?!\w)")
    return (
        any(pattern.search(text) for text in document_texts(document))
        or word.lower() in header_words()["words"]["questions"]
    )


def _are_titles(titles: Sequence[Passage], language: str) -> bool:
    """Different names in one and the same large type, none of them a subject of a sheet itself."""
    names = {t.text.strip().lower() for t in titles}
    sizes = [t.size for t in titles]
    if len(names) != len(titles) or (max(sizes) > 0 and min(sizes) < 0.9 * max(sizes)):
        return False
    return not any(_senses_of(t.text, language) & _TELLING and len(t.text.split()) < 3 for t in titles)
