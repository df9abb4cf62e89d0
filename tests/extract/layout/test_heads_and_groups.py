"""Heads in filled or open cells over ruled rows, rows that head others, names in two steps, numbered lists."""

from __future__ import annotations

from collections.abc import Sequence

from reportlab.lib import colors
from reportlab.pdfgen.canvas import Canvas

from extract.document import Document, Statement, StatementKind
from tests.extract.layout.sheets import GRID, drawn, grid, head, heads, laid_out, said, table, tables

EDGES = (50, 200, 280, 360, 440, 520)


def filled(c: Canvas, x0: float, top: float, x1: float, bottom: float, words: str) -> None:
    c.setFillColor(colors.navy)
    c.rect(x0, bottom, x1 - x0, top - bottom, fill=1, stroke=0)
    c.setFillColor(colors.white)
    c.drawCentredString((x0 + x1) / 2, (top + bottom) / 2 - 3, words)
    c.setFillColor(colors.black)


def ruled(c: Canvas, top: float, edges: Sequence[float], found: Sequence[Sequence[str]]) -> None:
    for n, row in enumerate(found):
        for x0, x1, cell in zip(edges, edges[1:], row, strict=False):
            c.rect(x0, top - 18 * (n + 1), x1 - x0, 18)
            c.drawString(x0 + 4, top - 18 * n - 13, cell)


def facts(document: Document) -> list[tuple[str, str, str]]:
    return [
        (b.section.title.text, b.label.text if b.label else "", b.passage.text)
        for b in document.blocks
        if isinstance(b, Statement) and b.kind is StatementKind.FIELD
    ]


def test_filled_heads_in_three_levels_over_ruled_rows() -> None:
    body = [["40 µm", "1 h", "3 d", "2 h", "5 d"], ["80 µm", "2 h", "3 d", "4 h", "5 d"]]

    def draw(c: Canvas) -> None:
        filled(c, 50, 754, 200, 700, "Dry film")
        filled(c, 200, 754, 520, 736, "Next coat after (20 °C)")
        filled(c, 200, 736, 360, 718, "Itself")
        filled(c, 360, 736, 520, 718, "Topcoat")
        for n, words in enumerate(("min.", "max.", "min.", "max.")):
            filled(c, EDGES[n + 1], 718, EDGES[n + 2], 700, words)
        ruled(c, 700, EDGES, body)

    (found,) = tables(drawn(draw))
    assert found.corner.text == "Dry film"
    assert heads(found) == [
        ["Next coat after (20 °C)", of, end] for of in ("Itself", "Topcoat") for end in ("min.", "max.")
    ]
    assert grid(found) == body


def test_a_filled_bar_over_a_table_is_no_head_of_its_columns() -> None:
    def draw(c: Canvas) -> None:
        filled(c, 50, 718, 280, 700, "DRYING TIMES")
        ruled(c, 700, (50, 200, 280), [["Touch dry", "1 h"], ["Hard", "8 h"], ["Cured", "7 d"]])

    assert [(label, value) for _, label, value in facts(drawn(draw))] == [
        ("Touch dry", "1 h"),
        ("Hard", "8 h"),
        ("Cured", "7 d"),
    ]


def test_bold_heads_stand_open_over_ruled_rows() -> None:
    def draw(c: Canvas) -> None:
        c.drawString(50, 740, "The times hold for a film of the thickness that is given in the table of data.")
        c.setFont("Helvetica-Bold", 10)
        for x, words in zip((54, 204, 284), ("Property", "Value", "Unit"), strict=True):
            c.drawString(x, 704, words)
        c.setFont("Helvetica", 10)
        ruled(c, 700, EDGES[:4], [["Density", "1.4", "kg/l"], ["Solids", "52", "%"], ["Cover", "8.6", "m²/l"]])

    document = drawn(draw)
    (found,) = tables(document)
    assert found.corner.text == "Property"
    assert heads(found) == [["Value"], ["Unit"]]
    assert grid(found) == [["Density", "1.4", "kg/l"], ["Solids", "52", "%"], ["Cover", "8.6", "m²/l"]]
    assert len(said(document)) == 1


GROUPED = [
    ["Wet paint", ""],
    ["Density", "1.4 kg/l"],
    ["Solids", "52 %"],
    ["Dry film at 60 µm", ""],
    ["Cover", "8.6 m²/l"],
    ["Touch dry", "30 min"],
]


def test_rows_over_several_facts_head_them() -> None:
    bold = [("FONTNAME", (0, n), (-1, n), "Helvetica-Bold") for n in (0, 3)]
    spans = [("SPAN", (0, n), (-1, n)) for n in (0, 3)]
    document = laid_out(head("Data"), table(GROUPED, *GRID, *bold, *spans, colWidths=[150, 150]))
    assert facts(document) == [
        ("Wet paint", "Density", "1.4 kg/l"),
        ("Wet paint", "Solids", "52 %"),
        ("Dry film at 60 µm", "Cover", "8.6 m²/l"),
        ("Dry film at 60 µm", "Touch dry", "30 min"),
    ]


def test_names_in_two_steps_without_heads() -> None:
    rows = [
        ["Drying time", "at 10 °C", "6 hours"],
        ["", "at 20 °C", "3 hours"],
        ["Recoating", "minimum", "2 hours"],
        ["", "maximum", "7 days"],
    ]
    assert [(label, value) for _, label, value in facts(laid_out(head("Times"), table(rows)))] == [
        ("Drying time at 10 °C", "6 hours"),
        ("Drying time at 20 °C", "3 hours"),
        ("Recoating minimum", "2 hours"),
        ("Recoating maximum", "7 days"),
    ]


def test_numbers_set_apart_open_items_and_no_table() -> None:
    steps = ["Stir well.", "Put on two coats by brush.", "Wait for twelve hours between them."]

    def draw(c: Canvas) -> None:
        c.drawString(50, 720, "This is how it is done:")
        for n, words in enumerate(steps):
            c.drawString(60, 700 - 14 * n, f"{n + 1}.")
            c.drawString(84, 700 - 14 * n, words)

    document = drawn(draw)
    found = [b for b in document.blocks if isinstance(b, Statement) and b.kind is StatementKind.BULLET]
    assert [(b.mark, b.passage.text) for b in found] == [(f"{n}.", words) for n, words in enumerate(steps, 1)]
    assert all(b.lead is not None and b.lead.text == "This is how it is done:" for b in found)


def test_columns_of_a_table_stay_apart_though_its_rows_are_numbered() -> None:
    rows = [["No.", "Part", "Share"], ["1.", "Base", "4"], ["2.", "Hardener", "1"], ["3.", "Thinner", "10 %"]]
    (found,) = tables(laid_out(table(rows, *GRID)))
    assert heads(found)[-1] == ["Share"]
    assert [row.label.text for row in found.rows] == ["Base", "Hardener", "Thinner"]


def _doubled(*style: tuple[object, ...]) -> list[list[str]]:
    rows = [
        ("Next coat", "10 °C", "", "20 °C", ""),
        ("", "min", "max", "min", "max"),
        ("Hobnail 3", "1 h", "7 days", "30 min", "5 days"),
        ("Surfacer", "2 h", "5 days", "1 h", "72 h"),
        ("Base coat", "90 min", "36 h", "45 min", "24 h"),
    ]
    spans = [("SPAN", (1, 0), (2, 0)), ("SPAN", (3, 0), (4, 0)), ("SPAN", (0, 0), (0, 1))]
    bold = ("FONTNAME", (0, 0), (-1, 1), "Helvetica-Bold")
    (found,) = tables(laid_out(table(rows, bold, *spans, *style, colWidths=[140, 70, 70, 70, 70])))
    assert grid(found)[0] == ["Hobnail 3", "1 h", "7 days", "30 min", "5 days"]
    return heads(found)


def test_heads_set_to_the_left_over_heads_that_repeat() -> None:
    striped = [("BACKGROUND", (0, n), (-1, n), colors.whitesmoke) for n in (0, 1, 3)]
    assert _doubled(*striped) == [["10 °C", "min"], ["10 °C", "max"], ["20 °C", "min"], ["20 °C", "max"]]


def test_heads_over_rules_of_their_own_above_heads_that_repeat() -> None:
    under = [("LINEBELOW", (a, 0), (b, 0), 0.4, colors.grey) for a, b in ((1, 2), (3, 4))]
    centred = ("ALIGN", (1, 0), (-1, 0), "CENTER")
    rules = ("LINEBELOW", (0, 1), (-1, -1), 0.4, colors.grey)
    assert _doubled(rules, centred, *under) == [["10 °C", "min"], ["10 °C", "max"], ["20 °C", "min"], ["20 °C", "max"]]
