"""Drawn tables that touch, told apart."""

from __future__ import annotations

import itertools
from collections.abc import Sequence

from extract.claims import Box
from extract.layout.pieces import Segment, inside

_THIN = 4.5
"""Points: what is lower is the blank between two tables."""
_LEAST_FORM = 4
"""Rows of a form that touches another table."""


def stacked(boxes: list[Box], segments: Sequence[Segment]) -> list[list[Box]]:
    """Tables that touch, told apart: where other columns begin, under a line of heads."""
    cuts = []
    around = (
        min(b[0] for b in boxes),
        min(b[1] for b in boxes),
        max(b[2] for b in boxes),
        max(b[3] for b in boxes),
    )
    segments = [s for s in segments if inside(s, around, 0.0)]
    left, right = min(b[0] for b in boxes), max(b[2] for b in boxes)
    for b in list(boxes):
        if b[3] - b[1] < _THIN and b[0] - left < 2 and right - b[2] < 2:  # the gap between two tables
            boxes = [other for other in boxes if other is not b]
            cuts.append(b[3])
    for y in steps([b[1] for b in boxes])[1:]:
        above = [b for b in boxes if b[3] <= y + 2]
        below = [b for b in boxes if b[1] >= y - 2]
        if len(above) + len(below) < len(boxes) or not above or not below:
            continue
        first = [b for b in below if b[1] <= y + 2]
        last = [b for b in above if b[3] >= y - 2]
        if _parted_otherwise(last, first):
            cuts.append(y)
            continue
        heads = [s for s in segments for b in first if inside(s, b, 0.0)]
        body = [s for s in segments for b in last if inside(s, b, 0.0)]
        if not heads or not all(s.bold for s in heads) or all(s.bold for s in body) or len(heads) < 2:
            continue
        if steps([b[0] for b in last]) != steps([b[0] for b in first]) or len(heads) == len(first) > 2:
            cuts.append(y)
    thick = [b for b in boxes if b[3] - b[1] >= _THIN]
    form = _meets_form(thick)
    if form is not None and not any(abs(form - y) < 3 for y in cuts):
        cuts.append(form)
        boxes = thick  # a blank between the two is no row
    out: list[list[Box]] = []
    for low, high in itertools.pairwise([float("-inf"), *sorted(cuts), float("inf")]):
        out.append([b for b in boxes if low - 2 <= b[1] < high - 2])
    return [part for part in out if part]


def _meets_form(boxes: Sequence[Box]) -> float | None:
    """Where a form of labels and values and rows of more cells touch: a head's box over it, a table beneath it.

    All the rows on the form's side have two cells, all on the other more; None where that is not so.
    """
    ys = steps([b[1] for b in boxes])
    counts = [sum(1 for b in boxes if b[1] <= y + 2 and b[3] > y + 4) for y in ys]
    change = next((n for n in range(1, len(counts)) if (counts[n] == 2) != (counts[0] == 2)), None)
    if change is None or any((count == 2) != (counts[change] == 2) for count in counts[change:]):
        return None
    two, more = (counts[:change], counts[change:]) if counts[0] == 2 else (counts[change:], counts[:change])
    apart = all(b[3] <= ys[change] + _THIN or b[1] >= ys[change] - 2 for b in boxes)
    return ys[change] if apart and len(two) >= _LEAST_FORM and min(more) > 2 else None


def _parted_otherwise(above: Sequence[Box], below: Sequence[Box]) -> bool:
    """Whether each of two neighbouring rows has borders between cells that the other lacks: no merging does that."""
    upper, lower = (steps([b[0] for b in row])[1:] for row in (above, below))
    return any(_lacks(lower, x) for x in upper) and any(_lacks(upper, x) for x in lower)


def _lacks(borders: Sequence[float], x: float) -> bool:
    return bool(borders) and all(abs(x - other) > 3 for other in borders)


def steps(values: list[float]) -> list[float]:
    out: list[float] = []
    for value in sorted(values):
        if not out or value - out[-1] > 2.0:
            out.append(value)
    return out
