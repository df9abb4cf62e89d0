"""Columns by alignment: which stretches of text on successive lines stand over one another."""

from __future__ import annotations

import itertools
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

from extract.layout.pieces import Segment, part_of

Row = list[Segment]
_LEAST_HEADS = 2
_SAME_START = 1.5
"""Points within which parts of several rows begin one column."""
_MIDWAY = 0.08
"""Share of the columns' reach by which a value in their midst may miss the middle, twice over."""
_GRAZED = 0.2
"""Share of the narrower: a part that overlaps a column by less than this only grazes it."""


@dataclass(slots=True)
class Band:
    """A column's reach on the page."""

    x0: float
    x1: float


def rows_of(segments: Sequence[Segment]) -> list[Row]:
    """Segments grouped by baseline, top to bottom, each row left to right."""
    rows: list[Row] = []
    for segment in sorted(segments, key=lambda s: (s.base, s.x0)):
        if rows and abs(segment.base - rows[-1][0].base) <= 0.3 * max(segment.size, rows[-1][0].size):
            rows[-1].append(segment)
        else:
            rows.append([segment])
    for row in rows:
        row.sort(key=lambda s: s.x0)
    return rows


def find_bands(rows: Sequence[Row]) -> list[Band]:
    """The columns that most rows agree on, left to right; fewer than two where there are none."""
    counts = Counter(len(row) for row in rows if len(row) > 1)
    if not counts:
        return []
    often = [n for n, seen in counts.items() if seen >= 2]
    most = max(often) if often else max(counts)
    bands: list[Band] = []
    for row in sorted((r for r in rows if len(r) >= most), key=len):
        if len(row) == most or not bands:
            _merge(bands, row)
    for row in sorted((r for r in rows if 1 < len(r) < most), key=len, reverse=True):
        for segment in row:
            touched = [b for b in bands if segment.x0 < b.x1 and segment.x1 > b.x0]
            if len(touched) == 1:
                _stretch(touched[0], segment, bands)
            elif not touched and not (len(row) == 2 and _is_midway(segment, bands)):
                _merge(bands, [segment])
    bands.sort(key=lambda b: b.x0)
    return bands


def _is_midway(segment: Segment, bands: Sequence[Band]) -> bool:
    """Whether a row's one value stands in the midst of all columns but the first: it is theirs, no new column."""
    values = sorted(bands, key=lambda b: b.x0)[1:]
    if len(values) < 2 or not values[0].x1 <= segment.x0 < segment.x1 <= values[-1].x0:
        return False
    reach = values[-1].x1 - values[0].x0
    return abs(segment.x0 + segment.x1 - values[0].x0 - values[-1].x1) < _MIDWAY * reach


def word_gap(rows: Sequence[Row]) -> float:
    """The usual blank between two words of a cell, in points; 0 where each part is one word."""
    gaps = sorted(b.x0 - a.x1 for row in rows for s in row for a, b in itertools.pairwise(s.words) if b.x0 > a.x1)
    return gaps[len(gaps) // 3] if gaps else 0.0


def split_over(rows: Sequence[Row], bands: Sequence[Band], usual: float) -> list[Row]:
    """Rows in which a part that runs over several columns is cut where a wide gap between its words parts them.

    Columns that are set close together leave less room between cells than a line's own wide gaps are. usual is the
    table's word_gap().
    """
    out: list[Row] = []
    for row in rows:
        parts: Row = []
        for segment in row:
            parts.extend(_cut(segment, bands, usual))
        out.append(parts)
    return out


def split_at_starts(rows: Sequence[Row]) -> list[Row]:
    """Rows in which a part is cut before a word that stands where parts of two other rows begin.

    Columns set so close that a long cell comes within a word's blank of the next one.
    """
    usual = word_gap(rows)
    starts = [[*(s.x0 for s in row[1:]), *(x for s in row for x in _wide_starts(s, usual))] for row in rows]
    out: list[Row] = []
    for n, row in enumerate(rows):
        parts: Row = []
        for segment in row:
            cuts = [
                i
                for i, (a, b) in enumerate(itertools.pairwise(segment.words), 1)
                if b.x0 - a.x1 > max(0.36 * segment.size, 1.3 * usual)
                and sum(any(abs(x - b.x0) <= _SAME_START for x in other) for m, other in enumerate(starts) if m != n)
                > 1
            ]
            edges = [0, *cuts, len(segment.words)]
            whole = not cuts or segment.angle
            parts.extend(
                [segment] if whole else [part_of(segment, segment.words[a:b]) for a, b in itertools.pairwise(edges)]
            )
        out.append(parts)
    return out


def _wide_starts(segment: Segment, usual: float) -> list[float]:
    """Where words of a part begin after a blank plainly wider than those between words."""
    least = max(0.55 * segment.size, 1.8 * usual)
    return [b.x0 for a, b in itertools.pairwise(segment.words) if b.x0 - a.x1 > least]


def _cut(segment: Segment, bands: Sequence[Band], usual: float) -> list[Segment]:
    first, end = covered(segment, bands)
    while end < len(bands) and any((w.x0 + w.x1) / 2 > bands[end].x0 for w in segment.words[1:]):
        end += 1  # a dash at the foot of a wide column, say
    words = segment.words
    if end - first < 2 or len(words) < 2 or segment.angle:
        return [segment]
    cuts: set[int] = set()
    for left, right in itertools.pairwise(bands[first:end]):
        slack = 0.4 * segment.size
        fitting = [
            (b.x0 - a.x1, i)
            for i, (a, b) in enumerate(itertools.pairwise(words), 1)
            if b.x0 > left.x1 - slack and a.x1 < right.x0 + slack
        ]
        gap, place = max(fitting, default=(0.0, 0))
        if gap > max(0.36 * segment.size, 1.35 * usual):
            cuts.add(place)
    edges = [0, *sorted(cuts), len(words)]
    parts = [part_of(segment, words[a:b]) for a, b in itertools.pairwise(edges)]
    return parts if len(parts) > 1 and all(_is_set_in(p, bands) for p in parts[1:]) else [segment]


def _is_set_in(part: Segment, bands: Sequence[Band]) -> bool:
    """Whether a part is aligned with its column: by its left or right edge, or by its middle."""
    band = bands[covered(part, bands)[0]]
    middle = abs((part.x0 + part.x1) - (band.x0 + band.x1)) / 2
    return min(abs(part.x0 - band.x0), abs(part.x1 - band.x1), middle) <= 0.35 * part.size


def _merge(bands: list[Band], row: Row) -> None:
    for segment in row:
        touched = [b for b in bands if segment.x0 < b.x1 + 1 and segment.x1 > b.x0 - 1]
        if not touched:
            bands.append(Band(segment.x0, segment.x1))
            continue
        first = touched[0]
        if len(touched) == 1:
            first.x0, first.x1 = min(first.x0, segment.x0), max(first.x1, segment.x1)


def _stretch(band: Band, segment: Segment, bands: Sequence[Band]) -> None:
    """Let a band grow to a segment as far as it meets no other band."""
    x0, x1 = min(band.x0, segment.x0), max(band.x1, segment.x1)
    if not any(other is not band and x0 < other.x1 and x1 > other.x0 for other in bands):
        band.x0, band.x1 = x0, x1


def covered(segment: Segment, bands: Sequence[Band]) -> tuple[int, int]:
    """First and last-but-one index of the bands that a segment stands in; the nearest where it touches none."""
    width = segment.x1 - segment.x0
    touched = [
        i
        for i, b in enumerate(bands)
        if min(segment.x1, b.x1) - max(segment.x0, b.x0) > max(1.0, _GRAZED * min(width, b.x1 - b.x0))
    ]
    if touched:
        return touched[0], touched[-1] + 1
    middle = (segment.x0 + segment.x1) / 2
    nearest = min(range(len(bands)), key=lambda i: abs((bands[i].x0 + bands[i].x1) / 2 - middle))
    return nearest, nearest + 1


def share_heads(heads: Sequence[Segment], bands: Sequence[Band], first: int) -> list[tuple[int, int]]:
    """For heads of an upper level, left to right, the run of bands that each stands over.

    A head centred (or set flush left) over its columns may touch only some of them, so the runs are chosen
    together: contiguous, in order, from band ``first`` on, with each head as near as can be to the middle
    or the left edge of its run.
    """
    count, last = len(heads), len(bands)
    if count == 0:
        return []
    infinite = float("inf")
    best: dict[tuple[int, int], tuple[float, list[tuple[int, int]]]] = {(0, first): (0.0, [])}
    for n, head in enumerate(heads):
        for (done, start), (cost, runs) in list(best.items()):
            if done != n:
                continue
            for skip in range(start, last):
                for end in range(skip + 1, last + 1 - (count - n - 1)):
                    off = _off(head, bands[skip], bands[end - 1])
                    total = cost + off + 4.0 * (skip - start)
                    if total < best.get((n + 1, end), (infinite, []))[0]:
                        best[(n + 1, end)] = (total, [*runs, (skip, end)])
    finished = [(cost + 4.0 * (last - end), runs) for (done, end), (cost, runs) in best.items() if done == count]
    return min(finished, key=lambda f: f[0])[1] if finished else [covered(h, bands) for h in heads]


def equal_runs(count: int, below: Sequence[str], first: int) -> list[tuple[int, int]]:
    """The runs of columns under count heads where the heads below them repeat ('min max min max'); else empty.

    below holds the text over each column, first is the first column that is shared.
    """
    texts = [text.strip().lower() for text in below[first:]]
    if count < _LEAST_HEADS or len(texts) % count or len(texts) == count:
        return []
    period = len(texts) // count
    if len(set(texts[:period])) < period or any(texts[i] != texts[i % period] for i in range(len(texts))):
        return []
    return [(first + n * period, first + (n + 1) * period) for n in range(count)]


def _off(head: Segment, left: Band, right: Band) -> float:
    middle = abs((head.x0 + head.x1) / 2 - (left.x0 + right.x1) / 2)
    return min(middle, abs(head.x0 - left.x0) + 2.0)
