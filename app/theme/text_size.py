"""How large the program's text is, and widths and heights that grow with it.

The factor is that of the application's font over SMALL, so that whatever draws asks nobody but Qt.
"""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QEvent, QObject
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QWidget

SMALL, LEAD, HEAD, LARGE = 11, 13, 16, 20
"""The type scale in points, at 100 %."""
PERCENTS = (100, 125, 150, 175, 200)
"""The sizes that text can be set to."""


def factor() -> float:
    """1.0 at 100 %."""
    size = QGuiApplication.font().pointSizeF()
    return size / SMALL if size > 0 else 1.0


def points(size: int) -> float:
    """A size of the type scale at the text's size now."""
    return size * factor()


def scaled(pixels: int) -> int:
    """A length that holds text, at the text's size now."""
    return round(pixels * factor())


def step(percent: int, by: int) -> int:
    """The next size up or down; the last one stays."""
    nearest = min(range(len(PERCENTS)), key=lambda at: abs(PERCENTS[at] - percent))
    return PERCENTS[min(max(nearest + by, 0), len(PERCENTS) - 1)]


def fix_width(widget: QWidget, pixels: int) -> None:
    """A width that is meant for text of 100 % and grows with the text."""
    at_every_size(widget, lambda: widget.setFixedWidth(scaled(pixels)))


def fix_height(widget: QWidget, pixels: int) -> None:
    """The same for a height."""
    at_every_size(widget, lambda: widget.setFixedHeight(scaled(pixels)))


def limit_width(widget: QWidget, pixels: int) -> None:
    """The same for the most that a widget is wide."""
    at_every_size(widget, lambda: widget.setMaximumWidth(scaled(pixels)))


def at_every_size(widget: QWidget, do: Callable[[], None]) -> None:
    """Do it now, and again whenever the text of the program has changed its size, for as long as the widget lives."""
    _Watch(widget, do)
    do()


class _Watch(QObject):
    def __init__(self, widget: QWidget, do: Callable[[], None]) -> None:
        super().__init__(widget)
        self._do = do
        widget.installEventFilter(self)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        # The theme writes the style sheet anew for each size: by then every look is polished at its new size.
        if event.type() == QEvent.Type.StyleChange:
            self._do()
        return super().eventFilter(watched, event)
