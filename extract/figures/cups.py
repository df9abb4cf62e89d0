"""The flow cup that a viscosity in seconds was measured with: seconds of one cup say nothing in another."""

from __future__ import annotations

import re

_CUP = re.compile(
    r"(?:#\s?\d\s+(?:ez\s+)?zahn|(?:ez\s+)?zahn(?:\s*(?:cup)?\s*(?:no\.?|#)?\s*\d)?"
    r"|ford(?:\s*cup)?(?:\s*(?:no\.?|#)?\s*\d)?|(?:din|afnor|iso)\s*(?:cup\s*)?(?:53\s?211\s*)?(?:2431\s*)?\d?\s?(?:mm)?"
    r"|bs\s?b\s?4|bsb4|b\.?s\.? b4|frikmar\s*\d?|fc\s?4|cf\s?4)"
)


def find_cup(folded: str, near: int | None = None) -> tuple[int, int] | None:
    """Where a cup is named: the first, or the one nearest to a position. None where none is."""
    found = [(m.start(), m.end()) for m in _CUP.finditer(folded)]
    if not found:
        return None
    return found[0] if near is None else min(found, key=lambda span: min(abs(span[0] - near), abs(span[1] - near)))
