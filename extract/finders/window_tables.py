"""overcoat_window out of tables: next coats by rows, temperatures and earliest/latest by columns, or the reverse."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import NamedTuple

from extract.claims import SELF, Claim, Condition, Method, Stance, Topic, Why
from extract.clauses.cues import Cues, cues
from extract.clauses.reader import SentenceReader
from extract.clauses.verdicts import Answer, read_verdict
from extract.document import Cell, Passage, Row, Statement, Table, evidence_of, fold
from extract.figures.head_units import degrees_filled, times_filled
from extract.finders.table_signs import OTHER_PRODUCTS, usual_signs
from extract.finders.window_cells import Ends, read_cell, time_of, turn_past
from extract.finders.window_coats import keeps_closed
from extract.quantities import find_quantities
from extract.sections import Sense, sense_of, sense_of_text
from extract.terms import Vocabulary
from extract.units import Dimension


@dataclass(frozen=True, slots=True)
class _Column:
    role: str
    """'least', 'most', 'both' or ''."""
    at_c: float | None
    method: Method | None


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
    table = times_filled(degrees_filled(table))
    senses = _senses(table, vocabulary)
    if OTHER_PRODUCTS.search(fold(" ".join(p.text for p in (table.section.title, table.title, table.corner)))):
        return
    whole = _is_window_table(table, known, vocabulary)
    if not whole and senses & _ELSEWHERE and Sense.DRYING not in senses:
        return
    signs = usual_signs(table, vocabulary.language)
    around = _Side.of(" ".join(p.text for p in _around(table)), (), known, vocabulary)
    columns = [_Side.of(" ".join(c.text for c in stack), stack, known, vocabulary) for stack in table.heads]
    general = _general_temperature(table, near)
    found: dict[_Key, Ends] = {}
    words: dict[str | None, str] = {}
    beside = any(c.recoat and not c.objects for c in columns)
    plain = columns
    for row in table.rows:
        if _RECOAT.search(row.label.passage.folded) and _are_heads(row, known):
            # 'Recoating time | Minimum | Maximum' in the midst of a table, over rows of temperatures.
            columns = [_Side.of(f"{row.label.text} {c.text}", (c,), known, vocabulary) for c in row.cells]
            continue
        if columns is not plain and _column(row.label.passage.folded, known).at_c is None:
            columns = plain
        text = f"{row.group.text} {row.label.text}" if row.group.text else row.label.text
        side = _Side.of(text, (row.label,), known, vocabulary)
        if whole and side.objects and _refused(row, vocabulary, signs):
            continue
        for cell, column in zip(row.cells, columns or [_Side()] * len(row.cells), strict=False):
            if not _speaks_of_windows(side, column, whole, senses, cell, beside=beside):
                continue
            named = column.objects if whole or not side.recoat else ()
            if named is not column.objects and any(o != SELF for o, _ in column.objects):
                continue  # the column is another product's
            objects = side.objects or named or (around.objects if side.told or column.told else ())
            if not objects and not (side.told or column.told):
                continue
            if keeps_closed(cell.passage.folded, known):
                continue
            variant = _variant(row, table)
            if not side.objects and not column.objects and not side.told and side.words and variant is None:
                continue
            role = side.role or column.role or around.role
            if not cell.text.strip() or (not role and time_of(cell.passage.folded) is None):
                continue
            if not role and side.at_c is None and column.at_c is None and not side.recoat and _mark_only(cell):
                continue
            at_c = side.at_c if side.at_c is not None else column.at_c
            method = column.method or side.method
            worked = column.worked and whole
            for object_, said in dict(objects or ((None, row.label.text),)).items():
                words.setdefault(object_, said)
                for n, part in enumerate(read_cell(role, cell, row, table, known, vocabulary)):
                    end = found.setdefault(_Key(object_, at_c, method, worked, variant, n), Ends())
                    end.take(part, row.label.passage, cell.passage)
                    end.abraded = end.abraded or worked
            if role != "least" and _says(cell, row):
                yield from _abraded_past(cell, row, objects, scanned)
    if general is None:
        _spread(found)
    yield from _claims(found, words, general, table, scanned)


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
_STAGE = re.compile(
    r"\b(?:dust|touch|tack|handl\w+|hard(?:\b|-)|hardness|cur(?:e|ed|ing)|through|sandable|flash|pot[- ]?life|"
    r"assembly|polish\w*|water|rain|service|usable|dry|dries|drying|walk\w*|mask\w*|complete|traffic|load)\b"
)


@dataclass(frozen=True, slots=True)
class _Side:
    """What a head or a label says of the times beside it."""

    role: str = ""
    at_c: float | None = None
    method: Method | None = None
    objects: tuple[tuple[str | None, str], ...] = ()
    recoat: bool = False
    stage: bool = False
    words: bool = False
    """True where it is made of words."""
    worked: bool = False
    """'After sanding P500': the coat may follow so for the times beneath."""
    closed: bool = False
    """'Do not overcoat', 'lifts': the times beneath are those in which the film is left alone."""

    @property
    def told(self) -> bool:
        return self.recoat or bool(self.role) or self.at_c is not None

    @staticmethod
    def of(text: str, cells: Sequence[Cell], known: Cues, vocabulary: Vocabulary) -> _Side:
        folded = fold(text)
        if not folded.strip():
            return _Side()
        column = _column(folded, known)
        recoat = _RECOAT.search(folded) is not None and _FLASH.match(folded) is None
        # Of heads above one another the nearest to the times says which end they are.
        nearest = (r for c in reversed(cells) if (r := _column(c.passage.folded, known).role))
        role = next(nearest, column.role) if len(cells) > 1 else column.role
        if not recoat and len(folded) > 45 and not cells:
            role = ""
        stage = not recoat and _STAGE.search(folded) is not None
        worked = (
            re.match(r"\W*(?:(?:after|with|once|when) (?:\w+ )?)?(?:sand|abrad|flatt|scuff|matt)", folded) is not None
        )
        objects = tuple(_objects(text, vocabulary))
        if objects and cells and _AN_END.search(folded):
            recoat = True
        if re.search(r"\b(?:any|all) (?:\w+ )?(?:coat|product|next)", folded) and not objects:
            recoat = True
        return _Side(
            role,
            column.at_c,
            column.method,
            objects,
            recoat,
            stage,
            re.search(r"[a-z]{3}", folded) is not None,
            worked,
            keeps_closed(folded, known),
        )


def _around(table: Table) -> Iterator[Passage]:
    yield table.corner
    yield table.title
    if table.lead is not None:
        yield table.lead
    yield table.section.title


def _refused(row: Row, vocabulary: Vocabulary, signs: Sequence[tuple[str, Answer]]) -> bool:
    verdicts = [(c, read_verdict(c.text, signs, vocabulary.language)) for c in row.cells]
    told = [c for c, v in verdicts if v is not None]
    return any(v is not None and v.answer is Answer.NO for _, v in verdicts) and not any(
        time_of(c.passage.folded) for c in told
    )


def _mark_only(cell: Cell) -> bool:
    verdict = read_verdict(cell.text)
    return verdict is not None and time_of(cell.passage.folded) is None


def _speaks_of_windows(
    side: _Side, column: _Side, whole: bool, senses: frozenset[Sense], cell: Cell, *, beside: bool
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
    told = all(_column(t, known).role in ("least", "most") for t in texts)
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


def _column(text: str, known: Cues) -> _Column:
    temperature = next(
        (q.low if q.low is not None else q.high for q in find_quantities(text) if q.dimension is Dimension.TEMPERATURE),
        None,
    )
    least = known.window["least"].search(text)
    most = known.window["most"].search(text)
    role = "both" if least and most else "least" if least else "most" if most else ""
    if re.search(r"not after|no later|max\.?\b|latest", text):
        role = "both" if re.search(r"\bmin|earliest|not before", text) else "most"
    if re.search(r"(?:coat\w*|paint\w*|^) ?before\W*$", text):
        role = "most"
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


def _objects(text: str, vocabulary: Vocabulary) -> list[tuple[str | None, str]]:
    objects = [(m.object, m.words) for m in vocabulary.mentions(text)]
    if not objects and re.search(r"\bitself\b|\bself\b(?![- ])|\bsame (?:product|material|paint)\b", fold(text)):
        return [(SELF, text)]
    return [(o, w) for o, w in objects if not (o or "").startswith(("surface.", "finish.", "treatment."))]


def _says(cell: Cell, row: Row) -> bool:
    return time_of(cell.passage.folded) is not None and bool(row.label.text.strip())


def _abraded_past(cell: Cell, row: Row, objects: Sequence[tuple[str | None, str]], scanned: bool) -> Iterator[Claim]:
    folded = cell.passage.folded
    late = turn_past(folded)
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


_VARIES = re.compile(r"\b(?:hardeners?|activators?|catalysts?|reducers?|thinners?)\b")
_PACE = re.compile(r"(?:extra |very |ultra )?(?:fast|slow|rapid|quick|standard|normal|medium|long|express)\b.{0,24}")


def _variant(row: Row, table: Table) -> str | None:
    """The hardener or thinner that a row is about, where the table has a row for each."""
    label = row.label.passage.folded.strip()
    if label and (_VARIES.search(table.corner.folded) or _VARIES.search(label) or _PACE.fullmatch(label)):
        return row.label.text.strip()
    return None


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


_AN_END = re.compile(r"\b(?:latest|earliest|not before|not after|no later|soonest|max\w*\.? (?:time|interval|wait))\b")
"""'Clear at latest': a coat's own row in a table on other things."""
_FLASH = re.compile(r"\W*(?:flash\w*|evaporation|air(?:ing)? off|ventilation)\b[^/;]*\b(?:between|before)\b")
"""'Flash between coats': the wait within one application, which lets nothing else follow."""
_RECOAT = re.compile(
    r"\b(?:re[- ]?coat\w*|over[- ]?coat\w*|over[- ]?paint\w*|re[- ]?paint\w*|top[- ]?coat(?:ing|able)|take (?:paint|a coat)|next coat|"
    r"over-?spray\w*|over-?work\w*|coat to follow|following coat|subsequent coat|between coats|intercoat|second coat|"
    r"further coats?|to paint over|paint over|interval|time to next)\b"
)
