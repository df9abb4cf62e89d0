"""What an empty place says: one sentence of what belongs here, one button that brings it about."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QLabel, QPushButton, QVBoxLayout, QWidget

from app.theme.theme import GRID, set_look


class EmptyPlace(QWidget):
    """Signals: wanted() when the button is pressed."""

    wanted = Signal()

    def __init__(self, words: str, deed: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._words = QLabel(words, self)
        set_look(self._words, "lead")
        self._words.setWordWrap(True)
        self._words.setAlignment(Qt.AlignmentFlag.AlignCenter)
        self._deed = QPushButton(deed, self)
        set_look(self._deed, "primary")
        self._deed.clicked.connect(self.wanted)
        column = self._column = QVBoxLayout(self)
        column.setSpacing(2 * GRID)
        column.addStretch(2)
        column.addWidget(self._words)
        column.addWidget(self._deed, 0, Qt.AlignmentFlag.AlignHCenter)
        column.addStretch(3)

    def say(self, words: str, deed: str = "") -> None:
        """Other words; without a deed no button."""
        self._words.setText(words)
        self._deed.setVisible(bool(deed))
        if deed:
            self._deed.setText(deed)
        self._fit()

    @property
    def words(self) -> str:
        return self._words.text()

    @property
    def button(self) -> QPushButton:
        return self._deed

    def _fit(self) -> None:
        # A splitter knows nothing of words that take more lines where they have less width.
        self.setMinimumHeight(self._column.minimumHeightForWidth(self.width()))

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._fit()
