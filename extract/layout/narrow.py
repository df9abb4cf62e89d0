"""Labels and values set closer than columns are, as typesetting programs do: the longest label all but touches.

Such a list is told by its values, which begin right below one another beside labels that do the same.
"""

from __future__ import annotations

import itertools
from collections.abc import Sequence

from extract.layout.columns import Row, rows_of
from extract.layout.pieces import Grid, GridCell, Segment, bounds, part_of

_SAME = 1.5
"""Points within which labels, or values, begin at one place."""
_STEP = 2.2
"""Times the size: how far below one another the rows of one list stand."""
_LEAST_ROWS = 3
_LABEL_WORDS = 6
_CLOSE = 9.0
"""Points: a blank that is narrower parts no columns elsewhere."""


def find_narrow(segments: Sequence[Segment]) -> tuple[list[Grid], list[Segment]]:
    """Lists in which some label comes close to its value as tables of two columns, and the segments outside them."""
    rows = rows_of([s for s in segments if not s.angle])
    grids: list[Grid] = []
    used: set[int] = set()
    at = 0
    while at < len(rows):
        facts = _facts_from(rows, at)
        if facts is None:
            at += 1
            continue
        found, at = facts
        used |= {id(s) for row in rows[at - found.printed : at] for s in row}
        grids.append(_grid(found.facts))
    return grids, [s for s in segments if id(s) not in used]


class _Facts:
    """A list's labels with the lines of their values; printed counts the printed rows that it takes."""

    def __init__(self, facts: list[tuple[Segment, list[Segment]]], printed: int) -> None:
        self.facts = facts
        self.printed = printed


def _facts_from(rows: Sequence[Row], start: int) -> tuple[_Facts, int] | None:
    """The list that begins in a row, and the row behind it; None where none begins there or none of it is close."""
    run = _run(rows, start)
    beside = [*rows[max(0, start - 1) : start], *rows[start + len(run) : start + len(run) + 1]]
    if any(
        len(row) > 2 and run and abs(row[0].base - run[0][0].base) < _STEP * (len(run) + 1) * row[0].size
        for row in beside
    ):
        return None  # rows of a wider table
    places = [row[1].x0 for row in run if len(row) == 2]
    if len(places) < _LEAST_ROWS - 1 or max(places) - min(places) > _SAME:
        return None
    facts: list[tuple[Segment, list[Segment]]] = []
    close = False
    for row in run:
        if len(row) == 1 and facts and abs(row[0].x0 - places[0]) <= _SAME:
            facts[-1][1].append(row[0])
            continue
        parts = row if len(row) == 2 else _cut(row[0], places[0])
        if len(parts) != 2:
            return None
        close = close or parts[1].x0 - parts[0].x1 < _CLOSE
        facts.append((parts[0], [parts[1]]))
    return (_Facts(facts, len(run)), start + len(run)) if close and len(facts) >= _LEAST_ROWS else None


def _run(rows: Sequence[Row], start: int) -> list[Row]:
    """Rows straight below one another that could be of one list: a label and a value, or one line of either."""
    first = rows[start][0]
    place = next((row[1].x0 for row in rows[start : start + _LEAST_ROWS] if len(row) == 2), None)
    run: list[Row] = []
    for row in rows[start:]:
        label = row[0]
        far = run and label.base - run[-1][0].base > _STEP * label.size
        if place is None or far or abs(label.size - first.size) > 0.1 * first.size or label.bullet:
            break
        if run and len(row) == 1 and abs(label.x0 - place) <= _SAME:
            run.append(row)
            continue
        value = row[1] if len(row) == 2 else next(iter(_cut(label, place)[1:]), None)
        if value is None or len(row) > 2 or abs(label.x0 - first.x0) > _SAME or abs(value.x0 - place) > _SAME:
            break
        run.append(row)
    return run


def _cut(whole: Segment, place: float) -> list[Segment]:
    """A line cut before the word at that place, if a blank wider than between its words stands before it."""
    gaps = [b.x0 - a.x1 for a, b in itertools.pairwise(whole.words)]
    for i, gap in enumerate(gaps, 1):
        others = sorted(g for n, g in enumerate(gaps, 1) if n != i)
        usual = others[len(others) // 2] if others else 0.0
        if i > _LABEL_WORDS or gap <= max(0.4 * whole.size, 1.3 * usual):
            continue
        if abs(whole.words[i].x0 - place) <= _SAME:
            return [part_of(whole, whole.words[:i]), part_of(whole, whole.words[i:])]
    return [whole]


def _grid(facts: Sequence[tuple[Segment, list[Segment]]]) -> Grid:
    cells = [
        cell
        for n, (label, values) in enumerate(facts)
        for cell in (GridCell(n, n + 1, 0, 1, [label]), GridCell(n, n + 1, 1, 2, values))
    ]
    box = bounds([s for label, values in facts for s in (label, *values)])
    return Grid(facts[0][0].page, box, len(facts), 2, cells, False, (box[0], facts[0][1][0].x0, box[2]))
