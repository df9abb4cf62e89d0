"""What is due as a card: what it is, the time of day large, what is left, the whole sentence, and the sheets' words."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLabel, QPushButton, QVBoxLayout, QWidget

from app.due_list.words import Short
from app.flow import flowing
from app.sentence_links import SentenceLinks
from app.sentences import Sentence
from app.theme.theme import GRID, Theme, set_look
from app.theme.verdict_shape import VerdictWord


class _Line(QLabel):
    """Words on one line where there is one for them; Qt's own wrapped label would rather be narrow and high."""

    def __init__(self, words: str, parent: QWidget) -> None:
        super().__init__(words, parent)
        self.setWordWrap(True)

    def sizeHint(self) -> QSize:
        # A pixel to spare: with none the last word may go onto a second line by rounding.
        width = self.fontMetrics().horizontalAdvance(self.text()) + 1
        return QSize(width, self.heightForWidth(width))


class ShortCard(QFrame):
    """Signals: sentence_opened(Sentence); wanted() by its button, where it has one."""

    sentence_opened = Signal(object)
    wanted = Signal()

    def __init__(
        self,
        theme: Theme,
        title: str,
        short: Short,
        lines: Sequence[str],
        sentences: Sequence[Sentence],
        *,
        deed: str = "",
        parent: QWidget | None = None,
    ) -> None:
        """lines are whole sentences of ours, the first one the most wanted; deed labels a button."""
        super().__init__(parent)
        set_look(self, "card")
        self.short = short
        self.lines = tuple(lines)
        self.setAccessibleName(". ".join((title, short.said, *lines)))
        name = QLabel(title, self)
        name.setWordWrap(True)
        set_look(name, "topic")
        large = _Line(short.large, self)
        set_look(large, "large")
        large.setVisible(bool(short.large))
        left = _Line(short.left, self)
        set_look(left, "lead")
        left.setVisible(bool(short.left))
        figures = flowing(2 * GRID, large, left, parent=self)
        self.button = QPushButton(deed, self)
        self.button.setAccessibleName(f"{deed}: {title}")
        self.button.setVisible(bool(deed))
        self.button.clicked.connect(self.wanted)
        head = QHBoxLayout()
        head.setSpacing(2 * GRID)
        head.addWidget(name, 1)
        head.addWidget(self.button, 0, Qt.AlignmentFlag.AlignTop)
        column = QVBoxLayout(self)
        column.setContentsMargins(2 * GRID, GRID + GRID // 2, GRID + GRID // 2, GRID + GRID // 2)
        column.setSpacing(GRID // 2)
        column.addLayout(head)
        column.addWidget(VerdictWord(theme, short.shape, short.word, look="lead", parent=self))
        column.addWidget(figures)
        for words in lines:
            label = QLabel(words, self)
            label.setWordWrap(True)
            column.addWidget(label)
        links = SentenceLinks(sentences, self)
        links.sentence_opened.connect(self.sentence_opened)
        column.addWidget(links)
