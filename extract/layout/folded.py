"""Tables set the other way than rows under heads: pairs side by side, loose facts in columns, things as heads."""

from __future__ import annotations

import itertools
import re
from collections.abc import Sequence

from extract.layout.cells import kind_of
from extract.layout.ink import Ink, join_lines
from extract.layout.tables import LaidRow, LaidTable

_RAGGED = 0.25
"""Share of empty cells from which a table without heads is a box of facts set in columns."""

_MOST_QUESTIONS = 5
_SET_AT = re.compile(r"\d{1,3} ?° ?[CF]?|\b[12]K\b")
"""'Dust dry at 20 °C' names a figure all the same."""


def unfolded(laid: LaidTable) -> LaidTable:
    """The table with its second (and third) pair of columns set below the first, where it repeats one pair."""
    columns = laid.grid.columns
    if columns < 4 or columns % 2 or laid.label != 0 or laid.group_column is not None:
        return laid
    if laid.heads:
        texts = [[ink.text.strip().lower() for ink in row] for row in laid.heads]
        if any(row[i] != row[i % 2] for row in texts for i in range(columns)) or not texts[0][1]:
            return laid
    elif not _alternates(laid.rows, columns):
        return laid
    heads = [row[:2] for row in laid.heads]
    rows = [LaidRow(list(row.cells[c : c + 2]), row.group) for c in range(0, columns, 2) for row in laid.rows]
    return LaidTable(laid.grid, laid.title, heads, [r for r in rows if r.cells[0].text], columns=2)


def _alternates(rows: Sequence[LaidRow], columns: int) -> bool:
    """Whether every second column names and the ones between answer or measure."""
    names = [kinds for c in range(0, columns, 2) if (kinds := _kinds(rows, c))]
    values = [kind for c in range(1, columns, 2) for kind in _kinds(rows, c)]
    if len(rows) < 2 or len(names) < columns // 2 or not values:
        return False
    later = [row.cells[c].text for c in range(2, columns, 2) for row in rows if row.cells[c].text]
    return (
        all(kinds.count("words") >= 0.85 * len(kinds) for kinds in names)
        and sum(any(ch.isdigit() for ch in _SET_AT.sub("", text)) for text in later) <= 0.35 * len(later)
        and values.count("words") <= 0.5 * len(values)
    )


def _kinds(rows: Sequence[LaidRow], column: int) -> list[str]:
    return [kind for row in rows if (kind := kind_of(row.cells[column].text))]


def is_ragged(laid: LaidTable) -> bool:
    """Whether a table without heads only places facts: cells that say different things under one another."""
    if laid.heads or laid.columns < 3 or len(laid.rows) < 3 or laid.label != 0:
        return False
    cells = [ink for row in laid.rows for ink in row.cells[1:]]
    empty = sum(1 for ink in cells if not ink.text)
    mixed = 0
    for column in range(2, laid.columns):
        kinds = {kind_of(row.cells[column].text) for row in laid.rows} - {""}
        mixed += len(kinds) > 1
    return empty >= _RAGGED * len(cells) and mixed >= 1


def facts_of(laid: LaidTable) -> list[tuple[Ink, Ink, Ink | None]]:
    """Label, value and group of each fact: a cell of words before a figure or sign names it, else its row's label."""
    out: list[tuple[Ink, Ink, Ink | None]] = []
    for row in laid.rows:
        label = row.cells[0]
        cells = [ink for i, ink in enumerate(row.cells[1:], 1) if ink.text and ink is not row.cells[i - 1]]
        n = 0
        while n < len(cells):
            names = n > 0 and kind_of(cells[n].text) == "words" and not _has_digit(cells[n])
            if names and n + 1 < len(cells) and _has_digit(cells[n + 1]):
                label = cells[n]
                n += 1
            elif names and out and out[-1][0] is label:
                out[-1] = (label, join_lines([out[-1][1], cells[n]]), row.group)
                n += 1
                continue
            out.append((label, cells[n], row.group))
            n += 1
    return out


def _has_digit(ink: Ink) -> bool:
    return any(ch.isdigit() for ch in ink.text)


def upended(laid: LaidTable) -> LaidTable:
    """The table with its columns as rows, where the heads name things and the rows ask the same of each."""
    if not _asks_of_heads(laid):
        return laid
    inner = laid.heads[-1]
    columns = [c for c in range(laid.columns) if c != laid.label]
    heads = [[inner[laid.label], *(row.cells[laid.label] for row in laid.rows)]]
    rows = [LaidRow([inner[c], *(row.cells[c] for row in laid.rows)]) for c in columns]
    return LaidTable(laid.grid, laid.title, heads, rows, columns=len(laid.rows) + 1)


def _asks_of_heads(laid: LaidTable) -> bool:
    rows = laid.rows
    if len(laid.heads) != 1 or not rows or laid.group_column is not None or any(row.group for row in rows):
        return False
    columns = [c for c in range(laid.columns) if c != laid.label]
    heads = [laid.heads[0][c] for c in columns]
    turned = sum(1 for cell in laid.grid.row_cells(0) if cell.segments and all(s.angle for s in cell.segments))
    if len(columns) < (3 if turned > 1 else 4) or len(rows) > len(columns) or len(rows) > _MOST_QUESTIONS:
        return False
    if any(kind_of(head.text) != "words" for head in heads) or not all(row.cells[laid.label].text for row in rows):
        return False
    answered = [[k for c in columns if (k := kind_of(row.cells[c].text))] for row in rows]
    signs = [kinds.count("sign") > 0.6 * len(kinds) for kinds in answered if kinds]
    return any(signs) and (turned > 1 or (signs[0] and not any(signs[1:])))


def sublabelled(laid: LaidTable) -> list[tuple[Ink, Ink, Ink | None]]:
    """Label, value and group of each row of a table without heads that names every value in two steps.

    'Drying time | at 10 °C | 6 hours', where the first name stands once for several rows; empty where it is not so.
    """
    rows = laid.rows
    if laid.heads or laid.columns != 3 or laid.label != 0 or laid.group_column is not None or len(rows) < 3:
        return []
    carried = sum(1 for a, b in itertools.pairwise(rows) if b.cells[0] is a.cells[0] and b.cells[0].text)
    if not carried or not all(row.cells[0].text and row.cells[1].text and row.cells[2].text for row in rows):
        return []
    values = [kind_of(row.cells[2].text) for row in rows]
    if sum(kind == "figure" for kind in values) < 0.6 * len(rows):
        return []
    return [(join_lines(row.cells[:2]), row.cells[2], row.group) for row in rows]
