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
from extract.finders.table_signs import OTHER_PRODUCTS, usual_signs
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
    label: Passage | None = None
    cells: list[Passage] | None = None


def claims(
    table: Table, near: Sequence[Statement], vocabulary: Vocabulary, reader: SentenceReader, scanned: bool
) -> Iterator[Claim]:
    """The windows of a table; near are the statements that follow it.

    Every cell with a time is read by what stands over it, before it and around it, so that a table may stand on
    any side: next coats, temperatures, earliest and latest each by rows, by columns or in the heading.
    """
    known = cues(vocabulary.language)
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
    found: dict[tuple[str | None, float | None, Method | None, bool], _End] = {}
    words: dict[str | None, str] = {}
    for row in table.rows:
        text = f"{row.group.text} {row.label.text}" if row.group.text else row.label.text
        side = _Side.of(text, (row.label,), known, vocabulary)
        if whole and side.objects and _refused(row, vocabulary, signs):
            continue
        for cell, column in zip(row.cells, columns or [_Side()] * len(row.cells), strict=False):
            if not _speaks_of_windows(side, column, whole, senses, cell):
                continue
            objects = side.objects or column.objects or (around.objects if side.told or column.told else ())
            if not objects and not (side.told or column.told):
                continue
            if not side.objects and not column.objects and not side.told and side.words:
                continue
            role = side.role or column.role or around.role
            if not cell.text.strip() or (not role and _time(cell.passage.folded) is None):
                continue
            if not role and side.at_c is None and column.at_c is None and not side.recoat and _mark_only(cell):
                continue
            at_c = side.at_c if side.at_c is not None else column.at_c
            method = column.method or side.method
            worked = column.worked and whole
            for object_, said in dict(objects or ((None, row.label.text),)).items():
                end = found.setdefault((object_, at_c, method, worked), _End())
                words.setdefault(object_, said)
                end.label = end.label or row.label.passage
                _take(end, role, cell, row, table, known, vocabulary)
                end.abraded = end.abraded or worked
    yield from _claims(found, words, general, table, scanned)


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

    @property
    def told(self) -> bool:
        return self.recoat or bool(self.role) or self.at_c is not None

    @staticmethod
    def of(text: str, cells: Sequence[Cell], known: Cues, vocabulary: Vocabulary) -> _Side:
        folded = fold(text)
        if not folded.strip():
            return _Side()
        column = _column(folded, known)
        recoat = _RECOAT.search(folded) is not None
        role = column.role
        if not recoat and len(folded) > 45 and not cells:
            role = ""
        stage = not recoat and _STAGE.search(folded) is not None
        worked = (
            re.match(r"\W*(?:(?:after|with|once|when) (?:\w+ )?)?(?:sand|abrad|flatt|scuff|matt)", folded) is not None
        )
        objects = tuple(_objects(text, vocabulary))
        if re.search(r"\b(?:any|all) (?:\w+ )?(?:coat|product|next)", folded) and not objects:
            recoat = True
        return _Side(
            role, column.at_c, column.method, objects, recoat, stage, re.search(r"[a-z]{3}", folded) is not None, worked
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
        _time(c.passage.folded) for c in told
    )


def _mark_only(cell: Cell) -> bool:
    verdict = read_verdict(cell.text)
    return verdict is not None and _time(cell.passage.folded) is None


def _speaks_of_windows(side: _Side, column: _Side, whole: bool, senses: frozenset[Sense], cell: Cell) -> bool:
    """Whether a cell's time is one to the next coat: the table is on it, or its row or column is."""
    if side.recoat or (column.recoat and not side.stage):
        # In a table on other things a recoat column belongs to what the row names: to temperatures, not to products.
        return whole or side.recoat or not side.objects or all(o == SELF for o, _ in side.objects)
    return whole and not side.stage and not column.stage


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


def _claims(
    found: dict[tuple[str | None, float | None, Method | None, bool], _End],
    words: dict[str | None, str],
    general: float | None,
    table: Table,
    scanned: bool,
) -> Iterator[Claim]:
    for (object_, at_c, method, _), end in found.items():
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
            confidence=0.93,
            from_picture=scanned,
            why=Why("window table", (words[object_],), f"{table.corner.text}: {label.text if label else ''}"),
        )


_RECOAT = re.compile(
    r"\b(?:re-?coat\w*|over-?coat\w*|over-?paint\w*|re-?paint\w*|topcoat(?:ing|able)|take (?:paint|a coat)|next coat|"
    r"over-?spray\w*|over-?work\w*|coat to follow|following coat|subsequent coat|between coats|intercoat|second coat|"
    r"further coats?|to paint over|paint over|interval|time to next)\b"
)
