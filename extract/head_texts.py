"""The texts of a sheet where its head may stand."""

from __future__ import annotations

import itertools
import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cache, lru_cache

from extract.claims import Box, PageText, PageWord
from extract.dates import header_words
from extract.document import Document, Passage, Statement, Table, fold
from extract.sections import Sense, sense_of_text

_FIRST_WORDS = 80
_GAP = 0.7
"""Parts of a printed line stand further apart than this, of its height."""
_LAST_WORDS = 24
_SAME_SIZE = 0.03
_BELOW = 1.8
"""A title's second line begins no further below its first, in its size."""
_TITLE_LINES = 3
_FIRST = 12
"""How many blocks of a sheet's beginning may say what the product is."""


@dataclass(frozen=True, slots=True)
class HeadTexts:
    """The texts of a sheet where its head may stand, as printed."""

    titles: tuple[str, ...]
    running: tuple[str, ...]
    opening: tuple[str, ...]
    closing: tuple[str, ...]
    body: str
    metadata: dict[str, str]
    about: tuple[str, ...] = ()
    """What stands before the first section on another subject than the product itself."""
    headings: frozenset[str] = frozenset()
    """Every heading, folded."""
    first_lines: tuple[str, ...] = ()
    """The first printed lines, their parts two spaces or more apart."""
    head_lines: tuple[str, ...] = ()
    """Of the first lines those before the first table or section on other coats."""
    title_sizes: tuple[float, ...] = ()
    """The size of each title's type."""
    facts: tuple[str, ...] = ()
    """Labels of the head with their values ('Code: B 12'), out of tables and captions."""
    stacked: tuple[str, ...] = ()
    """Titles of one size that stand straight below each other, as one text: a name may be set in two lines."""


def texts_of(document: Document) -> HeadTexts:
    """The head's texts of a document."""
    opening: list[str] = []
    body: list[str] = []
    about: list[str] = []
    for i, block in enumerate(document.blocks):
        words = _words_of(block)
        body.append(words)
        if i < _FIRST:
            opening += [h.text for h in block.section.headings if h.text not in opening]
            if isinstance(block, Statement):
                opening.append(words)
                if not any(_is_other(h.text, document.language) for h in block.section.headings[-2:]):
                    about.append(words)
    closing = [b.passage.text for b in document.blocks[-6:] if isinstance(b, Statement)]
    first = _first_lines(document)
    head = _before_other_subjects(document, first)
    titles = _without_cells(document)
    return HeadTexts(
        titles=tuple(" ".join(t.text.split()) for t in titles),
        running=tuple(" ".join(t.text.split()) for t in document.running if t.text.strip()),
        opening=tuple(dict.fromkeys((*opening, *first))),
        closing=tuple(dict.fromkeys((*closing, *_last_lines(document)))),
        body="\n".join(body),
        metadata={k.lower(): v for k, v in document.metadata},
        about=tuple(dict.fromkeys((*head, *about))),
        headings=frozenset(fold(h.text) for b in document.blocks for h in b.section.headings),
        first_lines=tuple(first),
        head_lines=tuple(head),
        title_sizes=tuple(t.size for t in titles),
        facts=tuple(dict.fromkeys(_facts(document))),
        stacked=tuple(_stacked(titles)),
    )


_CELLS = 3
"""Cells of one size from which on large type is that of a table, not of a title."""


def _without_cells(document: Document) -> list[Passage]:
    """The titles without the cells of a table that is set in larger type than the text."""
    titles = [t for t in document.titles if t.text.strip()]
    cells: set[str] = set()
    for table in (b for b in document.blocks if isinstance(b, Table)):
        cells |= {fold(table.corner.text.strip()), *(fold(c.text.strip()) for stack in table.heads for c in stack)}
        cells |= {fold(c.text.strip()) for row in table.rows for c in (row.label, *row.cells)}
    in_cells = [t.size for t in titles if fold(t.text.strip()) in cells]
    tables = {size for size in in_cells if in_cells.count(size) >= _CELLS}
    return [t for t in titles if not (t.size in tables and fold(t.text.strip()) in cells)]


@cache
def _labels() -> frozenset[str]:
    words = header_words()["words"]
    lists = ("product_labels", "maker_labels", "codes", "dated", "kind_labels")
    return frozenset(fold(w).strip(" .") for name in lists for w in words[name])


def is_label(text: str) -> bool:
    """'Product code', 'Rev. / Date': the words for something that a head tells."""
    named = [part.strip(" .:") for part in re.split(r"\s*/\s*", fold(text.strip()))]
    return bool(named[0]) and all(part in _labels() for part in named)


def _facts(document: Document) -> Iterator[str]:
    """What a table or a caption gives beside or below one of the head's labels."""
    for block in (*document.blocks[:_FIRST], *document.blocks[-2:]):
        if isinstance(block, Table):
            yield from _facts_of_table(block)
        elif block.label is None and "\n" in block.passage.text:
            label, value = block.passage.text.split("\n", 1)
            if is_label(label):
                yield f"{label.strip(' :')}: {' '.join(value.split())}"


def _facts_of_table(table: Table) -> Iterator[str]:
    heads = [table.corner.text, *(stack[-1].text if stack else "" for stack in table.heads)]
    lines = [heads, *([row.label.text, *(c.text for c in row.cells)] for row in table.rows)]
    for line in lines:
        for label, value in itertools.pairwise(line):
            if is_label(label) and value.strip() and not is_label(value):
                yield f"{label.strip(' :')}: {' '.join(value.split())}"
    for line in lines[1:2]:
        for label, value in zip(heads, line, strict=False):
            if is_label(label) and value.strip():
                yield f"{label.strip(' :')}: {' '.join(value.split())}"


def _stacked(titles: Sequence[Passage]) -> Iterator[str]:
    for upper, lower in itertools.pairwise(titles):
        a, b = (next((g for g in p.origins if g is not None), None) for p in (upper, lower))
        if a is None or b is None or a.page != b.page or abs(upper.size - lower.size) > _SAME_SIZE * upper.size:
            continue
        named = not (is_label(upper.text) or is_label(lower.text))
        if named and 0 < b.box[1] - a.box[1] < _BELOW * upper.size:
            yield " ".join(f"{upper.text} {lower.text}".split())


def _is_other(heading: str, language: str) -> bool:
    senses = sense_of_text(heading, language)
    return bool(senses & _OTHER) and Sense.ABOUT not in senses


def _before_other_subjects(document: Document, lines: Sequence[str]) -> list[str]:
    """The first printed lines, down to the first table or the heading of a section that speaks of other coats."""
    stops = {fold(p.text) for b in document.blocks for p in b.section.headings if _is_other(p.text, document.language)}
    for table in (b for b in document.blocks if isinstance(b, Table)):
        first = (
            table.corner,
            *(c.passage for stack in table.heads for c in stack),
            *(r.label.passage for r in table.rows[:1]),
        )
        stops |= {fold(p.text) for p in first if p.text.strip()}
        break
    for i, line in enumerate(lines):
        if any(fold(part.strip()) in stops for part in parts_of(line)):
            # A line that says what the product is may be taken for a heading where it stands under the name.
            return list(lines[: i + (i <= _TITLE_LINES)])
    return list(lines)


def _first_lines(document: Document) -> list[str]:
    """The first printed lines of the title's page: a subtitle may be no statement and head nothing."""
    title_pages = [g.page for t in document.titles[:1] for g in t.origins if g is not None]
    page = next((p for p in document.pages if p.number == (title_pages[0] if title_pages else 1)), None)
    return _lines(page.words[:_FIRST_WORDS]) if page is not None else []


def _lines(words: Sequence[PageWord]) -> list[str]:
    """Printed lines, three spaces where their parts stand apart."""
    lines: list[str] = []
    last: Box | None = None
    for word in words:
        left, top, _, bottom = word.box
        if last is None or abs((top + bottom - last[1] - last[3]) / 2) > 0.6 * (bottom - top):
            lines.append(word.text)
        else:
            # A word further left than the last begins another part: large type stands on a lower line than small.
            apart = left < last[0] or left - last[2] >= _GAP * (bottom - top)
            lines[-1] += ("   " if apart else " ") + word.text
        last = word.box
    return lines


def _last_lines(document: Document) -> list[str]:
    """The last printed lines of each page, where an imprint may stand divided into sentences by its full stops."""
    return [line for page in document.pages for line in (*_lines(page.words[-_LAST_WORDS:]), _joined(page))]


def _joined(page: PageText) -> str:
    return " ".join(w.text for w in page.words[-_LAST_WORDS:])


def _words_of(block: Statement | Table) -> str:
    if isinstance(block, Statement):
        return f"{block.label.text}: {block.passage.text}" if block.label is not None else block.passage.text
    cells = [c.text for row in block.rows for c in (row.label, *row.cells)]
    return " ".join((block.title.text, block.corner.text, *(c.text for s in block.heads for c in s), *cells))


_OTHER = {
    Sense.GOES_OVER, Sense.TOPPED_BY, Sense.PREPARATION, Sense.OVERCOATING, Sense.OWN_FILM, Sense.FORBIDS,
    Sense.SYSTEMS,
}  # fmt: skip
"""Subjects whose lines name other coats than this one."""


def places_of(words: str, text: str) -> Iterator[int]:
    """Where the words begin in a text, one inside another too: cheaper than an expression for a name met once."""
    at = text.find(words)
    while at >= 0:
        yield at
        at = text.find(words, at + 1)


def times_standing(words: str, text: str) -> int:
    """How often the words stand in a text, and in no longer word."""
    count = end = 0
    for at in places_of(words, text):
        after = text[at + len(words) : at + len(words) + 1]
        if at >= end and not _is_of_a_word(text[at - 1 : at]) and not _is_of_a_word(after):
            count += 1
            end = at + len(words)
    return count


def _is_of_a_word(sign: str) -> bool:
    return sign.isalnum() or sign == "_"


def parts_of(text: str) -> list[str]:
    """A line of the head taken apart at wide gaps, bars and dots."""
    return [p for p in _PARTED.split(text) if p.strip()]


_PARTED = re.compile(r"\s{2,}|\s+[|·•–—]\s+|\n|\t")


@cache
def _generic_words() -> tuple[re.Pattern[str], ...]:
    words = sorted(header_words()["words"]["generic"], key=len, reverse=True)
    return tuple(re.compile(rf"(?i)(?<!\w){re.escape(word)}(?!\w)(?:\s*(?:no|nr)\.?\s*\d+)?") for word in words)


@lru_cache(maxsize=4096)
def without_sheet_words(text: str) -> str:
    """The text without the words for 'data sheet', trade marks and the sheet's number."""
    out = _unspaced(" ".join(text.replace("®", "").replace("™", "").split()))
    for generic in _generic_words():
        out = generic.sub(" ", out)
    return " ".join(out.split()).strip(" -–—:·|,./")


def _unspaced(text: str) -> str:
    """Letter-spaced words closed up: 'G N E I S  2 2' -> 'GNEIS 22'."""
    return re.sub(r"(?<!\S)(?:\S ){3,}\S(?!\S)", lambda m: m.group().replace(" ", ""), text)
