"""Grids -> tables with their heads resolved, groups told from rows, continuations joined."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass, field

from extract.layout.cells import is_sign, kind_of
from extract.layout.ink import Ink, join_lines
from extract.layout.lexicon import lexicon
from extract.layout.pieces import Grid, GridCell

_DIGIT = re.compile(r"\d")
_DEGREES = re.compile(r"\W*(?:at |bei |à |bij |a )?[-+]?\d{1,3} ?°? ?[CF]\W*", re.IGNORECASE)
"""'At 20 °C': it heads rows."""
_COUNTER = re.compile(r"^(?:#|no|nr|pos|item|step|n[º°])\.?$", re.I)
"""Heads of a column that only counts the rows."""
_MOST_HEADS = 4
_LEAST_ANSWERS = 3
_LONGEST_HEAD = 6
"""Words."""


InkAt = Callable[[int, int], Ink]
"""The text of the cell at a row and column."""


@dataclass(slots=True)
class LaidRow:
    """cells[i] is the text of column i; one object stands in every column that a merged cell covers."""

    cells: list[Ink]
    group: Ink | None = None


@dataclass(slots=True)
class LaidTable:
    """A grid read as a table; label is the column that names the rows."""

    grid: Grid
    title: Ink | None
    heads: list[list[Ink]]
    """Head rows, each with a text for each column."""
    rows: list[LaidRow] = field(default_factory=list)
    label: int = 0
    group_column: int | None = None
    columns: int = 0


def read_grid(grid: Grid, known: frozenset[str], *, headless: bool = False) -> LaidTable:
    """The heads and rows of a grid. headless: all of it is rows, as in what goes on from the page before."""
    inks: dict[int, Ink] = {}
    empty = Ink()
    homes = {
        (r, c): cell
        for cell in reversed(grid.cells)
        for r in range(cell.row, cell.row_end)
        for c in range(cell.column, cell.column_end)
    }

    def ink_at(row: int, column: int) -> Ink:
        cell = homes.get((row, column))
        if cell is None or cell.empty:
            return empty
        if id(cell) not in inks:
            inks[id(cell)] = cell_ink(cell, known)
        return inks[id(cell)]

    start, title = (0, None) if headless else _title_row(grid, ink_at)
    head_end = 0 if headless else _head_end(grid, start, ink_at)
    heads = [[ink_at(r, c) for c in range(grid.columns)] for r in range(start, head_end)]
    table = LaidTable(grid, title, heads, columns=grid.columns)
    table.label, table.group_column = _label_column(grid, head_end, ink_at)
    group: Ink | None = None
    previous: LaidRow | None = None
    for r in range(head_end, grid.rows):
        cells = [ink_at(r, c) for c in range(grid.columns)]
        heading = _group_text(grid, r, cells)
        if heading is not None:
            group = heading
            continue
        if not cells[table.label].text and previous is not None and any(c.text for c in cells):
            cells[table.label] = previous.cells[table.label]
        row = LaidRow(cells, group)
        if table.group_column is not None and cells[table.group_column].text:
            row.group = cells[table.group_column]
        table.rows.append(row)
        previous = row
    nameless = [row for row in table.rows if row.group is None]
    if table.title is not None and nameless and len(nameless) < len(table.rows):
        for row in nameless:  # what looked like a title heads only the rows down to the next such line
            row.group = table.title
        table.title = None
    return table


def cell_ink(cell: GridCell, known: frozenset[str]) -> Ink:
    """The text of a cell, its lines joined."""
    turned = [s for s in cell.segments if s.angle]
    upright = [s for s in cell.segments if not s.angle]
    lines: list[Ink] = []
    last = None
    for segment in sorted(upright, key=lambda s: (round(s.base), s.x0)):
        if last is not None and abs(last.base - segment.base) < 0.3 * segment.size:
            segment.line = last.line
            joined = join_lines([lines[-1], segment.ink()], frozenset())
            lines[-1] = joined
        else:
            lines.append(segment.ink())
        last = segment
    angle = turned[0].angle if turned else 0
    turned.sort(key=lambda s: s.x0 if angle == 270 else -s.x0)
    lines.extend(s.ink() for s in turned)
    return join_lines(lines, known)


def _title_row(grid: Grid, ink_at: InkAt) -> tuple[int, Ink | None]:
    first = grid.at(0, 0)
    if (
        first is not None
        and first.column_end == grid.columns
        and grid.columns > 1
        and grid.rows > 2
        and not first.empty
    ):
        return first.row_end, ink_at(0, 0)
    alone = [c for c in grid.row_cells(0) if not c.empty]
    if len(alone) != 1 or grid.rows < 3 or grid.head_rows or alone[0].column or alone[0].row_end > 1:
        return 0, None
    set_off = alone[0].fill is not None or all(s.bold for s in alone[0].segments)
    several = sum(1 for c in grid.row_cells(1) if not c.empty) > 1
    return (1, ink_at(0, 0)) if set_off and several else (0, None)


def _head_end(grid: Grid, start: int, ink_at: InkAt) -> int:
    if grid.head_rows:
        return max(start, min(grid.head_rows, grid.rows - 1))
    fills = [_fill(grid, r) for r in range(grid.rows)]
    end = start
    for r in range(start, min(start + _MOST_HEADS, grid.rows - 1)):
        filled = [c for c in grid.row_cells(r) if not c.empty and c.column >= 0]
        if not filled or (r > start and len(filled) == 1 and _heads_rows(filled[0], grid)):
            break
        shaded = fills[r] is not None and fills.count(fills[r]) <= _MOST_HEADS and not _zebra(fills, r)
        shaded = shaded and any(fill != fills[r] for fill in fills[r + 1 :])
        bold = all(s.bold for c in filled for s in c.segments)
        if not (shaded or bold):
            break
        end = r + 1
    if end == grid.rows - 1 and end - start > 2:
        end = start  # all of it is bold or shaded: that says nothing
    if end == start and _first_row_differs(grid, start, ink_at):
        end = start + 1
    if end > start:
        reach = max(c.row_end for c in grid.row_cells(start) if c.column == 0) if grid.at(start, 0) else end
        end = max(end, min(reach, start + _MOST_HEADS))
        top = [c for c in grid.row_cells(end - 1) if not c.empty]
        if any(1 < c.column_end - c.column < grid.columns for c in top) and end < grid.rows - 1 and end - start < 2:
            end += 1
        return end
    return start


def _heads_rows(cell: GridCell, grid: Grid) -> bool:
    """Whether a lone cell of a row names the rows below rather than a column."""
    return cell.column == 0 and (cell.column_end == grid.columns or cell.row_end - cell.row == 1)


def _zebra(fills: list[tuple[int, int, int] | None], r: int) -> bool:
    same = [i for i, f in enumerate(fills) if f == fills[r]]
    return len(same) > 1 and any(i - r > 1 for i in same) and len(same) >= 0.35 * len(fills)


def _fill(grid: Grid, row: int) -> tuple[int, int, int] | None:
    cells = [c for c in grid.row_cells(row) if not c.empty]
    fills = [c.fill for c in cells]
    return max(fills, key=fills.count) if fills else None


def _named_by_heads(grid: Grid, start: int, ink_at: InkAt) -> bool:
    """Whether most of the first row's cells are what heads of columns are called, and none answers what they ask."""
    texts = [ink_at(start, c).text.strip() for c in range(grid.columns)]
    if any(len(t.split()) > _LONGEST_HEAD for t in texts) or len(set(texts)) < len(texts):
        return False
    known = [t for t in texts if _is_head_word(t)]
    below = {ink_at(r, c).text.strip() for r in range(start + 1, grid.rows) for c in range(1, grid.columns)}
    if any(t in below for t in texts[1:] if t):
        return False
    return len(known) >= 2 and len(known) >= 0.6 * sum(bool(t) for t in texts)


def _is_head_word(text: str) -> bool:
    words = lexicon().heads
    low = re.sub(r"\s*[\[(].*$", "", text.lower()).strip(" :")
    return low in words or (len(low.split()) <= 3 and bool(words & {low.split()[0], low.split()[-1]} if low else False))


def _kinds_differ(grid: Grid, start: int, ink_at: InkAt) -> bool:
    """Whether most columns hold one kind of thing below their first cell, and that cell is of another."""
    other = 0
    for column in range(1, grid.columns):
        below = [k for r in range(start + 1, grid.rows) if (k := kind_of(ink_at(r, column).text))]
        usual = max(below, key=below.count, default="")
        even = below.count(usual) >= 0.75 * len(below)
        if len(below) >= 2 and usual != "words" and even and kind_of(ink_at(start, column).text) not in (usual, ""):
            other += 1
    return other >= 0.6 * (grid.columns - 1)


def _first_row_differs(grid: Grid, start: int, ink_at: InkAt) -> bool:
    if grid.rows - start > 2 and _named_by_heads(grid, start, ink_at):
        return True
    if grid.columns < 3 or grid.rows - start < 2:
        return grid.rows - start > 2 and (not ink_at(start, 0).text or _asks_for_signs(grid, start, ink_at))
    first = [ink_at(start, c).text for c in range(1, grid.columns)]
    if not ink_at(start, 0).text and sum(bool(t) for t in first) >= 2:
        return True
    if any(1 < c.column_end - c.column < grid.columns and not c.empty for c in grid.row_cells(start)):
        return bool(ink_at(start, 0).text) and start + 2 < grid.rows
    if not all(first) or _answers_too(grid, start, ink_at):
        return False
    if all(len(t.split()) <= _LONGEST_HEAD for t in first) and _heads_signs(grid, start, ink_at):
        return True
    if ink_at(start, 0).text and _kinds_differ(grid, start, ink_at):
        return True
    body = [ink_at(r, c).text for r in range(start + 1, grid.rows) for c in range(1, grid.columns)]
    body = [t for t in body if t]
    share_first = sum(bool(_DIGIT.search(t)) and not is_sign(t) for t in first) / len(first)
    share_body = sum(bool(_DIGIT.search(t)) and not is_sign(t) for t in body) / max(len(body), 1)
    if share_first < 0.5 * share_body:
        return True
    return all(re.search(r"\d\s*°|°\s*[CF]", t) for t in first) and not all(re.search(r"°\s*[CF]", t) for t in body)


def _answers_too(grid: Grid, start: int, ink_at: InkAt) -> bool:
    """Whether the first row answers with the very signs that stand below it: it is a row like the others."""
    for column in range(1, grid.columns):
        first = ink_at(start, column).text.strip()
        below = {ink_at(r, column).text.strip() for r in range(start + 1, grid.rows)} - {""}
        plain = len(first) <= 2 and is_sign(first)
        if below and all(is_sign(t) for t in below) and (first in below or plain):
            return True
    return False


def _heads_signs(grid: Grid, start: int, ink_at: InkAt) -> bool:
    """Whether the first row has words over a column of answers (yes, no, ticks, dashes), so that it is no answer."""
    for column in range(1, grid.columns):
        below = [ink_at(r, column).text.strip() for r in range(start + 1, grid.rows)]
        signs = sum(1 for t in below if is_sign(t))
        if len(below) >= 2 and signs >= 0.6 * len(below) and any(below) and not is_sign(ink_at(start, column).text):
            return True
    return False


def _asks_for_signs(grid: Grid, start: int, ink_at: InkAt) -> bool:
    """Whether a word stands over a second column of nothing but answers, and a short name over what they answer."""
    head, answers = ink_at(start, 1).text, [ink_at(r, 1).text for r in range(start + 1, grid.rows)]
    told = len(answers) >= _LEAST_ANSWERS and all(is_sign(t) for t in answers)
    named = 0 < len(ink_at(start, 0).text.split()) <= _LONGEST_HEAD and 0 < len(head.split()) <= 2
    return grid.columns == 2 and told and named and not is_sign(head) and not _DIGIT.search(head)


def _label_column(grid: Grid, head_end: int, ink_at: InkAt) -> tuple[int, int | None]:
    """The column that names the rows, and one before it whose merged cells name groups of them."""
    body = range(head_end, grid.rows)
    label = 0
    corner = ink_at(head_end - 1, 0).text if head_end else ""
    for column in range(min(grid.columns - 1, 2) if _COUNTER.match(corner) else 0):
        texts = [ink_at(r, column).text for r in body]
        worded = sum(any(ch.isalpha() for ch in t) for t in texts)
        if worded >= 0.5 * max(len(texts), 1):
            label = column
            break
    tall = [
        c for c in grid.cells if c.column == 0 and c.column_end == 1 and c.row >= head_end and c.row_end - c.row > 1
    ]
    rows_covered = sum(c.row_end - c.row for c in tall if not c.empty)
    if label == 0 and grid.columns > 2 and rows_covered >= 0.6 * len(body) and rows_covered > 1:
        texts = [ink_at(r, 1).text for r in body]
        if all(texts) and len(set(texts)) > 1:
            return 1, 0
    return label, None


def _group_text(grid: Grid, row: int, cells: list[Ink]) -> Ink | None:
    """The text of a row that only heads the rows below it."""
    if row == grid.rows - 1:
        return None
    printed = [c for c in grid.row_cells(row) if not c.empty]
    if len(printed) != 1:
        return None
    only = printed[0]
    if only.column == 0 and only.column_end == grid.columns:
        return cells[0]
    if only.column == 0 and only.row_end - only.row == 1:
        bold = all(s.bold for s in only.segments)
        others = [s for c in grid.cells if c.column == 0 and c.row > row for s in c.segments]
        plain_below = any(not s.bold for s in others)
        fills = [c.fill for c in grid.cells if c.column == 0 and c.row != row and c.row > 0]
        set_off = only.fill is not None and bool(fills) and fills.count(only.fill) < 0.4 * len(fills)
        if (bold and plain_below) or cells[0].text.endswith(":") or set_off or _DEGREES.fullmatch(cells[0].text):
            return cells[0]
    return None
