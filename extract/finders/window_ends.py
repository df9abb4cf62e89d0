"""Which end of a window a time is: the earliest, the latest, or both where it is a range."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass

from extract.bounds import Bound
from extract.clauses.cues import Cues
from extract.quantities import Quantity

ENDS_APART = 3.0
"""Where nothing says so, a figure this many times another is the other end of its window, and no uncertainty."""
_WITHIN_APART = 6.0
"""'Within 4 to 48 hours' is a window; 'within 24 to 48 hours' an uncertain latest time."""


@dataclass(frozen=True, slots=True)
class Times:
    """A window in minutes, the temperature that it holds at, and where its words stand."""

    low: float | None
    high: float | None
    unlimited: bool
    at_c: float | None
    start: int
    end: int


def first_of(temperatures: Sequence[Quantity]) -> float | None:
    """The first temperature in degC."""
    return temperatures[0].low if temperatures else None


def window_of(
    folded: str, spans: Sequence[Quantity], temperatures: Sequence[Quantity], known: Cues, *, labelled: bool
) -> Times | None:
    """The window that all these times together are; None where they contradict one another."""
    lows: list[float] = []
    highs: list[float] = []
    most = [q for q in spans if _is_most(folded, q, known)]
    if (len(spans) == 2 and known.ends["both_ends"].search(folded[: spans[0].start])) or (
        len(spans) == 2 and not most and _is_pair(folded, *spans)
    ):
        most = [spans[1]]
    for q in spans:
        ranged = q.low is not None and q.high is not None and q.low < q.high
        if q in most and not (ranged and _within(folded, q)):
            top = q.low if ranged or q.high is None else q.high
            if top is not None:
                highs.append(top)
        elif ranged and q.low is not None and q.high is not None:
            if (most and q not in most) or not (q in most or _spans_window(folded, q, known, labelled=labelled)):
                lows.append(q.high)
            else:
                lows.append(q.low)
                highs.append(q.high)
        else:
            # 'Never within 1 h': so long is waited.
            least = q.low if q.low is not None else q.high
            if least is not None:
                lows.append(least)
    low, high = max(lows, default=None), min(highs, default=None)
    if len(spans) == 1 and low is None and high is not None and _endless_pair(folded, spans[0], known):
        low, high = high, None
    unlimited = low is not None and high is None and is_endless(folded, known)
    if low is None and high is None:
        return None
    if low is not None and high is not None and low >= high:
        return None
    return Times(low, high, unlimited, first_of(temperatures), min(q.lead for q in spans), max(q.end for q in spans))


def is_endless(folded: str, known: Cues) -> bool:
    """Whether a sentence says that a window has no end; 'none' and 'open' only where they stand for the latest time."""
    ahead = known.ends["of_the_latest"]
    return any(
        known.ends["short_endless"].fullmatch(m.group()) is None or ahead.search(folded[: m.start()])
        for m in known.window["unlimited"].finditer(folded)
    )


def _endless_pair(folded: str, q: Quantity, known: Cues) -> bool:
    """'Min/max: 4 h / unlimited': the one time is the earliest, whatever stands for the latest."""
    if known.ends["both_ends"].search(folded[: q.start]) is None:
        return False
    return re.match(r"\s*(?:/|;|,|\||-|to|and)\s*(?:max\w*\.?:? ?)?(?:-|[a-z∞])", folded[q.end :]) is not None


def _within(folded: str, q: Quantity) -> bool:
    """Whether a range behind 'within', or behind a colon, is a window: 'overcoat within 4 to 48 hours'."""
    low, high = q.low or 0.0, q.high or 0.0
    if folded[: q.start].rstrip().endswith(":") or folded.startswith("without", q.end + 1):
        return high >= ENDS_APART * low
    return re.search(r"\bwithin $", folded[: q.start]) is not None and high >= _WITHIN_APART * low


def _is_pair(folded: str, a: Quantity, b: Quantity) -> bool:
    """Whether two times stand as earliest and latest with nothing but a stroke between: '6 h / 5 d'."""
    if re.fullmatch(r" ?/ ?", folded[a.end : b.start]) is None or a.low is None or b.low is None:
        return False
    return a.bound is b.bound is Bound.NONE and b.low >= ENDS_APART * a.low


def _is_most(folded: str, q: Quantity, known: Cues) -> bool:
    ahead = folded[: q.start]
    clause = re.split(r"[.;]\s", ahead)[-1]
    ends = known.ends
    if ends["spared"].search(clause):
        return True
    if ends["wait"].search(clause):
        return False
    if ends["ruled_out"].match(folded, q.end):
        return ends["ruled_after"].search(folded[: q.start]) is not None
    if ends["first"].search(ahead):
        return True
    if ends["opens"].search(clause):
        return False
    if q.bound is Bound.MOST or ends["closes"].search(clause):
        return True
    if ends["latest_behind"].match(folded, q.end) and not re.search(r"\bmin(?:imum)?\.?[: ]*$", ahead):
        return True
    if ends["longer"].search(clause) or ends["not_after"].search(ahead):
        return True
    if q.bound is Bound.LEAST:
        return False
    if q.low == q.high and (ends["window_of"].search(clause) or ends["window_behind"].match(folded, q.end)):
        return True
    if ends["before"].search(clause):
        return ends["denied"].search(clause) is None
    return ends["up_to"].search(ahead[-80:]) is not None


def _spans_window(folded: str, q: Quantity, known: Cues, *, labelled: bool) -> bool:
    """Whether a range is a window and not an uncertain earliest time."""
    low, high = q.low or 0.0, q.high or 0.0
    if known.ends["ranged"].search(folded[max(0, q.start - 60) : q.start]):
        return True
    return high >= ENDS_APART * low or (labelled and high > 2 * low)
