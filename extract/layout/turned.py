"""Tables whose heads stand upright over columns that no rules part: the heads give the columns."""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from dataclasses import replace
from statistics import median

from extract.layout.columns import Row, rows_of
from extract.layout.pieces import Grid, GridCell, Segment
from extract.reading.pages import Page

_LEAST_HEADS = 3
_SAME_END = 4.0
"""Points within which upright heads of one table begin, or end."""
_OVER = 14.0
"""Points between upright heads and the table under them."""
_SAME_HEAD = 1.35
"""Share of the size: upright lines no further apart are two lines of one head."""


def find_turned(page: Page, segments: Sequence[Segment]) -> tuple[list[Grid], list[Segment]]:
    """The tables under upright heads, and the segments outside them."""
    grids: list[Grid] = []
    rest = list(segments)
    for heads in _head_rows([s for s in segments if s.angle in (90, 270)]):
        grid = _grid_under(page, heads, rest)
        if grid is not None:
            grids.append(grid)
            used = {id(s) for cell in grid.cells for s in cell.segments}
            rest = [s for s in rest if id(s) not in used]
    return grids, rest


def crowned(grids: Sequence[Grid], segments: Sequence[Segment]) -> tuple[list[Grid], list[Segment]]:
    """The tables with the upright heads that stand straight over their first rule, and the segments left."""
    out: list[Grid] = []
    rest = list(segments)
    turned = [s for s in segments if s.angle in (90, 270)]
    for grid in grids:
        over = [s for s in turned if grid.box[1] > s.bottom - 3 and grid.x0 < s.x0 and s.x1 < grid.x1]
        rows = _head_rows(over) if grid.edges else []
        near = bool(rows) and grid.box[1] - max(s.bottom for head in rows[-1] for s in head) <= _OVER
        crown = _crown(grid, rows[-1], rest) if near else None
        out.append(grid if crown is None else crown)
        if crown is not None:
            used = {id(s) for cell in crown.cells for s in cell.segments}
            rest = [s for s in rest if id(s) not in used]
    return out, rest


def _crown(grid: Grid, heads: Sequence[Sequence[Segment]], segments: Sequence[Segment]) -> Grid | None:
    def column(segment: Segment, last: Segment | None = None) -> int:
        middle = (segment.x0 + (last or segment).x1) / 2
        return min(max(sum(1 for x in grid.edges if x <= middle) - 1, 0), grid.columns - 1)

    parts = {column(head[0], head[-1]): list(head) for head in heads}
    if len(parts) < len(heads):
        return None
    top = min(s.top for head in heads for s in head)
    for segment in segments:
        level = not segment.angle and top - 2 <= segment.base <= grid.box[1] + 2
        if level and grid.x0 - 2 <= segment.x0 and segment.x1 <= grid.x1 + 2:
            parts.setdefault(column(segment), []).append(segment)
    cells = [GridCell(0, 1, c, c + 1, found) for c, found in sorted(parts.items())]
    cells.extend(replace(c, row=c.row + 1, row_end=c.row_end + 1) for c in grid.cells)
    box = (grid.box[0], top, grid.box[2], grid.box[3])
    return replace(grid, box=box, rows=grid.rows + 1, cells=cells, head_rows=grid.head_rows + 1)


def _head_rows(turned: Sequence[Segment]) -> list[list[list[Segment]]]:
    """Rows of heads, top to bottom, each head the lines of its text."""
    rows: list[list[Segment]] = []
    for segment in sorted(turned, key=lambda s: (s.bottom, s.x0)):
        home = next((row for row in rows if _stands_with(segment, row[0])), None)
        if home is None:
            rows.append([segment])
        else:
            home.append(segment)
    out = []
    for row in rows:
        heads: list[list[Segment]] = []
        for segment in sorted(row, key=lambda s: s.x0):
            if heads and segment.x0 - heads[-1][-1].x0 < _SAME_HEAD * segment.size:
                heads[-1].append(segment)
            else:
                heads.append([segment])
        if len(heads) >= _LEAST_HEADS:
            out.append(heads)
    return sorted(out, key=lambda heads: heads[0][0].bottom)


def _stands_with(segment: Segment, other: Segment) -> bool:
    if segment.angle != other.angle or abs(segment.size - other.size) > 0.1 * other.size:
        return False
    if min(abs(segment.bottom - other.bottom), abs(segment.top - other.top)) <= _SAME_END:
        return True
    overlap = min(segment.bottom, other.bottom) - max(segment.top, other.top)
    middles = abs((segment.top + segment.bottom) - (other.top + other.bottom)) / 2
    return overlap > 0 and middles <= _SAME_END


def _grid_under(page: Page, heads: Sequence[Sequence[Segment]], segments: Sequence[Segment]) -> Grid | None:
    middles = [(head[0].x0 + head[-1].x1) / 2 for head in heads]
    step = min(b - a for a, b in itertools.pairwise(middles))
    top = min(s.top for head in heads for s in head)
    bottom = max(s.bottom for head in heads for s in head)
    left, right = middles[0] - 0.62 * step, middles[-1] + 0.62 * max(step, middles[-1] - middles[-2])
    upright = [s for s in segments if not s.angle]
    corner = [s for s in upright if top < s.base < bottom + 2 and s.x1 <= left and s.base > bottom - 2.5 * s.size]
    rows = _rows_under(rows_of([s for s in upright if s.base > bottom + 2 and s.x0 < right]), left, middles)
    if not rows:
        return None
    edges = [left, *((a + b) / 2 for a, b in itertools.pairwise(middles)), right]
    cells = [GridCell(0, 1, n + 1, n + 2, list(head)) for n, head in enumerate(heads)]
    if corner:
        cells.append(GridCell(0, 1, 0, 1, corner))
    for r, row in enumerate(rows, 1):
        parts: dict[int, list[Segment]] = {}
        for segment in row:
            parts.setdefault(_column(segment, left, middles), []).append(segment)
        cells.extend(GridCell(r, r + 1, c, c + 1, found) for c, found in sorted(parts.items()))
    labels = [s for row in rows for s in row if s.x1 <= left]
    x0 = min((s.x0 for s in [*labels, *corner]), default=left)
    last = rows[-1][0]
    box = (x0, top, right, max(last.ink_bottom, last.base))
    return Grid(page.number, box, len(rows) + 1, len(heads) + 1, cells, False, (x0, *edges))


def _column(segment: Segment, left: float, middles: Sequence[float]) -> int:
    if segment.x1 <= left or (segment.x0 < left and (segment.x0 + segment.x1) / 2 < left):
        return 0
    middle = (segment.x0 + segment.x1) / 2
    return 1 + min(range(len(middles)), key=lambda n: min(abs(middles[n] - middle), abs(middles[n] - segment.x0) + 2))


def _rows_under(rows: Sequence[Row], left: float, middles: Sequence[float]) -> list[Row]:
    """The rows below the heads that keep to their columns, as far as the steps between them go on evenly."""
    out: list[Row] = []
    steps: list[float] = []
    for row in rows:
        marks = [s for s in row if (s.x0 + s.x1) / 2 > left]
        if not marks or any(_over_several(s, middles) for s in marks) or not _named(row, left):
            break
        if out:
            step = row[0].base - out[-1][0].base
            usual = median(steps) if steps else 2.2 * row[0].size
            if step > max(1.6 * usual, 2.6 * row[0].size):
                break
            steps.append(step)
        out.append(row)
    return out


def _over_several(segment: Segment, middles: Sequence[float]) -> bool:
    return sum(1 for x in middles if segment.x0 < x < segment.x1) > 1


def _named(row: Row, left: float) -> bool:
    return any(s.x0 < left for s in row)
