"""Ruled forms and tables whose rows are counted in a first column."""

from __future__ import annotations

from reportlab.pdfgen.canvas import Canvas

from extract.document import Statement
from tests.extract.layout.sheets import drawn, grid, tables
from tests.extract.layout.test_over_pages import ruled


def test_numbers_before_the_labels_of_a_form_are_no_labels() -> None:
    rows = (
        ("1", "Type", "Two-component acrylic clear coat of the high solid sort"),
        ("2", "Pot life", "3 hours at 20 °C"),
        ("3", "Storage", "24 months in the closed tin between 5 and 35 °C"),
        ("4", "Safety", "For professional use only. Keep away from fire."),
    )

    def draw(c: Canvas) -> None:
        ruled(c, 700, rows, (50, 80, 180, 540))

    document = drawn(draw)
    said = [
        (b.label.text.strip(": ") if b.label else b.section.title.text, b.passage.text)
        for b in document.blocks
        if isinstance(b, Statement)
    ]
    assert ("Pot life", "3 hours at 20 °C") in said
    assert ("Storage", "24 months in the closed tin between 5 and 35 °C") in said
    assert not any(label.isdigit() for label, _ in said)


def test_numbers_that_do_not_count_the_rows_stay() -> None:
    rows = (("40", "2:1", "45 min"), ("60", "3:1", "30 min"), ("80", "4:1", "20 min"))

    def draw(c: Canvas) -> None:
        ruled(c, 700, rows, (50, 120, 220, 340))

    assert grid(tables(drawn(draw))[0]) == [list(row) for row in rows]
