"""overcoat_window out of tables: next coats by rows, temperatures and earliest/latest by columns, or the reverse."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import NamedTuple

from extract.claims import SELF, Claim, Condition, Method, Stance, Topic, Why
from extract.clauses.cues import Cues, cues
from extract.clauses.reader import SentenceReader
from extract.clauses.verdicts import Answer, read_verdict
from extract.document import Cell, Passage, Row, Statement, Table, evidence_of, fold
from extract.figures.head_units import degrees_filled, times_filled
from extract.figures.heading_rows import headed
from extract.finders.table_signs import OTHER_PRODUCTS, usual_signs
from extract.finders.window_cells import Ends, read_cell, regimes_of, time_of, turn_past
from extract.finders.window_coats import keeps_closed
from extract.finders.window_heads import (
    Side,
    column_variants,
    role_of,
    row_role,
    row_temperature,
    temperature_of,
    variant_of,
)
from extract.quantities import find_quantities
from extract.sections import Sense, sense_of, sense_of_text
from extract.terms import Vocabulary
from extract.units import Dimension


class _Key(NamedTuple):
    """What tells the windows of a table apart; n counts those of one cell ('within 1 h or after 48 h')."""

    object: str | None
    at_c: float | None
    method: Method | None
    worked: bool
    variant: str | None
    n: int


def claims(
    table: Table, near: Sequence[Statement], vocabulary: Vocabulary, reader: SentenceReader, scanned: bool
) -> Iterator[Claim]:
    """The windows of a table; near are the statements that follow it.

    Every cell with a time is read by what stands over it, before it and around it, so that a table may stand on
    any side: next coats, temperatures, earliest and latest each by rows, by columns or in the heading.
    """
    known = cues(vocabulary.language)
    table = times_filled(degrees_filled(headed(table)))
    senses = _senses(table, vocabulary)
    if OTHER_PRODUCTS.search(fold(" ".join(p.text for p in (table.section.title, table.title, table.corner)))):
        return
    whole = _is_window_table(table, known, vocabulary)
    elsewhere = senses & _ELSEWHERE
    if elsewhere <= {Sense.MIXING} and any(_heads_recoat(stack, known) for stack in table.heads):
        elsewhere = frozenset()  # hardeners or reducers, each with its time to recoat
    if not whole and elsewhere and Sense.DRYING not in senses:
        return
    signs = usual_signs(table, vocabulary.language)
    around = Side.of(" ".join(p.text for p in _around(table)), (), known, vocabulary)
    columns = [Side.of(" ".join(c.text for c in stack), stack, known, vocabulary) for stack in table.heads]
    variants = column_variants(table, known)
    # A hardener's name over a column is that of a part of the mix.
    columns = [replace(c, objects=()) if v is not None else c for c, v in zip(columns, variants, strict=True)]
    general = _general_temperature(table, near)
    found: dict[_Key, Ends] = {}
    words: dict[str | None, str] = {}
    beside = any(c.recoat and not c.objects for c in columns)
    plain = columns
    before = Side()
    # Among stages of drying a row that recoats stands beside rows that name a coat and nothing else.
    stages = Sense.DRYING in senses and any(known.heads["recoat"].search(r.label.passage.folded) for r in table.rows)
    for row in table.rows:
        if known.heads["recoat"].search(row.label.passage.folded) and _are_heads(row, known):
            # 'Recoating time | Minimum | Maximum' in the midst of a table, over rows of temperatures.
            columns = [Side.of(f"{row.label.text} {c.text}", (c,), known, vocabulary) for c in row.cells]
            continue
        if columns is not plain and temperature_of(row.label.passage.folded) is None:
            columns = plain
        text = f"{row.group.text} {row.label.text}" if row.group.text else row.label.text
        side = Side.of(text, (row.label,), known, vocabulary).after(before, row)
        before = side
        if known.heads["varies"].search(table.corner.folded):
            side = replace(side, objects=())  # under 'Reducer' a name is a part of the mix
        if side.at_c is None and (own_at := row_temperature(row)) is not None:
            side = replace(side, at_c=own_at)
        coat_row = stages and side.is_coat_row(row)
        if whole and side.objects and _refused(row, columns, vocabulary, signs):
            continue
        for i, (cell, column) in enumerate(zip(row.cells, columns or [Side()] * len(row.cells), strict=False)):
            spoken = _speaks_of_windows(side, column, whole, senses, cell, beside=beside)
            if not spoken and not (coat_row and not column.stage and not column.closed and not side.closed):
                continue
            if column.remark:
                yield from _abraded_past(cell, row, side.objects, known, scanned, remark=True)
                continue
            named = column.objects if whole or not side.recoat else ()
            if named is not column.objects and any(o != SELF for o, _ in column.objects):
                continue  # the column is another product's
            objects = side.objects or named or (around.objects if side.told or column.told else ())
            telling = side.told or side.method is Method.WET_ON_WET
            if not objects and not (telling or column.told):
                continue
            if keeps_closed(cell.passage.folded, known):
                continue
            variant = variant_of(row, table, known) or (variants[i] if i < len(variants) else None)
            if not side.objects and not column.objects and not telling and side.words and variant is None:
                continue
            role = side.role or row_role(row) or column.role or around.role
            if not cell.text.strip() or (not role and time_of(cell.passage.folded) is None):
                continue
            if not role and side.at_c is None and column.at_c is None and not side.recoat and _mark_only(cell):
                continue
            at_c = side.at_c if side.at_c is not None else column.at_c
            method = column.method or side.method
            worked = column.worked and whole
            for object_, said in dict(objects or ((None, row.label.text),)).items():
                words.setdefault(object_, said)
                for held, own_at in regimes_of(cell):
                    at = at_c if at_c is not None else own_at
                    for n, part in enumerate(read_cell(role, held, row, table, known, vocabulary)):
                        end = found.setdefault(_Key(object_, at, method, worked, variant, n), Ends())
                        end.take(part, row.label.passage, cell.passage)
                        end.abraded = end.abraded or worked
            if role != "least" and _says(cell, row):
                yield from _abraded_past(cell, row, objects, known, scanned)
    if general is None:
        _spread(found)
    yield from _claims(found, words, general, table, scanned)


def _heads_recoat(stack: Sequence[Cell], known: Cues) -> bool:
    return any(known.heads["recoat"].search(c.passage.folded) for c in stack)


def _spread(found: dict[_Key, Ends]) -> None:
    """Give a latest time beside earliest ones at several temperatures ('Maximum, at any temperature') to each."""
    for key, bound in list(found.items()):
        if key.at_c is not None or bound.low is not None or (bound.high is None and not bound.unlimited):
            continue
        alike = [e for k, e in found.items() if k.at_c is not None and k._replace(at_c=None) == key]
        if not alike or any(e.low is None or e.high is not None or e.unlimited for e in alike):
            continue
        for end in alike:
            for cell in bound.cells or ():
                end.take(bound, bound.label or cell, cell)
        del found[key]


_ELSEWHERE = frozenset(
    {
        Sense.GOES_OVER, Sense.MIXING, Sense.SYSTEMS, Sense.SAFETY, Sense.PACKAGING, Sense.STORAGE, Sense.FAULTS,
        Sense.PREPARATION, Sense.EXPOSURE, Sense.LEGAL, Sense.CLEANING,
    }
)  # fmt: skip


def _around(table: Table) -> Iterator[Passage]:
    yield table.corner
    yield table.title
    if table.lead is not None:
        yield table.lead
    yield table.section.title


def _refused(row: Row, columns: Sequence[Side], vocabulary: Vocabulary, signs: Sequence[tuple[str, Answer]]) -> bool:
    # 'Do not sand the etch first' beside the times refuses no coat.
    order = cues(vocabulary.language).window["sanding_order"]
    remarks = {i for i, c in enumerate(columns) if c.remark}
    judging = [c for i, c in enumerate(row.cells) if i not in remarks and order.search(c.passage.folded) is None]
    verdicts = [(c, read_verdict(c.text, signs, vocabulary.language)) for c in judging]
    told = [c for c, v in verdicts if v is not None]
    return any(v is not None and v.answer is Answer.NO for _, v in verdicts) and not any(
        time_of(c.passage.folded) for c in told
    )


def _mark_only(cell: Cell) -> bool:
    verdict = read_verdict(cell.text)
    return verdict is not None and time_of(cell.passage.folded) is None


def _speaks_of_windows(
    side: Side, column: Side, whole: bool, senses: frozenset[Sense], cell: Cell, *, beside: bool
) -> bool:
    """Whether a cell's time is one to the next coat: the table is on it, or its row or column is."""
    if side.closed or column.closed:
        return False
    if side.recoat or (column.recoat and not side.stage):
        # In a table on other things a recoat column belongs to what the row names: to temperatures, not to products.
        return whole or side.recoat or not side.objects or all(o == SELF for o, _ in side.objects)
    if column.objects and (column.role or beside) and not side.stage and not column.stage and Sense.DRYING in senses:
        return True
    return whole and not side.stage and not column.stage


def _senses(table: Table, vocabulary: Vocabulary) -> frozenset[Sense]:
    language = vocabulary.language
    first = table.heads[0] if table.heads and not table.corner.text.strip() else ()
    return (
        (sense_of_text(first[-1].text, language) if first and _marks(table) else frozenset())
        | sense_of(table.section, language)
        | sense_of_text(table.corner.text, language)
        | sense_of_text(table.title.text, language)
        | (sense_of_text(table.lead.text, language) if table.lead else frozenset())
    )


def _are_heads(row: Row, known: Cues) -> bool:
    """Whether a row's cells say earliest and latest, and give no time."""
    texts = [c.passage.folded for c in row.cells if c.text.strip()]
    told = all(role_of(t, known) in ("least", "most") for t in texts)
    return bool(texts) and told and not any(time_of(t) for t in texts)


def _marks(table: Table) -> bool:
    """Whether the first column holds signs and nothing else: its head is then the labels' ('Cover with')."""
    texts = [row.cells[0].text.strip() for row in table.rows if row.cells]
    return bool(texts) and all(re.fullmatch(r"\D{0,3}", t) for t in texts) and any(texts)


def _is_window_table(table: Table, known: Cues, vocabulary: Vocabulary) -> bool:
    senses = _senses(table, vocabulary)
    if not senses & {Sense.OVERCOATING, Sense.TOPPED_BY}:
        return False
    corner = sense_of_text(table.corner.text, vocabulary.language)
    if "temp" in table.corner.folded:
        corner = corner - {Sense.GOES_OVER}  # 'Surface temperature' heads the weather
    if Sense.GOES_OVER in corner and not corner & {Sense.OVERCOATING, Sense.TOPPED_BY}:
        return False
    return any(time_of(cell.passage.folded) is not None for row in table.rows for cell in row.cells)


_GENERAL = re.compile(r"\b(?:times?|figures|values|windows?|intervals?|all|data)\b[^.;]*?(?:at|for|to|of)\s")


def _general_temperature(table: Table, near: Sequence[Statement]) -> float | None:
    """The temperature that governs a table whose columns name none."""
    for passage in (table.title, table.corner, *((table.lead,) if table.lead else ()), *table.section.headings):
        for q in find_quantities(passage.folded):
            if q.dimension is Dimension.TEMPERATURE:
                return q.low
    for passage in (*table.notes, *table.legend, *(s.passage for s in near)):
        if _GENERAL.search(passage.folded):
            for q in find_quantities(passage.folded):
                if q.dimension is Dimension.TEMPERATURE:
                    return q.low
    return None


def _says(cell: Cell, row: Row) -> bool:
    return time_of(cell.passage.folded) is not None and bool(row.label.text.strip())


def _abraded_past(
    cell: Cell,
    row: Row,
    objects: Sequence[tuple[str | None, str]],
    known: Cues,
    scanned: bool,
    *,
    remark: bool = False,
) -> Iterator[Claim]:
    folded = cell.passage.folded
    late = turn_past(folded) or (known.window["late"].search(folded) if remark else None)
    if late is None:
        return
    for q in find_quantities(folded):
        if q.dimension is Dimension.GRADE and q.start > late.start():
            yield Claim(
                topic=Topic.OVERCOAT_WINDOW,
                property="abrade_after",
                stance=Stance.REQUIRES,
                evidence=evidence_of([row.label.passage, cell.passage]),
                object=objects[0][0] if len(objects) == 1 else None,
                low=q.low,
                high=q.high,
                unit="P",
                confidence=0.8,
                from_picture=scanned,
                why=Why("what to do past the latest time", (folded[late.start() :][:40],)),
            )


def _claims(
    found: dict[_Key, Ends],
    words: dict[str | None, str],
    general: float | None,
    table: Table,
    scanned: bool,
) -> Iterator[Claim]:
    for (object_, at_c, method, _, variant, _), end in found.items():
        if end.low is None and end.high is None and not end.unlimited:
            continue
        if end.low is not None and end.high is not None and end.low > end.high:
            continue
        label = end.label
        parts = [p for p in (*((label,) if label is not None else ()), *(end.cells or ())) if p.text.strip()]
        yield Claim(
            topic=Topic.OVERCOAT_WINDOW,
            property="window",
            stance=Stance.STATES,
            evidence=evidence_of(list(dict.fromkeys(parts))),
            object=object_,
            conditions=(Condition.ABRADED,) if end.abraded else (),
            low=end.low,
            high=end.high,
            unit="min",
            unlimited=end.unlimited and end.high is None,
            at_c=at_c if at_c is not None else general,
            method=method,
            text=variant,
            confidence=0.93,
            from_picture=scanned,
            why=Why("window table", (words[object_],), f"{table.corner.text}: {label.text if label else ''}"),
        )
