"""Two bounds that are one range: 'not below 10 and not above 35 °C'."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import replace

from extract.bounds import Bound
from extract.document import fold
from extract.figures.bound import BoundFigure
from extract.quantities import Quantity
from extract.units import Dimension

_BETWEEN = re.compile(
    r"(?:\s*at (?:the )?(?:least|most))?[\s,.)]*(?:(?:dft|wft|dry|wet|film|per coat)[\s,.]*)?"
    r"(?:and|but|nor|or|to|-|/|;)?\s*(?:also|it|must|should|be|is|are|the)?\s*(?:be)?\s*"
)


_CLIMATE = {Dimension.TEMPERATURE, Dimension.PERCENT}


def merge_bounds(folded: str, quantities: Sequence[Quantity]) -> tuple[Quantity, ...]:
    """A least followed by a most of the same dimension (or the other way round) becomes one range."""
    out: list[Quantity] = []
    for q in quantities:
        last = out[-1] if out else None
        if last is not None and _is_length_of(folded, last, q):
            out[-1] = replace(q, start=last.start, lead=last.lead)
            continue
        if last is not None and (between := _neither(folded, last, q)) is not None:
            out[-1] = between
            continue
        if last is not None and _pair(last, q) and _BETWEEN.fullmatch(folded[last.end : q.lead]):
            least, most = (last, q) if last.bound is Bound.LEAST else (q, last)
            excluded = least.low is not None and most.high is not None and most.high < least.low
            if excluded and last.dimension in _CLIMATE:
                # 'Not when it is below 10 °C or above 30 °C': what is left lies between.
                least, most = most.flipped(), least.flipped()
            if least.low is not None and most.high is not None and least.low < most.high:
                out[-1] = replace(
                    last,
                    end=q.end,
                    low=least.low,
                    high=most.high,
                    bound=Bound.NONE,
                    printed=folded[last.start : q.end],
                    printed_low=least.printed_low,
                    printed_high=most.printed_high,
                )
                continue
        beyond = out[-2] if len(out) > 1 else None
        if beyond is not None and last is not None and _spans(folded, beyond, last, q):
            low, high = (beyond.low, q.high) if beyond.bound is Bound.LEAST else (q.low, beyond.high)
            out[-2] = replace(beyond, low=low, high=high, bound=Bound.NONE)
            continue
        out.append(q)
    return tuple(out)


def _is_length_of(folded: str, last: Quantity, q: Quantity) -> bool:
    """'One working day of eight hours': the second says how long the first is."""
    times = last.dimension is q.dimension is Dimension.TIME and last.printed_unit == "d" and q.printed_unit == "h"
    return times and folded[last.end : q.start].strip() == "of"


def _spans(folded: str, least: Quantity, between: Quantity, most: Quantity) -> bool:
    """'Min. 10 °C or 2 °C above the dew point, max. 40 °C': a margin between the two ends of one range."""
    if between.dimension is not Dimension.TEMPERATURE_DIFFERENCE or not _pair(least, most):
        return False
    ends = (least.low, most.high) if least.bound is Bound.LEAST else (most.low, least.high)
    near = re.fullmatch(r"(?:\s*(?:above|over) (?:the )?dew[- ]?point)?[\s,;.]*", folded[between.end : most.lead])
    return near is not None and ends[0] is not None and ends[1] is not None and ends[0] < ends[1]


def _neither(folded: str, last: Quantity, q: Quantity) -> Quantity | None:
    """'Neither under 10 nor over 30 °C': what is left lies between. None where the words are others."""
    both = last.dimension is q.dimension and last.bound is q.bound is Bound.MOST
    if not both or last.high is None or q.high is None or last.high >= q.high:
        return None
    if not re.search(r"\b(?:neither|not)\b[^.;]*$", folded[: last.lead]) or not re.search(
        r"\bn?or\b", folded[last.end : q.start]
    ):
        return None
    if not re.match(r"(?:below|under|beneath|less than|lower than|colder than)", folded[last.lead : last.start]):
        return None
    return replace(
        last,
        end=q.end,
        low=last.high,
        high=q.high,
        bound=Bound.NONE,
        printed=folded[last.start : q.end],
        printed_low=last.printed_high,
        printed_high=q.printed_high,
    )


def _pair(a: Quantity, b: Quantity) -> bool:
    return a.dimension is b.dimension and {a.bound, b.bound} == {Bound.LEAST, Bound.MOST}


_LEAST = re.compile(
    r"^(?:absolute |lower )?(?:min(?:imum)?|least|lowest|lower limit|from)\b\.?(?: (?:value|temperature|limit))?$"
)
_MOST = re.compile(
    r"^(?:absolute |upper )?(?:max(?:imum)?|most|highest|upper limit|up to)\b\.?(?: (?:value|temperature|limit))?$"
)


def ranges_of(figures: Iterable[BoundFigure]) -> list[BoundFigure]:
    """A table's figures with those of its rows (or columns) 'Minimum' and 'Maximum' made one range, or a bound each."""
    out: list[BoundFigure] = []
    waiting: dict[tuple[object, ...], int] = {}
    for figure in figures:
        end = _end_of(figure)
        q = figure.quantity
        if end is Bound.NONE or q.low is None or q.low != q.high:
            out.append(figure)
            continue
        others = tuple(h for h in figure.heads if bound_word(h) is Bound.NONE)
        key = (figure.spec, figure.at_c, figure.method, others)
        bounded = replace(
            figure, quantity=_bounded(q, end), text=None if bound_word(figure.text or "") else figure.text
        )
        known = waiting.get(key)
        other = out[known] if known is not None else None
        if known is not None and other is not None and other.quantity.bound not in {end, Bound.NONE}:
            low = other.quantity.low if end is Bound.MOST else bounded.quantity.low
            high = other.quantity.high if end is Bound.LEAST else bounded.quantity.high
            if low is not None and high is not None and low <= high:
                both = replace(other.quantity, low=low, high=high, bound=Bound.NONE)
                words = tuple(dict.fromkeys((*other.words, *bounded.words)))
                out[known] = replace(other, quantity=both, words=words)
                continue
        waiting[key] = len(out)
        out.append(bounded)
    return out


def _end_of(figure: BoundFigure) -> Bound:
    return next((b for h in figure.heads if (b := bound_word(h)) is not Bound.NONE), Bound.NONE)


def bound_word(head: str) -> Bound:
    """Whether a head says nothing but that its figures are least or greatest ones."""
    folded = fold(head).strip(" :")
    return Bound.LEAST if _LEAST.match(folded) else Bound.MOST if _MOST.match(folded) else Bound.NONE


def _bounded(q: Quantity, end: Bound) -> Quantity:
    if end is Bound.LEAST:
        return replace(q, bound=end, high=None, printed_high=None)
    return replace(q, bound=end, low=None, printed_low=None)
