"""What headings, lead-ins and labels say of the statements that stand under them."""

from __future__ import annotations

import re
import tomllib
from dataclasses import replace
from functools import cache, lru_cache
from importlib import resources

from extract.claims import Topic
from extract.clauses.frames import Frame
from extract.clauses.reader import SentenceReader
from extract.clauses.stages import by_stage
from extract.document import Passage, Section, Statement, StatementKind, fold, join
from extract.sections import Sense, sense_of_text
from extract.terms import Mention, Vocabulary


def same_section(a: Section, b: Section) -> bool:
    return a is b or [h.text for h in a.headings] == [h.text for h in b.headings]


def whole(block: Statement, vocabulary: Vocabulary) -> Passage:
    """The statement with its label before it, where the label names a coat ('Recoat with itself: 10 min')."""
    if block.kind is not StatementKind.FIELD or block.label is None or not vocabulary.mentions(block.label.text):
        return block.passage
    telling = _topic(sense_of_text(block.label.text, vocabulary.language)) is not None
    if telling and any(not m.is_self for m in vocabulary.mentions(block.passage.text)):
        return block.passage
    noun = _fits(block.label.folded, vocabulary.language) and _noun_given(block.label.text, vocabulary)
    if block.passage.text.startswith(block.label.text.rstrip(":")) or (
        noun and vocabulary.mentions(block.passage.text, noun)
    ):
        return block.passage
    return join([block.label, block.passage], by=" " if block.label.text.rstrip().endswith(":") else ": ")


_OPENS_LIST = re.compile(r"[^.;:]{4,50}?(?::|\b(?:are|include|is)\b)(?= )")


def mentions_of(block: Statement, vocabulary: Vocabulary) -> tuple[Mention, ...]:
    """What the statement mentions, with the noun that 'Suitable primers' gives to the words that it heads."""
    text = block.passage.text
    opening = _OPENS_LIST.match(text)
    if opening is not None:
        head = _noun_given(re.sub(r"\W*(?:are|include|is|:)$", "", opening.group(), flags=re.I), vocabulary)
        return vocabulary.mentions(text, head, opening.end())
    parts = [p for p in (block.label, block.lead, block.section.title) if p is not None]
    head = next((noun for noun in (_noun_given(p.text, vocabulary) for p in parts) if noun), "")
    return vocabulary.mentions(text, head)


@lru_cache(maxsize=256)
def _noun_given(text: str, vocabulary: Vocabulary) -> str:
    """'primers' of 'Suitable primers:'; '' where the words are more than a kind of coat that suits."""
    bare = _ARTICLE.sub("", text.strip().rstrip(":").rstrip())
    named = [m for m in vocabulary.mentions(bare) if not m.is_self]
    if len(named) != 1 or named[0].end != len(bare) or not named[0].object.startswith(_COATS):
        return ""
    fits = _fits(fold(bare), vocabulary.language) and len(bare[: named[0].start].split()) == 1
    return named[0].words if fits or named[0].start == 0 else ""


_COATS = ("primer", "surfacer", "sealer", "filler", "topcoat")
_ARTICLE = re.compile(r"^the ", re.I)


def labels_coats(label: Passage, vocabulary: Vocabulary) -> bool:
    """Whether a label says what goes over or under: 'Substrates', 'Suitable topcoats'."""
    if _topic(sense_of_text(label.text, vocabulary.language)) is not None:
        return True
    return _fits(label.folded, vocabulary.language) and bool(_noun_given(label.text, vocabulary))


def given_frame(block: Statement, vocabulary: Vocabulary, reader: SentenceReader) -> Frame | None:
    """The frame that headings, lead-in and label set for the statement."""
    heading = _heading_frame(tuple(h.text for h in block.section.headings[-_NEAREST:]), vocabulary, reader)
    out = heading
    for part in (block.lead, block.label):
        if part is None or (part is block.label and part.text.rstrip().endswith("?")):
            continue
        joined = part is block.label and (_opens_with(block.passage, part) or whole(block, vocabulary) != block.passage)
        if joined and vocabulary.mentions(part.text):
            continue  # 'Old surfaces: sand P240', where the label is the thing itself
        frame = reader.frame_of(fold(part.text), vocabulary.mentions(part.text))
        own = sense_of_text(part.text, vocabulary.language)
        if part is block.label and Sense.EXPOSURE in own:
            continue  # 'Outdoors without topcoat' permits none
        if frame is None and _noun_given(part.text, vocabulary):
            named = [m.object for m in vocabulary.mentions(part.text) if not m.is_self]
            side = by_stage(named, reader.own_kind) if _fits(fold(part.text), vocabulary.language) else None
            if side is not None:
                out = Frame(side, plain=False, pattern="lead-in")
                continue
        directs = (frame is not None and frame.topic is not None) or _topic(own) is not None or Sense.FORBIDS in own
        bare = part is block.lead or block.kind is StatementKind.FIELD
        if not directs and not (bare and (part is block.lead or frame is not None)):
            continue
        topic = frame.topic if frame is not None and frame.topic is not None else _topic(own)
        if topic is None and out is not None:
            topic = out.topic
        if topic is None and Sense.FORBIDS in own and _found_only(block, vocabulary):
            topic = Topic.GOES_OVER
        forbids = (frame.forbids if frame is not None else False) or Sense.FORBIDS in own
        only = frame.only if frame is not None else False
        if topic is not None:
            out = Frame(topic, forbids, only, plain=False, pattern="lead-in")
    if out is not None and out.plain and block.kind is StatementKind.BULLET and out.topic is not None:
        out = replace(out, plain=False, pattern="listed under its heading")
    return out


def _opens_with(passage: Passage, label: Passage) -> bool:
    return passage.text.startswith(label.text.rstrip(": "))


def _found_only(block: Statement, vocabulary: Vocabulary) -> bool:
    """True where a list names nothing but what is found there: 'Not for: galvanised steel, plastics'."""
    named = [m for m in vocabulary.mentions(block.passage.text) if not m.is_self]
    return bool(named) and all(m.object.startswith(("surface.", "finish.")) for m in named)


_NEAREST = 3
"""Headings that may set a frame."""


@lru_cache(maxsize=256)
def _heading_frame(headings: tuple[str, ...], vocabulary: Vocabulary, reader: SentenceReader) -> Frame | None:
    """From the innermost heading outwards: 'Not recommended' forbids what the heading around it speaks of."""
    forbids = only = False
    for heading in reversed(headings):
        senses = sense_of_text(heading, vocabulary.language)
        frame = reader.frame_of(fold(heading), vocabulary.mentions(heading))
        said = frame.topic if frame is not None else None
        # 'Recommended over Hobnail 3' on Hobnail's own sheet: what stands under it goes on top.
        named = said is not None and any(m.is_self for m in vocabulary.mentions(heading))
        topic = said if named else _topic(senses) or said
        fitting = [m.object for m in vocabulary.mentions(heading) if not m.is_self]
        if topic in (Topic.TOPPED_BY, None) and said is None and fitting and _fits(fold(heading), vocabulary.language):
            topic = by_stage(fitting, reader.own_kind)
            if topic is None:
                return None
        forbids = forbids or Sense.FORBIDS in senses or (frame is not None and frame.forbids)
        only = only or (frame is not None and frame.only)
        if topic is not None:
            return Frame(topic, forbids, only, plain=not forbids, pattern="heading")
        if not forbids and senses - {Sense.PREPARATION, Sense.OWN_FILM}:
            return None
    return None


@cache
def _fitting(language: str) -> re.Pattern[str]:
    path = resources.files("extract.vocabulary").joinpath(language, "clauses.toml")
    words: list[str] = tomllib.loads(path.read_text("utf-8"))["fitting"]["words"]
    return re.compile(rf"\W*(?:\d+[.)]? )?(?:{'|'.join(words)})\b")


def _fits(folded: str, language: str) -> bool:
    """'Compatible primers': says what suits, and not on which side of it."""
    return _fitting(language).match(folded) is not None


def _topic(senses: frozenset[Sense]) -> Topic | None:
    over = Sense.GOES_OVER in senses
    topped = bool(senses & {Sense.TOPPED_BY, Sense.OVERCOATING})
    if over == topped:
        return None
    return Topic.GOES_OVER if over else Topic.TOPPED_BY
