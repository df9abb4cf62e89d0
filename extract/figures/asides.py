"""Figures that only tell what another figure is reckoned at, or which thinner to take: no claims of their own."""

from __future__ import annotations

import re
from collections.abc import Sequence

from extract.bounds import Bound
from extract.quantities import Quantity
from extract.units import Dimension

_RATE_FOR = re.compile(r"\b(?:rate|coverage|yield|usage|spread)\b[^.;\d]*\b(?:for|at)\s+(?:an?\s+)?(?:film of\s+)?$")
_CHOICE_OF_SPEED = re.compile(
    r"\b(?:slow|fast|medium|rapid|standard|normal|long|extra slow|quick)\b[^.;,]{0,14}"
    r"\b(?:thinner|reducer|hardener|activator|diluent|solvent)"
)
"""Temperatures beside which thinner or hardener to take bound no work."""


def is_reference(folded: str, quantities: Sequence[Quantity], i: int) -> bool:
    """A film that a coverage is reckoned at: '9 m²/l at 50 µm'."""
    if quantities[i].dimension is not Dimension.LENGTH:
        return False
    follows = i + 1 < len(quantities) and quantities[i + 1].dimension is Dimension.COVERAGE
    if follows and _RATE_FOR.search(folded[: quantities[i].lead]):
        return True  # 'the spreading rate for 50 µm of dry film is 12 m²/l'
    if i == 0:
        return False
    gap = folded[quantities[i - 1].end : quantities[i].lead]
    return quantities[i - 1].dimension in {
        Dimension.COVERAGE,
        Dimension.AREA,
        Dimension.AREA_PER_MASS,
        Dimension.VOLUME_PER_AREA,
        Dimension.MASS_PER_AREA,
    } and bool(re.fullmatch(r"\.?(?:\s+of [a-z -]{1,30})?[\s,(]*(?:at|@|for|of|with|,)?\s*(?:an?|the|dft of)?\s*", gap))


def is_test_climate(folded: str, quantities: Sequence[Quantity], i: int, used: set[int]) -> bool:
    """The humidity of 'at 25 °C and 50 % relative humidity' tells where a time was measured."""
    if quantities[i].dimension is not Dimension.PERCENT or i - 1 not in used or quantities[i].bound is not Bound.NONE:
        return False
    gap = folded[quantities[i - 1].end : quantities[i].lead]
    return bool(re.fullmatch(r"\s*\)?(?:,|/|and|&|with|at|\s)*", gap))


def is_choice_of_speed(folded: str, q: Quantity) -> bool:
    """Whether a temperature tells which thinner or hardener to take."""
    left = max(folded.rfind(sign, 0, q.start) for sign in ".;,(")
    right = re.search(r"[.;,)](?!\d)", folded[q.end :])
    clause = folded[left + 1 : q.end + right.start() if right else len(folded)]
    return _CHOICE_OF_SPEED.search(clause) is not None
