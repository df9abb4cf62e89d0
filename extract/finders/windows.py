"""overcoat_window out of sentences and fields; tables are window_tables.py's.

A window is filed for the coats that the same sentence permits over this product; a time for putting this
product onto something else is a condition of goes_over and no window.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import replace

from extract.claims import Claim, Condition, Method, Stance, Topic, Why
from extract.clauses.conditions import find_conditions
from extract.clauses.cues import Cues, cues
from extract.clauses.frames import Frame
from extract.clauses.headings import given_frame, same_section, whole
from extract.clauses.reader import SentenceReader
from extract.document import Document, Passage, Statement, StatementKind, Table, evidence_of, join
from extract.figures.governing import HOT, heat_of
from extract.figures.reading import section_key, section_temperatures
from extract.finders import window_tables
from extract.finders.coats import trimmed
from extract.finders.window_coats import NextCoat, is_of_another_film, next_coats
from extract.finders.window_ends import Times
from extract.finders.window_gaps import gaps_of, kept_apart
from extract.finders.window_heads import role_of
from extract.finders.window_missed import abrade_after
from extract.finders.window_parts import TIMED_LATE, asked_first, regimes, segments, turn_late
from extract.finders.window_times import times_in, waits_long, windows_in, without_waits
from extract.quantities import find_quantities
from extract.sections import Sense, sense_of, sense_of_text
from extract.terms import SubjectNames, Vocabulary
from extract.units import Dimension

_NEXT = frozenset({Sense.OVERCOATING, Sense.TOPPED_BY, Sense.OWN_FILM})
_ELSEWHERE = frozenset(
    {
        Sense.LEGAL, Sense.SAFETY, Sense.PACKAGING, Sense.CLEANING, Sense.STORAGE, Sense.MIXING, Sense.FAULTS,
        Sense.EXPOSURE, Sense.GOES_OVER, Sense.PREPARATION, Sense.SYSTEMS,
    }
)  # fmt: skip


def find(document: Document, subject: SubjectNames, vocabulary: Vocabulary) -> Iterator[Claim]:
    """Every time to the next coat, and what to do when it has passed."""
    bound = vocabulary.bind(document, subject)
    reader = SentenceReader.shared(subject.kind, bound.language)
    known = cues(bound.language)
    found = _windows(document, bound, reader, known)
    yield from kept_apart(found, gaps_of(document, bound, known))


def _windows(document: Document, bound: Vocabulary, reader: SentenceReader, known: Cues) -> Iterator[Claim]:
    blocks = document.blocks
    defaults = section_temperatures(document)
    for i, block in enumerate(blocks):
        at_c = defaults.get(section_key(block.section))
        for claim in _of_block(document, i, bound, reader, known):
            plain = claim.property == "window" and claim.at_c is None and claim.method in (None, Method.WET_ON_WET)
            yield replace(claim, at_c=at_c) if plain else claim


def _of_block(document: Document, i: int, bound: Vocabulary, reader: SentenceReader, known: Cues) -> Iterator[Claim]:
    blocks, block = document.blocks, document.blocks[i]
    if isinstance(block, Table):
        near = [b for b in blocks[i + 1 : i + 6] if isinstance(b, Statement) and same_section(b.section, block.section)]
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
    told = bool(labelled & (_NEXT - {Sense.OWN_FILM})) and block.kind is StatementKind.FIELD
    waits, passed = _label_tells(block, known)
    told = told or waits or passed
    block = replace(block, passage=_with_label(block) if told else whole(block, vocabulary))
    folded = block.passage.folded
    mentions = vocabulary.mentions(block.passage.text)
    foreign = known.window["not_window"].search(without_waits(folded, known))
    if told and block.label is not None and foreign is not None and foreign.start() < len(block.label.text):
        return  # 'Without topcoat, outdoors: 3 months'
    given = given_frame(block, vocabulary, reader)
    listed = block.kind is StatementKind.BULLET
    if listed and block.lead is not None and times_in(block.lead.folded, known, labelled=False) is not None:
        yield from _led(block, given, vocabulary, reader, known, scanned)
    found = reader.read(folded, mentions, given, listed=listed)
    coats, clear = next_coats(folded, mentions, found, vocabulary.own_kind, known)
    if is_of_another_film(folded, mentions, coats, vocabulary.own_kind, known):
        return
    permitted = [c for c in coats if c.permitted]
    under = [f for f in found if f.topic is Topic.GOES_OVER]
    under_heading = bool((senses | labelled) & {Sense.OVERCOATING, Sense.TOPPED_BY})
    late, cut = turn_late(folded, known)
    unmet = _UNMET.match(folded)
    first = folded[: unmet.end() if unmet is not None else cut]
    coats = [c for c in coats if c.start < len(first)]
    if permitted or not under or told:
        for start, end, several in regimes(first, segments(first, coats)):
            group = _within_reach(first, start, end, several)
            if not group and not clear:
                continue  # a coat is named that the time may be for
            part = " " * start + first[start:end]
            if not _is_window(part, first, group, under_heading, told, known):
                continue
            elsewhere = _temperature(first) if len(group) < len(coats) else _labelled_temperature(block)
            found_here = windows_in(part, known, labelled=told, aged=any(c.permitted for c in group))
            if told and block.label is not None and _labels_latest(block.label, block.passage, known):
                found_here = [_latest(t) for t in found_here]
            if cut < len(folded):  # a time that was cut off may be the one that an endless window begins with
                found_here = [t for t in found_here if t.low is not None or t.high is not None]
            # Two windows of one sentence are both quoted with all of it: neither is the whole truth by itself.
            whole_span = [t.start for t in found_here], [t.end for t in found_here]
            for times in found_here:
                held = replace(times, start=min(whole_span[0]), end=max(whole_span[1]))
                held = held if held.at_c is not None else replace(held, at_c=elsewhere)
                yield from _window(block, part, held, group, vocabulary, known, scanned)
    if unmet is not None and not (under and not permitted):
        yield from abrade_after(block, folded, unmet.end(), permitted, known, scanned, under_heading)
        return
    asked = known.window["asked_ahead"].search(folded) if not under or permitted else None
    if asked is not None and (senses | labelled) & _NEXT and _time(folded, asked.end()):
        yield from abrade_after(block, folded, asked.start(), permitted, known, scanned, under_heading)
        return
    if late is None or (under and not permitted):
        return
    if (senses | labelled) & _NEXT or _timed(before):
        begin = asked_first(folded, late, known)
        if begin is not None:
            yield from abrade_after(block, folded, begin, permitted, known, scanned, under_heading)
            return
    aged = late.group() == "older" and not re.match(r"[^.;]*\b(?:over|on|onto)\b", folded[: late.start()])
    timed = TIMED_LATE.match(late.group())
    missed = aged or (timed is None and known.window["verbs"].search(folded) is not None)
    if (
        (senses | labelled) & _NEXT
        or missed
        or passed
        or known.window["then_coated"].search(folded, cut) is not None
        or _timed(before)
        or times_in(first, known, labelled=False) is not None
    ):
        yield from abrade_after(block, folded, cut if late else 0, permitted, known, scanned, under_heading)


_UNMET = re.compile(r"[^.;]*\bif [^.;,]*\bnot\b[^.;,]*\b(?:within|inside|before) [^.;,]*\d[^.;,]*,")
"""'If it is not overcoated within 7 days, ...': what has to be done then stands behind."""


def _labels_latest(label: Passage, value: Passage, known: Cues) -> bool:
    """Whether a label says that its times are the latest ones; 'without sanding' does unless the value says 'after'."""
    role = role_of(label.folded, known)
    said = value.folded.removeprefix(label.folded)
    return role == "most" or (role == "free" and known.window["least"].search(said) is None)


def _latest(times: Times) -> Times:
    """'Maximum: 14 d at 10 °C, 7 d at 20 °C': the label's word holds for each time."""
    return replace(times, low=None, high=times.low) if times.high is None and times.low is not None else times


def _label_tells(block: Statement, known: Cues) -> tuple[bool, bool]:
    """Whether a field's label names the wait before the next coat, and whether it says that the time has passed."""
    if block.kind is not StatementKind.FIELD or block.label is None:
        return False, False
    folded = block.label.folded.strip(" :.")
    waits = known.window["wait_label"].match(folded) is not None and _is_bare(block.passage.folded, known)
    if known.window["between_coats"].search(folded) and not waits_long(block.passage.folded):
        waits = False
    late = known.window["late"].match(folded)
    return waits, late is not None and TIMED_LATE.match(late.group()) is None


def _within_reach(first: str, start: int, end: int, coats: Sequence[NextCoat]) -> list[NextCoat]:
    """The coats but those of a later clause: '... from two days on; other makers' lacquers craze it'."""
    times = [q.end for q in find_quantities(first[start:end]) if q.dimension is Dimension.TIME]
    stop = first.find("; ", start + times[-1]) if times else -1
    return [c for c in coats if stop < 0 or c.start < stop]


def _with_label(block: Statement) -> Passage:
    if block.label is None or block.passage.folded.startswith(block.label.folded.rstrip(":")):
        return block.passage
    return join([block.label, block.passage], by=" " if block.label.text.rstrip().endswith(":") else ": ")


def _is_window(
    part: str, first: str, group: Sequence[NextCoat], under_heading: bool, labelled: bool, known: Cues
) -> bool:
    """Whether the words mean a time to the next coat, and not one for drying or for working."""
    between = re.search(r"\b(?:between (?:\w+ )?(?:coats|hands|layers)|at (?:an? )?intervals? of)\b", first)
    if between is not None:
        return waits_long(first) or re.search(r"\b(?:max|latest|days?|weeks?|months?)\b", first) is not None
    if labelled or any(c.permitted for c in group):
        return True
    verbs = [m.group() for m in known.window["verbs"].finditer(_timed_sentences(first))]
    if any(known.window["putting_on"].fullmatch(v) is None for v in verbs):
        return True
    if verbs and (group or known.window["coat_words"].search(first)):
        return True  # but 'decals may be applied after 7 days' is about no coat
    return under_heading and (bool(group) or _is_bare(part, known))


_SENTENCE_END = re.compile(r"(?<!min)(?<!max)(?<!hrs)(?<!hr)(?<!approx)\. ")


def _timed_sentences(first: str) -> str:
    """The sentences of a bullet's text that have a time; what another one does is no matter of theirs."""
    parts = _SENTENCE_END.split(first)
    timed = [p for p in parts if any(q.dimension is Dimension.TIME for q in find_quantities(p))]
    return ". ".join(timed) if timed else first


def _is_bare(part: str, known: Cues) -> bool:
    """Whether nothing stands there but a window's own words: 'Min. 4 h, max. 7 days at 20 °C'."""
    if known.window["sanding_order"].search(part):
        return False
    part = known.window["mild"].sub(lambda m: " " * len(m.group()), part)
    rest = list(part)
    for q in find_quantities(part):
        rest[q.start : q.end] = " " * (q.end - q.start)
    words = re.findall(r"[^\W\d_]+\.?", "".join(rest))
    return all(known.window["bare"].fullmatch(w) or known.window["bare"].fullmatch(w.rstrip(".")) for w in words)


def _led(
    block: Statement, given: Frame | None, vocabulary: Vocabulary, reader: SentenceReader, known: Cues, scanned: bool
) -> Iterator[Claim]:
    """'It can be overcoated after 2 hours with:' sets the time for each coat of its list."""
    lead = block.lead
    if lead is None or given is None or given.topic is not Topic.TOPPED_BY or given.forbids:
        return
    if times_in(block.passage.folded, known, labelled=False) is not None or not known.window["verbs"].search(
        lead.folded
    ):
        return
    times = times_in(lead.folded, known, labelled=False)
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


def _time(folded: str, start: int) -> bool:
    return any(q.dimension is Dimension.TIME and q.start >= start for q in find_quantities(folded))


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


def _window(
    block: Statement,
    folded: str,
    times: Times,
    coats: Sequence[NextCoat],
    vocabulary: Vocabulary,
    known: Cues,
    scanned: bool,
) -> Iterator[Claim]:
    hits = find_conditions(folded, vocabulary.mentions(block.passage.text[: len(folded)]), vocabulary.language)
    spared = times.high is not None and known.window["spares"].search(folded)
    worked = any(h.condition is Condition.ABRADED for h in hits) and not spared
    abraded = worked or re.search(r"\bof sanding\b", folded) is not None
    cleaned = any(h.condition is Condition.CLEAN for h in hits)
    conditions = (*([Condition.CLEAN] if cleaned else []), *([Condition.ABRADED] if abraded else []))
    around = [p.folded for p in (block.label, block.lead) if p is not None]
    wet = re.search(r"wet[- ]on[- ]wet", " ".join((*around, folded))) is not None
    objects: list[str | None] = list(dict.fromkeys(c.object for c in coats))
    if not objects:
        clear = known.window["next_clear"].search(folded)
        top = known.window["next_topcoat"].search(folded)
        objects = ["topcoat.clear" if clear else "topcoat" if top else None]
    start = min([times.start, *(c.begin for c in coats)])
    end = max([times.end, *(c.end for c in coats)])
    verb = known.window["verbs"].search(folded)
    if verb is not None and not coats:
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
            conditions=conditions,
            low=times.low,
            high=times.high,
            unit="min",
            unlimited=times.unlimited,
            at_c=times.at_c,
            method=Method.WET_ON_WET if wet else _heated(folded, times),
            confidence=0.85 if any(c.permitted for c in coats) else 0.75,
            from_picture=scanned,
            why=Why("window in a sentence", tuple(c.words for c in coats)),
        )


def _heated(folded: str, times: Times) -> Method | None:
    """The heat behind a time: an interval under the lamp or out of the oven says nothing of one in the air."""
    if times.at_c is not None:
        return Method.FORCE if times.at_c >= HOT else None
    return heat_of(folded[folded.rfind(";", 0, times.start) + 1 : times.end])


def _with_temperature(folded: str, end: int) -> int:
    match = re.match(r",? ?(?:at|@) ?\d+ ?°[cf]", folded[end:])
    return end + match.end() if match else end
