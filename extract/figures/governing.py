"""What governs a figure without being it: the temperature it holds at and the way of drying."""

from __future__ import annotations

import re
from collections.abc import Sequence

from extract.bounds import Bound
from extract.claims import Method
from extract.quantities import Quantity, find_quantities
from extract.units import Dimension

_IR = re.compile(
    r"(?<![a-z])(?:ir|i\.r\.?|infra[- ]?red|infrared|(?:short|medium|long)[- ]?wave|lamps?|nir|uv[- ]?a?)(?![a-z])"
)
_FORCE = re.compile(
    r"(?<![a-z])(?:ovens?|bak(?:e[ds]?|ing)|stov(?:e[ds]?|ing)|force[sd]?|forced|low[- ]bake|heat(?:ed|ing)?|"
    r"accelerated|"
    r"(?:object|metal|panel|part|piece|substrate|surface|effective|body)\s+temp(?:erature)?|booth dr\w+|box|convection)"
    r"(?![a-z])"
)
_OVEN = re.compile(r"(?<![a-z])(?:ovens?|bak(?:e[ds]?|ing)|stov(?:e[ds]?|ing))(?![a-z])")
_FORCED = re.compile(r"\bforced?[- ](?:dr\w+|cur\w+)")
_AIR = re.compile(r"(?<![a-z])(?:air(?:[- ]?dr\w+)?|ambient|room temp\w*|natural(?:ly)?|normal conditions)(?![a-z])")
HOT = 40.0
"""From this object temperature in degC on, drying is forced unless the sheet prints another method."""

_WIDE = 12.0
"""Kelvin: a range as wide as this is no temperature that a figure was measured at."""

_BEFORE_GOVERNING = re.compile(
    r"(?:\bat|@|/|\(|\bfor|\bfrom|,|\bat (?:a )?temperature(?: of)?|\bat an? \w+ temperature of"
    r"|\bof|\bin|\bwith|\bto|:|-|="
    r"|\babove|\bbelow|\bat approx\.?|\bat about)\s*$"
)
_NOT_GOVERNING = re.compile(
    r"\b(?:stor\w+|keep|kept|apply|applied|application|(?<!before )use[ds]?|spray\w*|work\w*|unopened,?|"
    r"conditioned|(?<!\bat )(?<!\bat a )temperatures?|"
    r"cool|warm|heat\w*|exposed|between|range)\s+(?:it\s+|only\s+|preferably\s+|cool,?\s+)?"
    r"(?:at|between|from|to|of|above|below|in|for|\()?\s*$"
)


def method_of(folded: str) -> Method | None:
    """The way of drying that a head, a label or a sentence names."""
    if _IR.search(folded) and not _OVEN.search(folded):
        return Method.IR
    if _FORCE.search(folded):
        return Method.FORCE
    if _AIR.search(folded):
        return Method.AIR
    return None


def heat_of(folded: str) -> Method | None:
    """The lamp or the oven that a clause names; None where it names neither, whatever it says of temperatures."""
    if _OVEN.search(folded) or _FORCED.search(folded):
        return Method.FORCE
    return Method.IR if _IR.search(folded) else None


def heat_words(folded: str) -> dict[Method, int]:
    """Where a text first names a lamp and where an oven or forced drying."""
    found = {Method.IR: _IR.search(folded), Method.FORCE: _FORCE.search(folded)}
    return {method: m.start() for method, m in found.items() if m is not None}


def settled_method(named: Method | None, at_c: float | None) -> Method | None:
    """The method of a figure: what is named, else force where the object is hot. Air drying where nothing is said."""
    if named is Method.IR:
        return named
    if at_c is not None and at_c >= HOT:
        return Method.FORCE
    return named


def reading(q: Quantity) -> float | None:
    """A governing temperature as one figure: a range by its middle, a bound by its end."""
    if q.dimension is not Dimension.TEMPERATURE:
        return None
    return round(q.value, 4)


def head_temperature(folded: str) -> float | None:
    """The one temperature in a head, a heading or a label; None where there is none, or several."""
    found = [q for q in find_quantities(folded) if q.dimension is Dimension.TEMPERATURE]
    return reading(found[0]) if len(found) == 1 and found[0].bound is Bound.NONE else None


def governing(folded: str, quantities: Sequence[Quantity]) -> tuple[dict[int, Quantity], set[int]]:
    """Which quantities (by index) hold at which temperature, and the indices of the temperatures so used.

    'surfacer 45 min, sealer 90 min, at 70 °F' governs both; 'at 10 °C 50 min' governs what follows.
    """
    held: dict[int, Quantity] = {}
    used: set[int] = set()
    waiting: list[int] = []
    leading: Quantity | None = None
    previous_end = 0
    for i, q in enumerate(quantities):
        gap = folded[previous_end : q.lead]
        if ";" in gap or _SENTENCE_ENDS.search(gap[1:]):
            used = _without_idle(used, leading, held, quantities)
            waiting, leading = ([] if ";" in gap else waiting), None
        if q.dimension is Dimension.TEMPERATURE:
            earlier = _timed(quantities[:i], held) if _OF_ALL.search(folded[: q.lead]) else []
            if earlier:
                # '...; full cure 7 days (all at 77 °F)'
                held.update(dict.fromkeys(earlier, q))
                used.add(i)
                waiting = []
            elif waiting and _is_oven_ahead(folded, q, quantities[i + 1 :]):
                # 'Flash off 10 min before baking at 60 °C for 30 min': the oven's temperature is the bake's.
                waiting, leading = [], q
                used.add(i)
            elif (
                waiting
                and not _is_weather(q)
                and _BEFORE_GOVERNING.search(folded[: q.lead])
                and not _NOT_GOVERNING.search(folded[: q.lead])
            ):
                # The oven's temperature is no earlier time's: 'flash off 10 min, bake 30 min at 60 °C'.
                held.update(dict.fromkeys(waiting[-1:] if q.value >= HOT else waiting, q))
                used.add(i)
                waiting = []
            elif not waiting and _leads(folded, q, previous_end):
                leading = q
                used.add(i)
        elif q.dimension is not Dimension.TEMPERATURE_DIFFERENCE and q.dimension is not Dimension.GRADE:
            if leading is not None:
                held[i] = leading
            else:
                waiting.append(i)
        previous_end = q.end
    return held, _without_idle(used, leading, held, quantities)


def _is_oven_ahead(folded: str, q: Quantity, behind: Sequence[Quantity]) -> bool:
    """Whether a temperature is that of an oven which the time before it comes before, and has a time of its own."""
    timed = bool(behind) and behind[0].dimension is Dimension.TIME and behind[0].start - q.end <= _NEXT_TIME
    return timed and q.value >= HOT and _BEFORE_HEAT.search(folded[: q.lead]) is not None


_NEXT_TIME = 16
_BEFORE_HEAT = re.compile(r"\b(?:before|prior to) (?:[a-z-]+ ){1,3}(?:at|to|@|\()? ?$")


def _without_idle(
    used: set[int], leading: Quantity | None, held: dict[int, Quantity], quantities: Sequence[Quantity]
) -> set[int]:
    """Without a temperature that was to govern what follows, and found nothing to govern."""
    if leading is None or any(t is leading for t in held.values()):
        return used
    return {i for i in used if quantities[i] is not leading}


def _is_weather(q: Quantity) -> bool:
    """'18-32 °C, part and air' is weather to work in."""
    return q.low is not None and q.high is not None and q.high - q.low >= _WIDE


_SENTENCE_ENDS = re.compile(r"(?<!\brel)(?<!\bapprox)(?<!\btemp)(?<!\bca)[.!?]\s")
_OF_ALL = re.compile(
    r"[(,;] ?(?:all|both|each|everything|times?|figures?|values?|all (?:times|figures|values|data))"
    r"(?: (?:given|stated|quoted|measured|apply|are|is|valid|refer))*,? ?(?:at|@|for|to|:)? ?$"
)


def _timed(quantities: Sequence[Quantity], held: dict[int, Quantity]) -> list[int]:
    """The times that no temperature of their own governs."""
    return [i for i, q in enumerate(quantities) if q.dimension is Dimension.TIME and i not in held]


def _leads(folded: str, q: Quantity, previous_end: int) -> bool:
    before = folded[previous_end : q.lead]
    if _is_weather(q):
        return False
    if q.bound is not Bound.NONE or _NOT_GOVERNING.search(folded[: q.lead]):
        return False
    if not before.strip(" ,;"):
        return True
    if re.match(r"\)?:\s*\S", folded[q.end : q.end + 4]):
        return True  # 'Pot life, mixed, 25 °C: 45 min', 'low bake 60 °C: 30 min'
    return bool(re.search(r"(?:\bat|@|\(|:|\bwith)\s*$", before))
