"""Making the product ready: ratio, thinner, pot life, induction, viscosity."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import replace

from extract.claims import Claim, Stance, Topic, Why
from extract.document import (
    EMPTY,
    Cell,
    Document,
    Passage,
    Row,
    Statement,
    StatementKind,
    Table,
    evidence_of,
    fold,
    join,
)
from extract.figures.claims import claims_of
from extract.figures.cups import find_cup
from extract.figures.governing import head_temperature
from extract.figures.ratios import Ratio, basis_of, find_ratios, part_value
from extract.figures.reading import read_figures
from extract.figures.strangers import is_range_table
from extract.quantities import find_quantities
from extract.sections import Sense, sense_of, sense_of_text
from extract.terms import SubjectNames, Vocabulary
from extract.units import Dimension

_SKIPPED = {Sense.FAULTS, Sense.SYSTEMS, Sense.QUESTIONS, Sense.LEGAL, Sense.CLEANING, Sense.PACKAGING, Sense.GOES_OVER}
_OTHER_COMPONENT = re.compile(
    r"\b(?:hardener|activator|catalyst|catalyser|curing agent|component b|comp\. b|part b|b-component|thinner|reducer|"
    r"diluent|accelerator|peroxide|paste|retarder|bpo|mekp)\b"
)
_HARDENER = re.compile(r"\b(?:hardener|catalyst|activator|peroxide|bpo|mekp|paste)\b")
_THINNER = re.compile(r"\b(?:thinner|reducer|diluent|solvent)\b")
_NO_THINNER = re.compile(
    r"\b(?:do not|don't|never|must not be|should not be|not to be|no need to|not)\s+(?:be\s+)?"
    r"(?:thin|reduce|dilute)(?:ned|d)?\b|\bno (?:thinning|reduction|dilution|thinner|reducer)\b"
    r"|\b(?:use[ds]?|apply|applied|sprayed|ready|supplied|brush\w*|roller?|spray)\W{0,3}(?:it )?"
    r"(?:undiluted|unthinned|unreduced|neat)\b"
    r"|\b(?:thinning|thin|reduce|reduction|reducing|dilution|dilute|thinner|reducer)\W{0,3}"
    r"(?:(?:is|are)\s)?(?:none|nil|not (?:usually |normally |generally )?(?:required|necessary|needed))\b|"
    r"\bnot (?:be )?(?:thinned|reduced|diluted)\b"
)
_SETTING = re.compile(
    r"\b(?:beg[iau]n\w*|start\w*) to (?:set|gel|thicken|cure|harden|stiffen)|\b(?:thickened|gelled|skinned|stiffened)\b"
)
"""A pot that is going off must not be let down again; that says nothing of a fresh mix."""
_HALF_THAT = re.compile(r"\b(?:half|twice|double) (?:that|this|as long|the time)\b")


def find(document: Document, subject: SubjectNames, vocabulary: Vocabulary) -> Iterator[Claim]:
    """Claims of the topic mixing."""
    for claim in claims_of(read_figures(document), Topic.MIXING, vocabulary):
        yield _with_cup(claim) if claim.property == "mixed_viscosity" else claim
    for block in document.blocks:
        if isinstance(block, Table):
            yield from _ratio_table(block, subject, vocabulary)
        elif _is_mixing_field(block) or not sense_of(block.section, document.language) & _SKIPPED:
            yield from _ratios_in(block)
            yield from _no_thinner(block)
            yield from _halves(block)


def _is_mixing_field(statement: Statement) -> bool:
    """A field that says itself that it is about mixing, wherever its box stands."""
    label = statement.label
    return (
        statement.kind is StatementKind.FIELD
        and label is not None
        and bool(re.search(r"\bmix|ratio|thinn|dilut|reduc", label.folded))
    )


def _with_cup(claim: Claim) -> Claim:
    """The cup that the seconds belong to, as printed, before the variant's words."""
    if claim.why is None:
        return claim
    place = f"{claim.evidence.quote} {claim.why.cell}"
    span = find_cup(fold(place))
    if span is None:
        return claim
    cup = place[span[0] : span[1]].strip()
    return replace(claim, text=cup if not claim.text or fold(cup) in fold(claim.text) else f"{cup}, {claim.text}")


def _ratio_claim(ratio: Ratio, words: Sequence[Passage], text: str | None, confidence: float, cell: str = "") -> Claim:
    return Claim(
        topic=Topic.MIXING,
        property="ratio",
        stance=Stance.STATES,
        evidence=evidence_of(words),
        parts=ratio.parts,
        basis=ratio.basis,
        text=text,
        confidence=confidence,
        why=Why("mixing.ratio", (), cell),
    )


def _ratios_in(statement: Statement) -> Iterator[Claim]:
    passage = statement.passage
    if statement.label is not None and not fold(passage.text).startswith(fold(statement.label.text)):
        passage = join([statement.label, passage], ": ")
    context = " ".join(fold(h.text) for h in statement.section.headings)
    if statement.lead is not None:
        context += " " + statement.lead.folded
    folded = passage.folded
    bare = statement.kind is StatementKind.FIELD or len(folded) < 40
    for ratio in find_ratios(folded, context):
        around = folded[max(0, ratio.start - 30) : ratio.start]
        if re.search(r"\((?:[^)]*)$", around) and not _OTHER_COMPONENT.search(folded) and "ratio" not in folded:
            continue  # 'volume solids of the mixture (4 : 1, unthinned)'
        end = ratio.end
        tail = re.match(r"\s*(?:by (?:volume|weight|vol\.?|wt\.?)|\(?vol\w*\.?\)?|\(?wt\.?\)?|v/v|w/w)", folded[end:])
        if tail:
            end += tail.end()
        if ratio.parts[0] == ratio.parts[-1] == 1 and not re.search(
            r"mix|hardener|catal|activat|ratio|part|by vol", folded + context
        ):
            continue
        yield _ratio_claim(ratio, (passage.part(ratio.start, end),), None, 0.92 if bare else 0.82)


def _no_thinner(statement: Statement) -> Iterator[Claim]:
    passage = statement.passage
    if statement.label is not None and not fold(passage.text).startswith(fold(statement.label.text)):
        passage = join([statement.label, passage], ": ")
    folded = passage.folded
    m = _NO_THINNER.search(folded)
    if m is None or _SETTING.search(folded):
        return
    if re.search(
        r"\b(?:more|further|again|unless|except|with (?:lacquer|other)|film|gloss|beyond|over)\b",
        folded[m.start() : m.end() + 40],
    ):
        return
    yield Claim(
        topic=Topic.MIXING,
        property="thinner",
        stance=Stance.STATES,
        evidence=passage.evidence(m.start(), m.end()),
        low=0,
        high=0,
        unit="%",
        confidence=0.85,
        why=Why("mixing.no_thinner", (m.group(),)),
    )


def _halves(statement: Statement) -> Iterator[Claim]:
    """'45 minutes at 20 °C and half that at 30 °C'."""
    folded = statement.passage.folded
    m = _HALF_THAT.search(folded)
    if m is None or not re.search(r"pot[- ]?life|working life|usable", folded[: m.start()]):
        return
    times = [q for q in find_quantities(folded) if q.dimension is Dimension.TIME and q.end <= m.start()]
    at_c = head_temperature(folded[m.end() :])
    if len(times) != 1 or at_c is None or times[0].low is None:
        return
    factor = 0.5 if m.group().startswith("half") else 2.0
    end = len(folded.rstrip(" ."))
    yield Claim(
        topic=Topic.MIXING,
        property="pot_life",
        stance=Stance.STATES,
        evidence=statement.passage.evidence(times[0].start, end),
        low=times[0].low * factor,
        high=None if times[0].high is None else times[0].high * factor,
        unit="min",
        at_c=at_c,
        confidence=0.8,
        why=Why("mixing.half_that", (m.group(),)),
    )


# --- tables of parts -------------------------------------------------------------------------------------------


def _ratio_table(table: Table, subject: SubjectNames, vocabulary: Vocabulary) -> Iterator[Claim]:
    """A table whose rows or columns are the components, with parts in the cells."""
    if _is_other(table):
        return
    columns_are_components = [_component_of(stack, subject) for stack in table.heads]
    if "other" in columns_are_components and _is_self_first(columns_are_components):
        yield from _rows_of_parts(table, columns_are_components)
    rows = [*_head_row(table, subject), *table.rows]
    rows_are_components = [_component(row.label.text, subject) for row in rows]
    if _opens_with_a_code(rows, rows_are_components) and Sense.MIXING in sense_of(table.section):
        rows_are_components[0] = "self"  # 'K555-1 | 5', 'K210-8 | 1': the base goes first
    if rows_are_components[:1] == ["self"] and "other" in rows_are_components:
        yield from _columns_of_parts(table, rows, rows_are_components)
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
            yield _ratio_claim(ratio, (row.label.passage, cell.passage), head, 0.85, folded)


def _opens_with_a_code(rows: Sequence[Row], components: Sequence[str | None]) -> bool:
    """Whether the rows are components by bare codes, the first of which is called neither hardener nor thinner."""
    together = len(components) > 1 and components[0] == components[1] == "other"
    return together and not _OTHER_COMPONENT.search(rows[0].label.passage.folded)


def _head_row(table: Table, subject: SubjectNames) -> Iterator[Row]:
    """The product's own row where it was taken for the head: its name in the corner, its parts in the heads."""
    if _component(table.corner.text, subject) != "self" or not table.heads:
        return
    cells = tuple(stack[-1] if stack else Cell(EMPTY) for stack in table.heads)
    if any(part_value(cell.passage.folded) for cell in cells):
        yield Row(label=Cell(table.corner), cells=cells)


def _is_other(table: Table) -> bool:
    senses = sense_of(table.section)
    if is_range_table(f"{table.corner.folded} | {table.title.folded} | {table.section.title.folded}"):
        return True
    return bool(senses & _SKIPPED) and Sense.MIXING not in senses


def _component_of(stack: Sequence[Cell], subject: SubjectNames) -> str | None:
    """The innermost head speaks first: 'CM-300' under 'Parts by volume'."""
    inner = _component(stack[-1].text, subject) if stack else None
    return inner or (_component(" ".join(c.text for c in stack), subject) if len(stack) > 1 else None)


def _component(text: str, subject: SubjectNames) -> str | None:
    """'self' for the product, 'other' for hardener or thinner, None for anything else."""
    folded = fold(text)
    if _OTHER_COMPONENT.search(folded):
        return "other"
    names = [fold(n) for n in (subject.name, *subject.aliases, subject.code or "") if n]
    squashed = re.sub(r"[^a-z0-9]", "", folded)
    if any(re.sub(r"[^a-z0-9]", "", n) in squashed for n in names if len(n) > 2):
        return "self"
    if re.search(
        r"\b(?:base|component a|comp\. a|part a|paint|enamel|primer|surfacer|filler|resin|product|clear|lacquer)\b",
        folded,
    ):
        return "self"
    # A bare code beside the product's own ('CM-301', 'CM-91') is a component of the mix.
    if re.fullmatch(r"[a-z]{1,4}[- ]?\d{1,4}(?:[-/]\d{1,4})?[a-z]?(?:\s+\w+)?", folded.strip()):
        return "other"
    return None


_NO_PARTS = re.compile(
    r"\b(?:density|specific gravity|sg|kg/l|g/ml|g/cm|solids|voc|packs?|packaging|price|shelf|flash point|viscosity)\b"
)
"""Rows of figures beside the components that are no parts of a mix."""


def _rows_of_parts(table: Table, components: Sequence[str | None]) -> Iterator[Claim]:
    columns = [i for i, c in enumerate(components) if c]
    basis = _table_basis(table)
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
        yield _ratio_claim(ratio, (*words, *heads), row.label.text or None, 0.93, row.label.passage.folded)


def _is_self_first(components: Sequence[str | None]) -> bool:
    return next((c for c in components if c), None) == "self"


def _columns_of_parts(table: Table, all_rows: Sequence[Row], components: Sequence[str | None]) -> Iterator[Claim]:
    rows = []
    for row, component in zip(all_rows, components, strict=True):
        if component is None:
            break
        rows.append(row)
    width = max((len(r.cells) for r in rows), default=0)
    title_basis = _table_basis(table)
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
        yield _ratio_claim(ratio, words, text, 0.93, fold(head))


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
    if not part_value(cells[0].passage.folded if cells else ""):
        return (), []
    parts: list[float] = []
    used: list[Cell] = []
    for cell in cells:
        value = part_value(cell.passage.folded)
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
                not _OTHER_COMPONENT.search(context)
                and Sense.MIXING not in sense_of_text(context)
                and "ratio" not in heading
            ):
                continue
            named = _OTHER_COMPONENT.search(cell.passage.folded) and "ratio" not in context
            if cell.passage is row.label.passage or named:
                continue
            for ratio in find_ratios(cell.passage.folded, f"mix {context}"):
                key = (ratio.parts, ratio.basis)
                if key in seen:
                    continue
                seen.add(key)
                yield _ratio_claim(ratio, (row.label.passage, cell.passage), None, 0.93, context)
