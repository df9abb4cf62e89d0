"""Reading order: bands of columns, side notes, hanging headings and tables by alignment, by recursive cuts."""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from dataclasses import dataclass

from extract.layout.aligned import gutters_of, has_several, level_gap, reads_as_table, table_within
from extract.layout.columns import Row, find_bands
from extract.layout.labelled import centred_rows, topped_rows
from extract.layout.pieces import Boxed, Element, Segment, bounds, extent, merged, strips
from extract.reading.pages import Page

_DEEPEST = 8
_LONG_TAIL = 6
"""Lines that a column must run on beneath its neighbour to be known as a column there."""
_EDGE = 0.1
"""Share of the page's height in which a head or foot line stands."""
_SET_OFF = 8.0
_ALIGNED = 2.0
"""Points."""
_LEVEL = 3.5
"""Points between the lines of a hung heading and of the text beside it."""
_RIM = 0.6
"""Times the size: the same for a heading in a filled bar, whose rim may set it lower."""
_LEAST_HUNG = 4
"""Headings in a margin from which on they are told by what they head."""
_SENTENCE = 6
"""Words of a line of text."""
_MOST_LINES = 3
"""Lines of a hung heading in its bar."""
_LONGEST_LABEL = 5
"""Words."""


@dataclass(slots=True)
class Region:
    """Elements of one column, top to bottom. boxed: it stands in a drawn box of its own."""

    elements: list[Element]
    x0: float
    x1: float
    boxed: bool = False


def arrange(page: Page, elements: Sequence[Element], boxed: bool = False, depth: int = 0) -> list[Region]:
    """The elements in reading order, each region one column of the page."""
    if not elements:
        return []
    levels = strips(elements)
    out: list[Region] = []
    if depth == 0 and not boxed:
        top, levels, foot = _page_edges(page, levels)
        if top or foot:
            out.extend(_each(top))
            out.extend(_arranged(page, levels, boxed, depth))
            out.extend(_each(foot))
            return out
    return _arranged(page, levels, boxed, depth)


def _page_edges(
    page: Page, levels: list[list[Element]]
) -> tuple[list[list[Element]], list[list[Element]], list[list[Element]]]:
    """A page's strips with a line of parts far apart at its head and its foot taken off, each set off from the rest."""
    top: list[list[Element]] = []
    foot: list[list[Element]] = []
    if len(levels) > 2 and _is_edge_line(levels[0]) and levels[0][0].ink_bottom < _EDGE * page.height:
        size = max(e.size for e in levels[0] if isinstance(e, Segment))
        cut = int(level_gap(levels[0], levels[1]) > max(_SET_OFF, size) and not _is_row(levels[0], levels[1:3]))
        top, levels = levels[:cut], levels[cut:]
    if len(levels) > 2 and _is_edge_line(levels[-1]) and levels[-1][0].ink_top > (1 - _EDGE) * page.height:
        cut = len(levels) - int(level_gap(levels[-2], levels[-1]) > _SET_OFF and not _is_row(levels[-1], levels[-3:-1]))
        levels, foot = levels[:cut], levels[cut:]
    return top, levels, foot


def _is_row(line: Sequence[Element], others: Sequence[Sequence[Element]]) -> bool:
    """Whether the parts of a line are set over those of the next ones, as cells of one table are."""
    parts = [e for strip in others for e in strip if isinstance(e, Segment)]
    return all(
        any(min(abs(p.x0 - e.x0), abs(p.x1 - e.x1), abs(p.x0 + p.x1 - e.x0 - e.x1) / 2) <= _ALIGNED for p in parts)
        for e in line
    )


def _each(lines: Sequence[Sequence[Element]]) -> list[Region]:
    """The parts of head or foot lines, each for itself, the largest last: of two heads it is the one that governs."""
    parts = [e for strip in lines for e in strip if isinstance(e, Segment)]
    return [Region([s], s.x0, s.x1) for s in sorted(parts, key=lambda s: (round(s.size, 1), -s.x0))]


def _is_edge_line(strip: Sequence[Element]) -> bool:
    parts = [e for e in strip if isinstance(e, Segment)]
    return 1 < len(parts) == len(strip) and max(s.base for s in parts) - min(s.base for s in parts) < 2


def _arranged(page: Page, levels: list[list[Element]], boxed: bool, depth: int) -> list[Region]:
    out: list[Region] = []
    plain: list[list[Element]] = []
    i = 0
    while i < len(levels):
        end = _band_end(levels, i) if depth < _DEEPEST else i
        if end == i + 1 and (line := _labelled(levels[i])) is not None:
            plain.append([line])
            i += 1
            continue
        if end == i:
            plain.append(levels[i])
            i += 1
            continue
        at = start = i
        while plain and _has_gutter([*plain[-1:], *levels[start:end]]):
            plain.pop()
            start -= 1
        before, parts, after = _read_band(page, levels, start, end, boxed, depth)
        plain.extend(before)
        if parts:
            _flush(plain, out, boxed)
            out.extend(parts)
        i = end if after is None else after
        if not parts and i <= at:
            # Strips taken back from above made no band either: go on behind them, or this would never end.
            plain.extend(levels[i : at + 1])
            i = at + 1
    _flush(plain, out, boxed)
    return out


def _labelled(strip: Sequence[Element]) -> Segment | None:
    """A lone line 'Label:   value' whose blank no other line shares, drawn together; None where it is no such line."""
    parts = [e for e in strip if isinstance(e, Segment)]
    if len(parts) != 2 or len(strip) != 2:
        return None
    label, value = sorted(parts, key=lambda s: s.x0)
    level = abs(label.base - value.base) <= 0.1 * label.size and label.angle == value.angle == 0
    short = label.text.endswith(":") and len(label.words) <= _LONGEST_LABEL and not value.text.endswith(":")
    return merged(label, value) if level and short and not value.bullet else None


def _flush(plain: list[list[Element]], out: list[Region], boxed: bool) -> None:
    if not plain:
        return
    flat: list[Element] = []
    for strip in plain:
        flat.extend(sorted(strip, key=lambda e: (round(_line_of(e) / 2), e.x0)))
    plain.clear()
    run: list[Element] = []
    for element in flat:
        if isinstance(element, Boxed):
            _close(run, out, boxed)
            out.append(Region([element], element.x0, element.x1, boxed=True))
        else:
            run.append(element)
    _close(run, out, boxed)


def _close(run: list[Element], out: list[Region], boxed: bool) -> None:
    if run:
        box = bounds(run)
        out.append(Region(list(run), box[0], box[2], boxed))
        run.clear()


def _line_of(element: Element) -> float:
    return element.base if isinstance(element, Segment) else element.ink_top


def _has_gutter(levels: Sequence[Sequence[Element]]) -> bool:
    return bool(gutters_of([e for strip in levels for e in strip]))


def _band_end(levels: Sequence[Sequence[Element]], start: int) -> int:
    """The strip after the last of the longest band from start on that a gutter runs through; start where none."""
    elements = list(levels[start])
    if not gutters_of(elements):
        if start + 1 >= len(levels):
            return start
        elements.extend(levels[start + 1])
        if not gutters_of(elements) or level_gap(levels[start], levels[start + 1]) > 4:
            return start
        end = start + 2
    else:
        end = start + 1
    while end < len(levels) and gutters_of([*elements, *levels[end]]):
        elements.extend(levels[end])
        end += 1
    return end


def _read_band(
    page: Page, levels: Sequence[Sequence[Element]], start: int, end: int, boxed: bool, depth: int
) -> tuple[list[list[Element]], list[Region], int | None]:
    """What stands before the band's table, the band's regions, and the strip to go on from if before its end."""
    band = [list(strip) for strip in levels[start:end]]
    everything = [e for strip in band for e in strip]
    if _heads_differing_things(everything):
        hung = _hanging(page, everything, gutters_of(everything), boxed, depth)
        if hung is not None:
            return [], hung, end
    found = centred_rows(band) or table_within(page, band) or topped_rows(band)
    if found is not None:
        first, grid, last = found
        region = Region([grid], grid.box[0], grid.box[2], boxed)
        return band[:first], [region], start + last
    stop = end
    if (headed := _headed_table(band)) is not None:
        stop = start + headed
        band = band[:headed]
    elif end < len(levels) or len(gutters_of([e for strip in band for e in strip])) > 1 or _is_local(band):
        stop = start + _trimmed(band)
        band = band[: stop - start]
    flat = [e for strip in band for e in strip]
    gutters = gutters_of(flat)
    if not gutters or not _side_by_side(flat, gutters):
        return band, [], stop
    hanging = _hanging(page, flat, gutters, boxed, depth)
    if hanging is not None:
        return [], hanging, stop
    first = next((n for n, strip in enumerate(band) if _has_gutter([strip])), 0)
    if first:  # lines over the first heading that only happen to end left of the texts
        below = [e for strip in band[first:] for e in strip]
        hanging = _hanging(page, below, gutters_of(below), boxed, depth) if gutters_of(below) else None
        if hanging is not None:
            return band[:first], hanging, stop
    left_edge = max(gutters, key=lambda g: g[1] - g[0])
    left = [e for e in flat if extent(e)[1] <= left_edge[0] + 0.1]
    right = [e for e in flat if extent(e)[0] >= left_edge[1] - 0.1]
    return [], [*arrange(page, left, boxed, depth + 1), *arrange(page, right, boxed, depth + 1)], stop


def _is_local(band: Sequence[Sequence[Element]]) -> bool:
    """Whether lines stand side by side only amid a band: a block in running text, no columns of the page."""
    gutters = gutters_of([e for strip in band for e in strip])
    if not gutters:
        return False
    gutter = max(gutters, key=lambda g: g[1] - g[0])
    rights = [n for n, strip in enumerate(band) if any(extent(e)[0] >= gutter[1] - 0.1 for e in strip)]
    return bool(rights) and rights[0] > 1 and rights[-1] < len(band) - 1


def _headed_table(band: list[list[Element]]) -> int | None:
    """The strip of a heading under which a table of three columns or more crosses the band's gutter."""
    gutters = gutters_of([e for strip in band for e in strip])
    if not gutters:
        return None
    gutter = max(gutters, key=lambda g: g[1] - g[0])
    for i in range(1, len(band) - 3):
        only = band[i][0]
        if len(band[i]) > 1 or not isinstance(only, Segment) or not (only.bold or only.barred) or only.bullet:
            continue
        rows: list[Row] = []
        for strip in band[i + 1 :]:
            if any(not isinstance(e, Segment) or e.bullet for e in strip) or not has_several(strip):
                break
            rows.append([e for e in strip if isinstance(e, Segment)])
        crossing = sum(1 for row in rows if row[0].x1 <= gutter[0] + 1 and max(s.x1 for s in row) > gutter[1])
        if len(rows) < 3 or crossing < 0.7 * len(rows) or sum(len(row) > 2 for row in rows) < 0.7 * len(rows):
            continue
        bands = find_bands(rows)
        if len(bands) >= 3 and reads_as_table(rows, bands):
            return i
    return None


def _side_by_side(elements: Sequence[Element], gutters: Sequence[tuple[float, float]]) -> bool:
    """Whether both sides of some gutter stand beside one another, not corner to corner."""
    for gutter in gutters:
        left = [e for e in elements if extent(e)[1] <= gutter[0] + 0.1]
        right = [e for e in elements if extent(e)[0] >= gutter[1] - 0.1]
        if left and right:
            a, b = bounds(left), bounds(right)
            if min(a[3], b[3]) - max(a[1], b[1]) > 0:
                return True
    return False


def _trimmed(band: list[list[Element]]) -> int:
    """How many strips of the band remain when headings of what follows are left to it."""
    flat = [e for strip in band for e in strip]
    gutters = gutters_of(flat)
    if not gutters:
        return len(band)
    gutter = max(gutters, key=lambda g: g[1] - g[0])
    end = len(band)
    lefts = [any(extent(e)[1] <= gutter[0] + 0.1 for e in strip) for strip in band]
    rights = [any(extent(e)[0] >= gutter[1] - 0.1 for e in strip) for strip in band]
    last_both = max((i for i in range(len(band)) if rights[i]), default=-1)
    last_left = max((i for i in range(len(band)) if lefts[i]), default=-1)
    tail = min(last_both, last_left) + 1
    for i in range(tail, len(band)):
        strip = band[i]
        if i >= len(band) - 2 and i > 0 and _heads_columns(strip) and level_gap(band[i - 1], strip) > 3:
            end = i
            break
        heads = all(isinstance(e, Segment) and (e.bold or e.barred) and not e.bullet for e in strip)
        if heads and i > 0 and level_gap(band[i - 1], strip) > 4:
            if not _fills_column(band[i:], gutter[0]):
                end = i
            break
    return max(end, 1)


def _heads_columns(strip: Sequence[Element]) -> bool:
    """Whether short lines stand side by side: heads of the columns that follow."""
    short = all(isinstance(e, Segment) and len(e.words) <= 5 and not e.bullet for e in strip)
    return short and has_several(strip)


def _fills_column(tail: Sequence[Sequence[Element]], edge: float) -> bool:
    """Whether what goes on in the left column beneath the right one is that column's own text, line upon full line."""
    lines = [e for strip in tail for e in strip if isinstance(e, Segment)]
    if len(lines) < _LONG_TAIL:
        return False
    left = min(s.x0 for s in lines)
    right = max(s.x1 for s in lines)
    full = sum(1 for s in lines if s.x1 > right - 0.08 * (right - left) and s.x0 < left + 0.2 * (right - left))
    return full >= 0.3 * len(lines) and edge - right < 0.12 * (right - left)


def _hanging(
    page: Page, flat: Sequence[Element], gutters: Sequence[tuple[float, float]], boxed: bool, depth: int
) -> list[Region] | None:
    """Headings hung in a left margin, each beside the first line of its text; None where the band is not so."""
    gutter = gutters[0]
    left = [e for e in flat if extent(e)[1] <= gutter[0] + 0.1]
    right = [e for e in flat if extent(e)[0] >= gutter[1] - 0.1]
    labels = [s for e in left for s in _label_lines(e)]
    if not labels or any(not _label_lines(e) for e in left) or len(right) < 2:
        return None
    whole, margin = bounds(flat), bounds(left)
    if margin[2] - margin[0] > 0.4 * (whole[2] - whole[0]):
        return None
    groups = _label_groups(labels)
    if len(groups) < 2 or len(labels) > 0.7 * len(right) + 1:
        return None
    if not all(s.bold or s.barred or (s.text.isupper() and len(s.text) > 3) or s.text.endswith(":") for s in labels):
        return None
    lower = [drop for g in groups if (drop := _drop(g[0], right)) is not None]
    if len(lower) < 0.7 * len(groups):
        return None
    out: list[Region] = []
    # A heading in a filled bar stands lower than the first line beside it, by the bar's rim.
    rim = max(0.0, *lower)
    tops = [g[0].ink_top - rim for g in groups]
    above = [e for e in right if e.ink_top < tops[0] - 4]
    out.extend(arrange(page, above, boxed, depth + 1))
    for n, group in enumerate(groups):
        limit = tops[n + 1] if n + 1 < len(groups) else float("inf")
        for segment in group:
            segment.barred = True
        out.append(Region(list(group), margin[0], margin[2], boxed))
        text = [e for e in right if max(tops[n], tops[0]) - 4 <= e.ink_top < limit - 4]
        out.extend(arrange(page, text, boxed, depth + 1))
    return out


def _heads_differing_things(flat: Sequence[Element]) -> bool:
    """Whether the words in the left margin head texts, lists and tables beside them, which no table's rows would be."""
    gutters = gutters_of(flat)
    if not gutters:
        return False
    left = [s for e in flat if extent(e)[1] <= gutters[0][0] + 0.1 for s in _label_lines(e)]
    right = sorted((e for e in flat if extent(e)[0] >= gutters[0][1] - 0.1), key=lambda e: e.ink_top)
    groups = _label_groups(left)
    if len(groups) < _LEAST_HUNG or len(strips(right)) < 2 * len(groups):
        return False
    kinds: set[str] = set()
    tops = [*(g[0].ink_top for g in groups), float("inf")]
    for top, below in itertools.pairwise(tops):
        beside = [e for e in right if top - _LEVEL <= e.ink_top < below - _LEVEL]
        lines = [e for e in beside if isinstance(e, Segment)]
        if any(s.bullet for s in lines):
            kinds.add("list")
        elif len(lines) < len(beside) or any(has_several(strip) for strip in strips(beside)):
            kinds.add("table")
        elif lines and len(max(lines, key=lambda s: len(s.words)).words) >= _SENTENCE:
            kinds.add("text")
    return len(kinds) > 1


def _label_lines(element: Element) -> Sequence[Segment]:
    """The lines of a hung heading, which may stand in a bar of its own; none where the element is no such thing."""
    if isinstance(element, Segment):
        return [element]
    if not isinstance(element, Boxed) or len(element.content) > _MOST_LINES:
        return []
    lines = [e for e in element.content if isinstance(e, Segment)]
    short = all(len(s.words) <= _LONGEST_LABEL and not s.bullet for s in lines)
    return lines if short and len(lines) == len(element.content) else []


def _drop(label: Segment, right: Sequence[Element]) -> float | None:
    """How far a hung heading's line stands below the nearest line beside it; None where it is beside none."""
    off = min((label.base - _first_line(e) for e in right), key=abs)
    return off if abs(off) < max(_LEVEL, _RIM * label.size) else None


def _first_line(element: Element) -> float:
    return element.base if isinstance(element, Segment) else element.ink_top + 8


def _label_groups(labels: Sequence[Segment]) -> list[list[Segment]]:
    groups: list[list[Segment]] = []
    for segment in sorted(labels, key=lambda s: s.base):
        if groups and segment.base - groups[-1][-1].base < 1.5 * segment.size:
            groups[-1].append(segment)
        else:
            groups.append([segment])
    return groups
