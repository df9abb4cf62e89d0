"""What a cup and a scale can show: steps for the base so that the whole mix falls on the marks."""

from __future__ import annotations

import math
from collections.abc import Sequence
from enum import StrEnum
from fractions import Fraction

_MOST_STEPS = 12
"""A base step of more than so many marks would waste paint for the sake of a round figure."""


class Measure(StrEnum):
    """What the mix is measured with, and the finest that it shows."""

    CUP = "cup"
    """Marks of 10 ml."""
    SCALE = "scale"
    """Whole grams."""
    FINE_SCALE = "fine_scale"
    """Tenths of a gram."""

    @property
    def mark(self) -> float:
        return {Measure.CUP: 10.0, Measure.SCALE: 1.0, Measure.FINE_SCALE: 0.1}[self]


def cup_step(parts: Sequence[float], mark: float = 10.0) -> float:
    """The smallest step of the first part, in ml, that puts every part of a ratio by volume on a mark of the cup.

    4:1 goes in steps of 40 ml to 10 ml. A ratio that would need steps of more than twelve marks keeps the plain
    mark for its base, and its other parts fall between marks. Raises ValueError on parts that are not above nothing.
    """
    if not parts or any(part <= 0 or not math.isfinite(part) for part in parts):
        raise ValueError("parts must be above nothing")
    ratios = [Fraction(part).limit_denominator(1000) / Fraction(parts[0]).limit_denominator(1000) for part in parts]
    steps = math.lcm(*(ratio.denominator for ratio in ratios))
    return mark * steps if steps <= _MOST_STEPS else mark


def on_marks(value: float, mark: float) -> float:
    """The mark nearest to a value."""
    return round(value / mark) * mark
