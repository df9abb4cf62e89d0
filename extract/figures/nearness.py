"""How near a label stands to a figure: the nearest names it."""

from __future__ import annotations

import re
from collections.abc import Sequence

from extract.bounds import Bound
from extract.claims import Topic
from extract.figures.labels import Label, find_labels, stands
from extract.figures.pairs import paired
from extract.quantities import Quantity
from extract.units import Dimension

FAR = 90.0
"""Farther than this, in characters and penalties, a label no longer names a figure."""

_ABBREVIATION = re.compile(r"\b(?:min|mins|hrs?|secs?|approx|max|no|ft|gal|in|temp|vol|wt|sq|ca|art)\.")
_STATE_BEHIND = re.compile(r"\s?(?:wet|wft)\b")
_STAGES = {Topic.DRYING, Topic.MIXING, Topic.APPLICATION}


def distance(
    folded: str, printed: str, head_end: int, label: Label, q: Quantity, quantities: Sequence[Quantity]
) -> float:
    """How far the label stands from q, in characters and penalties; up to head_end the text is a label itself."""
    if label.start < q.end and q.lead < label.end:
        return 0.0
    if label.end <= q.start:
        gap = folded[label.end : min(q.lead, q.start)]
        between = [
            o for o in quantities if o is not q and o.dimension is q.dimension and label.end <= o.start < q.start
        ]
        cost = float(len(gap.strip())) + 25.0 * bool(between)
        if label.start < head_end:
            cost = min(cost, 30.0)
        cost += 60.0 * _breaks(gap) + 5.0 * gap.count(",")
        listed = folded[: label.start].rstrip().endswith(",")  # '5 min between coats, before stoving 15 min'
        if (
            not listed
            and folded.startswith("before ", label.start)
            and any(
                o.dimension is q.dimension and o.end <= label.start and not _breaks(folded[o.end : label.start])
                for o in quantities
            )
        ):
            cost += FAR  # '10 min before baking 30 min': the first is that before
        return cost
    gap = folded[q.end : label.start]
    plain = q.bound is Bound.NONE and q.dimension is Dimension.LENGTH
    if plain and len(gap) <= 1 and _STATE_BEHIND.match(folded, q.end):
        return -1.0  # '60 microns wet'
    if gap.startswith(".") and printed[q.end + 1 : q.end + 3].strip()[:1].islower():
        gap = gap[1:]  # 'Wait 20 min. between coats': the point shortens, and ends nothing
    between = [o for o in quantities if o is not q and o.dimension is q.dimension and q.end <= o.start < label.start]
    cost = 1.3 * len(gap.strip()) + 4.0 + 80.0 * bool(between)
    if _breaks(gap) or ":" in gap:
        return cost + 90.0
    return cost + 30.0 * bool(re.search(r",|\band\b|\bthen\b", gap))


def _breaks(gap: str) -> bool:
    return bool(re.search(r"[;•·∙▪]|[.!?]\s", _ABBREVIATION.sub(" ", gap)))


def stage_times(
    folded: str, quantities: Sequence[Quantity], next_coat: re.Pattern[str], language: str
) -> dict[int, bool]:
    """By their starts the times of a list of stages, True for those of a stage and False for those of the next coat.

    Empty where the text has not both: a lone time may well be a stage's and the next coat's in one.
    """
    times = [q for q in quantities if q.dimension is Dimension.TIME]
    if len(times) < 2:
        return {}
    pairs = paired(folded, 0, times, language)
    if pairs:
        return {start: label.spec.topic is not None for start, label in pairs.items()}
    labels = [
        lb
        for lb in find_labels(folded, frozenset({Dimension.TIME}), language=language)
        if not lb.weak and stands(lb.spec, folded, lb.start, lb.end, "")
    ]
    stages = [lb for lb in labels if lb.spec.topic in _STAGES]
    coats = [lb for lb in labels if lb.spec.topic is None and next_coat.search(folded[lb.start : lb.end])]
    if not stages or not coats:
        return {}
    out: dict[int, bool] = {}
    for q in times:
        ranked = [(distance(folded, folded, 0, lb, q, quantities), lb) for lb in (*stages, *coats)]
        far, nearest = min(ranked, key=lambda pair: pair[0])
        if far <= FAR:
            out[q.start] = nearest.spec.topic is not None
    return out
