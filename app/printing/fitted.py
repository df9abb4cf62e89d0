"""Text that is to fit on one page: set smaller step by step, never below what is read at arm's length."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path

from PySide6.QtCore import QRectF, QSizeF
from PySide6.QtGui import QPageSize, QPainter, QTextDocument
from PySide6.QtPrintSupport import QPrinter

from app.printing.paper import FOOT_POINTS, NotPrinted, beside, document_of, draw_foot, draw_page, printer_for

Draws = Callable[[QPainter, QRectF], None]
"""Paints a picture into a box, in pixels of 1/96 inch."""


@dataclass(frozen=True, slots=True)
class Sheet:
    """What is printed: a picture of so many pixels of 1/96 inch in height (0 for none), and the text below it."""

    html: str
    foot: str
    sizes: Sequence[float]
    """Sizes of type in points, the best first."""
    landscape: bool = False
    picture: Draws | None = None
    picture_height: float = 0.0


@dataclass(frozen=True, slots=True)
class Fitted:
    """The text laid out for a printer. width and height are the text's page, in the printer's pixels."""

    document: QTextDocument
    size: float
    width: float
    height: float
    top: float

    @property
    def pages(self) -> int:
        return self.document.pageCount()


def fitted(printer: QPrinter, sheet: Sheet) -> Fitted:
    """In the best size that fits one page; in the least one where none does."""
    rect = printer.pageLayout().paintRectPixels(printer.resolution())
    top = sheet.picture_height * printer.resolution() / 96.0
    width, height = float(rect.width()), rect.height() - FOOT_POINTS * printer.resolution() / 72.0
    for size in sheet.sizes:
        document = _laid_out(printer, sheet.html, size, width, height - top)
        if document.pageCount() == 1:
            return Fitted(document, size, width, height - top, top)
    # What runs over begins below the picture and goes on over whole pages: so the text gets pages of its own.
    whole = height if top else height - top
    document = _laid_out(printer, sheet.html, sheet.sizes[-1], width, whole)
    return Fitted(document, sheet.sizes[-1], width, whole, top)


def print_sheet(printer: QPrinter, sheet: Sheet) -> int:
    """Print it; returns the number of pages. Raises NotPrinted."""
    laid = fitted(printer, sheet)
    painter = QPainter()
    if not painter.begin(printer):
        raise NotPrinted("the printer could not be opened")
    apart = bool(laid.top) and laid.pages > 1
    pages = laid.pages + apart
    for number in range(1, pages + 1):
        if number > 1:
            printer.newPage()
        paint_page(painter, printer, sheet, laid, number)
    if not painter.end():
        raise NotPrinted("the printer stopped")
    return pages


def paint_page(painter: QPainter, printer: QPrinter, sheet: Sheet, laid: Fitted, number: int) -> None:
    """One page, numbered from 1, from the top left of the printable area, in the printer's pixels."""
    apart = bool(laid.top) and laid.pages > 1
    if sheet.picture is not None and number == 1:
        scale = printer.resolution() / 96.0
        painter.save()
        painter.scale(scale, scale)
        sheet.picture(painter, QRectF(0, 0, laid.width / scale, sheet.picture_height))
        painter.restore()
    page = number - 1 - apart
    if page >= 0:
        painter.save()
        painter.translate(0, 0 if apart else laid.top)
        draw_page(painter, laid.document.documentLayout(), page, laid.width, laid.height)
        painter.restore()
    foot = FOOT_POINTS * printer.resolution() / 72.0
    bottom = laid.height if apart or not laid.top else laid.height + laid.top
    draw_foot(painter, QRectF(0, bottom, laid.width, foot), sheet.foot, number, laid.pages + apart)


def write_sheet(path: Path, sheet: Sheet, title: str, size: QPageSize | None = None) -> int:
    """A PDF at path, there whole or not at all; returns the number of pages. Raises OSError."""
    part = beside(path)
    try:
        printer = printer_for(landscape=sheet.landscape, size=size)
        printer.setOutputFormat(QPrinter.OutputFormat.PdfFormat)
        printer.setOutputFileName(str(part))
        printer.setDocName(title)
        printer.setCreator("Tinsheet")
        pages = print_sheet(printer, sheet)
        part.replace(path)
    finally:
        part.unlink(missing_ok=True)
    return pages


def _laid_out(printer: QPrinter, html: str, size: float, width: float, height: float) -> QTextDocument:
    document = document_of(html, size)
    document.documentLayout().setPaintDevice(printer)
    document.setDocumentMargin(0)
    document.setPageSize(QSizeF(width, height))
    return document
