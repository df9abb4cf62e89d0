"""Flash-off and bake told apart where one sentence gives both: 'flash 15 min, then 40 min at 65 °C'."""

from __future__ import annotations

from extract.claims import Method
from extract.figures.governing import HOT, heat_words
from extract.figures.labels import Label
from extract.quantities import Quantity, find_quantities
from extract.units import Dimension


def is_bake(label: Label, q: Quantity, at: Quantity | None) -> bool:
    """Whether a time that a word for flashing off names is the oven's: nothing flashes off at the heat behind it."""
    if label.spec.property != "flash_off" or at is None or at.value < HOT:
        return False
    return at.start >= q.end or label.end <= at.start


def comes_before_oven(behind: str) -> bool:
    """Whether the words behind a flash-off (folded) go on with a time in the oven."""
    found = [q.dimension for q in find_quantities(behind) if q.dimension is not Dimension.TEMPERATURE or q.value >= HOT]
    return found[:2] == [Dimension.TIME, Dimension.TEMPERATURE]


def first_heat(behind: str) -> Method | None:
    """The first heat that the words behind a flash-off name: 'before force drying or IR'."""
    found = heat_words(behind)
    return min(found, key=lambda m: found[m]) if found else None
