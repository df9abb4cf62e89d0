"""The line under a field: the sheet's own sentence with the step to its page, or that the sheet says nothing."""

from __future__ import annotations

from html import escape

from PySide6.QtCore import QEvent, Qt, Signal
from PySide6.QtWidgets import QLabel, QWidget

from app.figure_words import page_words
from app.sentences import Sentence
from app.theme.theme import set_look

_LONGEST = 90


class SheetSays(QLabel):
    """Quiet words; a sentence in them is a link.

    Signals: sentence_opened(Sentence); confirming_asked() where words on this wait to be confirmed.
    """

    sentence_opened = Signal(object)
    confirming_asked = Signal()

    def __init__(self, name: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._name = name
        self._sentence: Sentence | None = None
        self._before = self._after = ""
        self._waits = False
        set_look(self, "quiet")
        self.setWordWrap(True)
        self.setTextFormat(Qt.TextFormat.RichText)
        self.setTextInteractionFlags(
            Qt.TextInteractionFlag.LinksAccessibleByMouse | Qt.TextInteractionFlag.LinksAccessibleByKeyboard
        )
        self.linkActivated.connect(self._on_link_activated)
        self.say("")

    @property
    def sentence(self) -> Sentence | None:
        return self._sentence

    @property
    def words(self) -> str:
        """What stands there, without the links."""
        said = [self._before, self._sentence.quoted if self._sentence else "", self._after]
        return " ".join(part for part in said if part)

    def say(self, words: str, sentence: Sentence | None = None, *, waits: bool = False) -> None:
        """words, then the sentence; with waits a link that leads to confirming. Hidden without either."""
        self._before, self._sentence, self._waits = words, sentence, waits
        self._write()
        self.setVisible(bool(words) or sentence is not None)

    def _write(self) -> None:
        parts = [escape(self._before)] if self._before else []
        self._after = ""
        if self._sentence is not None:
            quote = self._sentence.quote
            short = quote if len(quote) <= _LONGEST else quote[: _LONGEST - 1].rsplit(" ", 1)[0] + " …"
            page = page_words(self._sentence.page)
            parts.append(f'<a href="page">“{escape(short)}”</a> {page}')
            self.setToolTip(quote)
        else:
            self.setToolTip("")
        if self._waits:
            self._after = self.tr("Confirm it")
            parts.append(f'<a href="confirm">{self._after}</a>')
        self.setText(" ".join(parts))
        self.setAccessibleName(f"{self._name}: {self.words}")
        links = self._sentence is not None or self._waits
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus if links else Qt.FocusPolicy.NoFocus)

    def _on_link_activated(self, link: str) -> None:
        if link == "confirm":
            self.confirming_asked.emit()
        elif self._sentence is not None:
            self.sentence_opened.emit(self._sentence)

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        # A link takes its colour when it is written.
        if event.type() == QEvent.Type.PaletteChange and (self._sentence is not None or self._waits):
            self._write()
