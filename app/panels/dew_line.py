"""How far the panel stands above the dew point, while the figures are being typed."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QHBoxLayout, QLabel, QWidget

from app.bench_sums.refusals import refusal_words
from app.figure_words import number_words
from app.theme.theme import GRID, Theme
from app.theme.verdict_shape import VerdictShape
from app.typed_figures import NotAFigure, read_quantity
from extract.claims import Topic
from store.records import Rule
from store.sums.dew_point import margin
from store.sums.result import OutOfRange

USUAL_K = 3.0
"""Asked where the sheet names no margin: the usual figure of the published guides that dew_point.py goes by."""


class DewLine(QWidget):
    """Says the margin with a shape; what is missing is said too."""

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._shape = VerdictShape(theme, "silent", "", parent=self)
        self._label = QLabel(self)
        self._label.setWordWrap(True)
        self.words = ""
        self.shape = "silent"
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(GRID)
        row.addWidget(self._shape, 0, Qt.AlignmentFlag.AlignTop)
        row.addWidget(self._label, 1)
        self.reckon("", "", "", ())

    def reckon(self, air: str, humidity: str, panel: str, rules: Sequence[Rule]) -> None:
        """The figures as they are typed; rules are those of the product, whose own margin wins."""
        stated = [
            figure
            for rule in rules
            if rule.claim.topic is Topic.APPLICATION
            and rule.claim.property == "dew_margin"
            and (figure := rule.claim.low if rule.claim.low is not None else rule.claim.high) is not None
        ]
        asked = max(stated, default=USUAL_K)
        whose = self.tr("the sheet asks for") if stated else self.tr("usual is")
        try:
            figures = (read_quantity(air, "°C"), read_quantity(humidity, "%"), read_quantity(panel, "°C"))
        except NotAFigure:
            self._say("silent", self.tr("Dew point: type air, humidity and panel as figures."))
            return
        air_c, part, panel_c = figures
        if air_c is None or part is None:
            self._say("silent", self.tr("Dew point: needs both the air's temperature and its humidity."))
            return
        surface = panel_c if panel_c is not None else air_c
        try:
            found = margin(air_c, part, surface, asked)
        except OutOfRange as fault:
            self._say("silent", refusal_words(fault))
            return
        of = self.tr("the panel") if panel_c is not None else self.tr("a panel as warm as the air")
        words = self.tr("Dew point {dew} °C: {of} stands {margin} °C {side} it; {whose} {asked} °C.").format(
            dew=number_words(round(found.dew.value, 1)),
            of=of,
            margin=number_words(round(abs(found.margin), 1)),
            side=self.tr("above") if found.margin >= 0 else self.tr("below"),
            whose=whose,
            asked=number_words(asked),
        )
        near = self.tr("Too near.")
        self._say("yes" if found.passes else "no", words if found.passes else f"{words} {near}")

    def _say(self, shape: str, words: str) -> None:
        self.shape, self.words = shape, words
        self._shape.set_verdict(shape, words)
        self._label.setText(words)
