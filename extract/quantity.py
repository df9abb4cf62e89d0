"""A figure of a text, with its unit and its bounds: what the grammar of quantities.py hands out."""

from __future__ import annotations

from dataclasses import dataclass, replace

from extract.bounds import Bound
from extract.units import Dimension, units


@dataclass(frozen=True, slots=True)
class Quantity:
    """A figure, in the canonical unit of its dimension; start and end are where its words stand.

    printed is the text as matched, printed_low, printed_high and printed_unit the figure before conversion.
    lead is where bound and 'about' words before the figure begin.
    """

    start: int
    end: int
    low: float | None
    high: float | None
    unit: str
    dimension: Dimension
    bound: Bound = Bound.NONE
    approximate: bool = False
    printed: str = ""
    printed_low: float | None = None
    printed_high: float | None = None
    printed_unit: str = ""
    lead: int = 0
    word: str = ""
    """A time that is a word and not a figure ('overnight', 'same day'); the values are its usual meaning."""

    @property
    def value(self) -> float:
        """The single value, or the middle of a range, or the one bound that is set."""
        if self.low is not None and self.high is not None:
            return (self.low + self.high) / 2
        return self.low if self.low is not None else (self.high or 0.0)

    def as_difference(self) -> Quantity:
        """A temperature taken as a difference: 5 degF is 2.78 K."""
        if self.dimension is not Dimension.TEMPERATURE:
            return self
        unit = units()[self.printed_unit]
        low = None if self.printed_low is None else unit.difference(self.printed_low)
        high = None if self.printed_high is None else unit.difference(self.printed_high)
        return replace(self, low=low, high=high, dimension=Dimension.TEMPERATURE_DIFFERENCE)

    def flipped(self) -> Quantity:
        """The bound turned round, for a negated clause: 'do not apply below 10 degC' is at least 10."""
        match self.bound:
            case Bound.LEAST:
                return replace(self, bound=Bound.MOST, low=None, high=self.low, printed_low=None,
                               printed_high=self.printed_low)  # fmt: skip
            case Bound.MOST:
                return replace(self, bound=Bound.LEAST, low=self.high, high=None, printed_low=self.printed_high,
                               printed_high=None)  # fmt: skip
            case _:
                return self
