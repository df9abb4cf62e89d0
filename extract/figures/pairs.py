"""Labels and times that stand in two lists of like length: 'Touch dry / hard dry: 20 min / 6 h'."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import replace
from itertools import pairwise

from extract.figures.labels import Label, find_labels
from extract.quantities import Quantity
from extract.units import Dimension

_TIMES_PARTED = re.compile(r"\s*[/,;|]\s*")
_LABELS_PARTED = re.compile(r"[/|]")


def paired(folded: str, head_end: int, times: Sequence[Quantity], language: str) -> Mapping[int, Label]:
    """By their starts the times with the labels of their places; empty where the lists do not answer one another.

    head_end is where a label before the times ends; 0 where a colon has to tell.
    """
    end = head_end or folded.find(":")
    values = [q for q in times if q.start >= end]
    if end <= 0 or len(values) < 2 or not _LABELS_PARTED.search(folded, 0, end):
        return {}
    gaps = (folded[a.end : b.start] for a, b in pairwise(values))
    named = [_only(folded, a, b, language) for a, b in _parts(folded, end)]
    if len(named) != len(values) or not all(_TIMES_PARTED.fullmatch(g) for g in gaps):
        return {}
    return {q.start: lb for q, lb in zip(values, named, strict=True) if lb is not None} if all(named) else {}


def _parts(folded: str, end: int) -> list[tuple[int, int]]:
    cuts = [(m.start(), m.end()) for m in _LABELS_PARTED.finditer(folded, 0, end)]
    return list(zip([0, *(e for _, e in cuts)], [*(s for s, _ in cuts), end], strict=True))


def _only(folded: str, start: int, end: int, language: str) -> Label | None:
    """The one label of a part; None where it has none, or labels of several figures."""
    found = find_labels(folded[start:end], frozenset({Dimension.TIME}), short=True, language=language)
    strong = [lb for lb in found if not lb.weak]
    if len({lb.spec.key() for lb in strong}) != 1:
        return None
    first = strong[0]
    return replace(first, start=first.start + start, end=first.end + start)
