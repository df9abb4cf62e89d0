"""A table for paper, cut between its rows and never through one. No Qt."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class TableRow:
    """html is a whole <tr>; a heading is never the last row of a page."""

    html: str
    is_heading: bool = False


@dataclass(frozen=True, slots=True)
class PrintedTable:
    """before stands once above the table; head is the <tr> that every page repeats."""

    style: str
    before: str
    head: str
    rows: tuple[TableRow, ...]

    def html(self, first: int = 0, last: int | None = None) -> str:
        """The rows from first up to last, with their head; what stands before only with the first of all."""
        rows = "".join(row.html for row in self.rows[first:last])
        table = (
            '<table border="1" cellspacing="0" cellpadding="4" width="100%" style="border-collapse: collapse">'
            f"<thead>{self.head}</thead><tbody>{rows}</tbody></table>"
        )
        return f"{self.style}{self.before if first == 0 else ''}{table}"


def cuts(heights: Sequence[float], headings: Sequence[bool], first_room: float, room: float) -> tuple[int, ...] | None:
    """Where each page begins, as row numbers; None where a row is higher than a page and has to be cut through.

    first_room is what the first page has for rows, room what every other one has; all in one unit.
    """
    begins, left = [0], first_room
    for row, height in enumerate(heights):
        if height > min(first_room, room):
            return None
        # A heading goes over together with the row that it heads.
        needed = height + (heights[row + 1] if headings[row] and row + 1 < len(heights) else 0.0)
        if needed > left and row > begins[-1]:
            begins.append(row)
            left = room
        left -= height
    return tuple(begins)
