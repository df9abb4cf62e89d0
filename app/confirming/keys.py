"""The keys of confirming, shown where they work and pressed with the mouse as well. All lie under the left hand."""

from __future__ import annotations

from collections.abc import Mapping
from enum import StrEnum

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QGridLayout, QPushButton, QSizePolicy, QWidget

from app.theme.theme import GRID, set_look
from app.translating import QT_TRANSLATE_NOOP, translate


class Deed(StrEnum):
    CONFIRM = "confirm"
    REJECT = "reject"
    CORRECT = "correct"
    GROUP = "group"
    UNDO = "undo"
    REDO = "redo"
    ADD = "add"
    NEXT_SHEET = "next_sheet"


KEY_WORDS: Mapping[Deed, tuple[str, str]] = {
    Deed.CONFIRM: (QT_TRANSLATE_NOOP("confirming", "Space"), QT_TRANSLATE_NOOP("confirming", "Confirm")),
    Deed.REJECT: ("X", QT_TRANSLATE_NOOP("confirming", "Reject")),
    Deed.CORRECT: ("C", QT_TRANSLATE_NOOP("confirming", "Correct")),
    Deed.GROUP: ("G", QT_TRANSLATE_NOOP("confirming", "Rest of group")),
    Deed.UNDO: ("Z", QT_TRANSLATE_NOOP("confirming", "Undo")),
    Deed.REDO: ("Shift+Z", QT_TRANSLATE_NOOP("confirming", "Redo")),
    Deed.ADD: ("A", QT_TRANSLATE_NOOP("confirming", "Add words")),
    Deed.NEXT_SHEET: ("N", QT_TRANSLATE_NOOP("confirming", "Next sheet")),
}

_KEYS = {
    Qt.Key.Key_Space: Deed.CONFIRM,
    Qt.Key.Key_Return: Deed.CONFIRM,
    Qt.Key.Key_Enter: Deed.CONFIRM,
    Qt.Key.Key_X: Deed.REJECT,
    Qt.Key.Key_Delete: Deed.REJECT,
    Qt.Key.Key_C: Deed.CORRECT,
    Qt.Key.Key_G: Deed.GROUP,
    Qt.Key.Key_Z: Deed.UNDO,
    Qt.Key.Key_A: Deed.ADD,
    Qt.Key.Key_N: Deed.NEXT_SHEET,
}
_PLAIN = (Qt.KeyboardModifier.NoModifier, Qt.KeyboardModifier.KeypadModifier, Qt.KeyboardModifier.ShiftModifier)


def deed_of(event: QKeyEvent) -> Deed | None:
    """What a key press asks for; Ctrl+Z and Ctrl+Y undo and redo as everywhere."""
    key, held = Qt.Key(event.key()), event.modifiers()
    if held & Qt.KeyboardModifier.ControlModifier:
        if key == Qt.Key.Key_Z:
            return Deed.REDO if held & Qt.KeyboardModifier.ShiftModifier else Deed.UNDO
        return Deed.REDO if key == Qt.Key.Key_Y else None
    if held not in _PLAIN:
        return None
    deed = _KEYS.get(key)
    if deed is Deed.UNDO and held & Qt.KeyboardModifier.ShiftModifier:
        return Deed.REDO
    return deed


class KeyBar(QWidget):
    """One button a deed, its key before its word.

    Signals: deed_asked(Deed).
    """

    deed_asked = Signal(object)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setAccessibleName(self.tr("What can be done"))
        grid = QGridLayout(self)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setSpacing(GRID)
        self._buttons: dict[Deed, QPushButton] = {}
        places = {
            Deed.CONFIRM: (0, 0),
            Deed.REJECT: (0, 1),
            Deed.CORRECT: (0, 2),
            Deed.GROUP: (0, 3),
            Deed.UNDO: (1, 0),
            Deed.REDO: (1, 1),
            Deed.NEXT_SHEET: (1, 2),
            Deed.ADD: (1, 3),
        }
        for deed, (row, column) in places.items():
            key, words = (translate("confirming", said) for said in KEY_WORDS[deed])
            button = QPushButton(f"{key}  {words}", self)
            button.setAccessibleName(words)
            button.setAccessibleDescription(self.tr("Key {key}").format(key=key))
            # The keys work from the list and the page; a button that took the focus would take Space with it.
            button.setFocusPolicy(Qt.FocusPolicy.TabFocus)
            button.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
            button.clicked.connect(lambda _=False, deed=deed: self.deed_asked.emit(deed))
            set_look(button, "first_deed" if deed is Deed.CONFIRM else "deed")
            grid.addWidget(button, row, column)
            self._buttons[deed] = button
        self._buttons[Deed.GROUP].setToolTip(self.tr("Confirms every statement of this topic that still waits"))
        for column in range(4):
            grid.setColumnStretch(column, 1)

    def allow(self, deed: Deed, allowed: bool) -> None:
        """Whether a deed can be done now."""
        self._buttons[deed].setEnabled(allowed)

    def button(self, deed: Deed) -> QPushButton:
        return self._buttons[deed]
