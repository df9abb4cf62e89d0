"""What goes into the cup: the ready volume large, each component below it, cost and how it was reckoned."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QFrame, QGridLayout, QLabel, QVBoxLayout, QWidget

from app.figure_words import joined
from app.mixing.form import PARTS
from app.mixing.words import amount_words, cost_words, part_words, ratio_words
from app.theme.theme import GRID, set_look
from app.typed_figures import figure_text
from store.planning.measuring import Measure, on_marks
from store.planning.mix_job import Mixed, MixJob
from store.sums.mixing import Part


class MixCard(QFrame):
    """Shows a mix, or one sentence of why there is none."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        set_look(self, "card")
        self._large = QLabel(self)
        set_look(self._large, "large")
        self._name = QLabel(self)
        set_look(self._name, "lead")
        self._refusal = QLabel(self)
        set_look(self._refusal, "lead")
        self._cost = QLabel(self)
        set_look(self._cost, "topic")
        self._steps = QLabel(self)
        set_look(self._steps, "quiet")
        for label in (self._name, self._refusal, self._cost, self._steps):
            label.setWordWrap(True)
        self._table = QGridLayout()
        self._table.setHorizontalSpacing(3 * GRID)
        self._table.setVerticalSpacing(GRID)
        self._table.setColumnStretch(3, 1)
        column = QVBoxLayout(self)
        column.setContentsMargins(2 * GRID, 2 * GRID, 2 * GRID, 2 * GRID)
        column.setSpacing(GRID)
        column.addWidget(self._large)
        column.addWidget(self._name)
        column.addLayout(self._table)
        column.addWidget(self._cost)
        column.addWidget(self._steps)
        column.addWidget(self._refusal)
        self._lines: list[str] = []
        self.refuse("")

    @property
    def large(self) -> str:
        return self._large.text()

    @property
    def refusal(self) -> str:
        return self._refusal.text()

    @property
    def lines(self) -> tuple[str, ...]:
        """All of it as lines to be pasted elsewhere; empty without a mix."""
        return tuple(self._lines)

    def show_mix(self, product: str, job: MixJob, found: Mixed) -> None:
        """product may be ''."""
        self._clear()
        self._refusal.clear()
        self._large.setText(amount_words(found.made.ready_ml, "ml", 1))
        named = self.tr("{product}, ready to spray").format(product=product) if product else self.tr("ready to spray")
        self._name.setText(named)
        self._lines = [f"{self._name.text()}: {self._large.text()}"]
        for row, part in enumerate(found.made.parts):
            self._add_part(row, part, job.measure)
        cost = found.made.cost
        self._cost.setText("" if cost is None else self.tr("costs {cost}").format(cost=cost_words(cost)))
        self._cost.setVisible(cost is not None)
        steps = self._steps_of(job, found)
        self._steps.setText("\n".join(steps))
        self._lines += [line for line in (self._cost.text(), *steps) if line]
        for label, shown in (
            (self._large, True), (self._name, True), (self._steps, True), (self._refusal, False)
        ):  # fmt: skip
            label.setVisible(shown)
        self.setAccessibleName("; ".join(self._lines))

    def refuse(self, words: str) -> None:
        """Show why there is no mix."""
        self._clear()
        self._lines = []
        self._large.clear()
        for label in (self._large, self._name, self._cost, self._steps):
            label.hide()
        self._refusal.setText(words)
        self._refusal.setVisible(bool(words))
        self.setAccessibleName(words or self.tr("What to mix"))

    def _add_part(self, row: int, part: Part, measure: Measure) -> None:
        cup = measure is Measure.CUP
        weight_mark = measure.mark if not cup else 1.0
        volume = amount_words(part.ml, "ml", 1.0)
        weight = amount_words(None if part.g is None else on_marks(part.g, weight_mark), "g", weight_mark)
        first, other = (volume, weight) if cup or part.g is None else (weight, volume)
        cells = (part_words(part.name), first, other)
        for column, text in enumerate(cells):
            label = QLabel(text, self)
            set_look(label, "topic" if column == 1 else "lead" if column == 0 else "quiet")
            if column:
                label.setAlignment(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
            self._table.addWidget(label, row, column)
        self._lines.append(f"{cells[0]}: {cells[1]}" + (f" ({cells[2]})" if cells[2] != "–" else ""))

    def _steps_of(self, job: MixJob, found: Mixed) -> list[str]:
        steps = [
            self.tr("{area} m² × {coats} coats of {dry} µm dry ÷ {solids} % solids, {loss} % lost on the way").format(
                area=figure_text(job.area), coats=figure_text(job.coats), dry=figure_text(job.dry),
                solids=figure_text(job.solids), loss=figure_text(job.loss),
            ),
            self.tr("The job needs {wanted} ml; rounded up to what can be measured.").format(
                wanted=f"{found.wanted_ml:.0f}"
            ),
        ]  # fmt: skip
        if job.parts:
            by = self.tr("by volume") if job.basis == "volume" else self.tr("by weight")
            steps.append(self.tr("Ratio {ratio} {by}.").format(ratio=ratio_words(job.parts), by=by))
        if found.thinner_of_paint:
            steps.append(
                self.tr("Thinner: {percent} % of paint and hardener together.").format(
                    percent=figure_text(found.thinner_of_paint, 3)
                )
            )
        unpriced = [part.name for part in found.made.parts if _price(job, part.name) is None]
        if 0 < len(unpriced) < len(found.made.parts):
            steps.append(
                self.tr("What it costs comes once these have a price too: {parts}.").format(
                    parts=joined([part_words(name) for name in unpriced])
                )
            )
        if any(part.g is None for part in found.made.parts):
            steps.append(self.tr("Weights come where the density is typed; it stands on the tin or the safety sheet."))
        return steps

    def _clear(self) -> None:
        while self._table.count():
            item = self._table.takeAt(0)
            widget = item.widget() if item is not None else None
            if widget is not None:
                widget.hide()
                widget.deleteLater()


def _price(job: MixJob, name: str) -> float | None:
    """Of a litre of the part called so; 'paint' is the only one of a product that needs no hardener."""
    if name == "thinner":
        return job.thinner_price
    at = max(PARTS.index(name), 0) if name in PARTS else 0
    return job.prices[at]
