"""Boxes of facts in which each label stands over its value, several side by side."""

from __future__ import annotations

from collections.abc import Sequence

from extract.layout.cells import kind_of
from extract.layout.ink import Ink, join_lines
from extract.layout.pieces import Grid, GridCell, Segment
from extract.layout.tables import cell_ink

_LONGEST_LABEL = 7
"""Words."""
_MOST_VALUE_ROWS = 2


def stacked_facts(grid: Grid, known: frozenset[str]) -> list[tuple[Ink, Ink]]:
    """Label and value of each fact of a grid whose rows are labels and values by turns; empty where it is none."""
    if grid.columns < 2 or grid.rows < 4 or any(c.row_end - c.row > 1 and not c.empty for c in grid.cells):
        return []
    rows = [[c for c in grid.row_cells(r) if not c.empty] for r in range(grid.rows)]
    names = [_names(row) for row in rows]
    if not any(names):  # no type of their own: labels and figures by turns
        names = [n % 2 == 0 and _are_words(row) for n, row in enumerate(rows)]
        if any(names[1::2]) or not all(_are_figures(row) for row in rows[1::2]):
            return []
    blocks = _blocks(rows, names)
    if len(blocks) < 2 or min(len(labels) for labels, _ in blocks[:-1]) < 2:
        return []
    out: list[tuple[Ink, Ink]] = []
    for labels, values in blocks:
        for label in labels:
            below = [v for v in values if v.column < label.column_end and label.column < v.column_end]
            out.append((cell_ink(label, known), join_lines([cell_ink(v, known) for v in below], known)))
    return out


def _blocks(rows: Sequence[list[GridCell]], names: Sequence[bool]) -> list[tuple[list[GridCell], list[GridCell]]]:
    """Rows of labels with the values below each; empty where anything stands outside or a label has no value."""
    out: list[tuple[list[GridCell], list[GridCell]]] = []
    taken = 0
    for row, is_names in zip(rows, names, strict=True):
        if is_names:
            if out and not taken:
                return []
            out.append((row, []))
            taken = 0
        elif not out or taken >= _MOST_VALUE_ROWS:
            return []
        else:
            out[-1][1].extend(row)
            taken += 1
    if not taken or not out:
        return []
    for labels, values in out:
        homes = [sum(1 for la in labels if la.column <= v.column < la.column_end) for v in values]
        if any(home != 1 for home in homes):
            return []
    return out


def _names(row: Sequence[GridCell]) -> bool:
    """Whether a row's cells are labels by their type: all bold and short, none a figure."""
    segments = [s for c in row for s in c.segments]
    return bool(segments) and all(s.bold for s in segments) and _are_short(segments) and _are_words(row)


def _are_short(segments: Sequence[Segment]) -> bool:
    return all(len(s.words) <= _LONGEST_LABEL for s in segments)


def _are_words(row: Sequence[GridCell]) -> bool:
    return bool(row) and all(kind_of(s.text) in ("words", "code") for c in row for s in c.segments[:1])


def _are_figures(row: Sequence[GridCell]) -> bool:
    texts = [" ".join(s.text for s in c.segments) for c in row]
    return bool(texts) and sum(any(ch.isdigit() for ch in t) for t in texts) > 0.6 * len(texts)
