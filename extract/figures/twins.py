"""One temperature for the air and the surface at once ('air and object 10-35 °C')."""

from __future__ import annotations

import re
from collections.abc import Sequence

from extract.figures.labels import Label
from extract.quantities import Quantity

_HAS_ITS_OWN = re.compile(r"\s*(?:[:=]|temp\w*|min\w*|max\w*|at least)?\.?[\s:=]*[+-]?\d")
"""A label with a figure behind it is none of the figure before it ('air: 10-30 °C, surface: 8-30 °C')."""
TWINS = {"air_temp", "surface_temp"}
_LINK = re.compile(
    r"[\s,/&]*(?:and|nor|or)?[\s,]*(?:material|product|paint)?[\s,]*(?:the|of the|of|both)?"
    r"\s*(?:temperatures?\s*)?(?:of the|of)?\s*"
)


def twin_of(folded: str, best: Label, q: Quantity, ranked: Sequence[tuple[float, Label]]) -> Label | None:
    """The other of air and surface where both are named for one temperature ('air and object 10-35 °C')."""
    if best.spec.property not in TWINS:
        return None
    wanted = "surface_temp" if best.spec.property == "air_temp" else "air_temp"
    side = [
        lb
        for _, lb in ranked
        if not lb.weak and lb.spec.property in TWINS and (lb.start >= q.end) == (best.start >= q.end)
    ]
    chain = [best]
    if best.start < q.end:
        # Labels behind the figure may be named after one before it: 'apply at 60-95 °F shop and panel temperature'.
        behind = [
            lb
            for _, lb in ranked
            if lb.start >= q.end
            and len(folded[q.end : lb.start].strip()) <= 2
            and not _HAS_ITS_OWN.match(folded, lb.end)
        ]
        chain += behind
        side += (
            [lb for _, lb in ranked if not lb.weak and lb.spec.property in TWINS and lb.start >= q.end]
            if behind
            else []
        )
    grown = True
    while grown:
        grown = False
        for label in side:
            if label not in chain and any(_linked(folded, label, known) for known in chain):
                chain.append(label)
                grown = True
    return next((lb for lb in chain if lb.spec.property == wanted), None)


def _linked(folded: str, a: Label, b: Label) -> bool:
    first, second = sorted((a, b), key=lambda lb: lb.start)
    return first.end >= second.start or bool(_LINK.fullmatch(folded[first.end : second.start]))
