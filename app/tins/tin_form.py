"""The form for a tin: what is in it, how much, from which batch, when it came, where it stands."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import (
    QComboBox,
    QGridLayout,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QPushButton,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

from app.half_typed import HalfTyped
from app.job_words import component_words
from app.moment_fields import DayField
from app.naming.book import NameBook
from app.naming.field import NameField
from app.naming.figures import FigureField
from app.now import Now
from app.shortcuts import on_key
from app.theme.text_size import limit_width
from app.theme.theme import GRID, set_look
from app.typed_moments import NotAMoment
from store.job_records import Component, Tin, TinRecord, Unit
from store.records import ProductRecord


class TinForm(QScrollArea):
    """Signals: kept(Tin) with the record, if one is changed, in `record`; left()."""

    kept = Signal(object)
    left = Signal()

    def __init__(self, book: NameBook, now: Now, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._book = book
        self.record: TinRecord | None = None
        self.setWidgetResizable(True)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self._head = QLabel(self)
        set_look(self._head, "head")
        self.product = NameField(
            book, self.tr("Product"), hint=self.tr("whose sheet it belongs to"), kinds_too=False, parent=self
        )
        self.component = QComboBox(self)
        for part in Component:
            self.component.addItem(component_words(part), part)
        self.own_name = QLineEdit(self)
        self.own_name.setPlaceholderText(self.tr("a hardener's or thinner's own name"))
        self.unit = QComboBox(self)
        for unit in Unit:
            self.unit.addItem(unit.value, unit)
        self.amount = FigureField(self.tr("Left"), "", 0, 1e6, empty_words=self.tr("how much"), first=1000, parent=self)
        self.full = FigureField(self.tr("Size"), "", 1, 1e6, empty_words=self.tr("not noted"), first=1000, parent=self)
        self.batch = QLineEdit(self)
        self.place = QLineEdit(self)
        self.made = DayField(self.tr("Made"), now, self)
        self.bought = DayField(self.tr("Bought"), now, self)
        self.opened = DayField(self.tr("Opened"), now, self)
        self.price = FigureField(
            self.tr("Price a litre"), "", 0, 1e6, empty_words=self.tr("not noted"), first=20, parent=self
        )
        self.note = QLineEdit(self)
        self._wrong = QLabel(self)
        self._wrong.setWordWrap(True)
        set_look(self._wrong, "caution")
        self.keep_button = QPushButton(self.tr("Keep the tin"), self)
        set_look(self.keep_button, "primary")
        self.leave_button = QPushButton(self.tr("Leave it"), self)
        self.keep_button.clicked.connect(self.keep)
        self.leave_button.clicked.connect(self.left)
        self._lay_out()
        self.half_typed = HalfTyped(self, self.say, self.left.emit)
        on_key(self, Qt.Key.Key_Escape, self.half_typed.escape, children=True)

    def open(self, record: TinRecord | None, product: ProductRecord | None = None) -> None:
        """None for a new tin."""
        self.record = record
        tin = record.tin if record is not None else None
        self._head.setText(self.tr("A new tin") if tin is None else self.tr("Change the tin"))
        self.product.set_meaning(self._book.product(tin.product_id) if tin is not None else product)
        self.component.setCurrentIndex(self.component.findData(tin.component if tin else Component.BASE))
        self.unit.setCurrentIndex(self.unit.findData(tin.unit if tin else Unit.ML))
        for figure, number in (
            (self.amount, tin.left if tin else None), (self.full, tin.size if tin else None),
            (self.price, tin.price_per_litre if tin else None),
        ):  # fmt: skip
            figure.set_value(number)
        for line, words in (
            (self.own_name, tin.name if tin else ""), (self.batch, tin.batch if tin else ""),
            (self.place, tin.place if tin else ""), (self.note, tin.note if tin else ""),
        ):  # fmt: skip
            line.setText(words)
        for field, day in (
            (self.made, tin.made if tin else None), (self.bought, tin.bought if tin else None),
            (self.opened, tin.opened if tin else None),
        ):  # fmt: skip
            field.set_day(day)
        self.say("")
        self.product.setFocus()
        self.half_typed.begin()

    def keep(self) -> None:
        product = self.product.meaning
        for figure in (self.amount, self.full, self.price):
            figure.take_text()
        if not isinstance(product, ProductRecord):
            self.say(self.tr("Name the product whose sheet the tin belongs to."))
            return
        left = self.amount.value if self.amount.value is not None else self.full.value
        if left is None:
            self.say(self.tr("Type how much is left, or the size of a full tin."))
            return
        try:
            days = (self.made.day, self.bought.day, self.opened.day)
        except NotAMoment as fault:
            self.say(self.tr("“{typed}” is not a day. Type one like 30.3.2026.").format(typed=fault.typed))
            return
        self.kept.emit(
            Tin(
                product.id, left, self.component.currentData(), self.own_name.text().strip(), self.unit.currentData(),
                self.full.value, self.batch.text().strip(), *days, self.place.text().strip(), self.price.value,
                self.note.text().strip(),
            )
        )  # fmt: skip

    def say(self, words: str) -> None:
        """What is wrong; '' for nothing."""
        self._wrong.setText(words)
        self._wrong.setVisible(bool(words))

    def _lay_out(self) -> None:
        whole = QWidget()
        limit_width(whole, 80 * GRID)
        grid = QGridLayout()
        grid.setHorizontalSpacing(2 * GRID)
        grid.setVerticalSpacing(GRID)
        rows: tuple[tuple[str, QWidget], ...] = (
            (self.tr("Product"), self.product), (self.tr("Part"), self.component),
            (self.tr("Own name"), self.own_name), (self.tr("Counted in"), self.unit), (self.tr("Left"), self.amount),
            (self.tr("Size"), self.full), (self.tr("Batch"), self.batch), (self.tr("Place"), self.place),
            (self.tr("Made"), self.made), (self.tr("Bought"), self.bought), (self.tr("Opened"), self.opened),
            (self.tr("Price a litre"), self.price), (self.tr("Note"), self.note),
        )  # fmt: skip
        for at, (words, field) in enumerate(rows):
            label = QLabel(words, whole)
            label.setBuddy(field)
            if not field.accessibleName():
                field.setAccessibleName(words)
            set_look(label, "beside")
            grid.addWidget(label, at, 0, Qt.AlignmentFlag.AlignTop)
            grid.addWidget(field, at, 1)
        deeds = QHBoxLayout()
        deeds.setSpacing(GRID)
        deeds.addWidget(self.keep_button)
        deeds.addWidget(self.leave_button)
        deeds.addStretch(1)
        column = QVBoxLayout(whole)
        column.setContentsMargins(0, 0, GRID, 2 * GRID)
        column.setSpacing(2 * GRID)
        column.addWidget(self._head)
        column.addLayout(grid)
        column.addWidget(self._wrong)
        column.addLayout(deeds)
        column.addStretch(1)
        self.setWidget(whole)
