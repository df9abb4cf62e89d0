"""What makers place without rules: rows about a middle line, icons' captions, heads on end, columns over a table."""

from __future__ import annotations

from collections.abc import Sequence

from reportlab.lib import colors
from reportlab.pdfgen.canvas import Canvas

from extract.document import Document, Statement, StatementKind
from tests.extract.layout.sheets import drawn, grid, heads, said, tables

LEFT, RIGHT = 60, 200


def lines(c: Canvas, x: float, y: float, words: Sequence[str], step: float = 12) -> None:
    """Lines about a middle height y, the first on top."""
    top = y + step * (len(words) - 1) / 2
    for n, line in enumerate(words):
        c.drawString(x, top - step * n, line)


def facts(document: Document) -> list[tuple[str, str]]:
    return [
        (b.label.text, b.passage.text.replace("\n", " "))
        for b in document.blocks
        if isinstance(b, Statement) and b.kind is StatementKind.FIELD and b.label is not None
    ]


def test_labels_beside_the_middle_of_their_text() -> None:
    rows = [
        (["Flash-off"], ["5 to 10 min between coats", "15 min before baking"]),
        (["Drying"], ["20 °C: 3 h to sanding", "60 °C: 30 min", "IR: 12 min"]),
        (["Film of two", "crossed coats"], ["80 µm"]),
        (["Sanding"], ["P400 dry", "P800 wet"]),
    ]

    def draw(c: Canvas) -> None:
        c.drawString(LEFT, 740, "The filler is grey and made to be sanded by hand or by machine, wet or dry.")
        for n, (label, text) in enumerate(rows):
            lines(c, LEFT, 700 - 46 * n, label)
            lines(c, RIGHT, 700 - 46 * n, text)
        c.setFont("Helvetica-Bold", 12)
        c.drawString(LEFT, 520, "Storage")
        c.setFont("Helvetica", 10)
        c.drawString(LEFT, 505, "Two years in the closed tin.")

    document = drawn(draw)
    assert facts(document) == [(" ".join(label), " ".join(text)) for label, text in rows]
    last = document.blocks[-1]
    assert said(document)[-1] == "Two years in the closed tin."
    assert last.section.title.text == "Storage"


def test_captions_of_unequal_height_are_no_table() -> None:
    captions = [["4:1 and 10 % thinner"], ["HVLP 1.7 mm", "2 bar"], ["2 coats", "80 µm"], ["30 min / 60 °C", "3 h"]]

    def draw(c: Canvas) -> None:
        for n, caption in enumerate(captions):
            for m, line in enumerate(caption):
                c.drawString(50 + 125 * n, 700 - 12 * m, line)

    document = drawn(draw)
    assert not tables(document)
    assert said(document) == ["\n".join(caption) for caption in captions]


def test_heads_on_end_over_a_ruled_table() -> None:
    names = ["Bare steel", "Zinc plate", "Aluminium", "2K epoxy primer", "Old lacquer"]

    def draw(c: Canvas) -> None:
        c.setFillColor(colors.darkgreen)
        c.rect(50, 640, 480, 80, fill=1, stroke=0)
        c.setFillColor(colors.white)
        c.drawString(55, 675, "Product over")
        for n, name in enumerate(names):
            c.saveState()
            c.translate(175 + 80 * n, 648)
            c.rotate(90)
            for m, part in enumerate([name] if len(name) < 12 else ["2K epoxy", "primer"]):
                c.drawString(0, -13 * m, part)
            c.restoreState()
        c.setFillColor(colors.black)
        for r in range(4):
            for x in (50, 130, 210, 290, 370, 450):
                c.line(x, 640 - 20 * r, x + 80, 640 - 20 * r)
        for r, row in enumerate([["Wax 10", *"xxoxo"], ["Guard 20", *"oxxox"], ["Tar 30", *"xoxxo"]]):
            for n, cell in enumerate(row):
                c.drawString(55 if not n else 90 + 80 * n, 626 - 20 * r, cell)

    (found,) = tables(drawn(draw))
    assert found.corner.text == "Product over"
    assert heads(found) == [["Wax 10"], ["Guard 20"], ["Tar 30"]]
    assert grid(found) == [
        ["Bare steel", "x", "o", "x"],
        ["Zinc plate", "x", "x", "o"],
        ["Aluminium", "o", "x", "x"],
        ["2K epoxy primer", "x", "o", "x"],
        ["Old lacquer", "o", "x", "o"],
    ]


COLUMNS = [
    [
        (
            "WHAT IT IS",
            ["A surfacer of two parts which", "builds quickly and sands well.", "It may be thinned to a sealer."],
        ),
        ("GROUNDS", ["Sound and well cured paint,", "fibreglass, putty and primed", "steel. Nothing else."]),
    ],
    [
        ("MIXING", ["Four parts to one part of the", "hardener. Sealer 4:1:1."]),
        ("USE", ["Spray two or three coats and", "let each of them flash off", "until it is matt. Then wait."]),
    ],
    [
        ("DRYING", ["Three hours in the air. Half", "an hour at 60 °C."]),
        ("CAUTION", ["Never apply it to a bare metal", "or to old lacquer. Wear gloves", "and a mask. Keep it cool."]),
    ],
]


def test_three_columns_of_text_over_a_table_that_stands_under_none_of_them() -> None:
    def draw(c: Canvas) -> None:
        c.setFont("Helvetica-Bold", 16)
        c.drawString(50, 780, "Corlan 80")
        for n, column in enumerate(COLUMNS):
            y = 750.0 - 3.1 * n
            for title, text in column:
                c.setFont("Helvetica-Bold", 9)
                c.drawString(50 + 172 * n, y, title)
                c.setFont("Helvetica", 9)
                for line in text:
                    y -= 11
                    c.drawString(50 + 172 * n, y, line)
                y -= 17
        for r, row in enumerate(
            [("Hardener", "Below 15 °C", "Above 15 °C"), ("Fast", "yes", "no"), ("Slow", "no", "yes")]
        ):
            for n, cell in enumerate(row):
                c.drawString(55 + 170 * n, 586 - 20 * r, cell)
            c.rect(50, 580 - 20 * r, 510, 20)

    document = drawn(draw)
    text = [(b.section.title.text, b.passage.text) for b in document.blocks if isinstance(b, Statement)]
    expected = [(title, " ".join(lines)) for column in COLUMNS for title, lines in column]
    for title, whole in expected:
        assert " ".join(words for under, words in text if under == title) == whole
    (found,) = tables(document)
    assert [h.text for h in found.section.headings] == ["Corlan 80"]


def test_a_figure_in_microns_is_no_numbered_head() -> None:
    def draw(c: Canvas) -> None:
        c.drawString(60, 700, "50 µm")
        c.drawString(60, 660, "Film for film this is what a single coat comes to when it has dried through.")

    assert said(drawn(draw))[0] == "50 µm"
    assert not any(b.section.headings for b in drawn(draw).blocks)


def test_labels_beside_values_of_which_one_is_long_and_the_next_begins_small() -> None:
    rows = [
        ("Ratio", "4 vol. Hobnail 3 and 1 vol. Hardener K"),
        ("Thinning", "for sanding: 5 to 10 % of Thinner M"),
        ("Stand for", "15 minutes before use"),
        ("Pot life", "6 hours at 20 °C"),
        ("Viscosity", "20 to 24 s, cup 4"),
    ]

    def draw(c: Canvas) -> None:
        for n, (label, value) in enumerate(rows):
            c.drawString(LEFT, 700 - 14 * n, label)
            c.drawString(RIGHT, 700 - 14 * n, value)

    assert facts(drawn(draw)) == rows


def test_a_text_that_runs_on_beside_captions_is_no_column_of_values() -> None:
    told = [
        "The surfacer goes on in two coats and is left to",
        "flash off until the shine has gone from the whole",
        "of the panel, which takes some ten minutes, and is",
        "then baked or left overnight in a warm and dry",
        "place before it is sanded.",
    ]

    def draw(c: Canvas) -> None:
        for n, (caption, line) in enumerate(
            zip(("Gun", "Two coats", "Ten minutes", "Bake", "Sand"), told, strict=True)
        ):
            c.drawString(LEFT, 700 - 12 * n, caption)
            c.drawString(RIGHT, 700 - 12 * n, line)

    assert " ".join(told) in said(drawn(draw))


def test_ranges_of_several_words_in_columns_without_rules() -> None:
    rows = [
        ("Next coat", "10 °C", "20 °C"),
        ("Hobnail 3", "1 h – 7 days", "30 min – 5 days"),
        ("Surfacer", "2 h – 5 days", "1 h – 72 h"),
        ("Base coat", "90 min – 36 h", "45 min – 24 h"),
    ]

    def draw(c: Canvas) -> None:
        for n, cells in enumerate(rows):
            for x, words in zip((60, 160, 250), cells, strict=True):
                c.drawString(x, 700 - 14 * n, words)

    (found,) = tables(drawn(draw))
    assert heads(found) == [["10 °C"], ["20 °C"]]
    assert grid(found) == [list(r) for r in rows[1:]]
