"""Rows between level rules whose cells are wrapped or set in the middle: their lines share columns, not baselines."""

from __future__ import annotations

import itertools
from collections.abc import Sequence

from extract.layout.pieces import Segment, gaps_between, merged

_GUTTER = 9.0
"""Points: the least gap between two columns."""
_SHARED = 6.0
"""Points by which the gutters of two neighbouring rows overlap."""
_MOST_LABEL_LINES = 5
_LONGEST_LABEL = 7
"""Words of a line."""
_TALLEST = 160.0
_SAME_BASE = 1.5
_NEXT_LINE = 1.5
"""Times the size: lines no further apart belong to one label."""
_SIZES = 0.3
"""Share of the size by which the type of one row's cells may differ."""


def columned(rows: Sequence[Sequence[Segment]], width: float) -> list[bool]:
    """For each row between two rules whether it is one of several that share their columns.

    rows holds the upright segments between each two rules, width is the rules' own, in points.
    """
    gutters = [gaps_between([(s.x0, s.x1) for s in row], _GUTTER) for row in rows]
    fit = [False] * len(rows)
    for n in range(len(rows)):
        for m in (n - 1, n + 1):
            if not 0 <= m < len(rows):
                continue
            shared = [g for g in gutters[n] if any(min(g[1], h[1]) - max(g[0], h[0]) >= _SHARED for h in gutters[m])]
            fit[n] = fit[n] or any(_names(rows[n], gutter[0], width) for gutter in shared[:1])
    return fit


def _names(row: Sequence[Segment], edge: float, width: float) -> bool:
    """Whether what stands left of the gutter is short enough to name what stands right of it."""
    label = [s for s in row if s.x1 <= edge + 0.1]
    if not label or len(label) == len(row):
        return False
    sizes = [s.size for s in row]
    tall = max(s.ink_bottom for s in row) - min(s.ink_top for s in row)
    return (
        max(sizes) - min(sizes) <= _SIZES * max(sizes)
        and tall <= _TALLEST
        and len(label) <= _MOST_LABEL_LINES
        and all(len(s.words) <= _LONGEST_LABEL for s in label)
        and not any(s.bullet for s in label)
        and max(s.x1 for s in label) - min(s.x0 for s in label) <= 0.6 * width
    )


def is_one(row: Sequence[Segment]) -> bool:
    """Whether the lines between two rules are one row: a label in one piece beside cells at heights of their own."""
    gutters = gaps_between([(s.x0, s.x1) for s in row], _GUTTER * 0.7)
    if not gutters:
        return len({round(s.base) for s in row}) <= 2
    label = sorted((s for s in row if s.x1 <= gutters[0][0] + 0.1), key=lambda s: s.base)
    others = [s for s in row if s.x0 >= gutters[0][1] - 0.1]
    if any(b.base - a.base > _NEXT_LINE * a.size for a, b in itertools.pairwise(label)):
        return False
    if len(label) < 2:
        return True
    return any(all(abs(s.base - line.base) > _SAME_BASE for line in label) for s in others)


def as_parts(row: Sequence[Segment]) -> list[Segment]:
    """The row's lines drawn together by column, one part each, left to right: only their reach counts."""
    parts: list[Segment] = []
    for segment in sorted(row, key=lambda s: s.x0):
        if parts and segment.x0 < parts[-1].x1 + 1:
            parts[-1] = merged(parts[-1], segment)
        else:
            parts.append(segment)
    return parts
