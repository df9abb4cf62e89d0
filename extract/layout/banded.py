"""Tables without upright rules: rows by level rules, shaded bands or baselines, columns by alignment."""

from __future__ import annotations

import itertools
import re
from collections.abc import Sequence

from extract.claims import Box
from extract.layout.columns import (
    Band,
    Row,
    covered,
    equal_runs,
    find_bands,
    rows_of,
    share_heads,
    split_at_starts,
    split_over,
    word_gap,
)
from extract.layout.form_bands import form_of_bands
from extract.layout.level_rows import as_parts, is_one
from extract.layout.lexicon import lexicon
from extract.layout.pieces import Grid, GridCell, Segment, inside, split_signs
from extract.reading.pages import Page

_MOST_HEAD_ROWS = 3
_LEAST_ALIKE, _LEAST_ROWS = 2, 3
"""Columns and rows of a table whose columns are alike."""
_DIGITS = re.compile(r"\d+(?:[.,]\d+)?")
_NEXT_LINE = 1.35
"""Times the size: lines no further apart belong to one cell."""
_OVERLAP = 0.75
"""Times the size: lines that stand closer overlap, as the cells of one row do, never those of two."""


def grid_of_bands(page: Page, box: Box, ys: Sequence[float], segments: Sequence[Segment]) -> Grid | None:
    """A table between level rules at ys; None where the text between them has no columns."""
    intervals = [(a, b) for a, b in itertools.pairwise(ys) if b - a > 4]
    groups = [[s for s in segments if inside(s, (box[0], a, box[2], b), 0.5)] for a, b in intervals]
    groups = [g for g in groups if g]
    if not groups:
        return None
    form = form_of_bands(page.number, box, groups)
    if form is not None:
        return form
    lines = [split_signs(rows_of([s for s in group if not s.angle]), box[0]) for group in groups]
    single = [is_one([s for s in group if not s.angle]) for group in groups]
    ruled_rows = len(groups) >= 3 and sorted(len(line) for line in lines)[len(lines) // 2] <= 2
    ruled_rows = ruled_rows or (len(groups) >= 2 and sum(single) >= 0.8 * len(groups))
    cut = iter(split_at_starts([row for line in lines for row in line]))
    lines = [[next(cut) for _ in line] for line in lines]
    rows = [row for line in lines for row in line]
    whole = [as_parts([s for row in line for s in row]) for line in lines] if ruled_rows else rows
    bands = find_bands(whole)
    if len(bands) < 2 or not _is_table(whole, bands):
        return None
    usual = word_gap(rows)
    lines = [split_over(line, bands, usual) for line in lines]
    if ruled_rows:
        printed = [[row for row in line if row] for line in lines]
    else:
        printed = [part for line in lines for part in split_rows(line, bands)]
    turned = [s for group in groups for s in group if s.angle]
    return grid_of_rows(page, box, printed, bands, turned)


def _is_table(rows: Sequence[Row], bands: Sequence[Band]) -> bool:
    several = sum(1 for row in rows if len(row) > 1)
    return several >= 1 and several >= 0.34 * len(rows) and len(bands) >= 2


def split_rows(lines: Sequence[Row], bands: Sequence[Band]) -> list[list[Row]]:
    """Printed lines gathered into table rows: a line that only carries on the one above joins it."""
    out: list[list[Row]] = []
    pitch = _usual_pitch(lines)
    for line in lines:
        if out and _carries_on(line, out[-1], bands, pitch):
            out[-1].append(line)
        else:
            out.append([line])
    return _with_labels_above(out, bands)


def _with_labels_above(rows: list[list[Row]], bands: Sequence[Band]) -> list[list[Row]]:
    """The rows with a line that is the beginning of the label below it put to that label's row."""
    out: list[list[Row]] = []
    for row in rows:
        above = out[-1] if out else None
        first = row[0][0]
        begun = (
            above is not None
            and len(above) == 1 == len(above[0])
            and covered(above[0][0], bands) == (0, 1) == covered(first, bands)
            and first.text[:1].islower()
            and len(row[0]) > 1
            and first.base - above[0][0].base <= _NEXT_LINE * first.size
            and above[0][0].bold == first.bold
        )
        if begun and above is not None:
            out[-1] = [*above, *row]
        else:
            out.append(row)
    return out


def _usual_pitch(lines: Sequence[Row]) -> float:
    steps = sorted(b[0].base - a[0].base for a, b in itertools.pairwise(lines) if len(b) > 1 and len(a) > 1)
    return steps[len(steps) // 2] if steps else 0.0


def _carries_on(line: Row, row: list[Row], bands: Sequence[Band], pitch: float) -> bool:
    last = row[-1]
    step = line[0].base - last[0].base
    size = line[0].size
    if step < _OVERLAP * size:
        return True
    if step > 1.45 * size or (len(line) > 1 and any(covered(s, bands)[0] == 0 for s in line)):
        return False
    filled = {covered(s, bands)[0] for r in row for s in r}
    here = {covered(s, bands)[0] for s in line}
    if not here <= filled and here != {0}:
        return False
    first = line[0].text
    tight = pitch > 0 and step < 0.86 * pitch
    if tight:
        return True
    if here == {0}:  # a label that goes on, or a line that heads the rows below
        above = [s for r in row for s in r if covered(s, bands)[0] == 0]
        width = bands[1].x0 - bands[0].x0
        full = bool(above) and above[-1].x1 - above[-1].x0 > 0.6 * width
        return full and (
            first[:1].islower() or first[:1] in "(/" or above[-1].text.endswith((",", "-", "/", "and", "or"))
        )
    return 0 not in here and (first[:1].islower() or first[:1] in "(/")


def grid_of_rows(
    page: Page, box: Box, printed: Sequence[Sequence[Row]], bands: Sequence[Band], turned: Sequence[Segment] = ()
) -> Grid | None:
    """A grid of rows of printed lines over columns. A segment over several columns is a merged cell.

    Upper head lines with fewer parts than there are columns are shared out over them.
    """
    parted = _rows_over_rule(page, box, printed)
    head_rows = parted or _head_rows(page, printed, bands)
    laid: list[list[Row]] = []
    for n, row in enumerate(printed):
        if n < head_rows and len(row) > 1:
            laid.extend(_head_levels(row, bands))
        else:
            laid.append(list(row))
    cells: list[GridCell] = []
    levels = sum(len(_head_levels(row, bands)) if len(row) > 1 else 1 for row in printed[:head_rows])
    alike = _are_alike(printed, bands)
    for r, row in enumerate(laid):
        parts: dict[tuple[int, int], list[Segment]] = {}
        flat = [s for line in row for s in line]
        shared = r + 1 < levels and len(flat) < len(bands)
        spans = _shared_spans(flat, bands, laid[r + 1]) if shared else _spans(flat, bands, alike=alike)
        for segment, span in zip(flat, spans, strict=True):
            key = next((k for k in parts if k[0] < span[1] and span[0] < k[1]), None)
            if key is None:
                parts[span] = [segment]
            else:
                wide = (min(key[0], span[0]), max(key[1], span[1])) if len(parts[key]) == 1 and key != span else key
                parts[wide] = [*parts.pop(key), segment]
        fill = _row_fill(page, flat)
        for (start, end), segments in sorted(parts.items()):
            cells.append(GridCell(r, r + 1, start, end, segments, fill))
    for segment in turned:
        middle = (segment.x0 + segment.x1) / 2
        column = min(range(len(bands)), key=lambda i: abs((bands[i].x0 + bands[i].x1) / 2 - middle))
        cells.append(GridCell(0, 1, column, column + 1, [segment]))
    if not cells:
        return None
    edges = [box[0], *((a.x1 + b.x0) / 2 for a, b in itertools.pairwise(bands)), box[2]]
    grid = Grid(page.number, box, len(laid), len(bands), cells, False, tuple(edges))
    _stretch_labels(grid, levels)
    grid.head_rows = levels if parted else 0
    return grid


def _rows_over_rule(page: Page, box: Box, printed: Sequence[Sequence[Row]]) -> int:
    """How many of the first rows stand over a rule where no other rule runs between rows; 0 where it is not so."""
    tops = [min(s.ink_top for line in row for s in line) for row in printed]
    bottoms = [max(s.ink_bottom for line in row for s in line) for row in printed]
    middle = [(a + b) / 2 for a, b in zip(bottoms, tops[1:], strict=False)]
    found = set()
    for rule in page.marks.rules:
        if rule.soft or not rule.level or min(rule.x1, box[2]) - max(rule.x0, box[0]) < 0.6 * (box[2] - box[0]):
            continue
        if tops[0] < rule.top < bottoms[-1] and middle:
            found.add(min(range(len(middle)), key=lambda n: abs(middle[n] - rule.top)))
    if len(found) != 1:
        return 0
    (after,) = found
    return after + 1 if after < _MOST_HEAD_ROWS and len(printed) - after > 2 else 0


def _are_alike(printed: Sequence[Sequence[Row]], bands: Sequence[Band]) -> bool:
    """Whether all columns but the first stand for one sort of thing, told by their heads ('15 °C', '20 °C').

    Every row below has a part in each of them, or one alone.
    """
    rows = [[s for line in row for s in line if covered(s, bands)[0] > 0] for row in printed]
    count = len(bands) - 1
    if count < _LEAST_ALIKE or len(rows) < _LEAST_ROWS or len(rows[0]) != count:
        return False
    heads = {_DIGITS.sub("#", s.text).split()[0] for s in rows[0] if s.text.strip()}
    if len(heads) != 1 or "#" not in next(iter(heads)) or any(c.isalpha() for c in next(iter(heads))):
        return False
    return all(len(row) in (1, count) for row in rows[1:]) and any(len(row) == count for row in rows[1:])


def _spans(flat: list[Segment], bands: Sequence[Band], *, alike: bool = False) -> list[tuple[int, int]]:
    """The columns of each part of a row. A lone part in the middle of all columns but the first is merged over them.

    Where the columns are alike, a narrow part is merged too: '7 days' in the midst of '15 °C', '20 °C' and '30 °C',
    unless it may be the middle column's own; a latest time may also stand in the first of them.
    """
    spans = [covered(s, bands) for s in flat]
    others = [(s, span) for s, span in zip(flat, spans, strict=True) if span[0] > 0]
    if len(bands) > 2 and len(others) == 1 and any(span == (0, 1) for span in spans):
        segment, span = others[0]
        middle = (bands[1].x0 + bands[-1].x1) / 2
        limit = alike and any(_is_limit(s) for s, at in zip(flat, spans, strict=True) if at == (0, 1))
        wide = span[1] - span[0] > 1 or segment.x1 - segment.x0 > 1.5 * max(b.x1 - b.x0 for b in bands[1:])
        between = alike and not any(segment.x0 < b.x1 and segment.x1 > b.x0 for b in bands[1:])
        centred = abs((segment.x0 + segment.x1) / 2 - middle) < 0.12 * (bands[-1].x1 - bands[1].x0)
        if (centred and (wide or limit or between)) or (limit and span[0] == 1):
            return [(1, len(bands)) if s is segment else sp for s, sp in zip(flat, spans, strict=True)]
    return spans


def _is_limit(label: Segment) -> bool:
    return bool({w.strip(".:*()") for w in label.text.lower().split()} & lexicon().limits)


def _shared_spans(flat: list[Segment], bands: Sequence[Band], below: list[Row]) -> list[tuple[int, int]]:
    """Spans of a head line of few parts. Only columns with a head of their own below can be shared."""
    under = {covered(s, bands)[0] for line in below for s in line}
    first = 0
    spans: list[tuple[int, int]] = []
    rest = list(flat)
    if rest and covered(rest[0], bands) == (0, 1):
        spans.append((0, 1))
        rest = rest[1:]
        first = 1
    elif 0 not in under or len(bands) > 2:
        first = 1
    texts = [""] * len(bands)
    for segment in (s for line in below for s in line):
        texts[covered(segment, bands)[0]] += segment.text
    return spans + (equal_runs(len(rest), texts, first) or share_heads(rest, bands, first))


def _head_rows(page: Page, printed: Sequence[Sequence[Row]], bands: Sequence[Band]) -> int:
    """How many of the first rows are heads, by their shade, weight or place."""
    count = 0
    body_fill = [_row_fill(page, [s for line in row for s in line]) for row in printed[2:]]
    for row in printed[:3]:
        flat = [s for line in row for s in line]
        fill = _row_fill(page, flat)
        shaded = fill is not None and fill not in body_fill
        if count and len(flat) == 1 and covered(flat[0], bands) == (0, 1):
            break  # a line that heads the first rows
        if shaded or all(s.bold for s in flat):
            count += 1
        else:
            break
    return count


def _head_levels(row: Sequence[Row], bands: Sequence[Band]) -> list[list[Row]]:
    """A head of several printed lines, told apart into levels; lines that only carry on stay together."""
    levels: list[list[Row]] = []
    floating: list[Segment] = []
    for line in row:
        others = [s for s in line if covered(s, bands) != (0, 1)]
        if not others:
            floating.extend(line)
            continue
        if levels and _wraps(levels[-1], others, bands):
            levels[-1].append(line)
        else:
            levels.append([line])
    if not levels:
        return [list(row)]
    for segment in floating:
        levels[-1].append([segment])
    return levels


def _wraps(level: list[Row], others: list[Segment], bands: Sequence[Band]) -> bool:
    """Whether a head line only carries on the one above: it has a part in the same columns, none shared out."""
    above = [s for line in level for s in line if covered(s, bands) != (0, 1)]
    starts = [covered(s, bands)[0] for s in above]
    here = [covered(s, bands)[0] for s in others]
    if len(here) > len(starts) or not set(here) <= set(starts):
        return False
    return len(above) >= len(bands) - 1 or len(others) < 0.5 * len(above) + 1


def _row_fill(page: Page, segments: Sequence[Segment]) -> tuple[int, int, int] | None:
    if not segments:
        return None
    s = segments[0]
    x, y = s.x0 + 1, (s.ink_top + s.ink_bottom) / 2
    found = None
    for panel in page.marks.panels:
        b = panel.box
        if panel.fill is not None and b[0] <= x <= b[2] and b[1] <= y <= b[3]:
            found = panel.fill
    return found


def _stretch_labels(grid: Grid, levels: int) -> None:
    """Let a head that stands alone in its column cover all levels of the head."""
    if levels < 2:
        return
    for column in range(grid.columns):
        own = [c for c in grid.cells if c.row < levels and c.column == column and c.column_end == column + 1]
        over = [c for c in grid.cells if c.row < levels and c.column <= column < c.column_end]
        if len(over) == 1 and own:
            own[0].row, own[0].row_end = 0, levels
