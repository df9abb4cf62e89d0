"""Tables whose heads stand in their first rows: nothing in print set them off, but they hold words over figures."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace

from extract.document import EMPTY, Cell, Row, Table, fold
from extract.quantities import find_quantities
from extract.units import Dimension

_MOST_ROWS = 2
_WORDS = re.compile(r"[^\W\d_]{3}")


def headed(table: Table) -> Table:
    """The table with such rows made its heads; as it is where it has heads, or where no row of figures follows."""
    if any(c.text.strip() for stack in table.heads for c in stack) or table.corner.text.strip():
        return table
    count = 0
    while count < min(_MOST_ROWS, len(table.rows) - 1) and _is_head(table.rows[count], first=count == 0):
        count += 1
    body = table.rows[count:]
    if not count or not all(any(_figures(c) for c in row.cells) for row in body):
        return table
    width = max(len(row.cells) for row in table.rows)
    tops = [_spread(table.rows[:count], i) for i in range(width)]
    return replace(table, corner=table.rows[0].label.passage, heads=tuple(tops), rows=body)


def _is_head(row: Row, *, first: bool) -> bool:
    texts = [c.text.strip() for c in row.cells if c.text.strip()]
    if len(texts) < 2 or any(_figures(c) for c in row.cells):
        return False
    wordy = all(_WORDS.search(t) or _temperatures(t) for t in texts)
    return wordy and (first or not row.label.text.strip() or len(texts) < len(row.cells))


def _figures(cell: Cell) -> bool:
    """Whether a cell has a figure; temperatures may head a column as well."""
    return re.search(r"\d", cell.text) is not None and not _temperatures(cell.text)


def _temperatures(text: str) -> bool:
    found = find_quantities(fold(text))
    return bool(found) and all(q.dimension is Dimension.TEMPERATURE for q in found)


def _spread(rows: Sequence[Row], column: int) -> tuple[Cell, ...]:
    """The heads over a column, outermost first; one printed over several columns stands over each of them."""
    out: list[Cell] = []
    for n, row in enumerate(rows):
        cell = row.cells[column] if column < len(row.cells) else Cell(EMPTY)
        if not cell.text.strip() and n + 1 < len(rows) and _has(rows[n + 1], column):
            left = next((c for c in reversed(row.cells[:column]) if c.text.strip()), None)
            at = row.cells.index(left) if left is not None else 0
            cell = left if left is not None and _has(rows[n + 1], at) else cell
        if cell.text.strip():
            out.append(cell)
    return tuple(out)


def _has(row: Row, column: int) -> bool:
    return column < len(row.cells) and bool(row.cells[column].text.strip())
