"""Holds a place: as large as the window lets it be, and scrolled rather than squeezed where that is too small."""

from __future__ import annotations

from collections.abc import Iterator

from PySide6.QtCore import QEvent, QObject, QSize, Qt, QTimer
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import (
    QAbstractScrollArea,
    QBoxLayout,
    QLayout,
    QLayoutItem,
    QScrollArea,
    QSplitter,
    QStackedWidget,
    QWidget,
)


class Roll(QScrollArea):
    """Qt's own resizable scroll area gives a page the height that it would like; this one what it needs."""

    def __init__(self, page: QWidget, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._room = -1
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.setWidget(page)
        page.installEventFilter(self)

    def _fit(self) -> None:
        page = self.widget()
        if page is None:
            return
        # As much as there is without bars: they come where the page needs more than that.
        room = self.maximumViewportSize()
        if room.width() != self._room:
            self._room = room.width()
            # A place that is laid out otherwise in a narrow window is so first, before its least size counts.
            page.resize(room)
            QTimer.singleShot(0, self, self._fit)
            return
        needed = least_size(page)
        bar = self.verticalScrollBar().sizeHint().width()
        upright, across = needed.height() > room.height(), needed.width() > room.width()
        left = QSize(room.width() - bar * upright, room.height() - bar * across)
        page.resize(left.expandedTo(needed))

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if event.type() == QEvent.Type.LayoutRequest:
            self._fit()
        return super().eventFilter(watched, event)

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._fit()


def least_size(widget: QWidget) -> QSize:
    """What the widget needs so that nothing in it is cut short, as it is laid out now.

    Pages of a stack that are not in front don't count, and what scrolls by itself needs only what it asks for at least.
    """
    layout = widget.layout()
    if isinstance(widget, QStackedWidget) and (current := widget.currentWidget()) is not None:
        least = least_size(current)
    elif layout is None or isinstance(widget, QAbstractScrollArea | QSplitter):
        least = widget.minimumSizeHint()
        if widget.hasHeightForWidth():
            least.setHeight(widget.heightForWidth(widget.width()))
    else:
        least = _of_layout(layout)
    return least.expandedTo(widget.minimumSize()).boundedTo(widget.maximumSize())


def _of_layout(layout: QLayout) -> QSize:
    if not isinstance(layout, QBoxLayout):
        least = layout.minimumSize()
        if layout.hasHeightForWidth():
            least.setHeight(layout.minimumHeightForWidth(layout.geometry().width()))
        return least
    sizes = list(_sizes(layout))
    gaps = layout.spacing() * max(len(sizes) - 1, 0)
    widths, heights = [size.width() for size in sizes], [size.height() for size in sizes]
    margins = layout.contentsMargins()
    if layout.direction() in (QBoxLayout.Direction.LeftToRight, QBoxLayout.Direction.RightToLeft):
        width, height = sum(widths) + gaps, max(heights, default=0)
    else:
        width, height = max(widths, default=0), sum(heights) + gaps
    return QSize(width + margins.left() + margins.right(), height + margins.top() + margins.bottom())


def _sizes(layout: QBoxLayout) -> Iterator[QSize]:
    for at in range(layout.count()):
        item = layout.itemAt(at)
        if item is not None and not item.isEmpty():
            yield _of_item(item)
        elif item is not None and item.spacerItem() is not None and item.minimumSize().isValid():
            yield item.minimumSize()


def _of_item(item: QLayoutItem) -> QSize:
    widget, layout = item.widget(), item.layout()
    if widget is not None:
        return least_size(widget)
    return _of_layout(layout) if layout is not None else item.minimumSize()
