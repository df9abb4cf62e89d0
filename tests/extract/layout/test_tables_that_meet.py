"""Tables of one width with rules under their rows only, and what stands between one and the next."""

from __future__ import annotations

from collections.abc import Sequence

import pytest
from reportlab.lib import colors
from reportlab.platypus import Flowable, Table

from extract.document import Statement
from tests.extract.layout.sheets import BOLD_HEAD, grid, head, heads, laid_out, said, table, tables, text

_UNDER = ("LINEBELOW", (0, 0), (-1, -1), 0.4, colors.grey)


def underlined(rows: Sequence[Sequence[object]], *style: tuple[object, ...]) -> Table:
    columns = len(rows[0])
    return table(rows, _UNDER, *style, colWidths=[220, *[220 / (columns - 1)] * (columns - 1)], hAlign="LEFT")


TIMES = [["Dry to touch", "15 minutes"], ["May be handled", "40 minutes"]]
NEXT = [["Next coat", "Earliest", "Latest"], ["Acrylic surfacer", "45 minutes", "10 hours"],
        ["Alkyd undercoat", "3 hours", "20 hours"], ["Epoxy primer", "Not advised", ""]]  # fmt: skip
_LONG = "Fillers of any make. Stoppers, body solder and tinning paste are laid on in the same way."
TOLD = "Never bake it. The coat is thinner than paper."


@pytest.mark.parametrize(
    "between",
    [
        [text(TOLD), head("Coats to follow")],
        [text(TOLD)],
        [head("Coats to follow")],
        [text(TOLD + " Rub it with nothing, neither dry nor with water, not even by hand and lightly.")],
    ],
    ids=["a sentence and a heading", "a sentence", "a heading", "two lines"],
)
def test_what_stands_between_two_tables_is_no_row_of_either(between: list[Flowable]) -> None:
    document = laid_out(head("Drying"), underlined(TIMES), *between, underlined(NEXT, BOLD_HEAD))
    (found,) = tables(document)
    assert found.corner.text == "Next coat"
    assert heads(found) == [["Earliest"], ["Latest"]]
    assert grid(found) == [
        ["Acrylic surfacer", "45 minutes", "10 hours"],
        ["Alkyd undercoat", "3 hours", "20 hours"],
        ["Epoxy primer", "Not advised", ""],
    ]
    fields = [b for b in document.blocks if isinstance(b, Statement) and b.label is not None]
    assert [(b.label.text, b.passage.text) for b in fields if b.label is not None] == [
        ("Dry to touch", "15 minutes"),
        ("May be handled", "40 minutes"),
    ]
    if any(isinstance(one, type(text(""))) and TOLD in one.text for one in between):
        assert "Never bake it." in said(document)


def test_a_label_told_in_sentences_stays_in_its_row() -> None:
    rows = [*NEXT[:2], [text(_LONG), "1 hour", "2 hours"], NEXT[2]]
    (found,) = tables(laid_out(underlined(rows, BOLD_HEAD, ("VALIGN", (0, 0), (-1, -1), "BOTTOM"))))
    assert [row[0] for row in grid(found)] == [
        "Acrylic surfacer",
        _LONG,
        "Alkyd undercoat",
    ]


_WIDTH = [150, 300]


def bar(words: str) -> Table:
    """A heading in a filled bar, smaller than the labels under it."""
    look = [
        ("BACKGROUND", (0, 0), (-1, -1), colors.darkblue),
        ("TEXTCOLOR", (0, 0), (-1, -1), colors.white),
        ("FONTNAME", (0, 0), (-1, -1), "Helvetica-Bold"),
        ("FONTSIZE", (0, 0), (-1, -1), 7),
    ]
    return table([[words]], *look, colWidths=[450], hAlign="LEFT")


def form(*rows: Sequence[object]) -> Table:
    """Labels in shaded bold cells over grey rules, each with its value."""
    return table(
        rows,
        ("LINEBELOW", (0, 0), (-1, -1), 0.5, colors.grey),
        ("BACKGROUND", (0, 0), (0, -1), colors.whitesmoke),
        ("FONTNAME", (0, 0), (0, -1), "Helvetica-Bold"),
        ("VALIGN", (0, 0), (-1, -1), "TOP"),
        colWidths=_WIDTH,
        hAlign="LEFT",
    )


def two_ways() -> Table:
    return table(
        [["", "For sanding", "Wet on wet"], ["Marlgrit 20", "4 parts", "4 parts"], ["Kelpstone H", "1 part", "1 part"]],
        ("GRID", (0, 0), (-1, -1), 0.5, colors.grey),
        ("FONTNAME", (0, 0), (-1, 0), "Helvetica-Bold"),
        ("FONTNAME", (0, 0), (0, -1), "Helvetica-Bold"),
        ("BACKGROUND", (0, 0), (0, -1), colors.whitesmoke),
        colWidths=[150, 140, 160],
        hAlign="LEFT",
    )


def test_a_table_inside_a_form_keeps_its_place_under_the_bar() -> None:
    document = laid_out(
        bar("PREPARING"),
        form(["Cleaning", text("Wipe the panel down twice. Dry it with a clean cloth.")]),
        bar("MIXING"),
        two_ways(),
        form(["Measured", "By volume"], ["Use within", "6 hours at 20 °C"]),
        bar("STORING"),
        form(["Shelf life", "24 months"], ["Keep at", "5 to 30 °C"]),
    )
    (found,) = tables(document)
    assert [h.text for h in found.section.headings] == ["MIXING"]
    assert heads(found) == [["For sanding"], ["Wet on wet"]]
    assert grid(found) == [["Marlgrit 20", "4 parts", "4 parts"], ["Kelpstone H", "1 part", "1 part"]]
    fields = {
        b.label.text: (b.passage.text, [h.text for h in b.section.headings])
        for b in document.blocks
        if isinstance(b, Statement) and b.label is not None
    }
    assert fields == {
        "Measured": ("By volume", ["MIXING"]),
        "Use within": ("6 hours at 20 °C", ["MIXING"]),
        "Shelf life": ("24 months", ["STORING"]),
        "Keep at": ("5 to 30 °C", ["STORING"]),
    }
    first = document.blocks[0]
    assert [h.text for h in first.section.headings] == ["PREPARING", "Cleaning"]
    assert said(document)[:2] == ["Wipe the panel down twice.", "Dry it with a clean cloth."]
