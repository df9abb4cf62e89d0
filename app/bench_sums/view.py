"""The place of the bench sums: one sum at a time, worked as it is typed."""

from __future__ import annotations

from PySide6.QtCore import Qt, QTimer
from PySide6.QtGui import QGuiApplication, QKeySequence, QResizeEvent, QShortcut
from PySide6.QtWidgets import (
    QBoxLayout,
    QFrame,
    QHBoxLayout,
    QLabel,
    QListWidget,
    QListWidgetItem,
    QPushButton,
    QScrollArea,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)

from app.bench_sums.answer_card import AnswerCard
from app.bench_sums.form import SumForm
from app.bench_sums.refusals import refusal_words
from app.bench_sums.words import sum_hint, sum_title
from app.jobs import LibraryChange, LibraryDesk
from app.naming.book import NameBook
from app.naming.field import NameField
from app.place import Place
from app.product_figures_desk import ProductOnBench, ask_for
from app.sentences import Sentence
from app.settings import Settings
from app.theme.text_size import at_every_size, limit_width, scaled
from app.theme.theme import GRID, set_look
from app.translating import QT_TRANSLATE_NOOP
from store.planning.product_figures import ProductFigures
from store.records import ProductRecord
from store.sums.catalogue import BY_NAME, SUMS
from store.sums.result import OutOfRange

_LIST_WIDTH = 29 * GRID
_FORM_WIDTH = 44 * GRID
_CARD_WIDTH = 36 * GRID
_LIST_ABREAST = 60 * GRID
_NO_LIMIT = 16777215
_BESIDE = 130 * GRID
"""From this width of the place on, the answer stands beside the fields, and below them else."""
_LAST = "sums/last"


class SumsPlace(Place):
    """Comes with the name of a sum, or (name, {input: text})."""

    name = "sums"
    title = QT_TRANSLATE_NOOP("places", "Bench sums")
    icon_name = "sums"

    def __init__(self, desk: LibraryDesk, book: NameBook, settings: Settings, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self._settings = settings
        self._figures: ProductFigures | None = None
        self._asked = 0
        self._opened = desk.ready
        head = QLabel(self.title, self)
        set_look(head, "large")
        self.list = QListWidget(self)
        self.list.setAccessibleName(self.tr("Which sum"))
        set_look(self.list, "choices")
        self.list.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        for one in SUMS:
            item = QListWidgetItem(sum_title(one.name), self.list)
            item.setToolTip(sum_hint(one.name))
            item.setData(Qt.ItemDataRole.UserRole, one.name)
        # As wide as the longest name, in any language.
        self.list.ensurePolished()
        at_every_size(
            self.list,
            lambda: self.list.setFixedWidth(max(_LIST_WIDTH, self.list.sizeHintForColumn(0) + 2 * GRID)),
        )
        self._title = QLabel(self)
        set_look(self._title, "head")
        self._hint = QLabel(self)
        self._hint.setWordWrap(True)
        set_look(self._hint, "quiet")
        self.product = NameField(
            book, self.tr("Product whose sheet fills in the figures"),
            hint=self.tr("a product, to take its sheet's figures"), kinds_too=False, parent=self,
        )  # fmt: skip
        limit_width(self.product, 56 * GRID)
        self._stack = QStackedWidget(self)
        self.forms: dict[str, SumForm] = {}
        self.card = AnswerCard(self)
        self.copy_button = QPushButton(self.tr("Copy the result"), self)
        self.afresh_button = QPushButton(self.tr("Begin afresh"), self)
        self._copied = QLabel(self)
        set_look(self._copied, "quiet")
        self._lay_out(head)

        self.list.currentRowChanged.connect(self._on_sum_chosen)
        self.product.meaning_changed.connect(self._on_product_named)
        self.copy_button.clicked.connect(self.copy)
        self.afresh_button.clicked.connect(self._begin_afresh)
        copying = QShortcut(QKeySequence("Ctrl+Shift+C"), self)
        copying.setContext(Qt.ShortcutContext.WidgetWithChildrenShortcut)
        copying.activated.connect(self.copy)
        self.copy_button.setToolTip(self.tr("Ctrl+Shift+C"))
        desk.library_changed.connect(self._on_library_changed)
        desk.library_opened.connect(self._on_library_opened)
        names = [one.name for one in SUMS]
        last = settings.text(_LAST, names[0])
        self.list.setCurrentRow(names.index(last) if last in names else 0)
        # Once its fields are as high as their text is then.
        at_every_size(self._stack, lambda: QTimer.singleShot(0, self._stack, self._fit_stack))

    @property
    def form(self) -> SumForm:
        """The sum in front."""
        return self.forms[str(self.list.currentItem().data(Qt.ItemDataRole.UserRole))]

    def activated(self) -> None:
        self.list.setFocus()

    def come_with(self, payload: object) -> None:
        name, typed = payload if isinstance(payload, tuple) else (payload, {})
        rows = [one.name for one in SUMS]
        if name not in rows:
            return
        self.list.setCurrentRow(rows.index(str(name)))
        for key, text in dict(typed).items():
            self.form.put(key, text)
        self.form.first_field().setFocus()

    def copy(self) -> None:
        """The result with its formula, source and range onto the clipboard."""
        text = self.card.text()
        if text:
            QGuiApplication.clipboard().setText(text)
            self._copied.setText(self.tr("Copied."))

    def _begin_afresh(self) -> None:
        self.form.begin_afresh()

    def _lay_out(self, head: QLabel) -> None:
        deeds = QHBoxLayout()
        deeds.setSpacing(GRID)
        deeds.addWidget(self.copy_button)
        deeds.addWidget(self.afresh_button)
        deeds.addWidget(self._copied, 1)
        body = QWidget(self)
        right = QVBoxLayout(body)
        right.setContentsMargins(0, 0, GRID, 0)
        right.setSpacing(2 * GRID)
        self._title.setWordWrap(True)
        for widget in (self._title, self._hint, self.product):
            right.addWidget(widget)
        answer = self._answer = QVBoxLayout()
        answer.setSpacing(2 * GRID)
        answer.addWidget(self.card)
        answer.addLayout(deeds)
        answer.addStretch(1)
        self._both = QBoxLayout(QBoxLayout.Direction.TopToBottom)
        self._both.setSpacing(2 * GRID)
        self._both.addWidget(self._stack, 0, Qt.AlignmentFlag.AlignTop)
        self._both.addLayout(answer, 1)
        right.addLayout(self._both)
        right.addStretch(1)
        scroll = QScrollArea(self)
        scroll.setWidgetResizable(True)
        scroll.setFrameShape(QFrame.Shape.NoFrame)
        scroll.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        scroll.setWidget(body)
        row = self._row = QBoxLayout(QBoxLayout.Direction.LeftToRight)
        row.setSpacing(3 * GRID)
        row.addWidget(self.list)
        row.addWidget(scroll, 1)
        column = QVBoxLayout(self)
        column.setContentsMargins(3 * GRID, 2 * GRID, 3 * GRID, 2 * GRID)
        column.setSpacing(2 * GRID)
        column.addWidget(head)
        column.addLayout(row, 1)

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._arrange()

    def _arrange(self) -> None:
        """The answer beside the fields where both have room, as wide as their words are, and below them else."""
        abreast = self.width() >= scaled(_LIST_ABREAST)
        self._row.setDirection(QBoxLayout.Direction.LeftToRight if abreast else QBoxLayout.Direction.TopToBottom)
        self.list.setMaximumHeight(_NO_LIMIT if abreast else scaled(14 * GRID))
        fields = max(_FORM_WIDTH, self.form.minimumSizeHint().width())
        answer = max(_CARD_WIDTH, self._answer.minimumSize().width())
        needed = self.list.width() * abreast + fields + answer + 14 * GRID
        beside = self.width() >= max(scaled(_BESIDE), needed)
        self._both.setDirection(QBoxLayout.Direction.LeftToRight if beside else QBoxLayout.Direction.TopToBottom)
        self._stack.setMaximumWidth(fields if beside else _NO_LIMIT)

    def _on_sum_chosen(self, row: int) -> None:
        if row < 0:
            return
        one = SUMS[row]
        form = self.forms.get(one.name)
        if form is None:
            form = self.forms[one.name] = SumForm(BY_NAME[one.name], self._settings, self)
            form.given_changed.connect(self._work)
            form.sentence_opened.connect(self._on_sentence_opened)
            self._stack.addWidget(form)
            if self._figures is not None and form.can_use():
                form.use(self._figures)
        self._stack.setCurrentWidget(form)
        self._fit_stack()
        self._title.setText(sum_title(one.name))
        self._hint.setText(sum_hint(one.name))
        self.product.setVisible(form.can_use())
        self._settings.set_text(_LAST, one.name)
        self._arrange()
        self._work()

    def _fit_stack(self) -> None:
        """Only as high as the sum in front, so that its answer stands right below it."""
        self._stack.setMaximumHeight(self.form.sizeHint().height())

    def _work(self) -> None:
        self._copied.clear()
        form = self.form
        self._fit_stack()
        missing = form.what_is_missing()
        if missing:
            self.card.refuse(missing)
        else:
            try:
                self.card.show_answers(form.sum.work(form.given()))
            except OutOfRange as fault:
                self.card.refuse(refusal_words(fault))
        self.copy_button.setEnabled(bool(self.card.worked))

    def _on_product_named(self, meaning: object) -> None:
        self._asked += 1
        asked = self._asked
        if not isinstance(meaning, ProductRecord):
            self._take(None)
            return

        def came(found: ProductOnBench) -> None:
            if asked == self._asked:
                self._take(found.figures)

        ask_for(self._desk, meaning.id, came)

    def _take(self, figures: ProductFigures | None) -> None:
        self._figures = figures
        for form in self.forms.values():
            if form.can_use():
                form.use(figures)

    def _on_library_changed(self, change: LibraryChange) -> None:
        meaning = self.product.meaning
        touched = change.sheets or change.products or change.filed or change.everything
        if isinstance(meaning, ProductRecord) and touched:
            self._on_product_named(meaning)

    def _on_library_opened(self) -> None:
        """Another library in place of the first: what was named is a product of that one."""
        first, self._opened = not self._opened, True
        if first:
            return
        self.product.set_meaning(None)
        self._on_product_named(None)

    def _on_sentence_opened(self, sentence: Sentence) -> None:
        self.evidence_opened.emit(sentence.sheet_id, sentence.page, sentence.boxes)
