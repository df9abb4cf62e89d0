"""How high the picture's parts are for a size of type, and its words broken into lines. Painted or not, the same."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import Qt
from PySide6.QtGui import QFont, QFontMetricsF

from app.time_line.chart import Chart, Lane, lane_words

_MOST_LINES = 3
_LEGEND_LINES = 3


@dataclass(frozen=True, slots=True)
class Measures:
    """Heights in pixels. lines is how many lines of words each lane has under its name."""

    line: float
    lines: int
    bar: float

    @classmethod
    def of(cls, chart: Chart, font: QFont, width: float) -> Measures:
        """For words within so many pixels: as many lines as the longest lane needs, three at most."""
        metrics = QFontMetricsF(font)
        needed = max((len(wrapped(lane_words(lane, chart.begin), metrics, width)) for lane in chart.lanes), default=1)
        return cls(metrics.lineSpacing(), min(needed, _MOST_LINES), max(14.0, round(0.8 * metrics.height())))

    @property
    def axis(self) -> float:
        return self.line + 14

    @property
    def lane(self) -> float:
        return 6 + self.line * (1 + self.lines) + 6 + self.bar + 8

    @property
    def legend(self) -> float:
        return 8 + _LEGEND_LINES * (self.line + 6)

    def height(self, chart: Chart) -> float:
        return self.axis + self.lane * len(chart.lanes) + self.legend


def name_of(lane: Lane) -> str:
    return f"{lane.layer}  {lane.name}"


def wrapped(words: str, metrics: QFontMetricsF, width: float, most: int | None = None) -> list[str]:
    """Broken between words into lines of so many pixels; what is beyond `most` lines is cut with an ellipsis."""
    lines: list[str] = []
    for word in words.split(" "):
        longer = f"{lines[-1]} {word}" if lines else word
        if lines and metrics.horizontalAdvance(longer) <= width:
            lines[-1] = longer
        else:
            lines.append(word)
    if most is not None and len(lines) > most:
        lines[most - 1 :] = [metrics.elidedText(" ".join(lines[most - 1 :]), Qt.TextElideMode.ElideRight, width)]
    return lines
