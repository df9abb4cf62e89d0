"""The page beside any place: whatever figure or verdict is opened, its words stand here, lit."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtWidgets import QLabel, QPushButton, QVBoxLayout, QWidget

from app.flow import FlowLayout
from app.jobs import LibraryDesk
from app.page_pane.pictures import PagePictures
from app.page_pane.view import STEP, PagePane
from app.shortcuts import on_key
from app.theme.theme import GRID, set_look
from app.wording import date_words
from extract.claims import Box, PageText
from store.records import SheetRecord


@dataclass(frozen=True, slots=True)
class SheetPages:
    """A sheet with what the pane needs of it."""

    sheet: SheetRecord
    pages: tuple[PageText, ...]
    pdf: Path


def load_pages(desk: LibraryDesk, sheet_id: int, done: Callable[[SheetPages], None]) -> None:
    """Ask the library for a sheet's pages; done(SheetPages) on the main thread."""
    desk.read(
        lambda library: SheetPages(library.sheet(sheet_id), library.page_texts(sheet_id), library.pdf_path(sheet_id)),
        done,
    )


class EvidencePanel(QWidget):
    """Which sheet, which page, and the page with the words lit.

    Signals: closed().
    """

    closed = Signal()

    def __init__(self, desk: LibraryDesk, pictures: PagePictures, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self.setMinimumWidth(400)
        self._wanted: tuple[int, int, tuple[Box, ...]] | None = None
        set_look(self, "paper")
        self.setAccessibleName(self.tr("Where it stands"))
        self._title = QLabel(self)
        self._title.setWordWrap(True)
        set_look(self._title, "lead")
        self._source = QLabel(self)
        self._source.setWordWrap(True)
        set_look(self._source, "quiet")
        self.pane = PagePane(pictures, self)
        closer = QPushButton(self.tr("Close the page"), self)
        closer.clicked.connect(self.close_panel)
        further = QPushButton("−", self)
        further.setAccessibleName(self.tr("Zoom out"))
        further.clicked.connect(lambda: self.pane.zoom_by(1 / STEP))
        closer_look = QPushButton("+", self)
        closer_look.setAccessibleName(self.tr("Zoom in"))
        closer_look.clicked.connect(lambda: self.pane.zoom_by(STEP))
        deeds = QWidget(self)
        flow = FlowLayout(deeds, GRID)
        for button in (further, closer_look, closer):
            flow.addWidget(button)
        column = QVBoxLayout(self)
        column.setContentsMargins(2 * GRID, 2 * GRID, 2 * GRID, 2 * GRID)
        column.setSpacing(GRID)
        column.addWidget(self._title)
        column.addWidget(self._source)
        column.addWidget(self.pane, 1)
        column.addWidget(deeds)
        on_key(self, Qt.Key.Key_Escape, self.close_panel, children=True)

    def open(self, sheet_id: int, page: int, boxes: Sequence[Box]) -> None:
        """Show the boxes on their page of a sheet."""
        self._wanted = (sheet_id, page, tuple(boxes))
        self.show()
        load_pages(self._desk, sheet_id, self._on_pages_loaded)

    def close_panel(self) -> None:
        self._wanted = None
        self.hide()
        self.closed.emit()

    def sizeHint(self) -> QSize:
        return QSize(520, 640)

    def _on_pages_loaded(self, loaded: SheetPages) -> None:
        if self._wanted is None or self._wanted[0] != loaded.sheet.id:
            return
        sheet_id, page, boxes = self._wanted
        sheet = loaded.sheet
        self._title.setText(sheet.product.name)
        issue = self.tr("no date of issue")
        if sheet.issued:
            issue = self.tr("issue of {date}").format(date=date_words(sheet.issued))
        self._source.setText(
            self.tr("{maker} · page {page} of {pages} · {issue}").format(
                maker=sheet.product.maker or self.tr("maker not known"), page=page, pages=sheet.pages, issue=issue
            )
        )
        self.pane.show_sheet(sheet_id, loaded.pages, loaded.pdf)
        self.pane.light(page, boxes)
