"""Lines for one figure, and for several, that count as they are typed: with a comma or a point, in whatever unit."""

from __future__ import annotations

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QLineEdit, QWidget

from app.theme.theme import GRID
from app.typed_figures import NotAFigure, figure_text, read_quantities, read_quantity


class FigureLine(QLineEdit):
    """`figure` is what is typed, in `unit`; None where nothing is, or nothing that could be read.

    Signals: figure_typed() after every letter and every step of the up and down keys.
    """

    figure_typed = Signal()

    def __init__(self, name: str, unit: str, *, empty_words: str = "", parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.unit = unit
        self.setAccessibleName(name)
        self.setPlaceholderText(empty_words)
        self.textEdited.connect(lambda _: self.figure_typed.emit())

    @property
    def figure(self) -> float | None:
        try:
            return read_quantity(self.text(), self.unit)
        except NotAFigure:
            return None

    @property
    def unreadable(self) -> bool:
        """Something is typed that is no figure."""
        return self.figure is None and bool(self.text().strip())

    def set_figure(self, value: float | None) -> None:
        """Show this; says nothing to anybody."""
        self.setText("" if value is None else figure_text(value, 6))
        self.setCursorPosition(0)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() in (Qt.Key.Key_Up, Qt.Key.Key_Down) and not event.modifiers():
            self._step(1 if event.key() == Qt.Key.Key_Up else -1)
        elif event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.focusNextChild()
        else:
            super().keyPressEvent(event)

    def sizeHint(self) -> QSize:
        return QSize(16 * GRID, super().sizeHint().height())

    def _step(self, by: int) -> None:
        value = self.figure
        if value is None:
            return
        self.set_figure(value + by * (1 if abs(value) >= 10 or value == int(value) else 0.1))
        self.figure_typed.emit()


class FiguresLine(QLineEdit):
    """As many figures as there are, parted by spaces or semicolons; `figures` is what is typed, in `unit`.

    Signals: figures_typed() after every letter.
    """

    figures_typed = Signal()

    def __init__(self, name: str, unit: str, hint: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.unit = unit
        self.setAccessibleName(name)
        self.setPlaceholderText(hint)
        self.textEdited.connect(lambda _: self.figures_typed.emit())

    @property
    def figures(self) -> tuple[float, ...]:
        """Empty where any of them could not be read."""
        try:
            return read_quantities(self.text(), self.unit)
        except NotAFigure:
            return ()

    @property
    def unreadable(self) -> str:
        """What is typed that is no figure; '' for none."""
        try:
            read_quantities(self.text(), self.unit)
        except NotAFigure as fault:
            return fault.typed
        return ""

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.focusNextChild()
        else:
            super().keyPressEvent(event)

    def sizeHint(self) -> QSize:
        return QSize(32 * GRID, super().sizeHint().height())
