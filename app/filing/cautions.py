"""What a sheet warns of, at the head of its page in the program, and what the program itself is not."""

from __future__ import annotations

from collections.abc import Iterable
from html import escape

from PySide6.QtCore import QEvent, Qt, Signal
from PySide6.QtWidgets import QFrame, QLabel, QVBoxLayout, QWidget

from app.theme.theme import GRID, set_look
from app.translating import QT_TRANSLATE_NOOP
from app.wording import claim_words
from extract.claims import Topic
from store.records import ClaimRecord, ClaimStatus

DISCLAIMER = QT_TRANSLATE_NOOP(
    "cautions",
    "Tinsheet repeats what sheets say. It replaces neither the sheets, nor local rules, nor licensed practice.",
)


class CautionBand(QFrame):
    """The safety claims of a sheet, each opening its sentence. Hidden where the sheet has none.

    Signals: caution_opened(ClaimRecord).
    """

    caution_opened = Signal(object)

    def __init__(self, parent: QWidget | None = None) -> None:
        self._cautions: list[tuple[str, ClaimRecord]] = []
        super().__init__(parent)
        set_look(self, "caution")
        self.setAccessibleName(self.tr("Cautions"))
        self._label = QLabel(self)
        self._label.setWordWrap(True)
        self._label.setAccessibleName(self.tr("Cautions"))
        self._label.setTextFormat(Qt.TextFormat.RichText)
        self._label.setTextInteractionFlags(
            Qt.TextInteractionFlag.LinksAccessibleByMouse | Qt.TextInteractionFlag.LinksAccessibleByKeyboard
        )
        self._label.linkActivated.connect(self._on_link_activated)
        column = QVBoxLayout(self)
        column.setContentsMargins(GRID, GRID // 2, GRID, GRID // 2)
        column.addWidget(self._label)
        self._usual = QLabel(self)
        self._usual.setWordWrap(True)
        self._usual.hide()
        column.addWidget(self._usual)
        self.hide()

    def show_cautions(self, claims: Iterable[ClaimRecord], product: str) -> None:
        """Show those of the claims that are cautions and were not rejected."""
        found: dict[str, ClaimRecord] = {}
        for record in claims:
            if record.claim.topic is Topic.SAFETY and record.status is not ClaimStatus.REJECTED:
                found.setdefault(claim_words(record.claim, product), record)
        self._cautions = list(found.items())
        self._write()
        self.setVisible(bool(self._cautions))

    def say_usual(self, words: str) -> None:
        """What is usually done about it, below the sheet's own words; '' for nothing."""
        self._usual.setText(words)
        self._usual.setVisible(bool(words))

    @property
    def usual(self) -> str:
        return self._usual.text()

    @property
    def words(self) -> tuple[str, ...]:
        return tuple(words for words, _ in self._cautions)

    def _write(self) -> None:
        links = (f'<a href="{at}">{escape(words)}</a>' for at, (words, _) in enumerate(self._cautions))
        self._label.setText(" &nbsp;·&nbsp; ".join(links))
        self._label.setAccessibleName(self.tr("Cautions: {words}").format(words=", ".join(self.words)))

    def _on_link_activated(self, link: str) -> None:
        self.caution_opened.emit(self._cautions[int(link)][1])

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        # A link takes its colour when it is written.
        if event.type() == QEvent.Type.PaletteChange and self._cautions:
            self._write()
