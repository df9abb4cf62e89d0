"""Mixing ratios set as a list, a component a line: '3 parts Hobnail 3', '1 part Hardener H', '1 part Thinner T'."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass

from extract.claims import Claim
from extract.clauses.headings import same_section
from extract.document import Document, Passage, Section, Statement, Table
from extract.figures.ratios import Ratio, basis_of
from extract.finders.mixing_parts import SKIPPED, component, counted, ratio_claim
from extract.sections import Sense, sense_of
from extract.terms import SubjectNames

_LINE = re.compile(
    r"\s*(?P<parts>(?:\d{1,3}(?:[.,]\d)?\s?[½¼¾]?|[½¼¾])\s*(?:parts?|vols?\.?|volumes?|measures?))"
    r"(?:\s*(?:by (?:volume|weight)|\(?(?:vol|wt)\.?\)?))?\s*(?:of |:)?\s*(?P<name>\S.*?)[ .,;]*"
)
_LONGEST = 7
"""Words of a component's name."""
_BINDS = re.compile(r"^(?:and|plus|\+|with|then)\s+")


@dataclass(slots=True)
class _Part:
    value: float
    name: str
    words: tuple[Passage, ...]
    section: Section


def claims(document: Document, subject: SubjectNames) -> Iterator[Claim]:
    """One ratio for each run of such lines: this product first, then its hardener or thinner."""
    run: list[_Part] = []
    for block in (*document.blocks, None):
        part = _part_of(block) if isinstance(block, Statement) else None
        if part is not None and (not run or same_section(run[-1].section, part.section)):
            run.append(part)
            continue
        yield from _ratio_of(run, subject, document.language)
        run = [part] if part is not None else []


def _part_of(block: Statement | Table) -> _Part | None:
    if not isinstance(block, Statement):
        return None
    if block.label is not None:
        value = counted(block.passage.folded) if "part" in block.passage.folded else None
        name = block.label.text.strip(" :")
        words: tuple[Passage, ...] = (block.label, block.passage)
    else:
        match = _LINE.fullmatch(_BINDS.sub(lambda m: " " * len(m.group()), block.passage.folded))
        value = counted(match["parts"]) if match else None
        name = block.passage.text[match.start("name") : match.end("name")] if match else ""
        words = (block.passage,)
    if not value or len(name.split()) > _LONGEST:
        return None
    return _Part(value, name, words, block.section)


def _ratio_of(run: list[_Part], subject: SubjectNames, language: str) -> Iterator[Claim]:
    if len(run) < 2:
        return
    senses = sense_of(run[0].section, language)
    if senses & SKIPPED and Sense.MIXING not in senses:
        return
    kinds = [component(part.name, subject) for part in run]
    if kinds[0] == "other" and kinds[1] == "other" and _is_own_code(run[0].name, subject):
        kinds[0] = "self"
    if kinds[0] != "self" or any(kind != "other" for kind in kinds[1:]):
        return
    heading = " ".join(h.folded for h in run[0].section.headings[-2:])
    printed = " ".join(w.folded for part in run for w in part.words)
    ratio = Ratio(0, 0, tuple(part.value for part in run), basis_of(printed) or basis_of(heading))
    yield ratio_claim(ratio, [w for part in run for w in part.words], None, 0.88, "list of parts")


def _is_own_code(name: str, subject: SubjectNames) -> bool:
    """Whether a component's bare code opens the product's own name."""
    code = re.match(r"[A-Za-z]{1,5}[- ]?\d{2,4}", name)
    return code is not None and code.group().lower() in subject.name.lower()
