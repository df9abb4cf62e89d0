"""Forms that hold a table in one of their cells."""

from __future__ import annotations

from reportlab.lib import colors

from extract.document import Statement
from tests.extract.layout.sheets import GRID, grid, heads, laid_out, table, tables, text

_INNER = [("For", "Solid", "Pearl"), ("Tip", "1.3 mm", "1.2 mm"), ("Coats", "2", "3"), ("Dry film", "20 µm", "15 µm")]
_PLAIN = [
    [text("<b>Storing</b>"), text("Keep it above 5 °C. It spoils when it freezes."), "", ""],
    [text("<b>Safety</b>"), text("For trained users. Wear gloves and goggles."), "", ""],
]


def test_a_label_beside_heads_and_rows_is_their_heading() -> None:
    rows = [[text("<b>How to spray</b>") if n == 0 else "", *cells] for n, cells in enumerate(_INNER)]
    span = ("SPAN", (0, 0), (0, -1))
    (found,) = tables(laid_out(table(rows, *GRID, span, ("BACKGROUND", (1, 0), (-1, 0), colors.lightblue))))
    assert [h.text for h in found.section.headings] == ["How to spray"]
    assert found.corner.text == "For"
    assert heads(found) == [["Solid"], ["Pearl"]]
    assert grid(found)[0] == ["Tip", "1.3 mm", "1.2 mm"]


def test_a_table_among_the_rows_of_a_form() -> None:
    rows = [
        *_PLAIN,
        *([text("<b>How to spray</b>") if n == 0 else "", *cells] for n, cells in enumerate(_INNER)),
        [text("<b>Notes</b>"), text("Ask for the cards of the other products."), "", ""],
    ]
    spans = [("SPAN", (0, 2), (0, 5)), *(("SPAN", (1, n), (-1, n)) for n in (0, 1, 6))]
    document = laid_out(table(rows, *GRID, *spans, ("FONTNAME", (1, 2), (-1, 2), "Helvetica-Bold")))
    (found,) = tables(document)
    assert [h.text for h in found.section.headings] == ["How to spray"]
    assert heads(found) == [["Solid"], ["Pearl"]]
    assert [row[0] for row in grid(found)] == ["Tip", "Coats", "Dry film"]
    labels = [b.label.text for b in document.blocks if isinstance(b, Statement) and b.label is not None]
    assert labels == ["Storing", "Storing", "Safety", "Safety", "Notes"]


def test_a_merged_label_under_a_head_of_its_own_names_rows_as_before() -> None:
    rows = [
        ("Stage", "At", "Time"),
        ("Dust dry", "20 °C", "20 min"),
        ("", "60 °C", "5 min"),
        ("To sand", "20 °C", "4 h"),
        ("", "60 °C", "30 min"),
    ]
    spans = [("SPAN", (0, 1), (0, 2)), ("SPAN", (0, 3), (0, 4)), ("FONTNAME", (0, 0), (-1, 0), "Helvetica-Bold")]
    (found,) = tables(laid_out(table(rows, *GRID, *spans)))
    assert [row.group.text for row in found.rows] == ["Dust dry", "Dust dry", "To sand", "To sand"]
