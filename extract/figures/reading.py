"""All figures of a document that a label names, once for every finder that asks."""

from __future__ import annotations

import re
from collections.abc import Sequence

from extract.claims import Topic
from extract.document import Block, Document, Section, Statement, Table
from extract.figures.bound import BoundFigure
from extract.figures.governing import head_temperature
from extract.figures.labels import FigureSpec
from extract.figures.sentences import figures_in, with_block
from extract.figures.tables import figures_in_table
from extract.quantities import find_quantities
from extract.sections import Sense, sense_of_text
from extract.units import Dimension

_CAPTION_WORDS = 9

_TIMES_AT = re.compile(
    r"\ball (?:the )?(?:times|figures|values|data)\b[^.;]{0,20}?\b(?:at|for)\b|"
    r"\b(?:times?|drying times|figures|values|intervals|these|all times)\b[^.;]{0,40}?\b(?:are|is|refer|apply|hold|"
    r"given|valid|"
    r"quoted|stated|measured|based|count)\b[^.;]{0,25}?\b(?:at|for|to|on)\b"
)

_last: list[tuple[Document, tuple[BoundFigure, ...]]] = []


def read_figures(document: Document) -> tuple[BoundFigure, ...]:
    """Every bound figure in reading order. The last document's answer is kept: several finders ask for it."""
    if _last and _last[0][0] is document:
        return _last[0][1]
    figures = tuple(_read(document))
    _last[:] = [(document, figures)]
    return figures


def _read(document: Document) -> list[BoundFigure]:
    defaults = section_temperatures(document)
    stages: dict[tuple[str, ...], FigureSpec | None] = {}
    out: list[BoundFigure] = []
    for i, block in enumerate(document.blocks):
        key = section_key(block.section)
        at_c = defaults.get(key)
        if isinstance(block, Table):
            above = _caption_temperature(document.blocks[i - 1], document.language) if i else None
            found = list(figures_in_table(block, document.language, at_c if above is None else above))
            if found:
                stages[key] = _only_stage(found)
        else:
            found = list(figures_in(block, document.language, at_c, stages.get(key)))
        out.extend(with_block(f, i) for f in found)
    return out


def _caption_temperature(block: Block, language: str) -> float | None:
    """The temperature in a line straight above a table that is the table's heading: 'DRYING TIMES AT 70 °F'."""
    return (
        head_temperature(block.passage.folded)
        if isinstance(block, Statement) and _is_caption(block, language)
        else None
    )


def _is_caption(block: Block, language: str) -> bool:
    """Whether a line says no more than that it heads times of drying: 'Dry times at 70 °F / 50 % RH'."""
    if not isinstance(block, Statement) or block.label is not None:
        return False
    text = block.passage.text.strip()
    caption = len(text.split()) <= _CAPTION_WORDS and not text.endswith((".", ";"))
    timed = any(q.dimension is Dimension.TIME for q in find_quantities(block.passage.folded))
    return not timed and (caption or text.isupper()) and Sense.DRYING in sense_of_text(text, language)


def _only_stage(figures: Sequence[BoundFigure]) -> FigureSpec | None:
    specs = {f.spec for f in figures}
    spec = specs.pop()
    return spec if not specs and spec.topic is Topic.DRYING else None


def section_key(section: Section) -> tuple[str, ...]:
    """What section_temperatures() knows a section by."""
    return tuple(h.text for h in section.headings)


def section_temperatures(document: Document) -> dict[tuple[str, ...], float]:
    """Temperatures that a heading or a sentence sets for its section: 'DRYING at 20 °C', 'Times are for 20 °C'."""
    found: dict[tuple[str, ...], float] = {}
    for block in document.blocks:
        key = section_key(block.section)
        for heading in block.section.headings:
            at = head_temperature(heading.folded)
            if at is not None:
                found.setdefault(key, at)
        texts = [block.passage] if isinstance(block, Statement) else [*block.notes, *block.legend]
        for passage in texts:
            folded = passage.folded
            if _TIMES_AT.search(folded) or (passage is texts[0] and _is_caption(block, document.language)):
                at = head_temperature(folded)
                if at is not None:
                    found.setdefault(key, at)
    return found
