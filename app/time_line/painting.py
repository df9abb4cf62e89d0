"""Paints the chart, on the screen and on paper alike: patterns and shapes say what colour would not on a print."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QBrush, QColor, QFont, QFontMetricsF, QPainter, QPen, QPolygonF

from app.time_line.chart import Chart, Lane, Opening, lane_words, ticks
from app.time_line.measures import Measures, name_of, wrapped
from app.translating import translate

_MARK, _HATCH = 11.0, 6.0


@dataclass(frozen=True, slots=True)
class Inks:
    """open_ fills the time in which the next coat may go on."""

    ink: QColor
    quiet: QColor
    line: QColor
    open_: QColor


def paint_chart(
    painter: QPainter, box: QRectF, chart: Chart, inks: Inks, font: QFont, left: float = 0.0, seen: float | None = None
) -> None:
    """Into the box, which is as high as Measures says; words keep within what is seen of it from `left` on."""
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.setFont(font)
    span = (chart.end - chart.begin).total_seconds()

    def x_of(at: datetime) -> float:
        return box.left() + (at - chart.begin).total_seconds() / span * box.width()

    words_box = QRectF(box.left() + left, box.top(), seen if seen is not None else box.width(), box.height())
    measures = Measures.of(chart, font, words_box.width() - 8)
    lanes = QRectF(box.left(), box.top() + measures.axis, box.width(), measures.lane * len(chart.lanes))
    _paint_axis(painter, lanes, chart, inks, x_of, measures)
    for number, lane in enumerate(chart.lanes):
        top = lanes.top() + number * measures.lane
        painter.setPen(QPen(inks.line, 1))
        painter.drawLine(QPointF(box.left(), top), QPointF(box.right(), top))
        words = QRectF(words_box.left() + 4, top + 6, words_box.width() - 8, measures.lane)
        _paint_words(painter, words, lane, chart, inks, font, measures)
        bars = QRectF(box.left(), top + measures.lane - measures.bar - 8, box.width(), measures.bar)
        _paint_lane(painter, bars, lane, inks, x_of)
    _paint_legend(painter, QPointF(words_box.left() + 4, lanes.bottom() + 8), words_box.right(), inks, measures)
    painter.restore()


Placed = Callable[[datetime], float]


def _paint_axis(painter: QPainter, lanes: QRectF, chart: Chart, inks: Inks, x_of: Placed, measures: Measures) -> None:
    room = painter.fontMetrics().horizontalAdvance("Wed 28") + 24.0
    for tick in ticks(chart.begin, chart.end, max(int(lanes.width() / room), 2)):
        x = x_of(tick.at)
        painter.setPen(QPen(inks.line, 2.0 if tick.strong else 1.0))
        painter.drawLine(QPointF(x, lanes.top() - 6), QPointF(x, lanes.top()))
        for number in range(len(chart.lanes)):
            # Beside the bars alone: a line through words is hard to read past.
            bottom = lanes.top() + (number + 1) * measures.lane
            painter.drawLine(QPointF(x, bottom - measures.bar - 12), QPointF(x, bottom))
        painter.setPen(inks.ink if tick.strong else inks.quiet)
        at = QRectF(x - room / 2, lanes.top() - measures.axis, room, measures.line + 6)
        # The first and the last stay within the picture.
        at.moveLeft(min(max(at.left(), lanes.left()), lanes.right() - at.width()))
        painter.drawText(at, int(Qt.AlignmentFlag.AlignCenter), tick.words)


def _paint_words(
    painter: QPainter, box: QRectF, lane: Lane, chart: Chart, inks: Inks, font: QFont, measures: Measures
) -> None:
    """The name, and below it the times, on lines of their own."""
    bold = QFont(font)
    bold.setBold(True)
    painter.setFont(bold)
    painter.setPen(inks.ink)
    at = QPointF(box.left(), box.top() + painter.fontMetrics().ascent())
    name = painter.fontMetrics().elidedText(name_of(lane), Qt.TextElideMode.ElideRight, int(box.width()))
    painter.drawText(at, name)
    painter.setFont(font)
    painter.setPen(inks.quiet)
    for words in wrapped(lane_words(lane, chart.begin), QFontMetricsF(font), box.width(), measures.lines):
        at += QPointF(0, measures.line)
        painter.drawText(at, words)


def _paint_lane(painter: QPainter, box: QRectF, lane: Lane, inks: Inks, x_of: Placed) -> None:
    if lane.put_on is None:
        unknown_bar(painter, box.adjusted(4, 0, -4, 0), inks)
        return
    begin, middle = x_of(lane.put_on), box.center().y()
    if not lane.last:
        shut = begin
        for opening in lane.openings:
            shut = _paint_opening(painter, box, opening, inks, x_of, shut)
    put_on_mark(painter, QPointF(begin, middle), inks)
    if lane.sandable is not None:
        sand_mark(painter, QPointF(x_of(lane.sandable), middle), inks)
    if lane.cured is not None:
        cured_mark(painter, QPointF(x_of(lane.cured), middle), inks)


def _paint_opening(painter: QPainter, box: QRectF, opening: Opening, inks: Inks, x_of: Placed, shut: float) -> float:
    """The wait from where the last one ended, and the time in which it is open; gives back where that ends.

    Where no earliest is given nothing is open: from where on, nobody says.
    """
    right = box.right()
    end = right if opening.latest is None else min(x_of(opening.latest), right)
    beyond = opening.unlimited or (opening.latest is not None and x_of(opening.latest) > right)
    if opening.earliest is None:
        unknown_bar(painter, QRectF(shut, box.top(), max(end - shut, 0.0), box.height()), inks)
        if opening.latest is not None and not beyond:
            painter.setPen(QPen(inks.ink, 2))
            painter.drawLine(QPointF(end, box.top() - 3), QPointF(end, box.bottom() + 3))
    else:
        waits = x_of(opening.earliest)
        wait_bar(painter, QRectF(shut, box.top(), max(waits - shut, 0.0), box.height()), inks)
        end = max(end, waits)
        if end > waits:
            known = opening.latest is not None or opening.unlimited
            open_bar(painter, QRectF(waits, box.top(), end - waits, box.height()), inks, known=known)
    if beyond:
        _arrow(painter, QPointF(right, box.center().y()), inks)
    return max(end, shut)


def unknown_bar(painter: QPainter, box: QRectF, inks: Inks) -> None:
    """Question marks between dotted lines: the sheet gives no earliest time."""
    if box.width() < 1:
        return
    painter.setPen(QPen(inks.quiet, 1, Qt.PenStyle.DotLine))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.drawRect(box)
    font = painter.font()
    small = QFont(font)
    small.setPixelSize(max(round(box.height() * 0.8), 8))
    painter.setFont(small)
    painter.setPen(inks.quiet)
    wide = box.height() * 2.5
    at = QRectF(box.left(), box.top(), min(wide, box.width()), box.height())
    while at.right() <= box.right() + 0.5:
        painter.drawText(at, int(Qt.AlignmentFlag.AlignCenter), "?")
        at.translate(wide, 0)
    painter.setFont(font)


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


def _paint_legend(painter: QPainter, at: QPointF, right: float, inks: Inks, measures: Measures) -> None:
    x, middle = at.x(), at.y() + measures.line / 2
    entries: tuple[tuple[str, Callable[[QPointF], None]], ...] = (
        (translate("time_line", "put on"), lambda p: put_on_mark(painter, p, inks)),
        (translate("time_line", "wait"), lambda p: wait_bar(painter, QRectF(p.x() - 9, p.y() - 6, 18, 12), inks)),
        (translate("time_line", "next coat may go on"),
         lambda p: open_bar(painter, QRectF(p.x() - 9, p.y() - 6, 18, 12), inks)),
        (translate("time_line", "latest not known"),
         lambda p: open_bar(painter, QRectF(p.x() - 9, p.y() - 6, 18, 12), inks, known=False)),
        (translate("time_line", "earliest not known"),
         lambda p: unknown_bar(painter, QRectF(p.x() - 9, p.y() - 6, 18, 12), inks)),
        (translate("time_line", "may be sanded"), lambda p: sand_mark(painter, p, inks)),
        (translate("time_line", "fully cured"), lambda p: cured_mark(painter, p, inks)),
    )  # fmt: skip
    metrics = painter.fontMetrics()
    for words, draw in entries:
        if x > at.x() and x + 24 + metrics.horizontalAdvance(words) > right:
            x, middle = at.x(), middle + measures.line + 6
        draw(QPointF(x + 10, middle))
        painter.setPen(inks.ink)
        painter.drawText(QPointF(x + 24, middle + metrics.ascent() / 2 - 1), words)
        x += 24 + metrics.horizontalAdvance(words) + 18
