"""The language of each section: a sheet may be printed in several, one after or beside the other."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from extract.document import Block, Section, Table
from extract.layout.language import language_of

_ENOUGH = 12
"""Words: a section of fewer is in the language of the sheet."""


def with_languages(blocks: Sequence[Block], usual: str) -> list[Block]:
    """The blocks with the language of their section set; usual is that of the sheet, for what is too short to tell."""
    texts: dict[tuple[str, ...], list[str]] = {}
    for block in blocks:
        texts.setdefault(_key(block.section), []).append(_words(block))
    joined = {key: " ".join(parts) for key, parts in texts.items()}
    known = {key: language_of(text, usual) if len(text.split()) >= _ENOUGH else usual for key, text in joined.items()}
    several = not set(known.values()) <= {usual}
    told: dict[int, Section] = {}
    for section in (block.section for block in blocks):
        if id(section) not in told:
            told[id(section)] = replace(section, language=known[_key(section)] if several else usual)
    return [replace(block, section=told[id(block.section)]) for block in blocks]


def _key(section: Section) -> tuple[str, ...]:
    return tuple(h.text for h in section.headings)


def _words(block: Block) -> str:
    if isinstance(block, Table):
        cells = [c.text for row in block.rows for c in (row.label, *row.cells)]
        return " ".join((block.corner.text, *(c.text for stack in block.heads for c in stack), *cells))
    return block.passage.text
