"""The texts of a sheet where its head may stand."""

from __future__ import annotations

import re
from dataclasses import dataclass

from extract.document import Document, Statement, Table

_FIRST_WORDS = 80
_LAST_WORDS = 24
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


def texts_of(document: Document) -> HeadTexts:
    """The head's texts of a document."""
    opening: list[str] = []
    body: list[str] = []
    for i, block in enumerate(document.blocks):
        words = _words_of(block)
        body.append(words)
        if i < _FIRST:
            opening += [h.text for h in block.section.headings if h.text not in opening]
            if isinstance(block, Statement):
                opening.append(words)
    closing = [b.passage.text for b in document.blocks[-6:] if isinstance(b, Statement)]
    return HeadTexts(
        titles=tuple(" ".join(t.text.split()) for t in document.titles if t.text.strip()),
        running=tuple(" ".join(t.text.split()) for t in document.running if t.text.strip()),
        opening=tuple(dict.fromkeys((*opening, *_first_lines(document)))),
        closing=tuple(dict.fromkeys((*closing, *_last_lines(document)))),
        body="\n".join(body),
        metadata={k.lower(): v for k, v in document.metadata},
    )


def _first_lines(document: Document) -> list[str]:
    """The first printed lines of the title's page: a subtitle may be no statement and head nothing."""
    title_pages = [g.page for t in document.titles[:1] for g in t.origins if g is not None]
    page = next((p for p in document.pages if p.number == (title_pages[0] if title_pages else 1)), None)
    lines: list[list[str]] = []
    last: tuple[float, float] | None = None
    for word in page.words[:_FIRST_WORDS] if page is not None else ():
        top, bottom = word.box[1], word.box[3]
        if last is None or abs(top - last[0]) > 0.6 * (bottom - top):
            lines.append([])
        lines[-1].append(word.text)
        last = (top, bottom)
    return [" ".join(line) for line in lines]


def _last_lines(document: Document) -> list[str]:
    """The last printed lines of each page, where an imprint may stand divided into sentences by its full stops."""
    out = []
    for page in document.pages:
        words = page.words[-_LAST_WORDS:]
        out.append(" ".join(w.text for w in words))
    return out


def _words_of(block: Statement | Table) -> str:
    if isinstance(block, Statement):
        return f"{block.label.text}: {block.passage.text}" if block.label is not None else block.passage.text
    cells = [c.text for row in block.rows for c in (row.label, *row.cells)]
    return " ".join((block.title.text, block.corner.text, *(c.text for s in block.heads for c in s), *cells))


def parts_of(text: str) -> list[str]:
    """A line of the head taken apart at wide gaps, bars and dots."""
    return [p for p in re.split(r"\s{2,}|\s+[|·•–—]\s+|\n", text) if p.strip()]
