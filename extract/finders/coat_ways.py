"""goes_over and topped_by out of tables whose columns are ways of going on: 'direct', 'after sanding P500'."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from extract.claims import Claim, Condition, Stance, Topic, Why
from extract.clauses.conditions import find_conditions, tags, times, times_as_windows
from extract.clauses.verdicts import Answer, read_verdict
from extract.document import Cell, Table, evidence_of, fold
from extract.finders.table_signs import cell_name, timed_cells
from extract.terms import Mention, Vocabulary

_WAY = re.compile(
    r"\W*(?:direct(?:ly)?|straight(?: on)?|without (?:sanding|abrading|intermediate)|"
    r"wet[- ]on[- ]wet|after |with |when |once |on sanded|sanded|unsanded|over sanded|cured|if )"
)


def ways_of(table: Table, legend: Sequence[tuple[str, Answer]], vocabulary: Vocabulary) -> tuple[int, ...]:
    """The columns that are ways of going on ('direct', 'after sanding P500', '1-48 h'), each with its own answers."""
    columns = []
    for i, stack in enumerate(table.heads):
        head = fold(" ".join(c.text for c in stack))
        cells = [row.cells[i] for row in table.rows if i < len(row.cells)]
        spans = bool(times(head))
        told = sum(_told(c, legend, vocabulary) and not (spans and timed_cells([c])) for c in cells)
        filled = sum(bool(c.text.strip()) for c in cells)
        if (spans or _WAY.match(head)) and filled and told * 2 >= filled:
            columns.append(i)
    return tuple(columns) if len(columns) >= 2 else ()


def _told(cell: Cell, legend: Sequence[tuple[str, Answer]], vocabulary: Vocabulary) -> bool:
    verdict = read_verdict(_plain_sign(cell.text), legend, vocabulary.language) if cell.text.strip() else None
    return timed_cells([cell]) if verdict is None else verdict.answer is not Answer.UNKNOWN


def _plain_sign(text: str) -> str:
    """'x' of 'x (20 min to 8 h)'."""
    return re.sub(r"^(\S{1,3}) ?\(.*\)$", r"\1", text.strip(), flags=re.DOTALL)


def between(stack: Sequence[Cell], vocabulary: Vocabulary) -> Mention | None:
    """The coat that a column's head, or a cell, puts between: 'With surfacer', 'only over Kelpstone 55'."""
    text = " ".join(c.text for c in stack)
    if not re.match(r"(?:(?:yes|ok|✓|\+),? )?\W*(?:only )?(?:with|over|on top of|via|after)\b", fold(text)):
        return None
    named = [m for m in vocabulary.mentions(text) if not m.is_self]
    return named[0] if named and not named[0].object.startswith(("surface.", "finish.", "treatment.")) else None


def way_claims(
    table: Table,
    ways: Sequence[int],
    topic: Topic,
    legend: Sequence[tuple[str, Answer]],
    vocabulary: Vocabulary,
    scanned: bool,
) -> Iterator[Claim]:
    """Each way that a row's cell answers with yes is a permission under the conditions of its head."""
    for row in table.rows:
        mentions = vocabulary.mentions(row.label.text)
        permitted: list[tuple[tuple[Condition, ...], Cell, Mention | None]] = []
        refused: list[Cell] = []
        for i in ways:
            if i >= len(row.cells):
                continue
            cell = row.cells[i]
            verdict = read_verdict(_plain_sign(cell.text), legend, vocabulary.language)
            if verdict is not None and verdict.answer is Answer.NO:
                refused.append(cell)
            timed = verdict is None and timed_cells([cell])
            if not timed and (verdict is None or verdict.answer is not Answer.YES):
                continue
            texts = [fold(" ".join(c.text for c in table.heads[i])), cell.passage.folded, row.label.passage.folded]
            texts += [n.folded for n in (*cell.notes, *row.notes, *row.label.notes)]
            hits = [h for t in texts for h in find_conditions(t, (), vocabulary.language)]
            hits += [w for t in texts for w in times_as_windows(t)]
            if re.match(r"\W*(?:direct|straight|without)", texts[0]):
                hits = [h for h in hits if h.condition is not Condition.ABRADED or h.start > 0]
            permitted.append((tags(hits), cell, between(table.heads[i], vocabulary)))
        if not permitted and len(refused) < len(ways):
            continue
        for m in mentions:
            if topic is Topic.TOPPED_BY and m.object.startswith(("surface.", "finish.", "treatment.")):
                continue
            for conditions, cell, via in permitted or [((), refused[0], None)]:
                if via is not None and via.object == m.object:
                    continue
                have = {*conditions, *((Condition.ISOLATED,) if via is not None else ())}
                yield Claim(
                    topic=topic,
                    property=None,
                    stance=Stance.PERMITS if permitted else Stance.FORBIDS,
                    evidence=evidence_of([p for p in (row.label.passage, cell.passage) if p.text.strip()]),
                    object=m.as_found() if topic is Topic.GOES_OVER else m.object,
                    conditions=tuple(c for c in Condition if c in have),
                    via=via.object if via is not None else None,
                    confidence=0.9,
                    from_picture=scanned,
                    why=Why("table row, one way", (m.words,), cell_name(table, row)),
                )
