"""Forms: two columns in which the left names, row by row, what the right says in sentences or lists."""

from __future__ import annotations

import re

from extract.layout.form_bands import holds_table
from extract.layout.paragraphs import Paragraph, ParagraphKind, heading_style, lines_of
from extract.layout.pieces import Grid, Segment

_SEVERAL_SENTENCES = re.compile(r"[a-z)\]%°C][.!?]\s+[A-Z]")
_SHORTENED = re.compile(r"\b(?:\d ?(?:vol|pts?)|approx|ca|max|min|no|e\.g|i\.e)\.$", re.IGNORECASE)
_LONGEST_LABEL = 60


def is_form(grid: Grid) -> bool:
    """Whether a grid of two columns, without heads, holds lists or several sentences in its right column."""
    if grid.columns != 2 or any(c.column_end - c.column > 1 and not c.empty for c in grid.cells):
        return False
    lefts = [c for c in grid.cells if c.column == 0]
    rights = [c for c in grid.cells if c.column == 1 and not c.empty]
    if not rights or any(sum(len(s.text) for s in c.segments) > _LONGEST_LABEL for c in lefts):
        return False
    first = grid.at(0, 1)
    if first is not None and not first.empty and all(s.bold for s in first.segments):
        return False
    return any(_says_much(c.segments) or holds_table(c.segments) for c in rights)


def _says_much(segments: list[Segment]) -> bool:
    if sum(1 for s in segments if s.bullet) >= 2:
        return True
    ordered = sorted(segments, key=lambda s: (round(s.base), s.x0))
    text = " ".join(s.text for s in ordered)
    return any(_SHORTENED.search(text, 0, m.start() + 2) is None for m in _SEVERAL_SENTENCES.finditer(text))


def form_rows(grid: Grid) -> list[tuple[list[Segment], list[Segment]]]:
    """Label and content of each row, top to bottom; a row without a label goes on with the one above."""
    out: list[tuple[list[Segment], list[Segment]]] = []
    seen: set[int] = set()
    for row in range(grid.rows):
        left, right = grid.at(row, 0), grid.at(row, 1)
        label = [] if left is None or id(left) in seen else list(left.segments)
        content = [] if right is None or id(right) in seen else list(right.segments)
        seen.update(id(c) for c in (left, right) if c is not None)
        if label or not out:
            out.append((label, content))
        else:
            out[-1][1].extend(content)
    return [(label, content) for label, content in out if label or content]


def as_heading(label: list[Segment]) -> list[Paragraph]:
    """A label as the heading of its row."""
    lines = lines_of(sorted(label, key=lambda s: (round(s.base), s.x0)))
    heading = Paragraph(ParagraphKind.HEADING, lines, indent=lines[0].x0)
    heading.style = heading_style(heading)
    return [heading]
