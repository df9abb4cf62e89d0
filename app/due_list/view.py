"""What falls due across all panels in work, the most urgent first."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import datetime

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QLabel, QScrollArea, QVBoxLayout, QWidget

from app.due_list.short_card import ShortCard
from app.due_list.words import due_short
from app.job_words import due_words, sources_of
from app.sentences import Sentence, one_each
from app.theme.text_size import limit_width
from app.theme.theme import GRID, Theme, set_look
from app.verdict_words import answer_words
from store.planning.due import DueItem

READABLE = 104 * GRID


class DueList(QScrollArea):
    """A card for each thing that is due; its button opens the panel.

    Signals: panel_wanted(panel id); sentence_opened(Sentence).
    """

    panel_wanted = Signal(int)
    sentence_opened = Signal(object)

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._theme = theme
        self.items: tuple[DueItem, ...] = ()
        self.cards: tuple[ShortCard, ...] = ()
        self.setWidgetResizable(True)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setAccessibleName(self.tr("What falls due"))

    def show_items(self, items: Sequence[DueItem], now: datetime) -> None:
        at = self.verticalScrollBar().value()
        self.items = tuple(items)
        whole = QWidget()
        limit_width(whole, READABLE)
        column = QVBoxLayout(whole)
        column.setContentsMargins(0, 0, GRID, 2 * GRID)
        column.setSpacing(GRID)
        head = QLabel(self.tr("What falls due"))
        set_look(head, "head")
        column.addWidget(head)
        self.cards = tuple(self._card(item, now) for item in self.items)
        for card in self.cards:
            column.addWidget(card)
        if not self.cards:
            none = QLabel(self.tr("Nothing falls due on the panels in work."))
            none.setWordWrap(True)
            set_look(none, "lead")
            column.addWidget(none)
        column.addStretch(1)
        self.setWidget(whole)
        self.verticalScrollBar().setValue(at)

    def _card(self, item: DueItem, now: datetime) -> ShortCard:
        title = f"{item.job}, {item.panel}" if item.job else item.panel
        # The panel stands in the title already.
        lines = [due_words(item).removeprefix(f"{title}: ")]
        answer = item.step.answer if item.step is not None else None
        if answer is not None and answer.word != "yes":
            # A time is no leave: what the sheets say of the coat itself stands beside it.
            lines.append(answer_words(answer))
        sentences = one_each(Sentence.of_source(source) for source in sources_of(item))
        card = ShortCard(self._theme, title, due_short(item, now), lines, sentences, deed=self.tr("Open panel"))
        card.wanted.connect(self._opener(item.panel_id))
        card.sentence_opened.connect(self.sentence_opened)
        return card

    def _opener(self, panel_id: int) -> Callable[[], None]:
        return lambda: self.panel_wanted.emit(panel_id)
