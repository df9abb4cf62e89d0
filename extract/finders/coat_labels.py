"""A label that stands in running text: 'Suitable topcoats: 2K solid colour, base coat.' among other sentences."""

from __future__ import annotations

import re
from dataclasses import replace

from extract.clauses.headings import labels_coats
from extract.document import Statement, StatementKind
from extract.terms import Vocabulary

_LABEL = re.compile(r"(?P<label>[^\W\d][^.:;!?()]{3,45}):\s+(?=\S)")
_LONGEST = 5
"""Words of a label; more is a sentence that goes on behind its colon."""


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
