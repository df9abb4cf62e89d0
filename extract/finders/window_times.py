"""The times of a sentence as a window: which is the earliest, which the latest, and whose."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from extract.bounds import Bound
from extract.clauses.cues import Cues
from extract.clauses.frames import Found
from extract.quantities import Quantity, find_quantities
from extract.units import Dimension


@dataclass(frozen=True, slots=True)
class Times:
    """A window in minutes, the temperature that it holds at, and where its words stand."""

    low: float | None
    high: float | None
    unlimited: bool
    at_c: float | None
    start: int
    end: int


def segments(first: str, permitted: Sequence[Found]) -> Iterator[tuple[int, int, list[Found]]]:
    """Each coat with the words that hold its time: 'with itself after 15 min, with 2K topcoats after 1 h'.

    Where the sentence has one time for all, one segment of everything.
    """
    spans = [q for q in find_quantities(first) if q.dimension is Dimension.TIME]
    order = sorted(permitted, key=lambda f: f.mention.start)
    starts = sorted({f.mention.start for f in order})
    if len(starts) > 1 and spans and all(_in_brackets(first, q) for q in spans):
        # "A, B (after 24 h), C": what stands in brackets holds for the coat before them.
        for q in spans:
            owner = [f for f in order if f.mention.end <= q.start]
            if owner:
                yield owner[-1].mention.start, q.end, [owner[-1]]
        return
    if len(starts) < 2 or len(spans) < 2:
        yield 0, len(first), list(permitted)
        return
    leading = spans[0].start < starts[0] and spans[-1].start < starts[-1]
    groups: list[tuple[int, int, list[Found]]] = []
    begin, waiting = 0, [starts[0]]
    edges = [*starts[1:], len(first)]
    for n, at in enumerate(starts):
        if n:
            waiting.append(at)
        last = max(f.mention.end for f in order if f.mention.start == at)
        limit = last if leading else edges[n]
        inside = [q for q in spans if begin <= q.start < limit]
        follows = (
            any(q.start >= last for q in inside)
            if not leading
            else any(q.start >= last and (n + 1 == len(starts) or q.start < starts[n + 1]) for q in spans)
            or n + 1 == len(starts)
        )
        if inside and follows:
            groups.append((begin, limit, [f for f in order if f.mention.start in waiting]))
            begin, waiting = limit, []
    if waiting or len(groups) < 2:
        yield 0, len(first), list(permitted)
        return
    yield from groups


def _in_brackets(text: str, q: Quantity) -> bool:
    return (
        text.count("(", 0, q.start) > text.count(")", 0, q.start)
        and re.search(r"\b(?:at|@)\b", text[text.rfind("(", 0, q.start) : q.start]) is None
    )


def regimes(first: str, segments: Iterator[tuple[int, int, list[Found]]]) -> Iterator[tuple[int, int, list[Found]]]:
    """'16 hours at 20 °C or 45 minutes at 60 °C' is two times, each at its own temperature."""
    for start, end, group in segments:
        figures = [
            q
            for q in find_quantities(first[start:end])
            if q.dimension in (Dimension.TIME, Dimension.TEMPERATURE) and q.bound is not Bound.MOST
        ]
        bracket = _AT_ANOTHER.search(first, start, end)
        if bracket is not None and _times_of(bracket.group()) and _times_of(first[start : bracket.start()]):
            yield start, bracket.start(), group
            yield bracket.start(), bracket.end(), group
            continue
        kinds = [q.dimension for q in figures]
        turned = len(figures) >= 4 and _turned(first, start, figures)
        if turned:
            for n, at in enumerate(turned):
                yield at, turned[n + 1] if n + 1 < len(turned) else end, group
            continue
        pairs = len(figures) // 2
        if pairs < 2 or kinds != [Dimension.TIME, Dimension.TEMPERATURE] * pairs:
            yield start, end, group
            continue
        begin = start
        for n in range(pairs):
            stop = start + figures[2 * n + 1].end
            yield begin, stop, group
            begin = stop


_AT_ANOTHER = re.compile(r"\((?:and |or )?(?:at|@) ?[-+]?\d+ ?°[cf][^()]*\)")


def _times_of(text: str) -> bool:
    return any(q.dimension is Dimension.TIME for q in find_quantities(text))


def _turned(first: str, start: int, figures: Sequence[Quantity]) -> list[int]:
    """Where each regime begins in 'at 10 °C from 12 h to 5 days, at 20 °C from 6 h to 3 days'."""
    if figures[0].dimension is not Dimension.TEMPERATURE:
        return []
    begins = [start + q.lead for q in figures if q.dimension is Dimension.TEMPERATURE]
    edges = [*begins, start + figures[-1].end + 1]
    filled = all(
        any(q.dimension is Dimension.TIME and a <= start + q.start < b for q in figures)
        for a, b in zip(begins, edges[1:], strict=True)
    )
    return begins if filled and len(begins) > 1 else []


def late_at(folded: str, late: re.Match[str] | None) -> int:
    """Where the words on a missed window begin; times behind it open no window."""
    if late is None:
        return len(folded)
    if re.match(r"after (?:more than )?(?:\d|[a-z]+ (?:hours|days))", late.group()) and not re.search(
        r"(?<!without )(?:sand|abrad|scuff|flat|pad\b|p\d{2,4}|grit|key)",
        re.split(r";|(?<!hrs)(?<!hr)(?<!min)\. ", folded[late.end() : late.end() + 60].lstrip(". "))[0],
    ):
        return len(folded)
    if late.group() in ("thereafter", "otherwise") or late.group().startswith("after th"):
        clause = max(folded.rfind("; ", 0, late.start()), folded.rfind(". ", 0, late.start()))
        return clause + 1 if clause > 0 else late.start()
    return late.start()


def times_in(folded: str, known: Cues, *, labelled: bool) -> Times | None:
    """Earliest and latest time of the words, in minutes."""
    low: float | None = None
    high: float | None = None
    quantities = find_quantities(folded)
    temperatures = [q for q in quantities if q.dimension is Dimension.TEMPERATURE and q.low is not None]
    spans = [q for q in quantities if q.dimension is Dimension.TIME and not _foreign(folded, q, known)]
    most = [q for q in spans if _is_most(folded, q)]
    for q in spans:
        if q in most:
            top = q.high if q.high is not None else q.low
            if q.low is not None and q.high is not None and q.low < q.high:
                top = q.low
            high = top if high is None else high
        elif q.low is not None and q.high is not None and q.low < q.high:
            if most or not _spans_window(folded, q, labelled=labelled):
                low = q.high if low is None else low
            else:
                low, high = (q.low, q.high) if low is None else (low, high)
        elif low is None and q.low is not None:
            low = q.low
    unlimited = known.window["unlimited"].search(folded) is not None and low is not None and high is None
    if low is None and high is None:
        return None
    if low is not None and high is not None and low >= high:
        return None
    return Times(
        low, high, unlimited, temperatures[0].low if temperatures else None,
        min(q.lead for q in spans), max(q.end for q in spans),
    )  # fmt: skip


_UP_TO = re.compile(
    r"\bwithout (?:\w+ )?(?:sanding|abrading|flatting|scuffing|keying) for (?:up to )?$|"
    r"\b(?:up to|within|until|no later than|not later than|not after|not more than|no more than|latest(?: after)?|"
    r"max(?:imum)?\.?)(?: of| the)? ?(?:about |approx\.? )?$"
    r"|\b(?:max(?:imum|imal)?\.?|latest|longest)\b(?:[^.;,\d]|\dk){0,60}$"
)


_NOT_AFTER = re.compile(
    r"\b(?:do not|don't|never|must not|should not|may not|not)\b[^.;]{0,60}\bafter (?:more than )?$"
)


def _is_most(folded: str, q: Quantity) -> bool:
    if q.bound is Bound.MOST:
        return True
    before = folded[max(0, q.start - 80) : q.start]
    if re.search(r"\b(?:not|never)\b[^.;]*\buntil (?:at least |the \w+ is )?$", folded[: q.start]):
        return False
    if _NOT_AFTER.search(folded[: q.start]):
        return True
    return _UP_TO.search(before) is not None


def _spans_window(folded: str, q: Quantity, *, labelled: bool) -> bool:
    """Whether a range is a window and not an uncertain earliest time."""
    low, high = q.low or 0.0, q.high or 0.0
    if re.search(r"\b(?:between|from|window|interval|period)\b", folded[max(0, q.start - 60) : q.start]):
        return True
    return high >= 3 * low or (labelled and high > 2 * low)


def _foreign(folded: str, q: Quantity, known: Cues) -> bool:
    """A time that belongs to drying, flash-off, pot life or the open air."""
    left = max(folded.rfind(sign, 0, q.lead) for sign in (";", ". ", "("))
    clause = folded[left + 1 : q.end + 24]
    if re.search(r"\bnot (?:until|before)\b[^.;]*\bold\b", clause):
        return False
    return known.window["not_window"].search(clause) is not None
