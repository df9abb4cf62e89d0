"""A figure that a sheet may state: the field, a choice where the sheet states several, and the sentence below."""

from __future__ import annotations

from PySide6.QtCore import QObject, Signal
from PySide6.QtWidgets import QComboBox, QGridLayout, QHBoxLayout, QLabel, QLineEdit, QSizePolicy, QWidget

from app.mixing.words import ratio_words, stated_words
from app.sentences import Sentence
from app.sheet_says import SheetSays
from app.theme.theme import GRID, set_look
from store.planning.product_figures import ProductFigures, Stated


class StatedRow(QObject):
    """Two rows of a grid. `name` is the property that the sheet states.

    Signals: changed() when another figure or another variant stands; sentence_opened(Sentence); confirming_asked().
    """

    changed = Signal()
    sentence_opened = Signal(object)
    confirming_asked = Signal()

    def __init__(
        self, name: str, words: str, line: QLineEdit, parent: QWidget, *, unit: str = "", beside: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self.name = name
        self.line = line
        self.label = QLabel(words, parent)
        self.label.setWordWrap(True)
        self.label.setBuddy(line)
        self.says = SheetSays(words, parent)
        self.says.sentence_opened.connect(self.sentence_opened)
        self.says.confirming_asked.connect(self.confirming_asked)
        self.variants = QComboBox(parent)
        self.variants.setAccessibleName(self.tr("{what}: which of the sheet's figures").format(what=words))
        self.variants.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        self.variants.setMinimumContentsLength(18)
        self.variants.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.variants.hide()
        self.variants.activated.connect(self._on_variant_chosen)
        self.beside = beside
        self.unit = QLabel(unit, parent)
        set_look(self.unit, "quiet")
        self._stated: tuple[Stated, ...] = ()
        self._chosen: Stated | None = None
        self._product = False
        self._waiting = 0

    def put_into(self, grid: QGridLayout, row: int) -> int:
        """Lay it out from a row on; the next free row."""
        grid.addWidget(self.label, row, 0)
        grid.addWidget(self.line, row, 1)
        behind = QHBoxLayout()
        behind.setSpacing(GRID)
        behind.addWidget(self.unit)
        if self.beside is not None:
            behind.addWidget(self.beside)
        behind.addStretch(1)
        self.unit.setVisible(bool(self.unit.text()))
        grid.addLayout(behind, row, 2)
        grid.addWidget(self.variants, row + 1, 1, 1, 2)
        grid.addWidget(self.says, row + 2, 1, 1, 2)
        return row + 3

    @property
    def chosen(self) -> Stated | None:
        """The sheet's figure that stands in the field; None where the figure is the user's own or there is none."""
        return self._chosen if self._chosen is not None and self.line.text() == _text(self._chosen) else None

    def take(self, figures: ProductFigures | None, *, keep_own: bool = False) -> None:
        """What a product's sheets say; the field is filled where they do, and emptied where they do not.

        Without a product what a sheet said goes, and what the user typed stays.

        keep_own: the same product again, whose sheets changed; what the user typed stays.
        """
        own = keep_own and self.chosen is None and bool(self.line.text().strip())
        if figures is None and self.chosen is not None:
            self.line.clear()
        self._stated = figures.stated.get(self.name, ()) if figures is not None else ()
        self._waiting = figures.waiting.get(self.name, 0) if figures is not None else 0
        self._product = figures is not None
        self.variants.clear()
        for stated in self._stated:
            self.variants.addItem(stated_words(stated))
        self.variants.setVisible(len(self._stated) > 1)
        self._chosen = self._stated[0] if self._stated else None
        if figures is not None and not own:
            self.line.setText(_text(self._chosen) if self._chosen is not None else "")
            self.line.setCursorPosition(0)
        self._say()

    def on_typed(self) -> None:
        """The user typed in the field."""
        self._say()
        self.changed.emit()

    def put_own(self, text: str) -> None:
        """A figure of the user's own, kept from before; says nothing to anybody but what it is."""
        self.line.setText(text)
        self.line.setCursorPosition(0)
        self._say()

    def show_row(self, shown: bool) -> None:
        for widget in (self.label, self.line):
            widget.setVisible(shown)
        self.unit.setVisible(shown and bool(self.unit.text()))
        if self.beside is not None:
            self.beside.setVisible(shown)
        self.variants.setVisible(shown and len(self._stated) > 1)
        self.says.setVisible(shown and bool(self.says.words))

    def _on_variant_chosen(self, at: int) -> None:
        self._chosen = self._stated[at]
        self.line.setText(_text(self._chosen))
        self.line.setCursorPosition(0)
        self._say()
        self.changed.emit()

    def _say(self) -> None:
        if not self._product:
            self.says.say("")
        elif self._chosen is not None and self.chosen is not None:
            self.says.say(self.tr("By the sheet:"), Sentence.of_source(self._chosen.rule))
        elif self._chosen is not None:
            self.says.say(self.tr("Your figure. The sheet says:"), Sentence.of_source(self._chosen.rule))
        elif self._waiting:
            self.says.say(self.tr("The sheet has words on this that nobody has confirmed yet."), waits=True)
        elif self.line.text().strip():
            self.says.say(self.tr("Your figure: the sheet does not say."))
        else:
            self.says.say(self.tr("The sheet does not say. Type your own figure."))


def _text(stated: Stated) -> str:
    if stated.claim.parts:
        return ratio_words(stated.claim.parts)
    value = stated.careful
    return "" if value is None else f"{value:g}"
