"""What one cell of a table says of a window: its ends, what hangs on them, and what to do when it has passed."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from itertools import pairwise

from extract.bounds import Bound
from extract.claims import Condition
from extract.clauses.conditions import find_conditions
from extract.clauses.cues import Cues
from extract.document import Cell, Passage, Row, Table
from extract.finders.window_ends import ENDS_APART
from extract.finders.window_times import windows_in
from extract.quantities import Quantity, find_quantities
from extract.terms import Vocabulary
from extract.units import Dimension


@dataclass(slots=True)
class Ends:
    """What the cells of one row say for one temperature and method. Of several the strictest holds."""

    low: float | None = None
    high: float | None = None
    unlimited: bool = False
    abraded: bool = False
    label: Passage | None = None
    cells: list[Passage] | None = None

    def take(self, part: Ends, label: Passage, cell: Passage) -> None:
        self.low = max((v for v in (self.low, part.low) if v is not None), default=None)
        self.high = min((v for v in (self.high, part.high) if v is not None), default=None)
        self.unlimited = self.unlimited or part.unlimited
        self.abraded = self.abraded or part.abraded
        self.label = self.label or label
        self.cells = [*(self.cells or []), cell]


def read_cell(role: str, cell: Cell, row: Row, table: Table, known: Cues, vocabulary: Vocabulary) -> list[Ends]:
    """The windows that a cell gives, role being the end that its heads speak of."""
    whole = cell.passage.folded
    late = turn_past(whole)
    folded = whole[: late.start()] if late is not None else whole
    notes = _note_texts(cell, row, table)
    abraded = any(
        h.condition is Condition.ABRADED
        for text in (folded, *notes)
        for h in find_conditions(text, (), vocabulary.language)
    )
    unlimited = known.window["unlimited"].search(folded) is not None
    q = time_of(folded)
    if q is None:
        noted = role != "least" and any(known.window["unlimited"].search(n) for n in notes)
        return [Ends(unlimited=unlimited or noted, abraded=abraded)]
    if role in ("", "both") and (known.ends["denied"].search(folded) or known.window["spares"].search(folded)):
        # 'Not within 4 h', '7 d without sanding': the words round the time tell its end.
        worded = windows_in(folded, known, labelled=True)
        return [Ends(t.low, t.high, t.unlimited, abraded and t.high is None) for t in worded]
    out = Ends(abraded=abraded)
    if role == "free":
        # 'Without sanding: 15 min - 3 h' is a window, 'without sanding: 72 h' its end.
        spanned = q.low is not None and q.high is not None and q.high >= ENDS_APART * q.low
        role = "both" if spanned else "most"
    if role == "least":
        out.low = q.high if q.high is not None and q.bound is not Bound.MOST else q.low
    elif role == "most":
        out.high = q.low if q.low is not None and q.bound is not Bound.LEAST else q.high
    elif _OR.search(folded, q.end):
        apart = windows_in(folded, known, labelled=True)
        return [Ends(t.low, t.high, False, abraded) for t in apart] if len(apart) == 2 else []
    elif q.bound is Bound.MOST:
        out.high = q.high
    elif q.low is not None and q.high is not None and q.high > q.low:
        if q.high >= 3 * q.low or role == "both":
            out.low, out.high = q.low, q.high
        else:
            out.low = q.high
    else:
        out.low = q.low
        rest = time_of(folded[q.end :])
        if rest is not None and rest.low is not None:
            out.high = rest.high if rest.bound is Bound.MOST else rest.low
        elif rest is not None:
            out.high = rest.high
    if out.low is not None and out.high is not None and out.low >= out.high:
        return []
    out.unlimited = unlimited and out.high is None and role != "least"
    return [out]


_OR = re.compile(r"\b(?:or|and) (?:\w+ )?(?:after|from|past|not before|once)\b|\bor\b")


def turn_past(folded: str) -> re.Match[str] | None:
    """Where a cell turns to what is done past its time: '48 h; later P1000'."""
    return _PAST.search(folded)


_PAST = re.compile(
    r"[;,.(] ?(?:later|thereafter|afterwards|after (?:that|this)|then|past (?:that|this)|beyond)\b"
    r"|(?<=\w) (?:then|thereafter|afterwards)\b"
    r"|[;,.(] ?(?:after|past|over) (?:more than )?\d+ ?\w+,?(?: it)?(?: must| has to| to)?(?: be)? "
    r"(?=sand|abrad|scuff|flat|key|p\d)"
)


def regimes_of(cell: Cell) -> list[tuple[Cell, float | None]]:
    """The cell, or its parts where each has a temperature of its own: '4 h (20 °C) / 2 h (30 °C)'; degC."""
    found = find_quantities(cell.passage.folded)
    temperatures = [q for q in found if q.dimension is Dimension.TEMPERATURE and q.low == q.high]
    times = [q for q in found if q.dimension is Dimension.TIME]
    if len(temperatures) == 1 and times:
        return [(cell, temperatures[0].low)]
    if len(temperatures) < 2 or [q.dimension for q in found] != [Dimension.TIME, Dimension.TEMPERATURE] * len(times):
        return [(cell, None)]
    ends = [0, *(t.end for t in temperatures[:-1]), len(cell.passage.text)]
    parts = [cell.passage.part(a, b) for a, b in pairwise(ends)]
    return [(replace(cell, passage=p), t.low) for p, t in zip(parts, temperatures, strict=True)]


def _note_texts(cell: Cell, row: Row, table: Table) -> list[str]:
    out = [n.folded for n in (*cell.notes, *row.notes, *row.label.notes)]
    sign = cell.text.strip()
    if sign in ("†", "‡", "*", "**", "§") or re.fullmatch(r"\(?\d\)?|[a-d]\)?", sign):
        out.extend(n.folded for n in (*table.notes, *table.legend) if n.text.strip().startswith(sign))
    return out


def time_of(folded: str) -> Quantity | None:
    """The first time of a folded text."""
    return next((q for q in find_quantities(folded) if q.dimension is Dimension.TIME), None)
