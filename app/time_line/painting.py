"""Paints the chart, on the screen and on paper alike: patterns and shapes say what colour would not on a print."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QBrush, QColor, QFont, QPainter, QPen, QPolygonF

from app.time_line.chart import Chart, Lane, Opening, lane_words, ticks
from app.translating import translate

LANE, AXIS, LEGEND = 64.0, 32.0, 52.0
_BAR, _MARK, _TICK, _HATCH = 14.0, 11.0, 72.0, 6.0


@dataclass(frozen=True, slots=True)
class Inks:
    """open_ fills the time in which the next coat may go on."""

    ink: QColor
    quiet: QColor
    line: QColor
    open_: QColor


def height_of(chart: Chart) -> float:
    """Pixels that the chart needs."""
    return AXIS + LANE * len(chart.lanes) + LEGEND


def paint_chart(
    painter: QPainter, box: QRectF, chart: Chart, inks: Inks, font: QFont, left: float = 0.0, seen: float | None = None
) -> None:
    """Into the box; words keep within what is seen of it from `left` on."""
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.setFont(font)
    span = (chart.end - chart.begin).total_seconds()

    def x_of(at: datetime) -> float:
        return box.left() + (at - chart.begin).total_seconds() / span * box.width()

    words_box = QRectF(box.left() + left, box.top(), seen if seen is not None else box.width(), box.height())
    lanes = QRectF(box.left(), box.top() + AXIS, box.width(), LANE * len(chart.lanes))
    _paint_axis(painter, box, lanes, chart, inks, x_of)
    for number, lane in enumerate(chart.lanes):
        top = lanes.top() + number * LANE
        painter.setPen(QPen(inks.line, 1))
        painter.drawLine(QPointF(box.left(), top), QPointF(box.right(), top))
        words = QRectF(words_box.left() + 4, top + 4, words_box.width() - 8, LANE)
        _paint_words(painter, words, lane, chart, inks, font)
        _paint_lane(painter, top + LANE - _BAR - 8, lane, inks, x_of, box.right())
    _paint_legend(painter, QPointF(words_box.left() + 4, lanes.bottom() + 8), words_box.right(), inks)
    painter.restore()


Placed = Callable[[datetime], float]


def _paint_axis(painter: QPainter, box: QRectF, lanes: QRectF, chart: Chart, inks: Inks, x_of: Placed) -> None:
    for tick in ticks(chart.begin, chart.end, max(int(box.width() / _TICK), 2)):
        x = x_of(tick.at)
        painter.setPen(QPen(inks.line, 2.0 if tick.strong else 1.0))
        painter.drawLine(QPointF(x, box.top() + AXIS - 6), QPointF(x, lanes.bottom()))
        painter.setPen(inks.ink if tick.strong else inks.quiet)
        painter.drawText(
            QRectF(x - _TICK / 2, box.top(), _TICK, AXIS - 8), int(Qt.AlignmentFlag.AlignCenter), tick.words
        )


def _paint_words(painter: QPainter, box: QRectF, lane: Lane, chart: Chart, inks: Inks, font: QFont) -> None:
    metrics = painter.fontMetrics()
    bold = QFont(font)
    bold.setBold(True)
    painter.setFont(bold)
    painter.setPen(inks.ink)
    name = f"{lane.layer}  {lane.name}"
    bold_metrics = painter.fontMetrics()
    most = int(box.width() * 0.4)
    short = bold_metrics.elidedText(name, Qt.TextElideMode.ElideRight, most)
    used = bold_metrics.horizontalAdvance(short) + 12
    painter.drawText(box, int(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignTop), short)
    painter.setFont(font)
    painter.setPen(inks.quiet)
    rest = box.adjusted(used, 0, 0, 0)
    words = metrics.elidedText(lane_words(lane, chart.begin), Qt.TextElideMode.ElideRight, int(rest.width()))
    painter.drawText(rest, int(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignTop), words)


def _paint_lane(painter: QPainter, top: float, lane: Lane, inks: Inks, x_of: Placed, right: float) -> None:
    if lane.put_on is None:
        return
    begin = x_of(lane.put_on)
    if not lane.last:
        shut = begin
        for opening in lane.openings:
            if opening.earliest is not None:
                shut = _paint_opening(painter, top, opening, inks, x_of, (shut, right))
    put_on_mark(painter, QPointF(begin, top + _BAR / 2), inks)
    if lane.sandable is not None:
        sand_mark(painter, QPointF(x_of(lane.sandable), top + _BAR / 2), inks)
    if lane.cured is not None:
        cured_mark(painter, QPointF(x_of(lane.cured), top + _BAR / 2), inks)


def _paint_opening(
    painter: QPainter, top: float, opening: Opening, inks: Inks, x_of: Placed, room: tuple[float, float]
) -> float:
    """The wait from where the last one ended, and the time in which it is open; gives back where that ends."""
    shut, right = room
    waits = right if opening.earliest is None else x_of(opening.earliest)
    wait_bar(painter, QRectF(shut, top, max(waits - shut, 0.0), _BAR), inks)
    end = right if opening.latest is None else min(x_of(opening.latest), right)
    if end > waits:
        known = opening.latest is not None or opening.unlimited
        open_bar(painter, QRectF(waits, top, end - waits, _BAR), inks, known=known)
        if opening.unlimited or (opening.latest is not None and x_of(opening.latest) > right):
            _arrow(painter, QPointF(right, top + _BAR / 2), inks)
    return max(end, waits, shut)


def wait_bar(painter: QPainter, box: QRectF, inks: Inks) -> None:
    """Hatched by lines of its own: a brush's pattern keeps the device's pixels, and is a plain grey on paper."""
    painter.setPen(QPen(inks.quiet, 1))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.drawRect(box)
    x = box.left() - box.height() + _HATCH
    while x < box.right():
        before, beyond = max(box.left() - x, 0.0), max(x + box.height() - box.right(), 0.0)
        painter.drawLine(
            QPointF(x + before, box.bottom() - before), QPointF(x + box.height() - beyond, box.top() + beyond)
        )
        x += _HATCH


def open_bar(painter: QPainter, box: QRectF, inks: Inks, *, known: bool = True) -> None:
    """Dashed where nobody says until when."""
    painter.setPen(QPen(inks.ink, 1.6, Qt.PenStyle.SolidLine if known else Qt.PenStyle.DashLine))
    painter.setBrush(QBrush(inks.open_) if known else QBrush(Qt.BrushStyle.NoBrush))
    painter.drawRect(box)


def put_on_mark(painter: QPainter, at: QPointF, inks: Inks) -> None:
    painter.setPen(QPen(inks.ink, 3))
    painter.drawLine(QPointF(at.x(), at.y() - _MARK), QPointF(at.x(), at.y() + _MARK))


def sand_mark(painter: QPainter, at: QPointF, inks: Inks) -> None:
    """A triangle, point up."""
    r = _MARK / 2
    painter.setPen(QPen(inks.ink, 1.4))
    painter.setBrush(QBrush(QColor(Qt.GlobalColor.white) if inks.ink.lightness() < 128 else QColor("#1b1e1d")))
    painter.drawPolygon(
        QPolygonF([QPointF(at.x(), at.y() - r), QPointF(at.x() + r, at.y() + r), QPointF(at.x() - r, at.y() + r)])
    )


def cured_mark(painter: QPainter, at: QPointF, inks: Inks) -> None:
    """A full diamond."""
    r = _MARK / 2 + 1
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(QBrush(inks.ink))
    painter.drawPolygon(
        QPolygonF([QPointF(at.x(), at.y() - r), QPointF(at.x() + r, at.y()), QPointF(at.x(), at.y() + r),
                   QPointF(at.x() - r, at.y())])
    )  # fmt: skip


def _arrow(painter: QPainter, at: QPointF, inks: Inks) -> None:
    """At the right edge: it goes on."""
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(QBrush(inks.ink))
    painter.drawPolygon(QPolygonF([QPointF(at.x() - 10, at.y() - 9), at, QPointF(at.x() - 10, at.y() + 9)]))


def _paint_legend(painter: QPainter, at: QPointF, right: float, inks: Inks) -> None:
    x, middle = at.x(), at.y() + 7
    entries: tuple[tuple[str, Callable[[QPointF], None]], ...] = (
        (translate("time_line", "put on"), lambda p: put_on_mark(painter, p, inks)),
        (translate("time_line", "wait"), lambda p: wait_bar(painter, QRectF(p.x() - 9, p.y() - 6, 18, 12), inks)),
        (translate("time_line", "next coat may go on"),
         lambda p: open_bar(painter, QRectF(p.x() - 9, p.y() - 6, 18, 12), inks)),
        (translate("time_line", "latest not known"),
         lambda p: open_bar(painter, QRectF(p.x() - 9, p.y() - 6, 18, 12), inks, known=False)),
        (translate("time_line", "may be sanded"), lambda p: sand_mark(painter, p, inks)),
        (translate("time_line", "fully cured"), lambda p: cured_mark(painter, p, inks)),
    )  # fmt: skip
    metrics = painter.fontMetrics()
    for words, draw in entries:
        if x > at.x() and x + 24 + metrics.horizontalAdvance(words) > right:
            x, middle = at.x(), middle + 22
        draw(QPointF(x + 10, middle))
        painter.setPen(inks.ink)
        painter.drawText(QPointF(x + 24, middle + metrics.ascent() / 2 - 1), words)
        x += 24 + metrics.horizontalAdvance(words) + 18
