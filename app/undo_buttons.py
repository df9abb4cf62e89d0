"""Two buttons that take back and do again, each saying what that is, and the keys that do the same."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QObject, Qt, Signal
from PySide6.QtGui import QKeyEvent, QKeySequence, QShortcut
from PySide6.QtWidgets import QHBoxLayout, QLineEdit, QPushButton, QSizePolicy, QWidget

from app.theme.theme import GRID

_LONGEST = 34


class UndoButtons(QWidget):
    """The keys for it (Ctrl+Z, and Ctrl+Shift+Z or Ctrl+Y) in `inside` do the same as the buttons.

    Signals: undo_wanted(), redo_wanted().
    """

    undo_wanted = Signal()
    redo_wanted = Signal()

    def __init__(self, inside: QWidget) -> None:
        super().__init__(inside)
        self.undo_button = QPushButton(self.tr("Undo"), self)
        self.redo_button = QPushButton(self.tr("Redo"), self)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(GRID)
        for button in (self.undo_button, self.redo_button):
            button.setSizePolicy(QSizePolicy.Policy.Maximum, QSizePolicy.Policy.Fixed)
            row.addWidget(button)
        self.undo_button.clicked.connect(self.undo_wanted)
        self.redo_button.clicked.connect(self.redo_wanted)
        for keys, wanted in (
            (QKeySequence.StandardKey.Undo, self.undo_wanted),
            (QKeySequence.StandardKey.Redo, self.redo_wanted),
        ):
            # All of them: what does again is Ctrl+Shift+Z in one system and Ctrl+Y in another.
            shortcut = QShortcut(inside)
            shortcut.setKeys(keys)
            shortcut.setContext(Qt.ShortcutContext.WidgetWithChildrenShortcut)
            shortcut.activated.connect(wanted)
        self.show_words("", "")

    def show_words(self, undo: str, redo: str) -> None:
        """What would be taken back and done again; empty where there is nothing."""
        for button, words, word in (
            (self.undo_button, undo, self.tr("Undo")),
            (self.redo_button, redo, self.tr("Redo")),
        ):
            button.setEnabled(bool(words))
            short = words if len(words) <= _LONGEST else f"{words[: _LONGEST - 1]}…"
            button.setText(f"{word}: {short}".replace("&", "&&") if words else word)
            button.setAccessibleName(f"{word}: {words}" if words else word)
            button.setToolTip(words)
        self.redo_button.setVisible(bool(redo))

    def heed_in(self, line: QLineEdit) -> None:
        """The keys work while this field has the keyboard too, as soon as no typing in it is left to take back."""
        line.installEventFilter(self)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        # A line keeps these keys to itself, even where it has nothing to undo.
        if (
            event.type() == QEvent.Type.ShortcutOverride
            and isinstance(event, QKeyEvent)
            and isinstance(watched, QLineEdit)
            and (event.matches(QKeySequence.StandardKey.Undo) or event.matches(QKeySequence.StandardKey.Redo))
            and not (watched.isUndoAvailable() or watched.isRedoAvailable())
        ):
            event.ignore()
            return True
        return super().eventFilter(watched, event)
