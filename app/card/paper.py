"""The card as a page: black and white, large enough to be read over a spattered bench. No Qt."""

from __future__ import annotations

from datetime import date
from html import escape

from app.card.contents import Card, CoatRow, Line
from app.figure_words import date_words
from app.translating import translate

SIZES = (12.0, 11.0, 10.0, 9.5, 9.0, 8.5, 8.0)
"""Below 8 points nobody reads it beside the gun: it goes on a second page then."""

_STYLE = """
<style>
h1 { font-size: x-large; font-weight: 700; margin: 0 0 2pt 0; }
p { margin: 0 0 4pt 0; }
th { font-weight: 700; text-align: left; background: #e4e4e4; }
.verdict { font-size: large; font-weight: 700; }
.coat { background: #f0f0f0; }
.line { margin: 0 0 2pt 0; }
.quiet { color: #333333; }
</style>
"""


_LINES = "border-collapse: collapse; border-style: solid; border-color: #000000"


def card_html(card: Card, printed: date) -> str:
    """Safe HTML; pictures are named as printing.paper.document_of has them."""
    page = translate("card", "p. = page of the sheet")
    printed_on = translate("card", "printed {day}").format(day=date_words(printed.isoformat()))
    head = (
        f"<h1>{escape(card.title)}</h1>"
        f'<p class="quiet">{escape(card.ground)} · {escape(card.at)} · '
        f"{escape(page)} · {escape(printed_on)}</p>"
        f'<p><img src="shape:{card.shape}" width="14" height="14"> <span class="verdict">{escape(card.word)}</span>'
        f" {escape(card.reason)}{_pages(card.reason_pages)}</p>"
    )
    return f"{_STYLE}{head}{_cautions(card)}{_table(card)}"


def _cautions(card: Card) -> str:
    if not card.cautions:
        return ""
    words = "<br>".join(f"<b>!</b> {escape(line)}" for line in card.cautions)
    return (
        f'<table border="2" cellspacing="0" cellpadding="4" width="100%" style="{_LINES}">'
        f"<tr><td>{words}{_pages(card.caution_pages)}</td></tr></table><p></p>"
    )


def _table(card: Card) -> str:
    heads = (
        (translate("card", "Before it"), 36), (translate("card", "Mix"), 21), (translate("card", "Film"), 18),
        (translate("card", "Next coat"), 25),
    )  # fmt: skip
    head = "".join(f'<th width="{width}%">{escape(words)}</th>' for words, width in heads)
    rows = "".join(_row(row) for row in card.rows)
    return (
        f'<table border="1" cellspacing="0" cellpadding="4" width="100%" style="{_LINES}">'
        f"<thead><tr>{head}</tr></thead><tbody>{rows}</tbody></table>"
    )


def _row(row: CoatRow) -> str:
    onto = translate("card", "onto {lower}").format(lower=row.onto)
    # Over the whole width, so that the longest name does not break into letters.
    name = (
        f'<td class="coat" colspan="4"><b>{row.number}. {escape(row.name)}</b> {escape(onto)} · '
        f'<img src="shape:{row.shape}" width="11" height="11"> {escape(row.word)}</td>'
    )
    cells = "".join(f"<td>{_lines(lines)}</td>" for lines in (row.before, row.mix, row.film, row.next))
    return f"<tr>{name}</tr><tr>{cells}</tr>"


def _lines(lines: tuple[Line, ...]) -> str:
    if not lines:
        return "–"
    return "".join(f'<p class="line">{escape(line.words)}{_pages(line.pages)}</p>' for line in lines)


def _pages(pages: str) -> str:
    return f' <span class="quiet">({escape(pages)})</span>' if pages else ""
