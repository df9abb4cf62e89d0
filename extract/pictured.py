"""Claims whose words were read off a picture: marked, and never more than half sure."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from extract.claims import Box, Claim, SheetReading
from extract.reading.pages import Page

MOST_SURE = 0.6
"""A misread figure looks as good as a right one."""


def doubt_pictures(reading: SheetReading, pages: Sequence[Page]) -> SheetReading:
    """The reading with each claim that stands on a picture marked, its confidence scaled by how sure its lines are."""
    pictures = {page.number: page.sureness for page in pages if page.read_as_picture}
    if not pictures and not any(claim.from_picture for claim in reading.claims):
        return reading
    claims = tuple(_doubted(claim, pictures.get(claim.evidence.page)) for claim in reading.claims)
    return replace(reading, claims=claims)


def _doubted(claim: Claim, lines: list[tuple[Box, float]] | None) -> Claim:
    if lines is None:
        return replace(claim, from_picture=False)
    sure = min((s for box, s in lines if any(_meet(box, at) for at in claim.evidence.boxes)), default=0.5)
    return replace(claim, from_picture=True, confidence=min(claim.confidence * sure, MOST_SURE))


def _meet(a: Box, b: Box) -> bool:
    """Whether the middle of b lies in the height of a, and they share some width."""
    return a[1] <= (b[1] + b[3]) / 2 <= a[3] and min(a[2], b[2]) > max(a[0], b[0])
