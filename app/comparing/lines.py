"""A comparison as lines and cells of words, the same for the screen, the clipboard, CSV and paper. No Qt."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from app.comparison_words import UNCONFIRMED, UNSAID, cell_words, met_words, need_words, row_words
from app.sentences import Sentence, one_each
from app.translating import QT_TRANSLATE_NOOP, translate
from app.verdict_words import own_rule_words, part_words
from app.wording import topic_words
from extract.claims import Topic
from store.records import OwnRule, ProductRecord, Proposal, Rule
from store.rules.answers import Answer
from store.rules.comparison import Cell, Comparison, Said
from store.rules.needs import Met, NeedCell, NeedRow

NEEDS = QT_TRANSLATE_NOOP("comparison", "What the job needs")
DIFFERS = "≠"
"""Stands before the name of a row whose sheets say different things."""
OWN = "▲"
"""Stands before a rule of the user's own where only text can be shown."""


@dataclass(frozen=True, slots=True)
class ShownCell:
    """shape is a verdict's or state's, '' for a plain figure; sentences are what the cell rests on."""

    text: str
    shape: str = ""
    unsaid: bool = False
    unconfirmed: bool = False
    sentences: tuple[Sentence, ...] = ()
    own: tuple[str, ...] = ()

    @property
    def said(self) -> str:
        return "\n".join([self.text, *(f"{OWN} {words}" for words in self.own)])


@dataclass(frozen=True, slots=True)
class Line:
    """One row; a topic's heading has no cells."""

    head: str
    cells: tuple[ShownCell, ...] = ()
    differs: bool = False
    topic: str = ""

    @property
    def is_heading(self) -> bool:
        return not self.cells

    @property
    def marked_head(self) -> str:
        return f"{DIFFERS} {self.head}" if self.differs else self.head


@dataclass(frozen=True, slots=True)
class Lines:
    products: tuple[ProductRecord, ...]
    lines: tuple[Line, ...]
    at_c: float | None

    @property
    def heads(self) -> tuple[str, ...]:
        return tuple(product.name for product in self.products)


def lines_of(comparison: Comparison, needs: Sequence[NeedRow] = (), *, only_differences: bool = False) -> Lines:
    """The needs first, then topic by topic; with only_differences the rows in which all say the same are left out."""
    return Lines(comparison.products, tuple(_lines(comparison, needs, only_differences)), comparison.at_c)


def _lines(comparison: Comparison, needs: Sequence[NeedRow], only_differences: bool) -> Iterator[Line]:
    if needs:
        yield Line(translate("comparison", NEEDS), topic=NEEDS)
    for need in needs:
        cells = tuple(_need_cell(cell, p.name) for cell, p in zip(need.cells, comparison.products, strict=True))
        yield Line(need_words(need.need), cells, len({cell.met for cell in need.cells}) > 1, NEEDS)
    for topic in Topic:
        rows = [row for row in comparison.of_topic(topic) if row.differs or not only_differences]
        if rows:
            yield Line(topic_words(topic), topic=topic.value)
        for row in rows:
            cells = tuple(_cell(cell, p.name) for cell, p in zip(row.cells, comparison.products, strict=True))
            yield Line(row_words(row), cells, row.differs, topic.value)


def _cell(cell: Cell, product: str) -> ShownCell:
    if cell.said is Said.UNSAID:
        return ShownCell(translate("comparison", UNSAID), "silent", unsaid=True, own=_own(cell.answer))
    unconfirmed = cell.said is Said.UNCONFIRMED
    shape = "unconfirmed" if unconfirmed else (cell.answer.word if cell.answer is not None else "")
    text = _waiting_words(cell.answer) if unconfirmed and cell.answer is not None else cell_words(cell)
    if not unconfirmed and any(isinstance(source, Proposal) for source in cell.sources):
        more = translate("comparison", "more waits to be confirmed")
        text = f"{text}\n({more})"
    own = _own(cell.answer)
    text = _own_column(text, product, own)
    return ShownCell(text, shape, unconfirmed=unconfirmed, sentences=_sentences(cell.sources), own=own)


def _waiting_words(answer: Answer) -> str:
    """What a contact would be if it were confirmed; row and column say what it is about."""
    parts = dict.fromkeys(part_words(citation.part) for citation in answer.pending)
    return "\n".join([*(words[:1].upper() + words[1:] for words in parts), f"({translate('comparison', UNCONFIRMED)})"])


def _own_column(text: str, product: str, own: Sequence[str]) -> str:
    """Without the product's name after its conditions, which the column's head says, and without the own rules."""
    return "\n".join(line.removesuffix(f" ({product})") for line in text.split("\n") if line not in own)


_MET_SHAPES = {
    Met.MET: "yes",
    Met.MET_IF: "yes_if",
    Met.NOT_MET: "no",
    Met.UNSAID: "silent",
    Met.UNCONFIRMED: "unconfirmed",
}


def _need_cell(cell: NeedCell, product: str) -> ShownCell:
    own = _own(cell.answer)
    text = _own_column(met_words(cell), product, own)
    shape = "disputed" if cell.answer is not None and cell.answer.word == "disputed" else _MET_SHAPES[cell.met]
    if shape == "disputed":
        contradict = translate("comparison", "the sheets contradict each other")
        text = f"{text}: {contradict}"
    return ShownCell(
        text,
        shape,
        unsaid=cell.met is Met.UNSAID,
        unconfirmed=cell.met is Met.UNCONFIRMED,
        sentences=_sentences(cell.sources),
        own=own,
    )


def _sentences(sources: Sequence[Rule | Proposal]) -> tuple[Sentence, ...]:
    return one_each(Sentence.of_source(source) for source in sources)


def _own(answer: Answer | None) -> tuple[str, ...]:
    rules: Sequence[OwnRule] = answer.own if answer is not None else ()
    return tuple(own_rule_words(rule) for rule in rules)


def table_of(lines: Lines, *, with_sentences: bool = False) -> Iterator[Sequence[str]]:
    """Head and rows as plain text; with_sentences adds each cell's quotes with product and page."""
    yield ["", *lines.heads, translate("comparison", "Differs")]
    for line in lines.lines:
        if line.is_heading:
            yield [line.head, *[""] * len(lines.products), ""]
            continue
        cells = [_plain(cell, with_sentences) for cell in line.cells]
        yield [line.head, *cells, translate("comparison", "differs") if line.differs else ""]


def _plain(cell: ShownCell, with_sentences: bool) -> str:
    parts = cell.said.split("\n")
    if with_sentences:
        parts += [f"{sentence.quoted} {sentence.source}" for sentence in cell.sentences]
    return "; ".join(part for part in parts if part)


def csv_text(lines: Lines) -> str:
    """For a spreadsheet: one line a row, the sentences with their pages in the cells."""
    out = io.StringIO()
    writer = csv.writer(out)
    writer.writerows([_harmless(cell) for cell in row] for row in table_of(lines, with_sentences=True))
    return out.getvalue()


def _harmless(cell: str) -> str:
    """A sheet's words must not run as a formula in a spreadsheet."""
    return f"'{cell}" if cell[:1] in "=+-@\t\r" and cell else cell


def tab_text(lines: Lines) -> str:
    """For the clipboard: columns by tabs, so that it falls into a spreadsheet's or a letter's table."""
    rows = ([cell.replace("\t", " ") for cell in row] for row in table_of(lines))
    return "\n".join("\t".join(row) for row in rows)
