"""What stands between two level rules and belongs to no table there: where one table ends and the next begins."""

from __future__ import annotations

from collections.abc import Sequence
from statistics import median

from extract.layout.boxes import is_light
from extract.layout.pieces import Segment

_LONGEST_HEAD = 6
_LEAST_SENTENCE = 5
"""Words of a column's head, and of a sentence."""
_LEAST_ROWS, _LEAST_COLUMNS = 3, 2
"""Of a table, its heads among the rows."""
_ALIGNED = 3.0
"""Points."""
_LARGER = 1.1
"""Times the size of the rows: a heading."""

Lines = Sequence[Sequence[Segment]]
"""Printed lines, top to bottom, each with its parts from left to right."""


def begins_anew(lines: Lines, above: Lines, below: Lines) -> bool:
    """Whether what stands between two rules parts the rows above from those below.

    above holds the lines of the table so far, empty where none has begun; below those between the next two rules.
    """
    if _titles_next(lines) or _says_between(lines):
        return True
    if not above:
        return False
    if _heads_next(lines) or _opens_table(lines):
        return True
    return _is_bar_in_form(lines, above) or _heads_other_rows(lines, above, below)


def _opens_table(lines: Lines) -> bool:
    """Whether a line of bold heads stands over plain rows that nothing parts: a table of its own."""
    if len(lines) < _LEAST_ROWS or any(len(line) < _LEAST_COLUMNS for line in lines):
        return False
    if any(abs(line[0].x0 - lines[0][0].x0) > _ALIGNED for line in lines):
        return False  # a form's label stands beside them
    return all(s.bold for s in lines[0]) and not any(s.bold for line in lines[1:] for s in line)


def _heads_other_rows(lines: Lines, above: Lines, below: Lines) -> bool:
    """Whether a lone line heads rows of another make than those above: a section's heading, no group's."""
    alone = [s for line in lines for s in line]
    rows = [line for line in above if len(line) > 1]
    if len(alone) != 1 or not rows or not (alone[0].bold or is_light(alone[0])):
        return False
    if alone[0].size >= _LARGER * median(s.size for line in rows for s in line):
        return True
    first = below[0] if below else []
    plain = [line for line in rows if not all(s.bold for s in line)]
    if len(first) < 2 or not plain:
        return False
    other = max(len(line) for line in plain) != len(first) and len({len(line) for line in plain}) == 1
    return all(s.bold for s in first) or (is_light(alone[0]) and other)


def _titles_next(lines: Sequence[Sequence[Segment]]) -> bool:
    """Whether a bold line stands alone over a plain row of several parts: the title of another table.

    A row of the table above that nothing is drawn around may stand before it.
    """
    if not 2 <= len(lines) <= 3:
        return False
    *above, title, row = lines
    plain = [row, *above]
    return len(title) == 1 and title[0].bold and all(len(r) > 1 and not any(s.bold for s in r) for r in plain)


def _says_between(lines: Sequence[Sequence[Segment]]) -> bool:
    """Whether a sentence stands over a line of heads, or across the columns of a row: what parts two tables."""
    *above, row = lines or [[]]
    if not above or len(row) < 2 or above[0][0].bold:
        return False
    headed = all(s.bold and len(s.words) <= _LONGEST_HEAD for s in row)
    told = [
        line[0]
        for line in above
        if len(line) == 1 and len(line[0].words) >= _LEAST_SENTENCE and line[0].text.rstrip().endswith(".")
    ]
    return any(not s.bold and (headed or s.x1 > row[1].x0) for s in told)


def _heads_next(lines: Sequence[Sequence[Segment]]) -> bool:
    """Whether a bold line stands alone over a line of bold heads: below rows it is the title of another table."""
    if len(lines) < 2 or any(not s.bold for line in lines[-2:] for s in line):
        return False
    return len(lines[-2]) == 1 < len(lines[-1])


def _is_bar_in_form(lines: Sequence[Sequence[Segment]], above: Sequence[Sequence[Segment]]) -> bool:
    """Whether a line in light type, as on a dark bar, stands below labels and values without heads: a new section."""
    bar = [s for line in lines for s in line]
    if len(bar) != 1 or not is_light(bar[0]) or any(len(line) > 2 for line in above):
        return False
    return not any(all(s.bold for s in line) or is_light(line[0]) for line in above if len(line) > 1)
