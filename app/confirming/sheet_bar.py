"""Over the page and the statements: which sheet it is, and how far the confirming has come."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QComboBox, QHBoxLayout, QLabel, QProgressBar, QWidget

from app.theme.theme import GRID, set_look
from app.translating import Counting, translate
from store.records import Progress, SheetRecord

confirming = Counting("confirming")


class SheetBar(QWidget):
    """Signals: sheet_chosen(sheet id) by the person, not by show_sheets or choose."""

    sheet_chosen = Signal(int)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._chooser = QComboBox(self)
        self._chooser.setAccessibleName(self.tr("Sheet"))
        self._chooser.setMinimumContentsLength(14)
        self._chooser.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        self._chooser.activated.connect(self._on_activated)
        self._words = QLabel(self)
        set_look(self._words, "lead")
        self._words.setWordWrap(True)
        self._whole = QLabel(self)
        set_look(self._whole, "quiet")
        self._bar = QProgressBar(self)
        self._bar.setTextVisible(False)
        self._bar.setAccessibleName(self.tr("Statements of this sheet decided"))
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(2 * GRID)
        row.addWidget(self._chooser, 2)
        row.addWidget(self._words, 1)
        row.addWidget(self._bar, 1)
        row.addWidget(self._whole)

    def show_sheets(self, sheets: Sequence[SheetRecord], chosen: int | None) -> None:
        """Offer these sheets, in this order."""
        self._chooser.clear()
        for sheet in sheets:
            self._chooser.addItem(_sheet_words(sheet), sheet.id)
        self.choose(chosen)

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        # What the whole library waits for is told in Sheets too.
        needed = self._words.sizeHint().width() + self._whole.sizeHint().width() + self._chooser.sizeHint().width()
        self._whole.setVisible(self.width() >= needed + 12 * GRID)

    def choose(self, sheet_id: int | None) -> None:
        self._chooser.setCurrentIndex(self._chooser.findData(sheet_id) if sheet_id is not None else -1)

    def say(self, total: int, waiting: int, library: Progress) -> None:
        """Statements of the sheet in all, those that wait, and the same of the whole library."""
        self._bar.setRange(0, max(total, 1))
        self._bar.setValue(total - waiting)
        if not total:
            words = self.tr("Nothing was read from this sheet")
        elif waiting:
            words = self.tr("{decided} of {total} decided").format(decided=total - waiting, total=total)
        else:
            words = self.tr("All {total} decided").format(total=total)
        self._words.setText(words)
        whole = library.decided + library.waiting
        self._whole.setText(
            self.tr("whole library: {waiting} of {total} wait").format(waiting=library.waiting, total=whole)
        )

    def _on_activated(self, at: int) -> None:
        sheet_id = self._chooser.itemData(at)
        if isinstance(sheet_id, int):
            self.sheet_chosen.emit(sheet_id)


def _sheet_words(sheet: SheetRecord) -> str:
    state = translate("confirming", "all decided")
    if sheet.waiting:
        state = confirming.tr("%n wait", "%n waits", sheet.waiting)
    maker = f", {sheet.product.maker}" if sheet.product.maker else ""
    return f"{sheet.product.name}{maker} · {state}"
