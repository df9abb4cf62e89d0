"""A sentence in quotation marks with product and page after it, and the one step to the page."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QMouseEvent
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLabel, QPushButton, QSizePolicy, QVBoxLayout, QWidget

from app.sentences import Sentence
from app.theme.theme import GRID, Theme, set_look
from app.theme.verdict_shape import VerdictWord


class SentenceCard(QFrame):
    """Shows a sentence; a click anywhere on it, or its button, opens the page.

    Signals: sentence_opened(Sentence); confirming_asked(Sentence) where it waits.
    """

    sentence_opened = Signal(object)
    confirming_asked = Signal(object)

    def __init__(self, theme: Theme, sentence: Sentence, does: str = "", parent: QWidget | None = None) -> None:
        """does says what the sentence does here ('forbids it'); without it, what was read in it."""
        super().__init__(parent)
        self.sentence = sentence
        set_look(self, "card")
        self.setAccessibleName(f"{sentence.quoted} {sentence.source}")
        state = VerdictWord(theme, sentence.shape, sentence.standing, side=12, parent=self)
        state.setSizePolicy(QSizePolicy.Policy.Maximum, QSizePolicy.Policy.Preferred)
        role = QLabel(does or sentence.said, self)
        role.setWordWrap(True)
        quote = QLabel(sentence.quoted, self)
        quote.setWordWrap(True)
        quote.setTextFormat(Qt.TextFormat.PlainText)
        set_look(quote, "quote")
        self._open = QPushButton(self.tr("Open page {page}").format(page=sentence.page), self)
        set_look(self._open, "link")
        self._open.setAccessibleName(self.tr("Open {source}").format(source=sentence.source))
        self._open.clicked.connect(lambda: self.sentence_opened.emit(self.sentence))
        source = QLabel(sentence.source, self)
        source.setWordWrap(True)
        set_look(source, "quiet")
        head = QHBoxLayout()
        head.setSpacing(2 * GRID)
        head.addWidget(state, 0, Qt.AlignmentFlag.AlignTop)
        head.addWidget(role, 1)
        foot = QHBoxLayout()
        foot.setSpacing(GRID)
        foot.addWidget(source, 1)
        if sentence.waits:
            confirm = QPushButton(self.tr("Confirm it"), self)
            set_look(confirm, "link")
            confirm.clicked.connect(lambda: self.confirming_asked.emit(self.sentence))
            foot.addWidget(confirm)
        foot.addWidget(self._open)
        column = QVBoxLayout(self)
        column.setContentsMargins(2 * GRID, GRID, GRID, GRID // 2)
        column.setSpacing(GRID // 2)
        column.addLayout(head)
        column.addWidget(quote)
        column.addLayout(foot)
        self.setCursor(Qt.CursorShape.PointingHandCursor)

    @property
    def open_button(self) -> QPushButton:
        return self._open

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        super().mouseReleaseEvent(event)
        if event.button() is Qt.MouseButton.LeftButton and self.rect().contains(event.position().toPoint()):
            self._open.setFocus(Qt.FocusReason.MouseFocusReason)
            self.sentence_opened.emit(self.sentence)
