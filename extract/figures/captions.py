"""Captions under icons and in margins: several short lines, each a figure of its own."""

from __future__ import annotations

import itertools
import re
from collections.abc import Iterator
from dataclasses import replace

from extract.document import Statement, StatementKind

_KEPT_AT = re.compile(r"\+?-?\d+\s?(?:°\s?[CF])?\s?(?:-|–|to|…|/)\s?\+?\d+\s?[°º]")
_GOES_ON = re.compile(
    r"(?:DIN|Ford|FORD|Zahn|ZAHN|AFNOR|ISO|BS ?B4|Frikmar)\b|(?:[^\W\d_A-ZÀ-Þ]|[(/+&,–-])|(?:max|min)\b"
)


def caption_parts(statement: Statement) -> Iterator[Statement]:
    """The lines of a caption, each with the lines that only carry it on."""
    text = statement.passage.text
    if statement.label is not None or statement.kind is not StatementKind.FIELD or "\n" not in text:
        yield statement
        return
    edges = [0]
    for m in re.finditer("\n", text):
        if _KEPT_AT.match(text, m.end()) and re.search(r"\b(?:months?|years?)\b", text[edges[-1] : m.start()]):
            continue
        if not _GOES_ON.match(text, m.end()) and text[m.start() - 1 : m.start()] not in ":,/–-":
            edges.append(m.end())
    edges.append(len(text))
    for start, end in itertools.pairwise(edges):
        yield replace(statement, passage=statement.passage.part(start, end))
