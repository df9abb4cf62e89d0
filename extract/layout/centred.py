"""Rows without rules whose cells are set in the middle of their height: a label beside several lines of text."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from extract.layout.pieces import Element, Grid, GridCell, Segment, bounds, extent, gaps_between

_GUTTER = 9.0
"""Points: the least gap between two columns."""
_NEXT_LINE = 1.5
"""Times the size: lines no further apart belong to one cell."""
_OFF = 0.4
"""Share of the size by which the middles of a row's cells may lie apart."""
_SAME_BASE = 1.5
_MOST_LABEL_LINES = 4
_LONGEST_LABEL = 6
"""Words of a line."""


@dataclass(slots=True)
class _Cell:
    column: int
    lines: list[Segment]

    @property
    def top(self) -> float:
        return min(s.ink_top for s in self.lines)

    @property
    def bottom(self) -> float:
        return max(s.ink_bottom for s in self.lines)

    @property
    def middle(self) -> float:
        return (self.top + self.bottom) / 2


def centred_rows(band: Sequence[Sequence[Element]]) -> tuple[int, Grid, int] | None:
    """A table of such rows in the band: strips before it, the table, and the strip after it; None where there is none.

    At least one label must stand beside text of which no line shares its height.
    """
    plain = next((n for n, strip in enumerate(band) if any(not isinstance(e, Segment) for e in strip)), len(band))
    segments = [e for strip in band[:plain] for e in strip if isinstance(e, Segment)]
    gutters = gaps_between([extent(s) for s in segments], _GUTTER)
    if not gutters or any(s.angle for s in segments):
        return None
    cells = _cells(segments, [g[0] for g in gutters])
    rows = _rows(cells)
    off = sum(1 for row in rows if _is_off(row))
    if len(rows) < 2 or not off or not all(_is_label(row[0]) for row in rows):
        return None
    used = {id(s) for row in rows for cell in row for s in cell.lines}
    kept = [n for n, strip in enumerate(band[:plain]) if any(id(e) in used for e in strip)]
    if any(id(e) not in used for n in range(kept[0], kept[-1] + 1) for e in band[n]):
        return None
    laid = [
        GridCell(r, r + 1, cell.column, cell.column + 1, list(cell.lines)) for r, row in enumerate(rows) for cell in row
    ]
    box = bounds([s for row in rows for cell in row for s in cell.lines])
    edges = (box[0], *(g[1] for g in gutters), box[2])
    grid = Grid(segments[0].page, box, len(rows), len(gutters) + 1, laid, False, edges)
    return kept[0], grid, kept[-1] + 1


def _cells(segments: Sequence[Segment], edges: Sequence[float]) -> list[_Cell]:
    cells: list[_Cell] = []
    for segment in sorted(segments, key=lambda s: (s.base, s.x0)):
        column = sum(1 for x in edges if segment.x0 > x)
        home = next((c for c in reversed(cells) if c.column == column), None)
        last = home.lines[-1] if home is not None else None
        if home is not None and last is not None and segment.base - last.base <= _NEXT_LINE * last.size:
            home.lines.append(segment)
        else:
            cells.append(_Cell(column, [segment]))
    return cells


def _rows(cells: Sequence[_Cell]) -> list[list[_Cell]]:
    """The first run of rows, each a label with the cells beside it whose middles lie level with its own."""
    rows: list[list[_Cell]] = []
    labels = sorted((c for c in cells if c.column == 0), key=lambda c: c.top)
    for label in labels:
        beside = [c for c in cells if c.column and c.top < label.bottom and c.bottom > label.top]
        level = all(abs(c.middle - label.middle) <= _OFF * label.lines[0].size for c in beside)
        single = len({c.column for c in beside}) == len(beside)
        if beside and level and single:
            rows.append([label, *sorted(beside, key=lambda c: c.column)])
        elif rows:
            break
    return rows


def _is_off(row: Sequence[_Cell]) -> bool:
    bases = [s.base for cell in row[1:] for s in cell.lines]
    return all(abs(s.base - base) > _SAME_BASE for s in row[0].lines for base in bases)


def _is_label(cell: _Cell) -> bool:
    lines = cell.lines
    return len(lines) <= _MOST_LABEL_LINES and all(len(s.words) <= _LONGEST_LABEL and not s.bullet for s in lines)
