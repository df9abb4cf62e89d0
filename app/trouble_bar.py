"""What went wrong, said to a painter: what happened, what still holds, what to do; the technical part folded away."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLabel, QPushButton, QVBoxLayout, QWidget

from app.theme.theme import GRID, set_look


class TroubleBar(QFrame):
    """A band over the place in front, gone once it is read."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        set_look(self, "trouble")
        self.setAccessibleName(self.tr("Trouble"))
        self._words = QLabel(self)
        self._words.setWordWrap(True)
        self._detail = QLabel(self)
        self._detail.setWordWrap(True)
        self._detail.setTextInteractionFlags(
            Qt.TextInteractionFlag.TextSelectableByMouse | Qt.TextInteractionFlag.TextSelectableByKeyboard
        )
        self._detail.setAccessibleName(self.tr("Technical part"))
        set_look(self._detail, "quiet")
        self._detail.hide()
        self._more = QPushButton(self.tr("Technical part"), self)
        self._more.setCheckable(True)
        self._more.toggled.connect(self._detail.setVisible)
        read = QPushButton(self.tr("Understood"), self)
        read.clicked.connect(self.hide)
        row = QHBoxLayout()
        row.setSpacing(GRID)
        row.addWidget(self._words, 1)
        row.addWidget(self._more)
        row.addWidget(read)
        column = QVBoxLayout(self)
        column.setContentsMargins(2 * GRID, GRID, 2 * GRID, GRID)
        column.addLayout(row)
        column.addWidget(self._detail)
        self.hide()

    def say(self, words: str, detail: str = "") -> None:
        """Show the sentence; detail is folded under it."""
        self._words.setText(words)
        self._words.setAccessibleName(words)
        self._detail.setText(detail)
        self._more.setVisible(bool(detail))
        self._more.setChecked(False)
        self.show()

    @property
    def words(self) -> str:
        return self._words.text()
