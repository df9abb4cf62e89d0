"""The build-up as it lies, the metal at the bottom: layers named, ordered, described, taken out."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QLabel, QVBoxLayout, QWidget

from app.build_up.layer_details import LayerDetails
from app.build_up.ordered_list import OrderDeeds, OrderedList, Row
from app.buildup_words import layer_words
from app.naming.book import NameBook
from app.naming.field import NameField
from app.theme.theme import GRID, Theme, set_look
from app.verdict_words import party_words, verdict_words
from extract.kinds import sort_of
from store.planning.buildup import Layer
from store.records import ProductRecord
from store.rules.names import KindName
from store.rules.reach import party_of


class LayersEditor(QWidget):
    """Signals: layers_changed() by whatever a hand does."""

    layers_changed = Signal()

    def __init__(self, book: NameBook, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._layers: list[Layer] = []
        self._words: tuple[str, ...] = ()
        self.field = NameField(book, self.tr("Next layer up"), parent=self)
        self.list = OrderedList(theme, self.tr("Layers, the uppermost first"), self)
        self.list.setMinimumHeight(14 * GRID)
        self.deeds = OrderDeeds(
            self.list,
            self.tr("Move the layer up: nearer the weather"),
            self.tr("Move the layer down: nearer the metal"),
            self,
        )
        self.details = LayerDetails(self)
        self._says = QLabel(self)
        set_look(self._says, "quiet")
        self._says.setWordWrap(True)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(GRID)
        column.addWidget(self.field)
        column.addWidget(self.list, 1)
        column.addWidget(self._says)
        column.addWidget(self.deeds)
        column.addWidget(self.details)
        self.field.meaning_changed.connect(self._on_named)
        self.list.move_wanted.connect(lambda row, to: self._move(self._index(row), self._index(to)))
        self.list.taking_out_wanted.connect(lambda row: self._take_out(self._index(row)))
        self.list.currentRowChanged.connect(lambda _: self._show_details())
        self.details.layer_changed.connect(self._on_layer_changed)
        self._show()

    @property
    def layers(self) -> tuple[Layer, ...]:
        """From the metal up."""
        return tuple(self._layers)

    def set_layers(self, layers: Sequence[Layer]) -> None:
        """Show these; says nothing to anybody."""
        self._layers = list(layers)
        self._words = ()
        self.field.set_meaning(None)
        self._show(chosen=0)

    def show_words(self, words: Sequence[str]) -> None:
        """The verdict of each layer on the one below, from the second layer up."""
        self._words = tuple(words)
        self._show()

    def choose(self, index: int) -> None:
        """Choose the layer of this number from the metal up."""
        self.list.setCurrentRow(self._index(index))

    # --- inside

    def _index(self, row: int) -> int:
        """From the row in the list to the layer, and back."""
        return len(self._layers) - 1 - row

    def _on_named(self, meaning: object) -> None:
        if not isinstance(meaning, ProductRecord | KindName):
            return
        layer = Layer(party_of(meaning))
        # What is found there lies beneath everything, whenever it is named.
        ground = isinstance(meaning, KindName) and sort_of(meaning.kind) == "found"
        at = 0 if ground else len(self._layers)
        if ground and self._layers and self._is_ground(self._layers[0]):
            self._layers[0] = replace(self._layers[0], party=layer.party)
        else:
            self._layers.insert(at, layer)
        self.field.set_meaning(None)
        self._changed(self._index(at))
        self.field.line.setFocus()

    @staticmethod
    def _is_ground(layer: Layer) -> bool:
        kind = layer.party.kind
        return kind is not None and sort_of(kind) == "found"

    def _move(self, index: int, to: int) -> None:
        self._layers.insert(to, self._layers.pop(index))
        self._changed(self._index(to))

    def _take_out(self, index: int) -> None:
        if 0 <= index < len(self._layers):
            del self._layers[index]
            self._changed(max(self._index(index), 0))

    def _on_layer_changed(self, layer: Layer) -> None:
        row = self.list.currentRow()
        if row >= 0:
            self._layers[self._index(row)] = layer
            self._changed(row)

    def _changed(self, chosen: int) -> None:
        self._words = ()
        self._show(chosen)
        self.layers_changed.emit()

    def _show(self, chosen: int | None = None) -> None:
        hint = self.tr("what is found there: bare steel, old paint …") if not self._layers else ""
        self.field.line.setPlaceholderText(hint or self.tr("next layer up: a product or a kind"))
        self.list.show_rows([self._row(index) for index in range(len(self._layers) - 1, -1, -1)], chosen)
        self._says.setText(
            self.tr("The uppermost layer stands on top, the metal at the bottom.") if self._layers else ""
        )
        self._says.setVisible(bool(self._layers))
        self.deeds.setVisible(bool(self._layers))
        self.deeds.look()
        self._show_details()

    def _row(self, index: int) -> Row:
        layer = self._layers[index]
        name = party_words(layer.party)
        facts = layer_words(layer)[len(name) :].removeprefix(", ")
        words = f"{index}  {name}" if index else name[:1].upper() + name[1:]
        shape = self._words[index - 1] if 0 < index <= len(self._words) else ""
        said = verdict_words(shape) if shape else ""
        return Row(f"{words}\n{facts}" if facts else words, shape, said)

    def _show_details(self) -> None:
        row = self.list.currentRow()
        index = self._index(row)
        there = 0 <= row < len(self._layers)
        self.details.show_layer(
            self._layers[index] if there else None, self._layers[index - 1] if there and index > 0 else None
        )
