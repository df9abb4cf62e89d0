"""Two buttons that take back and do again what was done to panels and tins, each saying what that is."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeySequence, QShortcut
from PySide6.QtWidgets import QHBoxLayout, QPushButton, QSizePolicy, QWidget

from app.job_words import change_words
from app.jobs import LibraryChange, LibraryDesk
from app.theme.theme import GRID
from store.job_records import ChangeRecord

_LONGEST = 34


class JobUndo(QWidget):
    """Works on the history that panels and tins share; Ctrl+Z and Ctrl+Shift+Z in `place` do the same.

    Signals: went_back(ChangeRecord) once a change was taken back or done again.
    """

    went_back = Signal(object)

    def __init__(self, desk: LibraryDesk, place: QWidget) -> None:
        super().__init__(place)
        self._desk = desk
        self.undo_button = QPushButton(self.tr("Undo"), self)
        self.redo_button = QPushButton(self.tr("Redo"), self)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(GRID)
        for button in (self.undo_button, self.redo_button):
            button.setSizePolicy(QSizePolicy.Policy.Maximum, QSizePolicy.Policy.Fixed)
            row.addWidget(button)
        self.undo_button.clicked.connect(self.undo)
        self.redo_button.clicked.connect(self.redo)
        for keys, does in ((QKeySequence.StandardKey.Undo, self.undo), (QKeySequence.StandardKey.Redo, self.redo)):
            shortcut = QShortcut(QKeySequence(keys), place)
            shortcut.setContext(Qt.ShortcutContext.WidgetWithChildrenShortcut)
            shortcut.activated.connect(does)
        self.show_changes(None, None)

    def show_changes(self, undo: ChangeRecord | None, redo: ChangeRecord | None) -> None:
        """What would be taken back and done again."""
        for button, change, word in (
            (self.undo_button, undo, self.tr("Undo")),
            (self.redo_button, redo, self.tr("Redo")),
        ):
            button.setEnabled(change is not None)
            words = change_words(change) if change is not None else ""
            short = words if len(words) <= _LONGEST else f"{words[: _LONGEST - 1]}…"
            button.setText(f"{word}: {short}".replace("&", "&&") if words else word)
            button.setAccessibleName(f"{word}: {words}" if words else word)
            button.setToolTip(words)
        self.redo_button.setVisible(redo is not None)

    def undo(self) -> None:
        self._desk.write(lambda library: library.undo_change(), LibraryChange(job=True), self._on_done)

    def redo(self) -> None:
        self._desk.write(lambda library: library.redo_change(), LibraryChange(job=True), self._on_done)

    def _on_done(self, change: ChangeRecord | None) -> None:
        if change is not None:
            self.went_back.emit(change)
