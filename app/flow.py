"""A row that goes on in the next line where the width ends."""

from __future__ import annotations

from PySide6.QtCore import QPoint, QRect, QSize, Qt
from PySide6.QtWidgets import QLayout, QLayoutItem, QWidget


class FlowLayout(QLayout):
    """Lays its widgets out as words in a paragraph, `gap` pixels apart."""

    def __init__(self, parent: QWidget, gap: int) -> None:
        super().__init__(parent)
        self._items: list[QLayoutItem] = []
        self._gap = gap
        self.setContentsMargins(0, 0, 0, 0)

    def insert(self, at: int, widget: QWidget) -> None:
        """Put a widget before the one that is at this place now."""
        self.addWidget(widget)
        self._items.insert(at, self._items.pop())
        self.invalidate()

    def addItem(self, item: QLayoutItem) -> None:
        self._items.append(item)

    def count(self) -> int:
        return len(self._items)

    def itemAt(self, index: int) -> QLayoutItem | None:
        return self._items[index] if 0 <= index < len(self._items) else None

    def takeAt(self, index: int) -> QLayoutItem | None:
        return self._items.pop(index) if 0 <= index < len(self._items) else None

    def expandingDirections(self) -> Qt.Orientation:
        return Qt.Orientation(0)

    def hasHeightForWidth(self) -> bool:
        return True

    def heightForWidth(self, width: int) -> int:
        return self._lay_out(QRect(0, 0, width, 0), moves=False)

    def setGeometry(self, rect: QRect) -> None:
        super().setGeometry(rect)
        self._lay_out(rect, moves=True)

    def sizeHint(self) -> QSize:
        return self.minimumSize()

    def minimumSize(self) -> QSize:
        size = QSize()
        for item in self._seen():
            size = size.expandedTo(item.minimumSize())
        return size

    def _seen(self) -> list[QLayoutItem]:
        """What is hidden takes no room and leaves no gap."""
        return [item for item in self._items if not item.isEmpty()]

    def _lay_out(self, rect: QRect, *, moves: bool) -> int:
        """The height that is needed; with moves the items are put in their places too."""
        lines: list[list[QLayoutItem]] = [[]]
        x = 0
        for item in self._seen():
            width = _size(item, rect.width()).width()
            if lines[-1] and x + width > rect.width():
                lines.append([])
                x = 0
            lines[-1].append(item)
            x += width + self._gap
        y = rect.y()
        for line in lines:
            height = max((_size(item, rect.width()).height() for item in line), default=0)
            x = rect.x()
            for item in line:
                size = _size(item, rect.width())
                if moves:
                    item.setGeometry(QRect(QPoint(x, y + (height - size.height()) // 2), size))
                x += size.width() + self._gap
            y += height + self._gap
        return y - self._gap - rect.y()


def flowing(gap: int, *widgets: QWidget, parent: QWidget | None = None) -> QWidget:
    """The widgets in a row of their own that goes on in the next line."""
    row = QWidget(parent)
    flow = FlowLayout(row, gap)
    for widget in widgets:
        flow.addWidget(widget)
    return row


def _size(item: QLayoutItem, most: int) -> QSize:
    """Words that may be wrapped are, where they are wider than a whole line."""
    size = item.sizeHint().expandedTo(item.minimumSize())
    if size.width() > most > 0 and item.hasHeightForWidth():
        return QSize(most, item.heightForWidth(most))
    return size
