"""goes_over and topped_by out of sentences, bullets and fields; tables are coat_tables.py's."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import replace

from extract.claims import SELF, Claim, Condition, Stance, Topic, Why
from extract.clauses.conditions import ConditionHit, find_conditions, tags, times
from extract.clauses.cues import cues, marked
from extract.clauses.frames import Found, Frame
from extract.clauses.guard import speaks_against
from extract.clauses.headings import given_frame, mentions_of, same_section, whole
from extract.clauses.polarity import negates
from extract.clauses.reader import SentenceReader
from extract.clauses.verdicts import Answer, read_verdict
from extract.document import Document, Passage, Section, Statement, StatementKind, Table, evidence_of, fold
from extract.finders import coat_lists, coat_tables, prepared_grounds, window_tables
from extract.finders.coat_doubts import idle, must_follow, spoken_against
from extract.finders.coat_takings import answered, as_item, cut_short, labelled, led
from extract.sections import Sense, sense_of
from extract.terms import Mention, SubjectNames, Vocabulary

_SILENT = frozenset(
    {Sense.LEGAL, Sense.SAFETY, Sense.PACKAGING, Sense.CLEANING, Sense.STORAGE, Sense.MIXING, Sense.FAULTS, Sense.FILM}
)
"""Headings under which a sheet speaks of no coat below or above."""


def find(document: Document, subject: SubjectNames, vocabulary: Vocabulary) -> Iterator[Claim]:
    """Every claim on what this product goes over and what goes over it."""
    found = list(_reconciled(list(_found(document, subject, vocabulary))))
    yield from found
    yield from prepared_grounds.claims(document, vocabulary.bind(document, subject), found)


_BY_TIMES = "named in a table of times"


def _from_windows(table: Table, vocabulary: Vocabulary, reader: SentenceReader, scanned: bool) -> Iterator[Claim]:
    """A table of times to the next coat permits the coats that its heads name, in time."""
    seen: set[str] = set()
    for claim in window_tables.claims(table, (), vocabulary, reader, scanned):
        if claim.object is None or claim.object in seen:
            continue
        seen.add(claim.object)
        have = {*claim.conditions, Condition.WITHIN_WINDOW}
        yield Claim(
            topic=Topic.TOPPED_BY,
            property=None,
            stance=Stance.PERMITS,
            evidence=claim.evidence,
            object=claim.object,
            conditions=tuple(c for c in Condition if c in have),
            confidence=0.85,
            from_picture=scanned,
            why=Why(_BY_TIMES, claim.why.terms if claim.why else ()),
        )


def _reconciled(found: list[tuple[Claim, bool]]) -> Iterator[Claim]:
    """Without what a description permits outright and the sheet's chapter on it permits with conditions or forbids.

    found holds each claim with whether it stands where the sheet speaks of that side.
    """
    strict = [c for c, told in found if told and (c.stance is Stance.FORBIDS or weighty(c))]
    permitted = [(c.topic, c.object) for c, _ in found]
    for claim, told in found:
        if (
            claim.why is not None
            and claim.why.pattern == _BY_TIMES
            and permitted.count((claim.topic, claim.object)) > 1
        ):
            continue
        loose = not told and claim.stance is Stance.PERMITS and not weighty(claim)
        if loose and any(s.topic is claim.topic and _akin(s.object, claim.object) for s in strict):
            continue
        yield claim


def weighty(claim: Claim) -> bool:
    """Whether a claim has a condition that a painter would not meet anyway."""
    return bool(set(claim.conditions) - {Condition.CLEAN, Condition.SOUND})


def _akin(a: str | None, b: str | None) -> bool:
    return a is not None and b is not None and (a == b or a.startswith(b + ".") or b.startswith(a + "."))


def _found(document: Document, subject: SubjectNames, vocabulary: Vocabulary) -> Iterator[tuple[Claim, bool]]:
    bound = vocabulary.bind(document, subject)
    reader = SentenceReader.shared(subject.kind, bound.language)
    pending: list[Claim] = []
    section: Section | None = None
    timed = _timed_leads(document, bound)
    asked: Statement | None = None
    before: Statement | None = None
    ahead: tuple[Condition, ...] = ()
    named = 0
    answer: Answer | None = None
    for block in document.blocks:
        if section is None or not same_section(block.section, section):
            yield from ((c, _at_home(c, section, bound)) for c in coat_lists.closed(pending))
            pending, section, ahead, named, answer = [], block.section, (), 0, None
        ahead = ahead if coat_lists.is_listed(block) else coat_lists.set_ahead(block, bound) or ahead
        if isinstance(block, Table):
            told = coat_lists.given(list(coat_tables.claims(block, bound, reader, document)), ahead)
            pending.extend(told)
            known = {c.object for c in told if c.topic is Topic.TOPPED_BY}
            pending.extend(c for c in _from_windows(block, bound, reader, document.scanned) if c.object not in known)
            before = None
            continue
        cut = cut_short(block, before)
        statement, asked = answered(led(block, before), asked)
        if coat_lists.goes_on(statement, before):
            pending[named:] = coat_lists.given(pending[named:], coat_lists.set_on_label(statement.passage, bound))
        else:
            named = len(pending)
        before = statement
        pending = _shared(statement, pending, bound)
        claims = list(_statement(statement, bound, reader, timed, document.scanned))
        taken = None if claims else labelled(statement, bound) or as_item(statement)
        if taken is not None:
            claims = list(_statement(taken, bound, reader, timed, document.scanned))
        answer = coat_lists.said_of_list(block, answer, bound.language)
        claims = coat_lists.refused(claims) if answer is Answer.NO else claims
        claims = coat_lists.given(claims, coat_lists.told_further(statement, bound))
        claims = coat_lists.given(claims, ahead if coat_lists.is_listed(block) else ())
        pending.extend(c for c in claims if not (cut and c.stance is Stance.PERMITS and not weighty(c)))
    yield from ((c, _at_home(c, section, bound)) for c in coat_lists.closed(pending))


_HOME = {
    Topic.GOES_OVER: frozenset({Sense.GOES_OVER, Sense.FORBIDS}),
    Topic.TOPPED_BY: frozenset({Sense.TOPPED_BY, Sense.OVERCOATING, Sense.FORBIDS}),
}


def _at_home(claim: Claim, section: Section | None, vocabulary: Vocabulary) -> bool:
    """Whether a claim stands where the sheet speaks of just that: what it may go over, or what may go on it."""
    return section is not None and bool(sense_of(section, vocabulary.language) & _HOME.get(claim.topic, frozenset()))


def _statement(
    block: Statement, vocabulary: Vocabulary, reader: SentenceReader, timed: frozenset[str], scanned: bool
) -> Iterator[Claim]:
    senses = sense_of(block.section, vocabulary.language)
    if senses & _SILENT and not senses & {Sense.GOES_OVER, Sense.TOPPED_BY, Sense.OVERCOATING}:
        return
    if block.kind is StatementKind.FIELD and _SHARE.fullmatch(block.passage.folded):
        return  # 'Activator: 1 part', in a table that has lost its heading
    given = given_frame(block, vocabulary, reader)
    listed = block.kind is StatementKind.BULLET or (block.kind is StatementKind.FIELD and given is not None)
    block = replace(block, passage=whole(block, vocabulary))
    text = block.passage.text
    mentions = mentions_of(block, vocabulary)
    folded = fold(text)
    given, ticked = _by_mark(block, given)
    found = _merged(reader.read(folded, mentions, given, listed=listed))
    found.extend(_unpaintable(folded, mentions, found, vocabulary.language))
    found.extend(_label_denied(block, folded, found, vocabulary.language))
    if not listed and given is not None and given.forbids and _is_fine(folded, mentions, vocabulary.language):
        found = []
    lead_mentions = vocabulary.mentions(block.lead.text) if block.lead is not None else ()
    lead_hits = (
        [h for h in find_conditions(fold(block.lead.text), lead_mentions) if h.via is None]
        if block.lead is not None
        else []
    )
    note_hits = [h for n in block.notes for h in find_conditions(fold(n.text), vocabulary.mentions(n.text))]
    if block.lead is not None and (block.lead.text in timed or times(block.lead.folded)):
        note_hits.append(ConditionHit(Condition.WITHIN_WINDOW, 0, 0))
    used_lead = listed and given is not None and not given.plain
    heading = block.section.title.folded
    against = not ticked and speaks_against(heading, vocabulary.language)
    ordered = listed and _BARE_NO.fullmatch(heading.strip(" :.!")) is not None
    for read in found:
        if must_follow(read, folded) or (not listed and not read.forbids and idle(read, block, senses, folded, given)):
            continue
        f = read
        if against and not read.forbids:
            if read.via is not None and read.pattern.endswith("unless"):
                pass  # 'Not over: aluminium, unless primed with X'
            elif not ordered:
                continue
            else:
                f = replace(read, forbids=True, conditions=(), via=None, pattern=f"{read.pattern}, under 'do not'")
        if spoken_against(f, block, folded, mentions, marked=ticked, language=vocabulary.language):
            continue
        extra = [*lead_hits, *note_hits] if not f.forbids else []
        yield from _claims(f, block, extra, with_lead=used_lead, scanned=scanned, marked=ticked)


_SHARE = re.compile(r"\W*[\d.,/\u00bd-]+ ?(?:parts?|vol(?:umes?)?|pbw|pbv|%|ml|l|g)?(?: by (?:volume|weight))?\W*")


def _is_fine(folded: str, mentions: Sequence[Mention], language: str) -> bool:
    """'OEM finish at the rim of the repair is OK', said under 'Do not apply over'."""
    signs = marked(folded, mentions)
    return cues(language).fine.search(signs) is not None and not negates(cues(language), signs)


def _unpaintable(folded: str, mentions: Sequence[Mention], found: Sequence[Found], language: str) -> Iterator[Found]:
    """'The wax cannot be painted': no topcoat goes on it, though none is named."""
    match = cues(language).unpaintable.search(marked(folded, mentions))
    if match is None or any(f.mention.object == "topcoat" for f in found):
        return
    verb = Mention(match.start(), match.end(), "topcoat", folded[match.start() : match.end()])
    yield Found(verb, Topic.TOPPED_BY, True, match.start(), match.end(), "takes no paint", confidence=0.75)


def _label_denied(block: Statement, folded: str, found: Sequence[Found], language: str) -> Iterator[Found]:
    """'Overpaintable: no'."""
    label = block.label.folded.strip(" :?") if block.label is not None else ""
    if found or cues(language).paintable_label.fullmatch(label) is None or len(folded.split()) > 3:
        return
    answer = read_verdict(folded, language=language)
    if answer is not None and answer.answer is Answer.NO:
        yield Found(Mention(0, len(folded), "topcoat", folded), Topic.TOPPED_BY, True, 0, len(folded), "takes no paint")


_BARE_NO = re.compile(
    r"(?:please )?(?:do not(?: use)?|don'?t use|not to be used|don'?ts?|never|what not to do|must not|"
    r"you must not|not allowed)"
)
"""A heading that is nothing but the negation of the orders listed under it."""


def _timed_leads(document: Document, vocabulary: Vocabulary) -> frozenset[str]:
    """Lead-ins whose own paragraph sets the window for the coats that they list."""
    verbs = cues(vocabulary.language).window["verbs"]
    timed: set[tuple[tuple[str, ...], int]] = set()
    out: set[str] = set()
    for block in document.blocks:
        if not isinstance(block, Statement) or block.kind is not StatementKind.SENTENCE:
            continue
        place = (tuple(h.text for h in block.section.headings), block.paragraph)
        folded = block.passage.folded
        if times(folded) and (verbs.search(folded) or re.search(r"\bpaint\b", folded)):
            timed.add(place)
        if place in timed:
            out.add(block.passage.text)
    return frozenset(out)


def _merged(found: Sequence[Found]) -> list[Found]:
    """One claim for a coat that the sentence names twice in one breath, under all the conditions set."""
    out: dict[tuple[object, ...], Found] = {}
    for f in found:
        key = (object_of(f.mention, f.topic), f.topic, f.forbids, f.pattern.endswith("either") and f.conditions)
        known = out.get(key)
        if known is None:
            out[key] = f
            continue
        have = {*known.conditions, *f.conditions}
        out[key] = replace(
            known,
            conditions=tuple(c for c in Condition if c in have),
            via=known.via or f.via,
            start=min(known.start, f.start),
            end=max(known.end, f.end),
        )
    return list(out.values())


def _by_mark(block: Statement, given: Frame | None) -> tuple[Frame | None, bool]:
    """A bullet that is itself a tick or a cross says yes or no."""
    if not block.mark or given is None or given.topic is None:
        return given, False
    verdict = read_verdict(block.mark)
    if verdict is None or block.mark in ("•", "●", "-", "–", "○", "o", "+", "x"):
        return given, False
    if verdict.answer is Answer.NO:
        return replace(given, forbids=True, plain=False), True
    return (replace(given, forbids=False, plain=False), True) if verdict.answer is Answer.YES else (given, False)


def object_of(mention: Mention, topic: Topic) -> str:
    """The vocabulary id or product that a mention is filed under, seen from this product."""
    return mention.as_found() if topic is Topic.GOES_OVER else mention.object


def _claims(
    found: Found, block: Statement, extra: Sequence[ConditionHit], *, with_lead: bool, scanned: bool, marked: bool
) -> Iterator[Claim]:
    object_ = object_of(found.mention, found.topic)
    passage = block.passage
    if with_lead and block.lead is not None and _same_page(block.lead, passage):
        evidence = evidence_of([block.lead, passage])
    else:
        start, end = trimmed(passage.text, found.start, found.end)
        evidence = passage.evidence(start, end)
    conditions: tuple[Condition, ...] = ()
    if not found.forbids:
        have = set(found.conditions) | {h.condition for h in extra}
        conditions = tuple(c for c in Condition if c in have)
    elif found.pattern.endswith("in that state"):
        conditions = found.conditions
    via = object_of(found.via, Topic.TOPPED_BY) if found.via is not None and not found.forbids else None
    yield Claim(
        topic=found.topic,
        property=None,
        stance=Stance.FORBIDS if found.forbids else Stance.PERMITS,
        evidence=evidence,
        object=object_,
        only=found.only and not found.forbids and not _of_one_kind(found, block.passage.folded),
        conditions=conditions,
        via=via,
        confidence=0.9 if marked or (with_lead and found.confidence >= 0.8) else found.confidence,
        from_picture=scanned,
        why=Why(found.pattern, (found.mention.words,)),
    )
    if _of_one_kind(found, block.passage.folded) and not found.forbids:
        yield Claim(
            topic=found.topic,
            property=None,
            stance=Stance.FORBIDS,
            evidence=evidence,
            object=found.mention.of_kind,
            confidence=0.6,
            from_picture=scanned,
            why=Why("of that kind, only this product", (found.mention.words,)),
        )


def _of_one_kind(found: Found, folded: str) -> bool:
    """'With X glaze only': of glazes only X, and nothing said of other coats."""
    last = re.match(r"[\w -]{0,25}\bonly\b", folded[found.mention.end :]) is not None
    return found.only and last and found.mention.of_kind is not None and found.pattern != "nothing but that"


def _same_page(a: Passage, b: Passage) -> bool:
    pages = [next((g.page for g in p.origins if g is not None), 0) for p in (a, b)]
    return pages[0] == pages[1] != 0


def trimmed(text: str, start: int, end: int) -> tuple[int, int]:
    """The span widened to whole words, without stops at its ends."""
    while end < len(text) and not text[end].isspace() and text[end] not in ",;:.!?()":
        end += 1
    while start and not text[start - 1].isspace() and text[start - 1] not in ",;:.!?()":
        start -= 1
    while start < end and text[start] in " ,;:.":
        start += 1
    while end > start and text[end - 1] in " ,;:":
        end -= 1
    return start, end


_LIST_END = re.compile(r"\b(?:all|each|every|whatever|everything|substrates?|surfaces?|supports?|metals?)\b")


def _shared(block: Statement, pending: list[Claim], vocabulary: Vocabulary) -> list[Claim]:
    """Conditions that a sentence sets on the whole list before it ('Key all of these with P320')."""
    folded = block.passage.folded
    if not pending or not _LIST_END.search(folded) or not cues(vocabulary.language).shared.search(folded):
        return pending
    hits = [h for h in find_conditions(folded, vocabulary.mentions(block.passage.text)) if h.via is None]
    tags_ = [
        c
        for c in tags(hits)
        if c in (Condition.CLEAN, Condition.ABRADED, Condition.CURED, Condition.SOUND, Condition.TESTED)
    ]
    if not tags_:
        return pending
    return [_with_conditions(c, _able(c, tags_)) if _takes_shared(c) else c for c in pending]


_AS_IT_IS = re.compile(
    r"\bunsanded\b|\bwithout (?:any |further |prior )?(?:sanding|abrading|flatting|scuffing|keying)\b"
)


def _able(claim: Claim, more: Sequence[Condition]) -> list[Condition]:
    """What a sentence on the whole list sets on one of its members; 'unsanded' there says that it sets no sanding."""
    spared = _AS_IT_IS.search(fold(claim.evidence.quote)) is not None
    return [c for c in more if not (spared and c is Condition.ABRADED)]


def _takes_shared(claim: Claim) -> bool:
    return claim.topic is Topic.GOES_OVER and claim.stance is Stance.PERMITS and claim.object != SELF


def _with_conditions(claim: Claim, more: Sequence[Condition]) -> Claim:
    have = {*claim.conditions, *more}
    return replace(claim, conditions=tuple(c for c in Condition if c in have))
