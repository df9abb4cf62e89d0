"""Two bounds that are one range: 'not below 10 and not above 35 °C'."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace

from extract.bounds import Bound
from extract.quantities import Quantity
from extract.units import Dimension

_BETWEEN = re.compile(
    r"[\s,.)]*(?:(?:dft|wft|dry|wet|film|per coat)[\s,.]*)?(?:and|but|nor|or|to|-|/|;)?"
    r"\s*(?:also|it|must|should|be|is|are|the)?\s*(?:be)?\s*"
)


_CLIMATE = {Dimension.TEMPERATURE, Dimension.PERCENT}


def merge_bounds(folded: str, quantities: Sequence[Quantity]) -> tuple[Quantity, ...]:
    """A least followed by a most of the same dimension (or the other way round) becomes one range."""
    out: list[Quantity] = []
    for q in quantities:
        last = out[-1] if out else None
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
        out.append(q)
    return tuple(out)


def _pair(a: Quantity, b: Quantity) -> bool:
    return a.dimension is b.dimension and {a.bound, b.bound} == {Bound.LEAST, Bound.MOST}
