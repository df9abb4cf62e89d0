"""The page beside the statements, with its zoom and a hint of what the words on it are good for."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QBoxLayout, QHBoxLayout, QLabel, QPushButton, QVBoxLayout, QWidget

from app.page_pane.view import STEP, PagePane
from app.theme.text_size import scaled
from app.theme.theme import GRID, set_look
from extract.claims import Evidence

_BESIDE = 38 * GRID


class PageSide(QWidget):
    """Holds a PagePane that somebody else drives."""

    def __init__(self, pane: PagePane, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._pane = pane
        self._hint = QLabel(self)
        self._hint.setWordWrap(True)
        set_look(self._hint, "quiet")
        self._row = QBoxLayout(QBoxLayout.Direction.LeftToRight)
        self._row.setSpacing(GRID)
        self._row.addWidget(self._hint, 1)
        row = QHBoxLayout()
        row.setSpacing(GRID)
        for words, name, does in (
            ("−", self.tr("Zoom out"), lambda: pane.zoom_by(1 / STEP)),
            ("+", self.tr("Zoom in"), lambda: pane.zoom_by(STEP)),
            (self.tr("Width"), self.tr("Whole width"), pane.fit_width),
        ):
            button = QPushButton(words, self)
            button.setAccessibleName(name)
            set_look(button, "deed")
            # A click leaves the keyboard where the keys of confirming work.
            button.setFocusPolicy(Qt.FocusPolicy.TabFocus)
            button.clicked.connect(lambda _=False, does=does: does())
            row.addWidget(button)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(GRID)
        column.addWidget(pane, 1)
        self._row.addLayout(row)
        column.addLayout(self._row)
        pane.words_chosen.connect(self.say_chosen)
        self.say_chosen(None)

    def say_chosen(self, evidence: Evidence | None) -> None:
        """Say what can be done with the words chosen on the page."""
        if evidence is None:
            self._hint.setText(self.tr("Drag over words to add them."))
        else:
            self._hint.setText(self.tr("A adds: “{quote}”").format(quote=evidence.quote[:120]))

    def ask_for_words(self) -> None:
        """Nothing is chosen yet: say how, and give the page the keyboard."""
        self._hint.setText(self.tr("First choose the words on the page: drag over them, or use the arrow keys here."))
        self._pane.setFocus()

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        beside = event.size().width() >= scaled(_BESIDE)
        self._row.setDirection(QBoxLayout.Direction.LeftToRight if beside else QBoxLayout.Direction.TopToBottom)
