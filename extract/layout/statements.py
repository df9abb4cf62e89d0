"""Paragraphs -> statements: sentences, list items with their leads, fields with their labels."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

from extract.document import Passage, Section, Statement, StatementKind, join
from extract.layout.cells import kind_of
from extract.layout.ink import Ink, join_lines
from extract.layout.lexicon import lexicon
from extract.layout.notes import Notes
from extract.layout.paragraphs import Paragraph
from extract.layout.sentences import split_sentences

_LABEL = re.compile(r"^([^\W_][^:.;!?]{0,48}?)\s?:\s+(?=\S)")
_LABEL_INSIDE = re.compile(r"[,;]\s[^,;:]{2,30}[^\d\s]\d*:\s")
_MOST_LABEL_WORDS = 6
_FIELD_WORDS = 4
"""A plain label with more words begins a sentence."""
_RUN_IN_END = re.compile(r"[:.?!]\s*$")


@dataclass(slots=True)
class ListState:
    """The list being read: the sentence that introduced it, and the items that introduce deeper ones."""

    lead: Passage | None = None
    parents: list[tuple[float, Passage]] = field(default_factory=list)
    open: bool = False


def field_statement(
    label: Ink, value: Ink, section: Section, number: int, notes: Notes, place: int, page: int
) -> Statement:
    """A label with its value."""
    value, called = notes.take(value, page, place)
    label, more = notes.take(label, page, place)
    label_passage = label.passage() if label.text else None
    return Statement(StatementKind.FIELD, value.passage(), section, number, label=label_passage, notes=(*called, *more))


def text_statements(
    ink: Ink, page: int, section: Section, number: int, notes: Notes, place: int
) -> Iterator[Statement]:
    """The sentences of a paragraph on that page, or the field that it is.

    A run-in head in bold ('Bare metal: ...') is the label of every sentence after it and stays part of the first.
    """
    plain = _plain_label(ink)
    run_in = _run_in(ink)
    sentences = split_sentences(ink)
    if plain and not run_in and _LABEL_INSIDE.search(ink.text, plain[1]):
        plain = None  # 'Base: 24 months, hardener: 12 months' is no field of the first alone
    words = len(ink.text[: plain[0]].split()) if plain else 0
    bare = run_in > 0 and not _RUN_IN_END.search(ink.text[:run_in].rstrip())
    if bare and len(sentences) == 1:
        yield field_statement(ink.part(0, run_in), ink.part(run_in), section, number, notes, place, page)
        return
    if plain and run_in in (0, plain[1]) and len(sentences) == 1 and (words <= _FIELD_WORDS or run_in):
        yield field_statement(ink.part(0, plain[0]), ink.part(plain[1]), section, number, notes, place, page)
        return
    label_ink = ink.part(0, run_in) if run_in else None
    if label_ink is None and plain and len(sentences) > 1 and words <= 2 and ink.text[plain[1]].isupper():
        label_ink = ink.part(0, plain[0])
    label = label_ink.passage() if label_ink is not None and label_ink.text else None
    for sentence in split_sentences(ink.part(run_in)) if bare else sentences:
        text, called = notes.take(sentence, page, place)
        passage = text.passage()
        own = label if label is not None and passage.text != label.text else None
        yield Statement(StatementKind.SENTENCE, passage, section, number, label=own, notes=called)


def bullet_statement(
    ink: Ink, paragraph: Paragraph, section: Section, number: int, notes: Notes, place: int, state: ListState
) -> Statement:
    """A list item. Its lead is the sentence above the list and, in a nested list, the items above it in rank."""
    while state.parents and state.parents[-1][0] >= paragraph.indent - 3:
        state.parents.pop()
    ink, called = notes.take(ink, paragraph.page, place)
    passage = ink.passage()
    leads = [lead for lead in (state.lead, *(p for _, p in state.parents)) if lead is not None and lead.text]
    lead = join(leads) if leads else None
    state.parents.append((paragraph.indent, passage))
    return Statement(StatementKind.BULLET, passage, section, number, lead=lead, notes=called, mark=paragraph.mark)


def captioned_fields(lines: Sequence[Ink]) -> list[tuple[Ink, Ink]]:
    """Labels and values of a caption of lines 'Label: value', or of a label and its figure by turns; else empty."""
    kinds = [kind_of(ink.text) for ink in lines]
    if len(lines) >= 4 and kinds == ["words", "figure"] * (len(lines) // 2):
        return list(zip(lines[::2], lines[1::2], strict=True))
    names = len(lines) > 1 and kinds[0] == "words" and not any(c.isdigit() for c in lines[0].text)
    if names and all(any(c.isdigit() for c in ink.text) and _plain_label(ink) is None for ink in lines[1:]):
        return [(lines[0], join_lines(lines[1:], by="\n"))]
    out: list[tuple[Ink, Ink]] = []
    for ink in lines:
        plain = _plain_label(ink)
        if plain is None:
            return []
        out.append((ink.part(0, plain[0]), ink.part(plain[1])))
    return out


def lead_of(ink: Ink) -> Passage | None:
    """The sentence at a paragraph's end that introduces what follows; None where nothing says so."""
    sentences = split_sentences(ink)
    if not sentences:
        return None
    last = sentences[-1]
    text = last.text.rstrip()
    if text.endswith(":") or not text.endswith((".", "!", "?", ";")):
        return last.passage()
    low = text.lower()
    if any(re.search(rf"\b{re.escape(word)}\b", low) for word in lexicon().points_below):
        return last.passage()
    return None


def _plain_label(ink: Ink) -> tuple[int, int] | None:
    """End of a label and start of its value where the paragraph is 'Label: value'."""
    match = _LABEL.match(ink.text)
    if match is None or len(match[1].split()) > _MOST_LABEL_WORDS:
        return None
    if lexicon().verbs & set(match[1].lower().split()):
        return None
    if match[1][-1:].isdigit() and ink.text[match.end() : match.end() + 1].isdigit():
        return None  # a mixing ratio, 4 : 1
    return len(match[1]), match.end()


def _is_bare_label(head: str, rest: str) -> bool:
    """Whether bold words without a colon name what follows: it begins anew ('Pot life 2 hours', 'Film Two coats')."""
    words = head.split()
    if not words or len(words) > _FIELD_WORDS or any(c.isdigit() for c in head) or len(rest.split()) < 2:
        return False
    begun = rest[:1].isupper() or rest[:1].isdigit()
    return begun and head[:1].isupper() and head[-1:].isalpha() and not lexicon().verbs & set(head.lower().split())


def _run_in(ink: Ink) -> int:
    """Where a bold run-in head ends; 0 where there is none."""
    if not ink.text or not ink.bold[0] or all(ink.bold[i] for i, c in enumerate(ink.text) if not c.isspace()):
        return 0
    end = 0
    for i, char in enumerate(ink.text):
        if not char.isspace() and not ink.bold[i]:
            break
        end = i + 1
    head = ink.text[:end].rstrip()
    if not _RUN_IN_END.search(head):
        rest = ink.text[end:].lstrip()
        if _is_bare_label(head, rest):
            return end
        if not rest.startswith(":"):
            return 0
        end = ink.text.index(":", end) + 1
    return end if len(ink.text[:end].split()) <= 12 else 0
