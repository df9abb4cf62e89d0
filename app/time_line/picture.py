"""The chart on the screen: wider by the keys + and −, moved along by the arrows and the scroll bar."""

from __future__ import annotations

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QKeyEvent, QPainter, QPaintEvent, QResizeEvent, QWheelEvent
from PySide6.QtWidgets import QScrollArea, QSizePolicy, QWidget

from app.theme.roles import Role
from app.theme.theme import Theme
from app.time_line.chart import Chart, lane_words
from app.time_line.painting import Inks, height_of, paint_chart

_FACTOR, _MOST = 1.6, 200.0


class _Drawing(QWidget):
    def __init__(self, theme: Theme, view: QScrollArea) -> None:
        super().__init__(view)
        self._theme = theme
        self._view = view
        self.chart: Chart | None = None
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)

    def paintEvent(self, event: QPaintEvent) -> None:
        if self.chart is None:
            return
        colour = self._theme.colour
        inks = Inks(colour(Role.INK), colour(Role.QUIET), colour(Role.LINE), colour(Role.CHOSEN))
        painter = QPainter(self)
        left, seen = float(self._view.horizontalScrollBar().value()), float(self._view.viewport().width())
        paint_chart(painter, QRectF(self.rect()), self.chart, inks, self.font(), left, seen)
        painter.end()


class TimeLinePicture(QScrollArea):
    """As wide as the view at first."""

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._drawing = _Drawing(theme, self)
        self.zoom = 1.0
        self.setWidget(self._drawing)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setAccessibleName(self.tr("Time line"))
        # The words stay where they can be read, so all of it is drawn again when it is moved along.
        self.horizontalScrollBar().valueChanged.connect(self._drawing.update)
        theme.theme_changed.connect(self._drawing.update)

    @property
    def chart(self) -> Chart | None:
        return self._drawing.chart

    def show_chart(self, chart: Chart | None) -> None:
        self._drawing.chart = chart
        said = ""
        if chart is not None:
            said = ". ".join(f"{lane.name}: {lane_words(lane, chart.begin)}" for lane in chart.lanes)
        self.setAccessibleName(self.tr("Time line. {said}").format(said=said) if said else self.tr("Time line"))
        self._fit()

    def closer(self) -> None:
        self._set_zoom(self.zoom * _FACTOR)

    def farther(self) -> None:
        self._set_zoom(self.zoom / _FACTOR)

    def whole(self) -> None:
        """All of it in view."""
        self._set_zoom(1.0)

    def _set_zoom(self, zoom: float) -> None:
        bar = self.horizontalScrollBar()
        middle = (bar.value() + self.viewport().width() / 2) / max(self._drawing.width(), 1)
        self.zoom = min(max(zoom, 1.0), _MOST)
        self._fit()
        bar.setValue(round(middle * self._drawing.width() - self.viewport().width() / 2))

    def _fit(self) -> None:
        chart = self._drawing.chart
        height = 0 if chart is None else round(height_of(chart))
        self._drawing.setFixedSize(QSize(round(self.viewport().width() * self.zoom), height))
        self._drawing.update()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        keys = {
            Qt.Key.Key_Plus: self.closer, Qt.Key.Key_Equal: self.closer, Qt.Key.Key_Minus: self.farther,
            Qt.Key.Key_0: self.whole,
        }  # fmt: skip
        does = keys.get(Qt.Key(event.key()))
        if does is not None:
            does()
        else:
            super().keyPressEvent(event)

    def wheelEvent(self, event: QWheelEvent) -> None:
        if event.modifiers() & Qt.KeyboardModifier.ControlModifier:
            (self.closer if event.angleDelta().y() > 0 else self.farther)()
            event.accept()
        else:
            super().wheelEvent(event)

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._fit()
