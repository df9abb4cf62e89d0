"""Takes back and does again what was done to panels and tins."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QWidget

from app.job_words import change_words
from app.jobs import LibraryChange, LibraryDesk
from app.undo_buttons import UndoButtons
from store.job_records import ChangeRecord


class JobUndo(UndoButtons):
    """Works on the history that panels and tins share.

    Signals: went_back(ChangeRecord) once a change was taken back or done again.
    """

    went_back = Signal(object)

    def __init__(self, desk: LibraryDesk, place: QWidget) -> None:
        super().__init__(place)
        self._desk = desk
        self.undo_wanted.connect(self.undo)
        self.redo_wanted.connect(self.redo)

    def show_changes(self, undo: ChangeRecord | None, redo: ChangeRecord | None) -> None:
        """What would be taken back and done again."""
        self.show_words(change_words(undo) if undo is not None else "", change_words(redo) if redo is not None else "")

    def undo(self) -> None:
        self._desk.write(lambda library: library.undo_change(), LibraryChange(job=True), self._on_done)

    def redo(self) -> None:
        self._desk.write(lambda library: library.redo_change(), LibraryChange(job=True), self._on_done)

    def _on_done(self, change: ChangeRecord | None) -> None:
        if change is not None:
            self.went_back.emit(change)
