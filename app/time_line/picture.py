"""The chart on the screen: wider by the keys + and −, moved along by the arrows and the scroll bar."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QHelpEvent, QKeyEvent, QPainter, QPaintEvent, QResizeEvent, QWheelEvent
from PySide6.QtWidgets import QScrollArea, QSizePolicy, QToolTip, QWidget

from app.theme.roles import Role
from app.theme.theme import Theme
from app.time_line.chart import Chart, lane_words
from app.time_line.measures import Measures, name_of
from app.time_line.painting import Inks, paint_chart

_FACTOR, _MOST = 1.6, 200.0


class _Drawing(QWidget):
    """Signals: resized_text() once its type is of another size."""

    resized_text = Signal()

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

    def event(self, event: QEvent) -> bool:
        if event.type() == QEvent.Type.ToolTip and isinstance(event, QHelpEvent) and self.chart is not None:
            QToolTip.showText(event.globalPos(), self.words_at(event.pos().y()), self)
            return True
        if event.type() == QEvent.Type.FontChange:
            self.resized_text.emit()
        return super().event(event)

    def words_at(self, y: float) -> str:
        """All that the lane at this height says, however little room it has; empty beside the lanes."""
        if self.chart is None:
            return ""
        measures = Measures.of(self.chart, self.font(), self._view.viewport().width() - 8)
        place = int((y - measures.axis) // measures.lane)
        if not 0 <= place < len(self.chart.lanes):
            return ""
        lane = self.chart.lanes[place]
        return f"{name_of(lane)}: {lane_words(lane, self.chart.begin)}"


class TimeLinePicture(QScrollArea):
    """As wide as the view at first."""

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._drawing = _Drawing(theme, self)
        self.zoom = 1.0
        self.setWidget(self._drawing)
        self._drawing.resized_text.connect(self._fit)
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
        seen = self.viewport().width()
        height = 0.0 if chart is None else Measures.of(chart, self._drawing.font(), seen - 8).height(chart)
        self._drawing.setFixedSize(QSize(round(seen * self.zoom), round(height)))
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
