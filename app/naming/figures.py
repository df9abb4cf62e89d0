"""A field for one figure with its unit, which may be left empty."""

from __future__ import annotations

import re

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QLineEdit, QWidget

from app.figure_words import counted_words, number_words


class FigureField(QLineEdit):
    """Type a figure, or step it with the up and down keys; empty means none, and `empty_words` say so.

    Signals: figure_changed() when another figure stands, after Enter, an arrow or leaving the field.
    """

    figure_changed = Signal()

    def __init__(
        self,
        name: str,
        unit: str,
        least: float,
        most: float,
        *,
        empty_words: str,
        first: float,
        counted: str = "",
        parent: QWidget | None = None,
    ) -> None:
        """first is where stepping begins from nothing; a figure beyond least and most is not taken.

        counted is what figure_words.counted_words counts ('week'), for a unit that is a word with a form for one.
        """
        super().__init__(parent)
        self._unit, self._least, self._most, self._first = unit, least, most, first
        self._counted = counted
        self._value: float | None = None
        self.setAccessibleName(name)
        self.setPlaceholderText(empty_words)
        self.setToolTip(
            self.tr("{least} to {most} {unit}; empty: {words}").format(
                least=number_words(least), most=number_words(most), unit=unit, words=empty_words
            )
        )
        self.editingFinished.connect(self._take_text)

    @property
    def value(self) -> float | None:
        return self._value

    def set_value(self, value: float | None) -> None:
        """Show this; says nothing to anybody."""
        self._value = None if value is None else min(max(value, self._least), self._most)
        self._write()

    def take_text(self) -> None:
        """Take up what is typed, as on leaving the field."""
        self._take_text()

    def _write(self) -> None:
        self.setText("" if self._value is None else self._words(self._value))

    def _words(self, value: float) -> str:
        if self._counted and value == int(value):
            return counted_words(int(value), self._counted)
        return f"{number_words(value)} {self._unit}".strip()

    def _take_text(self) -> None:
        text = self.text().removesuffix(self._unit)
        if self._counted:
            text = re.sub(r"(?<=[\d\s])[^\W\d_]+\s*$", "", text)
        text = text.replace("−", "-").replace(",", ".").strip()
        try:
            value = float(text) if text else None
        except ValueError:
            value = self._value
        if value is not None and not self._least <= value <= self._most:
            value = self._value
        self._stand(value)

    def _stand(self, value: float | None) -> None:
        changed = value != self._value
        self._value = value
        self._write()
        if changed:
            self.figure_changed.emit()

    def _step(self, by: float) -> None:
        self._take_text()
        value = self._first if self._value is None else self._value + by
        self._stand(min(max(value, self._least), self._most))

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() in (Qt.Key.Key_Up, Qt.Key.Key_Down):
            self._step(1.0 if event.key() == Qt.Key.Key_Up else -1.0)
        else:
            super().keyPressEvent(event)
