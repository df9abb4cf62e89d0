"""Bars between tables, labels level with lists, small labels over values, rows that only rules above them part."""

from __future__ import annotations

from collections.abc import Sequence

from reportlab.lib import colors
from reportlab.pdfgen.canvas import Canvas

from extract.document import Document, Statement, StatementKind
from tests.extract.layout.sheets import drawn, grid, heads, said, tables


def bar(c: Canvas, y: float, words: str) -> None:
    c.setFillColor(colors.black)
    c.rect(50, y - 4, 500, 15, fill=1, stroke=0)
    c.setFillColor(colors.white)
    c.setFont("Helvetica-Bold", 10)
    c.drawString(56, y, words)
    c.setFillColor(colors.black)
    c.setFont("Helvetica", 10)


def rows(c: Canvas, y: float, places: Sequence[float], found: Sequence[Sequence[str]], step: float = 15) -> None:
    for n, row in enumerate(found):
        for x, cell in zip(places, row, strict=True):
            c.drawString(x, y - step * n, cell)


def facts(document: Document) -> list[tuple[str, str, str]]:
    """Title, label and value of each field."""
    return [
        (b.section.title.text, b.label.text if b.label else "", b.passage.text.replace("\n", " "))
        for b in document.blocks
        if isinstance(b, Statement) and b.kind is StatementKind.FIELD
    ]


DATA = [["Type", "wash primer", "Solids", "18 %"], ["Colour", "yellow", "Flash point", "12 °C"]]
RESISTS = [["", "Spray", "Splash"], ["Water", "yes", "no"], ["Petrol", "no", "no"], ["Acid", "no", "no"]]


def test_bars_with_heads_part_the_tables_between_them() -> None:
    def draw(c: Canvas) -> None:
        bar(c, 750, "PHYSICAL DATA")
        rows(c, 730, (56, 180, 310, 430), DATA)
        bar(c, 680, "RESISTANCE")
        rows(c, 660, (56, 180, 310), RESISTS)
        bar(c, 580, "REMARKS")
        c.drawString(56, 560, "The film is not tight and must be covered on the day it was sprayed.")

    document = drawn(draw)
    assert {title for title, _, _ in facts(document)} == {"PHYSICAL DATA"}
    assert sorted((label, value) for _, label, value in facts(document)) == sorted(
        (row[n], row[n + 1]) for row in DATA for n in (0, 2)
    )
    (found,) = tables(document)
    assert found.section.title.text == "RESISTANCE"
    assert grid(found) == RESISTS[1:]
    assert document.blocks[-1].section.title.text == "REMARKS"


def test_shaded_rows_that_head_others_head_them_and_no_more() -> None:
    def draw(c: Canvas) -> None:
        for n, y in enumerate((700, 680, 660, 640, 620, 600)):
            if n in (0, 3):
                bar(c, y, f"At {10 + n} °C")
            else:
                rows(c, y, (56, 250, 400), [[f"Coat {n}", f"{n} h", f"{n + 1} days"]])
            c.line(50, y - 6, 550, y - 6)
        c.line(50, 714, 550, 714)

    found = [
        (row.label.text, (row.group.text or table.title.text or table.section.title.text), row.cells[0].text)
        for table in tables(drawn(draw))
        for row in table.rows
    ]
    assert found == [(f"Coat {n}", f"At {10 if n < 3 else 13} °C", f"{n} h") for n in (1, 2, 4, 5)]


LISTS = [
    ("Spray gun", ["1.2 mm, 2 bar"]),
    ("Coats", ["one thin coat, a second after", "10 minutes where metal shows"]),
    ("Grounds", ["• Steel, sanded P180", "• Zinc, sanded P240"]),
    ("Do not use", ["• under polyester putty", "• under epoxy primers", "• on rust"]),
]


def test_labels_level_with_the_first_line_of_a_list_head_it() -> None:
    def draw(c: Canvas) -> None:
        c.drawString(50, 740, "This wash primer bites into bare metal and is sprayed as thin as can be.")
        y = 700.0
        for label, lines in LISTS:
            c.drawString(50, y, label)
            for line in lines:
                c.drawString(190, y, line)
                y -= 12
            y -= 6

    document = drawn(draw)
    items = [
        (b.section.title.text, b.passage.text)
        for b in document.blocks
        if isinstance(b, Statement) and b.kind is StatementKind.BULLET
    ]
    assert items == [(label, line[2:]) for label, lines in LISTS[2:] for line in lines]
    assert [(label, value) for _, label, value in facts(document)] == [
        (label, " ".join(lines)) for label, lines in LISTS[:2]
    ]


def test_two_columns_whose_lines_stand_level_are_no_labels() -> None:
    left = ["Corlan Paints", "Mill Lane 4", "Northby", "Telephone 55"]
    right = [
        "The primer is meant for steel that was",
        "blasted or sanded and goes on in two coats.",
        "It keeps",
        "Well.",
    ]

    def draw(c: Canvas) -> None:
        rows(c, 700, (50, 250), list(zip(left, right, strict=True)), 12)

    assert "The primer is meant for steel that was blasted or sanded and goes on in two coats." in said(drawn(draw))


def test_small_labels_over_larger_values_in_a_margin() -> None:
    margin = [("Colour", "Grey"), ("Density", "1.35 kg/l"), ("Dry film", "50 µm"), ("Recoatable", "6 h (20 °C)")]

    def draw(c: Canvas) -> None:
        c.setFillColor(colors.lightgrey)
        c.rect(45, 560, 130, 175, fill=1, stroke=0)
        c.setFillColor(colors.black)
        for n, (label, value) in enumerate(margin):
            c.setFont("Helvetica", 7)
            c.drawString(52, 720 - 28 * n, label)
            c.setFont("Helvetica", 9)
            c.drawString(52, 709 - 28 * n, value)
        for n in range(9):
            c.drawString(200, 720 - 12 * n, "Text that goes on and on about the paint and where it may be put.")

    assert [(label, value) for _, label, value in facts(drawn(draw))] == margin


def test_a_last_row_without_a_rule_beneath_belongs_to_its_table() -> None:
    body = [
        ["", "10 °C", "20 °C"],
        ["Dust dry", "1 h", "30 min"],
        ["Recoat", "12 h", "6 h"],
        ["2K over it", "never", ""],
    ]

    def draw(c: Canvas) -> None:
        for n, row in enumerate(body):
            for x in (50, 200, 350):
                c.line(x, 712 - 18 * n, x + 150, 712 - 18 * n)
            rows(c, 700 - 18 * n, (54, 204, 354), [row])
        c.drawString(50, 620, "With thicker films the times grow longer and the paint stays soft.")

    document = drawn(draw)
    (found,) = tables(document)
    assert heads(found) == [["10 °C"], ["20 °C"]]
    assert grid(found) == body[1:]
    assert said(document) == ["With thicker films the times grow longer and the paint stays soft."]


def test_a_title_over_a_box_stays_the_title() -> None:
    def draw(c: Canvas) -> None:
        c.setFont("Helvetica-Bold", 20)
        c.drawString(50, 760, "Corlan 3 in 1")
        c.setFont("Helvetica", 10)
        c.setFillColor(colors.lightyellow)
        c.rect(45, 690, 200, 50, fill=1, stroke=1)
        c.setFillColor(colors.black)
        c.drawString(52, 720, "Read the safety sheet first.")
        c.drawString(52, 706, "Wear gloves and a mask.")
        c.drawString(50, 660, "It goes on iron, on steel and on old enamel that is sound and has been rubbed down.")

    assert [h.text for h in drawn(draw).blocks[-1].section.headings] == ["Corlan 3 in 1"]
