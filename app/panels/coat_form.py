"""The form in which a coat is logged: what went on, when, out of which tins, in what weather, how thick."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QDragEnterEvent, QDropEvent
from PySide6.QtWidgets import (
    QGridLayout,
    QHBoxLayout,
    QLabel,
    QPlainTextEdit,
    QPushButton,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

from app.flow import FlowLayout
from app.half_typed import HalfTyped
from app.job_words import tin_words
from app.moment_fields import MomentField
from app.naming.book import NameBook
from app.naming.field import NameField
from app.naming.figures import FigureField
from app.now import Now
from app.panels.dew_line import DewLine
from app.panels.held import Held
from app.panels.photos import PICTURES, PhotoChooser
from app.shortcuts import on_key
from app.theme.text_size import fix_height, fix_width, limit_width
from app.theme.theme import GRID, Theme, set_look
from app.typed_moments import NotAMoment
from store.job_records import Coat, CoatRecord, PanelRecord, TinRecord, TinTake
from store.records import ProductRecord

_WIDTH = 88 * GRID


@dataclass(frozen=True, slots=True)
class CoatToLog:
    """A coat, with photos that are still files outside the library. coat_id where a logged one is changed."""

    panel_id: int
    coat: Coat
    photos: tuple[Path, ...] = ()
    coat_id: int | None = None


class CoatForm(QScrollArea):
    """Signals: kept(CoatToLog); left()."""

    kept = Signal(object)
    left = Signal()

    def __init__(
        self, book: NameBook, theme: Theme, now: Now, choose_photos: PhotoChooser, parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self._book, self._now, self._choose = book, now, choose_photos
        self._held = Held()
        self._panel: PanelRecord | None = None
        self._changed: CoatRecord | None = None
        self._photos: list[Path] = []
        self._kept_photos: tuple[int, ...] = ()
        self.takes: dict[int, FigureField] = {}
        self.setWidgetResizable(True)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.setAcceptDrops(True)
        self._head = QLabel(self)
        self._head.setWordWrap(True)
        set_look(self._head, "head")
        self.product = NameField(book, self.tr("Product"), hint=self.tr("what went on"), kinds_too=False, parent=self)
        self.when = MomentField(self.tr("When the last of these coats went on"), now, self)
        self.coats = self._figure(self.tr("Coats"), self.tr("coats"), 1, 20, 1, counted="coat")
        self.air = self._figure(self.tr("Air temperature"), "°C", -40, 80, 20)
        self.panel_c = self._figure(self.tr("Temperature of the panel"), "°C", -40, 110, 20)
        self.humidity = self._figure(self.tr("Humidity of the air"), "%", 1, 100, 50)
        self.wet = self._figure(self.tr("Wet film"), "µm", 1, 5000, 100)
        self.dry = self._figure(self.tr("Dry film"), "µm", 1, 5000, 50)
        self.dew = DewLine(theme, self)
        self.note = QPlainTextEdit(self)
        self.note.setAccessibleName(self.tr("Note"))
        self.note.setTabChangesFocus(True)
        fix_height(self.note, 9 * GRID)
        self._tins = QWidget(self)
        self._tin_rows = QGridLayout(self._tins)
        self._tin_rows.setContentsMargins(0, 0, 0, 0)
        self._photo_words = QLabel(self)
        self._photo_words.setWordWrap(True)
        set_look(self._photo_words, "quiet")
        self.photo_button = QPushButton(self.tr("Add a photo …"), self)
        self._wrong = QLabel(self)
        self._wrong.setWordWrap(True)
        set_look(self._wrong, "caution")
        self.keep_button = QPushButton(self.tr("Log it"), self)
        set_look(self.keep_button, "primary")
        self.leave_button = QPushButton(self.tr("Leave it"), self)
        self._lay_out()
        self.product.meaning_changed.connect(self._on_product_named)
        for field in (self.air, self.panel_c, self.humidity):
            field.textChanged.connect(self._reckon)
        self.photo_button.clicked.connect(lambda: self.add_photos(self._choose(self)))
        self.keep_button.clicked.connect(self.keep)
        self.leave_button.clicked.connect(self.left)
        self.half_typed = HalfTyped(self, self.say, self.left.emit, lambda: tuple(self._photos))
        on_key(self, Qt.Key.Key_Escape, self.half_typed.escape, children=True)

    def open(self, panel: PanelRecord, held: Held, product: ProductRecord | None, at_c: float | None) -> None:
        """A new coat on the panel; product is the one that the plan waits for."""
        coat = Coat(self._now(), product.id if product is not None else 0, air_c=at_c)
        self._show(panel, held, coat, None)
        self._head.setText(self.tr("A coat on {panel}").format(panel=panel.panel.name))
        (self.product if product is None else self.coats).setFocus()
        self.half_typed.begin()

    def open_logged(self, panel: PanelRecord, held: Held, record: CoatRecord) -> None:
        """A coat that was logged, to be put right."""
        self._show(panel, held, record.coat, record)
        self._head.setText(self.tr("Change a coat on {panel}").format(panel=panel.panel.name))
        self.when.setFocus()
        self.half_typed.begin()

    def add_photos(self, paths: Sequence[Path]) -> None:
        """Pictures to keep with the coat; what is none is said to be."""
        strange = [path.name for path in paths if path.suffix.lower() not in PICTURES]
        self._photos += [path for path in paths if path.suffix.lower() in PICTURES]
        self._say_photos()
        if strange:
            self.say(self.tr("{name} is not a picture and was left out.").format(name=", ".join(strange)))

    def keep(self) -> None:
        if self._panel is None:
            return
        product = self.product.meaning
        if not isinstance(product, ProductRecord):
            self.say(self.tr("Name the product that went on."))
            self.product.setFocus()
            return
        try:
            at = self.when.moment
        except NotAMoment as fault:
            self.say(
                self.tr("“{typed}” is not a time. Type one like 14:05 or yesterday 16:30.").format(typed=fault.typed)
            )
            self.when.setFocus()
            return
        self._take_figures()
        coat = Coat(
            at,
            product.id,
            round(self.coats.value or 1),
            tuple(TinTake(tin, field.value) for tin, field in self.takes.items() if field.value),
            self.air.value,
            self.panel_c.value,
            self.humidity.value,
            self.wet.value,
            self.dry.value,
            self.note.toPlainText().strip(),
            self._kept_photos,
        )
        changed = self._changed.id if self._changed is not None else None
        self.kept.emit(CoatToLog(self._panel.id, coat, tuple(self._photos), changed))

    def say(self, words: str) -> None:
        """What is wrong; '' for nothing."""
        self._wrong.setText(words)
        self._wrong.setVisible(bool(words))
        if words:
            self.ensureWidgetVisible(self._wrong)

    # --- inside

    def _show(self, panel: PanelRecord, held: Held, coat: Coat, changed: CoatRecord | None) -> None:
        self._panel, self._held, self._changed = panel, held, changed
        self._photos, self._kept_photos = [], coat.photo_ids
        product = self._book.product(coat.product_id) or held.product(coat.product_id)
        self.product.set_meaning(product)
        self.when.set_moment(coat.at)
        for field, value in (
            (self.coats, float(coat.coats)), (self.air, coat.air_c), (self.panel_c, coat.panel_c),
            (self.humidity, coat.humidity), (self.wet, coat.wet_um), (self.dry, coat.dry_um),
        ):  # fmt: skip
            field.set_value(value)
        self.note.setPlainText(coat.note)
        self._show_tins(coat)
        self.say("")
        self._say_photos()
        self._reckon()
        self.verticalScrollBar().setValue(0)

    def _show_tins(self, coat: Coat) -> None:
        """A field for each tin of the product that has something in it, or that this coat took from."""
        while (item := self._tin_rows.takeAt(0)) is not None:
            widget = item.widget()
            if widget is not None:
                widget.hide()
                widget.deleteLater()
        self.takes = {}
        wanted = {take.tin_id: take.amount for take in coat.takes}
        there = [
            t for t in self._held.tins if t.tin.product_id == coat.product_id and (t.tin.left > 0 or t.id in wanted)
        ]
        for row, record in enumerate(there):
            self._tin_row(row, record, wanted.get(record.id))
        if not there:
            none = QLabel(self.tr("No tin of it stands on the shelf."), self._tins)
            set_look(none, "quiet")
            self._tin_rows.addWidget(none, 0, 0)

    def _tin_row(self, row: int, record: TinRecord, amount: float | None) -> None:
        words = tin_words(record.tin, record.product)
        label = QLabel(words, self._tins)
        label.setWordWrap(True)
        field = self._figure(
            self.tr("Taken from {tin}").format(tin=words), record.tin.unit.value, 0, 1_000_000, 100,
        )  # fmt: skip
        field.set_value(amount)
        self.takes[record.id] = field
        self._tin_rows.addWidget(field, row, 0)
        self._tin_rows.addWidget(label, row, 1)
        self._tin_rows.setColumnStretch(1, 1)

    def _on_product_named(self, meaning: object) -> None:
        if isinstance(meaning, ProductRecord):
            coat = self._changed.coat if self._changed is not None else Coat(self._now(), meaning.id)
            keep = coat.takes if coat.product_id == meaning.id else ()
            self._show_tins(replace(coat, product_id=meaning.id, takes=keep))
            self._reckon()

    def _reckon(self) -> None:
        product = self.product.meaning
        rules = self._held.material.rules_of(product) if isinstance(product, ProductRecord) else []
        self.dew.reckon(self.air.text(), self.humidity.text(), self.panel_c.text(), rules)

    def _take_figures(self) -> None:
        for field in (
            self.coats, self.air, self.panel_c, self.humidity, self.wet, self.dry, *self.takes.values()
        ):  # fmt: skip
            field.take_text()

    def _say_photos(self) -> None:
        names = [path.name for path in self._photos]
        kept = len(self._kept_photos)
        before = [self.tr("{count} kept").format(count=kept)] if kept else []
        words = ", ".join([*before, *names])
        self._photo_words.setText(words or self.tr("or drop pictures here"))

    def _figure(self, name: str, unit: str, least: float, most: float, first: float, counted: str = "") -> FigureField:
        unnoted = self.tr("not noted")
        field = FigureField(name, unit, least, most, empty_words=unnoted, first=first, counted=counted, parent=self)
        fix_width(field, 16 * GRID)
        return field

    def _lay_out(self) -> None:
        whole = QWidget()
        limit_width(whole, _WIDTH)
        grid = QGridLayout()
        grid.setHorizontalSpacing(2 * GRID)
        grid.setVerticalSpacing(GRID)
        rows: tuple[tuple[str, QWidget], ...] = (
            (self.tr("Product"), self.product),
            (self.tr("When"), self.when),
            (self.tr("Coats"), self.coats),
            (self.tr("From the tins"), self._tins),
            (self.tr("Weather"), self._row((self.tr("air"), self.air), (self.tr("panel"), self.panel_c),
                                           (self.tr("humidity"), self.humidity))),
            ("", self.dew),
            (self.tr("Film"), self._row((self.tr("wet"), self.wet), (self.tr("dry"), self.dry))),
            (self.tr("Note"), self.note),
            (self.tr("Photos"), self._row(("", self.photo_button), ("", self._photo_words))),
        )  # fmt: skip
        for at, (words, field) in enumerate(rows):
            label = QLabel(words, whole)
            label.setBuddy(field)
            set_look(label, "beside")
            grid.addWidget(label, at, 0, Qt.AlignmentFlag.AlignTop)
            grid.addWidget(field, at, 1)
        grid.setColumnStretch(1, 1)
        deeds = QHBoxLayout()
        deeds.setSpacing(GRID)
        deeds.addWidget(self.keep_button)
        deeds.addWidget(self.leave_button)
        deeds.addStretch(1)
        column = QVBoxLayout(whole)
        column.setContentsMargins(0, 0, GRID, 2 * GRID)
        column.setSpacing(2 * GRID)
        column.addWidget(self._head)
        column.addLayout(grid)
        column.addWidget(self._wrong)
        column.addLayout(deeds)
        column.addStretch(1)
        self.setWidget(whole)

    def _row(self, *fields: tuple[str, QWidget]) -> QWidget:
        row = QWidget(self)
        flow = FlowLayout(row, GRID)
        for words, field in fields:
            pair = QWidget(row)
            inside = QHBoxLayout(pair)
            inside.setContentsMargins(0, 0, 0, 0)
            inside.setSpacing(GRID)
            if words:
                inside.addWidget(QLabel(words, pair))
            inside.addWidget(field)
            flow.addWidget(pair)
        return row

    def dragEnterEvent(self, event: QDragEnterEvent) -> None:
        if any(Path(url.toLocalFile()).suffix.lower() in PICTURES for url in event.mimeData().urls()):
            event.acceptProposedAction()

    def dropEvent(self, event: QDropEvent) -> None:
        self.add_photos([Path(url.toLocalFile()) for url in event.mimeData().urls() if url.isLocalFile()])
        event.acceptProposedAction()
