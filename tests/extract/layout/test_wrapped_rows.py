"""Tables as word processors make them: wrapped cells set in the middle of their row, hairlines between rows."""

from __future__ import annotations

from reportlab.lib import colors
from reportlab.lib.styles import ParagraphStyle
from reportlab.pdfgen.canvas import Canvas

from extract.document import Statement, StatementKind
from tests.extract.layout.sheets import BODY, drawn, grid, head, heads, laid_out, said, table, tables, text

PLAIN = ParagraphStyle("plain", parent=BODY, spaceBefore=0, spaceAfter=0)
HAIR = ("LINEBELOW", (0, 0), (-1, -1), 0.25, colors.grey)
TOP = ("LINEABOVE", (0, 0), (-1, 0), 0.25, colors.grey)
MIDDLE = ("VALIGN", (0, 0), (-1, -1), "MIDDLE")
BOTTOM = ("VALIGN", (0, 0), (-1, -1), "BOTTOM")

COATS = [
    ["Next coat", "Earliest", "Latest without sanding", "Remarks"],
    ["Corlan Topcoat H and other two-pack topcoats of its kind", "20 min", "5 h", "wet on wet"],
    ["Waterborne basecoat", "45 min", "5 h", "only after the film has become matt all over"],
    ["Synthetic resin enamel", "–", "–", "not recommended"],
    ["Polyester putty", "3 h", "no limit", "sand with P240"],
]


def test_rows_set_in_the_middle_between_hairlines_are_whole() -> None:
    for place in (MIDDLE, BOTTOM):
        for wrapped in ([80, 90, 90, 110], [95, 80, 80, 90]):
            rows = [[text(cell, PLAIN) for cell in row] for row in COATS]
            (found,) = tables(laid_out(head("Overcoating"), table(rows, TOP, HAIR, place, colWidths=wrapped)))
            assert found.corner.text == "Next coat", (place, wrapped)
            assert heads(found) == [["Earliest"], ["Latest without sanding"], ["Remarks"]]
            assert grid(found) == COATS[1:]


def test_facts_in_the_middle_between_hairlines_keep_their_labels() -> None:
    rows = [
        ["What it is", "Two-pack primer filler with a high build, for sanding or wet on wet; grey, white or black."],
        ["Mixing ratio", "4 parts filler to 1 part hardener,<br/>by volume,<br/>with the stick"],
        ["Pot life (20 °C)", "1 hour"],
        ["Until it can be sanded,<br/>at 20 °C / at 60 °C", "3 hours / 30 minutes"],
        ["Dry film", "60 – 150 µm"],
    ]
    cells = [[text(cell, PLAIN) for cell in row] for row in rows]
    document = laid_out(head("Data"), table(cells, TOP, HAIR, MIDDLE, colWidths=[120, 200]), text("Stir well."))
    found = [
        (b.label.text, b.passage.text)
        for b in document.blocks
        if isinstance(b, Statement) and b.kind is StatementKind.FIELD and b.label is not None
    ]
    assert found == [(a.replace("<br/>", " "), b.replace("<br/>", " ")) for a, b in rows]
    assert said(document)[-1] == "Stir well."


def test_labels_with_their_own_blanks_read_line_by_line() -> None:
    facts = [("Gun:", 36, "1.6 - 1.8 mm"), ("Pressure:", 72, "2 bar"), ("Coats:", 36, "2 - 3"), ("Flash:", 72, "8 min")]

    def draw(c: Canvas) -> None:
        for n, (label, tab, value) in enumerate(facts):
            c.drawString(90, 700 - 24 * n, label)
            c.drawString(90 + tab, 700 - 24 * n, value)

    found = [
        (b.label.text.rstrip(":") if b.label else "", b.passage.text)
        for b in drawn(draw).blocks
        if isinstance(b, Statement)
    ]
    assert found == [(label.rstrip(":"), value) for label, _, value in facts]


def test_a_label_of_three_lines_whose_middle_one_stands_level_with_the_row() -> None:
    def draw(c: Canvas) -> None:
        for y, places in (
            (700, ((60, "Ground"), (160, "Fit"), (240, "Make ready by"))),
            (680, ((60, "Bare steel"), (160, "yes"), (240, "P120"))),
            (658, ((60, "Sound old"),)),
            (646, ((60, "paint, hard"), (160, "yes"), (240, "P320"))),
            (634, ((60, "all through"),)),
            (612, ((60, "Etch primer"), (160, "no"), (240, "strip"))),
            (592, ((60, "Soft lacquer"), (160, "no"), (240, "strip"))),
        ):
            for x, words in places:
                c.drawString(x, y, words)

    (found,) = tables(drawn(draw))
    assert grid(found) == [
        ["Bare steel", "yes", "P120"],
        ["Sound old paint, hard all through", "yes", "P320"],
        ["Etch primer", "no", "strip"],
        ["Soft lacquer", "no", "strip"],
    ]


def test_a_line_alone_over_a_row_that_begins_anew_is_none_of_its_label() -> None:
    def draw(c: Canvas) -> None:
        for y, places in (
            (700, ((60, "Ground"), (160, "Fit"), (240, "Make ready by"))),
            (684, ((60, "Bare steel"), (160, "yes"), (240, "P120"))),
            (668, ((60, "Old paint"),)),
            (652, ((60, "Hard"), (160, "yes"), (240, "P320"))),
            (636, ((60, "Soft"), (160, "no"), (240, "strip"))),
        ):
            for x, words in places:
                c.drawString(x, y, words)

    (found,) = tables(drawn(draw))
    assert [row for row in grid(found) if row[1]] == [
        ["Bare steel", "yes", "P120"],
        ["Hard", "yes", "P320"],
        ["Soft", "no", "strip"],
    ]
