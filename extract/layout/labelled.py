"""Rows without rules in which a label stands beside several lines of text or a list: at its middle, or at its top."""

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
_WIDEST_LABEL = 0.45
"""Share of the width of both columns."""
_LEAST_ROWS = 3
_LARGER = 1.1
"""Times the size of the rows: a heading."""


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
    plain, segments, gutters = _plain_part(band)
    if not gutters:
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


def topped_rows(band: Sequence[Sequence[Element]]) -> tuple[int, Grid, int] | None:
    """As centred_rows, of two columns whose labels stand level with the first line of what they name.

    Only whole bands, of which some row is longer than its label, and no line that begins a row carries on another.
    """
    plain, segments, gutters = _plain_part(band)
    if len(gutters) != 1 or plain < len(band):
        return None
    labels = sorted((s for s in segments if s.x1 <= gutters[0][0] + 0.1), key=lambda s: s.base)
    texts = sorted((s for s in segments if s.x0 >= gutters[0][1] - 0.1), key=lambda s: (s.base, s.x0))
    box = bounds(segments)
    if max(s.x1 for s in labels) - box[0] > _WIDEST_LABEL * (box[2] - box[0]):
        return None
    rows: list[tuple[list[Segment], list[Segment]]] = []
    for label in labels:
        level = [s for s in texts if abs(s.base - label.base) <= _SAME_BASE]
        apart = not rows or label.base - rows[-1][0][-1].base > _NEXT_LINE * label.size
        if apart or (level and not _goes_on(label)):
            if not level or _goes_on(label) or (_goes_on(level[0]) and _is_close_under(level[0], texts)):
                return None
            rows.append(([label], []))
        else:
            rows[-1][0].append(label)
    tops = [row[0][0].base - _SAME_BASE for row in rows]
    for text in texts:
        home = sum(1 for top in tops if top <= text.base) - 1
        if home < 0:
            return None
        rows[home][1].append(text)
    longer = sum(1 for label_lines, lines in rows if len({round(s.base) for s in lines}) > len(label_lines))
    if len(rows) < _LEAST_ROWS or not longer or not all(_is_label(_Cell(0, row[0])) for row in rows):
        return None
    cells = [GridCell(r, r + 1, c, c + 1, list(found)) for r, row in enumerate(rows) for c, found in enumerate(row)]
    grid = Grid(segments[0].page, box, len(rows), 2, cells, False, (box[0], gutters[0][1], box[2]))
    return 0, grid, len(band)


def _plain_part(band: Sequence[Sequence[Element]]) -> tuple[int, list[Segment], list[tuple[float, float]]]:
    """How many strips hold nothing but upright lines, those lines, and the gutters between them."""
    plain = next((n for n, strip in enumerate(band) if any(not _is_upright(e) for e in strip)), len(band))
    rows = [n for n in range(plain) if len(band[n]) > 1]
    if len(rows) > 1:
        plain = next((n for n in range(rows[1] + 1, plain) if _heads_on(band[n], band[rows[0]])), plain)
    segments = [e for strip in band[:plain] for e in strip if isinstance(e, Segment)]
    return plain, segments, gaps_between([extent(s) for s in segments], _GUTTER)


def _heads_on(strip: Sequence[Element], row: Sequence[Element]) -> bool:
    """Whether a strip is a heading, alone, bold and larger than a row's type."""
    only = strip[0]
    size = max(e.size for e in row if isinstance(e, Segment))
    return len(strip) == 1 and isinstance(only, Segment) and only.bold and only.size >= _LARGER * size


def _is_upright(element: Element) -> bool:
    return isinstance(element, Segment) and not element.angle


def _goes_on(segment: Segment) -> bool:
    """Whether a line begins as the rest of the one above would."""
    return segment.text[:1].islower() and not segment.bullet


def _is_close_under(text: Segment, texts: Sequence[Segment]) -> bool:
    """Whether a line stands as close under another as lines of one text do."""
    return any(0 < text.base - s.base <= _NEXT_LINE * text.size for s in texts)


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
    if lines[-1].text.endswith((".", ",", ";")):
        return False
    return len(lines) <= _MOST_LABEL_LINES and all(len(s.words) <= _LONGEST_LABEL and not s.bullet for s in lines)
