"""Flash-off and bake told apart where one sentence gives both: 'flash 15 min, then 40 min at 65 °C'."""

from __future__ import annotations

import re

from extract.claims import Method
from extract.figures.governing import HOT, heat_words, method_of
from extract.figures.labels import Label
from extract.quantities import Quantity, find_quantities
from extract.units import Dimension


def is_bake(label: Label, q: Quantity, at: Quantity | None) -> bool:
    """Whether a time that a word for flashing off names is the oven's: nothing flashes off at the heat behind it."""
    if label.spec.property != "flash_off" or at is None or at.value < HOT:
        return False
    return at.start >= q.end or label.end <= at.start


def heat_behind(folded: str, q: Quantity, label: Label) -> Method | None:
    """What heat a flash-off of q, named by label, comes before: 'between coats' comes before none."""
    start, end = min(label.start, q.start), max(label.end, q.end)
    if re.match(r"\s*between", folded[q.end :]):
        return None
    rest = re.match(r"(?:(?!\band\s+\d)[^,;.]|(?<=min)\.|,\s*(?:and )?then\b)*", folded[end:])
    named = method_of(folded[start:end] + (rest.group() if rest else ""))
    behind = re.split(r";|(?<!min)\.\s", folded[end:])[0]
    if named is None and _goes_on_to_oven(behind):
        return Method.FORCE
    if named is Method.IR:
        return _first_heat(behind) or named
    if named is None and re.search(r"\bafter (?:an? |[a-z-]+ ){0,6}$", folded[:start] + folded[label.start : q.lead]):
        # 'Short wave: 10 min after 5 min of evaporation.'
        named = method_of(re.split(r"[.;]\s", folded[:start])[-1])
    return None if named is Method.AIR else named


def _goes_on_to_oven(behind: str) -> bool:
    """Whether the words behind a flash-off (folded) go on with a time in the oven."""
    found = [q.dimension for q in find_quantities(behind) if q.dimension is not Dimension.TEMPERATURE or q.value >= HOT]
    return found[:2] == [Dimension.TIME, Dimension.TEMPERATURE]


def _first_heat(behind: str) -> Method | None:
    """The first heat that the words behind a flash-off name: 'before force drying or IR'."""
    found = heat_words(behind)
    return min(found, key=lambda m: found[m]) if found else None
