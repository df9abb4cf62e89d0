"""What the rows of a table on coats answer: which cell says yes or no, and which coats the row names."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass

from extract.clauses.verdicts import Answer, Verdict, read_verdict
from extract.document import Cell, Row, Table
from extract.finders.table_signs import timed_cells
from extract.terms import Mention, Vocabulary


@dataclass(frozen=True, slots=True)
class CoatRow:
    """A row's coats with what its cells answer."""

    row: Row
    mentions: tuple[Mention, ...]
    answer: Answer | None
    answer_cell: Cell | None
    rest: tuple[Cell, ...]


def by_heads(table: Table, vocabulary: Vocabulary) -> list[CoatRow]:
    """A grid whose columns are the answers ('suitable', 'not suitable') and whose cells hold a mark in one of them."""
    answers: list[Answer | None] = []
    for stack in table.heads:
        verdict = read_verdict(" ".join(c.text for c in stack), language=vocabulary.language)
        whole = verdict is not None and any(c.text.strip() for c in stack)
        answers.append(verdict.answer if verdict is not None and whole else None)
    if sum(a in (Answer.YES, Answer.NO, Answer.PARTLY) for a in answers) < 2 or Answer.NO not in answers:
        return []
    out: list[CoatRow] = []
    for row in table.rows:
        marked = [
            (answer, cell)
            for answer, cell in zip(answers, row.cells, strict=False)
            if answer is not None and cell.text.strip() and not re.fullmatch(r"[-–—]|n/a", cell.text.strip())
        ]
        rest = tuple(c for a, c in zip(answers, row.cells, strict=False) if a is None and c.text.strip())
        answer, cell = marked[0] if len(marked) == 1 else (Answer.UNKNOWN, None)
        out.append(CoatRow(row, vocabulary.mentions(row.label.text), answer, cell, rest))
    return out


def _is_remark(cell: Cell, verdict: Verdict, row: Row) -> bool:
    """'Do not sand it first' beside the times of the row: how to go about it, no answer."""
    goes_on = any(c.isalnum() for c in cell.text[verdict.end :])
    others = [c for c in row.cells if c.passage is not cell.passage]
    return verdict.answer is Answer.NO and goes_on and timed_cells(others) and not timed_cells([cell])


def read_row(row: Row, legend: Sequence[tuple[str, Answer]], vocabulary: Vocabulary) -> CoatRow:
    answer: Answer | None = None
    answer_cell: Cell | None = None
    rest: list[Cell] = []
    unknown = 0
    seen: set[int] = set()
    for cell in row.cells:
        if id(cell.passage) in seen:
            continue
        seen.add(id(cell.passage))
        verdict = read_verdict(cell.text, legend, vocabulary.language)
        if (
            verdict is None
            or (verdict.answer is not Answer.UNKNOWN and answer is not None)
            or _is_remark(cell, verdict, row)
        ):
            rest.append(cell)
            continue
        if verdict.answer is Answer.UNKNOWN:
            unknown += bool(cell.text.strip())
            if answer is None and cell.text.strip():
                answer_cell = answer_cell or cell
            continue
        answer, answer_cell = verdict.answer, cell
    if answer is None and not rest:
        answer = Answer.UNKNOWN
    first = answer_cell is not None and bool(row.cells) and answer_cell is row.cells[0]
    if answer is None and first and not timed_cells(rest):
        answer = Answer.UNKNOWN
    return CoatRow(row, vocabulary.mentions(row.label.text), answer, answer_cell, tuple(rest))
