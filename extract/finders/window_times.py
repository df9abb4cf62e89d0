"""The times of a sentence as a window: which is the earliest, which the latest, and whose."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from extract.bounds import Bound
from extract.clauses.cues import Cues
from extract.clauses.guard import scope
from extract.figures.governing import HOT
from extract.finders.window_coats import NextCoat, keeps_closed
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


def segments(first: str, coats: Sequence[NextCoat]) -> Iterator[tuple[int, int, list[NextCoat]]]:
    """Each coat with the words that hold its time: 'with itself after 15 min, with 2K topcoats after 1 h'.

    Where the sentence has one time for all, one segment of everything. Nothing where it has several and they cannot
    be told apart.
    """
    spans = [q for q in find_quantities(first) if q.dimension is Dimension.TIME]
    order = sorted(coats, key=lambda c: c.start)
    starts = sorted({c.start for c in order})
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


def late_at(folded: str, late: re.Match[str] | None) -> int:
    """Where the words on a missed window begin; times behind it open no window."""
    ahead = folded[: late.start()] if late is not None else ""
    if late is None or _BOUNDING.search(ahead) or re.search(r"\buntil [^.;,]*$", ahead):
        return len(folded)
    if re.match(r"after (?:more than )?(?:\d|[a-z]+ (?:hours|days))", late.group()):
        behind = re.split(r";|(?<!hrs)(?<!hr)(?<!min)\. ", folded[late.end() : late.end() + 60].lstrip(". "))[0]
        if not re.search(r"(?<!without )(?:sand|abrad|scuff|flat|pad\b|p\d{2,4}|grit|key)", behind) and not (
            _WASH_THEN.match(behind)
        ):
            return len(folded)
    if late.group() in ("thereafter", "otherwise") or late.group().startswith("after th"):
        clause = max(folded.rfind("; ", 0, late.start()), folded.rfind(". ", 0, late.start()))
        return clause + 1 if clause > 0 else late.start()
    return late.start()


def times_in(folded: str, known: Cues, *, labelled: bool) -> Times | None:
    """Earliest and latest time of the words, in minutes; the longest of several earliest, the shortest of latest."""
    quantities = find_quantities(folded)
    temperatures = [q for q in quantities if q.dimension is Dimension.TEMPERATURE and q.low is not None]
    spans = [q for q in quantities if q.dimension is Dimension.TIME and not _foreign(folded, q, quantities, known)]
    return _window_of(folded, spans, temperatures, known, labelled=labelled)


def windows_in(folded: str, known: Cues, *, labelled: bool) -> list[Times]:
    """As times_in, with the two windows of 'within 1 hour or after 48 hours' apart."""
    quantities = find_quantities(folded)
    temperatures = [q for q in quantities if q.dimension is Dimension.TEMPERATURE and q.low is not None]
    spans = [q for q in quantities if q.dimension is Dimension.TIME and not _foreign(folded, q, quantities, known)]
    if any(folded.startswith("-to-", q.end) for q in spans):
        return []  # 'that ten-minute-to-one-hour slot': half of it is not read
    spans = [*spans, *_unitless(folded, spans)]
    for n in range(1, len(spans)):
        if not _parts(folded, spans[n - 1], spans[n]):
            continue
        early, late = spans[:n], spans[n:]
        first = early[-1]
        if first.low == first.high:
            soon = Times(None, first.low, False, _first(temperatures), early[0].lead, first.end)
        else:
            soon = Times(first.low, first.high, False, _first(temperatures), early[0].lead, first.end)
        if first.bound is Bound.MOST:
            soon = Times(None, first.high, False, _first(temperatures), early[0].lead, first.end)
        then = Times(late[0].low, None, False, _first(temperatures), late[0].lead, late[0].end)
        return [soon, then] if len(spans) == 2 and then.low is not None else []
    if not spans and (endless := _NO_END.search(folded)) is not None:
        return [Times(None, None, True, _first(temperatures), endless.start(), endless.end())]
    found = _window_of(folded, spans, temperatures, known, labelled=labelled)
    if found is None:
        return []
    shut = [
        q.low for q in quantities if q.dimension is Dimension.TIME and q not in spans and _is_shut(folded, q, known)
    ]
    ends = [low for low in shut if low is not None and (found.low is None or low > found.low)]
    if ends and (found.high is None or min(ends) < found.high):
        # '... from 2 h on; they must not follow between 24 h and 7 days'
        found = replace(found, high=min(ends), unlimited=False)
    return [found]


def shut_spans(folded: str, known: Cues) -> list[tuple[float, float]]:
    """Every span of time, in minutes, in which no coat may follow; not what the film stands, dries or keeps for."""
    out: list[tuple[float, float]] = []
    for q in find_quantities(folded):
        if q.dimension is not Dimension.TIME or q.low is None or q.high is None or not _is_shut(folded, q, known):
            continue
        clause = folded[slice(*scope(folded, q.start, q.end))]
        if known.window["not_window"].search(clause) is None:
            out.append((q.low, q.high))
    return out


def _is_shut(folded: str, q: Quantity, known: Cues) -> bool:
    """Whether a span of time is said to be one in which no coat may follow."""
    spanned = q.low is not None and q.high is not None and q.low < q.high
    return spanned and keeps_closed(folded[slice(*scope(folded, q.start, q.end))], known)


_NO_END = re.compile(
    r"\b(?:max(?:imum)?\.?|latest)\b[^.;]{0,40}?\b(?:unlimited|indefinite(?:ly)?|none|no limit|not limited|open)\b"
    r"|\bno (?:maximum|upper limit|time limit|latest time|limit)\b[^.;]{0,20}?"
    r"(?:\bcoat|(?:over|re|top)-?coat|window|interval)"
    r"|\b(?:over|re|top)-?coat\w*[^.;]{0,30}?\b"
    r"(?:(?:at )?any (?:time|later time)|indefinitely|without (?:time )?limit)\b"
)


_NO_UNIT = re.compile(
    r",? (?:and |but )?(?:up to|within|no later than|not later than|to) (?P<number>[\w-]+)(?= without\b|[,.;]|$| at\b)"
)


def _unitless(folded: str, spans: Sequence[Quantity]) -> Sequence[Quantity]:
    """The latest time of 'from sixteen hours and up to seventy-two', which takes its unit from the earliest."""
    if len(spans) != 1 or (found := _NO_UNIT.match(folded, spans[0].end)) is None:
        return ()
    numbers = find_quantities(found.group("number"), spans[0].printed_unit)
    if len(numbers) != 1 or numbers[0].dimension is not Dimension.TIME:
        return ()
    at = found.start("number")
    return [replace(numbers[0], start=at, end=at + numbers[0].end, lead=found.start(), bound=Bound.MOST)]


_OR_LATER = re.compile(
    r"[\s,;.)]*\b(?:or|and|then)\b(?: only| again| else| then| wait)*,?"
    r"(?: after| not before| from| past| beyond| once| over| until| wait(?:ing)?| later than| more than| at least)+ ?"
    r"(?:the |a |at least |a further )*"
)
_ALSO_LEAST = re.compile(r"\b(?:after|from|min\w*|at least|not before|earliest)\b[^,;.]*$")


def _parts(folded: str, a: Quantity, b: Quantity) -> bool:
    """Whether 'or after' stands between two times, the later one behind: between them the film is left alone."""
    if a.low == b.low or _OR_LATER.fullmatch(folded[a.end : b.start]) is None:
        return False
    ahead = folded[max(0, a.start - 60) : a.start]
    if _ALSO_LEAST.search(ahead) or _DENIED.search(re.split(r"[.;]", ahead)[-1]):
        return False
    end = a.high if a.high is not None else a.low
    return end is not None and b.low is not None and b.low > end


def _first(temperatures: Sequence[Quantity]) -> float | None:
    return temperatures[0].low if temperatures else None


def _window_of(
    folded: str, spans: Sequence[Quantity], temperatures: Sequence[Quantity], known: Cues, *, labelled: bool
) -> Times | None:
    lows: list[float] = []
    highs: list[float] = []
    most = [q for q in spans if _is_most(folded, q)]
    if (len(spans) == 2 and _BOTH_ENDS.search(folded[: spans[0].start])) or (
        len(spans) == 2 and not most and _is_pair(folded, *spans)
    ):
        most = [spans[1]]
    for q in spans:
        if q in most:
            top = q.high if q.high is not None else q.low
            if q.low is not None and q.high is not None and q.low < q.high:
                top = q.low
            if top is not None:
                highs.append(top)
        elif q.low is not None and q.high is not None and q.low < q.high:
            if most or not _spans_window(folded, q, labelled=labelled):
                lows.append(q.high)
            else:
                lows.append(q.low)
                highs.append(q.high)
        elif q.low is not None:
            lows.append(q.low)
    low, high = max(lows, default=None), min(highs, default=None)
    unlimited = known.window["unlimited"].search(folded) is not None and low is not None and high is None
    if low is None and high is None:
        return None
    if low is not None and high is not None and low >= high:
        return None
    return Times(low, high, unlimited, _first(temperatures), min(q.lead for q in spans), max(q.end for q in spans))


def _is_pair(folded: str, a: Quantity, b: Quantity) -> bool:
    """Whether two times stand as earliest and latest with nothing but a stroke between: '6 h / 5 d'."""
    if re.fullmatch(r" ?/ ?", folded[a.end : b.start]) is None or a.low is None or b.low is None:
        return False
    return a.bound is b.bound is Bound.NONE and b.low >= 3 * a.low


_BOTH_ENDS = re.compile(r"\bmin\w*\.?\s*(?:/|-|and|to|,|\||&)\s*max\w*\.?(?:[^.;\d]{0,40})$")
_WAIT = re.compile(
    r"\b(?:not|never|n't|too \w+)\b[^.;]*\buntil (?:at least |the (?:\w+ )?(?:is )?)?$"
    r"|^(?!.*\bif\b)(?!.*\b(?:sand|abrad|scuff|necessary|need|requir)\w*).*"
    r"\b(?:not|never|n't)\b[^.;,]{0,60}?\b(?:within|in|during)(?: the first)? $"
)
"""'Not until ...', 'do not recoat within ...': the time must pass first."""
_FIRST = re.compile(r"\b(?:in|within|during) the first $")
_WINDOW_OF = re.compile(r"\bwindow\b(?: \(?(?:time|period)\)?)?(?: is| of|:)* ?(?:at \d+ ?°[cf][:,]? ?)?$")
_WINDOW_BEHIND = re.compile(r" ?(?:\w+[ -])?(?:recoat|overcoat\w*|topcoat\w*|coating|painting|open)?[ -]?window\b")
"""'A 60-hour recoat window' ends after 60 hours."""
_BOUNDING = re.compile(r"\b(?:not?|never|n't)\b(?: \w+){0,3} ?$")
"""'Not ... longer than': what follows bounds the window and does not speak of a missed one."""
_UP_TO = re.compile(
    r"\bwithout (?:\w+ )?(?:sanding|abrading|flatting|scuffing|keying) for (?:up to )?$|"
    r"\b(?:up to|within|until|no later than|not later than|not after|not more than|no more than|latest(?: after)?|"
    r"max(?:imum)?\.?)(?: of| the)? ?(?:about |approx\.? )?$"
    r"|\b(?:max(?:imum|imal)?\b\.?|latest\b|longest\b|extended\b)(?:[^.;,\d]|\dk|,(?! ?min)){0,60}$"
)
_LATEST_BEHIND = re.compile(
    r"\.?\)?,? ?(?:at (?:the )?(?:very )?(?:latest|most|max\w*)"
    r"|(?:as )?(?:the )?(?:latest|longest)\b(?![\s:.]*(?:after )?\d)"
    r"|max(?:imum)?\b\.?(?![\s:.]*(?:of )?"
    r"(?:\d|unlimited|indefinite|no\b|none\b|n\.?/?a\b|extended|open\b|see\b|not\b|[-–]))"
    r"|or (?:less|sooner|earlier)\b|without (?:\w+ )?(?:sanding|abrading|scuffing|flatting)$)"
)
_LONGER = re.compile(
    r"\b(?:not?|never|n't)\b[^.;,]{0,40}?\b(?:longer|later|more|exceed\w*|beyond|past|over)\b(?: than)?[^.;,\d]{0,12}$"
)
_NOT_AFTER = re.compile(
    r"\b(?:do not|don't|never|must not|should not|may not|not)\b[^.;]{0,60}\bafter (?:more than )?$"
)
_BEFORE = re.compile(r"\b(?:but |and )?before (?:the )?$")
_DENIED = re.compile(r"\b(?:not|never|n't|no|nothing|cannot|neither)\b")


def _is_most(folded: str, q: Quantity) -> bool:
    ahead = folded[: q.start]
    if _WAIT.search(re.split(r"[.;]\s", ahead)[-1]):
        return False
    if _FIRST.search(ahead):
        return True
    if q.bound is Bound.MOST:
        return True
    if _LATEST_BEHIND.match(folded, q.end) and not re.search(r"\bmin(?:imum)?\.?[: ]*$", ahead):
        return True
    clause = re.split(r"[.;]\s", ahead)[-1]
    if _LONGER.search(clause) or _NOT_AFTER.search(ahead):
        return True
    if q.bound is Bound.LEAST:
        return False
    if q.low == q.high and (_WINDOW_OF.search(clause) or _WINDOW_BEHIND.match(folded, q.end)):
        return True
    if _BEFORE.search(clause):
        return _DENIED.search(clause) is None
    return _UP_TO.search(ahead[-80:]) is not None


def _spans_window(folded: str, q: Quantity, *, labelled: bool) -> bool:
    """Whether a range is a window and not an uncertain earliest time."""
    low, high = q.low or 0.0, q.high or 0.0
    if re.search(r"\b(?:between|from|window|interval|period)\b", folded[max(0, q.start - 60) : q.start]):
        return True
    return high >= 3 * low or (labelled and high > 2 * low)


def _foreign(folded: str, q: Quantity, quantities: Sequence[Quantity], known: Cues) -> bool:
    """A time that belongs to drying, flash-off, pot life or the open air, or in which the film must be left alone."""
    bracket = folded.rfind("(", 0, q.lead)
    inside = bracket if folded.find(")", bracket, q.lead) < 0 else -1
    left = max(inside, *(folded.rfind(sign, 0, q.lead) for sign in (";", ". ")))
    before = [o for o in quantities if o.dimension is Dimension.TIME and left < o.start < q.start]
    if before:
        parted = max(folded.rfind(sign, before[-1].end, q.lead) for sign in (",", " and ", " but "))
        left = parted if parted > 0 else left
    behind = folded[q.end : q.end + 24]
    if any(o.dimension is Dimension.TIME and q.end <= o.start for o in quantities):
        behind = behind.split(",")[0]
    clause = folded[left + 1 : q.end] + behind
    if re.search(r"\bnot (?:until|before)\b[^.;]*\bold\b", clause):
        return False
    if keeps_closed(folded[slice(*scope(folded, q.start, q.end))], known):
        return True
    return known.window["not_window"].search(clause) is not None
