"""The times of a sentence as a window: which is the earliest, which the latest, and whose."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace

from extract.bounds import Bound
from extract.clauses.cues import Cues
from extract.clauses.guard import scope
from extract.figures.nearness import stage_times
from extract.finders.window_coats import keeps_closed
from extract.finders.window_ends import Times, first_of, window_of
from extract.quantities import Quantity, find_quantities
from extract.units import Dimension

_LONG_WAIT = 60.0
"""Minutes: a wait between coats as long as this is a time to recoat, and no flash-off (common practice, no source)."""


def waits_long(folded: str) -> bool:
    """Whether a time is so long that between coats it is a time to recoat."""
    return any(
        q.dimension is Dimension.TIME and (q.low or q.high or 0.0) >= _LONG_WAIT for q in find_quantities(folded)
    )


def without_waits(folded: str, known: Cues) -> str:
    """The text without its words for a wait between coats where that wait is a time to recoat."""
    return _blanked(folded, known.window["between_coats"]) if waits_long(folded) else folded


def _blanked(folded: str, words: re.Pattern[str]) -> str:
    return words.sub(lambda m: " " * len(m.group()), folded)


def times_in(folded: str, known: Cues, *, labelled: bool) -> Times | None:
    """Earliest and latest time of the words, in minutes; the longest of several earliest, the shortest of latest."""
    quantities = find_quantities(folded)
    temperatures = [q for q in quantities if q.dimension is Dimension.TEMPERATURE and q.low is not None]
    spans = _own_times(folded, quantities, known)
    return window_of(folded, spans, temperatures, known, labelled=labelled)


def windows_in(folded: str, known: Cues, *, labelled: bool, aged: bool = False) -> list[Times]:
    """As times_in, with the two windows of 'within 1 hour or after 48 hours' apart.

    aged says that the words let a coat go on this film: how old it has to be is then the coat's earliest time.
    """
    quantities = find_quantities(folded)
    temperatures = [q for q in quantities if q.dimension is Dimension.TEMPERATURE and q.low is not None]
    spans = _own_times(folded, quantities, known, aged=aged)
    if any(folded.startswith("-to-", q.end) for q in spans):
        return []  # 'that ten-minute-to-one-hour slot': half of it is not read
    spans = [*spans, *_unitless(folded, spans, known)]
    for n in range(1, len(spans)):
        if not _parts(folded, spans[n - 1], spans[n], known):
            continue
        early, late = spans[:n], spans[n:]
        first = early[-1]
        if first.low == first.high:
            soon = Times(None, first.low, False, first_of(temperatures), early[0].lead, first.end)
        else:
            soon = Times(first.low, first.high, False, first_of(temperatures), early[0].lead, first.end)
        if first.bound is Bound.MOST:
            soon = Times(None, first.high, False, first_of(temperatures), early[0].lead, first.end)
        then = Times(late[0].low, None, False, first_of(temperatures), late[0].lead, late[0].end)
        return [soon, then] if len(spans) == 2 and then.low is not None else []
    if not spans and (endless := known.ends["no_end"].search(folded)) is not None:
        return [Times(None, None, True, first_of(temperatures), endless.start(), endless.end())]
    found = window_of(folded, spans, temperatures, known, labelled=labelled)
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


def _unitless(folded: str, spans: Sequence[Quantity], known: Cues) -> Sequence[Quantity]:
    """The latest time of 'from sixteen hours and up to seventy-two', which takes its unit from the earliest."""
    if len(spans) != 1 or (found := known.ends["no_unit"].match(folded, spans[0].end)) is None:
        return ()
    numbers = find_quantities(found.group("number"), spans[0].printed_unit)
    if len(numbers) != 1 or numbers[0].dimension is not Dimension.TIME:
        return ()
    at = found.start("number")
    return [replace(numbers[0], start=at, end=at + numbers[0].end, lead=found.start(), bound=Bound.MOST)]


def _parts(folded: str, a: Quantity, b: Quantity, known: Cues) -> bool:
    """Whether 'or after' stands between two times, the later one behind: between them the film is left alone."""
    if a.low == b.low or known.ends["or_later"].fullmatch(folded[a.end : b.start]) is None:
        return False
    ahead = folded[max(0, a.start - 60) : a.start]
    if known.ends["also_least"].search(ahead) or known.ends["denied"].search(re.split(r"[.;]", ahead)[-1]):
        return False
    end = a.high if a.high is not None else a.low
    return end is not None and b.low is not None and b.low > end


def _own_times(folded: str, quantities: Sequence[Quantity], known: Cues, *, aged: bool = False) -> list[Quantity]:
    """The times that may be ends of a window; of a list of stages only those that the words on the next coat name."""
    staged = stage_times(folded, quantities, known.window["verbs"], known.language)
    out: list[Quantity] = []
    for q in quantities:
        if q.dimension is not Dimension.TIME or staged.get(q.start, False):
            continue
        if q.start in staged:
            foreign = keeps_closed(folded[slice(*scope(folded, q.start, q.end))], known)
        else:
            foreign = _foreign(folded, q, quantities, known, aged=aged)
        if not foreign:
            out.append(q)
    return out


def _foreign(folded: str, q: Quantity, quantities: Sequence[Quantity], known: Cues, *, aged: bool) -> bool:
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
    if re.search(r"\b(?:not|never)\b[^.;]*\b(?:until|before)\b[^.;]*\bold\b", clause):
        return False
    if keeps_closed(folded[slice(*scope(folded, q.start, q.end))], known):
        return True
    if (q.low or q.high or 0.0) >= _LONG_WAIT:
        clause = _blanked(clause, known.window["between_coats"])
    if aged:
        clause = _blanked(clause, known.window["aged"])
    if known.window["then_coated"].search(folded):
        clause = _blanked(clause, known.window["flash"])
    return known.window["not_window"].search(clause) is not None
