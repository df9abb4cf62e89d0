"""The answer on the screen: the word large, then the times, then everything with its sentence."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QHBoxLayout, QLabel, QPushButton, QScrollArea, QVBoxLayout, QWidget

from app.asking.answer_page import AnswerPage, Times
from app.flow import flowing
from app.sentence_card import SentenceCard
from app.sentence_links import SentenceLinks
from app.sentences import Sentence
from app.theme.text_size import limit_width
from app.theme.theme import GRID, Theme, set_look
from app.theme.verdict_shape import VerdictWord

READABLE = 104 * GRID
"""Lines longer than this are hard to read at arm's length."""


class AnswerView(QScrollArea):
    """Shows one answer.

    Signals: sentence_opened(Sentence); confirming_asked(Sentence); product_asked(product id).
    """

    sentence_opened = Signal(object)
    confirming_asked = Signal(object)
    product_asked = Signal(int)

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._theme = theme
        self.page: AnswerPage | None = None
        self.cards: tuple[SentenceCard, ...] = ()
        self.setWidgetResizable(True)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setAccessibleName(self.tr("The answer"))

    def show_answer(self, page: AnswerPage) -> None:
        self.page = page
        self.cards = ()
        whole = QWidget()
        limit_width(whole, READABLE)
        column = QVBoxLayout(whole)
        column.setContentsMargins(0, 0, GRID, 2 * GRID)
        column.setSpacing(GRID)
        self._head(column, page)
        if page.times is not None:
            self._times(column, page.times)
        self._lines(column, self.tr("On these conditions"), page.conditions)
        self._own(column, page.own)
        if page.says:
            self._topic(column, self.tr("What the sheets say"))
        for saying in page.says:
            self._card(column, saying.sentence, saying.does)
        for sentence in page.times.sentences if page.times is not None else ():
            self._card(column, sentence, "")
        self._lines(column, self.tr("What to do"), page.advice)
        self._waiting(column, page.waiting, named=page.named)
        self._lines(column, self.tr("What is left unsaid"), page.unsaid)
        self._foot(column, page)
        column.addStretch(1)
        self.setWidget(whole)
        self.setAccessibleName(f"{page.question} {page.word}. {page.sentence}")
        self.verticalScrollBar().setValue(0)

    def copy(self) -> None:
        """The whole answer as text onto the clipboard."""
        if self.page is not None:
            QGuiApplication.clipboard().setText(self.page.text)

    # --- inside

    def _head(self, column: QVBoxLayout, page: AnswerPage) -> None:
        question = QLabel(page.question)
        set_look(question, "quiet")
        question.setWordWrap(True)
        sentence = QLabel(page.sentence)
        set_look(sentence, "lead")
        sentence.setWordWrap(True)
        column.addWidget(question)
        column.addWidget(VerdictWord(self._theme, page.shape, page.word, look="large", side=28))
        column.addWidget(sentence)

    def _times(self, column: QVBoxLayout, times: Times) -> None:
        self._topic(column, self.tr("When"))
        if times.large:
            large = QLabel(times.large)
            set_look(large, "head")
            column.addWidget(large)
        column.addWidget(_wrapped(times.words))
        if times.past:
            column.addWidget(_wrapped(times.past))
        if times.sentences:
            links = SentenceLinks(times.sentences)
            links.sentence_opened.connect(self.sentence_opened)
            column.addWidget(links)

    def _own(self, column: QVBoxLayout, own: Sequence[str]) -> None:
        if own:
            self._topic(column, self.tr("Your own rules"))
        for words in own:
            row = QHBoxLayout()
            row.setSpacing(GRID)
            mark = VerdictWord(self._theme, "own", self.tr("yours"), side=12)
            mark.setFixedWidth(mark.sizeHint().width())
            row.addWidget(mark, 0, Qt.AlignmentFlag.AlignTop)
            row.addWidget(_wrapped(words), 1)
            column.addLayout(row)

    def _waiting(self, column: QVBoxLayout, waiting: Sequence[Sentence], *, named: bool) -> None:
        if not waiting:
            return
        if named:
            head, deed = self.tr("Whose product is named?"), self.tr("Put the name right")
            why = self.tr("You have confirmed this, but the product that it names may be another of that name.")
        else:
            head, deed = self.tr("Not yet confirmed"), self.tr("Confirm these")
            why = self.tr("These can answer only once you have looked at them on their page.")
        self._topic(column, head)
        confirm = QPushButton(deed)
        confirm.clicked.connect(lambda: self.confirming_asked.emit(waiting[0]))
        column.addWidget(_wrapped(why))
        column.addWidget(confirm, 0, Qt.AlignmentFlag.AlignLeft)
        for sentence in waiting:
            self._card(column, sentence, "")

    def _foot(self, column: QVBoxLayout, page: AnswerPage) -> None:
        copy = QPushButton(self.tr("Copy this answer"))
        copy.clicked.connect(self.copy)
        deeds = [copy]
        for product in {p.id: p for p in page.products}.values():
            link = QPushButton(self.tr("All about {name}").format(name=_short(product.name)))
            link.setToolTip(product.name)
            set_look(link, "link")
            link.clicked.connect(self._opener(product.id))
            deeds.append(link)
        column.addSpacing(GRID)
        column.addWidget(flowing(GRID, *deeds))

    def _opener(self, product_id: int) -> Callable[[], None]:
        return lambda: self.product_asked.emit(product_id)

    def _lines(self, column: QVBoxLayout, head: str, lines: Sequence[str]) -> None:
        if lines:
            self._topic(column, head)
        for line in lines:
            row = QHBoxLayout()
            row.setSpacing(GRID)
            dot = QLabel("•")
            row.addWidget(dot, 0, Qt.AlignmentFlag.AlignTop)
            row.addWidget(_wrapped(line[:1].upper() + line[1:]), 1)
            column.addLayout(row)

    def _topic(self, column: QVBoxLayout, words: str) -> None:
        topic = QLabel(words)
        set_look(topic, "topic")
        column.addSpacing(GRID)
        column.addWidget(topic)

    def _card(self, column: QVBoxLayout, sentence: Sentence, does: str) -> None:
        card = SentenceCard(self._theme, sentence, does)
        card.sentence_opened.connect(self.sentence_opened)
        card.confirming_asked.connect(self.confirming_asked)
        column.addWidget(card)
        self.cards = (*self.cards, card)


def _wrapped(words: str) -> QLabel:
    label = QLabel(words)
    label.setWordWrap(True)
    label.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
    return label


def _short(name: str, most: int = 28) -> str:
    return name if len(name) <= most else f"{name[: most - 1]}…"
