"""Numbers without a unit that the words around them make figures: counts of coats, and bounds that go on."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace

from extract.claims import Topic
from extract.figures.labels import find_labels
from extract.quantities import Quantity, find_quantities
from extract.units import Dimension

_COUNT_BEFORE = re.compile(
    r"(?:^|[.;|]\s*)(?:recommended\s+|usual\s+)?(?:number of\s+)?(?:spray\s+|sprayed\s+)?"
    r"(?:coats|hands|passes|crosses|layers|applications)(?:\s+(?:of spray|to apply|required|recommended))?\s*[:=]?\s*"
    r"(?P<number>\d(?:\s?(?:-|to|or|/)\s?\d)?)(?=\s*(?:$|[,;.](?!\d)|\(|and we|"
    r"(?:by|with|depending|full|thin|wet|light|medium|normal|even)\b|cross))"
)
_COUNT_TIMES = re.compile(
    r"\b(?:spray|apply|brush|roll|coat|cross|pass|go over|come and go)\w*\s(?:it |on |the \w+ )?"
    r"(?P<number>\d(?:\s?(?:-|to)\s?\d)?)"
    r"\stimes\b(?!\s+(?:a|per|as|the|more|with water))"
)
"""'Spray 3-4 times thinly.'"""
_CARRIED = re.compile(
    r"(?:\b(?:not|never|nor|don't|cannot)\s(?:to\s)?"
    r"(?:exceed|go (?:above|over|beyond)|above|over|below|under|(?:more|hotter|less) than)|"
    r"\bdr(?:ies|ying) (?:down )?to)\s\d{1,4}(?:[.,]\d)?(?=\s*(?:$|[;)]|[.,](?!\d)))"
)
"""A bound or a second state whose figure stands without a unit."""
_CARRIABLE = {Dimension.LENGTH, Dimension.TEMPERATURE}
_CARRY_REACH = 30


_TIP = re.compile(
    r"(?<![\d.,])0?\.0\d{2}(?:\s?(?:-|to)\s?0?\.0\d{2})?(?=\s*(?:tip|orifice|nozzle))"
    r"|(?<=tip |ice |zle )0?\.0\d{2}(?:\s?(?:-|to)\s?0?\.0\d{2})?(?![\d\"]|\s?(?:in|mm|\"))"
)
"""An airless tip without its unit is measured in inches ('0.013-0.017 tip')."""


def tips(folded: str, quantities: Sequence[Quantity]) -> Sequence[Quantity]:
    """With the sizes of airless tips that stand without a unit."""
    out = list(quantities)
    for m in _TIP.finditer(folded):
        if any(q.start < m.end() and m.start() < q.end for q in out):
            continue
        for q in find_quantities(m.group(), "in"):
            out.append(replace(q, start=q.start + m.start(), end=q.end + m.start(), lead=q.lead + m.start()))
    return sorted(out, key=lambda q: q.start)


def carried(folded: str, quantities: Sequence[Quantity]) -> Sequence[Quantity]:
    """With bare figures that take the unit of the one before ('10 to 12 microns; do not exceed 20')."""
    out = list(quantities)
    for m in _CARRIED.finditer(folded):
        before = [q for q in out if q.end <= m.start() and q.dimension in _CARRIABLE]
        if (
            not before
            or m.start() - before[-1].end > _CARRY_REACH
            or any(q.lead < m.end() and m.start() < q.end for q in out)
        ):
            continue
        for q in find_quantities(m.group(), before[-1].printed_unit):
            out.append(replace(q, start=q.start + m.start(), end=q.end + m.start(), lead=q.lead + m.start()))
    return sorted(out, key=lambda q: q.start)


_TIME_CARRIED = re.compile(
    r"(?:\b(?:in|after|within)|,|\band) (?P<number>\d{1,2}|[a-z]+(?:-[a-z]+)?)"
    r"(?=\s*(?:[,.;)](?!\d)|$|and\b)| in the (?:tin|can|tube|aerosol|cartridge|bottle|bag)\b)(?: in the \w+)?"
)


def carried_times(folded: str, quantities: Sequence[Quantity], language: str) -> Sequence[Quantity]:
    """With the bare numbers that go on with a time's unit ('touched in eight hours, and hard in twenty-four').

    Only where words for a stage of drying or for the tin stand between the two.
    """
    out = list(quantities)
    for m in _TIME_CARRIED.finditer(folded):
        start, end = m.span("number")
        before = [q for q in out if q.dimension is Dimension.TIME and q.end <= m.start()]
        if not before or any(q.start < end and start < q.end for q in out):
            continue
        named = find_labels(folded[before[-1].end : m.end()], frozenset({Dimension.TIME}), language=language)
        if any(lb.spec.topic in {Topic.DRYING, Topic.STORAGE} and not lb.weak for lb in named):
            for q in find_quantities(m.group("number"), before[-1].printed_unit):
                out.append(replace(q, start=q.start + start, end=q.end + start, lead=q.lead + start))
    return sorted(out, key=lambda q: q.start)


def counted(folded: str, quantities: Sequence[Quantity]) -> Sequence[Quantity]:
    """With the bare numbers that a word for coats counts from before ('Hands: 2-3', 'Coats: 1 or 2')."""
    out = list(quantities)
    for m in (*_COUNT_BEFORE.finditer(folded), *_COUNT_TIMES.finditer(folded)):
        one = find_quantities(m.group("number"), "coat")
        start = m.start("number")
        if len(one) == 1 and not any(q.start < m.end() and start < q.end for q in out):
            q = one[0]
            out.append(replace(q, start=q.start + start, end=q.end + start, lead=q.lead + start))
    return sorted(out, key=lambda q: q.start)
