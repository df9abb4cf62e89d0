"""The place where what was read becomes a rule: page one side, statements the other, one key each."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from PySide6.QtCore import QEvent, QModelIndex, QObject, Qt
from PySide6.QtGui import QKeyEvent, QResizeEvent
from PySide6.QtWidgets import (
    QListView,
    QSplitter,
    QVBoxLayout,
    QWidget,
)

from app.confirming.deciding import Decisions, Standing
from app.confirming.delegate import ClaimDelegate
from app.confirming.form import ClaimForm
from app.confirming.keys import Deed, KeyBar, deed_of
from app.confirming.model import ClaimList
from app.confirming.order import Head, next_sheet, next_waiting, rest_of_group
from app.confirming.page_side import PageSide
from app.confirming.sheet_bar import SheetBar
from app.empty_place import EmptyPlace
from app.filing.cautions import CautionBand
from app.front_stack import FrontStack
from app.jobs import LibraryChange, LibraryDesk, Soon
from app.page_pane.pictures import PagePictures
from app.page_pane.view import PagePane
from app.place import Place
from app.settings import Settings
from app.theme.text_size import scaled
from app.theme.theme import GRID, Theme
from app.translating import QT_TRANSLATE_NOOP
from extract.claims import Claim, Evidence, Topic
from store.records import ClaimRecord, ClaimStatus, Progress, SheetRecord

if TYPE_CHECKING:
    from pathlib import Path

    from extract.claims import PageText
    from store.library import Library


@dataclass(frozen=True, slots=True)
class _Loaded:
    sheet: SheetRecord
    claims: tuple[ClaimRecord, ...]
    pages: tuple[PageText, ...]
    pdf: Path
    choose: int | None


_BESIDE = 60 * GRID
"""From this width on a statement is corrected beside its page, and under it else."""


class ConfirmingPlace(Place):
    """Confirm, reject, correct and add; the page follows the claim that is stepped to."""

    name = "confirm"
    title = QT_TRANSLATE_NOOP("places", "Confirm")
    icon_name = "confirm"

    def __init__(
        self,
        desk: LibraryDesk,
        pictures: PagePictures,
        theme: Theme,
        settings: Settings,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self._desk = desk
        self._settings = settings
        self._decisions = Decisions(desk, self)
        self._again = Soon(self._read_sheets, parent=self)
        self._sheet: SheetRecord | None = None
        self._sheets: tuple[SheetRecord, ...] = ()
        self._wanted: int | None = None
        self._library = Progress(0, 0)
        self.claims = ClaimList()

        self.pane = PagePane(pictures, self)
        self.pane.installEventFilter(self)
        self.pane.adding_asked.connect(self._on_adding_asked)
        self.list = QListView(self)
        self.list.setAccessibleName(self.tr("What the sheet says"))
        self.list.setModel(self.claims)
        self._delegate = ClaimDelegate(theme, self.list)
        self.list.setItemDelegate(self._delegate)
        self.list.setVerticalScrollMode(QListView.ScrollMode.ScrollPerPixel)
        self.list.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.list.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOn)
        self.list.setResizeMode(QListView.ResizeMode.Adjust)
        self.list.installEventFilter(self)
        self.list.selectionModel().currentChanged.connect(self._on_current_changed)
        self.keys = KeyBar(self)
        self.keys.deed_asked.connect(self.do)
        self.form = ClaimForm(self)
        self.form.hide()
        self.form.left.connect(self._leave_form)
        self.form.kept.connect(self._on_kept)
        self._editing: int | None = None

        self._stack = FrontStack(self)
        self._stack.addWidget(self._make_empty())
        self._stack.addWidget(self._make_work())
        column = QVBoxLayout(self)
        column.setContentsMargins(3 * GRID, 2 * GRID, 3 * GRID, 2 * GRID)
        column.addWidget(self._stack)

        self._decisions.decided.connect(self._on_decided)
        self._decisions.decision_failed.connect(lambda _: self._reload())
        desk.library_opened.connect(self._on_library_opened)
        desk.library_changed.connect(self._on_library_changed)
        theme.theme_changed.connect(self.list.viewport().update)
        self._allow()

    # --- what others call

    @property
    def sheet(self) -> SheetRecord | None:
        return self._sheet

    @property
    def current(self) -> ClaimRecord | None:
        """The claim that is stepped to."""
        return self.claims.record(self.list.currentIndex().row())

    def show_sheet(self, sheet_id: int, choose: int | None = None) -> None:
        """Show a sheet, at its first waiting claim or at claim `choose`."""
        self._wanted = sheet_id

        def load(library: Library) -> _Loaded:
            return _Loaded(
                library.sheet(sheet_id),
                library.claims(sheet_id),
                library.page_texts(sheet_id),
                library.pdf_path(sheet_id),
                choose,
            )

        self._desk.read(load, self._on_loaded)

    def come_with(self, payload: object) -> None:
        """payload: a sheet id, or (sheet id, claim id)."""
        if isinstance(payload, int):
            self.show_sheet(payload)
        elif isinstance(payload, tuple) and len(payload) == 2:
            self.show_sheet(int(payload[0]), int(payload[1]))

    def activated(self) -> None:
        if self._sheet is None and self._sheets:
            self._to_first_sheet()
        self.list.setFocus(Qt.FocusReason.OtherFocusReason)

    def keep(self) -> None:
        self._settings.keep_splitter("confirm", self._split)

    def do(self, deed: Deed) -> None:
        """One of the deeds of the key bar."""
        if self.form.isVisible():
            return
        record = self.current
        match deed:
            case Deed.CONFIRM if record is not None:
                self._decide(record, ClaimStatus.CONFIRMED)
            case Deed.REJECT if record is not None:
                self._decide(record, ClaimStatus.REJECTED)
            case Deed.CORRECT if record is not None:
                self._editing = record.id
                self._open_form()
                self.form.correct(record.claim)
            case Deed.GROUP if record is not None:
                self._confirm_group()
            case Deed.UNDO:
                self._decisions.undo()
            case Deed.REDO:
                self._decisions.redo()
            case Deed.ADD:
                self._start_adding()
            case Deed.NEXT_SHEET:
                self._to_next_sheet()

    # --- making

    def _make_empty(self) -> QWidget:
        empty = EmptyPlace(
            self.tr(
                "Here each statement of a sheet is confirmed beside its page, with one key. "
                "File a sheet first, and what it says waits here."
            ),
            self.tr("Go to the sheets"),
            self,
        )
        empty.wanted.connect(lambda: self.place_wanted.emit("sheets", None))
        return empty

    def _make_work(self) -> QWidget:
        work = QWidget(self)
        self._bar = SheetBar(work)
        self._bar.sheet_chosen.connect(self._on_sheet_chosen)
        self._cautions = CautionBand(work)
        self._cautions.caution_opened.connect(self._on_caution_opened)
        self._page_side = PageSide(self.pane, work)
        claims = QWidget(work)
        claims_column = QVBoxLayout(claims)
        claims_column.setContentsMargins(0, 0, 0, 0)
        claims_column.setSpacing(GRID)
        claims_column.addWidget(self.list, 1)
        claims_column.addWidget(self.form, 1)
        self._split = QSplitter(Qt.Orientation.Horizontal, work)
        self._split.setChildrenCollapsible(False)
        self._split.setHandleWidth(GRID)
        self._split.addWidget(self._page_side)
        self._split.addWidget(claims)
        self._split.setSizes([500, 556])
        self._settings.restore_splitter("confirm", self._split)
        column = QVBoxLayout(work)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(GRID)
        column.addWidget(self._bar)
        column.addWidget(self._cautions)
        column.addWidget(self._split, 1)
        column.addWidget(self.keys)
        return work

    # --- sheets

    def _on_library_opened(self) -> None:
        self._decisions.look()
        self._read_sheets()

    def _read_sheets(self) -> None:
        self._desk.read(lambda library: library.sheets(), self._on_sheets_read)

    def _on_sheets_read(self, sheets: tuple[SheetRecord, ...]) -> None:
        self._sheets = tuple(sorted(sheets, key=lambda s: (not s.waiting, s.product.name.casefold())))
        self._stack.setCurrentIndex(1 if sheets else 0)
        self._bar.show_sheets(self._sheets, self._sheet.id if self._sheet else None)
        self._allow()
        if self._sheet is None and self._wanted is None and self.isVisible():
            self._to_first_sheet()

    def _to_first_sheet(self) -> None:
        if self._sheets:
            self.show_sheet(self._sheets[0].id)

    def _to_next_sheet(self) -> None:
        following = next_sheet(self._sheets, self._sheet.id if self._sheet else None)
        if following is not None:
            self.show_sheet(following.id)

    def _on_sheet_chosen(self, sheet_id: int) -> None:
        self.show_sheet(sheet_id)
        self.list.setFocus(Qt.FocusReason.OtherFocusReason)

    def _reload(self) -> None:
        if self._sheet is not None:
            record = self.current
            self.show_sheet(self._sheet.id, record.id if record else None)

    def _on_loaded(self, loaded: _Loaded) -> None:
        if loaded.sheet.id != self._wanted:
            return
        self._leave_form()
        self._sheet = loaded.sheet
        self._stack.setCurrentIndex(1)
        self._bar.choose(loaded.sheet.id)
        self._delegate.current = -1
        # The product's name stands over the list already; in each line it would only be in the way.
        self.claims.show_claims(loaded.claims, self.tr("it"))
        self.pane.show_sheet(loaded.sheet.id, loaded.pages, loaded.pdf)
        self._cautions.show_cautions(loaded.claims, loaded.sheet.product.name)
        row = self.claims.row_of(loaded.choose) if loaded.choose is not None else None
        if row is None:
            row = next_waiting(self.claims.rows, -1)
        if row is None:
            row = next((at for at, r in enumerate(self.claims.rows) if not isinstance(r, Head)), -1)
        self._step_to(row)
        self._say()

    # --- deciding

    def _decide(self, record: ClaimRecord, status: ClaimStatus) -> None:
        row = self.list.currentIndex().row()
        if record.status is not status:
            # Shown at once; the library follows, and puts it back should it fail.
            self.claims.take([replace(record, status=status)])
            if status is ClaimStatus.CONFIRMED:
                self._decisions.confirm((record.id,))
            else:
                self._decisions.reject((record.id,))
        self._step_on(row)
        self._say()

    def _confirm_group(self) -> None:
        row = self.list.currentIndex().row()
        ids = rest_of_group(self.claims.rows, row)
        if not ids:
            return
        wanted = set(ids)
        self.claims.take([replace(c, status=ClaimStatus.CONFIRMED) for c in self.claims.claims() if c.id in wanted])
        self._decisions.confirm(ids)
        self._step_on(row)
        self._say()

    def _step_on(self, row: int) -> None:
        after = next_waiting(self.claims.rows, row)
        if after is not None:
            self._step_to(after)

    def _step_to(self, row: int) -> None:
        if row >= 0:
            index = self.claims.index(row)
            self.list.setCurrentIndex(index)
            self.list.scrollTo(index, QListView.ScrollHint.EnsureVisible)
        self._allow()

    def _on_decided(self, standing: Standing) -> None:
        self._library = standing.library
        self.keys.allow(Deed.UNDO, standing.can_undo)
        self.keys.allow(Deed.REDO, standing.can_redo)
        here = [r for r in standing.records if self._sheet is not None and r.sheet_id == self._sheet.id]
        if here:
            self.claims.take(here)
        if standing.undone:
            self._follow_undone(standing.records, here)
        self._say()

    def _follow_undone(self, records: Sequence[ClaimRecord], here: Sequence[ClaimRecord]) -> None:
        if here:
            row = self.claims.row_of(here[0].id)
            self._step_to(-1 if row is None else row)
        elif records:
            self.show_sheet(records[0].sheet_id, records[0].id)
        else:
            # An added statement was undone: it is no longer among the sheet's claims.
            self._reload()

    def _on_library_changed(self, change: LibraryChange) -> None:
        self._again.ask()
        if change.initiator is self._decisions:
            return
        self._decisions.look()
        if self._sheet is not None and (self._sheet.id in change.sheets or change.everything):
            self._reload()

    # --- the form

    def _open_form(self) -> None:
        self.form.show()
        self._fit_form()
        self.list.hide()
        self.keys.hide()

    def _leave_form(self) -> None:
        if self.form.isHidden():
            return
        self._editing = None
        self.form.hide()
        self._fit_form()
        self.list.show()
        self.keys.show()
        self.list.setFocus(Qt.FocusReason.OtherFocusReason)
        self.list.scrollTo(self.list.currentIndex())

    def _start_adding(self) -> None:
        evidence = self.pane.chosen_evidence()
        if evidence is None:
            self._page_side.ask_for_words()
            return
        self._on_adding_asked(evidence)

    def _on_adding_asked(self, evidence: Evidence) -> None:
        record = self.current
        self._editing = None
        self._open_form()
        self.form.add(evidence, record.claim.topic if record else Topic.GOES_OVER)

    def _on_kept(self, claim: Claim) -> None:
        row = self.list.currentIndex().row()
        editing = self._editing
        self._leave_form()
        if editing is None:
            if self._sheet is not None:
                self._decisions.add(self._sheet.id, claim)
                self.pane.choose(None)
            return
        record = self.claims.record(row)
        if record is not None and record.id == editing:
            self._decisions.correct(editing, claim)
            self._step_on(row)

    # --- saying

    def _say(self) -> None:
        self._bar.say(len(self.claims.claims()), self.claims.waiting(), self._library)
        self._allow()

    def _allow(self) -> None:
        record = self.current
        for deed in (Deed.CONFIRM, Deed.REJECT, Deed.CORRECT):
            self.keys.allow(deed, record is not None)
        row = self.list.currentIndex().row()
        self.keys.allow(Deed.GROUP, record is not None and bool(rest_of_group(self.claims.rows, row)))
        here = self._sheet.id if self._sheet else None
        self.keys.allow(Deed.NEXT_SHEET, next_sheet(self._sheets, here) is not None)
        self.keys.allow(Deed.ADD, self._sheet is not None)

    def _on_current_changed(self, current: QModelIndex, before: QModelIndex) -> None:
        self._delegate.current = current.row()
        for index in (before, current):
            if index.isValid():
                self._delegate.sizeHintChanged.emit(index)
        record = self.claims.record(current.row())
        if record is not None:
            evidence = record.claim.evidence
            self.pane.light(evidence.page, evidence.boxes)
        self._allow()

    def _on_caution_opened(self, record: ClaimRecord) -> None:
        row = self.claims.row_of(record.id)
        if row is not None:
            self._step_to(row)
            self.list.setFocus(Qt.FocusReason.OtherFocusReason)

    def _fit_form(self) -> None:
        """The form needs the width for its conditions: in a narrow window the page stands over it."""
        above = not self.form.isHidden() and self.width() < scaled(_BESIDE)
        self._split.setOrientation(Qt.Orientation.Vertical if above else Qt.Orientation.Horizontal)

    # --- Qt

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if event.type() == QEvent.Type.KeyPress and isinstance(event, QKeyEvent):
            deed = deed_of(event)
            page_keeps = watched is self.pane and event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter)
            if deed is not None and not page_keeps:
                self.do(deed)
                return True
        return super().eventFilter(watched, event)

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._fit_form()
        self.list.scheduleDelayedItemsLayout()
