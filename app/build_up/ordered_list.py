"""A short list whose entries are put in order: Alt with the arrow keys, buttons, or a drag; Delete takes one out."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from PySide6.QtCore import QRectF, QSize, Qt, Signal
from PySide6.QtGui import QDropEvent, QIcon, QKeyEvent, QPainter, QPixmap
from PySide6.QtWidgets import QAbstractItemView, QHBoxLayout, QListWidget, QListWidgetItem, QPushButton, QWidget

from app.theme.theme import GRID, Theme, set_look
from app.theme.verdict_shape import paint_shape, shape_colour

_SHAPE = 14


@dataclass(frozen=True, slots=True)
class Row:
    """shape '' for none; shape_word says it."""

    words: str
    shape: str = ""
    shape_word: str = ""


class OrderedList(QListWidget):
    """Shows rows and asks for changes; whoever owns what they stand for makes them and shows the rows again.

    Signals: move_wanted(from row, to row); taking_out_wanted(row).
    """

    move_wanted = Signal(int, int)
    taking_out_wanted = Signal(int)

    def __init__(self, theme: Theme, name: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._theme = theme
        self._rows: tuple[Row, ...] = ()
        set_look(self, "choices")
        self.setAccessibleName(name)
        self.setWordWrap(True)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.setDragDropMode(QAbstractItemView.DragDropMode.InternalMove)
        self.setDefaultDropAction(Qt.DropAction.MoveAction)
        theme.theme_changed.connect(self._write)

    @property
    def rows(self) -> tuple[Row, ...]:
        return self._rows

    def show_rows(self, rows: Sequence[Row], chosen: int | None = None) -> None:
        """chosen None keeps the row that is chosen, as far as there is one."""
        at = self.currentRow() if chosen is None else chosen
        self._rows = tuple(rows)
        side = _SHAPE if any(row.shape for row in rows) else 0
        self.setIconSize(QSize(side, side))
        was = self.blockSignals(True)
        if self.count() != len(rows):
            self.clear()
            for _ in rows:
                QListWidgetItem(self)
        self._write()
        self.setCurrentRow(min(at, len(rows) - 1))
        self.blockSignals(was)

    def _write(self) -> None:
        for at, row in enumerate(self._rows):
            item = self.item(at)
            item.setText(row.words)
            item.setToolTip(row.words if not row.shape_word else f"{row.words}\n{row.shape_word}")
            item.setIcon(self._icon(row.shape) if self.iconSize().width() else QIcon())
            said = ", ".join(part for part in (row.words.replace("\n", ", "), row.shape_word) if part)
            item.setData(Qt.ItemDataRole.AccessibleTextRole, said)

    def _icon(self, shape: str) -> QIcon:
        ratio = 3
        picture = QPixmap(_SHAPE * ratio, _SHAPE * ratio)
        picture.fill(Qt.GlobalColor.transparent)
        if shape:
            painter = QPainter(picture)
            paint_shape(painter, shape, QRectF(picture.rect()), shape_colour(self._theme, shape))
            painter.end()
        picture.setDevicePixelRatio(ratio)
        return QIcon(picture)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        row, key = self.currentRow(), event.key()
        alt = bool(event.modifiers() & Qt.KeyboardModifier.AltModifier)
        if alt and key in (Qt.Key.Key_Up, Qt.Key.Key_Down):
            self.ask_to_move(-1 if key == Qt.Key.Key_Up else 1)
        elif key in (Qt.Key.Key_Delete, Qt.Key.Key_Backspace) and row >= 0:
            self.taking_out_wanted.emit(row)
        else:
            super().keyPressEvent(event)

    def ask_to_move(self, by: int) -> None:
        """The chosen row by one up (-1) or down (1), where there is room."""
        row = self.currentRow()
        if row >= 0 and 0 <= row + by < self.count():
            self.move_wanted.emit(row, row + by)

    def dropEvent(self, event: QDropEvent) -> None:
        row = self.currentRow()
        at = event.position().toPoint()
        index = self.indexAt(at)
        to = self.count() if not index.isValid() else index.row()
        if index.isValid() and at.y() > self.visualRect(index).center().y():
            to += 1
        if to > row:
            to -= 1
        # Said to be a copy, so that the list takes nothing out by itself.
        event.setDropAction(Qt.DropAction.CopyAction)
        event.accept()
        if row >= 0 and to != row:
            self.move_wanted.emit(row, to)


class OrderDeeds(QWidget):
    """The buttons under an ordered list: the same by mouse as by keys."""

    def __init__(self, ordered: OrderedList, up: str, down: str, parent: QWidget | None = None) -> None:
        """up and down say what moving comes to ('nearer the weather')."""
        super().__init__(parent)
        self._list = ordered
        self.up = self._button(self.tr("Up"), up, "Alt+↑")
        self.down = self._button(self.tr("Down"), down, "Alt+↓")
        self.out = self._button(self.tr("Take out"), self.tr("Take the chosen one out"), self.tr("Delete"))
        self.up.clicked.connect(lambda: ordered.ask_to_move(-1))
        self.down.clicked.connect(lambda: ordered.ask_to_move(1))
        self.out.clicked.connect(lambda: ordered.taking_out_wanted.emit(ordered.currentRow()))
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(GRID)
        for button in (self.up, self.down, self.out):
            row.addWidget(button)
        row.addStretch(1)
        ordered.currentRowChanged.connect(lambda _: self.look())
        self.look()

    def look(self) -> None:
        """Which of them can do anything now."""
        row, count = self._list.currentRow(), self._list.count()
        self.up.setEnabled(row > 0)
        self.down.setEnabled(0 <= row < count - 1)
        self.out.setEnabled(row >= 0)

    def _button(self, words: str, says: str, key: str) -> QPushButton:
        button = QPushButton(words, self)
        set_look(button, "deed")
        button.setAccessibleName(says)
        button.setToolTip(f"{says} ({key})")
        return button
