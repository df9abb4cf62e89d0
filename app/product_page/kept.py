"""What was taken away a moment ago, and the way to have it back."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtWidgets import QHBoxLayout, QLabel, QPushButton, QWidget

from app.theme.theme import GRID, set_look


class TakenAway(QWidget):
    """Hidden until something was removed."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._back: Callable[[], None] | None = None
        self._words = QLabel(self)
        set_look(self._words, "quiet")
        self.button = QPushButton(self.tr("Put it back"), self)
        set_look(self.button, "link")
        self.button.clicked.connect(self._on_clicked)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(GRID)
        row.addWidget(self._words)
        row.addWidget(self.button)
        row.addStretch(1)
        self.hide()

    def offer(self, words: str, back: Callable[[], None]) -> None:
        self._words.setText(words)
        self._back = back
        self.show()

    def forget(self) -> None:
        self._back = None
        self.hide()

    def _on_clicked(self) -> None:
        back = self._back
        self.forget()
        if back is not None:
            back()
