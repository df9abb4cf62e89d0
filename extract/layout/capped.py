"""Heads in filled cells over a table whose own rules begin below them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from extract.claims import Box
from extract.layout.pieces import Grid, GridCell, Segment, inside
from extract.reading.marks import Panel

_SAME = 2.5
"""Points within which edges agree."""
_TALLEST = 60.0
_MOST_LEVELS = 4


def capped(
    grids: Sequence[Grid], panels: Sequence[Panel], segments: Sequence[Segment]
) -> tuple[list[Grid], list[Segment]]:
    """The tables with the filled heads that stand straight on them taken in, and the segments left."""
    out: list[Grid] = []
    rest = list(segments)
    for grid in grids:
        cells = _tiles(grid, panels, rest)
        out.append(_with_cap(grid, cells) if cells else grid)
        used = {id(s) for _, found, _ in cells for s in found}
        rest = [s for s in rest if id(s) not in used]
    return out, rest


Tile = tuple[Box, list[Segment], tuple[int, int, int] | None]
"""A head's box, what stands in it, and its colour."""


def _tiles(grid: Grid, panels: Sequence[Panel], segments: Sequence[Segment]) -> list[Tile]:
    """The filled cells over a table, which together cover its width; empty where they do not."""
    if not grid.edges or not grid.ruled:
        return []
    within = {
        p.box: p
        for p in panels
        if p.fill is not None
        and p.box[0] >= grid.x0 - _SAME
        and p.box[2] <= grid.x1 + _SAME
        and p.box[3] - p.box[1] <= _TALLEST
        and p.box[1] < grid.box[1] - 4
    }
    found: dict[Box, Panel] = {}
    bottoms = [grid.box[1]]
    while bottoms:
        floor = bottoms.pop()
        for box, panel in within.items():
            if box not in found and abs(box[3] - floor) <= _SAME:
                found[box] = panel
                bottoms.append(box[1])
    lowest = [box for box in found if abs(box[3] - grid.box[1]) <= _SAME]
    covered = sum(box[2] - box[0] for box in lowest)
    if len(lowest) < 2 or covered < 0.9 * (grid.x1 - grid.x0):
        return []
    if any(all(abs(x - edge) > _SAME for edge in grid.edges) for box in found for x in (box[0], box[2])):
        return []
    tiles = [
        (box, [s for s in segments if not s.angle and inside(s, box, 0.0)], panel.fill) for box, panel in found.items()
    ]
    return tiles if any(held for _, held, _ in tiles) else []


def _with_cap(grid: Grid, tiles: Sequence[Tile]) -> Grid:
    tops: list[float] = []
    for top in sorted(box[1] for box, _, _ in tiles):
        if not tops or top - tops[-1] > _SAME:
            tops.append(top)
    levels = len(tops)
    if levels > _MOST_LEVELS:
        return grid

    def row(y: float) -> int:
        return min(range(levels + 1), key=lambda n: abs([*tops, grid.box[1]][n] - y))

    def column(x: float) -> int:
        return min(range(len(grid.edges)), key=lambda n: abs(grid.edges[n] - x))

    cells = [
        GridCell(row(box[1]), row(box[3]), column(box[0]), column(box[2]), list(held), fill)
        for box, held, fill in tiles
        if row(box[1]) < row(box[3]) and column(box[0]) < column(box[2])
    ]
    cells.extend(replace(c, row=c.row + levels, row_end=c.row_end + levels) for c in grid.cells)
    box = (grid.box[0], tops[0], grid.box[2], grid.box[3])
    return replace(grid, box=box, rows=grid.rows + levels, cells=cells, head_rows=levels + grid.head_rows)
