"""Tables that makers set in their own way: upright heads over no rules, open sides, two that touch, keys below."""

from __future__ import annotations

import itertools
from collections.abc import Sequence

from reportlab.lib import colors
from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import Spacer

from extract.document import Statement
from tests.extract.layout.sheets import GRID, drawn, grid, head, heads, laid_out, said, table, tables, text


def upright(canvas: Canvas, words: str, x: float, y: float) -> None:
    canvas.saveState()
    canvas.translate(x, y)
    canvas.rotate(90)
    canvas.drawString(0, 0, words)
    canvas.restoreState()


def row(canvas: Canvas, y: float, places: Sequence[float], words: Sequence[str]) -> None:
    for x, word in zip(places, words, strict=True):
        canvas.drawString(x, y, word)


def test_upright_heads_over_no_rules_name_rows_and_a_key_explains_their_signs() -> None:
    places = [50, 170, 210, 250, 290, 330]

    def draw(c: Canvas) -> None:
        for x, name in zip(places[1:], ("steel", "zinc", "e-coat", "etch primer", "old paint"), strict=True):
            upright(c, name, x + 4, 700)
        row(c, 685, places, ("apply on", "o", "x", "o 1)", "x", "o"))
        c.line(50, 682, 350, 682)
        row(c, 670, places, ("sand first", "P80", "", "P320", "", "P240"))
        c.line(50, 667, 350, 667)
        c.drawString(50, 650, "o yes")
        c.drawString(100, 650, "x no")
        c.drawString(150, 650, "1) hardened for 24 h")

    document = drawn(draw)
    (found,) = tables(document)
    assert heads(found) == [["apply on"], ["sand first"]]
    assert grid(found) == [
        ["steel", "o", "P80"],
        ["zinc", "x", ""],
        ["e-coat", "o", "P320"],
        ["etch primer", "x", ""],
        ["old paint", "o", "P240"],
    ]
    assert [p.text for p in found.legend] == ["o yes", "x no"]
    assert [n.text for n in found.rows[2].notes] == ["hardened for 24 h"]


def test_upright_heads_between_rules_that_leave_the_sides_open() -> None:
    def draw(c: Canvas) -> None:
        for x, name in ((180, "Steel"), (220, "Aluminium"), (260, "Old paint")):
            upright(c, name, x, 700)
        for x in (150, 200, 240):
            c.line(x, 650, x, 760)
        for y in (695, 672, 650):
            c.line(50, y, 300, y)
        c.drawString(55, 700, "Ground")
        row(c, 680, (55, 172, 213, 253), ("Suitable", "+", "-", "+"))
        row(c, 657, (55, 168, 213, 250), ("Grit", "P80", "", "P320"))

    (found,) = tables(drawn(draw))
    assert found.corner.text == "Ground"
    assert heads(found) == [["Suitable"], ["Grit"]]
    assert grid(found) == [["Steel", "+", "P80"], ["Aluminium", "-", ""], ["Old paint", "+", "P320"]]


def test_tables_that_touch_are_told_apart_by_their_columns() -> None:
    first = [["ground", "yes", "no", "note"], ["bare steel", "X", "", "P80"], ["old putty", "", "X", "remove"]]
    second = [["", "solid", "metallic"], ["thinner", "10 %", "20 %"], ["coats", "2", "3"]]
    third = [["over it", "yes", "no"], ["2K clear", "X", ""], ["1K clear", "", "X"]]
    document = laid_out(
        table(first, *GRID, colWidths=[130, 50, 50, 170]),
        table(second, *GRID, colWidths=[160, 120, 120]),
        table(third, *GRID, colWidths=[130, 150, 120]),
    )
    found = tables(document)
    assert [t.corner.text for t in found] == ["ground", "", "over it"]
    assert [heads(t) for t in found] == [
        [["yes"], ["no"], ["note"]],
        [["solid"], ["metallic"]],
        [["yes"], ["no"]],
    ]
    assert grid(found[0]) == first[1:]
    assert grid(found[2]) == third[1:]


def test_plain_heads_over_words_are_known_by_what_they_say() -> None:
    rows = [
        ["Substrate", "Suitable", "Pre-treatment"],
        ["Bare steel", "very well", "abrade and degrease"],
        ["Old enamel", "with care", "matt down"],
        ["Bitumen", "never", "take off wholly"],
    ]
    for style in (GRID, [("LINEBELOW", (0, 0), (-1, -1), 0.25, colors.grey)], []):
        (found,) = tables(laid_out(head("Where it goes"), table(rows, *style)))
        assert found.corner.text == "Substrate", style
        assert heads(found) == [["Suitable"], ["Pre-treatment"]], style
        assert grid(found) == rows[1:], style


def test_a_first_row_that_is_no_head_stays_a_row() -> None:
    rows = [["Thinner", "5 %", "10 %"], ["Pressure", "2 bar", "3 bar"], ["Coats", "2", "3"]]
    (found,) = tables(laid_out(table(rows, *GRID)))
    assert grid(found) == rows


def test_pairs_side_by_side_become_rows() -> None:
    rows = [
        ["Base material", "", "", ""],
        ["Iron", "o", "Plastic", "x"],
        ["Zinc", "x", "Wood", "o"],
        ["Old paint", "x 2)", "Glass", "/"],
    ]
    document = laid_out(
        table(rows, *GRID, ("SPAN", (0, 0), (-1, 0)), colWidths=90),
        text("o can be used, x cannot be used, / not known. 2) after a sanding with 600"),
    )
    (found,) = tables(document)
    assert found.title.text == "Base material"
    assert [r[0] for r in grid(found)] == ["Iron", "Zinc", "Old paint", "Plastic", "Wood", "Glass"]
    assert [r[1] for r in grid(found)] == ["o", "x", "x", "x", "o", "/"]
    assert [n.text for n in found.rows[2].notes] == ["after a sanding with 600"]
    assert [p.text for p in found.legend] == ["o can be used,", "x cannot be used,", "/ not known."]


def test_pairs_of_labels_and_figures_become_fields() -> None:
    rows = [
        ["Wet film", "120 µm", "Solids", "52 %"],
        ["Coats", "2", "Weight", "1.3 kg/l"],
        ["Flash-off", "8 min", "Gun", "1.6 mm"],
    ]
    found = {
        b.label.text: b.passage.text
        for b in laid_out(table(rows, *GRID)).blocks
        if isinstance(b, Statement) and b.label
    }
    assert found == {
        "Wet film": "120 µm", "Coats": "2", "Flash-off": "8 min", "Solids": "52 %", "Weight": "1.3 kg/l",
        "Gun": "1.6 mm",
    }  # fmt: skip


def test_facts_strewn_over_columns_keep_their_names() -> None:
    places = (50, 130, 250, 350, 440)

    def draw(c: Canvas) -> None:
        row(c, 700, places, ("gun", "gravity 1.4 mm", "", "", "2 bar"))
        row(c, 686, places, ("thin", "5 - 10 %", "water", "", ""))
        row(c, 672, places, ("coats", "2", "flash-off", "15 min", ""))
        row(c, 658, places, ("wet film", "120 µm", "dry film", "50 µm", ""))
        row(c, 644, places, ("dry 20 °C", "dust 30 min", "touch 1 h", "through 24 h", ""))

    facts = [
        (b.label.text, b.passage.text) for b in drawn(draw).blocks if isinstance(b, Statement) and b.label is not None
    ]
    assert ("flash-off", "15 min") in facts
    assert ("thin", "5 - 10 % water") in facts
    assert ("dry film", "50 µm") in facts
    assert ("dry 20 °C", "through 24 h") in facts


def test_notes_run_on_in_one_line_of_small_print() -> None:
    rows = [["Ground", "fit", "unfit"], ["Zinc", "x 1)", ""], ["Nitro", "x 2)", ""], ["Putty", "", "x"]]
    document = laid_out(
        table(rows, *GRID),
        text("x = applies. 1) Only small spots; whole parts need a primer. 2) Try it first on a hidden spot."),
    )
    (found,) = tables(document)
    assert [[n.text for n in r.notes] for r in found.rows] == [
        ["Only small spots; whole parts need a primer."],
        ["Try it first on a hidden spot."],
        [],
    ]
    assert [c.text for c in found.rows[0].cells] == ["x", ""]
    assert [p.text for p in found.legend] == ["x = applies."]


def test_a_head_in_two_levels_with_one_rule_beneath() -> None:
    places = (50, 160, 230, 300, 370)

    def draw(c: Canvas) -> None:
        c.drawString(182, 700, "At 10 °C")
        c.drawString(322, 700, "At 25 °C")
        row(c, 687, places, ("Next coat", "earliest", "latest", "earliest", "latest"))
        c.line(50, 683, 420, 683)
        row(c, 670, places, ("Surfacer", "2 h", "24 h", "1 h", "12 h"))
        row(c, 656, places, ("Itself", "1 h", "48 h", "30 min", "24 h"))

    (found,) = tables(drawn(draw))
    assert heads(found) == [
        ["At 10 °C", "earliest"],
        ["At 10 °C", "latest"],
        ["At 25 °C", "earliest"],
        ["At 25 °C", "latest"],
    ]
    assert found.corner.text == "Next coat"
    assert grid(found)[1] == ["Itself", "1 h", "48 h", "30 min", "24 h"]


def test_a_table_beneath_a_list_and_over_prose_keeps_to_itself() -> None:
    document = laid_out(
        text("Sand the ground and wipe it down before the first coat goes on."),
        Spacer(1, 6),
        table([["", "20 °C", "60 °C"], ["Dust", "20 min", "5 min"], ["Sand", "3 h", "30 min"]],
              ("LINEBELOW", (0, 0), (-1, 0), 0.5, colors.black), hAlign="LEFT"),
        text("Longer times hold for thick films and for cold or still air in the shop."),
    )  # fmt: skip
    (found,) = tables(document)
    assert heads(found) == [["20 °C"], ["60 °C"]]
    assert said(document) == [
        "Sand the ground and wipe it down before the first coat goes on.",
        "Longer times hold for thick films and for cold or still air in the shop.",
    ]


def test_rows_parted_by_blanks_alone_inside_one_drawn_row() -> None:
    def draw(c: Canvas) -> None:
        for y in (720, 700, 640):
            c.line(50, y, 350, y)
        for x in (50, 170, 260, 350):
            c.line(x, 640, x, 720)
        row(c, 706, (55, 175, 265), ("Next coat", "Earliest", "Latest"))
        row(c, 686, (55, 175, 265), ("Epoxy primer", "4 h", "7 days"))
        row(c, 668, (55, 175, 265), ("Surfacer", "2 h", "24 h"))
        row(c, 650, (55, 175, 265), ("Topcoat", "16 h", "3 days"))

    (found,) = tables(drawn(draw))
    assert heads(found) == [["Earliest"], ["Latest"]]
    assert grid(found) == [
        ["Epoxy primer", "4 h", "7 days"],
        ["Surfacer", "2 h", "24 h"],
        ["Topcoat", "16 h", "3 days"],
    ]


def test_rules_drawn_cell_by_cell_give_the_columns() -> None:
    edges = (50, 250, 310, 400)

    def draw(c: Canvas) -> None:
        for y in (696, 664, 642):
            for left, right in itertools.pairwise(edges):
                c.line(left, y, right, y)
        row(c, 702, (53, 253, 313), ("Surface", "Result", "Remark"))
        c.drawString(53, 684, "Bright steel or aluminium that has been")
        c.drawString(53, 671, "abraded and wiped")
        row(c, 677.5, (253, 313), ("very good", "thin coat"))
        row(c, 650, (53, 253, 313), ("Rust", "poor", "remove it"))

    (found,) = tables(drawn(draw))
    assert found.corner.text == "Surface"
    assert heads(found) == [["Result"], ["Remark"]]
    assert grid(found) == [
        ["Bright steel or aluminium that has been abraded and wiped", "very good", "thin coat"],
        ["Rust", "poor", "remove it"],
    ]


def test_a_long_label_that_comes_close_to_the_next_column_is_no_part_of_it() -> None:
    places = (50, 164, 220, 280)

    def draw(c: Canvas) -> None:
        row(c, 700, places, ("Top coat", "from", "until", "sanded, until"))
        row(c, 686, places, ("2K topcoats", "1 h", "24 h", "6 months"))
        row(c, 672, places, ("Waterborne basecoats.", "2 h", "12 h", "6 months"))
        row(c, 658, places, ("Enamels", "4 h", "48 h", "6 months"))

    (found,) = tables(drawn(draw))
    assert grid(found)[1] == ["Waterborne basecoats.", "2 h", "12 h", "6 months"]


def test_upright_rules_alone_part_columns_and_blanks_part_rows() -> None:
    def draw(c: Canvas) -> None:
        c.rect(50, 630, 300, 85)
        for x in (150, 200):
            c.line(x, 630, x, 715)
        for n, printed in enumerate(
            (
                ("Ground", "Fit", "Make ready by"),
                ("Steel", "+", "P120, degrease"),
                ("Zinc", "-", "wash primer first"),
                ("1K paint", "-", "take off"),
            )
        ):
            row(c, 700 - 20 * n, (55, 155, 205), printed)

    (found,) = tables(drawn(draw))
    assert heads(found) == [["Fit"], ["Make ready by"]]
    assert grid(found) == [
        ["Steel", "+", "P120, degrease"],
        ["Zinc", "-", "wash primer first"],
        ["1K paint", "-", "take off"],
    ]


def spanned(*temperatures: str, label: str = "Maximum", first: bool = False) -> list[list[str]]:
    """A table over level rules alone whose last row has one value, in the middle of all columns or in the first."""
    middles = [220 + 80 * n for n in range(len(temperatures))]

    def draw(c: Canvas) -> None:
        for y in (712, 696, 648):
            c.line(60, y, 460, y)
        for y, name, words in (
            (700, "", temperatures),
            (682, "Minimum", ("6 h", "4 h", "2 h")),
            (668, "Touch dry", ("3 h", "2 h", "1 h")),
        ):
            c.drawString(62, y, name)
            for x, word in zip(middles, words, strict=False):
                c.drawCentredString(x, y, word)
        c.drawString(62, 654, label)
        c.drawCentredString(middles[0] if first else (middles[0] + middles[-1]) / 2, 654, "7 days")

    (found,) = tables(drawn(draw))
    return grid(found)


def test_a_value_in_the_middle_of_columns_of_one_sort_holds_for_all_of_them() -> None:
    assert spanned("15 °C", "20 °C", "30 °C")[-1] == ["Maximum", "7 days", "7 days", "7 days"]
    assert spanned("15 °C", "20 °C")[-1] == ["Maximum", "7 days", "7 days"]


def test_only_a_latest_time_may_stand_in_one_column_for_all() -> None:
    three = ("15 °C", "20 °C", "30 °C")
    assert spanned(*three, first=True)[-1] == ["Maximum", "7 days", "7 days", "7 days"]
    assert spanned(*three, first=True, label="Full cure")[-1] == ["Full cure", "7 days", "", ""]
    assert spanned(*three, label="Full cure")[-1] == ["Full cure", "", "7 days", ""]


def test_a_value_in_the_middle_of_columns_of_different_sorts_is_the_middle_ones() -> None:
    assert spanned("Surfacer", "Topcoat", "Itself")[-1] == ["Maximum", "", "7 days", ""]


def listed(value_place: float) -> list[tuple[str, str]]:
    """What is read of labels and values that begin at that place; the longest label ends at 158 points."""
    facts = [
        ("Volume solids", "47 %"),
        ("Theoretical coverage", "9 m2/l at 50 µm"),
        ("Wet film", "105 µm"),
        ("Colour", "grey"),
    ]

    def draw(c: Canvas) -> None:
        for n, (label, value) in enumerate(facts):
            c.drawString(62, 700 - 13 * n, label)
            c.drawString(value_place, 700 - 13 * n, value)

    statements = [b for b in drawn(draw).blocks if isinstance(b, Statement)]
    return [(s.label.text if s.label else "", s.passage.text) for s in statements]


def test_the_longest_label_of_a_list_may_all_but_touch_its_value() -> None:
    assert (
        listed(161)
        == listed(175)
        == [
            ("Volume solids", "47 %"),
            ("Theoretical coverage", "9 m2/l at 50 µm"),
            ("Wet film", "105 µm"),
            ("Colour", "grey"),
        ]
    )


COATS = [
    ("Surfacer", "1 h", "9 h", "P240"),
    ("Topcoat", "2 h", "8 h", "P320"),
    ("Filler", "9 h", "3 d", "P120"),
    ("Sealer", "1 h", "8 h", "P320"),
]


def stacked_tables(*, shaded: bool) -> list[list[str]]:
    """The rows of the first of two tables set close below one another, a bold line between them."""
    coats = [("Next coat", "min", "max", "then"), *COATS]
    data = [("Pot life", "6 h"), ("Nozzle", "1.5 mm"), ("Storage", "24 months"), ("Colour", "grey")]

    def draw(c: Canvas) -> None:
        y = 700
        for n, words in enumerate(coats):
            if shaded and n % 2:
                c.setFillGray(0.93)
                c.rect(56, y - 4, 420, 14, stroke=0, fill=1)
                c.setFillGray(0)
            c.setFont("Helvetica-Bold" if n == 0 else "Helvetica", 9)
            row(c, y, (60, 200, 290, 380), words)
            y -= 14
        c.setFont("Helvetica-Bold", 9)
        c.drawString(60, y - 5, "Data")
        c.setFont("Helvetica", 9)
        y -= 19
        for n, (label, value) in enumerate(data):
            if shaded and n % 2:
                c.setFillGray(0.93)
                c.rect(56, y - 4, 420, 14, stroke=0, fill=1)
                c.setFillGray(0)
            row(c, y, (60, 290), (label, value))
            y -= 14

    return grid(tables(drawn(draw))[0])


def test_a_bold_line_over_rows_of_other_columns_begins_another_table() -> None:
    assert stacked_tables(shaded=False) == [list(coat) for coat in COATS]
    assert stacked_tables(shaded=True) == [list(coat) for coat in COATS]


def test_a_form_under_a_head_of_more_cells_is_read_as_a_form() -> None:
    head_box = table([["MARLOW", "DATA SHEET", "Code 4"], ["", "Marlow HB", "Rev 2"]], *GRID, colWidths=[100, 250, 100])
    form = table(
        [
            ["Colour", "grey"],
            ["Pot life", "6 hours"],
            ["Nozzle", "1.5 mm"],
            ["Substrates", "bare steel and aluminium"],
            ["Storage", "24 months"],
        ],
        *GRID,
        colWidths=[100, 350],
    )
    document = laid_out(head_box, form)
    labels = {b.label.text: b.passage.text for b in document.blocks if isinstance(b, Statement) and b.label is not None}
    assert labels["Substrates"] == "bare steel and aluminium"
    assert labels["Pot life"] == "6 hours"


def test_sentences_between_two_tables_with_equal_rules_are_no_rows() -> None:
    first = [("", "HVLP", "Airless"), ("Nozzle", "1.4 mm", "0.38 mm"), ("Pressure", "2 bar", "130 bar")]
    second = [("", "10 °C", "25 °C"), ("To touch", "6 hours", "2 hours"), ("To handle", "24 hours", "8 hours")]
    prose = (
        "Leave 10 to 20 minutes between coats at 25 °C. Air and surface must be between 10 and 38 °C, and the humidity",
        "below 85 %. The surface must be at least 3 K above the dew point.",
    )

    def draw(c: Canvas) -> None:
        c.setFont("Helvetica", 9)
        y = 700
        for rows in (first, second):
            for n, words in enumerate(rows):
                row(c, y, (60, 200, 340), words)
                if n < 3:
                    c.line(54, y - 5, 500, y - 5)
                y -= 16
            if rows is first:
                for line in prose:
                    c.drawString(56, y, line)
                    y -= 12
                c.setFillGray(0.9)
                c.rect(52, y - 8, 450, 14, stroke=0, fill=1)
                c.setFillGray(0)
                c.setFont("Helvetica-Bold", 9)
                c.drawString(60, y - 4, "DRY SCHEDULE")
                c.setFont("Helvetica", 9)
                y -= 22

    found = drawn(draw)
    assert [grid(t) for t in tables(found)] == [[list(r) for r in rows[1:]] for rows in (first, second)]
    assert heads(tables(found)[1]) == [["10 °C"], ["25 °C"]]
    assert "Leave 10 to 20 minutes between coats at 25 °C." in said(found)
