"""The list of names under a field in which one is typed. It never takes the keyboard from the field."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

from PySide6.QtCore import QAbstractListModel, QModelIndex, QPersistentModelIndex, QPoint, QRect, QSize, Qt, Signal
from PySide6.QtGui import QGuiApplication, QPainter, QPalette
from PySide6.QtWidgets import (
    QAbstractItemView,
    QListView,
    QStyle,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QWidget,
)

from app.theme.theme import GRID, set_look
from app.translating import translate
from app.wording import kind_words

if TYPE_CHECKING:
    from store.rules.names import Suggestion

Index = QModelIndex | QPersistentModelIndex
OFFER_ROLE = int(Qt.ItemDataRole.UserRole) + 1
ROW = 4 * GRID
MOST_ROWS = 8


class OfferList(QAbstractListModel):
    """A row a name, with what it is beside it."""

    def __init__(self) -> None:
        super().__init__()
        self._offers: tuple[Suggestion, ...] = ()

    def rowCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008 - Qt's own signature
        return 0 if parent.isValid() else len(self._offers)

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        if not index.isValid():
            return None
        offer = self._offers[index.row()]
        if role == OFFER_ROLE:
            return offer
        if role == Qt.ItemDataRole.DisplayRole:
            return offer.text
        if role in (Qt.ItemDataRole.AccessibleTextRole, Qt.ItemDataRole.ToolTipRole):
            return f"{offer.text}, {beside_words(offer)}"
        return None

    def set_offers(self, offers: Sequence[Suggestion]) -> None:
        self.beginResetModel()
        self._offers = tuple(offers)
        self.endResetModel()


def beside_words(offer: Suggestion) -> str:
    """'Quern Lane Paintworks · 2K epoxy primer', 'a kind', or 'a kind: mild steel' where that was typed."""
    kind = getattr(offer.meaning, "kind", None)
    if offer.beside == "kind" and offer.other_name:
        return translate("naming", "a kind: {other_name}").format(other_name=offer.other_name)
    if offer.beside == "kind":
        return translate("naming", "a kind")
    return " · ".join(part for part in (offer.beside, kind_words(kind) if kind else "") if part)


class _OfferDelegate(QStyledItemDelegate):
    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        self.initStyleOption(option, index)
        offer = index.data(OFFER_ROLE)
        palette: QPalette = option.palette
        rect: QRect = option.rect
        chosen = bool(option.state & QStyle.StateFlag.State_Selected)
        painter.save()
        if chosen:
            painter.fillRect(rect, palette.highlight())
        inner = rect.adjusted(GRID, 0, -GRID, 0)
        ink = palette.highlightedText().color() if chosen else palette.text().color()
        # The program's own palette: a style sheet thins the view's.
        quiet = ink if chosen else QGuiApplication.palette().placeholderText().color()
        middle = Qt.AlignmentFlag.AlignVCenter
        beside = beside_words(offer)
        metrics = painter.fontMetrics()
        name = metrics.elidedText(offer.text, Qt.TextElideMode.ElideRight, inner.width() * 2 // 3)
        painter.setPen(ink)
        painter.drawText(inner, int(middle | Qt.AlignmentFlag.AlignLeft), name)
        room = inner.width() - metrics.horizontalAdvance(name) - 2 * GRID
        painter.setPen(quiet)
        words = metrics.elidedText(beside, Qt.TextElideMode.ElideRight, max(room, 0))
        painter.drawText(inner, int(middle | Qt.AlignmentFlag.AlignRight), words)
        painter.restore()

    def sizeHint(self, option: QStyleOptionViewItem, index: Index) -> QSize:
        return QSize(0, ROW)


class OffersPopup(QListView):
    """Lies over the window under its field.

    Signals: offer_taken(Suggestion) by a click.
    """

    offer_taken = Signal(object)

    def __init__(self, field: QWidget) -> None:
        super().__init__(field)
        self._field = field
        self._offers = OfferList()
        self.setModel(self._offers)
        self.setItemDelegate(_OfferDelegate(self))
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.setAccessibleName(self.tr("Names offered"))
        self.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setUniformItemSizes(True)
        set_look(self, "offers")
        self.clicked.connect(lambda index: self.offer_taken.emit(index.data(OFFER_ROLE)))
        self.hide()

    def show_offers(self, offers: Sequence[Suggestion], current: int | None = None) -> None:
        """Show these under the field; Enter takes the row `current`, where there is one. Nothing for none."""
        self._offers.set_offers(offers)
        if not offers:
            self.hide()
            return
        self._place(len(offers))
        self.show()
        self.raise_()
        if current is None:
            self.setCurrentIndex(QModelIndex())
            self.scrollToTop()
        else:
            self._choose(current)

    def step(self, by: int) -> None:
        """One row down or up, round at the ends; onto the first or the last where none is marked."""
        rows = self._offers.rowCount()
        if not rows:
            return
        index = self.currentIndex()
        if index.isValid():
            self._choose((index.row() + by) % rows)
        else:
            self._choose(0 if by > 0 else rows - 1)

    @property
    def current(self) -> Suggestion | None:
        index = self.currentIndex()
        return index.data(OFFER_ROLE) if self.isVisible() and index.isValid() else None

    @property
    def offers(self) -> tuple[Suggestion, ...]:
        rows = range(self._offers.rowCount())
        return tuple(self._offers.data(self._offers.index(row), OFFER_ROLE) for row in rows) if self.isVisible() else ()

    @property
    def texts(self) -> tuple[str, ...]:
        return tuple(offer.text for offer in self.offers)

    def _choose(self, row: int) -> None:
        self.setCurrentIndex(self._offers.index(row))

    def _place(self, rows: int) -> None:
        window = self._field.window()
        if self.parentWidget() is not window:
            self.setParent(window)
        at = self._field.mapTo(window, QPoint(0, self._field.height() + 2))
        height = min(rows, MOST_ROWS) * ROW + 4
        room = window.height() - at.y() - GRID
        width = min(max(self._field.width(), 45 * GRID), window.width() - at.x() - GRID)
        self.setGeometry(at.x(), at.y(), width, max(min(height, room), ROW))
