"""Columns set so close that one line runs through them: it is cut as the lines about it are."""

from __future__ import annotations

import itertools
from collections.abc import Sequence

from extract.layout.pieces import Segment, part_of

_SAME_START = 0.8
"""Points within which parts of several lines begin one column."""
_NEAR = 5.0
"""Times the size: lines further off set no columns for a line."""
_NEXT = 2.5
"""Times the size: the nearest line that does stands no further off."""
_PLAIN_BLANK = 0.42
"""Times the size: a blank between words is no wider."""
_USUAL_BLANKS = 1.45
"""The same in blanks of the line."""


def cut_like_neighbours(segments: list[Segment]) -> list[Segment]:
    """Segments with each line cut where the lines about it are that have a wider blank there.

    In a table set without rules the longest label may come within a word's blank of the values' column.
    """
    starts: list[tuple[float, float]] = []
    for left, right in itertools.pairwise(segments):
        if not right.angle and abs(left.base - right.base) < 0.2 * right.size and right.x0 > left.x1:
            starts.append((right.x0, right.base))
    if len(starts) < 2:
        return segments
    out: list[Segment] = []
    for segment in segments:
        at = _cut_at(segment, starts)
        if at:
            out.extend((part_of(segment, segment.words[:at]), part_of(segment, segment.words[at:])))
        else:
            out.append(segment)
    return out


def _cut_at(segment: Segment, starts: Sequence[tuple[float, float]]) -> int:
    """The word before which a line is cut; 0 where none is."""
    words = segment.words
    if segment.angle or len(words) < 2 or segment.bullet:
        return 0
    blanks = sorted(b.x0 - a.x1 for a, b in itertools.pairwise(words))
    usual = blanks[len(blanks) // 2] if len(blanks) > 1 else 0.0
    least = max(_PLAIN_BLANK * segment.size, _USUAL_BLANKS * min(usual, 0.3 * segment.size))
    for i, (a, b) in enumerate(itertools.pairwise(words), 1):
        if b.x0 - a.x1 <= least:
            continue
        off = sorted(abs(base - segment.base) for x, base in starts if abs(x - b.x0) <= _SAME_START)
        off = [d for d in off if 0 < d <= _NEAR * segment.size]
        if len(off) > 1 and off[0] <= _NEXT * segment.size:
            return i
    return 0
