"""Lists that a table only sets side by side, each under a head of its own: what to do beside what not to do."""

from __future__ import annotations

import re
from dataclasses import dataclass, field

from extract.layout.cells import kind_of
from extract.layout.lexicon import lexicon
from extract.layout.pieces import Grid, GridCell, Segment

_LONGEST_HEAD = 6
"""Words."""
_MOST_ROWS = 3
"""Below the heads, of lists with signs of their own."""


@dataclass(slots=True)
class ListBeside:
    """The head of a list and its cells, top to bottom."""

    head: list[Segment]
    cells: list[list[Segment]] = field(default_factory=list)


def lists_beside(grid: Grid) -> list[ListBeside]:
    """The lists of a table that is one list beside another, left to right; empty where it is a table of rows."""
    if grid.columns < 2 or grid.rows < 2 or any(c.column_end - c.column > 1 and not c.empty for c in grid.cells):
        return []
    heads = [grid.at(0, column) for column in range(grid.columns)]
    if any(head is None or head.empty or not _is_head(head) for head in heads):
        return []
    columns = [[c for c in grid.cells if c.column == n and c.row > 0 and not c.empty] for n in range(grid.columns)]
    if any(not column for column in columns):
        return []
    texts = [_text(head) for head in heads if head is not None]
    if not _are_lists(grid, columns) and not (_are_opposed(texts) and _only_name(columns)):
        return []
    return [
        ListBeside(list(head.segments), [list(c.segments) for c in sorted(column, key=lambda c: c.row)])
        for head, column in zip(heads, columns, strict=True)
        if head is not None
    ]


def _is_head(cell: GridCell) -> bool:
    return not any(s.bullet or s.angle for s in cell.segments) and len(_text(cell).split()) <= _LONGEST_HEAD


def _are_lists(grid: Grid, columns: list[list[GridCell]]) -> bool:
    """Whether every column is a list with signs before its items: then none of them names the others' rows."""
    opened = [sum(1 for cell in column for s in cell.segments if s.bullet and len(s.words) > 1) for column in columns]
    return grid.rows - 1 <= _MOST_ROWS and all(opened) and max(opened) > 1


def _are_opposed(heads: list[str]) -> bool:
    """Whether of two heads one says no to what the other says."""
    if len(heads) != 2:
        return False
    words = [re.findall(r"[^\W\d_]+(?:'[^\W\d_]+)?", head.lower().replace("’", "'")) for head in heads]
    no, short = lexicon().opposed_no, lexicon().opposed_short
    refusing = [bool(no & set(w)) for w in words]
    if refusing[0] == refusing[1]:
        return False
    said, refused = (words[1], words[0]) if refusing[0] else (words[0], words[1])
    return bool(said) and (bool(set(said) & set(refused)) or said[0] in short)


def _only_name(columns: list[list[GridCell]]) -> bool:
    kinds = [kind_of(_text(cell)) for column in columns for cell in column]
    return kinds.count("words") >= 0.8 * len(kinds)


def _text(cell: GridCell) -> str:
    ordered = sorted(cell.segments, key=lambda s: (round(s.base), s.x0))
    return " ".join(s.text for s in ordered)
