"""What every bench sum returns: the figure with its formula, its source and where it holds."""

from __future__ import annotations

from dataclasses import dataclass

from store.errors import StoreError


@dataclass(frozen=True, slots=True)
class Result:
    """A figure in unit; formula as a painter would write it with the numbers in; source; valid_for in words.

    word is what it comes to where that is a grade or a judgement ('medium', 'accepted') rather than a figure.
    """

    value: float
    unit: str
    formula: str
    source: str
    valid_for: str
    notes: tuple[str, ...] = ()
    word: str = ""


class OutOfRange(StoreError):
    """An input outside what the formula holds for. Fields name the input and its limits (None: no limit)."""

    def __init__(self, name: str, value: float, low: float | None, high: float | None, unit: str) -> None:
        super().__init__(f"{name} {value:g} {unit} outside {low} to {high}")
        self.name = name
        self.value = value
        self.low = low
        self.high = high
        self.unit = unit


def within(name: str, value: float, low: float | None, high: float | None, unit: str) -> float:
    """The value, or OutOfRange. NaN is outside every range."""
    too_low = low is not None and not value >= low
    too_high = high is not None and not value <= high
    if too_low or too_high or value != value:  # noqa: PLR0124 - NaN
        raise OutOfRange(name, value, low, high, unit)
    return value


def above_zero(name: str, value: float, unit: str) -> float:
    """The value where it is more than nothing and finite, or OutOfRange."""
    if not 0 < value < float("inf"):
        raise OutOfRange(name, value, 0, None, unit)
    return value


def density_of(name: str, density: float) -> float:
    """The density in kg/l, or OutOfRange: no paint is lighter than 0.3 nor heavier than zinc, and g/l are not meant."""
    return within(f"density of {name}" if name else "density", density, 0.3, 8, "kg/l")


COMMON_PRACTICE = "common practice, no source"
