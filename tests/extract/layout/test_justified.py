"""Justified lines whose blanks are as wide as the gaps of a table, and tables beside them."""

from __future__ import annotations

from collections.abc import Sequence

from reportlab.pdfbase.pdfmetrics import stringWidth
from reportlab.pdfgen.canvas import Canvas

from extract.document import Document
from tests.extract.layout.sheets import drawn, said

WORDS = ("Do", "not", "put", "polyester", "nor", "reactive")


def spread(c: Canvas, y: float, words: Sequence[str], blank: float) -> None:
    """Words with blanks of one width between them."""
    x = 60.0
    for word in words:
        c.drawString(x, y, word)
        x += stringWidth(word, "Helvetica", 10) + blank


def in_columns(c: Canvas, y: float, words: Sequence[str]) -> None:
    for n, word in enumerate(words):
        c.drawString(60 + 60 * n, y, word)


def sheet(*, justified: bool) -> Document:
    def draw(c: Canvas) -> None:
        c.setFont("Helvetica-Bold", 12)
        c.drawString(60, 740, "Overcoating")
        c.setFont("Helvetica", 10)
        if justified:
            spread(c, 720, WORDS, 17.3)
        else:
            in_columns(c, 720, WORDS)
        c.drawString(60, 708, "materials onto it; take them off down to the metal again.")

    return drawn(draw)


def test_a_stretched_line_stays_one_sentence() -> None:
    whole = "Do not put polyester nor reactive materials onto it; take them off down to the metal again."
    assert whole in said(sheet(justified=True))


def test_words_in_columns_are_no_stretched_line() -> None:
    whole = "Do not put polyester nor reactive materials onto it; take them off down to the metal again."
    assert whole not in said(sheet(justified=False))
