"""The place of the question: may this go over that?"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeySequence, QResizeEvent, QShortcut
from PySide6.QtWidgets import (
    QGridLayout,
    QLabel,
    QPushButton,
    QSplitter,
    QVBoxLayout,
    QWidget,
)

from app.asking.answer_page import AnswerPage
from app.asking.answer_view import READABLE, AnswerView
from app.empty_place import EmptyPlace
from app.flow import flowing
from app.front_stack import FrontStack
from app.grouped_list import Entry, Group, GroupedList
from app.jobs import LibraryChange, LibraryDesk, Soon
from app.naming.book import NameBook, kept_words
from app.naming.field import NameField
from app.naming.temperature import TemperatureField
from app.place import Place
from app.sentences import Sentence
from app.settings import Settings
from app.theme.text_size import limit_width, scaled
from app.theme.theme import GRID, Theme, set_look
from app.translating import QT_TRANSLATE_NOOP, translate
from app.verdict_words import verdict_words
from app.wording import temperature_words
from store.errors import UnknownRecord
from store.records import QuestionRecord
from store.rules.answers import Answer
from store.rules.asking import ask
from store.rules.reach import Party, ProductParty, party_of

if TYPE_CHECKING:
    from store.library import Library

HISTORY_WIDTH = 30 * GRID
_LOWER, _UPPER = "ask/lower", "ask/upper"
_SWAP = "Ctrl+T"


@dataclass(frozen=True, slots=True)
class Question:
    """What is asked, with the keys to remember it by."""

    lower: Party
    upper: Party
    lower_key: str
    upper_key: str
    at_c: float | None


class AskingPlace(Place):
    """Two names, a temperature, an answer; the questions asked before beside it."""

    name = "ask"
    title = QT_TRANSLATE_NOOP("places", "Ask")
    icon_name = "ask"

    def __init__(
        self, desk: LibraryDesk, book: NameBook, theme: Theme, settings: Settings, parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self._desk = desk
        self._book = book
        self._settings = settings
        self._question: Question | None = None
        self._asked = 0
        self._restored = False
        self._again = Soon(self._ask_again, parent=self)

        head = QLabel(self.tr("Ask"), self)
        set_look(head, "large")
        self.on_top = NameField(book, self.tr("What goes on top"), hint=self.tr("what goes on top"), parent=self)
        self.beneath = NameField(book, self.tr("What lies beneath"), hint=self.tr("what lies beneath"), parent=self)
        self.temperature = TemperatureField(settings, self)
        self._answer = AnswerView(theme, self)
        self._history = GroupedList(theme, self.tr("Questions asked before"), self)
        self._history.setMinimumWidth(22 * GRID)
        self._history_side = self._make_history_side()
        self._stack = FrontStack(self)
        self._none = EmptyPlace(
            self.tr("Answers come out of your own data sheets. File the sheets of two products to begin."),
            self.tr("File sheets …"),
            self,
        )
        self._none.wanted.connect(lambda: self.place_wanted.emit("sheets", None))
        self._ready = EmptyPlace(
            self.tr("Name what goes on top and what lies beneath: the answer comes with its sentences."),
            self.tr("Name what goes on top"),
            self,
        )
        self._ready.wanted.connect(lambda: self.on_top.line.setFocus(Qt.FocusReason.OtherFocusReason))
        for page in (self._none, self._ready, self._answer):
            self._stack.addWidget(page)
        self._split = QSplitter(Qt.Orientation.Horizontal, self)
        self._split.setChildrenCollapsible(False)
        self._split.setHandleWidth(2 * GRID)
        self._split.addWidget(self._stack)
        self._split.addWidget(self._history_side)
        self._split.setStretchFactor(0, 1)
        self._split.setSizes([800, HISTORY_WIDTH])
        settings.restore_splitter("ask", self._split)
        self._form = self._make_form()
        column = QVBoxLayout(self)
        column.setContentsMargins(3 * GRID, 2 * GRID, 3 * GRID, 2 * GRID)
        column.setSpacing(2 * GRID)
        column.addWidget(head)
        column.addWidget(self._form)
        column.addWidget(self._split, 1)

        for field in (self.on_top, self.beneath):
            field.meaning_changed.connect(self._on_meaning_changed)
            field.refused.connect(self._on_refused)
        self.temperature.figure_changed.connect(self._on_temperature_chosen)
        self._answer.sentence_opened.connect(self._on_sentence_opened)
        self._answer.confirming_asked.connect(self._on_confirming_asked)
        self._answer.product_asked.connect(lambda product_id: self.place_wanted.emit("products", product_id))
        self._history.entry_opened.connect(self._on_question_taken)
        book.names_changed.connect(self._on_names_changed)
        desk.library_changed.connect(self._on_library_changed)
        desk.library_opened.connect(self._read_history)
        if desk.ready:
            self._read_history()
        self._on_names_changed()

    @property
    def page(self) -> AnswerPage | None:
        """The answer that is shown."""
        return self._answer.page if self._stack.currentWidget() is self._answer else None

    @property
    def answer_view(self) -> AnswerView:
        return self._answer

    @property
    def history(self) -> GroupedList:
        return self._history

    def swap(self) -> None:
        """What lay beneath goes on top."""
        upper, lower = self.on_top.meaning, self.beneath.meaning
        self.on_top.set_meaning(lower)
        self.beneath.set_meaning(upper)
        self._ask_if_ready()

    def activated(self) -> None:
        self.temperature.take_up()
        field = self.beneath if self.on_top.meaning is not None and self.beneath.meaning is None else self.on_top
        field.line.setFocus(Qt.FocusReason.OtherFocusReason)
        field.line.selectAll()

    def come_with(self, payload: object) -> None:
        """payload: a product id to go on top, or (lower, upper) as names."""
        if isinstance(payload, int):
            product = self._book.product(payload)
            if product is not None:
                self.on_top.set_meaning(product)
                self.beneath.set_meaning(None)
                self.beneath.line.setFocus(Qt.FocusReason.OtherFocusReason)
        elif isinstance(payload, tuple) and len(payload) == 2:
            self._put(str(payload[0]), str(payload[1]))

    def keep(self) -> None:
        self._settings.keep_splitter("ask", self._split)
        for name, field in ((_LOWER, self.beneath), (_UPPER, self.on_top)):
            self._settings.set_text(name, field.text if field.meaning is None else self._book.key_of(field.meaning))

    # --- inside

    def _make_form(self) -> QWidget:
        form = QWidget(self)
        limit_width(form, READABLE)
        grid = QGridLayout(form)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setHorizontalSpacing(GRID)
        grid.setVerticalSpacing(GRID)
        for row, (words, field) in enumerate(
            ((self.tr("May"), self.on_top), (self.tr("go straight onto"), self.beneath))
        ):
            label = QLabel(words, form)
            set_look(label, "lead")
            label.setBuddy(field.line)
            grid.addWidget(label, row, 0, Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
            grid.addWidget(field, row, 1)
        swap = QPushButton(self.tr("Swap"), form)
        swap.setToolTip(self.tr("What lies beneath goes on top ({key})").format(key=_SWAP))
        swap.clicked.connect(self.swap)
        shortcut = QShortcut(QKeySequence(_SWAP), self)
        shortcut.setContext(Qt.ShortcutContext.WidgetWithChildrenShortcut)
        shortcut.activated.connect(self.swap)
        key = QLabel(_SWAP, form)
        set_look(key, "key")
        at = QLabel(self.tr("at"), form)
        set_look(at, "lead")
        at.setBuddy(self.temperature)
        ask_button = QPushButton(self.tr("Ask"), form)
        set_look(ask_button, "primary")
        ask_button.clicked.connect(self._ask_if_ready)
        grid.addWidget(at, 2, 0, Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
        grid.addWidget(flowing(GRID, self.temperature, ask_button, swap, key, parent=form), 2, 1)
        grid.setColumnStretch(1, 1)
        return form

    def _make_history_side(self) -> QWidget:
        side = QWidget(self)
        words = QLabel(self.tr("Asked before"), side)
        set_look(words, "topic")
        column = QVBoxLayout(side)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(GRID)
        column.addWidget(words)
        column.addWidget(self._history, 1)
        return side

    def _on_meaning_changed(self, meaning: object) -> None:
        if meaning is None:
            return
        if self.on_top.meaning is not None and self.beneath.meaning is None and self.on_top.line.hasFocus():
            self.beneath.line.setFocus(Qt.FocusReason.OtherFocusReason)
        self._ask_if_ready()

    def _on_refused(self) -> None:
        """No answer to what was asked before stands under a question that is not understood."""
        self._asked += 1
        self._question = None
        if self._stack.currentWidget() is self._answer:
            self._stack.setCurrentWidget(self._ready)

    def _on_temperature_chosen(self) -> None:
        self._ask_if_ready()

    def _put(self, lower: str, upper: str) -> None:
        """Ask about two names as written, once both are known."""
        self.on_top.set_meaning(None)
        self.beneath.set_meaning(None)
        self.beneath.write(kept_words(lower))
        self.on_top.write(kept_words(upper))

    def _ask_if_ready(self) -> None:
        lower, upper = self.beneath.meaning, self.on_top.meaning
        if lower is None or upper is None:
            empty = next((f for f in (self.on_top, self.beneath) if f.meaning is None and not f.text.strip()), None)
            if empty is not None:
                empty.line.setFocus(Qt.FocusReason.OtherFocusReason)
            return
        self._question = Question(
            party_of(lower), party_of(upper), self._book.key_of(lower), self._book.key_of(upper), self.temperature.value
        )
        self._ask(self._question, remembers=True)

    def _ask_again(self) -> None:
        if self._question is not None:
            self._ask(self._question, remembers=False)

    def _ask(self, question: Question, *, remembers: bool) -> None:
        self._asked += 1
        asked = self._asked
        products = self._book.products or None

        def work(library: Library) -> Answer:
            lower, upper = _as_it_is_now(library, question.lower), _as_it_is_now(library, question.upper)
            answer = ask(library, lower, upper, products, at_c=question.at_c)
            if remembers and not library.read_only:
                library.remember_question(question.lower_key, question.upper_key, question.at_c, answer.word)
            return answer

        def done(answer: Answer) -> None:
            if asked == self._asked:
                self._show(answer, question.at_c)
                if remembers:
                    self._read_history()

        self._desk.read(work, done)

    def _show(self, answer: Answer, at_c: float | None) -> None:
        self._answer.show_answer(AnswerPage.of(answer, at_c))
        self._stack.setCurrentWidget(self._answer)

    def _read_history(self) -> None:
        self._desk.read(lambda library: library.questions(), self._on_history_read)

    def _on_history_read(self, questions: Sequence[QuestionRecord]) -> None:
        self._history.show_groups([Group("", tuple(_entry(question) for question in questions))])
        self._show_history()

    def _show_history(self) -> None:
        self._history_side.setVisible(bool(self._history.entries) and self.width() >= scaled(90 * GRID))

    def _on_question_taken(self, entry: Entry) -> None:
        question = entry.payload
        if isinstance(question, QuestionRecord):
            self.temperature.set_value(question.at_c)
            self._put(question.lower, question.upper)

    def _on_names_changed(self) -> None:
        if not self._book.products:
            self._stack.setCurrentWidget(self._none)
            return
        if self._stack.currentWidget() is self._none:
            self._stack.setCurrentWidget(self._ready)
        self._again.ask()
        if not self._restored:
            self._restored = True
            lower, upper = self._settings.text(_LOWER), self._settings.text(_UPPER)
            if lower and upper and not (self.beneath.text or self.on_top.text):
                self._put(lower, upper)

    def _on_library_changed(self, change: LibraryChange) -> None:
        if change.sheets or change.products or change.filed or change.everything:
            self._again.ask()

    def _on_sentence_opened(self, sentence: Sentence) -> None:
        self.evidence_opened.emit(sentence.sheet_id, sentence.page, sentence.boxes)

    def _on_confirming_asked(self, sentence: Sentence) -> None:
        self.place_wanted.emit("confirm", (sentence.sheet_id, sentence.claim_id))

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._show_history()


def _as_it_is_now(library: Library, party: Party) -> Party:
    """The product with what the user has put right since it was named; one joined to another stays as it was."""
    if not isinstance(party, ProductParty):
        return party
    try:
        return ProductParty(library.product(party.product.id))
    except UnknownRecord:
        return party


def _entry(question: QuestionRecord) -> Entry:
    word = verdict_words(question.verdict)
    beside = word
    if question.at_c is not None:
        beside = translate("asking", "{verdict}, at {temperature}").format(
            verdict=word, temperature=temperature_words(question.at_c)
        )
    asked = translate("asking", "{upper} over {lower}").format(
        upper=kept_words(question.upper), lower=kept_words(question.lower)
    )
    return Entry(asked, beside, question, question.verdict, word)
