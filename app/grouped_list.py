"""A list under headings, each entry with its words, what is beside them and a shape: hits, claims, questions."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from PySide6.QtCore import QAbstractListModel, QModelIndex, QPersistentModelIndex, QRect, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QFont, QPainter, QResizeEvent
from PySide6.QtWidgets import QAbstractItemView, QListView, QStyle, QStyledItemDelegate, QStyleOptionViewItem, QWidget

from app.shortcuts import on_key
from app.theme.roles import Role
from app.theme.text_size import LEAD, points
from app.theme.theme import GRID, Theme
from app.theme.verdict_shape import paint_shape, shape_colour

Index = QModelIndex | QPersistentModelIndex
ENTRY_ROLE = int(Qt.ItemDataRole.UserRole) + 1
_SHAPE = 12
_WRAP = int(Qt.TextFlag.TextWordWrap | Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignTop)


@dataclass(frozen=True, slots=True)
class Entry:
    """payload is what the entry opens. shape is drawn before the words, shape_word says it."""

    words: str
    beside: str = ""
    payload: object = None
    shape: str = ""
    shape_word: str = ""

    @property
    def said(self) -> str:
        return ", ".join(part for part in (self.words, self.shape_word, self.beside) if part)


@dataclass(frozen=True, slots=True)
class Group:
    title: str
    entries: tuple[Entry, ...]


class GroupedModel(QAbstractListModel):
    """Headings and entries in one column; headings cannot be chosen."""

    def __init__(self) -> None:
        super().__init__()
        self._rows: list[str | Entry] = []

    def rowCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008 - Qt's own signature
        return 0 if parent.isValid() else len(self._rows)

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        if not index.isValid():
            return None
        row = self._rows[index.row()]
        if role == ENTRY_ROLE:
            return row if isinstance(row, Entry) else None
        if role == Qt.ItemDataRole.DisplayRole:
            return row.words if isinstance(row, Entry) else row
        if role == Qt.ItemDataRole.AccessibleTextRole:
            return row.said if isinstance(row, Entry) else row
        return None

    def flags(self, index: Index) -> Qt.ItemFlag:
        if index.isValid() and isinstance(self._rows[index.row()], Entry):
            return Qt.ItemFlag.ItemIsEnabled | Qt.ItemFlag.ItemIsSelectable | Qt.ItemFlag.ItemNeverHasChildren
        return Qt.ItemFlag.NoItemFlags

    def set_groups(self, groups: Sequence[Group]) -> None:
        """Groups without entries are left out; a title of '' has no heading."""
        self.beginResetModel()
        self._rows = []
        for group in groups:
            if group.entries:
                self._rows += [group.title] if group.title else []
                self._rows += group.entries
        self.endResetModel()

    @property
    def entries(self) -> tuple[Entry, ...]:
        return tuple(row for row in self._rows if isinstance(row, Entry))

    def first(self) -> int | None:
        """The row of the first entry."""
        return next((at for at, row in enumerate(self._rows) if isinstance(row, Entry)), None)


class _Delegate(QStyledItemDelegate):
    def __init__(self, theme: Theme, view: QListView) -> None:
        super().__init__(view)
        self._theme = theme
        self._view = view

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        rect: QRect = option.rect
        entry = index.data(ENTRY_ROLE)
        painter.save()
        if entry is None:
            painter.setFont(self._heading_font())
            painter.setPen(self._theme.colour(Role.INK))
            painter.drawText(
                rect.adjusted(GRID, 0, -GRID, -GRID // 2),
                int(Qt.AlignmentFlag.AlignBottom | Qt.AlignmentFlag.AlignLeft),
                index.data(),
            )
            painter.restore()
            return
        if option.state & QStyle.StateFlag.State_Selected:
            painter.fillRect(rect, self._theme.colour(Role.CHOSEN))
            if self._view.hasFocus():
                painter.fillRect(QRect(rect.left(), rect.top(), 3, rect.height()), self._theme.colour(Role.ACCENT))
        inner = self._inner(rect.width()).translated(rect.topLeft())
        if entry.shape:
            box = QRectF(inner.left() - _SHAPE - GRID, inner.top() + 2, _SHAPE, _SHAPE)
            paint_shape(painter, entry.shape, box, shape_colour(self._theme, entry.shape))
        painter.setPen(self._theme.colour(Role.INK))
        words_box = painter.boundingRect(inner, _WRAP, entry.words)
        painter.drawText(inner, _WRAP, entry.words)
        if entry.beside:
            painter.setPen(self._theme.colour(Role.QUIET))
            painter.drawText(inner.adjusted(0, words_box.height() + GRID // 4, 0, 0), _WRAP, entry.beside)
        painter.restore()

    def sizeHint(self, option: QStyleOptionViewItem, index: Index) -> QSize:
        width = self._view.viewport().width()
        entry = index.data(ENTRY_ROLE)
        if entry is None:
            return QSize(0, 5 * GRID)
        metrics = self._view.fontMetrics()
        inner = self._inner(width)
        height = metrics.boundingRect(inner, _WRAP, entry.words).height()
        if entry.beside:
            height += GRID // 4 + metrics.boundingRect(inner, _WRAP, entry.beside).height()
        return QSize(0, height + 2 * GRID)

    def _inner(self, width: int) -> QRect:
        left = 2 * GRID + _SHAPE + GRID // 2
        return QRect(left, GRID, max(width - left - 2 * GRID, 80), 10_000)

    def _heading_font(self) -> QFont:
        font = QFont(self._view.font())
        font.setPointSizeF(points(LEAD))
        font.setWeight(QFont.Weight.DemiBold)
        return font


class GroupedList(QListView):
    """Arrows step from entry to entry; Enter or a click opens one.

    Signals: entry_opened(Entry).
    """

    entry_opened = Signal(object)

    def __init__(self, theme: Theme, name: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._model = GroupedModel()
        self.setModel(self._model)
        self.setItemDelegate(_Delegate(theme, self))
        self.setAccessibleName(name)
        self.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setResizeMode(QListView.ResizeMode.Adjust)
        self.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.clicked.connect(self._on_taken)
        for key in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            on_key(self, key, self.open_current)
        theme.theme_changed.connect(self.viewport().update)

    @property
    def model_(self) -> GroupedModel:
        return self._model

    @property
    def entries(self) -> tuple[Entry, ...]:
        return self._model.entries

    @property
    def current(self) -> Entry | None:
        """The chosen entry."""
        index = self.currentIndex()
        entry = index.data(ENTRY_ROLE) if index.isValid() else None
        return entry if isinstance(entry, Entry) else None

    def show_groups(self, groups: Sequence[Group]) -> None:
        self._model.set_groups(groups)

    def choose_first(self) -> None:
        row = self._model.first()
        if row is not None:
            self.setCurrentIndex(self._model.index(row))

    def open_current(self) -> None:
        """Open the chosen entry, if one is."""
        self._on_taken(self.currentIndex())

    def choose(self, number: int) -> None:
        """Choose the entry of this number, from 0."""
        seen = -1
        for row in range(self._model.rowCount()):
            seen += self._model.index(row).data(ENTRY_ROLE) is not None
            if seen == number:
                self.setCurrentIndex(self._model.index(row))
                return

    def _on_taken(self, index: Index) -> None:
        entry = index.data(ENTRY_ROLE) if index.isValid() else None
        if entry is not None:
            self.entry_opened.emit(entry)

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        if event.size().width() != event.oldSize().width():
            self.scheduleDelayedItemsLayout()
