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
