"""Rich text onto paper or into a PDF: black on white whatever the window looks like, with numbered pages."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import QLocale, QMarginsF, QRectF, QSizeF, Qt
from PySide6.QtGui import (
    QAbstractTextDocumentLayout,
    QColor,
    QFont,
    QImage,
    QPageLayout,
    QPageSize,
    QPainter,
    QPalette,
    QTextDocument,
    QTextTable,
)
from PySide6.QtPrintSupport import QPrinter

from app.printing.table import PrintedTable, cuts
from app.theme.verdict_shape import SHAPES, paint_shape

_MARGIN = 12.0
"""Millimetres on every side."""
FOOT_POINTS = 14.0
"""Points kept free at the bottom for the foot."""
_SHAPE_PIXELS = 96


class NotPrinted(OSError):
    """The printer or the file took nothing."""


def page_size() -> QPageSize:
    """Letter where inches are used, A4 everywhere else."""
    inches = QLocale().measurementSystem() is QLocale.MeasurementSystem.ImperialUSSystem
    return QPageSize(QPageSize.PageSizeId.Letter if inches else QPageSize.PageSizeId.A4)


def printer_for(*, landscape: bool, size: QPageSize | None = None) -> QPrinter:
    """A printer set up for our pages, not yet told where to print."""
    printer = QPrinter(QPrinter.PrinterMode.HighResolution)
    across = QPageLayout.Orientation.Landscape if landscape else QPageLayout.Orientation.Portrait
    margins = QMarginsF(_MARGIN, _MARGIN, _MARGIN, _MARGIN)
    printer.setPageLayout(QPageLayout(size or page_size(), across, margins, QPageLayout.Unit.Millimeter))
    return printer


def document_of(html: str, point_size: float = 9.5) -> QTextDocument:
    """The text with the verdicts' shapes as its pictures, named 'shape:yes' and so on."""
    document = QTextDocument()
    font = QFont(document.defaultFont())
    font.setPointSizeF(point_size)
    document.setDefaultFont(font)
    for name in SHAPES:
        document.addResource(QTextDocument.ResourceType.ImageResource.value, f"shape:{name}", _shape(name))
    document.setHtml(html)
    return document


def print_table(printer: QPrinter, table: PrintedTable, foot: str) -> int:
    """Print, rows kept whole where they fit a page; returns the number of pages. Raises NotPrinted."""
    rect = printer.pageLayout().paintRectPixels(printer.resolution())
    foot_height = FOOT_POINTS * printer.resolution() / 72.0
    width, height = float(rect.width()), rect.height() - foot_height
    begins = _page_begins(printer, table, width, height)
    if begins is None:
        documents = [_laid_out(printer, table.html(), width, height)]
    else:
        ends = [*begins[1:], None]
        documents = [
            _laid_out(printer, table.html(first, last), width, height) for first, last in zip(begins, ends, strict=True)
        ]
    pages = [(document, page) for document in documents for page in range(document.pageCount())]
    painter = QPainter()
    if not painter.begin(printer):
        raise NotPrinted("the printer could not be opened")
    for number, (document, page) in enumerate(pages, 1):
        if number > 1:
            printer.newPage()
        draw_page(painter, document.documentLayout(), page, width, height)
        draw_foot(painter, QRectF(0, height, width, foot_height), foot, number, len(pages))
    if not painter.end():
        raise NotPrinted("the printer stopped")
    return len(pages)


def _laid_out(printer: QPrinter, html: str, width: float, height: float) -> QTextDocument:
    document = document_of(html)
    document.documentLayout().setPaintDevice(printer)
    document.setDocumentMargin(0)
    document.setPageSize(QSizeF(width, height))
    return document


def _page_begins(printer: QPrinter, table: PrintedTable, width: float, height: float) -> tuple[int, ...] | None:
    """Which row each page begins with, by the rows' heights as they are laid out."""
    document = _laid_out(printer, table.html(), width, 1e7)
    laid = next((frame for frame in document.rootFrame().childFrames() if isinstance(frame, QTextTable)), None)
    if laid is None or laid.rows() != 1 + len(table.rows):
        return None
    layout = document.documentLayout()
    tops = [
        layout.blockBoundingRect(laid.cellAt(row, 0).firstCursorPosition().block()).top() for row in range(laid.rows())
    ]
    bottom = layout.frameBoundingRect(laid).bottom()
    heights = [after - before for before, after in zip(tops, [*tops[1:], bottom], strict=True)]
    spare = height * 0.01
    return cuts(
        heights[1:], [row.is_heading for row in table.rows], height - tops[1] - spare, height - heights[0] - 2 * spare
    )


def write_pdf(
    path: Path, table: PrintedTable, foot: str, *, landscape: bool, title: str, size: QPageSize | None = None
) -> int:
    """A PDF at path, there whole or not at all; returns the number of pages. Raises OSError."""
    part = beside(path)
    try:
        printer = printer_for(landscape=landscape, size=size)
        printer.setOutputFormat(QPrinter.OutputFormat.PdfFormat)
        printer.setOutputFileName(str(part))
        printer.setDocName(title)
        printer.setCreator("Tinsheet")
        pages = print_table(printer, table, foot)
        part.replace(path)
    finally:
        part.unlink(missing_ok=True)
    return pages


def write_text(path: Path, text: str) -> None:
    """A text file at path, there whole or not at all, marked as UTF-8 for spreadsheets. Raises OSError."""
    part = beside(path)
    try:
        part.write_bytes(text.encode("utf-8-sig"))
        part.replace(path)
    finally:
        part.unlink(missing_ok=True)


def beside(path: Path) -> Path:
    """A file next to it, to be written first and put in its place once it is whole. Raises OSError."""
    part = path.with_name(f".{path.name}.part")
    part.touch()  # Raises here, in plain words, where the folder takes no file.
    return part


def draw_page(painter: QPainter, layout: QAbstractTextDocumentLayout, page: int, width: float, height: float) -> None:
    """One page of a laid out text, in black, from the painter's origin."""
    painter.save()
    painter.translate(0, -page * height)
    context = QAbstractTextDocumentLayout.PaintContext()
    palette = QPalette()
    palette.setColor(QPalette.ColorRole.Text, QColor(Qt.GlobalColor.black))
    context.palette = palette
    view = QRectF(0, page * height, width, height)
    context.clip = view
    painter.setClipRect(view)
    layout.draw(painter, context)
    painter.restore()


def draw_foot(painter: QPainter, box: QRectF, foot: str, page: int, pages: int) -> None:
    """The line at the bottom of a page, with its number."""
    font = QFont(painter.font())
    font.setPointSizeF(7.5)
    painter.setFont(font)
    painter.setPen(QColor(Qt.GlobalColor.black))
    number = f"{page} / {pages}"
    bottom = Qt.AlignmentFlag.AlignBottom
    words = painter.fontMetrics().elidedText(foot, Qt.TextElideMode.ElideRight, int(box.width() * 0.92))
    painter.drawText(box, int(bottom | Qt.AlignmentFlag.AlignLeft), words)
    painter.drawText(box, int(bottom | Qt.AlignmentFlag.AlignRight), number)


def _shape(name: str) -> QImage:
    image = QImage(_SHAPE_PIXELS, _SHAPE_PIXELS, QImage.Format.Format_ARGB32_Premultiplied)
    image.fill(Qt.GlobalColor.transparent)
    painter = QPainter(image)
    paint_shape(painter, name, QRectF(0, 0, _SHAPE_PIXELS, _SHAPE_PIXELS), QColor(Qt.GlobalColor.black))
    painter.end()
    return image
