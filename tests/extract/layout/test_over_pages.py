"""Tables that go on over the page: one last row alone, heads printed again, heads left behind."""

from __future__ import annotations

from collections.abc import Sequence

from reportlab.pdfgen.canvas import Canvas

from tests.extract.layout.sheets import drawn, grid, heads, said, tables

_EDGES = (50.0, 250.0, 400.0)


def ruled(c: Canvas, top: float, rows: Sequence[Sequence[str]], edges: Sequence[float] = _EDGES) -> float:
    """Rows in drawn cells, 18 points high, from top down; where they end."""
    bottom = top - 18 * len(rows)
    for x in edges:
        c.line(x, bottom, x, top)
    for n in range(len(rows) + 1):
        c.line(edges[0], top - 18 * n, edges[-1], top - 18 * n)
    for n, cells in enumerate(rows):
        for x, words in zip(edges, cells, strict=False):
            c.drawString(x + 4, top - 18 * n - 13, words)
    return bottom


def turn(c: Canvas) -> None:
    c.showPage()
    c.setFont("Helvetica", 10)


NEXT = [("Next coat", "Fit"), ("Epoxy primer", "yes"), ("Body filler", "no"), ("Wash primer", "no")]


def test_the_last_row_alone_on_the_next_page_is_a_row() -> None:
    def draw(c: Canvas) -> None:
        c.drawString(50, 300, "Coats to follow")
        ruled(c, 120, NEXT)
        turn(c)
        ruled(c, 800, [("Zinc primer", "no")])
        c.drawString(50, 700, "Keep the tin shut and stand it in a dry place.")

    (found,) = tables(drawn(draw))
    assert grid(found)[-2:] == [["Wash primer", "no"], ["Zinc primer", "no"]]


def test_a_row_of_other_columns_or_below_a_text_is_none_of_the_table_before() -> None:
    def other_columns(c: Canvas) -> None:
        ruled(c, 120, NEXT)
        turn(c)
        ruled(c, 800, [("Zinc primer", "no")], (50, 320, 400))

    def below_a_text(c: Canvas) -> None:
        ruled(c, 120, NEXT)
        turn(c)
        c.drawString(50, 790, "What has been said so far holds for a dry shop.")
        ruled(c, 760, [("Zinc primer", "no")])

    for draw in (other_columns, below_a_text):
        document = drawn(draw)
        (found,) = tables(document)
        assert grid(found)[-1] == ["Wash primer", "no"]
        assert "Zinc primer" in " ".join(said(document))


def test_heads_printed_again_are_no_row() -> None:
    def draw(c: Canvas) -> None:
        ruled(c, 120, NEXT)
        turn(c)
        ruled(c, 800, [NEXT[0], ("Zinc primer", "no")])

    (found,) = tables(drawn(draw))
    assert heads(found) == [["Fit"]]
    assert grid(found)[-2:] == [["Wash primer", "no"], ["Zinc primer", "no"]]


def test_a_last_line_in_the_columns_of_a_table_without_rules() -> None:
    places = (50, 200, 280, 360)

    def line(c: Canvas, y: float, words: Sequence[str]) -> None:
        for x, word in zip(places, words, strict=True):
            c.drawString(x, y, word)

    def draw(c: Canvas) -> None:
        line(c, 130, ("", "10 °C", "20 °C", "30 °C"))
        line(c, 114, ("Free of dust", "60 min", "30 min", "15 min"))
        line(c, 98, ("To sand", "12 h", "6 h", "3 h"))
        line(c, 82, ("To handle", "8 h", "4 h", "2 h"))
        turn(c)
        line(c, 790, ("Full cure", "14 days", "7 days", "5 days"))
        c.drawString(50, 740, "These times hold for a film of fifty microns and moving air in the shop.")

    (found,) = tables(drawn(draw))
    assert grid(found)[-1] == ["Full cure", "14 days", "7 days", "5 days"]


def test_heads_left_on_the_page_before_head_the_table() -> None:
    body = [("Epoxy primer", "4 h", "3 days"), ("Base coat", "1 h", "8 h"), ("2K topcoat", "2 h", "24 h")]
    edges = (50.0, 250.0, 330.0, 420.0)

    def draw(c: Canvas, heads_font: str, further: str = "") -> None:
        c.drawString(50, 200, "The times below hold for a film of fifty microns.")
        c.setFont(heads_font, 10)
        for x, word in zip(edges, ("Coat to follow", "Minimum", "Maximum"), strict=False):
            c.drawString(x + 4, 80, word)
        c.setFont("Helvetica", 10)
        c.drawString(50, 60, further)
        turn(c)
        ruled(c, 800, body, edges)
        c.drawString(50, 700, "Once the time is over, sand with P320 before the next coat goes on.")

    for font in ("Helvetica-Bold", "Helvetica"):
        (found,) = tables(drawn(lambda c, font=font: draw(c, font)))  # type: ignore[misc]
        assert found.corner.text == "Coat to follow"
        assert heads(found) == [["Minimum"], ["Maximum"]]
        assert grid(found) == [list(r) for r in body]
    document = drawn(
        lambda c: draw(c, "Helvetica", "This line ends the page and parts what stands above it from the rest.")
    )
    assert not any(found.corner.text for found in tables(document))
