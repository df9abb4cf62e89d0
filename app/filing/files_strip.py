"""What becomes of the files just handed in: seen, stopped, unlocked, and put away once read."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QAbstractItemView,
    QFrame,
    QHeaderView,
    QLabel,
    QLineEdit,
    QProgressBar,
    QPushButton,
    QSizePolicy,
    QTableView,
    QVBoxLayout,
    QWidget,
)

from app.filing.model import FileTable, differences_words
from app.filing.queue import FileState, FilingItem, FilingQueue
from app.flow import FlowLayout
from app.jobs import Soon
from app.theme.text_size import at_every_size, fix_width, scaled
from app.theme.theme import GRID, set_look
from app.translating import Counting, translate

ROWS_SHOWN = 5


class FilesStrip(QFrame):
    """Hidden while no file was handed in. Keeps its list until the person puts it away."""

    def __init__(self, queue: FilingQueue, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._queue = queue
        self._locked: FilingItem | None = None
        self._again = Soon(self._say, after=30, parent=self)
        set_look(self, "card")
        self.setAccessibleName(self.tr("Files handed in"))
        self._table = FileTable()
        self._words = QLabel(self)
        set_look(self._words, "topic")
        self._bar = QProgressBar(self)
        self._bar.setAccessibleName(self.tr("Files done"))
        self._bar.setTextVisible(False)
        fix_width(self._bar, 200)
        self._stop_one = QPushButton(self.tr("Take this one out"), self)
        self._stop_one.clicked.connect(self._on_stop_one)
        self._stop = QPushButton(self.tr("Stop"), self)
        self._stop.setAccessibleDescription(self.tr("Takes out every file that is not filed yet"))
        self._stop.clicked.connect(queue.cancel_all)
        self._away = QPushButton(self.tr("Put this list away"), self)
        self._away.clicked.connect(self.hide)
        head = QWidget(self)
        flow = FlowLayout(head, GRID)
        for widget in (self._words, self._bar, self._stop_one, self._stop, self._away):
            flow.addWidget(widget)
        self._view = self._make_view()
        self._changes = QLabel(self)
        self._changes.setWordWrap(True)
        set_look(self._changes, "quiet")
        self._changes.hide()
        self._view.selectionModel().selectionChanged.connect(self._say_changes)
        self._lock = self._make_lock()
        column = QVBoxLayout(self)
        column.setContentsMargins(2 * GRID, GRID, 2 * GRID, GRID)
        column.setSpacing(GRID)
        column.addWidget(head)
        column.addWidget(self._view)
        column.addWidget(self._changes)
        column.addWidget(self._lock)
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Minimum)
        self.hide()
        queue.items_added.connect(self._on_items_added)
        queue.item_changed.connect(self._on_item_changed)

    @property
    def table(self) -> FileTable:
        return self._table

    @property
    def password_field(self) -> QLineEdit:
        return self._password

    def _make_view(self) -> QTableView:
        view = QTableView(self)
        view.setAccessibleName(self.tr("What became of each file"))
        view.setModel(self._table)
        view.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        view.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        view.setShowGrid(False)
        view.setTabKeyNavigation(False)
        view.setWordWrap(True)
        view.horizontalHeader().hide()
        view.verticalHeader().hide()
        at_every_size(view, lambda: view.verticalHeader().setDefaultSectionSize(scaled(4 * GRID)))
        view.horizontalHeader().setStretchLastSection(True)
        view.horizontalHeader().setSectionResizeMode(0, QHeaderView.ResizeMode.Interactive)
        at_every_size(view, lambda: view.horizontalHeader().resizeSection(0, scaled(200)))
        view.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        return view

    def _make_lock(self) -> QWidget:
        lock = QWidget(self)
        self._lock_words = QLabel(lock)
        self._lock_words.setWordWrap(True)
        self._password = QLineEdit(lock)
        self._password.setEchoMode(QLineEdit.EchoMode.Password)
        self._password.setAccessibleName(self.tr("Password"))
        self._password.setPlaceholderText(self.tr("Password, not kept"))
        fix_width(self._password, 240)
        self._password.returnPressed.connect(self._on_password_given)
        read = QPushButton(self.tr("Read it"), lock)
        set_look(read, "primary")
        read.clicked.connect(self._on_password_given)
        leave = QPushButton(self.tr("Leave it out"), lock)
        leave.clicked.connect(self._on_left_out)
        deeds = QWidget(lock)
        flow = FlowLayout(deeds, GRID)
        for widget in (self._password, read, leave):
            flow.addWidget(widget)
        column = QVBoxLayout(lock)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(GRID)
        column.addWidget(self._lock_words)
        column.addWidget(deeds)
        lock.hide()
        return lock

    def _on_items_added(self, first: int, count: int) -> None:
        self._table.add(self._queue.items[first : first + count])
        self._fit_height()
        self.show()
        self._say()

    def _on_item_changed(self, item: FilingItem) -> None:
        self._table.change(item)
        self._again.ask()
        if item.state is FileState.NOT_READ:
            # Room for a sentence of two lines: what happened, and what to do.
            self._view.setRowHeight(item.number, scaled(6 * GRID))
            self._fit_height()
        elif item.state is FileState.READING and item.page == 0:
            self._view.scrollTo(self._table.index(item.number, 0))

    def _fit_height(self) -> None:
        rows = self._table.rowCount()
        height = sum(self._view.rowHeight(row) for row in range(min(rows, ROWS_SHOWN)))
        self._view.setFixedHeight(min(height, ROWS_SHOWN * scaled(4 * GRID)) + 4)

    def _say(self) -> None:
        items = self._queue.items
        busy = self._queue.under_way
        ended = len(items) - busy
        self._bar.setRange(0, max(len(items), 1))
        self._bar.setValue(ended)
        self._words.setText(_files_words(ended, len(items)))
        self._bar.setVisible(bool(busy))
        self._stop.setVisible(bool(busy))
        self._stop_one.setVisible(bool(busy))
        self._away.setVisible(not busy)
        if not busy:
            self._say_changes()
        self._show_lock(next((i for i in items if i.state is FileState.LOCKED), None))

    def _say_changes(self) -> None:
        """What a newer issue changed: of the chosen file, else of the last one that changed anything."""
        rows = self._view.selectionModel().selectedRows()
        items = [self._queue.items[rows[0].row()]] if rows else list(reversed(self._queue.items))
        words = next((found for found in map(differences_words, items) if found), "")
        self._changes.setText(words)
        self._changes.setVisible(bool(words))

    def _show_lock(self, item: FilingItem | None) -> None:
        changed = (item and (item.number, item.message)) != (
            self._locked and (self._locked.number, self._locked.message)
        )
        self._locked = item
        self._lock.setVisible(item is not None)
        if item is None or not changed:
            return
        sentence = item.message.sentence if item.message else ""
        self._lock_words.setText(f"{item.path.name}: {sentence}")
        self._lock_words.setToolTip(str(item.path))
        self._password.clear()
        self._password.setFocus(Qt.FocusReason.OtherFocusReason)

    def _on_password_given(self) -> None:
        if self._locked is not None and self._password.text():
            self._queue.give_password(self._locked.number, self._password.text())

    def _on_left_out(self) -> None:
        if self._locked is not None:
            self._queue.cancel(self._locked.number)

    def _on_stop_one(self) -> None:
        rows = self._view.selectionModel().selectedRows()
        under_way = [i.number for i in self._queue.items if i.state.under_way]
        number = rows[0].row() if rows else (under_way[0] if under_way else None)
        if number is not None:
            self._queue.cancel(number)


filing = Counting("filing")


def _files_words(ended: int, total: int) -> str:
    if ended == total:
        return filing.tr("%n files looked at", "%n file looked at", total)
    return translate("filing", "{ended} of {total} files done").format(ended=ended, total=total)
