"""Facts and lists that a table, a run of dots or a grid of labels only places: no rows under heads."""

from __future__ import annotations

import pytest
from reportlab.lib import colors
from reportlab.lib.styles import ParagraphStyle
from reportlab.pdfgen.canvas import Canvas

from extract.document import Document, Statement, StatementKind
from tests.extract.layout.sheets import (
    BODY,
    BOLD_HEAD,
    GRID,
    bullets,
    drawn,
    grid,
    head,
    heads,
    laid_out,
    said,
    table,
    tables,
    text,
)


def facts(document: Document) -> list[tuple[str, str]]:
    return [
        (b.label.text, b.passage.text)
        for b in document.blocks
        if isinstance(b, Statement) and b.kind is StatementKind.FIELD and b.label is not None
    ]


def under(document: Document) -> list[tuple[str, str]]:
    """The title over each list item, and the item."""
    return [
        (b.section.title.text, b.passage.text)
        for b in document.blocks
        if isinstance(b, Statement) and b.kind is StatementKind.BULLET
    ]


DO = ["Use on primed panels", "Paint over it within 48 hours"]
DO_NOT = ["Use on bare zinc", "Use over wax or bitumen"]


def test_lists_in_the_cells_of_a_table_stand_under_their_heads() -> None:
    rows = [["Do", "Do not"], [bullets(*DO), bullets(*DO_NOT)]]
    document = laid_out(head("Rules of use"), table(rows, *GRID, BOLD_HEAD), text("Keep it cool."))
    assert under(document) == [*(("Do", i) for i in DO), *(("Do not", i) for i in DO_NOT)]
    after = document.blocks[-1]
    assert [h.text for h in after.section.headings] == ["Rules of use"]


@pytest.mark.parametrize(
    "names", [("Suitable", "Not suitable"), ("DO", "DON'T"), ("May be used on", "May not be used on")]
)
def test_a_list_of_refusals_beside_a_list_of_leaves_has_no_rows(names: tuple[str, str]) -> None:
    rows = [list(names), *([a, b] for a, b in zip(DO, DO_NOT, strict=True)), ["Stir well", ""]]
    document = laid_out(head("Rules of use"), table(rows, *GRID, BOLD_HEAD), table([["Coats", "2"], ["Film", "3"]]))
    assert under(document) == [*((names[0], i) for i in [*DO, "Stir well"]), *((names[1], i) for i in DO_NOT)]
    assert [h.text for h in document.blocks[-1].section.headings] == ["Rules of use"]


def test_a_column_that_says_what_does_not_go_is_a_column_all_the_same() -> None:
    rows = [["Coat", "Not suitable over"], ["Etch primer", "rust"], ["Epoxy primer", "wax"], ["Filler", "etch primer"]]
    (found,) = tables(laid_out(head("Coats"), table(rows, *GRID, BOLD_HEAD)))
    assert found.corner.text == "Coat"
    assert grid(found) == rows[1:]


def test_lists_in_one_column_leave_the_rows_as_they_are() -> None:
    rows = [["Surface", "Preparation"], ["Steel", bullets(*DO)], ["Zinc", bullets(*DO_NOT)]]
    (found,) = tables(laid_out(head("Surfaces"), table(rows, *GRID, BOLD_HEAD)))
    assert heads(found) == [["Preparation"]]
    assert [row.label.text for row in found.rows] == ["Steel", "Zinc"]


def test_labels_over_their_values_side_by_side() -> None:
    small = ParagraphStyle("small", parent=BODY, fontSize=7, fontName="Helvetica-Bold", textColor=colors.navy)
    names = [["MIXING RATIO", "POT LIFE", "VISCOSITY"], ["DRY FILM", "COATS", "NOZZLE"]]
    values = [["4 : 1 by volume", "45 min at 20 °C", "22 s"], ["60 µm", "2 to 3", "1.6 mm"]]
    rows = [
        [text(c, small if line is n else BODY) for c in line]
        for n, v in zip(names, values, strict=True)
        for line in (n, v)
    ]
    expected = [pair for n, v in zip(names, values, strict=True) for pair in zip(n, v, strict=True)]
    assert facts(laid_out(head("Data"), table(rows, colWidths=[120] * 3))) == expected
    plain = [line for n, v in zip(names, values, strict=True) for line in (n, v)]
    assert facts(laid_out(head("Data"), table(plain, *GRID, colWidths=[120] * 3))) == expected


def test_rows_of_figures_in_a_table_are_no_labels() -> None:
    rows = [["Coats", "Thin", "Full"], ["Time", "10 min", "20 min"], ["Film", "20 µm", "40 µm"], ["Coats", "1", "2"]]
    (found,) = tables(laid_out(table(rows, *GRID, BOLD_HEAD)))
    assert grid(found) == rows[1:]


def test_dots_lead_from_a_label_to_its_value() -> None:
    rows = [("Colour", "black or grey"), ("Touch dry at 20 °C", "40 minutes"), ("Film, dry", "250 – 400 µm")]

    def draw(c: Canvas) -> None:
        for n, (label, value) in enumerate(rows):
            y = 700 - 13 * n
            c.drawString(60, y, label + "." * 40)
            c.drawString(60 + c.stringWidth(label + "." * 40, "Helvetica", 10), y, value)
        c.drawString(60, 640, "Signed ................")

    document = drawn(draw)
    assert facts(document) == rows
    assert said(document)[-1].startswith("Signed")


def test_a_line_under_the_numbers_of_a_list_is_no_more_of_its_last_item() -> None:
    def draw(c: Canvas) -> None:
        for y, x, words in (
            (700, 50, "1. Old paint in good order, sanded with P800 or rubbed with a grey"),
            (688, 62, "pad until it is dull all over"),
            (676, 50, "2. Surfacer, sanded with P600"),
            (664, 50, "Never spray on bare metal, body filler or nitro paint."),
        ):
            c.drawString(x, y, words)

    assert said(drawn(draw)) == [
        "Old paint in good order, sanded with P800 or rubbed with a grey pad until it is dull all over",
        "Surfacer, sanded with P600",
        "Never spray on bare metal, body filler or nitro paint.",
    ]


def test_a_numbered_item_that_goes_on_under_its_number_stays_whole() -> None:
    def draw(c: Canvas) -> None:
        for y, words in (
            (700, "1. Old paint in good order, sanded with P800 or rubbed down with a grey pad by"),
            (688, "Marlgrit until it is dull all over and no shine is left on any part of the panel"),
            (676, "2. Surfacer, sanded with P600"),
        ):
            c.drawString(50, y, words)

    assert len(said(drawn(draw))) == 2


def test_pairs_side_by_side_whose_names_tell_at_what_warmth() -> None:
    rows = [
        ("Pot life", "6 h", "Dust dry at 20 °C", "25 min"),
        ("Dry film", "60 µm", "To handle at 20 °C", "6 h"),
        ("Coats", "2", "To sand at 20 °C", "16 h"),
        ("Coverage", "9 m²/l", "Shelf life", "24 months"),
    ]
    found = [
        (b.label.text, b.passage.text)
        for b in laid_out(table(rows, *GRID)).blocks
        if isinstance(b, Statement) and b.label is not None
    ]
    assert sorted(found) == sorted([*(r[:2] for r in rows), *(r[2:] for r in rows)])


def test_cards_of_long_labels_over_their_values() -> None:
    cards = [
        ("Pot life", "6 h"), ("Dry film", "60 µm"), ("Coverage", "9 m²/l"),
        ("Dust dry at 20 °C", "25 min"), ("Dry to handle at 20 °C", "6 h"), ("Ready to sand at 20 °C", "16 h"),
    ]  # fmt: skip
    rows = [[[text(f"<b>{a}</b>"), text(b)] for a, b in cards[n : n + 3]] for n in (0, 3)]
    found = [
        (b.label.text, b.passage.text)
        for b in laid_out(table(rows, *GRID)).blocks
        if isinstance(b, Statement) and b.label is not None
    ]
    assert found == cards
