"""Tables whose rows are numbered: the numbers are no part of what the rows say."""

from __future__ import annotations

import re
from dataclasses import replace

from extract.layout.pieces import Grid

_LEAST_ROWS = 3
_LEAST_COLUMNS = 3
_NUMBER = re.compile(r"\(?(\d{1,2})[.)]?")


def without_numbers(grid: Grid) -> Grid:
    """The table without a first column that only counts its rows; the table itself where it has none."""
    first = sorted((c for c in grid.cells if c.column == 0), key=lambda c: c.row)
    if grid.columns < _LEAST_COLUMNS or len(first) < _LEAST_ROWS or any(c.column_end != 1 for c in first):
        return grid
    texts = [" ".join(s.text for s in cell.segments).strip() for cell in first]
    told = [text for text in texts if text]
    numbers = [int(m.group(1)) for text in told if (m := _NUMBER.fullmatch(text)) is not None]
    if len(numbers) < max(_LEAST_ROWS, len(texts) - 1) or len(numbers) != len(told):
        return grid
    if numbers != list(range(numbers[0], numbers[0] + len(numbers))):
        return grid
    cells = [replace(c, column=c.column - 1, column_end=c.column_end - 1) for c in grid.cells if c.column]
    edges = grid.edges[1:]
    left = edges[0] if edges else min((s.x0 for c in cells for s in c.segments), default=grid.box[0])
    return replace(
        grid, cells=cells, columns=grid.columns - 1, edges=edges, box=(left, grid.box[1], grid.box[2], grid.box[3])
    )
