"""A panel's time as a picture: what was done, what waits, what is open, where it stood; shapes and words, not colour.

Filled bars are times in which a step may happen, dotted ones the wait before, hatched ones time outdoors. Painted onto
the screen and onto paper by the same function.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from enum import Enum

from PySide6.QtCore import QEvent, QPointF, QRectF, QSize, Qt
from PySide6.QtGui import (
    QBrush,
    QColor,
    QFont,
    QFontMetricsF,
    QHelpEvent,
    QImage,
    QPainter,
    QPaintEvent,
    QPen,
    QPolygonF,
)
from PySide6.QtWidgets import QSizePolicy, QToolTip, QWidget

from app.due_list.words import clock_words
from app.figure_words import short_day_words, weekday_words
from app.job_words import step_name
from app.panels.held import PanelNow
from app.theme.roles import Role
from app.theme.theme import GRID, Theme
from app.translating import translate
from app.wording import conditions_joined
from store.planning.coat_clocks import Moments
from store.planning.next_steps import Step, StepKind

Placed = Callable[[datetime], float]
"""Where a moment lies across the picture."""

_BAR = 14.0
_LEAST = timedelta(hours=6)
_FAR = datetime.max.replace(tzinfo=UTC)
_STEPS = (
    timedelta(hours=1), timedelta(hours=3), timedelta(hours=6), timedelta(hours=12), timedelta(days=1),
    timedelta(days=2), timedelta(days=7), timedelta(days=14), timedelta(days=28), timedelta(days=91),
    timedelta(days=365), timedelta(days=1826),
)  # fmt: skip


class Fill(Enum):
    OPEN = "open"
    WAIT = "wait"
    OUTDOORS = "outdoors"


@dataclass(frozen=True, slots=True)
class Bar:
    """end None goes on beyond the picture: with an arrow where there is no end, else dotted, for it is not known."""

    begin: datetime
    end: datetime | None
    fill: Fill
    endless: bool = False


@dataclass(frozen=True, slots=True)
class Lane:
    words: str
    bars: tuple[Bar, ...] = ()
    marks: tuple[datetime, ...] = ()


@dataclass(frozen=True, slots=True)
class Drawing:
    begin: datetime
    end: datetime
    now: datetime
    lanes: tuple[Lane, ...]

    @property
    def said(self) -> str:
        return ". ".join(lane.words for lane in self.lanes)


def drawing_of(panel: PanelNow, now: datetime) -> Drawing | None:
    """None where nothing was done yet."""
    record = panel.record
    coats = [coat.coat.at for coat in record.coats]
    preparations = [p.preparation.at for p in record.preparations]
    lanes: list[Lane] = []
    if preparations:
        lanes.append(Lane(translate("panels", "Prepared"), marks=tuple(preparations)))
    for coat in record.coats[-4:]:
        words = f"{coat.product}, {clock_words(coat.coat.at, now)}"
        lanes.append(Lane(words, marks=(coat.coat.at,)))
    if record.spells:
        bars = tuple(Bar(s.spell.began, s.spell.ended or now, Fill.OUTDOORS) for s in record.spells)
        lanes.append(Lane(translate("panels", "Outdoors"), bars))
    start = coats[-1] if coats else (preparations[-1] if preparations else now)
    lanes += [lane for step in panel.steps if (lane := _lane(step, start, now)) is not None]
    if not (coats or preparations or record.spells):
        return None
    ends = [moment for lane in lanes for bar in lane.bars for moment in (bar.begin, bar.end) if moment is not None]
    end = max([now + _LEAST, *(e for e in ends if e - now < timedelta(days=400))])
    first = min([*coats, *preparations, *(s.spell.began for s in record.spells)])
    # A long past would leave no room for the hours that count.
    begin = max(first, start - 2 * (end - start))
    return Drawing(begin - (end - begin) / 40, end + (end - begin) / 12, now, tuple(lanes))


def _lane(step: Step, start: datetime, now: datetime) -> Lane | None:
    at = step.moments
    name = step_name(step)
    name = name[:1].upper() + name[1:]
    if at.earliest is None and at.latest is None:
        return None
    if step.kind is StepKind.STAGE and at.earliest is not None:
        wait = Bar(start, at.earliest, Fill.WAIT)
        return Lane(f"{name}: {clock_words(at.earliest, now)}", (wait,), (at.earliest,))
    parts, bars, marks = [], [], []
    shut = start
    for found in sorted((at, *step.also), key=lambda one: one.latest or _FAR):
        parts.append(_span_words(found, now))
        if found.earliest is not None:
            if found.earliest > shut:
                bars.append(Bar(shut, found.earliest, Fill.WAIT))
            if found.latest is None or found.latest > found.earliest:
                bars.append(Bar(found.earliest, found.latest, Fill.OPEN, found.unlimited))
        if found.latest is not None:
            marks.append(found.latest)
            shut = max(shut, found.latest)
    parts = [translate("panels", " or ").join(parts)]
    if step.answer is not None and step.answer.word in {"no", "disputed"}:
        parts.append(translate("panels", "not allowed"))
        bars = [bar for bar in bars if bar.fill is not Fill.OPEN]
    return Lane(f"{name}: {', '.join(parts)}", tuple(bars), tuple(marks))


def _span_words(found: Moments, now: datetime) -> str:
    """'from 16:00, until Fri 08:00', with the window's own conditions."""
    parts = []
    if found.earliest is not None:
        parts.append(translate("panels", "from {time}").format(time=clock_words(found.earliest, now)))
    if found.latest is not None:
        parts.append(translate("panels", "until {time}").format(time=clock_words(found.latest, now)))
    elif found.unlimited:
        parts.append(translate("panels", "no latest time"))
    else:
        parts.append(translate("panels", "latest not known"))
    if found.conditions:
        parts.append(conditions_joined(found.conditions))
    return ", ".join(parts)


@dataclass(frozen=True, slots=True)
class Colours:
    ink: QColor
    quiet: QColor
    line: QColor
    fill: QColor

    @classmethod
    def of(cls, theme: Theme) -> Colours:
        return cls(*(theme.colour(role) for role in (Role.INK, Role.QUIET, Role.LINE, Role.ACCENT)))

    @classmethod
    def paper(cls) -> Colours:
        black = QColor(Qt.GlobalColor.black)
        return cls(black, black, QColor("#bbbbbb"), black)


@dataclass(frozen=True, slots=True)
class _Heights:
    """In pixels, for lines of words so high."""

    line: float

    @classmethod
    def of(cls, font: QFont) -> _Heights:
        return cls(QFontMetricsF(font).lineSpacing())

    @property
    def axis(self) -> float:
        return self.line + 12

    @property
    def lane(self) -> float:
        return self.line + _BAR + 13

    def whole(self, drawing: Drawing) -> int:
        return round(self.axis + self.lane * len(drawing.lanes) + GRID)


def height_of(drawing: Drawing, font: QFont) -> int:
    return _Heights.of(font).whole(drawing)


def paint(painter: QPainter, box: QRectF, drawing: Drawing, colours: Colours) -> None:
    """Draw into the box, which is height_of high or is scaled to be."""
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.translate(box.topLeft())
    high = _Heights.of(painter.font())
    width, height = box.width(), float(high.whole(drawing))
    whole = drawing.end - drawing.begin

    def x(at: datetime) -> float:
        return min(max(width * ((at - drawing.begin) / whole), 0.0), width)

    _axis(painter, drawing, colours, x, width, high)
    for number, lane in enumerate(drawing.lanes):
        top = high.axis + number * high.lane
        bars = top + high.line + 7
        words_box = QRectF(0, top + 2, width, high.line)
        painter.setPen(colours.ink)
        words = painter.fontMetrics().elidedText(lane.words, Qt.TextElideMode.ElideRight, int(width))
        painter.drawText(words_box, int(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter), words)
        for bar in lane.bars:
            _bar(painter, bar, bars, colours, x, width)
        for mark in lane.marks:
            if mark >= drawing.begin:
                _mark(painter, QPointF(x(mark), bars + _BAR / 2), colours)
    now = x(drawing.now)
    painter.setPen(QPen(colours.ink, 1.6))
    painter.drawLine(QPointF(now, high.axis - 8), QPointF(now, height))
    painter.restore()


def _axis(painter: QPainter, drawing: Drawing, colours: Colours, x: Placed, width: float, high: _Heights) -> None:
    whole = drawing.end - drawing.begin
    height, first = float(high.whole(drawing)), painter.fontMetrics().ascent() + 1.0
    room = painter.fontMetrics().horizontalAdvance("Wed 28 Sep") + 4 * GRID
    step = next((s for s in _STEPS if whole / s <= max(width / room, 2)), _STEPS[-1])
    local = drawing.begin.astimezone()
    tick = local.replace(hour=0, minute=0, second=0, microsecond=0)
    now_x = x(drawing.now)
    metrics = painter.fontMetrics()
    now_word = translate("panels", "now")
    taken = [(now_x - metrics.horizontalAdvance(now_word) / 2 - 6, now_x + metrics.horizontalAdvance(now_word) / 2 + 6)]
    painter.setPen(colours.ink)
    at = min(max(now_x - metrics.horizontalAdvance(now_word) / 2, 0), width - metrics.horizontalAdvance(now_word))
    painter.drawText(QPointF(at, first), now_word)
    while tick <= drawing.end:
        if tick >= drawing.begin:
            place = x(tick)
            painter.setPen(QPen(colours.line, 1))
            painter.drawLine(QPointF(place, high.axis - 6), QPointF(place, height))
            by_hour = step < timedelta(days=1) and tick.hour
            words = f"{tick:%H:%M}" if by_hour else f"{weekday_words(tick)} {short_day_words(tick)}"
            half = metrics.horizontalAdvance(words) / 2
            fits = half <= place <= width - half
            if fits and all(place + half + 4 < low or place - half - 4 > high for low, high in taken):
                painter.setPen(colours.quiet)
                painter.drawText(QPointF(place - half, first), words)
                taken.append((place - half, place + half))
        # By the wall clock, so that days stay days where the clocks change.
        tick = (tick.replace(tzinfo=None) + step).astimezone()


def _bar(painter: QPainter, bar: Bar, top: float, colours: Colours, x: Placed, width: float) -> None:
    left = x(bar.begin)
    right = x(bar.end) if bar.end is not None else width
    if right - left < 1:
        return
    box = QRectF(left, top, right - left, _BAR)
    painter.setPen(QPen(colours.ink, 1))
    if bar.fill is Fill.WAIT:
        painter.setBrush(QBrush(colours.quiet, Qt.BrushStyle.Dense6Pattern))
    elif bar.fill is Fill.OUTDOORS:
        painter.setBrush(QBrush(colours.ink, Qt.BrushStyle.BDiagPattern))
    elif bar.end is None and not bar.endless:
        # How long is not said: an outline that fades out in dots, no filled leave.
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.setPen(QPen(colours.fill, 1.5, Qt.PenStyle.DotLine))
    else:
        painter.setBrush(QBrush(colours.fill))
    if bar.end is None and bar.endless:
        box.setRight(right - _BAR)
        painter.drawPolygon(
            QPolygonF(
                [QPointF(box.right(), top - 3), QPointF(right, top + _BAR / 2), QPointF(box.right(), top + _BAR + 3)]
            )
        )
    painter.drawRect(box)


def _mark(painter: QPainter, at: QPointF, colours: Colours) -> None:
    painter.setPen(QPen(colours.ink, 1))
    painter.setBrush(QBrush(colours.ink))
    painter.drawPolygon(QPolygonF([at + QPointF(0, -8), at + QPointF(5, 0), at + QPointF(0, 8), at + QPointF(-5, 0)]))


class TimeLinePicture(QWidget):
    """The picture in the window; its accessible name says the same in words."""

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._theme = theme
        self.drawing: Drawing | None = None
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        theme.theme_changed.connect(self.update)

    def show_drawing(self, drawing: Drawing | None) -> None:
        self.drawing = drawing
        self.setVisible(drawing is not None)
        if drawing is not None:
            name = self.tr("Time line")
            self.setAccessibleName(f"{name}. {drawing.said}")
            self.setFixedHeight(height_of(drawing, self.font()))
        self.update()

    def event(self, event: QEvent) -> bool:
        if event.type() == QEvent.Type.FontChange and self.drawing is not None:
            self.setFixedHeight(height_of(self.drawing, self.font()))
        elif event.type() == QEvent.Type.ToolTip and isinstance(event, QHelpEvent):
            QToolTip.showText(event.globalPos(), self.words_at(event.pos().y()), self)
            return True
        return super().event(event)

    def words_at(self, y: float) -> str:
        """All that the lane at this height says, however little room it has; empty beside the lanes."""
        if self.drawing is None:
            return ""
        high = _Heights.of(self.font())
        place = int((y - high.axis) // high.lane)
        return self.drawing.lanes[place].words if 0 <= place < len(self.drawing.lanes) else ""

    def sizeHint(self) -> QSize:
        return QSize(60 * GRID, self.height())

    def paintEvent(self, event: QPaintEvent) -> None:
        if self.drawing is None:
            return
        painter = QPainter(self)
        paint(painter, QRectF(0, 0, self.width(), self.height()), self.drawing, Colours.of(self._theme))
        painter.end()


def image_of(drawing: Drawing, width: int = 660, sharpness: int = 3) -> QImage:
    """For paper: black on white."""
    font = QFont()
    # The size of type on the screen is no matter of the paper's.
    font.setPixelSize(14)
    height = height_of(drawing, font)
    image = QImage(width * sharpness, height * sharpness, QImage.Format.Format_RGB32)
    image.fill(Qt.GlobalColor.white)
    painter = QPainter(image)
    painter.scale(sharpness, sharpness)
    painter.setFont(font)
    paint(painter, QRectF(0, 0, width, height), drawing, Colours.paper())
    painter.end()
    return image


def key_words() -> str:
    """What the bars mean, for beside the picture."""
    return translate(
        "panels", "Dotted: too early. Filled: may go on. Hatched: outdoors. Diamond: done, or the end of a time."
    )
