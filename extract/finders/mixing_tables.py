"""Mixing ratios out of tables: rows or columns that are the components, shares of a hundred, ratios in cells."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from extract.claims import Claim
from extract.document import EMPTY, Cell, Passage, Row, Table, fold
from extract.figures.ratios import Ratio, basis_of, find_ratios, part_value
from extract.figures.strangers import is_range_table
from extract.finders.mixing_parts import OTHER_COMPONENT, SKIPPED, component, counted, ratio_claim
from extract.sections import Sense, sense_of, sense_of_text
from extract.terms import SubjectNames

_HARDENER = re.compile(r"\b(?:hardener|catalyst|activator|peroxide|bpo|mekp|paste)\b")


def claims(table: Table, subject: SubjectNames, said: str | None) -> Iterator[Claim]:
    """Ratios of a table whose rows or columns are the components, with parts in the cells.

    said is what its section says elsewhere of the parts: 'volume', 'weight' or None.
    """
    if _is_other(table):
        return
    columns_are_components = [_component_of(stack, subject) for stack in table.heads]
    if "other" in columns_are_components and _is_self_first(columns_are_components):
        yield from _rows_of_parts(table, columns_are_components, said)
    rows = [*_head_row(table, subject), *table.rows]
    rows_are_components = [component(row.label.text, subject) for row in rows]
    if _opens_with_a_code(rows, rows_are_components) and Sense.MIXING in sense_of(table.section):
        rows_are_components[0] = "self"  # 'K555-1 | 5', 'K210-8 | 1': the base goes first
    if rows_are_components[:1] == ["self"] and "other" in rows_are_components:
        yield from _columns_of_parts(table, rows, rows_are_components, said)
    yield from _parts_to_hundred(table)
    yield from _ratios_in_cells(table)


_TO_HUNDRED = re.compile(
    r"\b(?:parts?|pbw|g|grams?|gr|%)\b[^|]*?\b(?:to|per|on|for|in|into|of)\s+(?:each\s+)?100\b|"
    r"\b(?:addition|dosage|quantity|amount|dosing)\b.*(?:%|percent)"
)


def _parts_to_hundred(table: Table) -> Iterator[Claim]:
    """'Hardener, parts to 100 of filler | 2 | 2-3': each cell's least, with 100 before it."""
    for row in table.rows:
        folded = row.label.passage.folded
        if not _TO_HUNDRED.search(folded) or not _HARDENER.search(folded):
            continue
        for i, cell in enumerate(row.cells):
            m = re.fullmatch(
                r"\s*(\d{1,2}(?:[.,]\d)?)\s*(?:(?:-|to)\s*\d{1,2}(?:[.,]\d)?)?\s*%?\s*", cell.passage.folded
            )
            part = part_value(m.group(1)) if m else None
            if part is None or (i and cell.passage is row.cells[i - 1].passage):
                continue
            head = table.heads[i][-1].text if i < len(table.heads) and table.heads[i] else None
            ratio = Ratio(0, 0, (100.0, part), basis_of(folded) or "weight")
            yield ratio_claim(ratio, (row.label.passage, cell.passage), head, 0.85, folded)


def _opens_with_a_code(rows: Sequence[Row], components: Sequence[str | None]) -> bool:
    """Whether the rows are components by bare codes, the first of which is called neither hardener nor thinner."""
    together = len(components) > 1 and components[0] == components[1] == "other"
    return together and not OTHER_COMPONENT.search(rows[0].label.passage.folded)


def _head_row(table: Table, subject: SubjectNames) -> Iterator[Row]:
    """The product's own row where it was taken for the head: its name in the corner, its parts in the heads."""
    if component(table.corner.text, subject) != "self" or not table.heads:
        return
    cells = tuple(stack[-1] if stack else Cell(EMPTY) for stack in table.heads)
    if any(counted(cell.passage.folded) for cell in cells):
        yield Row(label=Cell(table.corner), cells=cells)


def _is_other(table: Table) -> bool:
    senses = sense_of(table.section)
    if is_range_table(f"{table.corner.folded} | {table.title.folded} | {table.section.title.folded}"):
        return True
    return bool(senses & SKIPPED) and Sense.MIXING not in senses


def _component_of(stack: Sequence[Cell], subject: SubjectNames) -> str | None:
    """The innermost head speaks first: 'CM-300' under 'Parts by volume'."""
    inner = component(stack[-1].text, subject) if stack else None
    return inner or (component(" ".join(c.text for c in stack), subject) if len(stack) > 1 else None)


_NO_PARTS = re.compile(
    r"\b(?:density|specific gravity|sg|kg/l|g/ml|g/cm|solids|voc|packs?|packaging|price|shelf|flash point|viscosity)\b"
)
"""Rows of figures beside the components that are no parts of a mix."""


def _rows_of_parts(table: Table, components: Sequence[str | None], said: str | None) -> Iterator[Claim]:
    columns = [i for i, c in enumerate(components) if c]
    basis = _table_basis(table) or said
    for row in table.rows:
        if _NO_PARTS.search(row.label.passage.folded):
            continue
        cells = [row.cells[i] for i in columns if i < len(row.cells)]
        parts, used = _parts_of(cells)
        if len(parts) < 2:
            continue
        words = (row.label.passage, *(c.passage for c in used))
        heads = tuple(p.passage for i in columns for p in table.heads[i][-1:] if p.text.strip())
        ratio = Ratio(0, 0, parts, basis or basis_of(row.label.passage.folded))
        yield ratio_claim(ratio, (*words, *heads), row.label.text or None, 0.93, row.label.passage.folded)


def _is_self_first(components: Sequence[str | None]) -> bool:
    return next((c for c in components if c), None) == "self"


def _columns_of_parts(
    table: Table, all_rows: Sequence[Row], components: Sequence[str | None], said: str | None
) -> Iterator[Claim]:
    rows = []
    for row, named in zip(all_rows, components, strict=True):
        if named is None:
            break
        rows.append(row)
    width = max((len(r.cells) for r in rows), default=0)
    title_basis = _table_basis(table) or said
    for i in range(width):
        if i and all(i < len(r.cells) and r.cells[i].passage is r.cells[i - 1].passage for r in rows):
            continue
        cells = [row.cells[i] for row in rows if i < len(row.cells)]
        parts, used = _parts_of(cells)
        if len(parts) < 2:
            continue
        head = " ".join(c.text for c in table.heads[i]) if i < len(table.heads) else ""
        words: list[Passage] = []
        for row, cell in zip(rows, cells, strict=False):
            if cell in used:
                words += [row.label.passage, cell.passage]
        ratio = Ratio(0, 0, parts, basis_of(fold(head)) or title_basis)
        text = head if head and basis_of(fold(head)) is None else None
        yield ratio_claim(ratio, words, text, 0.93, fold(head))


def _table_basis(table: Table) -> str | None:
    for texts in (
        [table.corner.folded, table.title.folded],
        [cell.passage.folded for stack in table.heads for cell in stack],
        [table.section.title.folded, table.lead.folded if table.lead else ""],
    ):
        basis = basis_of(" ".join(texts))
        if basis:
            return basis
    return None


def _parts_of(cells: Sequence[Cell]) -> tuple[tuple[float, ...], list[Cell]]:
    """Parts up to the first cell that is none; a nought or a dash ends the ratio, a percentage is no part."""
    if not counted(cells[0].passage.folded if cells else ""):
        return (), []
    parts: list[float] = []
    used: list[Cell] = []
    for cell in cells:
        value = counted(cell.passage.folded)
        if not value:
            break
        parts.append(value)
        used.append(cell)
    return tuple(parts), used


def _ratios_in_cells(table: Table) -> Iterator[Claim]:
    """'4 : 1 by volume' in a cell whose row or column speaks of mixing."""
    seen: set[tuple[tuple[float, ...], str | None]] = set()
    heading = " ".join(h.folded for h in table.section.headings)
    for row in table.rows:
        for i, cell in enumerate(row.cells):
            head = " ".join(c.passage.folded for c in table.heads[i]) if i < len(table.heads) else ""
            context = f"{row.label.passage.folded} {head}"
            if (
                not OTHER_COMPONENT.search(context)
                and Sense.MIXING not in sense_of_text(context)
                and "ratio" not in heading
            ):
                continue
            named = OTHER_COMPONENT.search(cell.passage.folded) and "ratio" not in context
            if cell.passage is row.label.passage or named:
                continue
            for ratio in find_ratios(cell.passage.folded, f"mix {context}"):
                key = (ratio.parts, ratio.basis)
                if key in seen:
                    continue
                seen.add(key)
                yield ratio_claim(ratio, (row.label.passage, cell.passage), None, 0.93, context)
