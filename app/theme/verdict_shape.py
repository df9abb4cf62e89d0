"""A shape for every verdict and every state of a claim, told apart at 12 px and in black and white.

yes            a full disc
yes_if         a ring, its lower half full
no             a full square with a slot across
disputed       two triangles, point to point
silent         three dots in a row
unconfirmed    an empty diamond (also: proposed)
confirmed      a tick
corrected      a tick over a line
rejected       a cross
own            a triangle standing on its base
wait           a clock's face: a ring with two hands
"""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QBrush, QColor, QPainter, QPaintEvent, QPen, QPolygonF
from PySide6.QtWidgets import QHBoxLayout, QLabel, QSizePolicy, QWidget

from app.theme.roles import VERDICT_ROLES, Role
from app.theme.theme import GRID, Theme, set_look

SHAPES = tuple(VERDICT_ROLES)


def paint_shape(painter: QPainter, name: str, box: QRectF, colour: QColor) -> None:
    """Draw the shape of `name` into the square `box`. Raises KeyError for a name that has none."""
    draw = _DRAW[name]
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.translate(box.topLeft())
    painter.scale(box.width() / 12, box.height() / 12)
    pen = QPen(colour, 1.8, Qt.PenStyle.SolidLine, Qt.PenCapStyle.RoundCap, Qt.PenJoinStyle.MiterJoin)
    painter.setPen(pen)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    draw(painter, colour)
    painter.restore()


def _full(painter: QPainter, colour: QColor) -> None:
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(QBrush(colour))


def _yes(painter: QPainter, colour: QColor) -> None:
    _full(painter, colour)
    painter.drawEllipse(QRectF(0.8, 0.8, 10.4, 10.4))


def _yes_if(painter: QPainter, colour: QColor) -> None:
    painter.drawEllipse(QRectF(1.3, 1.3, 9.4, 9.4))
    _full(painter, colour)
    painter.drawChord(QRectF(1.3, 1.3, 9.4, 9.4), 180 * 16, 180 * 16)


def _no(painter: QPainter, colour: QColor) -> None:
    _full(painter, colour)
    painter.drawRect(QRectF(0.8, 0.8, 10.4, 3.6))
    painter.drawRect(QRectF(0.8, 7.6, 10.4, 3.6))
    painter.drawRect(QRectF(0.8, 0.8, 1.7, 10.4))
    painter.drawRect(QRectF(9.5, 0.8, 1.7, 10.4))


def _disputed(painter: QPainter, colour: QColor) -> None:
    _full(painter, colour)
    painter.drawPolygon(QPolygonF([QPointF(0.4, 1.2), QPointF(5.8, 6), QPointF(0.4, 10.8)]))
    painter.drawPolygon(QPolygonF([QPointF(11.6, 1.2), QPointF(6.2, 6), QPointF(11.6, 10.8)]))


def _silent(painter: QPainter, colour: QColor) -> None:
    _full(painter, colour)
    for x in (1.7, 6.0, 10.3):
        painter.drawEllipse(QPointF(x, 6), 1.5, 1.5)


def _unconfirmed(painter: QPainter, _: QColor) -> None:
    painter.drawPolygon(QPolygonF([QPointF(6, 1.3), QPointF(10.7, 6), QPointF(6, 10.7), QPointF(1.3, 6)]))


def _confirmed(painter: QPainter, _: QColor) -> None:
    painter.drawPolyline(QPolygonF([QPointF(1.4, 6.4), QPointF(4.6, 9.8), QPointF(10.6, 2.0)]))


def _corrected(painter: QPainter, _: QColor) -> None:
    painter.drawPolyline(QPolygonF([QPointF(2.2, 4.2), QPointF(4.8, 7.2), QPointF(9.8, 1.2)]))
    painter.drawLine(QPointF(1.2, 10.8), QPointF(10.8, 10.8))


def _rejected(painter: QPainter, _: QColor) -> None:
    painter.drawLine(QPointF(1.8, 1.8), QPointF(10.2, 10.2))
    painter.drawLine(QPointF(10.2, 1.8), QPointF(1.8, 10.2))


def _own(painter: QPainter, colour: QColor) -> None:
    _full(painter, colour)
    painter.drawPolygon(QPolygonF([QPointF(6, 0.8), QPointF(11.6, 11), QPointF(0.4, 11)]))


def _wait(painter: QPainter, _: QColor) -> None:
    painter.drawEllipse(QRectF(1.1, 1.1, 9.8, 9.8))
    painter.drawPolyline(QPolygonF([QPointF(6, 3.2), QPointF(6, 6), QPointF(8.4, 7.4)]))


_DRAW = {
    "yes": _yes,
    "yes_if": _yes_if,
    "no": _no,
    "disputed": _disputed,
    "silent": _silent,
    "unconfirmed": _unconfirmed,
    "proposed": _unconfirmed,
    "confirmed": _confirmed,
    "corrected": _corrected,
    "rejected": _rejected,
    "own": _own,
    "wait": _wait,
}


class VerdictShape(QWidget):
    """The shape alone, `side` pixels square. Its accessible name is the word that it stands for."""

    def __init__(self, theme: Theme, name: str, word: str, side: int = 16, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._theme = theme
        self._name = name
        self._side = side
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)
        self.set_verdict(name, word)
        theme.theme_changed.connect(self.update)

    def set_verdict(self, name: str, word: str) -> None:
        """Show another verdict. Raises KeyError for a name that has no shape."""
        if name not in _DRAW:
            raise KeyError(name)
        self._name = name
        self.setAccessibleName(word)
        self.setToolTip(word)
        self.update()

    def sizeHint(self) -> QSize:
        return QSize(self._side, self._side)

    def minimumSizeHint(self) -> QSize:
        return self.sizeHint()

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        paint_shape(painter, self._name, QRectF(0, 0, self._side, self._side), shape_colour(self._theme, self._name))
        painter.end()


class VerdictWord(QWidget):
    """Shape and word side by side, in the verdict's colour."""

    def __init__(
        self,
        theme: Theme,
        name: str,
        word: str,
        *,
        look: str = "body",
        side: int = 16,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self._theme = theme
        self._name = name
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(GRID)
        self._shape = VerdictShape(theme, name, word, side, self)
        self._word = QLabel(word, self)
        set_look(self._word, look)
        row.addWidget(self._shape)
        row.addWidget(self._word)
        row.addStretch(1)
        self.set_verdict(name, word)
        theme.theme_changed.connect(self._on_theme_changed)

    def set_verdict(self, name: str, word: str) -> None:
        self._name = name
        self._shape.set_verdict(name, word)
        self._word.setText(word)
        self.setAccessibleName(word)
        self._on_theme_changed()

    def _on_theme_changed(self) -> None:
        self._word.setStyleSheet(f"color: {shape_colour(self._theme, self._name).name()};")


def shape_colour(theme: Theme, name: str) -> QColor:
    """The colour of a verdict or state in the theme as it stands."""
    return theme.colour(VERDICT_ROLES.get(name, Role.INK))
