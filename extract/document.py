"""A sheet after its layout is understood: statements and tables whose every character knows its glyph.

layout and tables make it; the finders read it. No PDF library and no claim here.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from enum import StrEnum
from functools import lru_cache
from typing import NamedTuple

from extract.claims import Box, Evidence, PageText


class Glyph(NamedTuple):
    """Where one printed character stands. line is a running number of printed lines on the page."""

    page: int
    line: int
    box: Box


@dataclass(frozen=True, slots=True)
class Passage:
    """Printed text with its places: origins[i] is the glyph of text[i], None for a space that joins.

    text keeps the printed spelling (ligatures opened, words divided at a line end joined); it is
    never lowercased, so a match on it, or on ``folded``, gives the quote and the boxes at once.
    """

    text: str
    origins: tuple[Glyph | None, ...]
    bold: bool = False
    size: float = 0.0

    @property
    def folded(self) -> str:
        """A twin of text for matching, character for character: lower case, plain dashes, quotes and spaces."""
        return fold(self.text)

    def evidence(self, start: int = 0, end: int | None = None) -> Evidence:
        """Quote and boxes of text[start:end], one box a line; on the page that holds most of it.

        Raises ValueError where no character of the range was printed.
        """
        end = len(self.text) if end is None else end
        kept = [(i, g) for i, g in enumerate(self.origins[start:end], start) if g is not None]
        if not kept:
            raise ValueError("no printed character in the range")
        pages = [g.page for _, g in kept]
        page = pages[0]
        if pages.count(page) != len(pages):
            page = max(set(pages), key=lambda p: (pages.count(p), -p))
            kept = [(i, g) for i, g in kept if g.page == page]
        lines: dict[int, list[Box]] = {}
        for _, glyph in kept:
            lines.setdefault(glyph.line, []).append(glyph.box)
        quote = self.text[kept[0][0] : kept[-1][0] + 1].strip()
        return Evidence(page=page, quote=quote, boxes=tuple(_around(boxes) for boxes in lines.values()))

    def part(self, start: int, end: int) -> Passage:
        return Passage(self.text[start:end], self.origins[start:end], self.bold, self.size)


EMPTY = Passage("", ())


def join(passages: Sequence[Passage], by: str = " ") -> Passage:
    """One passage of several, with by (unprinted) between."""
    texts: list[str] = []
    origins: list[Glyph | None] = []
    for passage in passages:
        if not passage.text:
            continue
        if texts:
            texts.append(by)
            origins.extend([None] * len(by))
        texts.append(passage.text)
        origins.extend(passage.origins)
    bold = bool(passages) and all(p.bold for p in passages)
    size = max((p.size for p in passages), default=0.0)
    return Passage("".join(texts), tuple(origins), bold, size)


def evidence_of(passages: Sequence[Passage]) -> Evidence:
    """Evidence in several places of one page (a row's label and one of its cells), joined by " … "."""
    found = [p.evidence() for p in passages if p.text.strip()]
    page = found[0].page
    found = [e for e in found if e.page == page]
    boxes = tuple(dict.fromkeys(box for e in found for box in e.boxes))
    return Evidence(page=page, quote=" … ".join(e.quote for e in found), boxes=boxes)


def _around(boxes: Sequence[Box]) -> Box:
    lefts, tops, rights, bottoms = zip(*boxes, strict=True)
    return (min(lefts), min(tops), max(rights), max(bottoms))


def union(a: Box, b: Box) -> Box:
    return (min(a[0], b[0]), min(a[1], b[1]), max(a[2], b[2]), max(a[3], b[3]))


_FOLD = str.maketrans(
    {
        "‐": "-", "‑": "-", "‒": "-", "–": "-", "—": "-", "−": "-",
        "’": "'", "‘": "'", "′": "'", "“": '"', "”": '"', "″": '"',
        "\u00a0": " ", "\u2009": " ", "\u202f": " ", "\n": " ", "\t": " ",
        "μ": "µ", "º": "°", "˚": "°", "×": "x", "⁄": "/", "∶": ":", "÷": "-",
    }
)  # fmt: skip


@lru_cache(maxsize=8192)
def fold(text: str) -> str:
    """Lower case with plain dashes, quotes and spaces; always as long as text."""
    folded = text.translate(_FOLD)
    lowered = folded.lower()
    if len(lowered) == len(folded):
        return lowered
    return "".join(c.lower() if len(c.lower()) == 1 else c for c in folded)


@dataclass(frozen=True, slots=True)
class Section:
    """The headings that a block stands under, outermost first, and the language of what stands there."""

    headings: tuple[Passage, ...] = ()
    language: str = field(default="", compare=False)
    """As Document.language; '' where nobody has looked."""

    @property
    def title(self) -> Passage:
        return self.headings[-1] if self.headings else EMPTY


class StatementKind(StrEnum):
    SENTENCE = "sentence"
    BULLET = "bullet"
    FIELD = "field"
    """A label with its value, from a box of figures, an icon's caption or 'Label: value'."""


@dataclass(frozen=True, slots=True)
class Statement:
    """A sentence, a bullet or a field, with what governs it.

    lead is the sentence, label or cell that introduces the list ('Do not use on:'); notes are the
    footnotes whose marks stand in it. mark is the bullet's own sign (a tick, a cross, a dot), else ''.
    paragraph counts paragraphs, so that neighbours can be told from strangers.
    """

    kind: StatementKind
    passage: Passage
    section: Section
    paragraph: int
    lead: Passage | None = None
    label: Passage | None = None
    notes: tuple[Passage, ...] = ()
    mark: str = ""


@dataclass(frozen=True, slots=True)
class Cell:
    """A table's cell. A merged cell stands once in each row or column that it covers, with the same passage."""

    passage: Passage
    notes: tuple[Passage, ...] = ()

    @property
    def text(self) -> str:
        return self.passage.text


@dataclass(frozen=True, slots=True)
class Row:
    """One row below the heads: its label (the leftmost cell that names it) and a cell for each further column."""

    label: Cell
    cells: tuple[Cell, ...]
    notes: tuple[Passage, ...] = ()
    group: Passage = EMPTY
    """A line that heads several rows ('At 70 degF')."""


@dataclass(frozen=True, slots=True)
class Table:
    """A grid with its heads resolved. heads[i] is the stack of head texts over cells[i], outermost first.

    corner is the head over the labels ('Next coat'). legend holds the lines that explain its signs.
    """

    corner: Passage
    heads: tuple[tuple[Cell, ...], ...]
    rows: tuple[Row, ...]
    section: Section
    title: Passage = EMPTY
    lead: Passage | None = None
    legend: tuple[Passage, ...] = ()
    notes: tuple[Passage, ...] = ()
    paragraph: int = 0


Block = Statement | Table


@dataclass(frozen=True, slots=True)
class Document:
    """A sheet's blocks in reading order. running holds repeated heads and feet; titles the largest lines of page 1."""

    blocks: tuple[Block, ...]
    running: tuple[Passage, ...]
    titles: tuple[Passage, ...]
    pages: tuple[PageText, ...]
    metadata: tuple[tuple[str, str], ...] = ()
    language: str = "en"
    scanned: bool = False
    problems: tuple[str, ...] = ()
    product: str = ""
    """The product that these blocks are about, where a file covers several side by side; '' where it covers one."""
