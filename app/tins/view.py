"""The place of the shelf: the tins, how long they keep, and which of them may go onto something."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QAbstractItemView, QLabel, QPushButton, QTableView, QVBoxLayout, QWidget

from app.empty_place import EmptyPlace
from app.flow import FlowLayout
from app.front_stack import FrontStack
from app.job_undo import JobUndo
from app.jobs import LibraryChange, LibraryDesk, Soon
from app.messages import message_for
from app.naming.book import NameBook
from app.naming.field import NameField
from app.naming.figures import FigureField
from app.now import Now
from app.place import Place
from app.printing.outlets import Outlets
from app.printing.paper import write_text
from app.sentences import Sentence
from app.settings import Settings
from app.shop_warmth import ShopWarmth
from app.shortcuts import on_key
from app.theme.text_size import at_every_size, fix_width, limit_width, scaled
from app.theme.theme import GRID, Theme, set_look
from app.tins.answers import AnswersOnHand
from app.tins.model import ShownTin, TinsTable, csv_text
from app.tins.tin_form import TinForm
from app.translating import QT_TRANSLATE_NOOP
from store.errors import WrongEntry
from store.job_records import ChangeRecord, Tin, TinRecord
from store.planning.fetching import material_of, products_of
from store.planning.on_hand import OnHand, may_go_on
from store.planning.tin_dates import tin_dates
from store.rules.reach import Party, ProductParty, party_of

if TYPE_CHECKING:
    from store.library import Library


@dataclass(frozen=True, slots=True)
class Shelf:
    tins: tuple[ShownTin, ...]
    found: tuple[OnHand, ...] | None
    undo: ChangeRecord | None
    redo: ChangeRecord | None


class TinsPlace(Place):
    """Comes with a product's id: a new tin of it."""

    name = "shelf"
    title = QT_TRANSLATE_NOOP("places", "Shelf")
    icon_name = "shelf"

    def __init__(
        self,
        desk: LibraryDesk,
        book: NameBook,
        outlets: Outlets,
        warmth: ShopWarmth,
        theme: Theme,
        settings: Settings,
        now: Now,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self._desk, self._book, self._outlets, self._warmth, self._settings, self._now = (
            desk, book, outlets, warmth, settings, now,
        )  # fmt: skip
        self._asked = 0
        self._again = Soon(self.look, parent=self)
        self.undo = JobUndo(desk, self)
        self.table = TinsTable(theme)
        self.list_view = QTableView(self)
        self.list_view.setModel(self.table)
        self.list_view.setAccessibleName(self.tr("Tins"))
        self.list_view.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.list_view.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.list_view.setTabKeyNavigation(False)
        self.list_view.setWordWrap(False)
        self.list_view.verticalHeader().hide()
        header = self.list_view.horizontalHeader()
        header.setHighlightSections(False)
        header.setDefaultAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter)
        at_every_size(self.list_view, self._fit_list)
        settings.restore_columns("shelf", header)
        self.form = TinForm(book, now, self)
        self.answers = AnswersOnHand(theme, self)
        self.beneath = NameField(book, self.tr("What lies beneath"), hint=self.tr("onto this"), parent=self)
        limit_width(self.beneath, 40 * GRID)
        self.used = FigureField(self.tr("Used from the tin"), "", 0, 1e6, empty_words=self.tr("how much"), first=100)
        fix_width(self.used, 13 * GRID)
        self.new_button = self._deed(self.tr("New tin"), self.add_tin)
        self.use_button = self._deed(self.tr("Used from it"), self.use)
        self.change_button = self._deed(self.tr("Change"), self.change)
        self.remove_button = self._deed(self.tr("Remove"), self.remove)
        self.sheet_button = self._deed(self.tr("Its sheet"), self._on_sheet_wanted)
        self.csv_button = self._deed(self.tr("CSV …"), self.save_csv)
        self.empty = EmptyPlace(
            self.tr("Each tin stands here with its batch, what is left in it and how long it keeps."),
            self.tr("Add the first tin"),
            self,
        )
        self.empty.wanted.connect(self.add_tin)
        self._stack = FrontStack(self)
        for page in (self.empty, self.list_view, self.form, self.answers):
            self._stack.addWidget(page)
        self._lay_out()
        on_key(self.list_view, Qt.Key.Key_Return, self.change)
        on_key(self.list_view, Qt.Key.Key_Delete, self.remove)
        self.used.returnPressed.connect(self.use)
        self.form.kept.connect(self._on_kept)
        self.form.left.connect(self._show_list)
        self.beneath.meaning_changed.connect(lambda _: self.look())
        self.answers.sentence_opened.connect(self._open)
        warmth.warmth_changed.connect(self._again.ask)
        theme.theme_changed.connect(self.list_view.viewport().update)
        self.list_view.selectionModel().currentRowChanged.connect(lambda *_: self._show_deeds())
        desk.library_opened.connect(self.look)
        desk.library_changed.connect(self._on_library_changed)
        self._show_deeds()
        if desk.ready:
            self.look()

    def look(self) -> None:
        """Look at the shelf again, and at what of it may go on what lies beneath."""
        self._asked += 1
        asked, today, at_c = self._asked, self._now().date(), self._warmth.steady_c
        meaning = self.beneath.meaning
        lower: Party | None = party_of(meaning) if meaning is not None else None

        def work(library: Library) -> Shelf:
            tins = library.tins()
            ids = products_of((), tins) | ({lower.product.id} if isinstance(lower, ProductParty) else set())
            material = material_of(library, ids)
            shown = tuple(ShownTin(tin, tin_dates(tin, material.rules, today)) for tin in tins)
            found = may_go_on(lower, tins, material, today, at_c) if lower is not None else None
            return Shelf(shown, found, library.next_undo(), library.next_redo())

        self._desk.read(work, lambda shelf: self._on_seen(asked, shelf))

    def add_tin(self, product_id: int | None = None) -> None:
        if self._stack.currentWidget() is self.form and self.form.half_typed.hold():
            return
        self._stack.setCurrentWidget(self.form)
        self._show_deeds()
        self.form.open(None, self._book.product(product_id) if product_id is not None else None)

    def change(self) -> None:
        record = self.current
        if record is not None:
            self._stack.setCurrentWidget(self.form)
            self._show_deeds()
            self.form.open(record)

    def remove(self) -> None:
        record = self.current
        if record is not None:
            self._write(lambda library: library.remove_tin(record.id))

    def use(self) -> None:
        """Take what is typed from the chosen tin, never more than is there."""
        self.used.take_text()
        record, amount = self.current, self.used.value
        if record is not None and amount:
            self._write(
                lambda library: library.change_tin(
                    record.id, replace(record.tin, left=max(record.tin.left - amount, 0))
                )
            )
            self.used.set_value(None)

    def save_csv(self) -> None:
        path = self._outlets.file(self, f"{self.title}.csv", "csv")
        if path is not None:
            try:
                write_text(path, csv_text(self.table.tins))
            except OSError as error:
                self._desk.trouble_came.emit(error)

    @property
    def current(self) -> TinRecord | None:
        """The chosen tin."""
        row = self.list_view.currentIndex().row()
        return self.table.tins[row].record if 0 <= row < len(self.table.tins) else None

    def activated(self) -> None:
        self.look()
        current = self._stack.currentWidget()
        if current is self.list_view:
            current.setFocus()
        elif current is self.empty:
            self.empty.button.setFocus()

    def _fit_list(self) -> None:
        self.list_view.verticalHeader().setDefaultSectionSize(scaled(5 * GRID))
        for column, width in enumerate((20, 12, 18, 52, 10, 18, 19, 19, 19, 14)):
            self.list_view.setColumnWidth(column, scaled(width * GRID))

    def come_with(self, payload: object) -> None:
        if isinstance(payload, int):
            self.add_tin(payload)

    def keep(self) -> None:
        self._settings.keep_columns("shelf", self.list_view.horizontalHeader())

    # --- inside

    def _deed(self, words: str, does: Callable[[], None]) -> QPushButton:
        button = QPushButton(words, self)
        set_look(button, "deed")
        button.clicked.connect(lambda _=False: does())
        return button

    def _lay_out(self) -> None:
        head = QLabel(self.tr("Shelf"), self)
        set_look(head, "large")
        head.setMinimumWidth(14 * GRID)
        column = QVBoxLayout(self)
        column.setContentsMargins(3 * GRID, 2 * GRID, 3 * GRID, 2 * GRID)
        column.setSpacing(GRID + GRID // 2)
        question = QLabel(self.tr("What do I have that may go on this?"), self)
        for widgets in (
            (head, self.new_button, self.csv_button, self.undo),
            (question, self.beneath),
            (self.used, self.use_button, self.change_button, self.remove_button, self.sheet_button),
        ):
            row = QWidget(self)
            flow = FlowLayout(row, GRID)
            for widget in widgets:
                flow.addWidget(widget)
            column.addWidget(row)
        column.addWidget(self._stack, 1)

    def _on_seen(self, asked: int, shelf: Shelf) -> None:
        if asked != self._asked:
            return
        chosen = self.current.id if self.current is not None else None
        if shelf.tins != self.table.tins:
            self.table.show_tins(shelf.tins)
            rows = [tin.record.id for tin in shelf.tins]
            self.list_view.selectRow(rows.index(chosen) if chosen in rows else 0)
        self.undo.show_changes(shelf.undo, shelf.redo)
        if shelf.found is not None:
            self.answers.show_found(shelf.found)
        if self._stack.currentWidget() is not self.form:
            if shelf.found is not None:
                self._stack.setCurrentWidget(self.answers)
            else:
                self._stack.setCurrentWidget(self.list_view if shelf.tins else self.empty)
        self._show_deeds()

    def _show_list(self) -> None:
        self._stack.setCurrentWidget(self.list_view if self.table.tins else self.empty)
        self.look()
        self.list_view.setFocus()

    def _show_deeds(self) -> None:
        # A form that is half filled in is not to be lost behind an answer.
        self.beneath.setEnabled(self._stack.currentWidget() is not self.form)
        at_list = self._stack.currentWidget() is self.list_view and self.current is not None
        for widget in (self.used, self.use_button, self.change_button, self.remove_button, self.sheet_button):
            widget.setEnabled(at_list)

    def _on_kept(self, tin: Tin) -> None:
        record = self.form.record

        def work(library: Library) -> TinRecord:
            return library.add_tin(tin) if record is None else library.change_tin(record.id, tin)

        def failed(error: BaseException) -> None:
            if isinstance(error, WrongEntry):
                self.form.say(message_for(error).sentence)
            else:
                self._desk.trouble_came.emit(error)

        self._desk.write(work, LibraryChange(job=True), lambda _: self._show_list(), failed)

    def _on_sheet_wanted(self) -> None:
        if self.current is not None:
            self.place_wanted.emit("products", self.current.tin.product_id)

    def _write(self, work: Callable[[Library], Any]) -> None:
        self._desk.write(work, LibraryChange(job=True))

    def _open(self, sentence: Sentence) -> None:
        self.evidence_opened.emit(sentence.sheet_id, sentence.page, sentence.boxes)

    def _on_library_changed(self, change: LibraryChange) -> None:
        if change.job:
            self.look()
        elif change.sheets or change.products or change.filed or change.everything:
            self._again.ask()
