"""Sentences as a paragraph of links: what stands small under a figure, each one step from its page."""

from __future__ import annotations

from collections.abc import Sequence
from html import escape

from PySide6.QtCore import QEvent, Qt, Signal
from PySide6.QtWidgets import QLabel, QWidget

from app.sentences import Sentence
from app.theme.theme import set_look

_LONGEST = 120


class SentenceLinks(QLabel):
    """Each sentence in quotation marks with product and page after it. Hidden where there is none.

    Signals: sentence_opened(Sentence).
    """

    sentence_opened = Signal(object)

    def __init__(self, sentences: Sequence[Sentence], parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.sentences = tuple(sentences)
        set_look(self, "quiet")
        self.setWordWrap(True)
        self.setTextFormat(Qt.TextFormat.RichText)
        self.setTextInteractionFlags(
            Qt.TextInteractionFlag.LinksAccessibleByMouse | Qt.TextInteractionFlag.LinksAccessibleByKeyboard
        )
        self.setAccessibleName(" ".join(f"{s.quoted} {s.source}" for s in self.sentences))
        self.linkActivated.connect(lambda link: self.sentence_opened.emit(self.sentences[int(link)]))
        self._write()
        if not self.sentences:
            # Shown by whoever it lies in: shown here, it would be a window of its own until it lies there.
            self.hide()

    def _write(self) -> None:
        parts = []
        for at, sentence in enumerate(self.sentences):
            quote = sentence.quote
            short = quote if len(quote) <= _LONGEST else quote[: _LONGEST - 1].rsplit(" ", 1)[0] + " …"
            waits = self.tr(" (not yet confirmed)") if sentence.waits else ""
            parts.append(f'<a href="{at}">“{escape(short)}”</a> {escape(sentence.source)}{waits}')
        self.setText("<br>".join(parts))

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        # A link takes its colour when it is written.
        if event.type() == QEvent.Type.PaletteChange and self.sentences:
            self._write()
