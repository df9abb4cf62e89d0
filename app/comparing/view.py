"""The place where two to six products stand side by side."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, datetime
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QModelIndex, QSize, Qt
from PySide6.QtGui import QGuiApplication, QKeySequence, QResizeEvent, QShortcut
from PySide6.QtWidgets import (
    QCheckBox,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QSplitter,
    QVBoxLayout,
    QWidget,
)

from app.comparing.details import CellDetails
from app.comparing.lines import Lines, ShownCell, csv_text, lines_of, tab_text
from app.comparing.model import CELL_ROLE, LINE_ROLE, ComparisonTable
from app.comparing.needs_form import NeedsForm
from app.comparing.products_bar import LEAST, ProductsBar
from app.comparing.table import ComparisonView
from app.empty_place import EmptyPlace
from app.figure_words import joined
from app.flow import FlowLayout
from app.front_stack import FrontStack
from app.jobs import LibraryChange, LibraryDesk, Soon
from app.naming.book import NameBook
from app.naming.temperature import TemperatureField
from app.place import Place
from app.printing.comparison_sheet import comparison_table, foot, is_wide, title_of
from app.printing.outlets import Outlets
from app.printing.paper import print_table, printer_for, write_pdf, write_text
from app.sentences import Sentence
from app.settings import Settings
from app.theme.theme import GRID, Theme, set_look
from app.translating import QT_TRANSLATE_NOOP
from store.records import ProductRecord
from store.rules.comparison import Comparison, Material, compare
from store.rules.needs import NeedRow, needs_met
from store.rules.reach import ProductParty

if TYPE_CHECKING:
    from store.library import Library

_PRODUCTS = "compare/products"
_NEEDS_OPEN = "compare/needs_open"
_ROOMY = QSize(62 * GRID, 88 * GRID)


def _flowing(parent: QWidget, *widgets: QWidget) -> QWidget:
    """The widgets in a row that goes on below where the window is narrow."""
    row = QWidget(parent)
    flow = FlowLayout(row, GRID)
    for widget in widgets:
        flow.addWidget(widget)
    return row


def _today() -> date:
    return datetime.now().astimezone().date()


class ComparingPlace(Place):
    """Products and needs in, a table out; every cell opens its sentence."""

    name = "compare"
    title = QT_TRANSLATE_NOOP("places", "Compare")
    icon_name = "compare"

    def __init__(
        self,
        desk: LibraryDesk,
        book: NameBook,
        outlets: Outlets,
        theme: Theme,
        settings: Settings,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self._desk = desk
        self._book = book
        self._outlets = outlets
        self._settings = settings
        self._asked = 0
        self._restored = False
        self._compared: tuple[Comparison, tuple[NeedRow, ...]] | None = None
        self._again = Soon(self.compare, parent=self)

        self.bar = ProductsBar(book, self)
        self.needs = NeedsForm(book, settings, self)
        self.temperature = TemperatureField(settings, self)
        self.table = ComparisonTable()
        self.view = ComparisonView(self.table, theme, self)
        self.details = CellDetails(theme, self)
        self._stack = FrontStack(self)
        self._empty = EmptyPlace("", "", self)
        self._empty.wanted.connect(self._on_empty_wanted)
        self._split = QSplitter(Qt.Orientation.Vertical, self)
        self._split.setChildrenCollapsible(False)
        self._split.setHandleWidth(GRID)
        self._split.addWidget(self.view)
        self._split.addWidget(self.details)
        self._split.setStretchFactor(0, 1)
        self._split.setSizes([440, 150])
        settings.restore_splitter("compare", self._split)
        self._stack.addWidget(self._empty)
        self._stack.addWidget(self._split)

        self._with_needs = QPushButton(self.tr("What the job needs"), self)
        self._with_needs.setCheckable(True)
        self._with_needs.toggled.connect(self.needs.setVisible)
        self.needs.hide()
        self.only_differences = QCheckBox(self.tr("only what differs"), self)
        self.only_differences.toggled.connect(self._show)
        head = QLabel(self.tr("Compare"), self)
        set_look(head, "large")
        self._deeds = self._make_deeds()
        head.setMinimumWidth(20 * GRID)
        first = _flowing(self, head, *self._deeds)
        second = _flowing(self, self._times_at(), self._with_needs, self.only_differences)
        column = QVBoxLayout(self)
        column.setContentsMargins(3 * GRID, 2 * GRID, 3 * GRID, 2 * GRID)
        column.setSpacing(GRID + GRID // 2)
        column.addWidget(first)
        column.addWidget(self.bar)
        column.addWidget(second)
        column.addWidget(self.needs)
        column.addWidget(self._stack, 1)

        self.bar.products_changed.connect(self._on_products_changed)
        self.needs.needs_changed.connect(self._on_needs_changed)
        self.temperature.figure_changed.connect(self.compare)
        self.view.cell_entered.connect(self._on_cell_entered)
        self.view.cell_chosen.connect(self._on_cell_chosen)
        self.details.sentence_opened.connect(self._open)
        self.details.confirming_asked.connect(
            lambda sentence: self.place_wanted.emit("confirm", (sentence.sheet_id, sentence.claim_id))
        )
        book.names_changed.connect(self._on_names_changed)
        desk.library_changed.connect(self._on_library_changed)
        self.details.show_cell(None, None, None)
        self._on_names_changed()
        self._show()

    @property
    def lines(self) -> Lines:
        """What the table shows."""
        return self.table.lines

    def compare(self) -> None:
        """Look again at what the sheets of the chosen products say."""
        self._asked += 1
        asked = self._asked
        products = self.bar.products
        if len(products) < LEAST:
            self._compared = None
            self._show()
            return
        needs, at_c, every = self.needs.needs, self.temperature.value, self._book.products
        ids = [product.id for product in products]
        others = [need.other.product.id for need in needs if isinstance(need.other, ProductParty)]

        def work(library: Library) -> tuple[Comparison, tuple[NeedRow, ...]]:
            wanted = list(dict.fromkeys([*ids, *others]))
            material = Material(library.rules(wanted), library.proposals(wanted), library.own_rules(), every)
            return compare(products, material, at_c), needs_met(needs, products, material, at_c)

        def done(compared: tuple[Comparison, tuple[NeedRow, ...]]) -> None:
            if asked == self._asked:
                self._compared = compared
                self._show()

        self._desk.read(work, done)

    def copy(self) -> None:
        """The whole table onto the clipboard, in columns."""
        QGuiApplication.clipboard().setText(tab_text(self.lines))

    def save_csv(self) -> None:
        self._save("csv", lambda path: write_text(path, csv_text(self.lines)))

    def save_pdf(self) -> None:
        self._save("pdf", self._write_pdf)

    def print(self) -> None:
        printer = self._outlets.printer(self, printer_for(landscape=is_wide(self.lines)))
        if printer is not None:
            try:
                print_table(printer, comparison_table(self.lines, _today()), foot())
            except OSError as error:
                self._desk.trouble_came.emit(error)

    def activated(self) -> None:
        self.temperature.take_up()
        if len(self.bar.products) < LEAST:
            self.bar.field.line.setFocus(Qt.FocusReason.OtherFocusReason)
        else:
            self.view.setFocus(Qt.FocusReason.OtherFocusReason)

    def come_with(self, payload: object) -> None:
        """payload: a product id to be compared too, or several."""
        ids = (payload,) if isinstance(payload, int) else payload
        if isinstance(ids, tuple | list):
            found = [self._book.product(i) for i in ids if isinstance(i, int)]
            self.bar.set_products([*self.bar.products, *(p for p in found if p is not None)])

    def keep(self) -> None:
        self._settings.keep_splitter("compare", self._split)
        self._settings.set_texts(_PRODUCTS, tuple(str(product.id) for product in self.bar.products))
        self._settings.set_text(_NEEDS_OPEN, "yes" if self._with_needs.isChecked() else "")
        self.needs.keep()

    # --- inside

    def _make_deeds(self) -> tuple[QPushButton, ...]:
        made: list[QPushButton] = []
        deeds: tuple[tuple[str, str, Callable[[], None]], ...] = (
            (self.tr("Copy"), "Ctrl+Shift+C", self.copy),
            (self.tr("CSV …"), "", self.save_csv),
            (self.tr("PDF …"), "", self.save_pdf),
            (self.tr("Print …"), "Ctrl+P", self.print),
        )
        for words, keys, does in deeds:
            button = QPushButton(words, self)
            button.clicked.connect(does)
            if keys:
                button.setToolTip(keys)
                shortcut = QShortcut(QKeySequence(keys), self)
                shortcut.setContext(Qt.ShortcutContext.WidgetWithChildrenShortcut)
                shortcut.activated.connect(button.click)
            made.append(button)
        return tuple(made)

    def _times_at(self) -> QWidget:
        pair = QWidget(self)
        label = QLabel(self.tr("Times at"), pair)
        label.setBuddy(self.temperature)
        row = QHBoxLayout(pair)
        row.setContentsMargins(0, 0, GRID, 0)
        row.setSpacing(GRID)
        row.addWidget(label)
        row.addWidget(self.temperature)
        return pair

    def _show(self) -> None:
        compared = self._compared
        for deed in self._deeds:
            deed.setEnabled(compared is not None)
        if compared is None:
            self.table.clear()
            self.details.show_cell(None, None, None)
            self._say_what_is_missing()
            self._stack.setCurrentIndex(0)
            return
        comparison, needs = compared
        before = self.view.currentIndex()
        at = (before.row(), before.column()) if before.isValid() else (1, 1)
        self.table.set_lines(lines_of(comparison, needs, only_differences=self.only_differences.isChecked()))
        if not self.table.rowCount():
            self.details.show_cell(None, None, None)
            self._empty.say(
                self.tr("The sheets of these products say nothing that could differ.")
                if self.only_differences.isChecked()
                else self.tr("The sheets of these products say nothing yet. Confirm what they say first."),
                self.tr("Go to Confirm"),
            )
            self._stack.setCurrentIndex(0)
            return
        self._stack.setCurrentIndex(1)
        self.view.fit()
        self.view.choose(*at)

    def _say_what_is_missing(self) -> None:
        if len(self._book.products) < LEAST:
            self._empty.say(
                self.tr("Two to six products stand side by side here. File the sheets of two products to begin."),
                self.tr("File sheets …"),
            )
        elif self.bar.products:
            self._empty.say(self.tr("Name one product more, and the two stand side by side."), self.tr("Add a product"))
        else:
            self._empty.say(
                self.tr("Two to six products stand side by side here, question by question."), self.tr("Add a product")
            )

    def _on_empty_wanted(self) -> None:
        if len(self._book.products) < LEAST:
            self.place_wanted.emit("sheets", None)
        elif len(self.bar.products) >= LEAST:
            self.place_wanted.emit("confirm", None)
        else:
            self.bar.field.line.setFocus(Qt.FocusReason.OtherFocusReason)

    def _save(self, kind: str, write: Callable[[Path], object]) -> None:
        path = self._outlets.file(self, f"{joined(self.lines.heads[:2])}.{kind}".replace("/", "-"), kind)
        if path is None:
            return
        try:
            write(path)
        except OSError as error:
            self._desk.trouble_came.emit(error)

    def _write_pdf(self, path: Path) -> None:
        table = comparison_table(self.lines, _today())
        write_pdf(path, table, foot(), landscape=is_wide(self.lines), title=title_of(self.lines))

    def _on_products_changed(self) -> None:
        self.compare()

    def _on_needs_changed(self) -> None:
        self.compare()

    def _on_names_changed(self) -> None:
        if not self._restored and self._book.products:
            self._restored = True
            self._restore()
        self._again.ask()

    def _restore(self) -> None:
        kept = [self._book.product(int(i)) for i in self._settings.texts(_PRODUCTS) if i.isdigit()]
        self.needs.restore()
        self._with_needs.setChecked(self._settings.text(_NEEDS_OPEN) == "yes")
        if not self.bar.products:
            self.bar.set_products([product for product in kept if product is not None])

    def _on_library_changed(self, change: LibraryChange) -> None:
        if change.sheets or change.products or change.filed or change.everything:
            self._again.ask()

    def _on_cell_chosen(self, index: QModelIndex) -> None:
        cell = index.data(CELL_ROLE)
        product = self._product_at(index.column())
        self.details.show_cell(product, index.data(LINE_ROLE), cell if isinstance(cell, ShownCell) else None)

    def _on_cell_entered(self, index: QModelIndex) -> None:
        cell = index.data(CELL_ROLE)
        if isinstance(cell, ShownCell) and cell.sentences:
            self._open(cell.sentences[0])

    def _product_at(self, column: int) -> ProductRecord | None:
        products = self.lines.products
        return products[column - 1] if 0 < column <= len(products) else None

    def _open(self, sentence: Sentence) -> None:
        self.evidence_opened.emit(sentence.sheet_id, sentence.page, sentence.boxes)

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        # In a small window with the page beside it, the rows need the room more than the sentences under them.
        self.needs.fit(self.width())
        self.details.setVisible(self.width() >= _ROOMY.width() or self.height() >= _ROOMY.height())
