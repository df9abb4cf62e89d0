"""A field for a wait, typed as people say it; empty is 'not said'."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QLineEdit, QWidget

from app.build_up.typed_wait import read_wait
from app.figure_words import duration_words
from app.typed_figures import NotAFigure


class WaitField(QLineEdit):
    """Signals: wait_changed() when another wait stands; trouble_came(words), '' once it is put right."""

    wait_changed = Signal()
    trouble_came = Signal(str)

    def __init__(self, name: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._minutes: float | None = None
        self.setAccessibleName(name)
        self.setPlaceholderText(self.tr("not said"))
        self.setToolTip(self.tr("“90 min”, “24 h”, “1 h 30”, “3 days” or “2 weeks”"))
        self.editingFinished.connect(self._take_text)

    @property
    def minutes(self) -> float | None:
        return self._minutes

    def set_minutes(self, minutes: float | None) -> None:
        """Show this; says nothing to anybody."""
        self._minutes = minutes
        self._write()

    def _write(self) -> None:
        self.setText("" if self._minutes is None else duration_words(self._minutes))

    def _take_text(self) -> None:
        try:
            minutes = read_wait(self.text())
        except NotAFigure as fault:
            self.trouble_came.emit(
                self.tr("“{typed}” is no time that can be read. Write “24 h”, “1 h 30” or “3 days”.").format(
                    typed=fault.typed
                )
            )
            return
        self.trouble_came.emit("")
        changed = minutes != self._minutes
        self.set_minutes(minutes)
        if changed:
            self.wait_changed.emit()
