"""Units that a table prints once, in a head, for the bare numbers beside or beneath it."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import replace
from functools import lru_cache

from extract.document import Cell, Passage, Row, Table
from extract.units import Dimension, unit_pattern, units

_UNIT_IN_HEAD = re.compile(rf"(?:^|[\s(\[,/])(?:in\s+)?(?P<unit>{unit_pattern()[0]})\s*[)\]]?\.?(?=$|[\s,;)])")
_HEAD_UNITS = {
    "min", "h", "d", "week", "month", "year", "s", "um", "mil", "mm", "in", "bar", "psi", "mpa", "%", "degC", "degF",
    "m2/l", "ft2/us_gal",
}  # fmt: skip


_PLAIN_WORDS = {"in", "of", "o f", "oc", "o c", "degrees", "hands"}
"""Spellings of units that are other words where no number stands before them."""


@lru_cache(maxsize=4096)
def unit_in_head(folded: str) -> str | None:
    """The unit printed in a head with no number before it ('Nozzle mm', 'Time (h)')."""
    for m in _UNIT_IN_HEAD.finditer(folded):
        if re.search(r"\d\s*$", folded[: m.start("unit")]) or m.group("unit") in _PLAIN_WORDS:
            continue
        groups = unit_pattern()[1]
        unit = next((groups[name] for name, value in m.groupdict().items() if name in groups and value), None)
        alone = len(m.group("unit")) == 1 and m.group().strip() == m.group("unit") != "%"
        if unit in _HEAD_UNITS and (not alone or folded[: m.start()].rstrip().endswith(",")):
            return unit
    return None


_NUMBER = r"[+-]?\d+(?:[.,]\d+)?"
_BARE = re.compile(rf"\s*(?:[<>≤≥~]|max\.?|min\.?|up to)?\s*{_NUMBER}(?:\s*(?:-|to)\s*{_NUMBER})?\s*[*†‡]?\s*")
_SET_OFF = re.compile(rf"(?:[(\[]\s*(?:in )?|,\s*(?:in )?|/\s*|\bin )(?P<unit>{unit_pattern()[0]})\s*(?=$|[)\],/])")
"""A unit in brackets or behind a comma: 'Min (h)', 'Maximum, days'; a lone 'min' may be a bound."""


_MAXIMUM = re.compile(r"\bmax")


@lru_cache(maxsize=4096)
def unit_set_off(folded: str) -> str | None:
    """The unit that a head sets off from its words, the last of several; None where it sets off none."""
    found: str | None = None
    for m in _SET_OFF.finditer(folded):
        groups = unit_pattern()[1]
        unit = next((groups[n] for n, value in m.groupdict().items() if n in groups and value), None)
        found = unit if unit in _HEAD_UNITS else found
    return found


def degrees_filled(table: Table) -> Table:
    """The table with its bare numbers for temperatures made temperatures: 'Temperature (°C)' over 5, 15 and 25.

    What is added is not printed, so that quotes and boxes stay the sheet's own.
    """
    corner = _degrees((table.corner, table.title))
    rows = table.rows
    if corner is not None and _all_bare(row.label.passage for row in rows):
        sign = corner
        rows = tuple(replace(row, label=_with_sign(row.label, sign)) for row in rows)
    heads = tuple(_head_filled(stack, corner) for stack in table.heads)
    if corner is not None and not all(_BARE.fullmatch(s[-1].passage.folded) for s in table.heads if s):
        heads = tuple(_head_filled(stack, None) for stack in table.heads)
    return table if rows is table.rows and heads == table.heads else replace(table, rows=rows, heads=heads)


def times_filled(table: Table) -> Table:
    """The table with a unit of time behind every bare number whose column, row, corner or title has one."""
    outer = next(
        (u for p in (table.corner, table.title, table.section.title) if (u := _time_unit(p)) is not None), None
    )
    above = [
        next((u for c in reversed(stack) if (u := _time_unit(c.passage)) is not None), None) for stack in table.heads
    ]
    heads = (c.passage for stack in table.heads for c in stack)
    # Beside a maximum a 'min' is the minimum.
    bounded = any(_MAXIMUM.search(p.folded) for p in (*heads, *_labels(table), table.corner))

    def filled(row: Row) -> Row:
        beside = _time_unit(row.label.passage)
        cells = tuple(
            _with_unit(cell, _told((above[i] if i < len(above) else None) or beside or outer, bounded=bounded))
            for i, cell in enumerate(row.cells)
        )
        return row if all(a is b for a, b in zip(cells, row.cells, strict=True)) else replace(row, cells=cells)

    rows = tuple(filled(row) for row in table.rows)
    return table if all(a is b for a, b in zip(rows, table.rows, strict=True)) else replace(table, rows=rows)


def _labels(table: Table) -> Iterable[Passage]:
    return (row.label.passage for row in table.rows)


def _told(unit: str | None, *, bounded: bool) -> str | None:
    """The unit, but for a 'min' that may be the least of a pair."""
    return None if unit == "min" and bounded else unit


def _time_unit(passage: Passage) -> str | None:
    unit = unit_set_off(passage.folded)
    return unit if unit is not None and units()[unit].dimension is Dimension.TIME else None


def _with_unit(cell: Cell, unit: str | None) -> Cell:
    if unit is None or not _BARE.fullmatch(cell.passage.folded):
        return cell
    return replace(cell, passage=_longer(cell.passage, f" {unit}"))


def _degrees(passages: Iterable[Passage]) -> str | None:
    """The sign of degrees in a text that has no temperature of its own."""
    for passage in passages:
        m = re.search(r"°\s?([cf])\b", passage.folded)
        if m is not None and not re.search(r"\d\s*°", passage.folded):
            return f" °{m.group(1).upper()}"
    return None


def _all_bare(passages: Iterable[Passage]) -> bool:
    texts = [p.folded for p in passages if p.text.strip()]
    return bool(texts) and all(_BARE.fullmatch(t) for t in texts)


def _head_filled(stack: tuple[Cell, ...], corner: str | None) -> tuple[Cell, ...]:
    """A stack of heads with its bare number made a temperature where a head above it, or the corner, has the sign."""
    if not stack or not _BARE.fullmatch(stack[-1].passage.folded):
        return stack
    sign = _degrees(c.passage for c in stack[:-1]) or corner
    return (*stack[:-1], _with_sign(stack[-1], sign)) if sign is not None else stack


def _with_sign(cell: Cell, sign: str) -> Cell:
    return replace(cell, passage=_longer(cell.passage, sign)) if _BARE.fullmatch(cell.passage.folded) else cell


def _longer(passage: Passage, unprinted: str) -> Passage:
    text = passage.text.rstrip()
    gone = len(passage.text) - len(text)
    origins = passage.origins[: len(passage.origins) - gone] if gone else passage.origins
    return replace(passage, text=text + unprinted, origins=(*origins, *([None] * len(unprinted))))
