"""Forms between level rules whose labels stand beside whole tables."""

from __future__ import annotations

from collections.abc import Sequence

from extract.claims import Box
from extract.layout.columns import rows_of
from extract.layout.pieces import Grid, GridCell, Segment, gaps_between

_GUTTER = 9.0
"""Points: the least gap between two columns."""
_MOST_LABEL_LINES = 4
_LEAST_ROWS = 3


def form_of_bands(page: int, box: Box, groups: Sequence[Sequence[Segment]]) -> Grid | None:
    """A form between level rules, whose labels stand beside whole tables; None where its rows are not so.

    groups holds the segments between each two rules.
    """
    gutters = gaps_between([(s.x0, s.x1) for group in groups for s in group], _GUTTER)
    if len(groups) < 2 or not gutters or any(s.angle for group in groups for s in group):
        return None
    edge = gutters[0]
    rows = [([s for s in g if s.x1 <= edge[0] + 0.1], [s for s in g if s.x0 >= edge[1] - 0.1]) for g in groups]
    if not all(label and held for label, held in rows):
        return None
    labels = [label for label, _ in rows]
    named = all(all(s.bold for s in label) and len(rows_of(label)) <= _MOST_LABEL_LINES for label in labels)
    topped = all(
        min(s.ink_top for s in label) < min(s.ink_top for s in held) + 1.2 * label[0].size for label, held in rows
    )
    if not named or not topped or sum(holds_table(held) for _, held in rows) < 2:
        return None
    cells = [GridCell(n, n + 1, c, c + 1, list(part)) for n, parts in enumerate(rows) for c, part in enumerate(parts)]
    return Grid(page, box, len(rows), 2, cells, True, (box[0], edge[1], box[2]))


def holds_table(segments: Sequence[Segment]) -> bool:
    """Whether several lines stand together that each have several parts."""
    lines = rows_of(list(segments))
    return len(lines) >= _LEAST_ROWS and sum(len(line) > 1 for line in lines) >= 0.6 * len(lines)
