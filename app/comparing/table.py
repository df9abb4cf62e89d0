"""The comparison's table: headings right across, rows as high as their words, cells by arrows and Enter."""

from __future__ import annotations

from PySide6.QtCore import QModelIndex, QPersistentModelIndex, Qt, QTimer, Signal
from PySide6.QtGui import QGuiApplication, QKeySequence, QResizeEvent, QShortcut
from PySide6.QtWidgets import QAbstractItemView, QHeaderView, QTableView, QWidget

from app.comparing.delegate import CellDelegate
from app.comparing.lines import ShownCell
from app.comparing.model import CELL_ROLE, ComparisonTable
from app.shortcuts import on_key
from app.theme.text_size import fix_height
from app.theme.theme import GRID, Theme

Index = QModelIndex | QPersistentModelIndex
_HEAD = 24 * GRID
_NARROW_HEAD = 18 * GRID
_LEAST = 15 * GRID


class ComparisonView(QTableView):
    """Signals: cell_chosen(QModelIndex) when another cell is the current one; cell_entered(QModelIndex) by a click or
    Enter.
    """

    cell_chosen = Signal(QModelIndex)
    cell_entered = Signal(QModelIndex)

    def __init__(self, table: ComparisonTable, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._table = table
        self.setModel(table)
        self.setItemDelegate(CellDelegate(theme, self))
        self.setAccessibleName(self.tr("Comparison"))
        self.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectItems)
        self.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.setShowGrid(False)
        self.setTabKeyNavigation(False)
        self.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.setHorizontalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.verticalHeader().hide()
        self.verticalHeader().setMinimumSectionSize(GRID)
        header = self.horizontalHeader()
        header.setDefaultAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter)
        header.setHighlightSections(False)
        header.setStretchLastSection(True)
        fix_height(header, 7 * GRID)
        header.setSectionResizeMode(QHeaderView.ResizeMode.Interactive)
        header.sectionResized.connect(self._on_section_resized)
        self._soon = QTimer(self)
        self._soon.setSingleShot(True)
        self._soon.setInterval(60)
        self._soon.timeout.connect(self.resizeRowsToContents)
        self.clicked.connect(self.cell_entered)
        for key in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            on_key(self, key, lambda: self.cell_entered.emit(self.currentIndex()))
        theme.theme_changed.connect(self.viewport().update)
        copies = QShortcut(QKeySequence(QKeySequence.StandardKey.Copy), self)
        copies.setContext(Qt.ShortcutContext.WidgetShortcut)
        copies.activated.connect(self._copy_cell)

    def fit(self) -> None:
        """Share the width out among the products, and make every row as high as its words."""
        model = self._table
        columns = model.columnCount()
        self.clearSpans()
        for row in range(model.rowCount()):
            if model.line(row).is_heading and columns > 1:
                self.setSpan(row, 0, 1, columns)
        self._share_width()
        self.resizeRowsToContents()

    def choose(self, row: int, column: int) -> None:
        """Make this cell the current one, or the nearest below that is no heading."""
        model = self._table
        for at in range(max(row, 0), model.rowCount()):
            if not model.line(at).is_heading:
                self.setCurrentIndex(model.index(at, min(max(column, 1), model.columnCount() - 1)))
                return

    def currentChanged(self, current: Index, previous: Index) -> None:
        super().currentChanged(current, previous)
        if current.isValid():
            self.cell_chosen.emit(self._table.index(current.row(), current.column()))

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        if event.size().width() != event.oldSize().width():
            self._share_width()

    def _share_width(self) -> None:
        products = self._table.columnCount() - 1
        if products < 1:
            return
        wide = products <= 4 and self.viewport().width() >= 60 * GRID
        head = _HEAD if wide else _NARROW_HEAD
        width = max((self.viewport().width() - head) // products, _LEAST)
        self.setColumnWidth(0, head)
        for column in range(1, products + 1):
            self.setColumnWidth(column, width)

    def _on_section_resized(self, *_: int) -> None:
        self._soon.start()

    def _copy_cell(self) -> None:
        cell = self.currentIndex().data(CELL_ROLE)
        if isinstance(cell, ShownCell):
            quotes = [f"{sentence.quoted} {sentence.source}" for sentence in cell.sentences]
            QGuiApplication.clipboard().setText("\n".join([cell.said, *quotes]))
