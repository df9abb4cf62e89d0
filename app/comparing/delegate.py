"""How a row of the comparison is painted: words that wrap, a verdict's shape, headings right across."""

from __future__ import annotations

from PySide6.QtCore import QModelIndex, QPersistentModelIndex, QRect, QRectF, QSize, Qt
from PySide6.QtGui import QFont, QFontMetrics, QPainter
from PySide6.QtWidgets import QStyle, QStyledItemDelegate, QStyleOptionViewItem, QTableView

from app.comparing.lines import Line, ShownCell
from app.comparing.model import CELL_ROLE, LINE_ROLE
from app.theme.roles import Role
from app.theme.text_size import LEAD, points
from app.theme.theme import GRID, Theme
from app.theme.verdict_shape import paint_shape, shape_colour

Index = QModelIndex | QPersistentModelIndex
_SHAPE = 12
_WRAP = int(Qt.TextFlag.TextWordWrap | Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignTop)
HEADING = 5 * GRID


class CellDelegate(QStyledItemDelegate):
    def __init__(self, theme: Theme, view: QTableView) -> None:
        super().__init__(view)
        self._theme = theme
        self._view = view

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        rect: QRect = option.rect
        line: Line = index.data(LINE_ROLE)
        painter.save()
        if line.is_heading:
            painter.fillRect(rect, self._theme.colour(Role.PAPER))
            painter.setFont(self._heading_font())
            painter.setPen(self._theme.colour(Role.INK))
            painter.drawText(
                rect.adjusted(GRID, 0, -GRID, -GRID // 2),
                int(Qt.AlignmentFlag.AlignBottom | Qt.AlignmentFlag.AlignLeft),
                line.head,
            )
            painter.restore()
            return
        if option.state & QStyle.StateFlag.State_Selected:
            painter.fillRect(rect, self._theme.colour(Role.CHOSEN))
        painter.setPen(self._theme.colour(Role.LINE))
        painter.drawLine(rect.bottomLeft(), rect.bottomRight())
        cell: ShownCell | None = index.data(CELL_ROLE)
        if cell is None:
            self._paint_head(painter, rect, line)
        else:
            self._paint_cell(painter, rect, cell)
        if option.state & QStyle.StateFlag.State_HasFocus:
            painter.setPen(self._theme.colour(Role.ACCENT))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawRect(rect.adjusted(0, 0, -1, -1))
        painter.restore()

    def sizeHint(self, option: QStyleOptionViewItem, index: Index) -> QSize:
        line: Line = index.data(LINE_ROLE)
        if line.is_heading:
            return QSize(0, HEADING)
        width = self._view.columnWidth(index.column())
        cell: ShownCell | None = index.data(CELL_ROLE)
        if cell is None:
            inner = self._head_box(QRect(0, 0, width, 0))
            return QSize(width, self._metrics(line.differs).boundingRect(inner, _WRAP, line.head).height() + 2 * GRID)
        metrics = self._metrics(False)
        height = metrics.boundingRect(self._inner(QRect(0, 0, width, 0), bool(cell.shape)), _WRAP, cell.text).height()
        for words in cell.own:
            height += metrics.boundingRect(self._inner(QRect(0, 0, width, 0), True), _WRAP, words).height() + GRID // 2
        return QSize(width, height + 2 * GRID)

    def _paint_head(self, painter: QPainter, rect: QRect, line: Line) -> None:
        inner = self._head_box(rect)
        painter.setPen(self._theme.colour(Role.INK))
        font = QFont(self._view.font())
        if line.differs:
            font.setWeight(QFont.Weight.DemiBold)
            painter.setFont(font)
            painter.drawText(QRect(rect.left() + GRID, inner.top(), 2 * GRID, 3 * GRID), _WRAP, "≠")
        painter.drawText(inner, _WRAP, line.head)

    def _paint_cell(self, painter: QPainter, rect: QRect, cell: ShownCell) -> None:
        inner = self._inner(rect, bool(cell.shape))
        if cell.shape:
            self._shape(painter, cell.shape, rect.left() + GRID, inner.top())
        quiet = cell.unsaid or cell.unconfirmed
        painter.setPen(self._theme.colour(Role.QUIET if quiet else Role.INK))
        painter.drawText(inner, _WRAP, cell.text)
        below = painter.boundingRect(inner, _WRAP, cell.text).height() + GRID // 2
        painter.setPen(self._theme.colour(Role.INK))
        for words in cell.own:
            own = self._inner(rect, True).adjusted(0, below, 0, 0)
            self._shape(painter, "own", rect.left() + GRID, own.top())
            painter.drawText(own, _WRAP, words)
            below += painter.boundingRect(own, _WRAP, words).height() + GRID // 2

    def _shape(self, painter: QPainter, name: str, x: int, y: int) -> None:
        paint_shape(painter, name, QRectF(x, y + 3, _SHAPE, _SHAPE), shape_colour(self._theme, name))

    def _inner(self, rect: QRect, shaped: bool) -> QRect:
        left = rect.left() + GRID + (_SHAPE + GRID * 3 // 4 if shaped else 0)
        return QRect(left, rect.top() + GRID, max(rect.right() - left - GRID, 40), 10_000)

    def _head_box(self, rect: QRect) -> QRect:
        return QRect(rect.left() + 3 * GRID, rect.top() + GRID, max(rect.width() - 4 * GRID, 40), 10_000)

    def _metrics(self, bold: bool) -> QFontMetrics:
        font = QFont(self._view.font())
        if bold:
            font.setWeight(QFont.Weight.DemiBold)
        return QFontMetrics(font)

    def _heading_font(self) -> QFont:
        font = QFont(self._view.font())
        font.setPointSizeF(points(LEAD))
        font.setWeight(QFont.Weight.DemiBold)
        return font
