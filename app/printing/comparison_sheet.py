"""A comparison as a page for the wall: black and white, every cell with the page of its sheet. No Qt."""

from __future__ import annotations

from datetime import date
from html import escape

from app.comparing.lines import DIFFERS, Line, Lines, ShownCell
from app.figure_words import date_words, temperature_words
from app.printing.table import PrintedTable, TableRow
from app.translating import translate


def foot() -> str:
    """The line at the bottom of every printed page."""
    return translate(
        "printing",
        "Tinsheet repeats what sheets say. It replaces neither the sheets, nor local rules, nor licensed practice.",
    )


_STYLE = """
<style>
h1 { font-size: 15pt; font-weight: 600; margin: 0 0 2pt 0; }
p { margin: 0 0 6pt 0; }
th { font-weight: 600; text-align: left; }
.topic { font-size: 11pt; font-weight: 600; background: #e4e4e4; }
.quiet { color: #333333; font-size: 8pt; }
.unsaid { font-style: italic; }
</style>
"""


def comparison_table(lines: Lines, printed: date) -> PrintedTable:
    """The whole comparison; pictures are named as paper.document_of has them."""
    at = translate("card", "Times as the sheets state them")
    if lines.at_c is not None:
        at = translate("card", "Times at {temperature}").format(temperature=temperature_words(lines.at_c))
    differ = translate("comparison", "the sheets differ")
    page = translate("printing", "p. = page of the product's sheet")
    on = translate("printing", "printed {moment}").format(moment=date_words(printed.isoformat()))
    before = (
        f"<h1>{escape(title_of(lines))}</h1>"
        f'<p class="quiet">{escape(at)} · {DIFFERS} {escape(differ)} · {escape(page)} · {escape(on)}</p>'
    )
    rows = tuple(TableRow(_row(line, len(lines.products)), line.is_heading) for line in lines.lines)
    return PrintedTable(_STYLE, before, _head(lines), rows)


def title_of(lines: Lines) -> str:
    return " · ".join(lines.heads)


def is_wide(lines: Lines) -> bool:
    """Whether it wants the page across."""
    return len(lines.products) > 2


def _head(lines: Lines) -> str:
    first = 22 if len(lines.products) <= 3 else 16
    other = (100 - first) / max(len(lines.products), 1)
    cells = [f'<th width="{first}%"></th>']
    for product in lines.products:
        maker = f'<br><span class="quiet">{escape(product.maker)}</span>' if product.maker else ""
        cells.append(f'<th width="{other:.2f}%">{escape(product.name)}{maker}</th>')
    return f"<tr>{''.join(cells)}</tr>"


def _row(line: Line, products: int) -> str:
    if line.is_heading:
        return f'<tr><td class="topic" colspan="{products + 1}">{escape(line.head)}</td></tr>'
    head = f"<b>{escape(line.marked_head)}</b>" if line.differs else escape(line.head)
    return f"<tr><td>{head}</td>{''.join(f'<td>{_cell(cell)}</td>' for cell in line.cells)}</tr>"


def _cell(cell: ShownCell) -> str:
    words = "<br>".join(escape(part) for part in cell.text.split("\n"))
    if cell.unsaid or cell.unconfirmed:
        words = f'<span class="unsaid">{words}</span>'
    pages = sorted({(sentence.product, sentence.page) for sentence in cell.sentences})
    if pages:
        words = f'{words} <span class="quiet">({_pages(pages)})</span>'
    parts = [f'<img src="shape:{cell.shape}" width="9" height="9"> {words}' if cell.shape else words]
    parts += [f'<img src="shape:own" width="9" height="9"> {escape(words)}' for words in cell.own]
    return "<br>".join(parts)


def _pages(pages: list[tuple[str, int]]) -> str:
    by_product: dict[str, list[int]] = {}
    for product, page in pages:
        by_product.setdefault(product, []).append(page)
    if len(by_product) == 1:
        return _numbers(next(iter(by_product.values())))
    return "; ".join(f"{escape(product)} {_numbers(numbers)}" for product, numbers in by_product.items())


def _numbers(pages: list[int]) -> str:
    """'p. 1, 2', never divided at a line's end."""
    words = translate("printing", "p. {pages}").format(pages=", ".join(map(str, pages)))
    return escape(words).replace(" ", "&nbsp;")
