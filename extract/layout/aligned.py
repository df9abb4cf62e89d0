"""Tables by alignment alone: strips of a band whose parts stand over one another."""

from __future__ import annotations

import itertools
import re
from collections.abc import Sequence
from statistics import median

from extract.layout.banded import grid_of_rows, split_rows
from extract.layout.cells import kind_of
from extract.layout.columns import Band, Row, covered, find_bands, rows_of, split_at_starts, split_over, word_gap
from extract.layout.pieces import Element, Grid, Segment, bounds, extent, gaps_between, split_signs
from extract.reading.pages import Page

_GUTTER = 9.0
"""Points: the least gap between two columns."""
_LEAST_FLOW = 6
"""Lines that either side of a gutter must have to be known as a column of its own by the lines' heights."""
_SAME_HEIGHT = 1.0
"""Points within which the baselines of a table's row agree."""
_MOST_CAPTION_LINES = 4
_LEAST_BROKEN = 5
"""Words of a line that can only be broken off by the column's edge."""
_CLOSE = 1.5
"""Times the size: lines no further apart are one caption's."""
_LONGEST_HEAD = 6
"""Words."""
_ROWS_BEFORE = 5
_LARGER = 1.06
_FURTHER = 2.0
"""Times the blank between rows."""
_COUNTED = re.compile(r"\d{1,2}(?:\.\d{1,2})*[.)]? [A-Z]")
_FAR = 4.0
"""Times the size: a wider blank parts two tables."""


def gutters_of(elements: Sequence[Element]) -> list[tuple[float, float]]:
    """The gaps between columns that no element crosses."""
    return gaps_between([extent(e) for e in elements], _GUTTER)


def level_gap(above: Sequence[Element], below: Sequence[Element]) -> float:
    """The blank between two strips, in points."""
    return min(e.ink_top for e in below) - max(e.ink_bottom for e in above)


def table_within(page: Page, band: list[list[Element]]) -> tuple[int, Grid, int] | None:
    """A table by alignment in the band: strips before it, the table, and the strip after it."""
    if any(not isinstance(e, Segment) for strip in band for e in strip):
        return None
    first = next((i for i, strip in enumerate(band) if has_several(strip) and not _stands_apart(band, i)), None)
    if first is None:
        return None
    heading = next(
        (
            i
            for i in range(first + 1, len(band))
            if _parts_tables(page, band, i) or _is_step(band[i - 1], band[i]) or _crosses(band, first, i)
        ),
        len(band),
    )
    last = max(i for i, strip in enumerate(band[:heading]) if has_several(strip)) + 1
    last = _with_tail(band, last)
    segments = [e for strip in band[first:last] for e in strip if isinstance(e, Segment)]
    rows = split_signs(rows_of([s for s in segments if not s.angle]), min(s.x0 for s in segments))
    rows = split_at_starts(rows)
    bands = find_bands(rows)
    if (
        len(bands) < 2
        or not reads_as_table(rows, bands)
        or _names_nothing(rows, bands)
        or _runs_on(rows, bands)
        or _are_headed_texts(rows)
        or _are_two_flows(segments)
        or _are_captions(rows, bands)
    ):
        return None
    printed = split_rows(split_over(rows, bands, word_gap(rows)), bands)
    if len(printed) < 2:
        return None
    grid = grid_of_rows(page, bounds(segments), printed, bands, [s for s in segments if s.angle])
    return None if grid is None else (first, grid, last)


def _crosses(band: list[list[Element]], first: int, i: int) -> bool:
    """Whether a strip is a line of text across the columns that stand above it, set off from them."""
    only = band[i][0]
    if (
        len(band[i]) > 1
        or not isinstance(only, Segment)
        or len(only.words) < _LEAST_BROKEN
        or only.bold
        or i - first < 2
    ):
        return False
    above = [e for strip in band[first:i] for e in strip]
    gutters = gutters_of(above)
    over = bool(gutters) and only.x0 < gutters[0][0] and only.x1 > gutters[0][1]
    usual = median(e.size for e in above if isinstance(e, Segment))
    return (
        (over or abs(only.size - usual) > 0.15 * usual)
        and only.text.endswith(".")
        and level_gap(band[i - 1], band[i]) > 0.5 * only.size
    )


def _is_underscored(page: Page, line: Segment) -> bool:
    """Whether a rule that runs on past a line stands close beneath it."""
    return any(
        r.level and line.base < r.top < line.base + 0.9 * line.size and r.x0 < line.x0 + 3 and r.x1 > line.x1 + 20
        for r in page.marks.rules
    )


def _parts_tables(page: Page, band: list[list[Element]], i: int) -> bool:
    """Whether a strip is a heading between two tables: alone, larger or bolder, and further off than rows are.

    Or with a rule of its own beneath it where the line above has none.
    """
    only, above = band[i][0], band[i - 1][0]
    if len(band[i]) > 1 or not isinstance(only, Segment) or not isinstance(above, Segment) or only.angle:
        return False
    larger = only.size >= 1.1 * max(e.size for e in band[i - 1] if isinstance(e, Segment))
    gap = level_gap(band[i - 1], band[i])
    if only.bold and gap > 0.5 * only.size and _is_underscored(page, only) and not _is_underscored(page, above):
        return True
    if only.bold and gap > 0.2 * only.size and _changes_columns(band, i):
        return True
    if i + 1 == len(band):
        return only.barred
    return only.barred or ((larger or only.bold) and gap > 1.1 * only.size) or _heads_the_next(band, i, gap)


def _heads_the_next(band: list[list[Element]], i: int, gap: float) -> bool:
    """Whether a lone line, plainly further off than the rows above are from one another, heads rows of its own."""
    only = band[i][0]
    if not isinstance(only, Segment) or only.bullet or len(only.words) > _LONGEST_HEAD or i < 2:
        return False
    rows = band[max(0, i - _ROWS_BEFORE) : i]
    usual = median(max(1.0, level_gap(a, b)) for a, b in itertools.pairwise(rows))
    size = max(e.size for e in band[i - 1] if isinstance(e, Segment))
    told = only.bold or only.size >= _LARGER * size or only.text.isupper() or _COUNTED.match(only.text) is not None
    return told and gap > max(_FURTHER * usual, 0.5 * only.size) and has_several(band[i + 1])


def _changes_columns(band: list[list[Element]], i: int) -> bool:
    """Whether the strips straight below have another number of parts than those above: rows of another table."""
    above, below = [len(strip) for strip in band[max(0, i - 3) : i]], [len(strip) for strip in band[i + 1 : i + 4]]
    if min(len(above), len(below)) < 2 or min(*above, *below) < 2:
        return False
    return max(below) < min(above) or max(above) < min(below)


def _stands_apart(band: list[list[Element]], i: int) -> bool:
    """Whether a strip of several parts has no row of its table below it: a page's head line."""
    return i + 1 < len(band) and _is_step(band[i], band[i + 1])


def _is_step(above: Sequence[Element], below: Sequence[Element]) -> bool:
    """Whether two strips are too far apart, or of too different a size, to be rows of one table."""
    sizes = [max((e.size for e in strip if isinstance(e, Segment)), default=0.0) for strip in (above, below)]
    large, small = max(sizes), min(sizes)
    return large > 1.45 * small > 0 or level_gap(above, below) > _FAR * small > 0


def _are_two_flows(segments: Sequence[Segment]) -> bool:
    """Whether a gutter parts two columns of text whose lines stand at heights of their own: no rows run across."""
    for left_edge, right_edge in gutters_of(list(segments)):
        left = rows_of([s for s in segments if s.x1 <= left_edge + 0.1 and not s.angle])
        right = rows_of([s for s in segments if s.x0 >= right_edge - 0.1 and not s.angle])
        if min(len(left), len(right)) < _LEAST_FLOW:
            continue
        heights = [row[0].base for row in right]
        shared = sum(1 for row in left if any(abs(row[0].base - y) <= _SAME_HEIGHT for y in heights))
        if shared < 0.5 * min(len(left), len(right)):
            return True
    return False


def has_several(strip: Sequence[Element]) -> bool:
    """Whether a strip has parts set apart."""
    return len(gaps_between([extent(e) for e in strip], _GUTTER * 0.8)) > 0


def _with_tail(band: list[list[Element]], last: int) -> int:
    """Include a last label's second line."""
    while last < len(band) and len(band[last]) == 1:
        below = band[last][0]
        above = band[last - 1]
        first = min(above, key=lambda e: e.x0)
        if not isinstance(below, Segment) or not isinstance(first, Segment):
            break
        near = below.base - first.base < 1.35 * below.size and abs(below.x0 - first.x0) < 3
        if not (near and below.text[:1].islower() and below.bold == first.bold):
            break
        last += 1
    return last


def reads_as_table(rows: Sequence[Row], bands: Sequence[object]) -> bool:
    """Whether rows hold cells rather than lines of prose."""
    columns = find_bands(rows)
    several = [row for row in rows if len(row) > 1]
    if len(several) < 2 or len(several) < 0.5 * len(rows):
        return False
    cells: list[list[Segment]] = [[] for _ in columns]
    for row in rows:
        for segment in row:
            start, end = covered(segment, columns)
            if end == start + 1:
                cells[start].append(segment)
    prose = [_is_prose(column, band.x1 - band.x0) for column, band in zip(cells, columns, strict=True)]
    if all(prose) or prose[0]:
        return False
    if all(s.bullet for column in cells for s in column):
        return False
    if len(columns) == 2:
        return median([len(s.words) for s in cells[0]] or [9]) <= 6 and not any(s.bullet for s in cells[1])
    return sum(prose) <= 1


def _is_prose(column: Sequence[Segment], width: float) -> bool:
    if len(column) < 3 or 2 * sum(kind_of(s.text) == "figure" for s in column) > len(column):
        return False
    words = median(len(s.words) for s in column)
    full = sum(1 for s in column if s.x1 - s.x0 > 0.8 * width)
    return (words >= 5 and full >= 0.5 * len(column)) or _reads_on(column, width) or _is_flow(column)


def _reads_on(column: Sequence[Segment], width: float) -> bool:
    """Whether a column's lines, its bold heads left out, are each the rest of the one above."""
    plain = [s for s in column if not s.bold]
    if len(plain) < 3 or median(len(s.words) for s in plain) < 4 or not plain[0].text[:1].isupper():
        return False
    going = sum(1 for a, b in itertools.pairwise(plain) if a.text[-1:] not in ".:;!?" and b.text[:1].islower())
    full = sum(1 for s in plain if s.x1 - s.x0 > 0.75 * width)
    return going >= 0.5 * (len(plain) - 1) and full >= 0.5 * len(plain)


def _is_flow(column: Sequence[Segment]) -> bool:
    """Whether a column of many lines holds sentences that go on from line to line, under heads or not."""
    if len(column) < _LEAST_FLOW:
        return False
    ends = sum(1 for s in column if s.text[-1:] == "." or ". " in s.text)
    going = sum(
        1
        for a, b in itertools.pairwise(column)
        if a.text[-1:] not in ".:;!?" and len(a.words) > 2 and b.text[:1].islower() and b.base - a.base < 1.6 * b.size
    )
    return ends >= 2 and going >= 0.3 * (len(column) - 1)


def _are_captions(rows: Sequence[Row], bands: Sequence[Band]) -> bool:
    """Whether columns of a few lines, every one of them centred, stand under pictures side by side."""
    if len(bands) < 2 or not 2 <= len(rows) <= _MOST_CAPTION_LINES or any(s.bold for row in rows for s in row):
        return False
    columns: list[list[Segment]] = [[] for _ in bands]
    for row in rows:
        for segment in row:
            columns[covered(segment, bands)[0]].append(segment)
    several = [c for c in columns if len(c) > 1]
    middles = [max(s.x0 + s.x1 for s in c) - min(s.x0 + s.x1 for s in c) for c in several]
    lefts = [max(s.x0 for s in c) - min(s.x0 for s in c) for c in several]
    if not several or max(middles) > 4.0:
        return False
    return sum(1 for left in lefts if left > 3.0) >= 0.6 * len(several) and (len(columns[0]) < 2 or lefts[0] > 3.0)


def _are_headed_texts(rows: Sequence[Row]) -> bool:
    """Whether bold heads stand over texts side by side: sentences that go on below in every column."""
    if len(rows) < 3 or len(rows[0]) != len(rows[1]) or not all(s.bold for s in rows[0]):
        return False
    first, second = rows[1], rows[2]
    if any(s.bold or len(s.words) < _LEAST_BROKEN or s.text[-1:] in ".:;!?" for s in first):
        return False
    return len(second) > 0 and all(s.text[:1].islower() for s in second) and rows[-1][-1].text.endswith(".")


def _runs_on(rows: Sequence[Row], bands: Sequence[Band]) -> bool:
    """Whether the right one of two columns is a text that runs on past the lines beside it: they name nothing in it."""
    if len(bands) != 2:
        return False
    full = bands[1].x0 + 0.85 * (bands[1].x1 - bands[1].x0)
    both = [(n, row) for n, row in enumerate(rows) if len(row) > 1]
    on = 0
    for n, row in both:
        above = rows[n - 1][-1] if n and len(rows[n - 1]) > 1 else None
        if above is None or row[-1].base - above.base > 1.6 * above.size:
            continue
        broken = above.x1 >= full and len(above.words) >= _LEAST_BROKEN and above.text[-1:] not in ".:;!?"
        on += broken and row[-1].text[:1].islower()
    return on > 0.25 * (len(both) - 1)


def _names_nothing(rows: Sequence[Row], bands: Sequence[Band]) -> bool:
    """Whether columns of a line or two begin with figures: captions side by side, no labels and values."""
    if len(bands) > 2:
        return _says_differing_things(rows, bands)
    if len(bands) != 2 or len(rows) > 3:
        return False
    first = [s for row in rows for s in row if covered(s, bands) == (0, 1)]
    second = [s for row in rows for s in row if covered(s, bands) == (1, 2)]
    return all(any(kind_of(s.text) == "figure" for s in column) for column in (first[:1], second[:1]))


def _says_differing_things(rows: Sequence[Row], bands: Sequence[Band]) -> bool:
    """Whether close lines begin with a figure on the left and, elsewhere, with other things under one another."""
    if not 2 <= len(rows) <= _MOST_CAPTION_LINES or any(s.bold for row in rows for s in row):
        return False
    if any(b[0].base - a[0].base > _CLOSE * b[0].size for a, b in itertools.pairwise(rows)):
        return False
    kinds: list[list[str]] = [[] for _ in bands]
    for row in rows:
        for segment in row:
            kinds[covered(segment, bands)[0]].append(kind_of(segment.text))
    mixed = sum(1 for column in kinds if len(set(column)) > 1)
    return kinds[0][:1] == ["figure"] and (len(kinds[0]) < len(rows) or mixed > 1) and mixed > 0
