"""Rules as pdfplumber's finder takes them, and the outer ones that an open table lacks."""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from typing import Any

from extract.layout.pieces import Segment, inside
from extract.reading.marks import Rule

Edge = dict[str, Any]
_SAME_BREAK = 1.0
"""Points between the end of one cell's rule and the beginning of the next one's."""
_TALLEST_ROW = 90.0
"""Points between two rules of one table."""

_SAME_REACH = 4.0
"""Points: level rules that begin and end within it belong to one stack."""
_NEXT_CELL = 14.0
"""Points between the rules of two cells beside one another."""
SHORTEST = 12.0


def missing_sides(merged: Sequence[Edge], segments: Sequence[Segment]) -> list[Edge]:
    """The outer edges that a table lacks whose inner ones are drawn: rules that run on past the outermost uprights.

    Only where something stands in the open cells.
    """
    out: list[Edge] = []
    left = [e for e in merged if e["orientation"] == "h"]
    uprights = [e for e in merged if e["orientation"] == "v"]
    while left:
        first = left[0]
        stack = [e for e in left if same_reach(e, first)]
        left = [e for e in left if not any(e is s for s in stack)]
        stack.sort(key=lambda e: e["top"])
        for group in _crossed_together(stack, uprights):
            levels = [e for e in group if e["orientation"] == "h"]
            crossing = [e for e in group if e["orientation"] == "v"]
            if len(levels) < 2 or not crossing:
                continue
            x0, x1 = min(e["x0"] for e in levels), max(e["x1"] for e in levels)
            top, bottom = min(e["top"] for e in group), max(e["bottom"] for e in group)
            for x, inner in ((x0, min(e["x0"] for e in crossing)), (x1, max(e["x0"] for e in crossing))):
                drawn = [
                    e for e in uprights if abs(e["x0"] - x) <= 6 and e["top"] < bottom - 6 and e["bottom"] > top + 6
                ]
                if drawn and min(e["top"] for e in drawn) - top > 6:  # the heads alone stand open
                    out.append(edge_of(Rule(drawn[0]["x0"], top, drawn[0]["x0"], min(e["top"] for e in drawn))))
                if drawn:
                    continue
                low, high = min(x, inner), max(x, inner)
                if high - low > SHORTEST and any(inside(s, (low, top, high, bottom), 0.0) for s in segments):
                    out.append(edge_of(Rule(x, top, x, bottom)))
            for y, nearest in ((top, levels[0]["top"]), (bottom, levels[-1]["top"])):
                if abs(y - nearest) > 6 and any(
                    inside(s, (x0, min(y, nearest), x1, max(y, nearest)), 0.0) for s in segments
                ):
                    out.append(edge_of(Rule(x0, y, x1, y)))
    return out


def _crossed_together(stack: Sequence[Edge], uprights: Sequence[Edge]) -> list[list[Edge]]:
    """Level rules of one reach in groups that some upright rule inside their reach runs through, with those rules."""
    inner = [e for e in uprights if stack[0]["x0"] + 6 < e["x0"] < stack[0]["x1"] - 6]
    groups: list[list[Edge]] = []
    for level in stack:
        crossing = [e for e in inner if e["top"] - 2 <= level["top"] <= e["bottom"] + 2]
        home = next((g for g in groups if any(c is m for c in crossing for m in g)), None)
        if home is None:
            groups.append([level, *crossing])
        else:
            home.append(level)
            home.extend(c for c in crossing if not any(c is m for m in home))
    return groups


def same_reach(edge: Edge, other: Edge) -> bool:
    """Whether two level rules begin and end together."""
    return bool(abs(edge["x0"] - other["x0"]) <= _SAME_REACH and abs(edge["x1"] - other["x1"]) <= _SAME_REACH)


def edge_of(rule: Rule) -> Edge:
    """A rule as an edge."""
    return {
        "x0": rule.x0,
        "x1": rule.x1,
        "top": rule.top,
        "bottom": rule.bottom,
        "width": rule.x1 - rule.x0,
        "height": rule.bottom - rule.top,
        "orientation": "h" if rule.level else "v",
        "object_type": "line",
    }


def parted_uprights(rules: Sequence[Edge], segments: Sequence[Segment]) -> list[Edge]:
    """Upright edges where level rules of several heights break off and go on: the borders of cells drawn one by one.

    Only where no upright rule is drawn beside them.
    """
    levels = [e for e in rules if e["orientation"] == "h"]
    heights: dict[int, list[Edge]] = {}
    for edge in levels:
        heights.setdefault(round(edge["top"]), []).append(edge)
    breaks: dict[int, list[float]] = {}
    for edges in heights.values():
        edges.sort(key=lambda e: e["x0"])
        for left, right in itertools.pairwise(edges):
            if abs(right["x0"] - left["x1"]) <= _SAME_BREAK:
                breaks.setdefault(round(right["x0"]), []).append(float(left["top"]))
    drawn = [e for e in rules if e["orientation"] == "v"]
    found = [
        (x, run)
        for x, tops in breaks.items()
        for run in _runs_of(sorted(tops))
        if len(run) > 1 and not any(e["top"] < run[-1] - 2 and e["bottom"] > run[0] + 2 for e in drawn)
    ]
    # A text across a border, or a second line of heads, says that cells are merged: alignment reads that better.
    unfit = {
        round(run[-1]) for x, run in found if _is_crossed(x, run, segments) or _has_two_heads(run[0], levels, segments)
    }
    return [
        edge_of(Rule(x, _over_heads(run[0], x, levels, segments), x, run[-1]))
        for x, run in sorted(found)
        if round(run[-1]) not in unfit
    ]


def _is_crossed(x: float, run: Sequence[float], segments: Sequence[Segment]) -> bool:
    return any(
        s.x0 < x - 2 and s.x1 > x + 2 and run[0] - 1.2 * s.size < s.base < run[-1] for s in segments if not s.angle
    )


def _has_two_heads(top: float, levels: Sequence[Edge], segments: Sequence[Segment]) -> bool:
    """Whether a line of several parts stands close over the line of heads."""
    here = [e for e in levels if abs(e["top"] - top) <= 1]
    x0, x1 = min(e["x0"] for e in here), max(e["x1"] for e in here)
    upper = [
        s
        for s in segments
        if not s.angle and x0 - 2 < s.x0 and s.x1 < x1 + 2 and 0.9 * s.size <= top - s.base < 3 * s.size
    ]
    return bool(upper) and min(s.x0 for s in upper) > x0 + 20


def _runs_of(tops: Sequence[float]) -> list[list[float]]:
    runs: list[list[float]] = []
    for top in tops:
        if runs and top - runs[-1][-1] <= _TALLEST_ROW:
            runs[-1].append(top)
        else:
            runs.append([top])
    return runs


def _over_heads(top: float, x: float, levels: Sequence[Edge], segments: Sequence[Segment]) -> float:
    """The top of a line of heads that stands straight over the first rule, on both sides of x; else that rule's."""
    here = [e for e in levels if abs(e["top"] - top) <= 1]
    x0, x1 = min(e["x0"] for e in here), max(e["x1"] for e in here)
    line = [s for s in segments if not s.angle and 0 < top - s.base < 0.9 * s.size and x0 - 2 < s.x0 and s.x1 < x1 + 2]
    if len(line) < 2 or len({round(s.base) for s in line}) > 1 or any(s.x0 < x - 2 and s.x1 > x + 2 for s in line):
        return top
    return min(s.ink_top for s in line) - 3


def underscores(edge: Edge, levels: Sequence[Edge], segments: Sequence[Segment]) -> bool:
    """Whether a level edge underscores a heading, a lone bold line at its left end: no table's last rule."""
    over = [s for s in segments if not s.angle and 0 < edge["top"] - s.base < 0.9 * s.size and _within(s, edge)]
    if len(over) != 1 or not over[0].bold or over[0].x0 - edge["x0"] > 8 or over[0].x1 > edge["x1"] - 20:
        return False
    line = over[0]
    if any(s is not line and abs(s.base - line.base) < 3 and _within(s, edge) for s in segments):
        return False
    level = [e for e in levels if e is not edge and abs(e["top"] - edge["top"]) <= 2]
    if any(abs(e["x0"] - edge["x1"]) <= _NEXT_CELL or abs(edge["x0"] - e["x1"]) <= _NEXT_CELL for e in level):
        return False
    below = sorted((s for s in segments if s.base > edge["top"] and _within(s, edge)), key=lambda s: s.base)[:4]
    letters = [c for c in line.text if c.isalpha()]
    capitals = len(letters) > 3 and all(c.isupper() for c in letters)
    if not capitals and not all(line.size > 1.08 * s.size for s in below):
        return False
    near = 2.4 * line.size
    beside = [e["top"] - edge["top"] for e in levels if e is not edge and same_reach(e, edge)]
    return not (any(-near < d < -3 for d in beside) and any(3 < d < near for d in beside))


def _within(segment: Segment, edge: Edge) -> bool:
    return bool(segment.x0 < edge["x1"] and segment.x1 > edge["x0"])
