"""The check on the screen: cautions, the verdict of the whole large, why, then every part with its sentences."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QFrame, QLabel, QScrollArea, QVBoxLayout, QWidget

from app.build_up.check_page import Cautions, CheckPage
from app.build_up.parts import add_sentences, add_topic, contact_card, mark_line, wrapped
from app.theme.text_size import limit_width
from app.theme.theme import GRID, Theme, set_look
from app.theme.verdict_shape import VerdictWord

_READABLE = 104 * GRID


class CheckView(QScrollArea):
    """Signals: sentence_opened(Sentence)."""

    sentence_opened = Signal(object)

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._theme = theme
        self.page: CheckPage | None = None
        self.setWidgetResizable(True)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setAccessibleName(self.tr("The check"))

    def show_page(self, page: CheckPage) -> None:
        at = self.verticalScrollBar().value()
        self.page = page
        opens = self.sentence_opened.emit
        whole = QWidget()
        limit_width(whole, _READABLE)
        column = QVBoxLayout(whole)
        column.setContentsMargins(0, 0, GRID, 2 * GRID)
        column.setSpacing(GRID)
        column.addWidget(wrapped(page.sequence, "quiet"))
        column.addWidget(VerdictWord(self._theme, page.shape, page.word, look="large", side=28))
        column.addWidget(wrapped(page.reason, "lead"))
        add_sentences(column, page.reason_sentences, opens)
        if page.cautions.words:
            column.addWidget(self._band(page.cautions))
        if page.findings:
            add_topic(column, self.tr("Beyond the contacts"))
            for mark in page.findings:
                column.addWidget(mark_line(self._theme, mark, opens))
        add_topic(column, self.tr("From the metal up"))
        for part in page.contacts:
            column.addWidget(contact_card(self._theme, part, opens))
        if page.cautions.sentences:
            add_topic(column, self.tr("The cautions in the sheets' own words"))
            add_sentences(column, page.cautions.sentences, opens)
        column.addStretch(1)
        self.setWidget(whole)
        self.setAccessibleName(self.tr("The check: {word}. {reason}").format(word=page.word, reason=page.reason))
        # The same build-up worked out again stays where it was being read.
        self.verticalScrollBar().setValue(at)

    def _band(self, cautions: Cautions) -> QFrame:
        band = QFrame()
        set_look(band, "caution")
        band.setAccessibleName(self.tr("Cautions: {words}").format(words=" ".join(cautions.words)))
        column = QVBoxLayout(band)
        column.setContentsMargins(2 * GRID, GRID, GRID, GRID)
        column.setSpacing(GRID // 2)
        for words in cautions.words:
            label = QLabel(words)
            label.setWordWrap(True)
            column.addWidget(label)
        return band
