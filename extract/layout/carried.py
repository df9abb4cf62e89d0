"""Rows of a table that stand on the next page: a last one alone, drawn or not, and heads that are printed again."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from extract.layout.columns import rows_of
from extract.layout.ink import Ink
from extract.layout.pieces import Grid, GridCell, Segment, bounds

_SAME = 8.0
"""Points within which the columns of both parts begin."""
_ALIGNED = 2.5
"""Points within which the texts of one column agree in their left edge, right edge or middle."""
_LONGEST = 12
"""Words of a cell."""


def carries_on(above: Grid | None, below: Grid, segments: Sequence[Segment]) -> bool:
    """Whether a drawn row is the rest of the table that the page before ended with. segments stand beside the tables."""
    if above is None or above.columns != below.columns or not above.ruled or not below.ruled:
        return False
    if below.page != above.page + 1 or any(s.base < below.box[1] for s in segments):
        return False
    shift = below.edges[0] - above.edges[0]
    return all(abs(y - shift - x) < _SAME for x, y in zip(above.edges, below.edges, strict=True))


def carried_row(above: Grid | None, page: int, segments: Sequence[Segment]) -> tuple[Grid | None, list[Segment]]:
    """A line at the page's top that is set in the columns of the undrawn table before it, and the segments left."""
    rest = list(segments)
    if above is None or above.ruled or above.page + 1 != page or above.columns < 2:
        return None, rest
    rows = rows_of([s for s in segments if not s.angle])
    if not rows or len(rows[0]) < 2 or any(len(s.words) > _LONGEST or s.bullet for s in rows[0]):
        return None, rest
    homes = [_home(above, s) for s in rows[0]]
    if None in homes or homes[0] != 0 or len(set(homes)) < len(homes):
        return None, rest
    if len(rows) > 1 and len(rows[1]) > 1 and all(_home(above, s) is not None for s in rows[1]):
        return None, rest  # several rows make a table of their own, which goes on with the one above
    cells = [GridCell(0, 1, home, home + 1, [s]) for s, home in zip(rows[0], homes, strict=True) if home is not None]
    grid = Grid(page, bounds(rows[0]), 1, above.columns, cells, False, above.edges)
    return grid, [s for s in rest if not any(s is t for t in rows[0])]


def _home(grid: Grid, segment: Segment) -> int | None:
    """The column whose texts a segment is aligned with."""
    for column in range(grid.columns):
        texts = [s for c in grid.cells if c.column == column and c.column_end == column + 1 for s in c.segments]
        if any(_is_aligned(segment, s) for s in texts):
            return column
    return None


def _is_aligned(a: Segment, b: Segment) -> bool:
    if abs(a.size - b.size) > 0.05 * b.size or a.bold != b.bold:
        return False
    return min(abs(a.x0 - b.x0), abs(a.x1 - b.x1), abs(a.x0 + a.x1 - b.x0 - b.x1) / 2) <= _ALIGNED


def with_heads_again(grid: Grid, heads: Sequence[Sequence[Ink]], first_rows: Sequence[Sequence[Ink]]) -> Grid:
    """The grid with its first rows known as heads where they print again those of the table before it."""
    told = [[ink.text for ink in row] for row in heads]
    if not told or grid.rows <= len(told) or [[ink.text for ink in row] for row in first_rows] != told:
        return grid
    return replace(grid, head_rows=len(told))
