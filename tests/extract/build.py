"""Documents built by hand for the tests: text whose characters stand on a made-up page, one line a passage."""

from __future__ import annotations

from collections.abc import Sequence

from extract.document import (
    EMPTY,
    Block,
    Cell,
    Document,
    Glyph,
    Passage,
    Row,
    Section,
    Statement,
    StatementKind,
    Table,
)

_lines = iter(range(1, 10_000_000))


def passage(text: str, page: int = 1) -> Passage:
    """The text on a line of its own: every character 5 points wide and 10 high."""
    line = next(_lines)
    top = 12.0 * (line % 60)
    return Passage(
        text, tuple(Glyph(page, line, (50 + 5.0 * i, top, 55 + 5.0 * i, top + 10)) for i in range(len(text)))
    )


def section(*headings: str) -> Section:
    return Section(tuple(passage(h) for h in headings))


def statement(
    text: str,
    under: str | Sequence[str] = (),
    *,
    kind: StatementKind = StatementKind.SENTENCE,
    lead: str | None = None,
    label: str | None = None,
    notes: Sequence[str] = (),
    mark: str = "",
    paragraph: int = 1,
    page: int = 1,
) -> Statement:
    headings = (under,) if isinstance(under, str) else tuple(under)
    return Statement(
        kind=kind,
        passage=passage(text, page),
        section=section(*headings),
        paragraph=paragraph,
        lead=passage(lead) if lead else None,
        label=passage(label) if label else None,
        notes=tuple(passage(n) for n in notes),
        mark=mark,
    )


def table(
    heads: Sequence[str | tuple[str, ...]],
    rows: Sequence[Sequence[str]],
    under: str | Sequence[str] = (),
    *,
    title: str = "",
    notes: Sequence[str] = (),
    legend: Sequence[str] = (),
    row_notes: dict[int, Sequence[str]] | None = None,
    paragraph: int = 1,
) -> Table:
    """heads[0] is the corner over the labels; a head may be a stack, outermost first."""

    def head(texts: str | tuple[str, ...]) -> tuple[Cell, ...]:
        return tuple(Cell(passage(t)) for t in ((texts,) if isinstance(texts, str) else texts) if t)

    headings = (under,) if isinstance(under, str) else tuple(under)
    corner = heads[0] if isinstance(heads[0], str) else heads[0][-1]
    noted = row_notes or {}
    return Table(
        corner=passage(corner) if corner else EMPTY,
        heads=tuple(head(h) for h in heads[1:]),
        rows=tuple(
            Row(
                label=Cell(passage(r[0])),
                cells=tuple(Cell(passage(c) if c else EMPTY) for c in r[1:]),
                notes=tuple(passage(n) for n in noted.get(i, ())),
            )
            for i, r in enumerate(rows)
        ),
        section=section(*headings),
        title=passage(title) if title else EMPTY,
        legend=tuple(passage(t) for t in legend),
        notes=tuple(passage(t) for t in notes),
        paragraph=paragraph,
    )


def document(*blocks: Block, language: str = "en") -> Document:
    return Document(blocks=blocks, running=(), titles=(), pages=(), language=language)
