"""The fields of one sum, with what stands in them kept from one opening to the next."""

from __future__ import annotations

from collections.abc import Mapping

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QComboBox, QGridLayout, QLabel, QWidget

from app.bench_sums.refusals import lacking_words, not_a_figure_words
from app.bench_sums.words import input_words, option_words, unit_words
from app.figure_line import FigureLine, FiguresLine
from app.sentences import Sentence
from app.settings import Settings
from app.sheet_says import SheetSays
from app.theme.text_size import limit_width
from app.theme.theme import GRID, set_look
from store.planning.product_figures import ProductFigures, Stated
from store.sums.catalogue import units_beside
from store.sums.inputs import Asked, Choice, Given, Several, Sum

_FROM_SHEET: Mapping[str, str] = {
    "volume-solids": "volume_solids",
    "dry-film": "dry",
    "wet-film": "wet",
    "thinner": "thinner",
    "percent": "thinner",
    "margin-asked": "dew_margin",
    "minutes": "pot_life",
}
"""Inputs that a product's sheet may state."""


class SumForm(QWidget):
    """Signals: given_changed() on every change; sentence_opened(Sentence)."""

    given_changed = Signal()
    sentence_opened = Signal(object)

    def __init__(self, one: Sum, settings: Settings, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.sum = one
        self._settings = settings
        self.lines: dict[str, FigureLine] = {}
        self.rows: dict[str, FiguresLine] = {}
        self.choices: dict[str, QComboBox] = {}
        self._says: dict[str, SheetSays] = {}
        grid = QGridLayout(self)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setHorizontalSpacing(GRID)
        grid.setVerticalSpacing(GRID)
        grid.setColumnStretch(2, 1)
        row = 0
        for item in one.inputs:
            label = QLabel(input_words(item.name), self)
            label.setWordWrap(True)
            label.setMinimumWidth(20 * GRID)
            limit_width(label, 26 * GRID)
            grid.addWidget(label, row, 0)
            field = self._field(item)
            label.setBuddy(field)
            if not isinstance(item, Choice):
                grid.addWidget(field, row, 1)
                unit = QLabel(unit_words(item.unit), self)
                set_look(unit, "quiet")
                grid.addWidget(unit, row, 2)
                if item.name in _FROM_SHEET:
                    row += 1
                    says = self._says[item.name] = SheetSays(input_words(item.name), self)
                    says.sentence_opened.connect(self.sentence_opened)
                    grid.addWidget(says, row, 1, 1, 2)
            else:
                grid.addWidget(field, row, 1, 1, 2, Qt.AlignmentFlag.AlignLeft)
            row += 1
        self.take_up()

    def can_use(self) -> bool:
        """Whether a product's sheet may fill anything here."""
        return bool(self._says)

    def first_field(self) -> QWidget:
        return next(iter([*self.rows.values(), *self.lines.values(), *self.choices.values()]))

    def given(self) -> Given:
        figures = {name: line.figure for name, line in self.lines.items()}
        return Given(
            {name: value for name, value in figures.items() if value is not None},
            {name: str(combo.currentData()) for name, combo in self.choices.items()},
            {name: line.figures for name, line in self.rows.items()},
        )

    def what_is_missing(self) -> str:
        """A sentence, empty where everything is there."""
        for row in self.rows.values():
            if row.unreadable:
                return not_a_figure_words(row.unreadable)
        for line in self.lines.values():
            if line.unreadable:
                return not_a_figure_words(line.text().strip())
        lacking = self.sum.lacking(self.given())
        return lacking_words(lacking) if lacking else ""

    def put(self, name: str, text: str) -> None:
        """Type a figure, or choose an option by its name."""
        if name in self.lines:
            self.lines[name].setText(text)
            self._on_typed(name)
        elif name in self.rows:
            self.rows[name].setText(text)
            self._on_row_typed(name)
        else:
            combo = self.choices[name]
            combo.setCurrentIndex(max(combo.findData(text), 0))

    def begin_afresh(self) -> None:
        for asked in self.sum.asked():
            self._settings.set_text(self._key(asked.name), "" if asked.first is None else f"{asked.first:g}")
        for choice in self.sum.choices():
            self._settings.set_text(self._key(choice.name), choice.beginning)
        for several in self.sum.rows():
            self._settings.set_text(self._key(several.name), "")
        self.take_up()
        self.given_changed.emit()

    def take_up(self) -> None:
        """What was typed last, here or before the program was closed."""
        for choice in self.sum.choices():
            combo = self.choices[choice.name]
            combo.setCurrentIndex(max(combo.findData(self._settings.text(self._key(choice.name), choice.beginning)), 0))
        for asked in self.sum.asked():
            first = "" if asked.first is None else f"{asked.first:g}"
            self.lines[asked.name].setText(self._settings.text(self._key(asked.name), first))
        for several in self.sum.rows():
            self.rows[several.name].setText(self._settings.text(self._key(several.name), ""))
        for says in self._says.values():
            says.say("")

    def use(self, figures: ProductFigures | None) -> None:
        """Fill in what the product's confirmed sentences say; with None only forget whose they were."""
        for name, says in self._says.items():
            if figures is None:
                says.say("")
                continue
            stated = figures.first(_FROM_SHEET[name])
            if stated is None:
                says.say(self._silence(figures, _FROM_SHEET[name]))
            else:
                self._take(name, stated, says)
        self.given_changed.emit()

    def _take(self, name: str, stated: Stated, says: SheetSays) -> None:
        self.lines[name].set_figure(stated.careful)
        self._remember(name)
        if name == "minutes" and stated.claim.at_c is not None:
            self.lines["stated-at"].set_figure(stated.claim.at_c)
            self._remember("stated-at")
        says.say(self.tr("By the sheet:"), Sentence.of_source(stated.rule))

    def _silence(self, figures: ProductFigures, name: str) -> str:
        if figures.waiting.get(name):
            return self.tr("The sheet has words on this that nobody has confirmed yet.")
        return self.tr("The sheet does not say; the figure is yours.")

    def _field(self, item: Asked | Several | Choice) -> QWidget:
        if isinstance(item, Asked):
            return self._line(item)
        return self._row(item) if isinstance(item, Several) else self._combo(item)

    def _row(self, several: Several) -> FiguresLine:
        name = f"{input_words(several.name)} ({unit_words(several.unit)})"
        line = FiguresLine(name, several.unit, self.tr("98 104 112 …"), self)
        line.figures_typed.connect(lambda: self._on_row_typed(several.name))
        self.rows[several.name] = line
        return line

    def _on_row_typed(self, name: str) -> None:
        self._settings.set_text(self._key(name), self.rows[name].text())
        self.given_changed.emit()

    def _line(self, asked: Asked) -> FigureLine:
        unit = unit_words(asked.unit)
        name = f"{input_words(asked.name)} ({unit})" if unit else input_words(asked.name)
        line = FigureLine(name, asked.unit, empty_words="" if asked.needed else self.tr("if known"), parent=self)
        line.figure_typed.connect(lambda: self._on_typed(asked.name))
        self.lines[asked.name] = line
        return line

    def _combo(self, choice: Choice) -> QComboBox:
        combo = QComboBox(self)
        combo.setAccessibleName(input_words(choice.name))
        for option in choice.options:
            combo.addItem(option_words(option), option)
        combo.currentIndexChanged.connect(lambda _: self._on_chosen(choice.name))
        self.choices[choice.name] = combo
        return combo

    def _on_typed(self, name: str) -> None:
        self._remember(name)
        says = self._says.get(name)
        if says is not None and says.sentence is not None:
            says.say(self.tr("Your figure. The sheet says:"), says.sentence)
        self.given_changed.emit()

    def _on_chosen(self, name: str) -> None:
        self._settings.set_text(self._key(name), str(self.choices[name].currentData()))
        if self.sum.name == "units" and name == "from":
            self._offer_units_beside()
        self.given_changed.emit()

    def _offer_units_beside(self) -> None:
        """Only what the first unit can be turned into."""
        to = self.choices["to"]
        kept, beside = str(to.currentData()), units_beside(str(self.choices["from"].currentData()))
        to.blockSignals(True)
        to.clear()
        for unit in beside:
            to.addItem(option_words(unit), unit)
        to.setCurrentIndex(max(to.findData(kept), 0))
        to.blockSignals(False)

    def _remember(self, name: str) -> None:
        self._settings.set_text(self._key(name), self.lines[name].text())

    def _key(self, name: str) -> str:
        return f"sums/{self.sum.name}/{name}"
