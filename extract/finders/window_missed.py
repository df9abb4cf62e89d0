"""What has to be done to the film once its window has passed: abraded, or washed."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from extract.claims import Claim, Condition, Stance, Topic, Why
from extract.clauses.cues import Cues
from extract.document import Statement
from extract.finders.window_coats import NextCoat
from extract.quantities import Quantity, find_quantities
from extract.units import Dimension


def abrade_after(
    block: Statement,
    folded: str,
    start: int,
    permitted: Sequence[NextCoat],
    known: Cues,
    scanned: bool,
    under_heading: bool,
) -> Iterator[Claim]:
    """The claims of folded[start:], which says what is done then; permitted are the coats named before."""
    tail = folded[start:]
    grades = [q for q in find_quantities(tail) if q.dimension is Dimension.GRADE]
    pad = next(
        (
            m
            for m in known.window["pads"].finditer(tail)
            if not re.search(r"\b(?:without|no|not) (?:\w+ )?$", tail[: m.start()])
        ),
        None,
    )
    washed = known.window["washes"].search(tail) if not grades and pad is None else None
    if washed is not None and _UNASKED.search(tail):
        return
    if not grades and pad is None and washed is None:
        return
    if re.search(r"polish|dust inclusion|inclusions", folded) or _POSSIBLE.search(tail):
        return
    if re.search(r"\b(?:sand(?:ed)? off|do not sand|no sanding|without sanding)\b", tail) and not grades:
        return
    end = len(folded)
    own = [c.object for c in permitted if c.start < start]
    object_ = own[0] if own and len(set(own)) == 1 else None
    evidence = block.passage.evidence(start, end)
    why = Why("what to do past the latest time", (tail[: min(40, len(tail))],))
    bare = _BARE_GRADE.search(tail) if not grades else None
    figures: list[Quantity | None] = [*grades, *(find_quantities(f"p{bare.group(1) or bare.group(2)}") if bare else ())]
    figures = figures or [None]
    for q in figures:
        yield Claim(
            topic=Topic.OVERCOAT_WINDOW,
            property="abrade_after",
            stance=Stance.REQUIRES,
            evidence=evidence,
            object=object_,
            conditions=(Condition.CLEAN,) if washed is not None else (),
            low=q.low if q is not None else None,
            high=q.high if q is not None else None,
            unit="P" if q is not None else None,
            text=_how(tail, q if bare is None else None, washed or pad) if q is None or bare is None else None,
            confidence=0.8 if under_heading else 0.7,
            from_picture=scanned,
            why=why,
        )


def _how(tail: str, grade: Quantity | None, worked: re.Match[str] | None) -> str | None:
    """The words beside the grade, or those for what is done without one."""
    if grade is not None:
        return _manner(tail, grade)
    return worked.group() if worked is not None else None


_UNASKED = re.compile(r"\b(?:not|never|no|n't|can|may|could|avoid)\b")
"""Leave to wash, or none, asks for nothing."""
_BARE_GRADE = re.compile(
    r"\b(?:sand(?:ed|ing)?|scuff(?:ed)?|flat(?:ted)?|abrade[d]?|paper)"
    r"(?: it| lightly| back| with| to| using| by| at| in)* (\d{2,4})\b(?! ?(?:°|%|µ|mil|mm|h\b|hours?|min|days?|d\b))"
    r"|\b(\d{2,4}) (?:scuff|sand|paper|pad)"
)
"""US sheets print a grade as a bare number beside the word for sanding ('sand 400')."""
_POSSIBLE = re.compile(
    r"^[^.;]*\b(?:may|can|could) (?:then |already |also )?be (?:dry |wet |machine )?(?:sand|abrad|flat|rubb)\w*"
    r"|^[^.;]*\bsanding (?:is )?possible"
)
"""'After 5 hours it can be sanded': when it is hard enough, and nothing that must be done."""


def _manner(tail: str, q: Quantity) -> str | None:
    match = re.match(r" ?(dry|wet)\b", tail[q.end :])
    return match.group(1) if match else None
