"""Sheets laid out as cards: a title in a bar, icons with captions, ticked heads over lists, underscored heads."""

from __future__ import annotations

from reportlab.lib import colors
from reportlab.pdfgen.canvas import Canvas

from extract.document import Document, Statement, StatementKind
from tests.extract.layout.sheets import drawn, grid, heads, said, tables


def statements(document: Document, kind: StatementKind) -> list[Statement]:
    return [b for b in document.blocks if isinstance(b, Statement) and b.kind is kind]


def underscored(c: Canvas, y: float, words: str) -> None:
    c.setFont("Helvetica-Bold", 10)
    c.drawString(50, y, words)
    c.line(50, y - 3, 500, y - 3)
    c.setFont("Helvetica", 10)


def filled(c: Canvas, x0: float, y: float, x1: float, words: str) -> None:
    c.setFillColor(colors.darkred)
    c.rect(x0, y - 4, x1 - x0, 16, fill=1, stroke=0)
    c.setFillColor(colors.white)
    c.setFont("Helvetica-Bold", 10)
    c.drawCentredString((x0 + x1) / 2, y, words)
    c.setFillColor(colors.black)
    c.setFont("Helvetica", 10)


WINDOW = [
    ["Filler, min", "16 h", "8 h", "4 h"],
    ["Topcoat, min", "4 h", "2 h", "1 h"],
    ["Topcoat, max", "72 h", "48 h", "24 h"],
]


def test_lists_beside_one_another_between_underscored_heads_and_a_table() -> None:
    def draw(c: Canvas) -> None:
        underscored(c, 740, "SUBSTRATES")
        c.setFont("Helvetica-Bold", 10)
        c.drawString(50, 724, "+ Suitable")
        c.drawString(300, 724, "+ Unsuitable")
        c.setFont("Helvetica", 10)
        for n, (left, right) in enumerate((("Bare steel", "Nitro paint"), ("Aluminium", "Etch primer"))):
            c.drawString(50, 711 - 12 * n, f"• {left}")
            c.drawString(300, 711 - 12 * n, f"• {right}")
        underscored(c, 675, "RECOAT WINDOW")
        for x, words in ((200, "15 °C"), (300, "20 °C"), (400, "30 °C")):
            filled(c, x, 658, x + 100, words)
        filled(c, 50, 658, 200, "")
        for n, row in enumerate(WINDOW):
            for x, cell in zip((54, 240, 340, 440), row, strict=True):
                c.drawString(x, 640 - 16 * n, cell)
        underscored(c, 570, "OUTDOORS")
        c.drawString(50, 555, "Primed parts may stand in the open for no more than six weeks.")

    document = drawn(draw)
    assert [(b.section.title.text[-10:], b.passage.text) for b in statements(document, StatementKind.BULLET)] == [
        ("+ Suitable", "Bare steel"),
        ("+ Suitable", "Aluminium"),
        ("Unsuitable", "Nitro paint"),
        ("Unsuitable", "Etch primer"),
    ]
    (found,) = tables(document)
    assert found.section.title.text == "RECOAT WINDOW"
    assert heads(found) == [["15 °C"], ["20 °C"], ["30 °C"]]
    assert grid(found) == WINDOW
    assert document.blocks[-1].section.title.text == "OUTDOORS"


def test_ticked_heads_over_lists_are_heads() -> None:
    def draw(c: Canvas) -> None:
        for x, sign, name, items in ((50, "✔", "Goes on", ("steel", "zinc")), (300, "✘", "Keep off", ("wax", "rust"))):
            c.setFont("ZapfDingbats", 10)
            c.drawString(x, 700, sign)
            c.setFont("Helvetica-Bold", 10)
            c.drawString(x + 14, 700, name)
            c.setFont("Helvetica", 10)
            for n, item in enumerate(items):
                c.drawString(x, 687 - 13 * n, f"• {item}")

    found = statements(drawn(draw), StatementKind.BULLET)
    over = [(b.section.title.text.split(" ", 1)[-1], b.passage.text) for b in found]
    assert over == [("Goes on", "steel"), ("Goes on", "zinc"), ("Keep off", "wax"), ("Keep off", "rust")]


def test_a_list_in_the_next_column_is_no_deeper_than_the_one_before() -> None:
    def draw(c: Canvas) -> None:
        c.drawString(50, 740, "It is not meant to be put on any of these grounds, whatever they look like:")
        for n, (left, right) in enumerate((("wax", "rust"), ("tar", "zinc"))):
            c.drawString(50, 720 - 13 * n, f"• {left}")
            c.drawString(300, 720 - 13 * n, f"• {right}")

    found = statements(drawn(draw), StatementKind.BULLET)
    assert [b.passage.text for b in found] == ["wax", "tar", "rust", "zinc"]
    assert all(b.lead is not None and b.lead.text.endswith("look like:") for b in found)


def test_captions_that_name_their_figures() -> None:
    icons = [["Spray gun", "1.4 to 1.6 mm", "2 bar"], ["Pot life", "2 h / 20 °C"], ["Drying", "4 h / 20 °C"]]

    def draw(c: Canvas) -> None:
        y = 700.0
        for icon in icons:
            for n, line in enumerate(icon):
                c.setFont("Helvetica-Bold" if n == 1 else "Helvetica", 8)
                c.drawString(50, y, line)
                y -= 10
            y -= 14
        c.setFont("Helvetica", 9)
        for n in range(10):
            c.drawString(200, 700 - 12 * n, "Text of the sheet which goes on beside the icons for a good while yet.")

    found = statements(drawn(draw), StatementKind.FIELD)
    assert [(b.label.text if b.label else "", b.passage.text) for b in found] == [
        (icon[0], "\n".join(icon[1:])) for icon in icons
    ]


def test_a_title_in_a_bar_heads_the_whole_sheet() -> None:
    def draw(c: Canvas) -> None:
        c.setFillColor(colors.black)
        c.rect(40, 760, 520, 40, fill=1, stroke=0)
        c.setFillColor(colors.white)
        c.setFont("Helvetica", 18)
        c.drawString(50, 774, "Corlan Prime 2")
        c.setFont("Helvetica", 9)
        c.drawRightString(550, 774, "Sheet 118, 14 March 2024")
        c.setFillColor(colors.black)
        c.drawString(
            50, 730, "An epoxy primer for vehicles that are being restored, which keeps bare metal from rusting."
        )

    document = drawn(draw)
    assert [h.text for h in document.blocks[-1].section.headings] == ["Corlan Prime 2"]


def test_a_line_underlined_from_end_to_end_is_a_head() -> None:
    def draw(c: Canvas) -> None:
        for y, title, words in (
            (700, "Precautions", "Keep it away from flames."),
            (650, "Storage", "Two years, cool."),
        ):
            c.drawString(50, y, title)
            c.line(50, y - 1.5, 50 + c.stringWidth(title, "Helvetica", 10), y - 1.5)
            c.drawString(50, y - 20, words)

    found = drawn(draw)
    assert said(found) == ["Keep it away from flames.", "Two years, cool."]
    assert [b.section.title.text for b in found.blocks] == ["Precautions", "Storage"]


def test_a_sentence_beneath_a_table_ends_it() -> None:
    rows = [["Coat", "At least", "At most"], ["Itself", "4 h", "any time"], ["Alkyd", "8 h", "30 days"]]

    def draw(c: Canvas) -> None:
        c.setFont("Helvetica", 12)
        for n, row in enumerate(rows):
            for x, cell in zip((50, 180, 300), row, strict=True):
                c.drawString(x, 700 - 17 * n, cell)
        c.setFont("Helvetica", 9)
        c.drawString(50, 640, "Values for 23 degrees and dry air.")
        c.setFont("Helvetica", 12)
        for n, row in enumerate((("Tin", "1 l", "5 l"), ("Covers", "9 m²", "45 m²"))):
            for x, cell in zip((50, 180, 300), row, strict=True):
                c.drawString(x, 610 - 17 * n, cell)

    document = drawn(draw)
    assert grid(tables(document)[0])[-1] == rows[-1]
    assert "Values for 23 degrees and dry air." in said(document)


def test_two_short_lists_side_by_side_amid_running_text_end_where_the_next_heading_stands() -> None:
    def draw(c: Canvas) -> None:
        c.drawString(60, 760, "Primer for two coats")
        c.drawString(60, 744, "It goes onto bare metal")
        c.setFont("Helvetica-Bold", 10)
        c.drawString(60, 720, "Suitable")
        c.drawString(320, 720, "Not suitable")
        c.setFont("Helvetica", 10)
        for n, words in enumerate(("• Bare steel", "• Aluminium", "• Old paint, sanded")):
            c.drawString(60, 706 - 14 * n, words)
        for n, words in enumerate(("• Etch primer", "• Soft lacquer")):
            c.drawString(320, 706 - 14 * n, words)
        c.setFont("Helvetica-Bold", 12)
        c.drawString(60, 640, "Storage")
        c.setFont("Helvetica", 10)
        c.drawString(60, 624, "Two years in the closed tin.")

    blocks = drawn(draw).blocks
    place = {b.passage.text: b.section.title.text for b in blocks if isinstance(b, Statement)}
    assert place["Etch primer"] == place["Soft lacquer"] == "Not suitable"
    assert place["Two years in the closed tin."] == "Storage"
    assert [b.passage.text for b in blocks if isinstance(b, Statement)][-1] == "Two years in the closed tin."
