"""Labels and values set without rules, the longest label close to its value."""

from __future__ import annotations

from collections.abc import Sequence

from reportlab.pdfbase.pdfmetrics import stringWidth
from reportlab.pdfgen.canvas import Canvas

from extract.document import Statement
from tests.extract.layout.sheets import drawn, said

ROWS = (
    ("Mixing ratio by volume", "4:1"),
    ("Thinner", "5-10 %"),
    ("Pot life", "6 hours"),
    ("Viscosity", "18-22 s"),
)


def close(c: Canvas, rows: Sequence[tuple[str, str]], top: float, blank: float) -> None:
    column = 50 + max(stringWidth(label, "Helvetica", 10) for label, _ in rows) + blank
    for n, (label, value) in enumerate(rows):
        c.drawString(50, top - 14 * n, label)
        c.drawString(column, top - 14 * n, value)


def test_the_longest_label_is_cut_from_its_value() -> None:
    document = drawn(lambda c: close(c, ROWS, 700, 7))
    fields = [(b.label.text, b.passage.text) for b in document.blocks if isinstance(b, Statement) and b.label]
    assert fields == list(ROWS)


def test_a_sentence_is_not_cut_where_a_column_begins_far_below() -> None:
    def draw(c: Canvas) -> None:
        c.drawString(50, 700, "The two parts are mixed  well before the first coat is sprayed.")
        close(c, ROWS, 560, 30)

    assert said(drawn(draw))[0] == "The two parts are mixed well before the first coat is sprayed."


def test_a_counted_heading_between_two_lists_of_values_heads_the_second() -> None:
    def draw(c: Canvas) -> None:
        c.drawString(50, 740, "4. Mixing")
        close(c, ROWS, 722, 20)
        c.drawString(50, 658, "5. Application")
        close(c, (("Nozzle", "1.6 mm"), ("Pressure at the gun inlet", "2 bar"), ("Coats", "2")), 640, 20)

    found = {b.label.text: b.section.title.text for b in drawn(draw).blocks if isinstance(b, Statement) and b.label}
    assert "APPLICATION" in found["Nozzle"].upper()
    assert "APPLICATION" not in found["Thinner"].upper()
