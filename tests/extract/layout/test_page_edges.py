"""Head and foot lines over columns, and bullets set in a type of their own."""

from __future__ import annotations

from reportlab.pdfgen.canvas import Canvas

from extract.document import Statement, StatementKind
from tests.extract.layout.sheets import drawn, grid, said, tables

LEFT = ["The finish goes straight on to steel that", "was blasted, and it needs no primer there.", "It is gloss."]
RIGHT = ["Keep the rain off it for four hours and", "put nothing over it but itself. No alkyd", "paint may follow."]


def columns(c: Canvas) -> None:
    for x, title, lines in ((40, "Description", LEFT), (310, "Service", RIGHT)):
        c.setFont("Helvetica-Bold", 10)
        c.drawString(x, 770, title)
        c.setFont("Helvetica", 9)
        for n, line in enumerate(lines):
            c.drawString(x, 757 - 11 * n, line)


def test_head_and_foot_lines_belong_to_no_column() -> None:
    def draw(c: Canvas) -> None:
        c.setFont("Helvetica-Bold", 14)
        c.drawString(40, 815, "Corlan 55 Gloss")
        c.setFont("Helvetica-Bold", 10)
        c.drawRightString(555, 815, "Product data")
        columns(c)
        c.setFont("Helvetica", 7)
        c.drawString(40, 25, "Corlan Coatings, sheet 55")
        c.drawRightString(555, 25, "Page 1 of 2")

    document = drawn(draw)
    under = {b.passage.text: [h.text for h in b.section.headings] for b in document.blocks if isinstance(b, Statement)}
    assert under["It is gloss."] == ["Corlan 55 Gloss", "Description"]
    assert under["No alkyd paint may follow."] == ["Corlan 55 Gloss", "Service"]
    assert "Service" not in under["Corlan Coatings, sheet 55"]
    assert "Product data" in said(document)


def test_bullets_larger_than_their_text_open_its_items() -> None:
    items = {"Suitable": ["blasted steel", "aged zinc"], "Not suitable": ["etch primer", "one-pack paint"]}

    def draw(c: Canvas) -> None:
        y = 740.0
        for title, lines in items.items():
            c.setFont("Helvetica-Bold", 10)
            c.drawString(50, y, title)
            for line in lines:
                y -= 13
                c.setFont("Helvetica", 14)
                c.drawString(54, y - 1, "•")
                c.setFont("Helvetica", 8.5)
                c.drawString(72, y, line)
            y -= 22

    found = [b for b in drawn(draw).blocks if isinstance(b, Statement) and b.kind is StatementKind.BULLET]
    assert [(b.section.title.text, b.passage.text) for b in found] == [
        (title, line) for title, lines in items.items() for line in lines
    ]


def test_dots_in_a_tables_cells_stay_in_their_cells() -> None:
    rows = [["Ground", "Suits", "Note"], ["Steel", "●", "P120"], ["Zinc", "●", "matt"], ["Rust", "", "never"]]

    def draw(c: Canvas) -> None:
        for n, row in enumerate(rows):
            for x, cell in zip((50, 200, 260), row, strict=True):
                c.setFont("ZapfDingbats" if cell == "●" else "Helvetica", 10)
                c.drawString(x, 700 - 16 * n, cell)

    (found,) = tables(drawn(draw))
    assert [(row[0], row[2]) for row in grid(found)] == [("Steel", "P120"), ("Zinc", "matt"), ("Rust", "never")]


def test_heads_over_texts_side_by_side_are_no_heads_of_a_table() -> None:
    texts = {
        "Cleaning": ["Clean the tools with thinner before the", "mixture gels."],
        "Safety": ["It holds epoxy resin, so wear gloves and", "mind that it may bring on a rash."],
    }

    def draw(c: Canvas) -> None:
        for x, (title, lines) in zip((50, 310), texts.items(), strict=True):
            c.setFont("Helvetica-Bold", 9)
            c.drawString(x, 700, title)
            c.setFont("Helvetica", 9)
            for n, line in enumerate(lines):
                c.drawString(x, 688 - 11 * n, line)

    document = drawn(draw)
    assert not tables(document)
    assert said(document) == [" ".join(lines) for lines in texts.values()]
