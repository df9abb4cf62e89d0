"""A part of a page under its heading that is filled anew when what it shows changes, and left alone when not."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from PySide6.QtWidgets import QLabel, QVBoxLayout, QWidget

from app.theme.theme import GRID, set_look


class Section(QWidget):
    """Keeps the keyboard where it is as long as nothing in it changes."""

    def __init__(self, title: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._key: object = None
        self.shown: tuple[QWidget, ...] = ()
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(GRID)
        if title:
            head = QLabel(title, self)
            head.setWordWrap(True)
            set_look(head, "topic")
            self._column.addWidget(head)
        self.hide()

    def fill(self, key: object, make: Callable[[], Sequence[QWidget]]) -> None:
        """make is called where key is another than last time; without widgets the section is hidden."""
        if key == self._key:
            return
        self._key = key
        for widget in self.shown:
            self._column.removeWidget(widget)
            widget.hide()
            widget.deleteLater()
        self.shown = tuple(make())
        for widget in self.shown:
            self._column.addWidget(widget)
            widget.show()
        self.setVisible(bool(self.shown))
