"""The card on the screen as it will be printed, with the paper it goes on."""

from __future__ import annotations

from datetime import UTC, datetime

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QImage, QPageSize, QPainter, QPixmap, QResizeEvent
from PySide6.QtPrintSupport import QPrinter
from PySide6.QtWidgets import (
    QComboBox,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

from app.build_up.worked import Worked
from app.card.contents import Card, card_of
from app.card.paper import SIZES, card_html
from app.empty_place import EmptyPlace
from app.front_stack import FrontStack
from app.messages import message_for
from app.printing.comparison_sheet import foot
from app.printing.fitted import Sheet, fitted, paint_page, print_sheet, write_sheet
from app.printing.outlets import Outlets
from app.printing.paper import page_size, printer_for
from app.theme.theme import GRID, set_look

_WIDEST = 100 * GRID


class CardPage(QWidget):
    """Signals: check_wanted() where there is no build-up yet."""

    check_wanted = Signal()

    def __init__(self, outlets: Outlets, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._outlets = outlets
        self.card: Card | None = None
        self.paper = QComboBox(self)
        self.paper.setAccessibleName(self.tr("Paper"))
        for words, size in (("A4", QPageSize.PageSizeId.A4), (self.tr("Letter"), QPageSize.PageSizeId.Letter)):
            self.paper.addItem(words, size)
        self.paper.setCurrentIndex(max(self.paper.findData(page_size().id()), 0))
        self.print_button = QPushButton(self.tr("Print …"), self)
        set_look(self.print_button, "primary")
        self.pdf_button = QPushButton(self.tr("Save as PDF …"), self)
        self.says = QLabel(self)
        set_look(self.says, "quiet")
        self.says.setWordWrap(True)
        self.picture = QLabel(self)
        self.picture.setAlignment(Qt.AlignmentFlag.AlignTop | Qt.AlignmentFlag.AlignHCenter)
        self.sheet_view = QScrollArea(self)
        self.sheet_view.setWidgetResizable(True)
        self.sheet_view.setWidget(self.picture)
        self.sheet_view.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.sheet_view.setAccessibleName(self.tr("The card as it will be printed"))
        self.empty = EmptyPlace(
            self.tr("The card for the wall is made of a build-up. Lay one first."), self.tr("Lay a build-up"), self
        )
        self.stack = FrontStack(self)
        row = QHBoxLayout()
        row.setSpacing(GRID)
        for widget in (self.print_button, self.pdf_button, self.paper):
            row.addWidget(widget)
        row.addWidget(self.says, 1)
        whole = QWidget(self)
        column = QVBoxLayout(whole)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(GRID)
        column.addLayout(row)
        column.addWidget(self.sheet_view, 1)
        self.stack.addWidget(self.empty)
        self.stack.addWidget(whole)
        outer = QVBoxLayout(self)
        outer.setContentsMargins(0, 0, 0, 0)
        outer.addWidget(self.stack)
        self.paper.activated.connect(self._draw)
        self.print_button.clicked.connect(self.print)
        self.pdf_button.clicked.connect(self.save_pdf)
        self.empty.wanted.connect(self.check_wanted)

    def show_worked(self, worked: Worked | None, title: str) -> None:
        """title is the name that the build-up is kept by, or ''."""
        self.card = None if worked is None else card_of(worked, title)
        self.stack.setCurrentIndex(0 if worked is None else 1)
        self._draw()

    def print(self) -> None:
        printer = self._outlets.printer(self, printer_for(landscape=False, size=self._size()))
        if printer is not None and self.card is not None:
            try:
                pages = print_sheet(printer, self._sheet(self.card))
            except OSError as fault:
                self.says.setText(message_for(fault).sentence)
                return
            self._say(pages, self.tr("Sent to the printer. "))

    def save_pdf(self) -> None:
        if self.card is None:
            return
        path = self._outlets.file(self, f"{self.card.title}.pdf".replace("/", "-"), "pdf")
        if path is None:
            return
        try:
            pages = write_sheet(path, self._sheet(self.card), self.card.title, self._size())
        except OSError as fault:
            self.says.setText(message_for(fault).sentence)
            return
        self._say(pages, self.tr("Kept as {name}. ").format(name=path.name))

    # --- inside

    def _size(self) -> QPageSize:
        return QPageSize(self.paper.currentData())

    def _sheet(self, card: Card) -> Sheet:
        return Sheet(card_html(card, datetime.now(UTC).astimezone().date()), foot(), SIZES)

    def _say(self, pages: int, before: str = "") -> None:
        says = self.tr("On one page.") if pages == 1 else self.tr("Too much for one page: it goes on a second one.")
        self.says.setText(before + says)

    def _draw(self) -> None:
        if self.card is None:
            return
        printer = printer_for(landscape=False, size=self._size())
        printer.setOutputFormat(QPrinter.OutputFormat.PdfFormat)
        sheet = self._sheet(self.card)
        laid = fitted(printer, sheet)
        layout = printer.pageLayout()
        full, inner = layout.fullRectPixels(printer.resolution()), layout.paintRectPixels(printer.resolution())
        width = min(max(self.sheet_view.viewport().width() - GRID, 40 * GRID), _WIDEST)
        ratio = self.devicePixelRatioF()
        scale = width * ratio / full.width()
        high, gap = round(full.height() * scale), round(GRID * ratio)
        image = QImage(round(width * ratio), laid.pages * (high + gap) - gap, QImage.Format.Format_RGB32)
        image.fill(self.palette().window().color())
        painter = QPainter(image)
        for number in range(1, laid.pages + 1):
            painter.save()
            painter.translate(0, (number - 1) * (high + gap))
            painter.fillRect(0, 0, image.width(), high, Qt.GlobalColor.white)
            painter.scale(scale, scale)
            painter.translate(inner.topLeft())
            paint_page(painter, printer, sheet, laid, number)
            painter.restore()
        painter.end()
        image.setDevicePixelRatio(ratio)
        self.picture.setPixmap(QPixmap.fromImage(image))
        self.picture.setAccessibleName(self.tr("The card: {title}").format(title=self.card.title))
        self._say(laid.pages)

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        if self.isVisible():
            self._draw()
