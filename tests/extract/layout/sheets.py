"""Small PDFs of invented sheets, laid out as makers do, for the layout's tests."""

from __future__ import annotations

import io
from collections.abc import Callable, Sequence
from typing import Any

from reportlab.lib import colors
from reportlab.lib.pagesizes import A4
from reportlab.lib.styles import ParagraphStyle, getSampleStyleSheet
from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import Flowable, ListFlowable, ListItem, Paragraph, SimpleDocTemplate, Table

from extract.document import Document, Statement
from extract.document import Table as DocumentTable
from extract.layout import build
from extract.reading.pages import open_sheet

STYLES = getSampleStyleSheet()
BODY = STYLES["BodyText"]
SMALL = ParagraphStyle("small", parent=BODY, fontSize=7, leading=9)
GRID = [("GRID", (0, 0), (-1, -1), 0.5, colors.black)]
BOLD_HEAD = ("FONTNAME", (0, 0), (-1, 0), "Helvetica-Bold")


def text(words: str, style: ParagraphStyle = BODY) -> Paragraph:
    return Paragraph(words, style)


def head(words: str) -> Paragraph:
    return Paragraph(words, STYLES["Heading2"])


def bullets(*items: object, sign: str = "bullet", start: str | None = None) -> ListFlowable:
    made = [ListItem(i if isinstance(i, list) else text(str(i))) for i in items]
    return ListFlowable(made, bulletType=sign, **({"start": start} if start else {}))


def table(rows: Sequence[Sequence[Any]], *style: tuple[Any, ...], **more: Any) -> Table:
    return Table([list(r) for r in rows], style=list(style), **more)


class Turned(Flowable):
    """A head that reads upwards."""

    def __init__(self, words: str) -> None:
        super().__init__()
        self.words = words

    def wrap(self, *_: float) -> tuple[float, float]:
        return (10, 60)

    def draw(self) -> None:
        self.canv.rotate(90)
        self.canv.setFont("Helvetica-Bold", 9)
        self.canv.drawString(2, -9, self.words)


def laid_out(*story: Flowable, on_page: Callable[[Canvas, Any], None] | None = None) -> Document:
    """The Document of a sheet of these flowables."""
    out = io.BytesIO()
    quiet: Callable[[Canvas, Any], None] = on_page or (lambda _canvas, _document: None)
    SimpleDocTemplate(out, pagesize=A4).build(list(story), onFirstPage=quiet, onLaterPages=quiet)
    return build(open_sheet(out.getvalue()))


def drawn(draw: Callable[[Canvas], None]) -> Document:
    """The Document of a page drawn by hand."""
    out = io.BytesIO()
    canvas = Canvas(out, pagesize=A4)
    canvas.setFont("Helvetica", 10)
    draw(canvas)
    canvas.showPage()
    canvas.save()
    return build(open_sheet(out.getvalue()))


def said(document: Document) -> list[str]:
    return [b.passage.text for b in document.blocks if isinstance(b, Statement)]


def tables(document: Document) -> list[DocumentTable]:
    return [b for b in document.blocks if isinstance(b, DocumentTable)]


def grid(found: DocumentTable) -> list[list[str]]:
    return [[row.label.text, *(c.text for c in row.cells)] for row in found.rows]


def heads(found: DocumentTable) -> list[list[str]]:
    return [[c.text for c in stack] for stack in found.heads]
