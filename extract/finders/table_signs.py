"""What a table's signs and marks mean: legends near it, notes whose marks stand in cells, usage."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace

from extract.clauses.verdicts import Answer, read_legend
from extract.document import Cell, Document, Passage, Row, Statement, Table, fold
from extract.quantities import find_quantities
from extract.units import Dimension

OTHER_PRODUCTS = re.compile(
    r"\b(?:other products|complements?|complementary|further products|companion|accessor(?:y|ies)|related products|"
    r"of the range|our range|also in the range|test results?)\b"
)
"""Tables on other products than this one, and on tests."""
_MARK_IN_CELL = re.compile(r"^(.{1,40}?) ?(?:\(?([1-9*†‡])\)|(?P<star>[*†‡]))\s*$")


def with_marked_notes(table: Table) -> Table:
    """The table with notes joined to cells whose mark still stands in them ('x 1)')."""
    known: dict[str, list[Passage]] = {}
    mark = ""
    for note in table.notes:
        match = re.match(r"\s*\(?([1-9*†‡])\)?[ .:)]", note.text)
        mark = match.group(1) if match else mark
        if mark:
            known.setdefault(mark, []).append(note)
    if not known:
        return table

    def with_notes(cell: Cell) -> Cell:
        match = _MARK_IN_CELL.match(cell.text)
        sign = (match.group(2) or match.group("star")) if match is not None else None
        if match is None or sign not in known or cell.notes:
            return cell
        return Cell(cell.passage.part(0, match.end(1)), tuple(known[sign]))

    return replace(
        table,
        rows=tuple(
            replace(r, label=with_notes(r.label), cells=tuple(with_notes(c) for c in r.cells)) for r in table.rows
        ),
    )


def legend_near(table: Table, document: Document) -> list[Passage]:
    """Small lines straight after a table that explain its signs."""
    at = (
        next(
            (
                i
                for i, b in enumerate(document.blocks)
                if isinstance(b, Table) and b.rows and b.rows[0].label.passage is table.rows[0].label.passage
            ),
            None,
        )
        if table.rows
        else None
    )
    if at is None:
        return []
    after = [b for b in document.blocks[at + 1 : at + 4] if isinstance(b, Statement)]
    return [
        b.passage
        for b in after
        if re.search(
            r"[=+✓✔✗✘●○◐-]\s*=?\s*(?:not |un)?\w*(?:suit|poss|recomm|appl|apt|permit|tested|allowed|released|yes|no\b)",
            b.passage.folded,
        )
    ]


def usual_signs(table: Table, language: str = "en") -> tuple[tuple[str, Answer], ...]:
    """What a table's signs mean, by its legend or by usage."""
    return usual(table, read_legend([p.text for p in (*table.legend, *table.notes)], language))


_CROSSED = re.compile(r"x(?:$|[ (])")
_TICKED = re.compile(r"(?:✓|✔|☑|●|√|\+|yes|ok|o$|o[ (])")


def usual(table: Table, legend: tuple[tuple[str, Answer], ...]) -> tuple[tuple[str, Answer], ...]:
    """What signs mean that no legend explains, by the company they keep: '-' beside '+', 'x' beside blanks."""
    known = dict(legend)
    texts = [fold(c.text).strip() for row in table.rows for c in row.cells]
    out = list(legend)
    if any(t in ("+", "++") for t in texts) and "-" not in known:
        out.append(("-", Answer.NO))
    crossed = any(_CROSSED.match(t) for t in texts)
    ticked = any(_TICKED.match(t) for t in texts)
    if crossed and not ticked and "x" not in known and "" in texts and len(table.heads) > 1:
        out.append(("x", Answer.YES))
    return tuple(out)


def timed_cells(cells: Sequence[Cell]) -> bool:
    return any(q.dimension is Dimension.TIME for c in cells for q in find_quantities(c.passage.folded))


def cell_name(table: Table, row: Row) -> str:
    return f"{table.corner.text or table.title.text}: {row.label.text}"
