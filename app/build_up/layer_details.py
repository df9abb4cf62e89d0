"""What is said of one layer: its film, how it came onto the one below, and how long it then stands outdoors."""

from __future__ import annotations

from dataclasses import replace

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QComboBox, QFrame, QGridLayout, QLabel, QWidget

from app.build_up.wait_field import WaitField
from app.naming.figures import FigureField
from app.theme.text_size import at_every_size
from app.theme.theme import GRID, set_look
from app.verdict_words import party_words
from store.planning.buildup import Layer


class LayerDetails(QFrame):
    """Signals: layer_changed(Layer) once another value stands."""

    layer_changed = Signal(object)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._layer: Layer | None = None
        set_look(self, "card")
        self._head = QLabel(self)
        set_look(self._head, "topic")
        self._head.setWordWrap(True)
        unsaid = self.tr("not said")
        self.film = self._figure(self.tr("Dry film of all its coats in micrometres"), "µm", 1, 20000, unsaid, 60)
        self.after = WaitField(self.tr("Wait since the layer below"), self)
        self.at_c = self._figure(
            self.tr("Temperature of this layer in degrees Celsius"), "°C", -20, 60, self.tr("shop's"), 20
        )
        self.hottest = self._figure(
            self.tr("Highest temperature of the wait in degrees Celsius"), "°C", -20, 90, unsaid, 25
        )
        self.cleaned = self._told(self.tr("The layer below was cleaned"))
        self.abraded = self._told(self.tr("The layer below was sanded"))
        self.cured = self._told(self.tr("The layer below was left to cure"))
        self.weeks = self._figure(
            self.tr("Weeks outdoors with this layer on top"), self.tr("weeks"), 0, 520, self.tr("none"), 1, "week"
        )
        self._trouble = QLabel(self)
        set_look(self._trouble, "caution")
        self._trouble.setWordWrap(True)
        self._trouble.hide()
        self._lay_out()
        for field in (self.film, self.at_c, self.hottest, self.weeks):
            field.figure_changed.connect(self._on_changed)
        self.after.wait_changed.connect(self._on_changed)
        self.after.trouble_came.connect(self._on_trouble)
        for box in (self.cleaned, self.abraded, self.cured):
            box.activated.connect(self._on_changed)
        self.hide()

    def show_layer(self, layer: Layer | None, below: Layer | None) -> None:
        """below None: it is what is found there, of which only the time outdoors can be said."""
        self._layer = layer
        self.setVisible(layer is not None)
        if layer is None:
            return
        name = party_words(layer.party)
        self._head.setText(
            name[:1].upper() + name[1:]
            if below is None
            else self.tr("{upper} onto {lower}").format(upper=name, lower=party_words(below.party))
        )
        self.film.set_value(layer.film_um)
        self.after.set_minutes(layer.after_min)
        self.at_c.set_value(layer.at_c)
        self.hottest.set_value(layer.hottest_c)
        self.weeks.set_value(layer.weeks_outdoors or None)
        for box, told in ((self.cleaned, layer.cleaned), (self.abraded, layer.abraded), (self.cured, layer.cured)):
            box.setCurrentIndex(box.findData(told))
        for label, field in self._pairs:
            there = below is not None or field is self.weeks
            label.setVisible(there)
            field.setVisible(there)
        self._on_trouble("")

    def _figure(
        self, name: str, unit: str, least: float, most: float, empty: str, first: float, counted: str = ""
    ) -> FigureField:
        return FigureField(name, unit, least, most, empty_words=empty, first=first, counted=counted, parent=self)

    def _told(self, name: str) -> QComboBox:
        box = QComboBox(self)
        box.setAccessibleName(name)
        for words, told in ((self.tr("not said"), None), (self.tr("yes"), True), (self.tr("no"), False)):
            box.addItem(words, told)
        at_every_size(box, lambda: box.setMinimumWidth(box.sizeHint().width()))
        return box

    def _lay_out(self) -> None:
        grid = self._grid = QGridLayout(self)
        self._abreast = 0
        grid.setContentsMargins(GRID, GRID, GRID, GRID)
        grid.setHorizontalSpacing(GRID)
        grid.setVerticalSpacing(GRID // 2)
        grid.addWidget(self._head, 0, 0, 1, 4)
        pairs: tuple[tuple[str, QWidget], ...] = (
            (self.tr("Waited"), self.after),
            (self.tr("Cleaned"), self.cleaned),
            (self.tr("At"), self.at_c),
            (self.tr("Sanded"), self.abraded),
            (self.tr("Hottest"), self.hottest),
            (self.tr("Cured"), self.cured),
            (self.tr("Dry film"), self.film),
            (self.tr("Outdoors"), self.weeks),
        )
        self._pairs: list[tuple[QLabel, QWidget]] = []
        for words, field in pairs:
            label = QLabel(words, self)
            label.setBuddy(field)
            label.setToolTip(field.accessibleName())
            field.setMinimumWidth(11 * GRID)
            self._pairs.append((label, field))
        grid.setColumnStretch(1, 1)
        grid.addWidget(self._trouble, len(pairs) + 1, 0, 1, 4)
        self._arrange(abreast=2)

    def _arrange(self, abreast: int) -> None:
        """So many pairs of a label and its field in a row."""
        if abreast == self._abreast:
            return
        self._abreast = abreast
        for at, (label, field) in enumerate(self._pairs):
            row, column = 1 + at // abreast, 2 * (at % abreast)
            self._grid.addWidget(label, row, column, Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter)
            self._grid.addWidget(field, row, column + 1)
        self._grid.setColumnStretch(3, abreast - 1)

    def _on_changed(self) -> None:
        if self._layer is None:
            return
        changed = replace(
            self._layer,
            film_um=self.film.value,
            after_min=self.after.minutes,
            at_c=self.at_c.value,
            hottest_c=self.hottest.value,
            abraded=self.abraded.currentData(),
            cleaned=self.cleaned.currentData(),
            cured=self.cured.currentData(),
            weeks_outdoors=self.weeks.value or 0.0,
        )
        if changed != self._layer:
            self._layer = changed
            self.layer_changed.emit(changed)

    def _on_trouble(self, words: str) -> None:
        self._trouble.setText(words)
        self._trouble.setVisible(bool(words))

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        # Two margins, and three gaps between the four columns.
        needed = self._widest(0) + self._widest(1) + 5 * GRID
        self._arrange(abreast=2 if event.size().width() >= needed else 1)

    def _widest(self, side: int) -> int:
        """Of the pairs that stand on the left (0) or the right (1) where two are abreast, without a gap."""
        pairs = self._pairs[side::2]
        labels = max(label.sizeHint().width() for label, _ in pairs)
        return labels + max(field.minimumWidth() for _, field in pairs)
