"""The user's own rules about a product: they can tighten an answer and never loosen it, and are marked as theirs."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import UTC, datetime

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QComboBox,
    QFormLayout,
    QFrame,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from app.flow import flowing
from app.jobs import LibraryChange, LibraryDesk
from app.naming.book import NameBook, kept_words
from app.naming.field import NameField
from app.product_page.kept import TakenAway
from app.theme.theme import GRID, Theme, set_look
from app.theme.verdict_shape import VerdictWord
from app.translating import QT_TRANSLATE_NOOP, translate
from app.verdict_words import own_rule_words
from store.records import OwnRule, ProductRecord

SOURCES = (QT_TRANSLATE_NOOP("product", "own experience"), QT_TRANSLATE_NOOP("product", "common practice"))


def rule_words(rule: OwnRule) -> str:
    """'Polyester filler over Biter: never: it lifted twice (your own rule, own experience)'."""
    if rule.forbids:
        words = translate("product", "{upper} over {lower}: never: {rule}")
    else:
        words = translate("product", "{upper} over {lower}: only if: {rule}")
    upper, lower = kept_words(rule.upper), kept_words(rule.lower)
    return words.format(upper=upper, lower=lower, rule=own_rule_words(rule))


class OwnRulesPanel(QWidget):
    """Shows, adds and removes them."""

    def __init__(self, desk: LibraryDesk, book: NameBook, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self._book = book
        self._theme = theme
        self._product: ProductRecord | None = None
        self._rules: tuple[OwnRule, ...] = ()
        head = QLabel(self.tr("Your own rules"), self)
        set_look(head, "topic")
        explains = QLabel(
            self.tr("They stand apart from what sheets say. They can make an answer stricter, never more lenient."),
            self,
        )
        explains.setWordWrap(True)
        set_look(explains, "quiet")
        self._cards = QVBoxLayout()
        self._cards.setSpacing(GRID)
        self.gone = TakenAway(self)
        self.on_top = NameField(book, self.tr("Own rule: what goes on top"), hint=self.tr("on top"), parent=self)
        self.beneath = NameField(book, self.tr("Own rule: what lies beneath"), hint=self.tr("beneath"), parent=self)
        self.says = QComboBox(self)
        self.says.addItem(self.tr("must never go over it"), True)
        self.says.addItem(self.tr("may go over it only if …"), False)
        self.says.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        self.says.setMinimumContentsLength(12)
        self.says.setAccessibleName(self.tr("What your rule says"))
        self.words = QLineEdit(self)
        self.words.setPlaceholderText(self.tr("in your words"))
        self.words.setAccessibleName(self.tr("Your rule in your words"))
        self.source = QComboBox(self)
        self.source.setEditable(True)
        self.source.addItems([translate("product", words) for words in SOURCES])
        self.source.setAccessibleName(self.tr("Where you have it from"))
        self.trouble = QLabel(self)
        self.trouble.setWordWrap(True)
        set_look(self.trouble, "quiet")
        self.trouble.hide()
        self.keep_button = QPushButton(self.tr("Keep this rule"), self)
        self.keep_button.clicked.connect(self.keep_rule)
        self.words.returnPressed.connect(self.keep_rule)
        form = QFormLayout()
        form.setSpacing(GRID)
        form.setRowWrapPolicy(QFormLayout.RowWrapPolicy.WrapLongRows)
        for label, field in (
            (self.tr("On top"), self.on_top),
            (self.tr("Beneath"), self.beneath),
            (self.tr("It"), self.says),
            (self.tr("Because, or if"), self.words),
            (self.tr("From"), self.source),
        ):
            form.addRow(label, field)
        row = QHBoxLayout()
        row.addWidget(self.keep_button)
        row.addStretch(1)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(GRID)
        column.addWidget(head)
        column.addWidget(explains)
        column.addLayout(self._cards)
        column.addWidget(self.gone)
        column.addLayout(form)
        column.addWidget(self.trouble)
        column.addLayout(row)

    @property
    def rules(self) -> tuple[OwnRule, ...]:
        return self._rules

    def show_rules(self, product: ProductRecord, rules: Sequence[OwnRule]) -> None:
        other = self._product is None or product.id != self._product.id
        self._product = product
        self._rules = tuple(rules)
        if other:
            self.gone.forget()
            self._clear(product)
        while self._cards.count():
            item = self._cards.takeAt(0)
            widget = item.widget() if item is not None else None
            if widget is not None:
                widget.hide()
                widget.deleteLater()
        for rule in rules:
            self._cards.addWidget(self._card(rule))

    def keep_rule(self) -> None:
        missing = self._missing()
        self.trouble.setText(missing)
        self.trouble.setVisible(bool(missing))
        product, beneath, on_top = self._product, self.beneath.meaning, self.on_top.meaning
        if missing or product is None or beneath is None or on_top is None:
            return
        lower, upper, words = self._book.key_of(beneath), self._book.key_of(on_top), self.words.text().strip()
        forbids, source = bool(self.says.currentData()), self.source.currentText().strip()
        self._add(OwnRule(0, lower, upper, forbids, words, source, datetime.now(UTC)), product.id)
        self.gone.forget()
        self._clear(product)

    def remove(self, rule: OwnRule) -> None:
        product = self._product
        if product is None:
            return
        self._desk.write(lambda library: library.remove_own_rule(rule.id), self._change(product.id))
        self.gone.offer(self.tr("The rule was removed."), lambda: self._add(rule, product.id))

    # --- inside

    def _missing(self) -> str:
        if self.on_top.meaning is None:
            return self.tr("Name what goes on top: a product or a kind.")
        if self.beneath.meaning is None:
            return self.tr("Name what lies beneath: a product or a kind.")
        if not self.says.currentData() and not self.words.text().strip():
            return self.tr("Say on what condition.")
        return ""

    def _add(self, rule: OwnRule, product_id: int) -> None:
        self._desk.write(
            lambda library: library.add_own_rule(
                rule.lower, rule.upper, forbids=rule.forbids, words=rule.words, source=rule.source
            ),
            self._change(product_id),
        )

    def _clear(self, product: ProductRecord) -> None:
        self.on_top.set_meaning(product)
        self.beneath.set_meaning(None)
        self.words.clear()
        self.says.setCurrentIndex(0)
        self.source.setCurrentIndex(0)
        self.trouble.hide()

    def _card(self, rule: OwnRule) -> QFrame:
        card = QFrame(self)
        set_look(card, "card")
        mark = VerdictWord(self._theme, "own", self.tr("your own rule"), side=12, parent=card)
        words = QLabel(rule_words(rule), card)
        words.setWordWrap(True)
        words.setTextFormat(Qt.TextFormat.PlainText)
        remove = QPushButton(self.tr("Remove"), card)
        set_look(remove, "link")
        remove.clicked.connect(self._remover(rule))
        column = QVBoxLayout(card)
        column.setContentsMargins(2 * GRID, GRID, GRID, GRID // 2)
        column.setSpacing(GRID // 2)
        column.addWidget(words)
        column.addWidget(flowing(GRID, mark, remove, parent=card))
        return card

    def _remover(self, rule: OwnRule) -> Callable[[], None]:
        return lambda: self.remove(rule)

    def _change(self, product_id: int) -> LibraryChange:
        return LibraryChange(products=frozenset({product_id}), everything=True, initiator=self)
