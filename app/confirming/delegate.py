"""How a claim is drawn in the list: shape, sentence, the page's own words, its state in a word."""

from __future__ import annotations

from PySide6.QtCore import QModelIndex, QPersistentModelIndex, QRect, QRectF, QSize, Qt
from PySide6.QtGui import QFont, QFontMetrics, QPainter
from PySide6.QtWidgets import QAbstractItemView, QStyle, QStyledItemDelegate, QStyleOptionViewItem

from app.confirming.model import ROW_ROLE
from app.confirming.order import Head, shape_name, status_words
from app.theme.roles import Role
from app.theme.text_size import LEAD, SMALL, points
from app.theme.theme import GRID, Theme
from app.theme.verdict_shape import paint_shape, shape_colour
from app.translating import translate
from store.records import ClaimRecord, ClaimStatus

SHAPE = 14
LEFT = 2 * GRID + SHAPE + GRID
_WRAP = int(Qt.TextFlag.TextWordWrap) | int(Qt.AlignmentFlag.AlignLeft) | int(Qt.AlignmentFlag.AlignTop)

Index = QModelIndex | QPersistentModelIndex


class ClaimDelegate(QStyledItemDelegate):
    """Paints ClaimList. The chosen claim shows its quote whole, on the light of the lit sentence."""

    def __init__(self, theme: Theme, view: QAbstractItemView) -> None:
        super().__init__(view)
        self._theme = theme
        self._view = view
        self.current = -1
        """The row that is chosen; the view tells."""
        # Measuring words is what a step through the list would else spend its time on.
        self._heights: dict[tuple[int, bool], int] = {}
        self._measured_width = -1
        model = view.model()
        model.modelReset.connect(self._heights.clear)
        model.dataChanged.connect(self._on_data_changed)

    def sizeHint(self, option: QStyleOptionViewItem, index: Index) -> QSize:
        width = self._view.viewport().width()
        if width != self._measured_width:
            self._heights.clear()
            self._measured_width = width
        key = (index.row(), index.row() == self.current)
        height = self._heights.get(key)
        if height is None:
            height = self._heights[key] = self._height(index, width)
        return QSize(width, height)

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        row = index.data(ROW_ROLE)
        painter.save()
        painter.setClipRect(option.rect)
        if isinstance(row, Head):
            self._paint_head(painter, option.rect, str(index.data()))
        elif isinstance(row, ClaimRecord):
            self._paint_claim(painter, option, index, row)
        painter.restore()

    # --- inside

    def _on_data_changed(self, first: QModelIndex, last: QModelIndex) -> None:
        for row in range(first.row(), last.row() + 1):
            for chosen in (False, True):
                self._heights.pop((row, chosen), None)

    def _fonts(self) -> tuple[QFont, QFont, QFont]:
        base = QFont()
        sentence, quiet, head = QFont(base), QFont(base), QFont(base)
        sentence.setPointSizeF(points(LEAD))
        quiet.setPointSizeF(points(SMALL))
        head.setPointSizeF(points(LEAD))
        head.setBold(True)
        return sentence, quiet, head

    def _height(self, index: Index, width: int) -> int:
        row = index.data(ROW_ROLE)
        sentence, quiet, head = self._fonts()
        if isinstance(row, Head):
            return QFontMetrics(head).height() + 3 * GRID
        if not isinstance(row, ClaimRecord):
            return 0
        room = self._text_width(row, width)
        height = _wrapped(sentence, str(index.data()), room) + 2 * GRID
        if index.row() == self.current:
            height += _wrapped(quiet, _quote(row), width - LEFT - 4 * GRID) + 2 * GRID
        else:
            height += QFontMetrics(quiet).height()
        return height

    def _text_width(self, row: ClaimRecord, width: int) -> int:
        _, quiet, _ = self._fonts()
        return max(width - LEFT - 3 * GRID - QFontMetrics(quiet).horizontalAdvance(status_words(row)), 120)

    def _paint_head(self, painter: QPainter, rect: QRect, words: str) -> None:
        _, _, head = self._fonts()
        painter.setFont(head)
        painter.setPen(self._theme.colour(Role.INK))
        inner = rect.adjusted(2 * GRID, 2 * GRID, -2 * GRID, -GRID // 2)
        painter.drawText(inner, int(Qt.AlignmentFlag.AlignLeft) | int(Qt.AlignmentFlag.AlignBottom), words)
        painter.setPen(self._theme.colour(Role.LINE))
        painter.drawLine(rect.left() + 2 * GRID, rect.bottom(), rect.right() - 2 * GRID, rect.bottom())

    def _paint_claim(self, painter: QPainter, option: QStyleOptionViewItem, index: Index, row: ClaimRecord) -> None:
        rect: QRect = option.rect
        chosen = index.row() == self.current
        sentence_font, quiet_font, _ = self._fonts()
        if chosen:
            painter.fillRect(rect, self._theme.colour(Role.CHOSEN))
            focused = bool(option.state & QStyle.StateFlag.State_Active)
            bar = QRect(rect.left(), rect.top(), 4, rect.height())
            painter.fillRect(bar, self._theme.colour(Role.ACCENT if focused else Role.EDGE))
        name = shape_name(row)
        top = rect.top() + GRID
        sentence_height = QFontMetrics(sentence_font).height()
        box = QRectF(rect.left() + 2 * GRID, top + (sentence_height - SHAPE) / 2, SHAPE, SHAPE)
        colour = shape_colour(self._theme, name)
        paint_shape(painter, name, box, colour)

        painter.setFont(quiet_font)
        painter.setPen(colour)
        state = status_words(row)
        state_width = QFontMetrics(quiet_font).horizontalAdvance(state)
        painter.drawText(
            QRect(rect.right() - 2 * GRID - state_width, top, state_width + 2, sentence_height),
            int(Qt.AlignmentFlag.AlignRight) | int(Qt.AlignmentFlag.AlignVCenter),
            state,
        )
        rejected = row.status is ClaimStatus.REJECTED
        sentence_font.setStrikeOut(rejected)
        painter.setFont(sentence_font)
        painter.setPen(self._theme.colour(Role.QUIET if rejected else Role.INK))
        words = str(index.data())
        room = self._text_width(row, rect.width())
        height = _wrapped(sentence_font, words, room)
        painter.drawText(QRect(rect.left() + LEFT, top, room, height), _WRAP, words)

        painter.setFont(quiet_font)
        quote_top = top + height
        width = rect.width() - LEFT - 2 * GRID
        if chosen:
            inner = width - 2 * GRID
            quote_height = _wrapped(quiet_font, _quote(row), inner)
            lit = QRect(rect.left() + LEFT, quote_top + GRID // 2, width, quote_height + GRID)
            painter.fillRect(lit, self._theme.colour(Role.LIT))
            painter.setPen(self._theme.colour(Role.INK))
            painter.drawText(lit.adjusted(GRID, GRID // 2, -GRID, -GRID // 2), _WRAP, _quote(row))
        else:
            painter.setPen(self._theme.colour(Role.QUIET))
            metrics = QFontMetrics(quiet_font)
            elided = metrics.elidedText(_quote(row), Qt.TextElideMode.ElideRight, width)
            painter.drawText(QRect(rect.left() + LEFT, quote_top, width, metrics.height()), _WRAP, elided)


def _quote(row: ClaimRecord) -> str:
    evidence = row.claim.evidence
    page = translate("confirming", "page {page}").format(page=evidence.page)
    return f"“{evidence.quote}”  {page}"


def _wrapped(font: QFont, words: str, width: int) -> int:
    return QFontMetrics(font).boundingRect(QRect(0, 0, max(width, 1), 10_000), _WRAP, words).height()
