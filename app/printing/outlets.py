"""Where a print, a PDF or a table goes: asked of the person through the system's dialogs."""

from __future__ import annotations

from pathlib import Path
from typing import Protocol

from PySide6.QtPrintSupport import QPrintDialog, QPrinter
from PySide6.QtWidgets import QFileDialog, QWidget

from app.translating import translate


class Outlets(Protocol):
    """What a place asks before it prints or writes. None: the person thought better of it."""

    def file(self, parent: QWidget, name: str, kind: str) -> Path | None: ...

    def printer(self, parent: QWidget, printer: QPrinter) -> QPrinter | None: ...


class SystemOutlets:
    """The system's own dialogs."""

    def file(self, parent: QWidget, name: str, kind: str) -> Path | None:
        """name with its ending is offered; kind is 'pdf' or 'csv'."""
        words = {"pdf": "PDF (*.pdf)", "csv": translate("choosing", "Table for spreadsheets (*.csv)")}
        chosen, _ = QFileDialog.getSaveFileName(parent, translate("choosing", "Where to keep it"), name, words[kind])
        if not chosen:
            return None
        path = Path(chosen)
        return path if path.suffix.lower() == f".{kind}" else path.with_name(f"{path.name}.{kind}")

    def printer(self, parent: QWidget, printer: QPrinter) -> QPrinter | None:
        dialog = QPrintDialog(printer, parent)
        dialog.setWindowTitle(translate("choosing", "Print"))
        return printer if dialog.exec() else None
