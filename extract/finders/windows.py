"""overcoat_window out of sentences and fields; tables are window_tables.py's.

A window is filed for the coats that the same sentence permits over this product; a time for putting this
product onto something else is a condition of goes_over and no window.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from extract.bounds import Bound
from extract.claims import SELF, Claim, Condition, Method, Stance, Topic, Why
from extract.clauses.conditions import find_conditions
from extract.clauses.cues import Cues, cues
from extract.clauses.frames import Found, Frame
from extract.clauses.headings import given_frame, same_section, whole
from extract.clauses.reader import SentenceReader
from extract.document import Document, Statement, StatementKind, Table, evidence_of
from extract.finders import window_tables
from extract.finders.coats import trimmed
from extract.quantities import Quantity, find_quantities
from extract.sections import Sense, sense_of, sense_of_text
from extract.terms import SubjectNames, Vocabulary
from extract.units import Dimension

_NEXT = frozenset({Sense.OVERCOATING, Sense.TOPPED_BY, Sense.OWN_FILM})
_ELSEWHERE = frozenset(
    {
        Sense.LEGAL, Sense.SAFETY, Sense.PACKAGING, Sense.CLEANING, Sense.STORAGE, Sense.MIXING, Sense.FAULTS,
        Sense.EXPOSURE, Sense.GOES_OVER, Sense.PREPARATION, Sense.ABOUT, Sense.SYSTEMS,
    }
)  # fmt: skip


_HEAT = 40.0
"""From this temperature in degC on the object is heated: forced drying."""


@dataclass(frozen=True, slots=True)
class _Times:
    low: float | None
    high: float | None
    unlimited: bool
    at_c: float | None
    start: int
    end: int


def find(document: Document, subject: SubjectNames, vocabulary: Vocabulary) -> Iterator[Claim]:
    """Every time to the next coat, and what to do when it has passed."""
    bound = vocabulary.bind(document, subject)
    reader = SentenceReader(subject.kind, bound.language)
    known = cues(bound.language)
    blocks = document.blocks
    for i, block in enumerate(blocks):
        if isinstance(block, Table):
            near = [
                b for b in blocks[i + 1 : i + 6] if isinstance(b, Statement) and same_section(b.section, block.section)
            ]
            yield from window_tables.claims(block, near, bound, reader, document.scanned)
        else:
            before = blocks[i - 1] if i else None
            follows = isinstance(before, Statement) and same_section(before.section, block.section)
            yield from _statement(
                block,
                before if follows and isinstance(before, Statement) else None,
                bound,
                reader,
                known,
                document.scanned,
            )


def _statement(
    block: Statement,
    before: Statement | None,
    vocabulary: Vocabulary,
    reader: SentenceReader,
    known: Cues,
    scanned: bool,
) -> Iterator[Claim]:
    senses = sense_of(block.section, vocabulary.language)
    labelled = sense_of_text(block.label.text, vocabulary.language) if block.label is not None else frozenset()
    if senses & _ELSEWHERE and not (senses | labelled) & _NEXT:
        return
    block = replace(block, passage=whole(block, vocabulary))
    folded = block.passage.folded
    given = given_frame(block, vocabulary, reader)
    listed = block.kind is StatementKind.BULLET
    if listed and block.lead is not None and _times(block.lead.folded, known, labelled=False) is not None:
        yield from _led(block, given, vocabulary, reader, known, scanned)
    found = reader.read(folded, vocabulary.mentions(block.passage.text), given, listed=listed)
    permitted = [f for f in found if f.topic is Topic.TOPPED_BY and not f.forbids]
    under = [f for f in found if f.topic is Topic.GOES_OVER]
    under_heading = bool((senses | labelled) & {Sense.OVERCOATING, Sense.TOPPED_BY})
    late = known.window["late"].search(folded)
    cut = _late_at(folded, late)
    late = late if cut < len(folded) else None
    first = folded[:cut]
    for start, end, group in _regimes(first, _segments(first, permitted)):
        part = " " * start + first[start:end]
        times = None
        if permitted or not under:
            times = _times(part, known, labelled=bool(labelled & _NEXT) and block.kind is StatementKind.FIELD)
        if times is None:
            continue
        if times.at_c is None:
            times = replace(
                times, at_c=_temperature(first) if len(group) < len(permitted) else _labelled_temperature(block)
            )
        verb = known.window["verbs"].search(first)
        if _is_window(first, verb is not None, bool(group), bool(labelled & _NEXT)):
            yield from _window(block, part, times, group, vocabulary, known, scanned)
    if (late is not None and (senses | labelled) & _NEXT) or (
        late is not None and (_times(first, known, labelled=False) is not None or _timed(before))
    ):
        if under and not permitted:
            return
        yield from _abrade_after(
            block, folded, cut if late else 0, permitted, vocabulary, known, scanned, under_heading
        )


def _led(
    block: Statement, given: Frame | None, vocabulary: Vocabulary, reader: SentenceReader, known: Cues, scanned: bool
) -> Iterator[Claim]:
    """'It can be overcoated after 2 hours with:' sets the time for each coat of its list."""
    lead = block.lead
    if lead is None or given is None or given.topic is not Topic.TOPPED_BY or given.forbids:
        return
    if _times(block.passage.folded, known, labelled=False) is not None or not known.window["verbs"].search(lead.folded):
        return
    times = _times(lead.folded, known, labelled=False)
    found = reader.read(block.passage.folded, vocabulary.mentions(block.passage.text), given, listed=True)
    for object_ in dict.fromkeys(f.mention.object for f in found if f.topic is Topic.TOPPED_BY and not f.forbids):
        if times is not None:
            yield Claim(
                topic=Topic.OVERCOAT_WINDOW,
                property="window",
                stance=Stance.STATES,
                evidence=evidence_of([lead, block.passage]),
                object=object_,
                low=times.low,
                high=times.high,
                unit="min",
                unlimited=times.unlimited,
                at_c=times.at_c,
                confidence=0.75,
                from_picture=scanned,
                why=Why("window in the lead-in", (block.passage.text[:40],)),
            )


def _segments(first: str, permitted: Sequence[Found]) -> Iterator[tuple[int, int, list[Found]]]:
    """Each coat with the words that hold its time: 'with itself after 15 min, with 2K topcoats after 1 h'.

    Where the sentence has one time for all, one segment of everything.
    """
    spans = [q for q in find_quantities(first) if q.dimension is Dimension.TIME]
    order = sorted(permitted, key=lambda f: f.mention.start)
    starts = sorted({f.mention.start for f in order})
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


def _regimes(first: str, segments: Iterator[tuple[int, int, list[Found]]]) -> Iterator[tuple[int, int, list[Found]]]:
    """'16 hours at 20 °C or 45 minutes at 60 °C' is two times, each at its own temperature."""
    for start, end, group in segments:
        figures = [
            q
            for q in find_quantities(first[start:end])
            if q.dimension in (Dimension.TIME, Dimension.TEMPERATURE) and q.bound is not Bound.MOST
        ]
        kinds = [q.dimension for q in figures]
        pairs = len(figures) // 2
        if pairs < 2 or kinds != [Dimension.TIME, Dimension.TEMPERATURE] * pairs:
            yield start, end, group
            continue
        begin = start
        for n in range(pairs):
            stop = start + figures[2 * n + 1].end
            yield begin, stop, group
            begin = stop


def _temperature(text: str) -> float | None:
    return next((q.low for q in find_quantities(text) if q.dimension is Dimension.TEMPERATURE), None)


def _labelled_temperature(block: Statement) -> float | None:
    """The temperature that the statement's label, lead-in or heading sets."""
    for part in (block.label, block.lead, block.section.title):
        for q in find_quantities(part.folded) if part is not None else ():
            if q.dimension is Dimension.TEMPERATURE:
                return q.low
    return None


def _timed(before: Statement | None) -> bool:
    return before is not None and any(q.dimension is Dimension.TIME for q in find_quantities(before.passage.folded))


def _late_at(folded: str, late: re.Match[str] | None) -> int:
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


def _times(folded: str, known: Cues, *, labelled: bool) -> _Times | None:
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
    return _Times(
        low, high, unlimited, temperatures[0].low if temperatures else None,
        min(q.lead for q in spans), max(q.end for q in spans),
    )  # fmt: skip


_UP_TO = re.compile(
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


def _is_window(folded: str, verb: bool, permitted: bool, labelled: bool) -> bool:
    return labelled or permitted or (verb and not re.search(r"\bflash\b|\bbetween coats\b", folded))


def _window(
    block: Statement,
    folded: str,
    times: _Times,
    permitted: Sequence[Found],
    vocabulary: Vocabulary,
    known: Cues,
    scanned: bool,
) -> Iterator[Claim]:
    hits = find_conditions(folded, vocabulary.mentions(block.passage.text[: len(folded)]), vocabulary.language)
    spared = times.high is not None and re.search(r"\bwithout (?:\w+ )?(?:sanding|abrading|scuffing|flatting)", folded)
    worked = any(h.condition is Condition.ABRADED for h in hits) and not spared
    abraded = worked or re.search(r"\bof sanding\b", folded) is not None
    wet = re.search(r"wet[- ]on[- ]wet", folded) is not None
    objects: list[str | None] = list(dict.fromkeys(f.mention.object for f in permitted))
    if not objects:
        own = re.search(
            r"\b(?:with|of|by|to) itself\b|\bwith the same product\b|\bfurther coats? of (?:it|this)", folded
        )
        top = known.window["next_topcoat"].search(folded)
        objects = [SELF] if own else ["topcoat" if top else None]
    start = min([times.start, *(f.start for f in permitted)])
    end = max([times.end, *(f.mention.end for f in permitted)])
    verb = known.window["verbs"].search(folded)
    if verb is not None and not permitted:
        start, end = min(start, verb.start()), max(end, verb.end())
    evidence = block.passage.evidence(
        *trimmed(block.passage.text, start, min(len(folded), _with_temperature(folded, end)))
    )
    for object_ in objects:
        yield Claim(
            topic=Topic.OVERCOAT_WINDOW,
            property="window",
            stance=Stance.STATES,
            evidence=evidence,
            object=object_,
            conditions=(Condition.ABRADED,) if abraded else (),
            low=times.low,
            high=times.high,
            unit="min",
            unlimited=times.unlimited,
            at_c=times.at_c,
            method=Method.WET_ON_WET if wet else Method.FORCE if (times.at_c or 0) >= _HEAT else None,
            confidence=0.85 if permitted else 0.75,
            from_picture=scanned,
            why=Why("window in a sentence", tuple(f.mention.words for f in permitted)),
        )


def _with_temperature(folded: str, end: int) -> int:
    match = re.match(r",? ?(?:at|@) ?\d+ ?°[cf]", folded[end:])
    return end + match.end() if match else end


def _abrade_after(
    block: Statement,
    folded: str,
    start: int,
    permitted: Sequence[Found],
    vocabulary: Vocabulary,
    known: Cues,
    scanned: bool,
    under_heading: bool,
) -> Iterator[Claim]:
    tail = folded[start:]
    grades = [q for q in find_quantities(tail) if q.dimension is Dimension.GRADE]
    pad = next(
        (
            m
            for m in known.window["pads"].finditer(tail)
            if not re.search(r"\b(?:without|no|not) (?:\w+ )?$", tail[: m.start()])
        ),
        None,
    )
    if not grades and pad is None:
        return
    if re.search(r"polish|dust inclusion|inclusions", folded):
        return
    if re.search(r"\b(?:sand(?:ed)? off|do not sand|no sanding|without sanding)\b", tail) and not grades:
        return
    end = len(folded)
    own = [f.mention.object for f in permitted if f.mention.start < start]
    object_ = own[0] if own and len(set(own)) == 1 else None
    evidence = block.passage.evidence(start, end)
    why = Why("what to do past the latest time", (tail[: min(40, len(tail))],))
    figures: list[Quantity | None] = [*grades] or [None]
    for q in figures:
        yield Claim(
            topic=Topic.OVERCOAT_WINDOW,
            property="abrade_after",
            stance=Stance.REQUIRES,
            evidence=evidence,
            object=object_,
            low=q.low if q is not None else None,
            high=q.high if q is not None else None,
            unit="P" if q is not None else None,
            text=_manner(tail, q) if q is not None else (pad.group() if pad else None),
            confidence=0.8 if under_heading else 0.7,
            from_picture=scanned,
            why=why,
        )


def _manner(tail: str, q: Quantity) -> str | None:
    match = re.match(r" ?(dry|wet)\b", tail[q.end :])
    return match.group(1) if match else None
