"""What stands on the shelf that may go on something: best first, each with its sentences, the forbidden ones too."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QLabel, QScrollArea, QVBoxLayout, QWidget

from app.due_list.short_card import ShortCard
from app.due_list.words import Short
from app.job_words import missing_words, tin_dates_words, tin_words
from app.sentences import Sentence, one_each
from app.theme.text_size import limit_width
from app.theme.theme import GRID, Theme, set_look
from app.verdict_words import answer_words, conditions_words, verdict_words
from store.planning.on_hand import OnHand


class AnswersOnHand(QScrollArea):
    """Signals: sentence_opened(Sentence)."""

    sentence_opened = Signal(object)

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._theme = theme
        self.found: tuple[OnHand, ...] = ()
        self.setWidgetResizable(True)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setAccessibleName(self.tr("What you have that may go on it"))

    def show_found(self, found: Sequence[OnHand]) -> None:
        self.found = tuple(found)
        whole = QWidget()
        limit_width(whole, 104 * GRID)
        column = QVBoxLayout(whole)
        column.setContentsMargins(0, 0, GRID, 2 * GRID)
        column.setSpacing(GRID)
        for item in self.found:
            column.addWidget(self._card(item))
        if not self.found:
            none = QLabel(self.tr("No tin with anything in it is on the shelf."))
            set_look(none, "lead")
            column.addWidget(none)
        column.addStretch(1)
        self.setWidget(whole)

    def _card(self, item: OnHand) -> ShortCard:
        answer = item.answer
        lines = [answer_words(answer), *(f"• {words}" for words in conditions_words(answer)), missing_words(item)]
        lines += [f"{tin_words(t.record.tin, t.record.product)}; {tin_dates_words(t.dates)}" for t in item.tins]
        sentences = one_each(Sentence.of_citation(citation) for citation in (*answer.citations, *answer.pending))
        short = Short(answer.word, verdict_words(answer.word), "")
        card = ShortCard(self._theme, item.product.name, short, [line for line in lines if line], sentences)
        card.sentence_opened.connect(self.sentence_opened)
        return card
