"""Drawn rows that hold several printed ones, a line each in every cell: taken apart."""

from __future__ import annotations

import itertools
from dataclasses import replace

from extract.layout.columns import rows_of
from extract.layout.pieces import Grid, GridCell, Segment

_SAME_LINE = 1.5
"""Points within which lines of neighbouring cells are one printed row."""
_LOOSE = 1.3
"""Times the size: lines set wider apart are rows rather than a text that goes on."""


def with_printed_rows(grid: Grid) -> Grid:
    """The grid with each drawn row parted into its printed ones."""
    cells: list[GridCell] = []
    shift = 0
    for row in range(grid.rows):
        here = [c for c in grid.cells if c.row == row]
        parts = _parts(here) if all(c.row_end == row + 1 for c in grid.row_cells(row)) else []
        if not parts:
            cells.extend(replace(c, row=c.row + shift, row_end=c.row_end + shift) for c in here)
            continue
        for n, segments in enumerate(parts):
            for cell, found in zip(here, segments, strict=True):
                cells.append(replace(cell, row=row + shift + n, row_end=row + shift + n + 1, segments=found))
        shift += len(parts) - 1
    return replace(grid, rows=grid.rows + shift, cells=cells) if shift else grid


def _parts(cells: list[GridCell]) -> list[list[list[Segment]]]:
    """For each printed row the segments of each cell; empty where the cells are no rows line by line."""
    first = next((c for c in cells if c.column == 0 and c.column_end == 1), None)
    if first is None or len(cells) < 2 or any(s.angle for c in cells for s in c.segments):
        return []
    lines = rows_of(first.segments)
    bases = [line[0].base for line in lines]
    if len(bases) < 2:
        return []
    if any(s.bullet and len(s.words) > 1 for c in cells for s in c.segments):
        return []
    size = lines[0][0].size
    loose = min(b - a for a, b in itertools.pairwise(bases)) >= _LOOSE * size
    if any(_goes_on(line[0]) for line in lines):
        return []
    full = 0
    for cell in cells:
        printed = rows_of(cell.segments)
        if any(min(abs(line[0].base - base) for base in bases) > _SAME_LINE for line in printed):
            return []
        if len(printed) != len(bases) and any(_goes_on(line[0]) for line in printed):
            return []
        full += len(printed) == len(bases)
    if full < 2 or full < 0.6 * sum(not c.empty for c in cells) or not (loose or len(bases) > 2):
        return []
    return [[[s for s in c.segments if abs(s.base - base) <= _SAME_LINE] for c in cells] for base in bases]


def _goes_on(segment: Segment) -> bool:
    """Whether a line begins as the rest of the one above would."""
    return segment.text[:1].islower() and len(segment.words[0].text) > 1 and not segment.text[:2].isupper()
