"""goes_over and topped_by out of tables: ticks and crosses, yes and no, preparation columns, windows."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import replace

from extract.claims import Claim, Condition, Stance, Topic, Why
from extract.clauses.conditions import ConditionHit, find_conditions, tags, times_as_windows, via_of
from extract.clauses.frames import in_bad_state
from extract.clauses.guard import speaks_against, withheld
from extract.clauses.reader import SentenceReader
from extract.clauses.verdicts import Answer, read_legend, read_verdict
from extract.document import Document, Passage, Table, evidence_of, fold
from extract.finders.coat_rows import CoatRow, by_heads, read_row
from extract.finders.coat_ways import between, way_claims, ways_of
from extract.finders.table_signs import OTHER_PRODUCTS, cell_name, legend_near, timed_cells, usual, with_marked_notes
from extract.sections import Sense, sense_of, sense_of_text
from extract.terms import Mention, Vocabulary

_SKIPPED = frozenset(
    {
        Sense.MIXING, Sense.FAULTS, Sense.SYSTEMS, Sense.DRYING, Sense.STORAGE, Sense.SAFETY, Sense.PACKAGING,
        Sense.APPLICATION, Sense.FILM,
    }
)  # fmt: skip


def topic_of(table: Table, vocabulary: Vocabulary, reader: SentenceReader) -> tuple[Topic | None, bool]:
    """Which way the table's rows lie, and whether its heads forbid them all."""
    language = vocabulary.language
    heads = " ".join(cell.text for stack in table.heads for cell in stack)
    for text in (table.corner.text, table.title.text, table.lead.text if table.lead else "", heads):
        if not text.strip():
            continue
        senses = sense_of_text(text, language)
        topic = _direction(senses)
        frame = reader.frame_of(fold(text), vocabulary.mentions(text))
        if topic is None and frame is not None and text != heads:
            topic = frame.topic
        if topic is not None:
            section = sense_of(table.section, language)
            return topic, Sense.FORBIDS in senses or Sense.FORBIDS in section
    for heading in reversed(table.section.headings):
        senses = sense_of_text(heading.text, language)
        topic = _direction(senses)
        if topic is not None:
            return topic, Sense.FORBIDS in senses
        if senses - {Sense.PREPARATION, Sense.OWN_FILM}:
            break
    return None, False


def _direction(senses: frozenset[Sense]) -> Topic | None:
    over = Sense.GOES_OVER in senses
    topped = bool(senses & {Sense.TOPPED_BY, Sense.OVERCOATING})
    if over == topped:
        return None
    return Topic.GOES_OVER if over else Topic.TOPPED_BY


def claims(table: Table, vocabulary: Vocabulary, reader: SentenceReader, document: Document) -> Iterator[Claim]:
    """Every coat that the table permits or forbids."""
    sides = _sides(table, vocabulary)
    if len(set(sides.values())) > 1:
        # "Below it | Above it": each column speaks for its own side.
        shared = [i for i in range(len(table.heads)) if i not in sides]
        for i, side in sides.items():
            kept = sorted([i, *shared])
            part = replace(
                table,
                heads=tuple(table.heads[k] for k in kept),
                rows=tuple(replace(r, cells=tuple(r.cells[k] for k in kept if k < len(r.cells))) for r in table.rows),
            )
            yield from _claims(part, side, False, vocabulary, document)
        return
    topic, forbids_all = topic_of(table, vocabulary, reader)
    if _names_own_side(table, vocabulary, sides):
        topic = next(iter(sides.values()))  # "Hobnail 3 over it?", whatever "over it" says alone
    yield from _claims(table, topic, forbids_all, vocabulary, document)


_BELOW = re.compile(r"\W*(?:below|under|beneath|underneath|lying under)\b")
_ABOVE = re.compile(r"\W*(?:above|over|on top(?: of)?|on|upon)\b")


_BOUND = re.compile(r"\W*(?:min|max|minimum|maximum|earliest|latest|not before|not after)\b")
"""Labels of times, whose coats the window finder knows."""


def _names_own_side(table: Table, vocabulary: Vocabulary, sides: dict[int, Topic]) -> bool:
    """Whether a head that sets this product above or below the rows names it."""
    heads = (" ".join(c.text for c in table.heads[i]) for i in sides)
    return any(m.is_self for head in heads for m in vocabulary.mentions(head))


_ASKS = re.compile(r"\W*(?:(?:can|may|could|does|is|will|put|use|using|apply|applying|spray|with|the)\b ?)*")


def _own_first(head: str, mentions: Sequence[Mention]) -> Mention | None:
    """This product where it opens a head, behind no more than the verb of a question."""
    own = next((m for m in mentions if m.is_self), None)
    return own if own is not None and _ASKS.fullmatch(head[: own.start]) else None


_PUT = re.compile(r"\W*(?:(?:be|go|goes|put|used|applied|sprayed|laid|suitable|allowed|directly)\b ?)*")


def _sides(table: Table, vocabulary: Vocabulary) -> dict[int, Topic]:
    """Which side of this product each column speaks of, where its head says so."""
    out: dict[int, Topic] = {}
    for i, stack in enumerate(table.heads):
        text = " ".join(c.text for c in stack)
        head = fold(text)
        own = _own_first(head, vocabulary.mentions(text))
        first = own is not None
        if own is not None:
            placed = _PUT.match(head, own.end)
            head = head[placed.end() if placed else own.end :]
        if _BELOW.match(head):
            out[i] = Topic.TOPPED_BY if first else Topic.GOES_OVER
        elif _ABOVE.match(head):
            out[i] = Topic.GOES_OVER if first else Topic.TOPPED_BY
    return out


def _claims(
    table: Table, topic: Topic | None, forbids_all: bool, vocabulary: Vocabulary, document: Document
) -> Iterator[Claim]:
    section = sense_of(table.section, vocabulary.language)
    corner = sense_of(table.corner, vocabulary.language)
    if topic is None or (section & _SKIPPED and _direction(section) is None and _direction(corner) is None):
        return
    if OTHER_PRODUCTS.search(fold(" ".join(p.text for p in (table.section.title, table.title, table.corner)))):
        return
    table = with_marked_notes(_own_columns(table, vocabulary))
    near = legend_near(table, document)
    legend = usual(table, read_legend([p.text for p in (*table.legend, *table.notes, *near)], vocabulary.language))
    ways = ways_of(table, legend, vocabulary)
    if ways:
        yield from way_claims(table, ways, topic, legend, vocabulary, document.scanned)
        return
    if topic is Topic.TOPPED_BY:
        yield from _refused_heads(table, legend, vocabulary, document.scanned)
    rows = by_heads(table, vocabulary) or [read_row(row, legend, vocabulary) for row in table.rows]
    answered = sum(r.answer not in (None, Answer.UNKNOWN) for r in rows)
    timed = _holds_times(table)
    heads = [cell.passage for stack in table.heads for cell in stack]
    common = [
        h
        for p in (*heads, table.corner, *((table.lead,) if table.lead else ()))
        for h in find_conditions(fold(p.text), vocabulary.mentions(p.text))
        if h.condition in (Condition.CLEAN,)
    ]
    for r in rows:
        if timed and topic is Topic.TOPPED_BY and _BOUND.match(r.row.label.passage.folded):
            continue
        answer = r.answer
        if answer is None:
            if answered and not timed and answered * 2 >= len(rows):
                continue
            if answered == 0 and not timed and not _prepares(table, vocabulary) and topic is Topic.TOPPED_BY:
                continue
            if not any(c.text.strip() and read_verdict(c.text) is None for c in r.rest) and table.heads:
                continue
            answer = Answer.YES
        if answer is Answer.UNKNOWN:
            # Where no row answers, a dash only says that nothing has to be done first.
            label = r.row.label.passage
            told = answered == 0 and _prepares(table, vocabulary) and find_conditions(label.folded, r.mentions)
            if not told:
                continue
            answer = Answer.YES
        if forbids_all:
            answer = Answer.NO
        yield from _row_claims(r, answer, topic, table, vocabulary, common, document.scanned)


def _refused_heads(
    table: Table, legend: Sequence[tuple[str, Answer]], vocabulary: Vocabulary, scanned: bool
) -> Iterator[Claim]:
    """Coats that head the columns of a table of times, where every cell below says no."""
    if not table.rows or not all(_BOUND.match(row.label.passage.folded) for row in table.rows):
        return
    for i, stack in enumerate(table.heads):
        cells = [row.cells[i] for row in table.rows if i < len(row.cells) and row.cells[i].text.strip()]
        answers = [read_verdict(cell.text, legend, vocabulary.language) for cell in cells]
        if not stack or not cells or any(a is None or a.answer is not Answer.NO for a in answers):
            continue
        for m in vocabulary.mentions(stack[-1].text):
            yield Claim(
                topic=Topic.TOPPED_BY,
                property=None,
                stance=Stance.FORBIDS,
                evidence=evidence_of([stack[-1].passage, cells[0].passage]),
                object=m.object,
                confidence=0.85,
                from_picture=scanned,
                why=Why("table column", (m.words,), stack[-1].text),
            )


def _own_columns(table: Table, vocabulary: Vocabulary) -> Table:
    """A table over several products: without the columns of the others."""
    owners: list[bool | None] = []
    for stack in table.heads:
        mentions = [m for cell in stack for m in vocabulary.mentions(cell.text)]
        named = [m for m in mentions if m.is_self or m.is_product]
        owners.append(any(m.is_self for m in named) if named else None)
    if True not in owners or False not in owners:
        return table
    kept = [i for i, own in enumerate(owners) if own is not False]
    return replace(
        table,
        heads=tuple(table.heads[i] for i in kept),
        rows=tuple(replace(row, cells=tuple(row.cells[i] for i in kept if i < len(row.cells))) for row in table.rows),
    )


def _holds_times(table: Table) -> bool:
    return any(timed_cells(row.cells) for row in table.rows)


def _prepares(table: Table, vocabulary: Vocabulary) -> bool:
    heads = [cell.text for stack in table.heads for cell in stack]
    if Sense.PREPARATION in sense_of(table.section, vocabulary.language):
        return True
    return any(Sense.PREPARATION in sense_of_text(head, vocabulary.language) for head in heads)


def _row_claims(
    r: CoatRow,
    answer: Answer,
    topic: Topic,
    table: Table,
    vocabulary: Vocabulary,
    common: Sequence[ConditionHit],
    scanned: bool,
) -> Iterator[Claim]:
    row = r.row
    label = fold(row.label.text)
    texts = [row.label.passage, *((r.answer_cell.passage,) if r.answer_cell else ()), *(c.passage for c in r.rest)]
    notes = [*row.notes, *row.label.notes, *(n for c in row.cells for n in c.notes)]
    hits: list[ConditionHit] = []
    for passage in texts:
        hits.extend(find_conditions(passage.folded, vocabulary.mentions(passage.text), vocabulary.language))
    row_hits = list(hits)
    spared = [n for n in dict.fromkeys(notes) if _SPARED.search(n.folded) and times_as_windows(n.folded)]
    for note in dict.fromkeys(notes):
        if note in spared:
            continue
        hits.extend(h for h in find_conditions(note.folded, vocabulary.mentions(note.text)) if h.via is None)
    windows = [w for p in texts for w in times_as_windows(p.folded)]
    for cell in (r.answer_cell, *r.rest):
        with_it = between([cell], vocabulary) if cell is not None else None
        if with_it is not None:
            row_hits.append(ConditionHit(Condition.ISOLATED, with_it.start, with_it.end, with_it))
    hits.extend(h for h in row_hits if h not in hits)
    via = via_of(row_hits)
    in_label = via_of(find_conditions(label, r.mentions, vocabulary.language))
    stance = Stance.PERMITS
    conditions = tags([*hits, *windows, *common])
    if answer is Answer.NO:
        if via is None or _replaced(texts) or _only_later(r, via):
            stance, conditions, via = Stance.FORBIDS, (), None
    elif answer is Answer.INDIRECT and via is None:
        stance, conditions = Stance.FORBIDS, ()
    if answer is Answer.PARTLY and not set(conditions) - {Condition.CLEAN, Condition.SOUND}:
        stance, conditions = Stance.FORBIDS, ()
    if stance is Stance.PERMITS and answer is Answer.YES and via is not None:
        conditions = (
            tuple(c for c in conditions if c is not Condition.ISOLATED) if not _must_isolate(texts) else conditions
        )
        via = via if Condition.ISOLATED in conditions else None
    narrow = [*row.label.notes, *(r.answer_cell.notes if r.answer_cell is not None else ())]
    if stance is Stance.PERMITS and _spoken_against(
        texts, notes, answer, conditions, via is not None, narrow, vocabulary.language
    ):
        return
    evidence = evidence_of([p for p in texts if p.text.strip()])
    cut = _excepted(label)
    if stance is Stance.PERMITS and answer is Answer.YES:
        for note in spared:
            for m in r.mentions:
                yield Claim(
                    topic=topic,
                    property=None,
                    stance=Stance.PERMITS,
                    evidence=evidence_of([row.label.passage, note]),
                    object=m.as_found() if topic is Topic.GOES_OVER else m.object,
                    conditions=(Condition.WITHIN_WINDOW,),
                    confidence=0.8,
                    from_picture=scanned,
                    why=Why("table note: in time, unsanded", (m.words,), cell_name(table, row)),
                )
    for m in r.mentions:
        if topic is Topic.TOPPED_BY and m.object.startswith(("surface.", "finish.", "treatment.")):
            continue
        if topic is Topic.TOPPED_BY and m is not r.mentions[0] and _LIES_BENEATH.search(label, 0, m.start):
            continue
        if in_label is not None and (m.start, m.object) == (in_label.start, in_label.object):
            continue
        turned = cut is not None and m.start >= cut
        if stance is Stance.FORBIDS and in_bad_state(label, m.start):
            continue
        yield Claim(
            topic=topic,
            property=None,
            stance=Stance.FORBIDS if turned else stance,
            evidence=evidence,
            object=m.as_found() if topic is Topic.GOES_OVER else m.object,
            conditions=() if turned else conditions,
            via=via.object if via is not None and not turned else None,
            confidence=0.95 if r.answer is not None else 0.85,
            from_picture=scanned,
            why=Why("table row" + (", excepted" if turned else ""), (m.words,), cell_name(table, row)),
        )


def _spoken_against(
    texts: Sequence[Passage],
    notes: Sequence[Passage],
    answer: Answer,
    conditions: Sequence[Condition],
    via: bool,
    narrow: Sequence[Passage],
    language: str,
) -> bool:
    """True where the guard finds a word against a row's permission in its label, cells or notes."""
    if via or answer is Answer.INDIRECT:
        return False
    if any(_REQUIRES.search(n.folded) for n in notes) and not set(conditions) - {Condition.CLEAN, Condition.SOUND}:
        return True
    label, *cells = texts
    if speaks_against(label.folded, language) and not _excepted(label.folded):
        return True
    for passage in (*cells, *notes):
        words = passage.folded
        if read_verdict(words, language=language) is not None and len(words) < 6:
            continue
        against = withheld(words, (0, 0), [], conditions=bool(conditions), language=language)
        if (
            against is not None
            and not (conditions and passage in notes)
            and not (conditions and re.search(r"only|lesser|less", words))
        ):
            return True
    narrowed = [n for n in narrow if re.search(r"\bonly\b", n.folded)]
    return any(
        not set(tags(find_conditions(n.folded, (), language))) - {Condition.CLEAN, Condition.SOUND} for n in narrowed
    )


_REQUIRES = re.compile(r"\b(?:only|must|first|after|once|with|by|provided|if|when|polished|isolat\w*|need\w*)\b")
"""A footnote that asks for something. Where none of it is understood, the row's yes is withheld."""

_SPARED = re.compile(r"\bwithout (?:any )?(?:sanding|abrading|flatting|scuffing)|\bunsanded\b|\bas it is\b")
"""'Within 72 h also without sanding': a second way, beside the row's own."""


_LIES_BENEATH = re.compile(
    r",? \(?(?:up)?on(?:to)? (?:(?:the|this|our|a|well|fully|freshly|sanded|abraded|flatted|scuffed|cured|hardened) )*$"
)
"""'Body filler, on the sanded primer': the row's coat goes on this product's own film."""


def _replaced(texts: Sequence[Passage]) -> bool:
    """'Use X' where X takes the place and does not go between."""
    return any(re.search(r"\buse [a-z0-9\-]+(?: [a-z0-9\-]+){0,2} ?instead|\binstead\b", p.folded) for p in texts)


_LATER = re.compile(r"\bafter (?:the |a |an )?$")
_BETWEEN = re.compile(
    r"\b(?:between|first|intermediate|interlayer|isolat\w*|via|over|on top|prim(?:e|ed|ing)|seal it)\b"
)


def _only_later(r: CoatRow, via: Mention) -> bool:
    """'Do not apply | Seal after surfacer': a ban, and a remark on the order of work that grants nothing."""
    if r.answer_cell is None or len(r.answer_cell.text.split()) < 2:
        return False
    told = [p.folded for p in (r.answer_cell.passage, *(c.passage for c in r.rest)) if via.words in p.folded]
    return any(_LATER.search(t[: t.find(via.words)]) and not _BETWEEN.search(t) for t in told)


def _must_isolate(texts: Sequence[Passage]) -> bool:
    return not any(
        re.search(r"\bif (?:needed|required|necessary|desired)|\boptional|\bbest\b", p.folded) for p in texts[1:]
    )


def _excepted(label: str) -> int | None:
    match = re.search(r"\(not |\bexcept\b|\bexcluding\b|\bbut not\b|\bother than\b", label)
    return match.start() if match else None
