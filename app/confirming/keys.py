"""The keys of confirming, shown where they work and pressed with the mouse as well. All lie under the left hand."""

from __future__ import annotations

from collections.abc import Mapping
from enum import StrEnum

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtGui import QKeyEvent, QResizeEvent
from PySide6.QtWidgets import QGridLayout, QPushButton, QSizePolicy, QWidget

from app.theme.text_size import at_every_size
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


_ORDER = (
    Deed.CONFIRM, Deed.REJECT, Deed.CORRECT, Deed.GROUP, Deed.UNDO, Deed.REDO, Deed.NEXT_SHEET, Deed.ADD,
)  # fmt: skip


class KeyBar(QWidget):
    """One button a deed, its key before its word.

    Signals: deed_asked(Deed).
    """

    deed_asked = Signal(object)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setAccessibleName(self.tr("What can be done"))
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(0, 0, 0, 0)
        self._grid.setSpacing(GRID)
        self._buttons: dict[Deed, QPushButton] = {}
        for deed in _ORDER:
            key, words = (translate("confirming", said) for said in KEY_WORDS[deed])
            button = QPushButton(f"{key}  {words}", self)
            button.setAccessibleName(words)
            button.setAccessibleDescription(self.tr("Key {key}").format(key=key))
            # The keys work from the list and the page; a button that took the focus would take Space with it.
            button.setFocusPolicy(Qt.FocusPolicy.TabFocus)
            button.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
            button.clicked.connect(lambda _=False, deed=deed: self.deed_asked.emit(deed))
            set_look(button, "first_deed" if deed is Deed.CONFIRM else "deed")
            self._buttons[deed] = button
        self._buttons[Deed.GROUP].setToolTip(self.tr("Confirms every statement of this topic that still waits"))
        self._columns = 0
        at_every_size(self, self._arrange)

    def minimumSizeHint(self) -> QSize:
        # Two abreast: the grid's own would be that of the columns it has now, and keep the window that wide.
        return QSize(2 * self._widest() + GRID, super().minimumSizeHint().height())

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._arrange()

    def _widest(self) -> int:
        return max(button.sizeHint().width() for button in self._buttons.values())

    def _arrange(self) -> None:
        """Four abreast where their words have room, two else."""
        columns = 4 if self.width() >= 4 * self._widest() + 3 * GRID else 2
        if columns == self._columns:
            return
        self._columns = columns
        for at, button in enumerate(self._buttons.values()):
            self._grid.addWidget(button, at // columns, at % columns)
        for column in range(4):
            self._grid.setColumnStretch(column, 1 if column < columns else 0)

    def allow(self, deed: Deed, allowed: bool) -> None:
        """Whether a deed can be done now."""
        self._buttons[deed].setEnabled(allowed)

    def button(self, deed: Deed) -> QPushButton:
        return self._buttons[deed]
