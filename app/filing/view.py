"""The place where sheets come in and are kept: 'Sheets'."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from PySide6.QtCore import QItemSelection, QModelIndex, QSize, QSortFilterProxyModel, Qt, QTimer
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import (
    QAbstractItemView,
    QBoxLayout,
    QHBoxLayout,
    QHeaderView,
    QLabel,
    QLineEdit,
    QPushButton,
    QScrollArea,
    QSizePolicy,
    QSplitter,
    QTableView,
    QVBoxLayout,
    QWidget,
)

from app.figure_words import counted_words
from app.filing.cautions import DISCLAIMER
from app.filing.choosing import FileChooser
from app.filing.column_widths import left_out, shared_widths
from app.filing.files_strip import FilesStrip
from app.filing.model import RECORD_ROLE, SheetTable
from app.filing.queue import FilingQueue
from app.filing.sheet_card import SheetCard
from app.front_stack import FrontStack
from app.jobs import LibraryChange, LibraryDesk, Soon
from app.place import Place
from app.reading_again.bar import ReadingAgainBar
from app.reading_again.work import ReadingAgain
from app.settings import Settings
from app.shortcuts import on_key
from app.theme.text_size import at_every_size, limit_width, scaled
from app.theme.theme import GRID, set_look
from app.translating import QT_TRANSLATE_NOOP, Counting, translate
from store.records import Progress, SheetRecord

NARROW = 620
"""Pixels."""
FIRM_COLUMNS = (0, 4)
"""The product's name and what waits are of no use cut short."""
DISPENSABLE_COLUMNS = (3, 1)
"""Issue, then maker, are left out where there is no room: the sheet's card beside the list says them too."""


class FilingPlace(Place):
    """File sheets, see what became of each, find one, go on to confirming it."""

    name = "sheets"
    title = QT_TRANSLATE_NOOP("places", "Sheets")
    icon_name = "sheets"

    def __init__(
        self,
        desk: LibraryDesk,
        queue: FilingQueue,
        reading_again: ReadingAgain,
        chooser: FileChooser,
        settings: Settings,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self._desk = desk
        self._queue = queue
        self._chooser = chooser
        self._settings = settings
        self._wanted: int | None = None
        self._again = Soon(self.reload, parent=self)
        self._table = SheetTable()
        self._rows = QSortFilterProxyModel(self)
        self._rows.setSourceModel(self._table)
        self._rows.setFilterCaseSensitivity(Qt.CaseSensitivity.CaseInsensitive)
        self._rows.setSortCaseSensitivity(Qt.CaseSensitivity.CaseInsensitive)
        self._rows.setFilterKeyColumn(-1)

        head = QLabel(self.tr("Sheets"), self)
        set_look(head, "large")
        self._progress = QLabel(self)
        set_look(self._progress, "quiet")
        self._progress.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)
        file_button = QPushButton(self.tr("File sheets …"), self)
        set_look(file_button, "primary")
        file_button.clicked.connect(self.choose_files)
        folder_button = QPushButton(self.tr("A folder …"), self)
        folder_button.clicked.connect(self.choose_folder)
        self._filter = QLineEdit(self)
        self._filter.setPlaceholderText(self.tr("Narrow the list: product, maker, kind"))
        self._filter.setAccessibleName(self.tr("Narrow the list"))
        self._filter.setClearButtonEnabled(True)
        limit_width(self._filter, 360)
        self._filter.textChanged.connect(self._rows.setFilterFixedString)

        top = self._top = QBoxLayout(QBoxLayout.Direction.LeftToRight)
        top.setSpacing(GRID)
        top.addWidget(head)
        top.addSpacing(GRID)
        top.addWidget(self._progress, 1)
        deeds = QHBoxLayout()
        deeds.setSpacing(GRID)
        deeds.addWidget(file_button)
        deeds.addWidget(folder_button)
        top.addLayout(deeds)

        self._sharing_widths = False
        self._list = self._make_list()
        self._card = SheetCard(desk, self)
        self._card.confirming_asked.connect(lambda sheet_id: self.place_wanted.emit("confirm", sheet_id))
        self._card.page_asked.connect(self.evidence_opened)
        scroll = QScrollArea(self)
        scroll.setWidgetResizable(True)
        scroll.setWidget(self._card)
        scroll.setMinimumWidth(260)
        scroll.setMinimumHeight(180)
        scroll.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        scroll.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self._split = QSplitter(Qt.Orientation.Horizontal, self)
        self._split.setChildrenCollapsible(False)
        self._split.setHandleWidth(GRID)
        left = QWidget(self)
        left_column = QVBoxLayout(left)
        left_column.setContentsMargins(0, 0, 0, 0)
        left_column.setSpacing(GRID)
        left_column.addWidget(self._filter)
        left_column.addWidget(self._list, 1)
        self._split.addWidget(left)
        self._split.addWidget(scroll)
        self._split.setStretchFactor(0, 3)
        self._split.setStretchFactor(1, 1)
        self._split.setSizes([790, 266])
        settings.restore_splitter("sheets", self._split)

        self._stack = FrontStack(self)
        self._stack.addWidget(self._make_empty())
        self._stack.addWidget(self._split)
        self._files = FilesStrip(queue, self)
        self._reading_again = reading_again
        self.again_bar = ReadingAgainBar(reading_again, self)
        said_once = QLabel(translate("cautions", DISCLAIMER), self)
        said_once.setWordWrap(True)
        set_look(said_once, "quiet")
        whole = QWidget(self)
        column = QVBoxLayout(whole)
        column.setContentsMargins(3 * GRID, 2 * GRID, 3 * GRID, 2 * GRID)
        column.setSpacing(2 * GRID)
        column.addLayout(top)
        column.addWidget(self.again_bar)
        column.addWidget(self._files)
        column.addWidget(self._stack, 1)
        column.addWidget(said_once)
        # With large text in a low window the place scrolls rather than squeeze the list to nothing.
        rolling = QScrollArea(self)
        rolling.setWidgetResizable(True)
        rolling.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        rolling.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        rolling.setWidget(whole)
        outside = QVBoxLayout(self)
        outside.setContentsMargins(0, 0, 0, 0)
        outside.addWidget(rolling)

        desk.library_opened.connect(self._on_library_opened)
        desk.library_changed.connect(self._on_library_changed)

    @property
    def table(self) -> SheetTable:
        return self._table

    @property
    def card(self) -> SheetCard:
        return self._card

    @property
    def list_view(self) -> QTableView:
        return self._list

    def choose_files(self) -> None:
        self._queue.add(self._chooser.files(self))

    def choose_folder(self) -> None:
        self._queue.add(self._chooser.folder(self))

    def add(self, paths: Sequence[Path]) -> None:
        """File these: dropped on the window, or handed over by the system."""
        self._queue.add(paths)

    def reload(self) -> None:
        """Look again at what is filed."""
        self._desk.read(lambda library: (library.sheets(), library.progress()), self._on_sheets_read)

    def activated(self) -> None:
        self._list.setFocus(Qt.FocusReason.OtherFocusReason)

    def come_with(self, payload: object) -> None:
        """payload: a sheet id, to be chosen in the list."""
        if isinstance(payload, int):
            self._wanted = payload
            self._choose_wanted()

    def keep(self) -> None:
        if self._split.orientation() is Qt.Orientation.Horizontal:
            self._settings.keep_splitter("sheets", self._split)
        if self._widths_chosen:
            self._settings.keep_columns("sheets", self._list.horizontalHeader())

    def sizeHint(self) -> QSize:
        return QSize(1000, 640)

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        # With the page open beside it on a small screen, list and sheet stand one above the other.
        narrow = self.width() < scaled(NARROW)
        wanted = Qt.Orientation.Vertical if narrow else Qt.Orientation.Horizontal
        self._progress.setVisible(not narrow)
        upright = QBoxLayout.Direction.TopToBottom if narrow else QBoxLayout.Direction.LeftToRight
        self._top.setDirection(upright)
        if self._split.orientation() is not wanted:
            self._split.setOrientation(wanted)
        if not self._widths_chosen:
            # Once the layout has handed the list its own new size.
            QTimer.singleShot(0, self._list, self._share_widths)

    # --- inside

    def _make_list(self) -> QTableView:
        view = QTableView(self)
        view.setAccessibleName(self.tr("Filed sheets"))
        view.setModel(self._rows)
        view.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        view.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        view.setSortingEnabled(True)
        view.sortByColumn(0, Qt.SortOrder.AscendingOrder)
        view.setShowGrid(False)
        view.setWordWrap(False)
        view.setTabKeyNavigation(False)
        at_every_size(view, lambda: view.setMinimumHeight(scaled(20 * GRID)))
        view.verticalHeader().hide()
        at_every_size(view, lambda: view.verticalHeader().setDefaultSectionSize(scaled(4 * GRID + 4)))
        header = view.horizontalHeader()
        header.setDefaultAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter)
        header.setHighlightSections(False)
        header.setStretchLastSection(True)
        self._widths_chosen = self._settings.restore_columns("sheets", header)
        for column in range(header.count()):
            # Widths that a person chose while some column had no room.
            header.setSectionHidden(column, False)
        header.setSectionResizeMode(QHeaderView.ResizeMode.Interactive)
        header.sectionResized.connect(self._on_column_resized)
        view.selectionModel().selectionChanged.connect(self._on_chosen)
        for key in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            on_key(view, key, self._on_entered)
        return view

    def _on_library_opened(self) -> None:
        self._empty_words.setText(
            self.tr("The data sheets of your paints belong here. Drop their PDFs anywhere on this window.")
        )
        self._empty_button.show()
        self._reading_again.look()
        self.reload()

    def _make_empty(self) -> QWidget:
        empty = QWidget(self)
        words = QLabel(self.tr("Opening the library …"), empty)
        self._empty_words = words
        set_look(words, "lead")
        words.setWordWrap(True)
        words.setAlignment(Qt.AlignmentFlag.AlignCenter)
        button = QPushButton(self.tr("File sheets …"), empty)
        set_look(button, "primary")
        button.clicked.connect(self.choose_files)
        button.hide()
        self._empty_button = button
        column = QVBoxLayout(empty)
        column.setSpacing(2 * GRID)
        column.addStretch(2)
        column.addWidget(words)
        column.addWidget(button, 0, Qt.AlignmentFlag.AlignHCenter)
        column.addStretch(3)
        return empty

    def _on_sheets_read(self, read: tuple[Sequence[SheetRecord], Progress]) -> None:
        sheets, progress = read
        chosen = self._card.sheet
        self._table.set_sheets(sheets)
        first = bool(sheets) and self._stack.currentIndex() == 0
        self._stack.setCurrentIndex(1 if sheets else 0)
        if first and self.isVisible():
            self._list.setFocus(Qt.FocusReason.OtherFocusReason)
        if not self._widths_chosen:
            self._share_widths()
        self._progress.setText(_progress_words(len(sheets), progress) if sheets else "")
        if chosen is not None:
            self._wanted = chosen.id
        self._choose_wanted()

    def _share_widths(self) -> None:
        """For as long as the person has dragged no column: a choice of theirs is kept."""
        header = self._list.horizontalHeader()
        wanted = [
            max(self._list.sizeHintForColumn(column), header.sectionSizeHint(column)) + GRID
            for column in range(header.count())
        ]
        room = self._list.viewport().width()
        gone = left_out(wanted, room, DISPENSABLE_COLUMNS)
        kept = [column for column in range(header.count()) if column not in gone]
        firm = [place for place, column in enumerate(kept) if column in FIRM_COLUMNS]
        self._sharing_widths = True
        for column in range(header.count()):
            header.setSectionHidden(column, column in gone)
        for column, width in zip(kept, shared_widths([wanted[column] for column in kept], room, firm), strict=True):
            header.resizeSection(column, width)
        self._sharing_widths = False

    def _on_column_resized(self, column: int) -> None:
        # The last column follows the window by itself.
        if not self._sharing_widths and column != self._list.horizontalHeader().count() - 1:
            self._widths_chosen = True
            for at in range(self._list.horizontalHeader().count()):
                self._list.horizontalHeader().setSectionHidden(at, False)

    def _choose_wanted(self) -> None:
        row = self._table.row_of(self._wanted) if self._wanted is not None else None
        if row is None:
            if self._rows.rowCount():
                self._list.selectRow(0)
            else:
                self._card.show_sheet(None)
            return
        self._list.selectRow(self._rows.mapFromSource(self._table.index(row, 0)).row())
        self._card.show_sheet(self._table.data(self._table.index(row, 0), RECORD_ROLE))

    def _chosen_sheet(self) -> SheetRecord | None:
        rows: list[QModelIndex] = self._list.selectionModel().selectedRows()
        sheet = rows[0].data(RECORD_ROLE) if rows else None
        return sheet if isinstance(sheet, SheetRecord) else None

    def _on_chosen(self, _: QItemSelection) -> None:
        sheet = self._chosen_sheet()
        if sheet is not None:
            self._wanted = sheet.id
            self._card.show_sheet(sheet)

    def _on_entered(self) -> None:
        sheet = self._chosen_sheet()
        if sheet is not None:
            self.place_wanted.emit("confirm", sheet.id)

    def _on_library_changed(self, _: LibraryChange) -> None:
        self._again.ask()


filing = Counting("filing")


def _progress_words(sheets: int, progress: Progress) -> str:
    filed = counted_words(sheets, "sheet")
    if progress.waiting:
        waiting = filing.tr("%n statements wait", "%n statement waits", progress.waiting)
        return f"{filed} · {waiting}"
    confirmed = translate("filing", "everything is confirmed")
    return f"{filed} · {confirmed}" if progress.decided else filed
