"""What the job asks of a product, to be filled in as far as it matters."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QCheckBox, QGridLayout, QHBoxLayout, QLabel, QVBoxLayout, QWidget

from app.naming.book import NameBook
from app.naming.field import NameField
from app.naming.figures import FigureField
from app.settings import Settings
from app.theme.theme import GRID, set_look
from store.rules.needs import Need, NeedKind
from store.rules.reach import party_of

_WEEK = 10080.0
_KEY = "compare/needs"
_ON = "yes"


class NeedsForm(QWidget):
    """Signals: needs_changed()."""

    needs_changed = Signal()

    def __init__(self, book: NameBook, settings: Settings, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._settings = settings
        self.surface = NameField(book, self.tr("What it goes onto"), hint=self.tr("steel, old paint …"), parent=self)
        self.filler = NameField(book, self.tr("Filler on top"), hint=self.tr("a filler or kind"), parent=self)
        self.topcoat = NameField(book, self.tr("Topcoat"), hint=self.tr("a topcoat or kind"), parent=self)
        self.weeks = FigureField(
            self.tr("Weeks outdoors"), self.tr("weeks"), 0, 520,
            empty_words=self.tr("not asked"), first=8, counted="week", parent=self,
        )  # fmt: skip
        self.waterproof = QCheckBox(self.tr("keeps water out"), self)
        self.wet_sanding = QCheckBox(self.tr("may be wet-sanded"), self)
        self._fields = (self.surface, self.filler, self.topcoat)
        grid = QGridLayout(self)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setHorizontalSpacing(2 * GRID)
        grid.setVerticalSpacing(GRID)
        columns: tuple[tuple[str, QWidget], ...] = (
            (self.tr("Goes onto"), self.surface),
            (self.tr("Filler on top"), self.filler),
            (self.tr("Topcoat"), self.topcoat),
            (self.tr("Stands outdoors"), self.weeks),
        )
        for column, (words, field) in enumerate(columns):
            label = QLabel(words, self)
            set_look(label, "quiet")
            label.setBuddy(field)
            box = QVBoxLayout()
            box.setSpacing(GRID // 2)
            box.addWidget(label)
            box.addWidget(field)
            box.addStretch(1)
            grid.addLayout(box, 0, column)
            grid.setColumnStretch(column, 1)
        ticks = QHBoxLayout()
        ticks.setSpacing(3 * GRID)
        ticks.addWidget(self.waterproof)
        ticks.addWidget(self.wet_sanding)
        ticks.addStretch(1)
        grid.addLayout(ticks, 1, 0, 1, 4)
        for name_field in self._fields:
            name_field.meaning_changed.connect(lambda _: self.needs_changed.emit())
            name_field.line.textChanged.connect(self._on_text_changed)
        self.weeks.figure_changed.connect(self.needs_changed)
        self.waterproof.toggled.connect(lambda _: self.needs_changed.emit())
        self.wet_sanding.toggled.connect(lambda _: self.needs_changed.emit())

    @property
    def needs(self) -> tuple[Need, ...]:
        """What is asked, in the order of the work."""
        found: list[Need] = []
        if self.surface.meaning is not None:
            found.append(Need(NeedKind.OVER, party_of(self.surface.meaning)))
        for field in (self.filler, self.topcoat):
            if field.meaning is not None:
                found.append(Need(NeedKind.UNDER, party_of(field.meaning)))
        if self.weeks.value:
            found.append(Need(NeedKind.OUTDOORS, minutes=self.weeks.value * _WEEK))
        if self.waterproof.isChecked():
            found.append(Need(NeedKind.WATERPROOF))
        if self.wet_sanding.isChecked():
            found.append(Need(NeedKind.WET_SANDING))
        return tuple(found)

    def keep(self) -> None:
        values = (
            *(field.text for field in self._fields),
            str(self.weeks.value or ""),
            _ON if self.waterproof.isChecked() else "",
            _ON if self.wet_sanding.isChecked() else "",
        )
        self._settings.set_texts(_KEY, values)

    def restore(self) -> None:
        """What was asked last time, as far as its names are still known."""
        kept = self._settings.texts(_KEY)
        if len(kept) != len(self._fields) + 3:
            return
        for field, text in zip(self._fields, kept, strict=False):
            field.write(text)
        weeks, waterproof, wet_sanding = kept[len(self._fields) :]
        self.weeks.set_value(_figure(weeks))
        self.waterproof.setChecked(waterproof == _ON)
        self.wet_sanding.setChecked(wet_sanding == _ON)

    def _on_text_changed(self, text: str) -> None:
        if not text:
            self.needs_changed.emit()


def _figure(text: str) -> float | None:
    try:
        return float(text)
    except ValueError:
        return None
