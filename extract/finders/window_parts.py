"""A sentence on several coats, or at several temperatures, taken apart: which of its words hold whose time."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from extract.bounds import Bound
from extract.clauses.cues import Cues
from extract.figures.governing import HOT
from extract.finders.window_coats import NextCoat
from extract.quantities import Quantity, find_quantities
from extract.units import Dimension


def segments(first: str, coats: Sequence[NextCoat]) -> Iterator[tuple[int, int, list[NextCoat]]]:
    """Each coat with the words that hold its time: 'with itself after 15 min, with 2K topcoats after 1 h'.

    Where the sentence has one time for all, one segment of everything. Nothing where it has several and they cannot
    be told apart.
    """
    spans = [q for q in find_quantities(first) if q.dimension is Dimension.TIME]
    order = sorted(coats, key=lambda c: c.start)
    starts = sorted({c.start for c in order})
    if len(starts) > 1 and len(starts) == len(spans) and _own_brackets(first, spans, starts):
        # 'After 1 hour (itself), 2 hours (base coat)': what stands in brackets is what the time before them is for.
        ends = [*(q.lead for q in spans[1:]), len(first)]
        for q, end, at in zip(spans, ends, starts, strict=True):
            yield q.lead, end, [c for c in order if c.start == at]
        return
    if len(starts) > 1 and spans and all(_in_brackets(first, q) for q in spans):
        # "A, B (after 24 h), C": what stands in brackets holds for the coat before them.
        for q in spans:
            owner = [c for c in order if c.end <= q.start]
            if owner:
                yield owner[-1].start, q.end, [owner[-1]]
        return
    if len(starts) < 2 or len(spans) < 2:
        yield 0, len(first), list(coats)
        return
    leading = spans[0].start < starts[0] and spans[-1].start < starts[-1]
    if spans[0].start < starts[0] and not leading and len(spans) > len(starts):
        return  # '4 h for itself, 12 h for topcoats, one week at most'
    groups: list[tuple[int, int, list[NextCoat]]] = []
    begin, waiting = 0, [starts[0]]
    edges = [*starts[1:], len(first)]
    for n, at in enumerate(starts):
        if n:
            waiting.append(at)
        last = max(c.end for c in order if c.start == at)
        limit = last if leading else edges[n]
        inside = [q for q in spans if begin <= q.start < limit]
        follows = (
            any(q.start >= last for q in inside)
            if not leading
            else any(q.start >= last and (n + 1 == len(starts) or q.start < starts[n + 1]) for q in spans)
            or n + 1 == len(starts)
        )
        if inside and follows:
            groups.append((begin, limit, [c for c in order if c.start in waiting]))
            begin, waiting = limit, []
    if waiting or len(groups) < 2:
        yield 0, len(first), list(coats)
        return
    yield from groups


def _own_brackets(first: str, spans: Sequence[Quantity], starts: Sequence[int]) -> bool:
    gaps = (first[q.end : at] for q, at in zip(spans, starts, strict=True))
    return all(re.fullmatch(r" ?\((?:with |for |over |by )?(?:the )?", gap) for gap in gaps)


def _in_brackets(text: str, q: Quantity) -> bool:
    return (
        text.count("(", 0, q.start) > text.count(")", 0, q.start)
        and re.search(r"\b(?:at|@)\b", text[text.rfind("(", 0, q.start) : q.start]) is None
    )


def regimes(
    first: str, segments: Iterator[tuple[int, int, list[NextCoat]]]
) -> Iterator[tuple[int, int, list[NextCoat]]]:
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
        if (apart := _by_method(first, start, end)) is not None:
            yield start, apart, group
            yield apart, end, group
            continue
        kinds = [q.dimension for q in figures]
        turned = len(figures) >= 4 and _turned(first, start, figures)
        if turned:
            for n, at in enumerate(turned):
                yield at, turned[n + 1] if n + 1 < len(turned) else end, group
            continue
        baked = _OR_BAKED.search(first, start, end)
        if baked is not None and _is_baked_apart(baked.group(), first[start : baked.start()]):
            yield start, baked.start(), group
            yield baked.start(), end, group
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


_OR_BAKED = re.compile(
    r"(?:,? or |,? alternatively,? |; ?(?:or )?| / )(?=(?:after |in |with )?[^,;]{0,30}?\d[^;]*$)[^;]*"
)
"""'After 12 hours, or 30 minutes at 60 °C': the second time is the oven's."""


def _by_method(first: str, start: int, end: int) -> int | None:
    """Where 'wet on wet after 20 min; dry on dry after 12 h' turns from the one way to the other."""
    turn = _OTHERWISE.search(first, start, end)
    at = turn.start() if turn is not None else -1
    if at < 0 or not _times_of(first[start:at]) or not _times_of(first[at:end]):
        return None
    wet = [_WET.search(first, start, at) is not None, _WET.search(first, at, end) is not None]
    return at if wet[0] != wet[1] and _DRY.search(first, *((at, end) if wet[0] else (start, at))) else None


_OTHERWISE = re.compile(
    r";|,? or (?=(?:after |once )?(?:overnight |through |full )?(?:dry|grind|sanding|abrading|flatting))"
)
_WET = re.compile(r"\bwet[- ]on[- ]wet\b")
_DRY = re.compile(r"\bgrind|\bdry\b|\bdry[- ]on[- ]dry\b|\bsand|\babrad|\bflatt|\bdried\b|\bdrying\b|\bhard")


def _is_baked_apart(behind: str, ahead: str) -> bool:
    if not _times_of(behind) or not _times_of(ahead):
        return False
    return _heat_of(behind) is not None and _heat_of(ahead) is None


def _heat_of(text: str) -> float | None:
    return next(
        (q.low for q in find_quantities(text) if q.dimension is Dimension.TEMPERATURE and (q.low or 0.0) >= HOT), None
    )


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


_WASH_THEN = re.compile(r"[,: ]*(?:at \d+ ?°[cf][,: ]*)?(?:wash|rinse|wipe|solvent[- ]?wipe|mist coat|tack coat)\b")
"""'After 7 days wash the film': asked for then, where nothing is sanded."""


TIMED_LATE = re.compile(
    r"(?:after|over) (?:(?:an? )?(?:\w+ )?(?:period|time|interval) of )?(?:more than )?"
    r"(?:\d|[a-z]+ (?:hours|days|week|day))"
)
"""'After 48 h', which opens a window as well as it passes one: what follows tells."""


def turn_late(folded: str, known: Cues) -> tuple[re.Match[str] | None, int]:
    """The words on a missed window and where they begin; None and the text's end where there are none."""
    for late in known.window["late"].finditer(folded):
        cut = late_at(folded, late, known)
        if cut < len(folded):
            return late, cut
    return None, len(folded)


def asked_first(folded: str, late: re.Match[str], known: Cues) -> int | None:
    """Where an order to sand begins that the words on a missed window follow; None where none does, or a time does."""
    head = folded[: late.start()]
    begin = max(head.rfind("; "), head.rfind(". ")) + 1
    order = known.window["asked_first"].search(head, begin)
    if order is None or known.window["conditional_late"].match(late.group()) is None:
        return None
    spoken = head[begin : order.start()]
    timed = any(q.dimension is Dimension.TIME for q in find_quantities(head[begin:]))
    denied = known.ends["denied"].search(spoken) or known.window["spares"].search(head, begin)
    return None if timed or denied else begin


def late_at(folded: str, late: re.Match[str] | None, known: Cues) -> int:
    """Where the words on a missed window begin; times behind it open no window."""
    ahead = folded[: late.start()] if late is not None else ""
    if late is None or known.ends["bounding"].search(ahead) or known.ends["until_ahead"].search(ahead):
        return len(folded)
    if TIMED_LATE.match(late.group()):
        # The stop of a shortened unit ends nothing, that of a whole word does.
        ended = re.search(r"(?:hours?|days?|weeks?|months?)$", late.group()) is not None
        behind = folded[late.end() : late.end() + 60].lstrip(" " if ended else ". ")
        behind = re.split(r"(?:^|,? )(?:once|when|provided|as long as|on condition) ", behind)[0]
        behind = re.split(r";|(?<!hrs)(?<!hr)(?<!min)\. ?|, (?=after|over|past|beyond)", behind)[0]
        if re.match(r"(?:and|with) (?:\w+ )?(?:sanding|abrading|flatting|keying|scuffing)\b", behind):
            return len(folded)  # 'after 12 h and sanding': both are asked for
        if not re.search(r"(?<!without )(?:sand|abrad|scuff|flat|pad\b|p\d{2,4}|grit|key)", behind) and not (
            _WASH_THEN.match(behind)
        ):
            return len(folded)
    if late.group() in ("thereafter", "otherwise") or late.group().startswith("after th"):
        clause = max(folded.rfind("; ", 0, late.start()), folded.rfind(". ", 0, late.start()))
        return clause + 1 if clause > 0 else late.start()
    return late.start()
