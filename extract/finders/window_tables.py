"""overcoat_window out of tables: next coats by rows, temperatures and earliest/latest by columns, or the reverse."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from extract.bounds import Bound
from extract.claims import SELF, Claim, Condition, Method, Stance, Topic, Why
from extract.clauses.conditions import find_conditions
from extract.clauses.cues import Cues, cues
from extract.clauses.reader import SentenceReader
from extract.clauses.verdicts import Answer, read_verdict
from extract.document import Cell, Passage, Row, Statement, Table, evidence_of, fold
from extract.quantities import Quantity, find_quantities
from extract.sections import Sense, sense_of, sense_of_text
from extract.terms import Vocabulary
from extract.units import Dimension


@dataclass(frozen=True, slots=True)
class _Column:
    role: str
    """'least', 'most', 'both' or ''."""
    at_c: float | None
    method: Method | None


@dataclass(slots=True)
class _End:
    """What the cells of one row say for one temperature and method."""

    low: float | None = None
    high: float | None = None
    unlimited: bool = False
    abraded: bool = False
    cells: list[Passage] | None = None


def claims(
    table: Table, near: Sequence[Statement], vocabulary: Vocabulary, reader: SentenceReader, scanned: bool
) -> Iterator[Claim]:
    """The windows of a table; near are the statements that follow it."""
    known = cues(vocabulary.language)
    if not _is_window_table(table, known, vocabulary):
        yield from _recoat_rows(table, near, vocabulary, known, scanned)
        return
    columns = [_column(stack, known) for stack in table.heads]
    general = _general_temperature(table, near)
    if any(_row_role(row, known) for row in table.rows):
        yield from _transposed(table, columns, general, known, vocabulary, scanned)
        return
    for row in table.rows:
        yield from _row(row, table, columns, general, vocabulary, known, scanned)


def _senses(table: Table, vocabulary: Vocabulary) -> frozenset[Sense]:
    language = vocabulary.language
    return (
        sense_of(table.section, language)
        | sense_of_text(table.corner.text, language)
        | sense_of_text(table.title.text, language)
        | (sense_of_text(table.lead.text, language) if table.lead else frozenset())
    )


def _is_window_table(table: Table, known: Cues, vocabulary: Vocabulary) -> bool:
    senses = _senses(table, vocabulary)
    if not senses & {Sense.OVERCOATING, Sense.TOPPED_BY}:
        return False
    corner = sense_of_text(table.corner.text, vocabulary.language)
    if Sense.GOES_OVER in corner and not corner & {Sense.OVERCOATING, Sense.TOPPED_BY}:
        return False
    return any(_time(cell.passage.folded) is not None for row in table.rows for cell in row.cells)


def _column(stack: tuple[Cell, ...], known: Cues) -> _Column:
    text = fold(" ".join(c.text for c in stack))
    temperature = next(
        (q.low if q.low is not None else q.high for q in find_quantities(text) if q.dimension is Dimension.TEMPERATURE),
        None,
    )
    least = known.window["least"].search(text)
    most = known.window["most"].search(text)
    role = "both" if least and most else "least" if least else "most" if most else ""
    if re.search(r"not after|no later|max\.?\b|latest", text):
        role = "both" if re.search(r"\bmin|earliest|not before", text) else "most"
    method = None
    if re.search(r"\bir\b|infra", text):
        method = Method.IR
    elif re.search(r"oven|force|bake|stov", text) or (temperature is not None and temperature >= 40):
        method = Method.FORCE
    elif re.search(r"wet[- ]on[- ]wet", text):
        method = Method.WET_ON_WET
    return _Column(role, temperature, method)


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


def _time(folded: str) -> Quantity | None:
    return next((q for q in find_quantities(folded) if q.dimension is Dimension.TIME), None)


def _row_role(row: Row, known: Cues) -> str:
    """'least' or 'most' for a row labelled 'Minimum', 'Latest': the table stands on its side."""
    label = row.label.passage.folded.strip()
    if len(label) > 45:
        return ""
    if re.match(r"(?:min\b|min\.|minimum|earliest|not before)", label):
        return "least"
    if re.match(r"(?:max\b|max\.|maximum|latest|not after)", label):
        return "most"
    return ""


def _objects(text: str, vocabulary: Vocabulary) -> list[tuple[str | None, str]]:
    objects = [(m.object, m.words) for m in vocabulary.mentions(text)]
    if not objects and re.search(r"\bitself\b|\bsame product\b", fold(text)):
        return [(SELF, text)]
    return [(o, w) for o, w in objects if not (o or "").startswith(("surface.", "finish.", "treatment."))]


def _note_texts(cell: Cell, row: Row, table: Table) -> list[str]:
    out = [n.folded for n in (*cell.notes, *row.notes, *row.label.notes)]
    sign = cell.text.strip()
    if sign in ("†", "‡", "*", "**", "§") or re.fullmatch(r"\(?\d\)?|[a-d]\)?", sign):
        out.extend(n.folded for n in (*table.notes, *table.legend) if n.text.strip().startswith(sign))
    return out


def _take(end: _End, role: str, cell: Cell, row: Row, table: Table, known: Cues, vocabulary: Vocabulary) -> None:
    folded = cell.passage.folded
    notes = _note_texts(cell, row, table)
    end.cells = [*(end.cells or []), cell.passage]
    if any(
        h.condition is Condition.ABRADED
        for text in (folded, *notes)
        for h in find_conditions(text, (), vocabulary.language)
    ):
        end.abraded = True
    q = _time(folded)
    if q is None:
        if known.window["unlimited"].search(folded) or (
            role != "least" and any(known.window["unlimited"].search(n) for n in notes)
        ):
            end.unlimited = True
        return
    if role == "least":
        end.low = q.high if q.high is not None and q.bound is not Bound.MOST else q.low
    elif role == "most":
        end.high = q.low if q.low is not None and q.bound is not Bound.LEAST else q.high
    elif q.bound is Bound.MOST:
        end.high = q.high
    elif q.low is not None and q.high is not None and q.high > q.low:
        if q.high >= 3 * q.low or role == "both":
            end.low, end.high = q.low, q.high
        else:
            end.low = q.high
    else:
        end.low = q.low
        rest = _time(folded[q.end :])
        if rest is not None and rest.low is not None:
            end.high = rest.high if rest.bound is Bound.MOST else rest.low
    if known.window["unlimited"].search(folded) and end.high is None and role != "least":
        end.unlimited = True


def _row(
    row: Row,
    table: Table,
    columns: Sequence[_Column],
    general: float | None,
    vocabulary: Vocabulary,
    known: Cues,
    scanned: bool,
) -> Iterator[Claim]:
    answers = [v.answer for c in row.cells if (v := read_verdict(c.text, (), vocabulary.language)) is not None]
    if any(a is Answer.NO for a in answers):
        return
    objects = _objects(row.label.text, vocabulary)
    if not objects:
        if not re.search(r"re-?coat|over-?coat|next|any|all\b", row.label.passage.folded):
            return
        objects = [(None, row.label.text)]
    ends: dict[tuple[float | None, Method | None], _End] = {}
    for cell, column in zip(row.cells, columns, strict=False):
        if not cell.text.strip() or (column.role == "" and read_verdict(cell.text) is not None):
            continue
        if _time(cell.passage.folded) is None and column.role == "":
            continue
        end = ends.setdefault((column.at_c, column.method), _End())
        _take(end, column.role, cell, row, table, known, vocabulary)
    yield from _claims(objects, ends, row.label.passage, general, table, scanned)


def _claims(
    objects: Sequence[tuple[str | None, str]],
    ends: dict[tuple[float | None, Method | None], _End],
    label: Passage,
    general: float | None,
    table: Table,
    scanned: bool,
) -> Iterator[Claim]:
    for (at_c, method), end in ends.items():
        if end.low is None and end.high is None and not end.unlimited:
            continue
        if end.low is not None and end.high is not None and end.low > end.high:
            continue
        for object_, words in dict(objects).items():
            yield Claim(
                topic=Topic.OVERCOAT_WINDOW,
                property="window",
                stance=Stance.STATES,
                evidence=evidence_of([p for p in (label, *(end.cells or ())) if p.text.strip()]),
                object=object_,
                conditions=(Condition.ABRADED,) if end.abraded else (),
                low=end.low,
                high=end.high,
                unit="min",
                unlimited=end.unlimited and end.high is None,
                at_c=at_c if at_c is not None else general,
                method=method,
                confidence=0.93,
                from_picture=scanned,
                why=Why("window table", (words,), f"{table.corner.text}: {label.text}"),
            )


def _transposed(
    table: Table,
    columns: Sequence[_Column],
    general: float | None,
    known: Cues,
    vocabulary: Vocabulary,
    scanned: bool,
) -> Iterator[Claim]:
    """Rows 'Minimum' and 'Maximum', columns by temperature or by next coat; a group line may name the next coat."""
    groups: dict[str, dict[int, _End]] = {}
    labels: dict[str, list[Passage]] = {}
    for row in table.rows:
        role = _row_role(row, known)
        if not role:
            continue
        group = row.group.text
        labels.setdefault(group, []).append(row.label.passage)
        for n, cell in enumerate(row.cells[: len(columns)]):
            if cell.text.strip():
                _take(groups.setdefault(group, {}).setdefault(n, _End()), role, cell, row, table, known, vocabulary)
    for group, ends in groups.items():
        for n, end in ends.items():
            heads = [c.passage for c in table.heads[n]] if n < len(table.heads) else []
            objects = (
                _objects(" ".join(h.text for h in heads), vocabulary) or _objects(group, vocabulary) or [(None, group)]
            )
            column = columns[n]
            yield from _claims(objects, {(column.at_c, column.method): end}, labels[group][0], general, table, scanned)


_RECOAT = re.compile(
    r"\b(?:re-?coat\w*|over-?coat\w*|over-?paint\w*|topcoat\w*|take (?:paint|a coat)|next coat|over-?spray\w*)\b"
)


def _recoat_rows(
    table: Table, near: Sequence[Statement], vocabulary: Vocabulary, known: Cues, scanned: bool
) -> Iterator[Claim]:
    """A row 'Recoat' in a table of drying stages: the earliest time, by column."""
    senses = _senses(table, vocabulary)
    if Sense.DRYING not in senses:
        return
    columns = [_column(stack, known) for stack in table.heads]
    general = _general_temperature(table, near)
    for row in table.rows:
        if not _RECOAT.search(row.label.passage.folded):
            continue
        role = _row_role(row, known) or (
            "most" if re.search(r"\b(?:max|latest|within)", row.label.passage.folded) else ""
        )
        objects = _objects(row.label.text, vocabulary) or [(None, row.label.text)]
        ends: dict[tuple[float | None, Method | None], _End] = {}
        for cell, column in zip(row.cells, columns, strict=False):
            if _time(cell.passage.folded) is not None:
                end = ends.setdefault((column.at_c, column.method), _End())
                _take(end, role or column.role, cell, row, table, known, vocabulary)
        yield from _claims(objects, ends, row.label.passage, general, table, scanned)
