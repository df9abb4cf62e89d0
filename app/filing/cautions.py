"""What a sheet warns of, at the head of its page in the program, and what the program itself is not."""

from __future__ import annotations

from collections.abc import Iterable

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QFrame, QPushButton, QVBoxLayout, QWidget

from app.theme.theme import GRID, set_look
from app.wording import claim_words
from extract.claims import Topic
from store.records import ClaimRecord, ClaimStatus

DISCLAIMER = "Tinsheet repeats what sheets say. It replaces neither the sheets, nor local rules, nor licensed practice."


class CautionBand(QFrame):
    """The safety claims of a sheet, each opening its sentence. Hidden where the sheet has none.

    Signals: caution_opened(ClaimRecord).
    """

    caution_opened = Signal(object)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        set_look(self, "caution")
        self.setAccessibleName(self.tr("Cautions"))
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(GRID, 0, GRID, 0)
        self._column.setSpacing(0)
        self._buttons: list[QPushButton] = []
        self.hide()

    def show_cautions(self, claims: Iterable[ClaimRecord], product: str) -> None:
        """Show those of the claims that are cautions and were not rejected."""
        for button in self._buttons:
            self._column.removeWidget(button)
            button.deleteLater()
        self._buttons = []
        seen: set[str] = set()
        for record in claims:
            if record.claim.topic is not Topic.SAFETY or record.status is ClaimStatus.REJECTED:
                continue
            words = claim_words(record.claim, product)
            if words in seen:
                continue
            seen.add(words)
            button = QPushButton(words, self)
            set_look(button, "link")
            button.setAccessibleDescription(self.tr("Opens the sentence on its page"))
            button.setToolTip(record.claim.evidence.quote)
            button.clicked.connect(lambda _=False, record=record: self.caution_opened.emit(record))
            self._column.addWidget(button)
            self._buttons.append(button)
        self.setVisible(bool(self._buttons))

    @property
    def words(self) -> tuple[str, ...]:
        return tuple(button.text() for button in self._buttons)
