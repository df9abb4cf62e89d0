"""As what a statement is to be taken: a sentence as a field or an item, an answer together with its question."""

from __future__ import annotations

import re
from dataclasses import replace

from extract.clauses.headings import labels_coats, same_section
from extract.document import Statement, StatementKind, join
from extract.terms import Vocabulary

_LABEL = re.compile(r"(?P<label>[^\W\d][^.:;!?()]{3,45}):\s+(?=\S)")
_LONGEST = 5
"""Words of a label; more is a sentence that goes on behind its colon."""


_FOR = re.compile(
    r"\W*(?:only |also |not )?for (?:(?!\b(?:use[ds]?|see|take|contact|ask|appl\w+|is|are|must|should|may|can|needs?|"
    r"required?|choose|prefer|consult|refer|call|with|after|when|if|where|only|another|other)\b)[^,;:.])+\.?"
)


def as_item(block: Statement) -> Statement | None:
    """'For rusted steel on lorries.', a sentence without a verb under a heading, as the item that it is."""
    if block.kind is not StatementKind.SENTENCE or block.label is not None or not _FOR.fullmatch(block.passage.folded):
        return None
    return replace(block, kind=StatementKind.BULLET)


def labelled(block: Statement, vocabulary: Vocabulary) -> Statement | None:
    """The sentence as a field of the label that opens it; None where none does that speaks of coats."""
    if block.kind is not StatementKind.SENTENCE or block.label is not None:
        return None
    match = _LABEL.match(block.passage.text)
    if match is None or len(match["label"].split()) > _LONGEST:
        return None
    label = block.passage.part(0, match.end("label"))
    if not labels_coats(label, vocabulary):
        return None
    return replace(
        block,
        kind=StatementKind.FIELD,
        label=label,
        passage=block.passage.part(match.end(), len(block.passage.text)),
    )


def cut_short(block: Statement, before: Statement | None) -> bool:
    """True for a sentence of a paragraph whose end is lost: what it grants may have gone on with a condition."""
    if before is None or block.kind is not StatementKind.SENTENCE or before.kind is not StatementKind.SENTENCE:
        return False
    text = block.passage.text.rstrip()
    return before.paragraph == block.paragraph and text[-1:].isalpha() and before.passage.text.rstrip()[-1:] in ".!?"


_WHOLE = re.compile(
    r"\W*(?:the|this|these|it|they|all|each|every|any|such|please|always|if|when) [^:]*\b(?:must|is|are|has|have|"
    r"should|can|may|will|needs?|be|do|does)\b[^:]*\.\s*$"
)
"""A sentence with a verb of its own stands behind a list, and is none of it."""


def led(block: Statement, before: Statement | None) -> Statement:
    """A list that is set as a paragraph of its own behind 'It may be applied to:'."""
    if before is None or block.lead is not None or block.kind is not StatementKind.SENTENCE or block.label is not None:
        return block
    if not before.passage.text.rstrip().endswith(":") or not same_section(before.section, block.section):
        return block
    if _WHOLE.match(block.passage.folded):
        return block
    return replace(block, kind=StatementKind.BULLET, lead=before.passage)


_ANSWER = re.compile(
    r"\W*(?:yes|no|sure|nope|yep|never|of course|absolutely|certainly|not|only|don't|by all means|ok|fine)\b"
)


def answered(block: Statement, asked: Statement | None) -> tuple[Statement, Statement | None]:
    """A short answer together with the question that it answers; and the question that the next block may answer."""
    question = asked
    if block.label is not None and block.label.text.rstrip().endswith("?"):
        question = replace(block, passage=block.label)
    asks = block if block.passage.text.rstrip().endswith("?") else None
    near = question is not None and same_section(question.section, block.section)
    if question is None or not near or not _ANSWER.match(block.passage.folded):
        return block, asks
    return replace(
        block, kind=StatementKind.SENTENCE, label=None, passage=join([question.passage, block.passage])
    ), asks
