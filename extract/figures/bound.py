"""A figure with everything that the sheet says of it, before it becomes a claim."""

from __future__ import annotations

from dataclasses import dataclass, field

from extract.claims import Method
from extract.document import Passage
from extract.figures.labels import FigureSpec
from extract.quantities import Quantity


@dataclass(frozen=True, slots=True)
class BoundFigure:
    """quantity is a figure of spec. words are the printed places that say so, label first."""

    spec: FigureSpec
    quantity: Quantity
    words: tuple[Passage, ...]
    at_c: float | None = None
    method: Method | None = None
    text: str | None = None
    confidence: float = 0.8
    cell: str = ""
    label: str = ""
    clause: str = field(default="", repr=False)
    """The folded sentence, or row and heads, that the figure was read in."""
    block: int = -1
    about: str = field(default="", repr=False)
    """Of a table: its corner, title and heading, folded. Of a sentence: its first words as printed."""
    heads: tuple[str, ...] = ()
    """The row's label and the column's heads as printed: one may name another product of the range."""
