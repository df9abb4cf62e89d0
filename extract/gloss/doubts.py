"""What the gloss did not understand, and the permissions that are held back for it."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from extract.claims import Box, Claim, Evidence, Stance, Topic
from extract.document import Passage
from extract.gloss.glossing import Gloss, clauses

_WORD = re.compile(r"[^\W\d_]{4,}")
_LEAVE = (Topic.GOES_OVER, Topic.TOPPED_BY, Topic.EXPOSURE)


@dataclass(frozen=True, slots=True)
class Doubt:
    """A place of the original whose words were not all understood. firm: one of them denies, limits or conditions."""

    page: int
    boxes: tuple[Box, ...]
    firm: bool


def doubts_of(source: Passage, gloss: Gloss) -> Iterator[Doubt]:
    """The doubtful clauses of a passage, each with what is named before its colon ('zinc: ...')."""
    named: int | None = None
    for start, end in clauses(source.text):
        firm = any(start <= a < end for a, _ in gloss.doubts)
        if firm or any(start <= a < end for a, _ in gloss.unknown):
            about = named is not None and (firm or _all_unknown(source.text, start, end, gloss.unknown))
            yield from doubt_about(source.part(named if about and named is not None else start, end), firm=firm)
        named = start if source.text[:end].rstrip().endswith(":") else None


def _all_unknown(text: str, start: int, end: int, unknown: Sequence[tuple[int, int]]) -> bool:
    """Whether not one word of a clause is known, but for small ones."""
    words = [m.start() for m in _WORD.finditer(text, start, end)]
    return bool(words) and all(any(a <= at < b for a, b in unknown) for at in words)


def doubt_about(passage: Passage, *, firm: bool) -> Iterator[Doubt]:
    """A doubt about a whole passage; nothing where none of it was printed."""
    if any(g is not None for g in passage.origins):
        evidence = passage.evidence()
        yield Doubt(evidence.page, evidence.boxes, firm)


def sure(claims: Iterable[Claim], doubts: Sequence[Doubt]) -> list[Claim]:
    """The claims without the permissions, and without the waits, that stand on doubtful words."""
    return [c for c in claims if not any(_touches(d, c.evidence) and _bears(d, c) for d in doubts)]


def _bears(doubt: Doubt, claim: Claim) -> bool:
    if claim.topic in _LEAVE and claim.stance is Stance.PERMITS:
        return True
    return doubt.firm and claim.topic is Topic.OVERCOAT_WINDOW


def _touches(doubt: Doubt, evidence: Evidence) -> bool:
    return doubt.page == evidence.page and any(_overlap(a, b) for a in doubt.boxes for b in evidence.boxes)


def _overlap(a: Box, b: Box) -> bool:
    """Whether two boxes share more than a touching edge."""
    return min(a[2], b[2]) - max(a[0], b[0]) > 0.5 and min(a[3], b[3]) - max(a[1], b[1]) > 0.3 * (a[3] - a[1])
