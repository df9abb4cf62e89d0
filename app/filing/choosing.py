"""Asking for files and folders: the system's own dialogs, behind one seam that tests put something else into."""

from __future__ import annotations

from pathlib import Path
from typing import Protocol

from PySide6.QtWidgets import QFileDialog, QWidget

from app.translating import translate


class FileChooser(Protocol):
    """What was chosen; empty where the person thought better of it."""

    def files(self, parent: QWidget) -> tuple[Path, ...]: ...

    def folder(self, parent: QWidget) -> tuple[Path, ...]: ...


class SystemChooser:
    """The system's dialogs."""

    def files(self, parent: QWidget) -> tuple[Path, ...]:
        names, _ = QFileDialog.getOpenFileNames(
            parent,
            translate("choosing", "File sheets"),
            "",
            translate("choosing", "Sheets (*.pdf *.PDF);;Any file (*)"),
        )
        return tuple(Path(name) for name in names)

    def folder(self, parent: QWidget) -> tuple[Path, ...]:
        name = QFileDialog.getExistingDirectory(parent, translate("choosing", "File every sheet in a folder"))
        return (Path(name),) if name else ()
