"""Laid tables -> the Document's tables or fields, with notes given to the cells that call for them."""

from __future__ import annotations

import re

from extract.document import EMPTY, Cell, Passage, Row, Section, Table, join
from extract.layout.cells import is_sign
from extract.layout.ink import Ink
from extract.layout.notes import Notes
from extract.layout.tables import LaidTable

_FIGURE = re.compile(r"^(?:[<>≤≥±~+−–-]|(?:max|min|ca|approx)\b\.?)?\s*\d(?! ?K\b)|^(?:n/?a|[–—-])$", re.I)


def is_fields(laid: LaidTable) -> bool:
    """Two columns without heads: labels with their values, unless signs answer the question in a title."""
    if laid.columns != 2 or laid.heads:
        return False
    values = [row.cells[1].text for row in laid.rows if row.cells[1].text]
    return laid.title is None or sum(is_sign(v) for v in values) < 0.6 * len(values)


def fields_of(laid: LaidTable) -> list[tuple[Ink, Ink, Ink | None]]:
    """Label, value and group of each row; the value is empty where a row says all in its first cell."""
    return [(row.cells[0], row.cells[1], row.group) for row in laid.rows if row.cells[0].text or row.cells[1].text]


def continues(above: LaidTable, below: LaidTable) -> bool:
    """Whether a grid at the head of a page or column carries on the table that broke off before it."""
    a, b = above.grid, below.grid
    if a.columns != b.columns or (a.page == b.page and b.box[1] >= a.box[1]):
        return False
    if b.page - a.page > 1:
        return False
    shift = b.edges[0] - a.edges[0] if a.edges and b.edges else 0.0
    close = all(abs((y - shift) - x) < 8 for x, y in zip(a.edges, b.edges, strict=True))
    if not below.heads:
        return close or not above.grid.ruled
    return [[i.text for i in r] for r in below.heads] == [[i.text for i in r] for r in above.heads]


def table_of(
    laid: LaidTable, section: Section, notes: Notes, place: int, page: int, number: int, lead: Passage | None = None
) -> Table:
    """The Document's table of a laid one."""
    cells: dict[int, Cell] = {}

    def cell(ink: Ink) -> Cell:
        if not ink.text:
            return Cell(EMPTY)
        if id(ink) not in cells:
            text, called = notes.take(ink, page, place)
            cells[id(ink)] = Cell(text.passage(), called)
        return cells[id(ink)]

    if _has_no_labels(laid):
        laid.label = -1
    skip = {laid.label} if laid.group_column is None else {laid.label, laid.group_column}
    columns = [c for c in range(laid.columns) if c not in skip]
    heads = tuple(tuple(_stack([cell(row[c]) for row in laid.heads])) for c in columns)
    nameless = laid.label < 0
    corner = EMPTY if nameless else join([c.passage for c in _stack([cell(row[laid.label]) for row in laid.heads])])
    rows = []
    for row in laid.rows:
        label = Cell(EMPTY) if nameless else cell(row.cells[laid.label])
        body = tuple(cell(row.cells[c]) for c in columns)
        called = tuple(dict.fromkeys((*label.notes, *(n for c in body for n in c.notes))))
        group = cell(row.group).passage if row.group is not None else EMPTY
        rows.append(Row(label, body, called, group))
    title = cell(laid.title).passage if laid.title is not None else EMPTY
    return Table(corner, heads, tuple(rows), section, title, lead, paragraph=number)


def _has_no_labels(laid: LaidTable) -> bool:
    """One row of figures under its heads: its first column is a figure like the others."""
    if len(laid.rows) != 1 or not laid.heads or laid.label != 0:
        return False
    texts = [ink.text for ink in laid.rows[0].cells]
    return bool(laid.heads[-1][0].text) and all(_FIGURE.match(t) for t in texts if t) and bool(texts[0])


def _stack(cells: list[Cell]) -> list[Cell]:
    """Head cells of a column, outermost first, a merged one once."""
    out: list[Cell] = []
    for one in cells:
        if one.text and (not out or out[-1] is not one):
            out.append(one)
    return out
