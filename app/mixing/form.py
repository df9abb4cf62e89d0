"""What is asked for a mix: area and coats, what the sheet says of the product, and how it is measured."""

from __future__ import annotations

from collections.abc import Mapping

from PySide6.QtCore import Signal
from PySide6.QtWidgets import (
    QComboBox,
    QGridLayout,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QSizePolicy,
    QVBoxLayout,
    QWidget,
)

from app.bench_sums.refusals import not_a_figure_words
from app.figure_line import FigureLine
from app.mixing.stated_row import StatedRow
from app.mixing.words import loss_source_words, loss_words, measure_words, panel_words, panels_note, part_words
from app.settings import Settings
from app.theme.text_size import at_every_size, limit_width, scaled
from app.theme.theme import GRID, set_look
from app.typed_figures import NotAFigure, read_ratio
from store.planning.buying import USUAL_PANELS
from store.planning.measuring import Measure
from store.planning.mix_job import MixJob, with_film_of_all_coats
from store.planning.product_figures import ProductFigures
from store.sums.coverage import LOSSES

PARTS = ("base", "hardener", "third component", "thinner")
_OPTIONS_WIDTH = 40 * GRID
_LINE_WIDTH, _PART_WIDTH = 11 * GRID, 9 * GRID
_LEAST_CHOICE = 13 * GRID
_SAME = ("area", "loss", "measure")
"""Kept from one product to the next."""


class MixForm(QWidget):
    """Signals: job_changed(); sentence_opened(Sentence); confirming_asked()."""

    job_changed = Signal()
    sentence_opened = Signal(object)
    confirming_asked = Signal()

    def __init__(self, settings: Settings, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._settings = settings
        self._owner = ""
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(0, 0, 0, 0)
        self._grid.setHorizontalSpacing(GRID)
        self._grid.setVerticalSpacing(GRID)
        self._grid.setColumnStretch(2, 1)
        self._parts: dict[str, QWidget] = {}
        self._make_lines()
        self._make_choices()
        self._rows = self._make_rows()
        self._lay_out()
        self._connect()
        self._take_up_own()
        self._on_changed()

    # --- what stands there

    def figure(self, name: str) -> float | None:
        return self.lines[name].figure

    @property
    def ratio(self) -> tuple[float, ...]:
        """() where none is typed, or what is typed is none."""
        try:
            return read_ratio(self.ratio_line.text())
        except NotAFigure:
            return ()

    def what_is_missing(self) -> str:
        """A sentence, empty where a mix can be worked out."""
        for line in self.lines.values():
            if line.unreadable and line.isVisibleTo(self):
                return not_a_figure_words(line.text().strip())
        if self.ratio_line.text().strip() and not self.ratio:
            return self.tr("“{typed}” is not a ratio. Type one like 4:1 or 4:1:0.5.").format(
                typed=self.ratio_line.text().strip()
            )
        names = {
            "area": self.tr("the area"), "coats": self.tr("the number of coats"),
            "dry": self.tr("the dry film"), "volume_solids": self.tr("the volume solids"),
        }  # fmt: skip
        lacking = [words for name, words in names.items() if self.figure(name) is None]
        return self.tr("Still to type: {what}.").format(what=", ".join(lacking)) if lacking else ""

    def job(self) -> MixJob:
        """Only where nothing is missing."""
        density = tuple(self.figure(f"density/{name}") for name in PARTS)
        price = tuple(self.figure(f"price/{name}") for name in PARTS)
        job = MixJob(
            area=self.figure("area") or 0.0,
            coats=self.figure("coats") or 0.0,
            dry=self.figure("dry") or 0.0,
            solids=self.figure("volume_solids") or 0.0,
            loss=self.figure("loss") or 0.0,
            parts=self.ratio,
            basis=str(self.basis.currentData()),
            thinner=self.figure("thinner") or 0.0,
            thinner_of_mix=self.thinner_of.currentData() == "mix",
            third_is_thinner=self.third.currentData() == "thinner",
            densities=density[:3],
            thinner_density=density[3],
            prices=price[:3],
            thinner_price=price[3],
            measure=Measure(self.measure.currentData()),
        )
        return with_film_of_all_coats(job) if self.film_of.currentData() == "all" else job

    # --- what comes in

    def take(self, figures: ProductFigures | None, prices: Mapping[str, float]) -> None:
        """A product's own figures, and the prices of its tins by component; densities typed for it before."""
        before = self._owner
        self._owner = f"{figures.product.maker}|{figures.product.name}" if figures is not None else ""
        for name, row in self._rows.items():
            row.take(figures, keep_own=self._owner == before)
            own = self._settings.text(self._key(f"own {name}")) if self._owner else ""
            if own:
                row.put_own(own)
        ratio = self._rows["ratio"].chosen
        if ratio is not None and ratio.claim.basis:
            self.basis.setCurrentIndex(max(self.basis.findData(ratio.claim.basis), 0))
        for name in PARTS:
            for what in ("density", "price"):
                key = f"{what}/{name}"
                kept = self._settings.text(self._key(key))
                from_tin = prices.get(name) if what == "price" else None
                if from_tin is not None and not kept:
                    self.lines[key].set_figure(from_tin)
                else:
                    self.lines[key].setText(kept)
        self._on_changed()

    # --- inside

    def _make_lines(self) -> None:
        self.lines: dict[str, FigureLine] = {}
        for name, words, unit in (
            ("area", self.tr("Area"), "m²"),
            ("coats", self.tr("Coats"), "coats"),
            ("dry", self.tr("Dry film"), "µm"),
            ("volume_solids", self.tr("Volume solids, hardener in it"), "%"),
            ("loss", self.tr("Lost on the way"), "%"),
            ("thinner", self.tr("Thinner"), "% of the paint"),
            ("pot_life", self.tr("Pot life"), "min"),
        ):
            self.lines[name] = FigureLine(words, unit, parent=self)
        for name in PARTS:
            density = self.tr("Density: {part}").format(part=part_words(name))
            price = self.tr("Price of a litre: {part}").format(part=part_words(name))
            self.lines[f"density/{name}"] = FigureLine(density, "kg/l", parent=self)
            self.lines[f"price/{name}"] = FigureLine(price, "", parent=self)
        for name, line in self.lines.items():
            line.setMinimumWidth(_LINE_WIDTH if "/" not in name else _PART_WIDTH)
            if "/" not in name:
                limit_width(line, _LINE_WIDTH)
        self.ratio_line = QLineEdit(self)
        self.ratio_line.setMinimumWidth(_LINE_WIDTH)
        limit_width(self.ratio_line, _LINE_WIDTH)
        self.ratio_line.setAccessibleName(self.tr("Mixing ratio"))
        self.ratio_line.setPlaceholderText(self.tr("e.g. 4:1"))
        self.ratio_line.setToolTip(self.tr("Empty: one component, nothing to mix in"))

    def _make_choices(self) -> None:
        self.panels = self._combo(self.tr("Add a usual panel"), [(self.tr("Add a usual panel …"), None)])
        for at, panel in enumerate(USUAL_PANELS):
            self.panels.addItem(panel_words(panel), at)
        _may_shrink(self.panels)
        self.film_of = self._combo(
            self.tr("The dry film is that"),
            [(self.tr("of each coat"), "each"), (self.tr("of all coats together"), "all")],
        )
        _may_shrink(self.film_of)
        self.losses = self._combo(self.tr("Usual losses"), [(self.tr("Usual losses …"), None)])
        for at, loss in enumerate(LOSSES):
            self.losses.addItem(loss_words(loss), at)
        _may_shrink(self.losses)
        self.basis = self._combo(
            self.tr("The ratio goes by"), [(self.tr("by volume"), "volume"), (self.tr("by weight"), "weight")]
        )
        self.third = self._combo(
            self.tr("The third part of the ratio"),
            [(self.tr("thinner"), "thinner"), (self.tr("another component"), "component")],
        )
        self.thinner_of = self._combo(
            self.tr("The thinner is percent of"),
            [(self.tr("% of the paint"), "paint"), (self.tr("% of the mix"), "mix")],
        )
        _may_shrink(self.thinner_of)
        self.measure = self._combo(
            self.tr("Measured with"), [(measure_words(measure), measure.value) for measure in Measure]
        )
        _may_shrink(self.measure)

    def _make_rows(self) -> dict[str, StatedRow]:
        lines = self.lines
        return {
            "coats": StatedRow("coats", self.tr("Coats"), lines["coats"], self),
            "dry": StatedRow("dry", self.tr("Dry film"), lines["dry"], self, unit="µm", beside=self.film_of),
            "volume_solids": StatedRow(
                "volume_solids", self.tr("Volume solids, hardener in it"), lines["volume_solids"], self, unit="%"
            ),
            "ratio": StatedRow("ratio", self.tr("Mixing ratio"), self.ratio_line, self, beside=self.basis),
            "thinner": StatedRow("thinner", self.tr("Thinner"), lines["thinner"], self, beside=self.thinner_of),
            "pot_life": StatedRow("pot_life", self.tr("Pot life"), lines["pot_life"], self, unit="min"),
        }

    def _lay_out(self) -> None:
        row = self._plain(0, self.tr("Area"), self.lines["area"], "m²", self.panels)
        self._panels_said = self._note(row)
        row += 1
        for name in ("coats", "dry", "volume_solids"):
            row = self._rows[name].put_into(self._grid, row)
        row = self._plain(row, self.tr("Lost on the way"), self.lines["loss"], "%", self.losses)
        self._loss_said = self._note(row)
        row = self._rows["ratio"].put_into(self._grid, row + 1)
        self._third_label = QLabel(self.tr("The third part is"), self)
        self._third_label.setBuddy(self.third)
        self._grid.addWidget(self._third_label, row, 0)
        self._grid.addWidget(self.third, row, 1, 1, 2)
        row = self._rows["thinner"].put_into(self._grid, row + 1)
        row = self._rows["pot_life"].put_into(self._grid, row)
        row = self._four(row, self.tr("Densities, kg/l"), "density")
        row = self._four(row, self.tr("Price of a litre"), "price")
        label = QLabel(self.tr("Measured with"), self)
        label.setBuddy(self.measure)
        self._grid.addWidget(label, row, 0)
        self._grid.addWidget(self.measure, row, 1, 1, 2)
        self._grid.setRowStretch(row + 1, 1)

    def _connect(self) -> None:
        for name, line in self.lines.items():
            if name in self._rows:
                line.figure_typed.connect(self._rows[name].on_typed)
            else:
                line.figure_typed.connect(lambda name=name: self._on_typed(name))
        self.ratio_line.textEdited.connect(lambda _: self._rows["ratio"].on_typed())
        for name, row in self._rows.items():
            row.changed.connect(lambda name=name: self._on_typed(name))
            row.sentence_opened.connect(self.sentence_opened)
            row.confirming_asked.connect(self.confirming_asked)
        for combo in (self.film_of, self.basis, self.third, self.thinner_of, self.measure):
            combo.currentIndexChanged.connect(lambda _: self._on_typed("measure"))
        self.panels.activated.connect(self._on_panel_chosen)
        self.losses.activated.connect(self._on_loss_chosen)

    def _take_up_own(self) -> None:
        self.lines["area"].setText(self._settings.text("mixing/area"))
        self.lines["loss"].setText(self._settings.text("mixing/loss", "40"))
        self.measure.setCurrentIndex(max(self.measure.findData(self._settings.text("mixing/measure", "cup")), 0))

    def _on_typed(self, name: str) -> None:
        for kept in _SAME:
            text = str(self.measure.currentData()) if kept == "measure" else self.lines[kept].text()
            self._settings.set_text(f"mixing/{kept}", text)
        if name in self.lines and "/" in name and self._owner:
            self._settings.set_text(self._key(name), self.lines[name].text())
        if name in self._rows and self._owner:
            row = self._rows[name]
            self._settings.set_text(self._key(f"own {name}"), "" if row.chosen is not None else row.line.text())
        if name == "ratio":
            chosen = self._rows["ratio"].chosen
            if chosen is not None and chosen.claim.basis:
                self.basis.setCurrentIndex(max(self.basis.findData(chosen.claim.basis), 0))
        if name == "area":
            self._panels_said.hide()
        if name == "loss":
            self._loss_said.hide()
        self._on_changed()

    def _on_changed(self) -> None:
        parts = len(self.ratio)
        three = parts == 3
        third_is_thinner = three and self.third.currentData() == "thinner"
        self._third_label.setVisible(three)
        self.third.setVisible(three)
        self._rows["thinner"].show_row(not third_is_thinner)
        thinned = third_is_thinner or bool(self.figure("thinner"))
        for what in ("density", "price"):
            self._parts[f"{what}/hardener"].setVisible(parts > 1)
            self._parts[f"{what}/third component"].setVisible(three and not third_is_thinner)
            self._parts[f"{what}/thinner"].setVisible(thinned)
        self.job_changed.emit()

    def _on_panel_chosen(self, at: int) -> None:
        which = self.panels.itemData(at)
        self.panels.setCurrentIndex(0)
        if which is None:
            return
        panel = USUAL_PANELS[which]
        before = self._panels_said.text().split("\n")[0] if not self._panels_said.isHidden() else ""
        self.lines["area"].set_figure(round((self.figure("area") or 0.0) + panel.area, 3))
        self._on_typed("area")
        listed = f"{before} + {panel_words(panel)}" if before else panel_words(panel)
        self._panels_said.setText(f"{listed}\n{panels_note()}")
        self._panels_said.show()

    def _on_loss_chosen(self, at: int) -> None:
        which = self.losses.itemData(at)
        self.losses.setCurrentIndex(0)
        if which is None:
            return
        loss = LOSSES[which]
        # The high end: too little paint is found out with the gun in the hand.
        self.lines["loss"].set_figure(loss.high)
        self._on_typed("loss")
        self._loss_said.setText(f"{loss_words(loss)}: {loss_source_words(loss)}")
        self._loss_said.show()

    def _combo(self, name: str, options: list[tuple[str, object]]) -> QComboBox:
        combo = QComboBox(self)
        combo.setAccessibleName(name)
        combo.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToContents)
        for words, data in options:
            combo.addItem(words, data)
        return combo

    def _plain(self, row: int, words: str, line: FigureLine, unit: str, beside: QWidget) -> int:
        label = QLabel(words, self)
        label.setBuddy(line)
        label.setWordWrap(True)
        unit_label = QLabel(unit, self)
        set_look(unit_label, "quiet")
        behind = QHBoxLayout()
        behind.setSpacing(GRID)
        behind.addWidget(unit_label)
        behind.addWidget(beside, 1)
        self._grid.addWidget(label, row, 0)
        self._grid.addWidget(line, row, 1)
        self._grid.addLayout(behind, row, 2)
        return row + 1

    def _note(self, row: int) -> QLabel:
        note = QLabel(self)
        note.setWordWrap(True)
        set_look(note, "quiet")
        note.hide()
        self._grid.addWidget(note, row, 1, 1, 2)
        return note

    def _four(self, row: int, words: str, what: str) -> int:
        label = QLabel(words, self)
        label.setWordWrap(True)
        label.setBuddy(self.lines[f"{what}/{PARTS[0]}"])
        four = QHBoxLayout()
        four.setSpacing(GRID)
        for name in PARTS:
            part = self._parts[f"{what}/{name}"] = QWidget(self)
            pair = QVBoxLayout(part)
            pair.setContentsMargins(0, 0, 0, 0)
            pair.setSpacing(0)
            line = self.lines[f"{what}/{name}"]
            called = QLabel(part_words(name), part)
            called.setBuddy(line)
            set_look(called, "quiet")
            pair.addWidget(called)
            pair.addWidget(line)
            four.addWidget(part, 1)
        self._grid.addWidget(label, row, 0)
        self._grid.addLayout(four, row, 1, 1, 2)
        return row + 1

    def _key(self, name: str) -> str:
        # Slashes in a maker's name would make groups of the settings' file.
        return f"mixing/{self._owner.replace('/', ' ')}/{name}"


def _may_shrink(combo: QComboBox) -> None:
    """Long options are shown whole in the list that opens; the closed box need not be as wide."""
    combo.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
    combo.setMinimumContentsLength(15)
    at_every_size(combo, lambda: combo.setMinimumWidth(scaled(_LEAST_CHOICE)))
    combo.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
    combo.view().setMinimumWidth(_OPTIONS_WIDTH)
