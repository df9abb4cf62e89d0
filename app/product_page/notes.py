"""The user's own notes on a product."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLabel, QPlainTextEdit, QPushButton, QVBoxLayout, QWidget

from app.flow import flowing
from app.jobs import LibraryChange, LibraryDesk
from app.product_page.kept import TakenAway
from app.theme.text_size import fix_height
from app.theme.theme import GRID, Theme, set_look
from app.theme.verdict_shape import VerdictWord
from store.records import Note


class NoteEditor(QPlainTextEdit):
    """Signals: keeping_asked() by Ctrl+Return."""

    keeping_asked = Signal()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        entered = event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter)
        if entered and event.modifiers() & Qt.KeyboardModifier.ControlModifier:
            self.keeping_asked.emit()
        else:
            super().keyPressEvent(event)


class NotesPanel(QWidget):
    """Shows, adds, changes and removes notes; each deed is one write."""

    def __init__(self, desk: LibraryDesk, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self._theme = theme
        self._product_id: int | None = None
        self._changing: Note | None = None
        self._notes: tuple[Note, ...] = ()
        self._drafts: dict[int, tuple[str, Note | None]] = {}
        head = QLabel(self.tr("Your notes"), self)
        set_look(head, "topic")
        self._cards = QVBoxLayout()
        self._cards.setSpacing(GRID)
        self.editor = NoteEditor(self)
        self.editor.setAccessibleName(self.tr("A note of your own"))
        self.editor.setPlaceholderText(self.tr("what you know of it yourself"))
        self.editor.setTabChangesFocus(True)
        fix_height(self.editor, 9 * GRID)
        self.keep_button = QPushButton(self.tr("Keep this note"), self)
        self.keep_button.setToolTip("Ctrl+Return")
        self.keep_button.clicked.connect(self.keep_note)
        self.editor.keeping_asked.connect(self.keep_note)
        self._leave = QPushButton(self.tr("Leave it as it was"), self)
        self._leave.clicked.connect(self._stop_changing)
        self._leave.hide()
        self.gone = TakenAway(self)
        row = QHBoxLayout()
        row.setSpacing(GRID)
        row.addWidget(self.keep_button)
        row.addWidget(self._leave)
        row.addStretch(1)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(GRID)
        column.addWidget(head)
        column.addLayout(self._cards)
        column.addWidget(self.gone)
        column.addWidget(self.editor)
        column.addLayout(row)

    @property
    def notes(self) -> tuple[Note, ...]:
        return self._notes

    def show_notes(self, product_id: int, notes: Sequence[Note]) -> None:
        """What is being written about a product waits for it while another one is looked at."""
        if product_id != self._product_id:
            if self._product_id is not None:
                self._drafts[self._product_id] = (self.editor.toPlainText(), self._changing)
            self._product_id = product_id
            self.gone.forget()
            text, self._changing = self._drafts.pop(product_id, ("", None))
            self.editor.setPlainText(text)
            self._leave.setVisible(self._changing is not None)
        self._notes = tuple(notes)
        while self._cards.count():
            item = self._cards.takeAt(0)
            widget = item.widget() if item is not None else None
            if widget is not None:
                widget.hide()
                widget.deleteLater()
        for note in notes:
            self._cards.addWidget(self._card(note))

    def keep_note(self) -> None:
        text, product_id = self.editor.toPlainText().strip(), self._product_id
        if not text or product_id is None:
            return
        note_id = self._changing.id if self._changing is not None else None
        self._stop_changing()
        self.gone.forget()
        self._desk.write(lambda library: library.write_note(product_id, text, note_id), self._change(product_id))

    def remove(self, note: Note) -> None:
        self._desk.write(lambda library: library.remove_note(note.id), self._change(note.product_id))
        self.gone.offer(
            self.tr("The note was removed."),
            lambda: self._desk.write(
                lambda library: library.write_note(note.product_id, note.text), self._change(note.product_id)
            ),
        )

    # --- inside

    def _card(self, note: Note) -> QFrame:
        card = QFrame(self)
        set_look(card, "card")
        text = QLabel(note.text, card)
        text.setWordWrap(True)
        text.setTextFormat(Qt.TextFormat.PlainText)
        text.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        mark = VerdictWord(self._theme, "own", self.tr("your note"), side=12, parent=card)
        change = QPushButton(self.tr("Change"), card)
        remove = QPushButton(self.tr("Remove"), card)
        for button, does in ((change, self._changer(note)), (remove, self._remover(note))):
            set_look(button, "link")
            button.clicked.connect(does)
        column = QVBoxLayout(card)
        column.setContentsMargins(2 * GRID, GRID, GRID, GRID // 2)
        column.setSpacing(GRID // 2)
        column.addWidget(text)
        column.addWidget(flowing(GRID, mark, change, remove, parent=card))
        return card

    def _changer(self, note: Note) -> Callable[[], None]:
        def change() -> None:
            self._changing = note
            self.editor.setPlainText(note.text)
            self._leave.show()
            self.editor.setFocus(Qt.FocusReason.OtherFocusReason)

        return change

    def _remover(self, note: Note) -> Callable[[], None]:
        return lambda: self.remove(note)

    def _stop_changing(self) -> None:
        self._changing = None
        self.editor.clear()
        self._leave.hide()

    def _change(self, product_id: int) -> LibraryChange:
        return LibraryChange(products=frozenset({product_id}), initiator=self)
