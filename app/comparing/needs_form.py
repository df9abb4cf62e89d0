"""What the job asks of a product, to be filled in as far as it matters."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QCheckBox, QGridLayout, QLabel, QVBoxLayout, QWidget

from app.flow import flowing
from app.naming.book import NameBook
from app.naming.field import NameField
from app.naming.figures import FigureField
from app.settings import Settings
from app.theme.text_size import scaled
from app.theme.theme import GRID, set_look
from store.rules.needs import Need, NeedKind
from store.rules.reach import party_of

_WEEK = 10080.0
_KEY = "compare/needs"
_ON = "yes"
_ABREAST = 60 * GRID


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
        grid = self._grid = QGridLayout(self)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setHorizontalSpacing(2 * GRID)
        grid.setVerticalSpacing(GRID)
        columns: tuple[tuple[str, QWidget], ...] = (
            (self.tr("Goes onto"), self.surface),
            (self.tr("Filler on top"), self.filler),
            (self.tr("Topcoat"), self.topcoat),
            (self.tr("Stands outdoors"), self.weeks),
        )
        self._boxes: list[QWidget] = []
        for words, field in columns:
            label = QLabel(words, self)
            set_look(label, "quiet")
            label.setBuddy(field)
            whole = QWidget(self)
            box = QVBoxLayout(whole)
            box.setContentsMargins(0, 0, 0, 0)
            box.setSpacing(GRID // 2)
            box.addWidget(label)
            box.addWidget(field)
            box.addStretch(1)
            self._boxes.append(whole)
        self._ticks = flowing(3 * GRID, self.waterproof, self.wet_sanding, parent=self)
        self._put(len(self._boxes))
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

    def fit(self, width: int) -> None:
        """All fields in one row where so many pixels have room for them, else two to a row."""
        self._put(len(self._boxes) if width >= scaled(_ABREAST) else 2)

    def _put(self, across: int) -> None:
        for at, box in enumerate(self._boxes):
            self._grid.addWidget(box, at // across, at % across)
            self._grid.setColumnStretch(at, int(at < across))
        self._grid.addWidget(self._ticks, len(self._boxes) // across, 0, 1, across)

    def _on_text_changed(self, text: str) -> None:
        if not text:
            self.needs_changed.emit()


def _figure(text: str) -> float | None:
    try:
        return float(text)
    except ValueError:
        return None
