"""Figures in tables: the property from the row's label or the column's head, the unit and temperature likewise."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from extract.claims import Method, Topic
from extract.document import Cell, Passage, Row, Table, fold
from extract.figures.bound import BoundFigure
from extract.figures.governing import governing, head_temperature, method_of, reading, settled_method
from extract.figures.labels import FigureSpec, find_labels, stands
from extract.figures.merging import merge_bounds
from extract.quantities import Quantity, find_quantities
from extract.sections import Sense, sense_of, sense_of_text
from extract.units import Dimension, unit_pattern

_UNIT_IN_HEAD = re.compile(rf"(?:^|[\s(\[,/])(?:in\s+)?(?P<unit>{unit_pattern()[0]})\s*[)\]]?\.?(?=$|[\s,;)])")
_HEAD_UNITS = {
    "min", "h", "d", "week", "month", "year", "s", "um", "mil", "mm", "in", "bar", "psi", "mpa", "%", "degC", "degF",
    "m2/l", "ft2/us_gal",
}  # fmt: skip
_DEFAULT_UNITS = {Dimension.COUNT: "coat", Dimension.SECONDS: "s", Dimension.PERCENT: "%"}
_OTHER_TABLES = {
    Sense.TOPPED_BY, Sense.OVERCOATING, Sense.GOES_OVER, Sense.PREPARATION, Sense.PACKAGING, Sense.FAULTS,
    Sense.SYSTEMS, Sense.QUESTIONS, Sense.CLEANING, Sense.LEGAL,
}  # fmt: skip
_OUR_TABLES = {Sense.DRYING, Sense.MIXING, Sense.FILM, Sense.APPLICATION, Sense.STORAGE, Sense.ABOUT}
_ALL = frozenset(Dimension)
_NOTHING = re.compile(r"^\s*(?:n/?a\.?|-+|none|nil|not applicable|)\s*$")


@dataclass(frozen=True, slots=True)
class _Head:
    """What one head (a row's label or a column's stack) says."""

    passages: tuple[Passage, ...]
    folded: str
    specs: tuple[tuple[FigureSpec, str], ...]
    """Figures named in it, with the words."""
    unit: str | None
    at_c: float | None
    method: Method | None


def figures_in_table(table: Table, language: str = "en", section_at_c: float | None = None) -> Iterator[BoundFigure]:
    """Every figure of a table that its row or column names."""
    if _is_other_table(table, language):
        return
    context = " ".join(fold(h.text) for h in (*table.section.headings, table.title))
    outer_at = _outer_temperature(table, section_at_c)
    columns = [_head(tuple(c.passage for c in stack), language) for stack in table.heads]
    corner = _head((table.corner,) if table.corner.text else (), language)
    for row in table.rows:
        label = _head((row.label.passage,), language)
        group_at = head_temperature(row.group.folded) if row.group.text else None
        group_method = method_of(row.group.folded) if row.group.text else None
        for i, cell in enumerate(row.cells):
            column = columns[i] if i < len(columns) else _head((), language)
            if i and cell.passage is row.cells[i - 1].passage and column.specs == columns[i - 1].specs:
                continue  # a merged cell is one figure, unless temperatures tell its columns apart
            yield from _cell(
                _Place(table, row, cell, label, column, corner, context, language),
                group_at if group_at is not None else outer_at,
                group_method,
            )


@dataclass(frozen=True, slots=True)
class _Place:
    table: Table
    row: Row
    cell: Cell
    label: _Head
    column: _Head
    corner: _Head
    context: str
    language: str


def _is_other_table(table: Table, language: str) -> bool:
    corner = sense_of_text(table.corner.text, language) if table.corner.text else frozenset()
    if {Sense.TOPPED_BY, Sense.GOES_OVER} & corner and not _OUR_TABLES & corner:
        return True
    senses = sense_of(table.section, language)
    return bool(senses & _OTHER_TABLES) and not senses & _OUR_TABLES


def _outer_temperature(table: Table, section_at_c: float | None) -> float | None:
    for passage in (table.corner, table.title, table.lead, table.section.title):
        if passage is not None and passage.text:
            at = head_temperature(passage.folded)
            if at is not None:
                return at
    return section_at_c


def _head(passages: Sequence[Passage], language: str) -> _Head:
    kept = tuple(p for p in passages if p.text.strip())
    folded = " ".join(p.folded for p in kept)
    specs: dict[str, tuple[FigureSpec, str]] = {}
    # The innermost head speaks first: 'Air drying' over '20 °C' over 'Dust-free'.
    for passage in reversed(kept):
        text = passage.folded
        for found in find_labels(text, _ALL, short=True, language=language):
            if stands(found.spec, text, found.start, found.end, folded):
                specs.setdefault(found.spec.key() + found.spec.dimension, (found.spec, text[found.start : found.end]))
    return _Head(kept, folded, tuple(specs.values()), _unit(folded), head_temperature(folded), method_of(folded))


def _unit(folded: str) -> str | None:
    """The unit printed in a head with no number before it ('Nozzle mm', 'Time (h)')."""
    for m in _UNIT_IN_HEAD.finditer(folded):
        if re.search(r"\d\s*$", folded[: m.start("unit")]):
            continue
        groups = unit_pattern()[1]
        unit = next((groups[name] for name, value in m.groupdict().items() if name in groups and value), None)
        if unit in _HEAD_UNITS and (len(m.group("unit")) > 1 or m.group().strip() != m.group("unit")):
            return unit
    return None


def _cell(place: _Place, outer_at: float | None, group_method: Method | None) -> Iterator[BoundFigure]:
    folded = place.cell.passage.folded
    if _NOTHING.match(folded):
        return
    quantities = merge_bounds(folded, _quantities(place, folded))
    held, used = governing(folded, quantities)
    inner = find_labels(folded, frozenset(q.dimension for q in quantities), language=place.language)
    for i, q in enumerate(quantities):
        if i in used:
            continue
        chosen = _spec_for(place, q, folded, inner)
        if chosen is None or chosen[0].topic is None:
            continue
        spec, words, where = chosen
        if not stands(
            spec, folded, q.start, q.end, place.context + " " + place.label.folded + " " + place.column.folded
        ):
            continue
        if spec.property in {"pressure", "nozzle"} and len(quantities) > 1 and q.dimension is not spec.dimension:
            continue
        yield _figure(place, q, spec, words, where, held.get(i), outer_at, group_method)


def _quantities(place: _Place, folded: str) -> Sequence[Quantity]:
    found = find_quantities(folded)
    if any(q.dimension is not Dimension.TEMPERATURE for q in found):
        return found
    unit = place.column.unit or place.label.unit or place.corner.unit
    if unit is None:
        dimensions = {
            spec.dimension for head in (place.label, place.column) for spec, _ in head.specs if spec.topic is not None
        }
        candidates = [_DEFAULT_UNITS[d] for d in _DEFAULT_UNITS if d in dimensions]
        if Dimension.LENGTH in dimensions and any(
            s.property == "nozzle" for h in (place.label, place.column) for s, _ in h.specs
        ):
            candidates.append("in" if re.search(r"(?:^|[^\d])0?[.,]0\d", folded) else "mm")
        unit = candidates[0] if len(candidates) == 1 and not found else None
    return find_quantities(folded, unit) if unit else found


def _spec_for(place: _Place, q: Quantity, folded: str, inner: Sequence[object]) -> tuple[FigureSpec, str, str] | None:
    """The figure that a quantity is: named in the cell itself, by the row, by the column, by corner or heading."""
    near = [lb for lb in find_labels(folded, frozenset({q.dimension}), language=place.language)
            if lb.spec.dimension is q.dimension]  # fmt: skip
    if near:
        best = min(near, key=lambda lb: max(lb.start - q.end, q.start - lb.end, 0))
        own = {spec.key() for spec, _ in (*place.label.specs, *place.column.specs)}
        if best.spec.key() not in own and best.spec.topic is None:
            return best.spec, folded[best.start : best.end], "cell"
        if not own or (best.spec.key() not in own and best.spec.topic is not None
                       and not any(s.dimension is q.dimension for s, _ in (*place.label.specs, *place.column.specs))):  # fmt: skip
            return best.spec, folded[best.start : best.end], "cell"
    for where, head in (("row", place.label), ("column", place.column), ("corner", place.corner)):
        fitting = [(s, w) for s, w in head.specs if s.dimension is q.dimension]
        if fitting:
            spec, words = max(fitting, key=lambda pair: len(pair[1]))
            if spec.topic is None and where == "row":
                other = [(s, w) for s, w in place.column.specs if s.dimension is q.dimension and s.topic is not None]
                if other:
                    spec, words = max(other, key=lambda pair: len(pair[1]))
                    where = "column"
            return spec, words, where
    title = place.table.title if place.table.title.text else place.table.section.title
    named = [lb for lb in find_labels(title.folded, frozenset({q.dimension}), short=True, language=place.language)
             if lb.spec.topic is not None]  # fmt: skip
    if len({lb.spec.key() for lb in named}) == 1 and named[0].end - named[0].start >= 0.5 * len(title.text.strip()):
        return named[0].spec, title.folded[named[0].start : named[0].end], "heading"
    if q.dimension is Dimension.PRESSURE:
        return _self_evident(Topic.APPLICATION, "pressure", place.language)
    if q.dimension is Dimension.COVERAGE:
        return _self_evident(Topic.FILM, "coverage", place.language)
    return None


def _self_evident(topic: Topic, name: str, language: str) -> tuple[FigureSpec, str, str] | None:
    from extract.figures.sentences import spec_of

    return spec_of(topic, name, language), "", "unit"


def _figure(
    place: _Place,
    q: Quantity,
    spec: FigureSpec,
    words: str,
    where: str,
    at: Quantity | None,
    outer_at: float | None,
    group_method: Method | None,
) -> BoundFigure:
    at_c = reading(at) if at is not None else None
    for candidate in (place.column.at_c, place.label.at_c, outer_at):
        if at_c is None:
            at_c = candidate
    named = next((m for m in (method_of(place.cell.passage.folded), place.column.method, place.label.method,
                              group_method) if m), None)  # fmt: skip
    if named is Method.IR and place.column.at_c is None and place.label.at_c is None and at is None:
        at_c = None  # the section's temperature is the shop's, not the lamp's
    drying = spec.topic is Topic.DRYING or spec.property == "flash_off"
    heads = tuple(p for p in place.column.passages if p.text.strip())
    label = place.label.passages
    if place.column.passages and (where == "column" or place.column.at_c is not None or place.column.method):
        printed = (*label, place.cell.passage, *heads)
    else:
        printed = (*label, place.cell.passage)
    return BoundFigure(
        spec=spec,
        quantity=q,
        words=printed,
        at_c=at_c,
        method=settled_method(named, at_c) if drying else None,
        text=_variant(place, where),
        confidence={"row": 0.95, "column": 0.94, "cell": 0.85}.get(where, 0.8),
        cell=f"{place.label.folded} / {place.column.folded}".strip(" /"),
        label=words,
        clause=f"{place.label.folded} {folded_or_empty(place.cell)} {place.column.folded}",
    )


def folded_or_empty(cell: Cell) -> str:
    return cell.passage.folded


_TEMPERATURE_WORDS = re.compile(
    r"(?:at|@)?\s*[-+]?\d+(?:[.,]\d+)?\s*°?\s*(?:c|f|deg\w*)?(?:\s*/\s*\d+\s*°?\s*[cf])?(?![a-z\d])"
)


def _variant(place: _Place, where: str) -> str | None:
    """The words that tell this figure from its neighbours: the other head, without temperature."""
    other = place.column if where in {"row", "cell"} else place.label
    texts = [p.text.strip() for p in other.passages]
    kept = [t for t in texts if t and head_temperature(fold(t)) is None and method_of(fold(t)) is None]
    text = " ".join(kept).strip()
    if not text or len(text) > 60 or _NOTHING.match(fold(text)):
        return None
    return text
