"""Tables as makers draw them: closed, open, shaded, by alignment, over pages."""

from reportlab.lib import colors

from extract.document import evidence_of
from tests.extract.layout.sheets import (
    BOLD_HEAD,
    GRID,
    SMALL,
    Turned,
    bullets,
    grid,
    head,
    heads,
    laid_out,
    said,
    table,
    tables,
    text,
)

TIMES = [["Stage", "10 °C", "20 °C"], ["Dust free", "60 min", "30 min"], ["Sandable", "24 h", "12 h"]]
READ = [["Dust free", "60 min", "30 min"], ["Sandable", "24 h", "12 h"]]


def test_the_same_table_however_it_is_drawn() -> None:
    shades = ("ROWBACKGROUNDS", (0, 0), (-1, -1), [colors.lightgrey, colors.white])
    below_head = ("LINEBELOW", (0, 0), (-1, 0), 0.5, colors.black)
    book = [
        ("LINEABOVE", (0, 0), (-1, 0), 1, colors.black),
        below_head,
        ("LINEBELOW", (0, -1), (-1, -1), 1, colors.black),
    ]
    dark = [("BACKGROUND", (0, 0), (-1, 0), colors.navy), ("TEXTCOLOR", (0, 0), (-1, 0), colors.white)]
    for style in (
        [*GRID, BOLD_HEAD],
        GRID,
        [],
        [below_head],
        book,
        [shades, BOLD_HEAD],
        [("BOX", (0, 0), (-1, -1), 1, colors.black), BOLD_HEAD],
        [("LINEBELOW", (0, 0), (-1, -1), 0.5, colors.black), BOLD_HEAD],
        [*dark, BOLD_HEAD, ("LINEBELOW", (0, 1), (-1, -1), 0.3, colors.grey)],
    ):
        document = laid_out(
            head("Drying"), table(TIMES, *style), text("These times hold for one coat on sanded steel.")
        )
        found = tables(document)
        assert len(found) == 1, style
        assert grid(found[0]) == READ, style
        assert heads(found[0]) == [["10 °C"], ["20 °C"]], style
        assert found[0].corner.text == "Stage"
        assert found[0].section.title.text == "Drying"
        assert said(document) == ["These times hold for one coat on sanded steel."]


def test_merged_heads_stand_over_each_column_that_they_cover() -> None:
    rows = [
        ["Next coat", "At 10 °C", "", "At 20 °C", ""],
        ["", "earliest", "latest", "earliest", "latest"],
        ["Itself", "6 h", "5 d", "3 h", "3 d"],
        ["Topcoat", "no", "", "", ""],
    ]
    spans = [("SPAN", (0, 0), (0, 1)), ("SPAN", (1, 0), (2, 0)), ("SPAN", (3, 0), (4, 0)), ("SPAN", (1, 3), (4, 3))]
    bold = ("FONTNAME", (0, 0), (-1, 1), "Helvetica-Bold")
    found = tables(laid_out(table(rows, *GRID, *spans, bold)))[0]
    assert found.corner.text == "Next coat"
    assert heads(found) == [
        ["At 10 °C", "earliest"],
        ["At 10 °C", "latest"],
        ["At 20 °C", "earliest"],
        ["At 20 °C", "latest"],
    ]
    assert grid(found) == [["Itself", "6 h", "5 d", "3 h", "3 d"], ["Topcoat", "no", "no", "no", "no"]]


def test_turned_heads() -> None:
    rows = [["Product", Turned("Bare steel"), Turned("Old paint")], ["QX 12", "yes", "no"], ["QX 14", "no", "–"]]
    found = tables(laid_out(table(rows, *GRID, ("FONTNAME", (0, 0), (0, 0), "Helvetica-Bold"))))[0]
    assert heads(found) == [["Bare steel"], ["Old paint"]]
    assert grid(found) == [["QX 12", "yes", "no"], ["QX 14", "no", "–"]]


def test_rows_that_head_others_are_groups() -> None:
    rows = [
        ["", "20 °C", "30 °C"],
        ["At 50 % RH", "", ""],
        ["Touch", "2 h", "1 h"],
        ["At 80 % RH", "", ""],
        ["Touch", "3 h", "2 h"],
    ]
    bold = [("FONTNAME", (0, r), (-1, r), "Helvetica-Bold") for r in (0, 1, 3)]
    found = tables(laid_out(table(rows, *GRID, *bold, ("SPAN", (0, 1), (2, 1)), ("SPAN", (0, 3), (2, 3)))))[0]
    assert [(r.group.text, r.label.text) for r in found.rows] == [("At 50 % RH", "Touch"), ("At 80 % RH", "Touch")]


def test_a_label_stands_for_the_rows_below_it_too() -> None:
    rows = [
        ["Next coat", "Panel", "Earliest", "Latest"],
        ["Itself", "10 °C", "6 h", "5 d"],
        ["", "20 °C", "3 h", "3 d"],
    ]
    found = tables(laid_out(table(rows)))[0]
    assert grid(found) == [["Itself", "10 °C", "6 h", "5 d"], ["Itself", "20 °C", "3 h", "3 d"]]


def test_a_table_goes_on_after_the_page_with_and_without_its_head() -> None:
    rows = [["Surface", "May it?", "Preparation"]]
    rows += [[f"Surface {n}", "yes", f"sand P{100 + n}"] for n in range(55)]
    for repeat in (0, 1):
        found = tables(laid_out(table(rows, *GRID, BOLD_HEAD, repeatRows=repeat)))
        assert len(found) == 1
        assert [r.label.text for r in found[0].rows] == [f"Surface {n}" for n in range(55)]
        assert heads(found[0]) == [["May it?"], ["Preparation"]]


def test_the_one_row_before_the_page_ends_keeps_its_label_though_it_begins_with_a_figure() -> None:
    rows = [["Next coat", "Earliest", "Latest"], ["2K surfacer", "1 h", "3 days"]]
    found = tables(laid_out(table(rows, *GRID, BOLD_HEAD)))[0]
    assert grid(found) == [["2K surfacer", "1 h", "3 days"]]
    assert heads(found) == [["Earliest"], ["Latest"]]


def test_notes_reach_the_cells_that_call_for_them() -> None:
    rows = [
        ["Surface", "May it?", "Preparation"],
        [text("Old paint<super>1)</super>"), "yes", "sand P320"],
        ["Zinc*", "yes", "P400"],
        ["Wood", "no", "–"],
    ]
    document = laid_out(
        table(rows, *GRID, BOLD_HEAD),
        text("<super>1)</super> Edges only.", SMALL),
        text("* Hot-dip zinc never.", SMALL),
        text("Wipe all of them with a clean cloth before the first coat is put on."),
    )
    found = tables(document)[0]
    assert [r.label.text for r in found.rows] == ["Old paint", "Zinc", "Wood"]
    assert [[n.text for n in r.notes] for r in found.rows] == [["Edges only."], ["Hot-dip zinc never."], []]


def test_two_columns_without_heads_are_fields() -> None:
    document = laid_out(table([["Pot life", "6 h at 20 °C"], ["Thinner", "5–10 %"], ["Ratio", "4 : 1"]], *GRID))
    fields = [(b.label.text, b.passage.text) for b in document.blocks if hasattr(b, "label") and b.label]
    assert fields == [("Pot life", "6 h at 20 °C"), ("Thinner", "5–10 %"), ("Ratio", "4 : 1")]


def test_a_form_reads_as_headings_with_their_text() -> None:
    rows = [
        [text("<b>Use</b>"), text("A fast surfacer. It sands well after two hours.")],
        [text("<b>Substrates</b>"), [bullets("bare steel", "epoxy primers within 3 days")]],
        [text("<b>Pot life</b>"), text("45 min at 20 °C")],
    ]
    document = laid_out(table(rows, *GRID, ("VALIGN", (0, 0), (-1, -1), "TOP"), colWidths=[100, 340]))
    assert [(b.section.title.text, b.passage.text) for b in document.blocks] == [
        ("Use", "A fast surfacer."),
        ("Use", "It sands well after two hours."),
        ("Substrates", "bare steel"),
        ("Substrates", "epoxy primers within 3 days"),
        ("Pot life", "45 min at 20 °C"),
    ]


def test_evidence_of_a_cell_has_a_box_a_line() -> None:
    long = text("Cellulose, one-pack acrylic and thermoplastic paint of any age")
    found = tables(
        laid_out(table([["Surface", "May it?"], [long, "no"], ["Steel", "yes"]], *GRID, BOLD_HEAD, colWidths=[120, 80]))
    )[0]
    label, cell = found.rows[0].label.passage, found.rows[0].cells[0].passage
    assert len(label.evidence().boxes) >= 2
    assert evidence_of([label, cell]).quote.endswith("of any age … no")
