"""The last row of a table whose rows have rules above them and none below: it stands outside all rules."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from statistics import median

from extract.layout.columns import Row, rows_of
from extract.layout.pieces import Grid, GridCell, Segment
from extract.layout.sides import Edge

_SAME = 2.0
"""Points within which text keeps its distance from a rule, or its edge."""
_BREAK = 1.5
_TALLEST = 40.0


def with_open_row(
    grids: Sequence[Grid], levels: Sequence[Edge], segments: Sequence[Segment]
) -> tuple[list[Grid], list[Segment]]:
    """The tables with such a row taken in, and the segments left. levels are the level rules as drawn, cell by cell."""
    out: list[Grid] = []
    rest = list(segments)
    for grid in grids:
        row = _row_below(grid, levels, rest)
        out.append(_extended(grid, levels, row) if row else grid)
        rest = [s for s in rest if not any(s is r for r in row)]
    return out, rest


def _row_below(grid: Grid, levels: Sequence[Edge], segments: Sequence[Segment]) -> Row:
    """The line straight below a table that stands as far from its last rule as its rows do; empty where none does."""
    bottom = grid.box[3]
    if not grid.ruled or grid.rows < 2 or not any(abs(e["top"] - bottom) <= _SAME for e in levels):
        return []
    below = [
        s
        for s in segments
        if not s.angle and bottom < s.base < bottom + _TALLEST and grid.x0 - 2 <= s.x0 and s.x1 <= grid.x1 + 2
    ]
    rows = rows_of(below)
    if not rows or len(rows[0]) < 2:
        return []
    usual = _distance(grid, levels)
    row = rows[0]
    near = [s for s in segments if s.x0 < grid.x1 and s.x1 > grid.x0 and abs(s.base - row[0].base) <= 1]
    if usual is None or abs(row[0].base - bottom - usual) > _SAME or len(near) > len(row):
        return []
    homes = [_column(grid, s) for s in row]
    if homes[0] != 0 or len(set(homes)) < len(homes):
        return []
    return row if all(_is_set_in(grid, s, home) for s, home in zip(row, homes, strict=True)) else []


def _distance(grid: Grid, levels: Sequence[Edge]) -> float | None:
    """How far the first lines of the rows stand below the rules over them, usually."""
    found = []
    for cell in grid.cells:
        if cell.segments:
            base = min(s.base for s in cell.segments)
            over = [e["top"] for e in levels if e["top"] < base and e["x0"] < grid.x1 and e["x1"] > grid.x0]
            if over:
                found.append(base - max(over))
    return median(found) if found else None


def _column(grid: Grid, segment: Segment) -> int:
    return min(max(sum(1 for x in grid.edges if x <= segment.x0 + 1) - 1, 0), grid.columns - 1)


def _is_set_in(grid: Grid, segment: Segment, column: int) -> bool:
    others = [s for c in grid.cells if c.column == column for s in c.segments]
    middle = (segment.x0 + segment.x1) / 2
    return any(
        min(abs(s.x0 - segment.x0), abs(s.x1 - segment.x1), abs((s.x0 + s.x1) / 2 - middle)) <= _SAME for s in others
    )


def _extended(grid: Grid, levels: Sequence[Edge], row: Row) -> Grid:
    bottom = grid.box[3]
    ends = [x for e in levels if abs(e["top"] - bottom) <= _SAME for x in (e["x0"], e["x1"])]
    cells = list(grid.cells)
    homes = [_column(grid, s) for s in row]
    for n, segment in enumerate(row):
        limit = homes[n + 1] if n + 1 < len(row) else grid.columns
        end = homes[n] + 1
        while end < limit and not any(abs(x - grid.edges[end]) <= _BREAK for x in ends):
            end += 1  # the rule above it runs on: a cell over several columns
        cells.append(GridCell(grid.rows, grid.rows + 1, homes[n], end, [segment]))
    box = (grid.box[0], grid.box[1], grid.box[2], max(s.ink_bottom for s in row) + 2)
    return replace(grid, rows=grid.rows + 1, cells=cells, box=box)
