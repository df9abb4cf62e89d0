"""Rows of a table outside its rules: the last one, where rules stand over rows, and heads straight over the first."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from statistics import median

from extract.layout.columns import Row, equal_runs, rows_of
from extract.layout.pieces import Grid, GridCell, Segment
from extract.layout.sides import Edge

_SAME = 2.0
"""Points within which text keeps its distance from a rule, or its edge."""
_BREAK = 1.5
_TALLEST = 40.0
_LONGEST_HEAD = 6
"""Words."""


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


def with_open_heads(grids: Sequence[Grid], segments: Sequence[Segment]) -> tuple[list[Grid], list[Segment]]:
    """The tables with a line of bold heads straight over their first rule taken in, and the segments left."""
    out: list[Grid] = []
    rest = list(segments)
    for grid in grids:
        heads = _heads_over(grid, rest)
        out.append(_headed(grid, heads) if heads else grid)
        rest = [s for s in rest if not any(s is h for h in heads)]
    return out, rest


def _heads_over(grid: Grid, segments: Sequence[Segment]) -> Row:
    top = grid.box[1]
    line = [
        s for s in segments if not s.angle and 0 < top - s.base < 1.2 * s.size and s.x0 < grid.x1 and s.x1 > grid.x0
    ]
    filled = [c for c in grid.row_cells(0) if not c.empty]
    first = [s for c in filled for s in c.segments] if len(filled) > 1 else []
    if grid.edges and _runs_over(grid, line):
        return sorted(line, key=lambda s: s.x0)
    if not grid.edges or len(line) < max(2, grid.columns - 1) or not filled or (first and all(s.bold for s in first)):
        return []
    homes = [_column(grid, s) for s in line]
    inside = all(grid.edges[n] - 2 <= s.x0 and s.x1 <= grid.edges[n + 1] + 2 for s, n in zip(line, homes, strict=True))
    bold = all(s.bold and len(s.words) <= _LONGEST_HEAD for s in line)
    level = max(s.base for s in line) - min(s.base for s in line) <= 1
    return sorted(line, key=lambda s: s.x0) if inside and bold and level and len(set(homes)) == len(homes) else []


def _runs_over(grid: Grid, line: Row) -> list[tuple[int, int]]:
    """The columns under each part of a line that heads several of the table's own heads each; empty where none does."""
    texts = ["" if (c := grid.at(0, n)) is None else " ".join(s.text for s in c.segments) for n in range(grid.columns)]
    ordered = sorted(line, key=lambda s: s.x0)
    runs = equal_runs(len(ordered), texts, 1)
    for segment, (start, end) in zip(ordered, runs, strict=False):
        if not grid.edges[start] - 2 <= (segment.x0 + segment.x1) / 2 <= grid.edges[end] + 2:
            return []
    return runs


def _headed(grid: Grid, heads: Row) -> Grid:
    runs = _runs_over(grid, heads) or [(_column(grid, s), _column(grid, s) + 1) for s in heads]
    cells = [GridCell(0, 1, start, end, [s]) for s, (start, end) in zip(heads, runs, strict=True)]
    cells.extend(replace(c, row=c.row + 1, row_end=c.row_end + 1) for c in grid.cells)
    box = (grid.box[0], min(s.ink_top for s in heads) - 2, grid.box[2], grid.box[3])
    more = 2 if not grid.head_rows and any(end - start > 1 for start, end in runs) else 1
    return replace(grid, box=box, rows=grid.rows + 1, cells=cells, head_rows=grid.head_rows + more)


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
    foot = max(s.base for s in row)
    if any(foot < e["top"] < foot + usual and e["x0"] < grid.x1 - _SAME and e["x1"] > grid.x0 + _SAME for e in levels):
        return []  # a rule closes it: the first row of what stands below
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
