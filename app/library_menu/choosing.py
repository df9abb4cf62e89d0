"""Asking where a back-up goes or comes from, and for a library's folder: one seam over the system's dialogs."""

from __future__ import annotations

from pathlib import Path
from typing import Protocol

from PySide6.QtWidgets import QFileDialog, QWidget

from app.translating import translate

_ENDING = ".tinsheet-backup"


class LibraryChooser(Protocol):
    """None where the person thought better of it."""

    def back_up_to(self, parent: QWidget, name: str) -> Path | None: ...

    def restore_from(self, parent: QWidget) -> Path | None: ...

    def library_folder(self, parent: QWidget) -> Path | None: ...


class SystemLibraryChooser:
    """The system's dialogs, which ask before a file is written over."""

    def back_up_to(self, parent: QWidget, name: str) -> Path | None:
        chosen, _ = QFileDialog.getSaveFileName(
            parent, translate("choosing", "Back up to one file"), name + _ENDING, _kinds()
        )
        return Path(chosen) if chosen else None

    def restore_from(self, parent: QWidget) -> Path | None:
        chosen, _ = QFileDialog.getOpenFileName(parent, translate("choosing", "Restore from a back-up"), "", _kinds())
        return Path(chosen) if chosen else None

    def library_folder(self, parent: QWidget) -> Path | None:
        chosen = QFileDialog.getExistingDirectory(parent, translate("choosing", "Open another library, or begin one"))
        return Path(chosen) if chosen else None


def _kinds() -> str:
    return translate("choosing", "Back-ups of a library (*.tinsheet-backup *.zip);;Any file (*)")
