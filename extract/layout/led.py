"""Facts set as a list with leaders between label and value: a table of two columns, however their ends stand."""

from __future__ import annotations

from collections.abc import Sequence

from extract.layout.pieces import Grid, GridCell, Segment, bounds

_NEXT = 2.6
"""Times the size: how far below one another facts of one list stand."""
_SAME_SIDE = 3.0
"""Points within which their labels begin."""


def find_led(segments: Sequence[Segment]) -> tuple[list[Grid], list[Segment]]:
    """Lists of such facts as tables of two columns, and the segments outside them."""
    rows = sorted(filter(None, (_row_of(s, segments) for s in segments if s.led)), key=lambda r: (r[1].base, r[1].x0))
    lists: list[list[tuple[Segment, Segment]]] = []
    for row in rows:
        home = next((found for found in lists if _goes_on(found[-1], row)), None)
        if home is None:
            lists.append([row])
        else:
            home.append(row)
    lists = [found for found in lists if len(found) > 1]
    grids = [_grid(found) for found in lists]
    used = {id(s) for found in lists for row in found for s in row}
    return grids, [s for s in segments if id(s) not in used]


def _row_of(value: Segment, segments: Sequence[Segment]) -> tuple[Segment, Segment] | None:
    before = [
        s for s in segments if not s.angle and abs(s.base - value.base) <= 0.2 * value.size and s.x1 <= value.x0 + 1
    ]
    label = max(before, key=lambda s: s.x1, default=None)
    return None if label is None or label.led else (label, value)


def _goes_on(above: tuple[Segment, Segment], row: tuple[Segment, Segment]) -> bool:
    step = row[0].base - above[0].base
    return 0 < step <= _NEXT * row[0].size and abs(row[0].x0 - above[0].x0) <= _SAME_SIDE


def _grid(rows: Sequence[tuple[Segment, Segment]]) -> Grid:
    cells = [GridCell(n, n + 1, c, c + 1, [s]) for n, row in enumerate(rows) for c, s in enumerate(row)]
    box = bounds([s for row in rows for s in row])
    edge = min(value.x0 for _, value in rows)
    return Grid(rows[0][0].page, box, len(rows), 2, cells, False, (box[0], edge, box[2]))
