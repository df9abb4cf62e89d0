"""Tables inside a cell of a form: a label beside several rows and columns, among labels beside plain text."""

from __future__ import annotations

from dataclasses import replace

from extract.layout.pieces import Grid, GridCell, Segment

_LONGEST_LABEL = 60
"""Characters."""


def nested_rows(grid: Grid) -> list[tuple[list[Segment], list[Segment] | Grid]]:
    """Label and content of each row of a form, a content that is a table as a grid of its own; empty where none is.

    Told from a table with merged labels by the label that stands beside the heads as well, or by the rows of plain
    text around it, whose one cell runs over all columns.
    """
    if grid.columns < 3 or grid.rows < 2:
        return []
    labels = sorted((c for c in grid.cells if c.column == 0), key=lambda c: c.row)
    covered = [r for c in labels for r in range(c.row, c.row_end)]
    if covered != list(range(grid.rows)) or any(c.column_end != 1 or not _is_label(c) for c in labels):
        return []
    parts = [_beside(grid, label) for label in labels]
    tables = [p for p in parts if isinstance(p, Grid)]
    plain = len(parts) - len(tables)
    if None in parts or not tables or (len(parts) > 1 and plain <= len(tables) and not all(map(_has_heads, tables))):
        return []
    return [(list(label.segments), part) for label, part in zip(labels, parts, strict=True) if part is not None]


def _is_label(cell: GridCell) -> bool:
    return 0 < sum(len(s.text) for s in cell.segments) <= _LONGEST_LABEL


def _has_heads(grid: Grid) -> bool:
    """Whether a table opens with bold cells over plain ones."""
    first = [s for c in grid.row_cells(0) for s in c.segments]
    below = [s for c in grid.cells if c.row > 0 for s in c.segments]
    return bool(first) and all(s.bold for s in first) and any(not s.bold for s in below)


def _beside(grid: Grid, label: GridCell) -> list[Segment] | Grid | None:
    """What stands beside a label: one cell over all columns, a table, or None where it is neither."""
    cells = [c for c in grid.cells if c.column > 0 and c.row < label.row_end and c.row_end > label.row]
    if any(c.row < label.row or c.row_end > label.row_end for c in cells):
        return None
    if all(c.column == 1 and c.column_end == grid.columns for c in cells):
        return [s for c in sorted(cells, key=lambda c: c.row) for s in c.segments]
    if label.row_end - label.row < 2:
        return None
    inner = [
        replace(
            c, row=c.row - label.row, row_end=c.row_end - label.row, column=c.column - 1, column_end=c.column_end - 1
        )
        for c in cells
    ]
    held = [s for c in inner for s in c.segments]
    if not held:
        return None
    box = (grid.edges[1], min(s.top for s in held), grid.box[2], max(s.bottom for s in held))
    return Grid(grid.page, box, label.row_end - label.row, grid.columns - 1, inner, grid.ruled, grid.edges[1:])
