"""Figures in tables: the property from the row's label or the column's head, the unit and temperature likewise."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from extract.claims import Method, Topic
from extract.document import EMPTY, Cell, Passage, Row, Table, fold
from extract.figures.bound import BoundFigure
from extract.figures.governing import governing, head_temperature, method_of, reading, settled_method
from extract.figures.head_units import degrees_filled, unit_in_head
from extract.figures.heading_rows import headed
from extract.figures.labels import FigureSpec, figure_specs, find_labels, stands
from extract.figures.merging import bound_word, merge_bounds, ranges_of
from extract.quantities import Quantity, find_quantities
from extract.sections import Sense, sense_of, sense_of_text
from extract.units import Dimension

_DEFAULT_UNITS = {Dimension.COUNT: "coat", Dimension.SECONDS: "s", Dimension.PERCENT: "%"}
_OTHER_TABLES = {
    Sense.TOPPED_BY, Sense.OVERCOATING, Sense.GOES_OVER, Sense.PREPARATION, Sense.PACKAGING, Sense.FAULTS,
    Sense.SYSTEMS, Sense.QUESTIONS, Sense.CLEANING, Sense.LEGAL,
}  # fmt: skip
_OUR_TABLES = {Sense.DRYING, Sense.MIXING, Sense.FILM, Sense.APPLICATION, Sense.STORAGE, Sense.ABOUT}
_ALL = frozenset(Dimension)
_MEASURES = re.compile(r"units?|u\.? ?m|uom|measures?|unit of meas\w*|dim(?:ension)?s?")
_NOTHING = re.compile(r"^\s*(?:n/?a\.?|-+|none|nil|not applicable|)\s*$")


@dataclass(frozen=True, slots=True)
class _Named:
    """A figure that a head names, with the words; weak where other words go before it."""

    spec: FigureSpec
    words: str
    weak: bool


@dataclass(frozen=True, slots=True)
class _Head:
    """What one head (a row's label or a column's stack) says."""

    passages: tuple[Passage, ...] = ()
    folded: str = ""
    named: tuple[_Named, ...] = ()
    unit: str | None = None
    at_c: float | None = None
    method: Method | None = None

    def fitting(self, dimension: Dimension) -> list[_Named]:
        return [n for n in self.named if n.spec.dimension is dimension]


@dataclass(frozen=True, slots=True)
class _Place:
    """A cell with everything that names and governs it."""

    table: Table
    row: Row
    cell: Cell
    label: _Head
    column: _Head
    corner: _Head
    context: str
    language: str
    outer_at: float | None
    group_method: Method | None
    title_unit: str | None = None


def figures_in_table(table: Table, language: str = "en", section_at_c: float | None = None) -> Iterator[BoundFigure]:
    """Every figure of a table that its row or column names; least and greatest in two rows or columns are one range."""
    if not _is_other_table(table, language):
        yield from ranges_of(_figures_in_table(table, language, section_at_c))


def _figures_in_table(table: Table, language: str, section_at_c: float | None) -> Iterator[BoundFigure]:
    table = degrees_filled(headed(table))
    context = " ".join(fold(h.text) for h in (*table.section.headings, table.title))
    outer_at = _outer_temperature(table, section_at_c)
    columns = [_head(tuple(c.passage for c in stack), language) for stack in table.heads]
    corner = _head((table.corner,) if table.corner.text else (), language)
    title_unit = unit_in_head(table.title.folded) or unit_in_head(table.section.title.folded)
    above = _Head()
    measures = next((i for i, c in enumerate(columns) if _MEASURES.fullmatch(c.folded.strip(" .:"))), None)
    for row in (*_head_row(table, corner, columns), *table.rows):
        if (heads := _later_heads(row, language)) is not None:
            columns, corner = heads, _head((row.label.passage,), language)
            continue
        label = _head((row.label.passage,), language)
        if measures is not None and measures < len(row.cells):
            unit = unit_in_head(row.cells[measures].passage.folded.strip())
            label = replace(label, unit=unit or label.unit)
        if not label.named and label.at_c is not None and above.named and above.at_c is not None:
            # 'Pot life at 20 °C' and under it only 'at 10 °C'.
            label = replace(label, named=above.named, passages=(*above.passages, *label.passages))
        else:
            above = label
        group_at = head_temperature(row.group.folded) if row.group.text else None
        at = group_at if group_at is not None else outer_at
        method = method_of(row.group.folded) if row.group.text else None
        if not label.named and _is_figure_column(corner, label):
            # No labels at all: the first column is a figure like the others.
            yield from _cell(
                _Place(table, row, row.label, _Head(), corner, _Head(), context, language, at, method, title_unit)
            )
            label = _Head()
        for i, cell in enumerate(row.cells):
            column = columns[i] if i < len(columns) else _Head()
            if i == measures or cell.passage is row.label.passage or _goes_on(row, columns, i):
                continue
            yield from _cell(_Place(table, row, cell, label, column, corner, context, language, at, method, title_unit))


def _head_row(table: Table, corner: _Head, columns: Sequence[_Head]) -> Iterator[Row]:
    """A first row that was taken for the head: its label in the corner, its figure above the others."""
    dimensions = {n.spec.dimension for n in corner.named if not n.weak and n.spec.topic is not None}
    figures = {q.dimension for c in columns for q in find_quantities(c.folded)} - {Dimension.TEMPERATURE}
    if dimensions & figures and not any(n for c in columns for n in c.named if not n.weak):
        yield Row(label=Cell(table.corner), cells=tuple(stack[-1] if stack else Cell(EMPTY) for stack in table.heads))


def _is_figure_column(corner: _Head, label: _Head) -> bool:
    """Whether the first column holds figures that its head names, and no labels."""
    found = {q.dimension for q in find_quantities(label.folded)}
    if re.fullmatch(r"\s*\d(?:\s?(?:-|to)\s?\d)?\s*", label.folded):
        found.add(Dimension.COUNT)
    return any(not n.weak and n.spec.dimension in found - {Dimension.TEMPERATURE} for n in corner.named)


def _goes_on(row: Row, columns: Sequence[_Head], i: int) -> bool:
    """A merged cell is one figure, unless temperatures or ways of drying tell its columns apart."""
    if not i or row.cells[i].passage is not row.cells[i - 1].passage or i >= len(columns):
        return False
    here, before = columns[i], columns[i - 1]
    return (here.at_c, here.method, here.named) == (before.at_c, before.method, before.named)


def _later_heads(row: Row, language: str) -> list[_Head] | None:
    """The heads in a row that starts a second table under the first ('Hardener | Temperature | Pot life, 20 °C')."""
    cells = [c.passage for c in row.cells]
    if not any(p.text.strip() for p in cells):
        return None
    if any(
        q.dimension is not Dimension.TEMPERATURE for p in (row.label.passage, *cells) for q in find_quantities(p.folded)
    ):
        return None
    heads = [_head((p,), language) for p in cells]
    label = _head((row.label.passage,), language)
    named = [h for h in heads if any(not n.weak and n.spec.topic is not None for n in h.named)]
    wordy = all(len(h.folded) > 2 and not _NOTHING.match(h.folded) for h in heads if h.folded)
    return heads if named and wordy and not label.named else None


def _is_other_table(table: Table, language: str) -> bool:
    climate = "temp" in table.corner.folded or head_temperature(table.corner.folded) is not None
    corner = sense_of_text(table.corner.text, language) if table.corner.text and not climate else frozenset()
    if {Sense.TOPPED_BY, Sense.GOES_OVER} & corner and not _OUR_TABLES & corner:
        return True
    senses = sense_of(table.section, language)
    return bool(senses & _OTHER_TABLES) and not senses & _OUR_TABLES


def _outer_temperature(table: Table, section_at_c: float | None) -> float | None:
    for passage in (table.corner, table.title, table.section.title):
        if passage.text:
            at = head_temperature(passage.folded)
            if at is not None:
                return at
    if table.lead is not None and not find_labels(table.lead.folded, frozenset({Dimension.TEMPERATURE})):
        at = head_temperature(table.lead.folded)
        if at is not None:
            return at
    return section_at_c


def _head(passages: Sequence[Passage], language: str) -> _Head:
    kept = tuple(p for p in passages if p.text.strip())
    folded = " ".join(p.folded for p in kept)
    if not kept:
        return _Head()
    named: dict[tuple[str, Dimension], _Named] = {}
    # The innermost head speaks first.
    for passage in reversed(kept):
        text = passage.folded
        for found in find_labels(text, _ALL, short=True, language=language):
            key = (found.spec.key(), found.spec.dimension)
            if stands(found.spec, text, found.start, found.end, folded) and (key not in named or named[key].weak):
                named[key] = _Named(found.spec, text[found.start : found.end], found.weak)
    return _Head(
        kept,
        folded,
        tuple(named.values()),
        None if bound_word(folded) else unit_in_head(folded),
        head_temperature(folded),
        method_of(folded),
    )


def _cell(place: _Place) -> Iterator[BoundFigure]:
    folded = place.cell.passage.folded
    if _NOTHING.match(folded):
        return
    quantities = merge_bounds(folded, _quantities(place, folded))
    held, used = governing(folded, quantities)
    for i, q in enumerate(quantities):
        if i in used:
            continue
        chosen = _choose(place, q, folded)
        if chosen is None or chosen[0].spec.topic is None:
            continue
        named, where = chosen
        around = f"{place.context} {place.label.folded} {place.column.folded}"
        if not stands(named.spec, folded, q.start, q.end, around):
            continue
        if (
            (named.weak or where in {"unit", "heading"})
            and named.spec.unless is not None
            and named.spec.unless.search(around)
        ):
            continue
        yield _figure(place, q, named.spec, named.words, where, held.get(i))
        twin = _twin(place, named.spec, where)
        if twin is not None:
            yield _figure(place, q, twin, named.words, where, held.get(i))


def _quantities(place: _Place, folded: str) -> Sequence[Quantity]:
    found = find_quantities(folded)
    if any(q.dimension is not Dimension.TEMPERATURE for q in found):
        return found
    for head in (place.column, place.label):
        if (paired := _paired(head.folded, folded)) is not None:
            return paired
    unit = place.column.unit or place.label.unit or place.corner.unit or place.title_unit
    if unit is None and not found:
        for head in (place.column, place.label, place.corner):
            strong = {n.spec for n in head.named if not n.weak and n.spec.topic is not None}
            unit = next((u for spec in strong if (u := _bare_unit(spec, folded)) is not None), None)
            if unit is not None:
                break
    return find_quantities(folded, unit) if unit else found


_TWO_UNITS = re.compile(r"(?P<first>[^\s/()]+)\s?/\s?(?P<second>[^\s/()]+)\)?$")


def _paired(head: str, folded: str) -> Sequence[Quantity] | None:
    """The two figures of a cell whose head has two units: 'Gun mm / bar' over '1,3 / 1,8 - 2,0'."""
    units = _TWO_UNITS.search(head.strip())
    cell = re.fullmatch(r"(?P<first>[^/]+?)\s?/\s?(?P<second>[^/]+)", folded)
    if units is None or cell is None:
        return None
    first, second = unit_in_head(f" {units.group('first')}"), unit_in_head(f" {units.group('second')}")
    if first is None or second is None or first == second:
        return None
    at = cell.start("second")
    moved = [
        replace(q, start=q.start + at, end=q.end + at, lead=q.lead + at)
        for q in find_quantities(cell.group("second"), second)
    ]
    return (*find_quantities(cell.group("first"), first), *moved)


def _bare_unit(spec: FigureSpec, folded: str) -> str | None:
    """The unit that a figure of this sort has where none is printed."""
    if spec.property == "nozzle":
        return "in" if re.search(r"(?:^|[^\d])0?[.,]0\d", folded) else "mm"
    if spec.dimension is Dimension.PERCENT:
        # A lone number beside parts is a part; '5-10' under 'thinner' can only be a percentage.
        return "%" if re.fullmatch(r"\s*(?:max\.?|up to)?\s*\d{1,3}\s*(?:-|to)\s*\d{1,3}\s*", folded) else None
    if spec.dimension is Dimension.COUNT:
        return "coat" if len(folded) < 30 else None
    return _DEFAULT_UNITS.get(spec.dimension)


def _choose(place: _Place, q: Quantity, folded: str) -> tuple[_Named, str] | None:
    """The figure that a quantity is: by the row, the column, the cell's own words, the corner or the heading.

    Words that also mean something else (a gun's name, 'dry') count only where no other words do.
    """
    own = find_labels(folded, frozenset({q.dimension}), language=place.language)
    inner: list[_Named] = []
    if own:
        best = min(own, key=lambda lb: (lb.weak, max(lb.start - q.end, q.start - lb.end, 0)))
        inner = [_Named(best.spec, folded[best.start : best.end], best.weak)]
    sources = (
        ("row", place.label.fitting(q.dimension)),
        ("column", place.column.fitting(q.dimension)),
        ("cell", inner),
        ("corner", place.corner.fitting(q.dimension)),
    )
    # What the row or the column is of says more than the corner.
    elsewhere = any(n.spec.topic is None and not n.weak for _, found in sources[:2] for n in found)
    decoyed = next((n for _, found in sources for n in found if n.spec.topic is None and not n.weak), None)
    for weak in (False, True):
        for where, found in sources[:3] if elsewhere else sources:
            fitting = [n for n in found if n.weak is weak and n.spec.topic is not None and _may_name(n, where, place)]
            if fitting:
                return max(fitting, key=lambda n: len(n.words)), where
        if decoyed is not None:
            return None
    return _by_heading(place, q) or _by_unit(q, place.language)


def _may_name(named: _Named, where: str, place: _Place) -> bool:
    if named.spec.property not in {"air_temp", "surface_temp"}:
        return True
    if where == "column" and _VARIANT_LABEL.search(f"{place.label.folded} {place.corner.folded}"):
        return False  # 'Hardener | Temperature': which hardener to choose in which weather
    head = {"row": place.label, "column": place.column, "corner": place.corner}.get(where)
    return head is None or head.method is None or "temp" in head.folded or "ambient" in head.folded


def _by_heading(place: _Place, q: Quantity) -> tuple[_Named, str] | None:
    title = place.table.title if place.table.title.text else place.table.section.title
    found = [lb for lb in find_labels(title.folded, frozenset({q.dimension}), short=True, language=place.language)
             if lb.spec.topic is not None]  # fmt: skip
    if len({lb.spec.key() for lb in found}) != 1 or found[0].end - found[0].start < 0.5 * len(title.text.strip()):
        return None
    return _Named(found[0].spec, title.folded[found[0].start : found[0].end], found[0].weak), "heading"


def _by_unit(q: Quantity, language: str) -> tuple[_Named, str] | None:
    wanted = {Dimension.PRESSURE: (Topic.APPLICATION, "pressure"), Dimension.COVERAGE: (Topic.FILM, "coverage")}.get(
        q.dimension
    )
    if wanted is None:
        return None
    spec = next((s for s in figure_specs(language) if (s.topic, s.property) == wanted), None)
    return (_Named(spec, "", True), "unit") if spec is not None else None


def _twin(place: _Place, spec: FigureSpec, where: str) -> FigureSpec | None:
    """The other of air and surface where one head names both ('Temperature, air and panel')."""
    if spec.property not in {"air_temp", "surface_temp"} or where not in {"row", "column"}:
        return None
    head = place.label if where == "row" else place.column
    other = "surface_temp" if spec.property == "air_temp" else "air_temp"
    return next((n.spec for n in head.named if n.spec.property == other and not n.weak), None)


def _figure(place: _Place, q: Quantity, spec: FigureSpec, words: str, where: str, at: Quantity | None) -> BoundFigure:
    column = place.column
    at_c = reading(at) if at is not None else None
    for candidate in (column.at_c, place.label.at_c, place.outer_at):
        if at_c is None:
            at_c = candidate
    methods = (method_of(place.cell.passage.folded), column.method, place.label.method, place.group_method)
    named = next((m for m in methods if m is not None), None)
    if (
        named is not None
        and named is not Method.AIR
        and at is None
        and column.at_c is None
        and place.label.at_c is None
    ):
        at_c = None  # the heading's temperature is the shop's, not the oven's or the lamp's
    drying = spec.topic is Topic.DRYING or spec.property == "flash_off"
    printed = [*place.label.passages, place.cell.passage]
    if where == "column" or column.at_c is not None or column.method is not None:
        printed += [p for p in column.passages if p.text.strip()]
    return BoundFigure(
        spec=spec,
        quantity=q,
        words=tuple(printed),
        at_c=at_c,
        method=settled_method(named, at_c) if drying else None,
        text=_variant(place, where),
        confidence=_CONFIDENCE.get(where, 0.8),
        cell=f"{place.label.folded} / {column.folded}".strip(" /"),
        label=words,
        heads=tuple(p.text for p in (*place.label.passages, *column.passages)),
        about=f"{place.corner.folded} | {place.table.title.folded} | {place.table.section.title.folded}",
        clause=f"{place.label.folded} {place.cell.passage.folded} {column.folded}",
    )


_VARIANT_LABEL = re.compile(
    r"\b(?:hardener|activator|catalyst|thinner|reducer|diluent|rapid|fast|slow|standard|normal|quick)\b"
)
_NO_VARIANT = {
    "value", "values", "data", "figure", "figures", "result", "results", "unit", "units", "typical value", "remarks",
    "nominal", "time", "times", "details", "specification", "information", "property",
}  # fmt: skip
_CONFIDENCE = {"row": 0.95, "column": 0.94, "cell": 0.85, "corner": 0.85}


def _variant(place: _Place, where: str) -> str | None:
    """The words that tell this figure from its neighbours: the other head, without temperature and way of drying."""
    other = place.column if where in {"row", "cell"} else place.label
    texts = [p.text.strip() for p in other.passages]
    kept = [t for t in texts if t and head_temperature(fold(t)) is None and method_of(fold(t)) is None]
    text = " ".join(kept).strip()
    if not text or len(text) > 60 or _NOTHING.match(fold(text)) or fold(text).strip(" .:") in _NO_VARIANT:
        return None
    return text
