"""Which of several readings of one figure stays, and in which order claims are handed on."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from extract.claims import Claim, Topic


def _says(claim: Claim) -> tuple[Any, ...]:
    """What a claim says, without where: two with the same answer are one thing said twice."""
    return (
        claim.topic, claim.property, claim.stance, claim.object, claim.only, claim.conditions, claim.via, claim.low,
        claim.high, claim.unlimited, claim.at_c, claim.method, claim.parts, claim.basis, claim.subject,
        claim.text if claim.low is None and claim.high is None and not claim.parts else None,
    )  # fmt: skip


def without_doubles(claims: Iterable[Claim]) -> list[Claim]:
    """Exact doubles dropped, the surer one kept; and figures that a fuller claim already says.

    A coats, window or other verdict-bearing claim is never dropped unless it is an exact double.
    """
    best: dict[tuple[Any, ...], Claim] = {}
    for claim in claims:
        key = _says(claim)
        if key not in best or claim.confidence > best[key].confidence:
            best[key] = claim
    kept = list(best.values())
    alike: dict[tuple[Any, ...], list[Claim]] = {}
    for claim in kept:
        alike.setdefault(_of_one_sort(claim), []).append(claim)
    return [c for c in kept if not any(_is_said_by(c, other) for other in alike[_of_one_sort(c)] if other is not c)]


_FIGURES = {Topic.MIXING, Topic.FILM, Topic.APPLICATION, Topic.DRYING, Topic.STORAGE}


def _of_one_sort(claim: Claim) -> tuple[Any, ...]:
    return (claim.topic, claim.property, claim.stance)


def _is_said_by(claim: Claim, other: Claim) -> bool:
    """'Keep at 77 °F or below' beside 'between 40 and 77 °F'; a figure without its temperature beside the same with."""
    if claim.topic not in _FIGURES or _of_one_sort(claim) != _of_one_sort(other):
        return False
    if claim.parts or (claim.low is None and claim.high is None):
        return False
    same_figure = (claim.low, claim.high) == (other.low, other.high)
    if same_figure and claim.at_c is None and other.at_c is not None and claim.method in {None, other.method}:
        return True
    if claim.at_c != other.at_c or claim.method != other.method:
        return False
    if claim.low is None and other.low is not None and claim.high == other.high:
        return True
    return claim.high is None and other.high is not None and claim.low == other.low


def in_page_order(claims: Iterable[Claim]) -> list[Claim]:
    """By page and place, as a reader meets them."""
    return sorted(claims, key=lambda c: (c.evidence.page, _top(c), _left(c), c.topic.value, c.property or ""))


def _top(claim: Claim) -> float:
    return min((b[1] for b in claim.evidence.boxes), default=0.0)


def _left(claim: Claim) -> float:
    return min((b[0] for b in claim.evidence.boxes), default=0.0)
