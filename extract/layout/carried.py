"""Rows of a table that stand on the next page: a last one alone, drawn or not, and heads that are printed again."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from extract.layout.cells import kind_of
from extract.layout.columns import rows_of
from extract.layout.ink import Ink
from extract.layout.paragraphs import Paragraph
from extract.layout.pieces import Grid, GridCell, Segment, bounds

_SAME = 8.0
"""Points within which the columns of both parts begin."""
_ALIGNED = 2.5
"""Points within which the texts of one column agree in their left edge, right edge or middle."""
_LONGEST = 12
_LONGEST_HEAD = 6
"""Words of a cell, and of one that heads a column."""


def carries_on(above: Grid | None, below: Grid, segments: Sequence[Segment]) -> bool:
    """Whether a drawn row is the rest of the table that the page before ended with; segments stand in no table."""
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


def with_heads_left_behind(items: Sequence[Paragraph | Grid]) -> list[Paragraph | Grid]:
    """The items with the heads that end one page taken into the table that the next one begins with.

    A short line below them that heads the first rows comes along.
    """
    out: list[Paragraph | Grid] = []
    for item in items:
        if isinstance(item, Grid):
            group = _group_before(out, item)
            line = _line_before(out[:-1] if group is not None else out, item)
            if group is not None and line and group.lines[0].base - line[0].lines[0].base < group.size:
                line = []  # it stands in the line
            if not line and group is not None:
                group, line = None, _line_before(out, item)
            homes = [_column(item, p.lines[0].first) for p in line]
            if line and len({*homes}) == len(homes) >= item.columns - 1:
                del out[-len(line) - (group is not None) :]
                out.append(_headed(item, line, homes, group))
                continue
        out.append(item)
    return out


def _headed(grid: Grid, line: Sequence[Paragraph], homes: Sequence[int], group: Paragraph | None) -> Grid:
    cells = [GridCell(0, 1, home, home + 1, list(p.lines[0].words)) for p, home in zip(line, homes, strict=True)]
    if group is not None:
        cells.append(GridCell(1, 2, 0, grid.columns, list(group.lines[0].words)))
    more = 1 if group is None else 2
    below = [replace(c, row=c.row + more, row_end=c.row_end + more) for c in grid.cells]
    heads = 0 if group is None else 1
    return replace(grid, rows=grid.rows + more, cells=[*cells, *below], head_rows=heads)


def _group_before(items: Sequence[Paragraph | Grid], grid: Grid) -> Paragraph | None:
    last = items[-1] if items else None
    if not isinstance(last, Paragraph) or last.page != grid.page - 1 or len(last.lines) > 1:
        return None
    near = abs(last.lines[0].x0 - grid.x0) < 1.5 * _SAME
    return last if near and len(last.text.split()) <= _LONGEST_HEAD and not last.text.endswith(".") else None


def _line_before(items: Sequence[Paragraph | Grid], grid: Grid) -> list[Paragraph]:
    """The short texts side by side that stand last on the page before a table, left to right; empty where none do."""
    line: list[Paragraph] = []
    for item in reversed(items):
        if isinstance(item, Grid) or item.page != grid.page - 1 or len(item.lines) > 1 or item.label is not None:
            break
        first = item.lines[0]
        if len(item.text.split()) > _LONGEST_HEAD or (line and abs(line[0].lines[0].base - first.base) > 1.0):
            break
        line.append(item)
    line.sort(key=lambda p: p.lines[0].x0)
    above = [i for i in items if i.page == grid.page - 1 and not any(i is p for p in line)]
    lowest = max((i.ink_bottom if isinstance(i, Grid) else i.lines[-1].base for i in above), default=0.0)
    own = [c for c in grid.row_cells(0) if not c.empty]
    headed = bool(own) and all(s.bold for c in own for s in c.segments)
    return line if len(line) > 1 and line[0].lines[0].base > lowest and not headed else []


def _column(grid: Grid, segment: Segment) -> int:
    middle = (segment.x0 + segment.x1) / 2
    return min(max(sum(1 for x in grid.edges if x <= middle) - 1, 0), grid.columns - 1)


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


def goes_on_plainly(above: Grid, below: Grid) -> bool:
    """Whether a grid on the next page, or in the next column, opens with a row like the others: it has no heads."""
    beside = below.page == above.page and below.x0 > above.x1 - 2 and below.box[1] < above.box[3]
    if not (beside or below.page == above.page + 1) or below.head_rows or above.columns != below.columns:
        return False
    if not above.ruled and not below.ruled:
        kinds = [{_kind(above, row, column) for row in range(1, above.rows)} - {""} for column in range(above.columns)]
        first = [_kind(below, 0, column) for column in range(below.columns)]
        told = [kind != "words" and kind in known for kind, known in zip(first, kinds, strict=True)]
        return bool(first[0]) and any(told[1:]) and all(t or not k for t, k in zip(told[1:], first[1:], strict=True))
    if not (above.ruled and below.ruled):
        return False
    looks = [
        ({c.fill for c in cells}, all(s.bold for c in cells for s in c.segments))
        for cells in ([c for c in below.row_cells(r) if not c.empty] for r in range(below.rows))
        if cells
    ]
    return bool(looks) and looks[0] in [*looks[1:], (looks[0][0], False)]


def _kind(grid: Grid, row: int, column: int) -> str:
    cell = grid.at(row, column)
    return kind_of(" ".join(s.text for s in cell.segments)) if cell is not None else ""


def with_heads_again(grid: Grid, heads: Sequence[Sequence[Ink]], first_rows: Sequence[Sequence[Ink]]) -> Grid:
    """The grid with its first rows known as heads where they print again those of the table before it."""
    told = [[ink.text for ink in row] for row in heads]
    if not told or grid.rows <= len(told) or [[ink.text for ink in row] for row in first_rows] != told:
        return grid
    return replace(grid, head_rows=len(told))
