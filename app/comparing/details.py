"""The sentences that the chosen cell rests on, under the table."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QLabel, QScrollArea, QVBoxLayout, QWidget

from app.comparing.lines import Line, ShownCell
from app.sentence_card import SentenceCard
from app.theme.theme import GRID, Theme, set_look
from store.records import ProductRecord


class CellDetails(QScrollArea):
    """Signals: sentence_opened(Sentence); confirming_asked(Sentence)."""

    sentence_opened = Signal(object)
    confirming_asked = Signal(object)

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._theme = theme
        self.cards: tuple[SentenceCard, ...] = ()
        self.setWidgetResizable(True)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.setAccessibleName(self.tr("Sentences behind the chosen cell"))
        self.setMinimumHeight(14 * GRID)

    def show_cell(self, product: ProductRecord | None, line: Line | None, cell: ShownCell | None) -> None:
        """Show what a cell rests on; without one, how to choose one."""
        whole = QWidget()
        column = QVBoxLayout(whole)
        column.setContentsMargins(0, 0, GRID, GRID)
        column.setSpacing(GRID)
        self.cards = ()
        if product is None or line is None or cell is None:
            column.addWidget(_quiet(self.tr("Choose a cell: the sentences that it rests on stand here.")))
        else:
            head = QLabel(f"{product.name} · {line.head}")
            head.setWordWrap(True)
            set_look(head, "topic")
            column.addWidget(head)
            if not cell.sentences:
                unsaid = self.tr("{name}'s sheet doesn't say. Silence is never a yes.").format(name=product.name)
                column.addWidget(_quiet(unsaid if cell.unsaid else cell.text))
            for sentence in cell.sentences:
                card = SentenceCard(self._theme, sentence)
                card.sentence_opened.connect(self.sentence_opened)
                card.confirming_asked.connect(self.confirming_asked)
                column.addWidget(card)
                self.cards = (*self.cards, card)
        column.addStretch(1)
        self.setWidget(whole)


def _quiet(words: str) -> QLabel:
    label = QLabel(words)
    label.setWordWrap(True)
    set_look(label, "quiet")
    return label
