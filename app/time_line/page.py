"""A build-up in time: when it begins, how warm it is, the picture, and every moment with its sentences."""

from __future__ import annotations

from collections.abc import Sequence
from html import escape

from PySide6.QtCore import QRectF, Qt, Signal
from PySide6.QtGui import QColor, QFont, QPainter, QResizeEvent
from PySide6.QtWidgets import QLabel, QPushButton, QSplitter, QVBoxLayout, QWidget

from app.build_up.check_page import sentences_from
from app.build_up.worked import Worked
from app.buildup_words import event_words, sequence_words
from app.empty_place import EmptyPlace
from app.flow import flowing
from app.front_stack import FrontStack
from app.grouped_list import Entry, Group, GroupedList
from app.jobs import LibraryDesk
from app.messages import message_for
from app.moment_fields import MomentField
from app.now import Now
from app.panels.warmth_form import WarmthForm
from app.printing.comparison_sheet import foot
from app.printing.fitted import Sheet, print_sheet, write_sheet
from app.printing.outlets import Outlets
from app.printing.paper import printer_for
from app.sentences import Sentence
from app.settings import Settings
from app.shop_warmth import ShopWarmth
from app.theme.text_size import fix_width, scaled
from app.theme.theme import GRID, Theme, set_look
from app.time_line.chart import Chart, chart_of
from app.time_line.measures import Measures
from app.time_line.painting import Inks, paint_chart
from app.time_line.picture import TimeLinePicture
from app.typed_moments import NotAMoment, moment_text
from store.planning.buildup import BuildUp
from store.planning.timeline import Event, timeline

_BESIDE = 96 * GRID
_PAPER_WIDTH = 900.0
"""Pixels of 1/96 inch across the narrower of A4 and Letter, turned, within the margins: words need no more lines."""
_SIZES = (10.0, 9.5, 9.0, 8.5, 8.0)


class TimeLinePage(QWidget):
    """Signals: sentence_opened(Sentence); check_wanted() where there is no build-up yet."""

    sentence_opened = Signal(object)
    check_wanted = Signal()

    def __init__(
        self,
        desk: LibraryDesk,
        outlets: Outlets,
        warmth: ShopWarmth,
        theme: Theme,
        settings: Settings,
        now: Now,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self._desk = desk
        self._outlets = outlets
        self._warmth = warmth
        self._asked = 0
        self._worked: Worked | None = None
        self._name = ""
        self.events: tuple[Event, ...] = ()
        self.start = MomentField(self.tr("When the first coat goes on"), now, self)
        fix_width(self.start, 26 * GRID)
        self.warmth_form = WarmthForm(warmth, settings, self)
        self.picture = TimeLinePicture(theme, self)
        self.list = GroupedList(theme, self.tr("Every moment"), self)
        self.list.setMinimumWidth(34 * GRID)
        self.says = QLabel(self)
        self.says.setWordWrap(True)
        set_look(self.says, "quiet")
        self.closer = QPushButton(self.tr("Closer"), self)
        self.farther = QPushButton(self.tr("Farther"), self)
        self.print_button = QPushButton(self.tr("Print …"), self)
        self.pdf_button = QPushButton(self.tr("Save as PDF …"), self)
        self.empty = EmptyPlace(
            self.tr("The time line is drawn from a build-up. Lay one first."), self.tr("Lay a build-up"), self
        )
        self.stack = FrontStack(self)
        self._lay_out()
        self.start.moment_changed.connect(self.work)
        self.start.editingFinished.connect(self.work)
        warmth.warmth_changed.connect(self._on_warmth_changed)
        self.list.entry_opened.connect(self._on_entry_opened)
        self.closer.clicked.connect(self.picture.closer)
        self.farther.clicked.connect(self.picture.farther)
        self.print_button.clicked.connect(self.print)
        self.pdf_button.clicked.connect(self.save_pdf)
        self.empty.wanted.connect(self.check_wanted)

    def show_worked(self, worked: Worked | None, name: str) -> None:
        """name is what the build-up is kept by, or ''."""
        self._worked, self._name = worked, name
        self.warmth_form.show_warmth()
        self.stack.setCurrentIndex(0 if worked is None else 1)
        self.work()

    def work(self) -> None:
        """Reckon anew, off the main thread."""
        self._asked += 1
        asked, worked = self._asked, self._worked
        if worked is None:
            return
        try:
            start = self.start.moment
        except NotAMoment as fault:
            self._show(())
            self.says.setText(
                self.tr("“{typed}” is no moment that can be read: write “today 14:05”.").format(typed=fault.typed)
            )
            return
        forecast = self._warmth.forecast
        if not forecast:
            self._show(())
            self.says.setText(self.tr("Say how warm the shop is, and the times follow."))
            return

        def done(events: tuple[Event, ...]) -> None:
            if asked == self._asked:
                self.says.clear()
                self._show(events)

        self._desk.read(lambda _: timeline(worked.build_up, worked.sheets, start, forecast), done)

    def print(self) -> None:
        printer = self._outlets.printer(self, printer_for(landscape=True))
        chart = self.picture.chart
        if printer is not None and chart is not None:
            try:
                print_sheet(printer, self._sheet(chart))
            except OSError as fault:
                self.says.setText(message_for(fault).sentence)

    def save_pdf(self) -> None:
        chart = self.picture.chart
        if chart is None:
            return
        title = self._name or self.tr("Time line")
        name = f"{title}.pdf".replace("/", "-")
        path = self._outlets.file(self, name, "pdf")
        if path is None:
            return
        try:
            write_sheet(path, self._sheet(chart), title)
        except OSError as fault:
            self.says.setText(message_for(fault).sentence)
            return
        self.says.setText(self.tr("Kept as {name}.").format(name=path.name))

    # --- inside

    def _lay_out(self) -> None:
        label = QLabel(self.tr("First coat goes on"), self)
        label.setBuddy(self.start)
        first = flowing(GRID, label, self.start)
        deeds = flowing(GRID, self.closer, self.farther, self.print_button, self.pdf_button)
        self.closer.setToolTip(self.tr("Wider (+ in the picture)"))
        self.farther.setToolTip(self.tr("Narrower (− in the picture; 0 shows all of it)"))
        self.split = QSplitter(Qt.Orientation.Horizontal, self)
        self.split.setChildrenCollapsible(False)
        self.split.setHandleWidth(2 * GRID)
        self.split.addWidget(self.picture)
        self.split.addWidget(self.list)
        self.split.setStretchFactor(0, 3)
        self.split.setStretchFactor(1, 2)
        self.split.setSizes([75 * GRID, 45 * GRID])
        whole = QWidget(self)
        column = QVBoxLayout(whole)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(GRID)
        column.addWidget(first)
        column.addWidget(self.warmth_form)
        column.addWidget(deeds)
        column.addWidget(self.says)
        column.addWidget(self.split, 1)
        self.stack.addWidget(self.empty)
        self.stack.addWidget(whole)
        outer = QVBoxLayout(self)
        outer.setContentsMargins(0, 0, 0, 0)
        outer.addWidget(self.stack)

    def _show(self, events: tuple[Event, ...]) -> None:
        self.events = events
        worked = self._worked
        chart = None if worked is None else chart_of(events, worked.build_up)
        self.picture.show_chart(chart)
        self.list.show_groups(self._groups(events))
        for button in (self.closer, self.farther, self.print_button, self.pdf_button):
            button.setEnabled(chart is not None)
        self.says.setVisible(bool(self.says.text()))

    def _groups(self, events: Sequence[Event]) -> list[Group]:
        days: dict[str, list[Entry]] = {}
        worked = self._worked
        if worked is None:
            return []
        for event in _in_time(events):
            day, clock = "", ""
            if event.at is not None:
                day, clock = moment_text(event.at.astimezone()).split(", ")
            elif event.unlimited:
                day = self.tr("Without end")
            else:
                day = self.tr("No moment known")
            days.setdefault(day, []).append(self._entry(event, worked.build_up, clock))
        return [Group(day, tuple(entries)) for day, entries in days.items()]

    def _entry(self, event: Event, build_up: BuildUp, clock: str) -> Entry:
        sentences = sentences_from(event.sources)
        beside = "\n".join(f"{sentence.quoted} {sentence.source}" for sentence in sentences)
        words = event_words(event, build_up)
        return Entry(f"{clock}  {words}" if clock else words, beside, sentences)

    def _sheet(self, chart: Chart) -> Sheet:
        """The picture over the table of moments, in black and white."""
        inks = Inks(QColor("#000000"), QColor("#333333"), QColor("#aaaaaa"), QColor("#dddddd"))
        title = QFont(self.font())
        title.setPixelSize(20)
        title.setBold(True)
        font = QFont(self.font())
        font.setPixelSize(12)
        name = self._name or (sequence_words(self._worked.build_up) if self._worked is not None else "")

        def picture(painter: QPainter, box: QRectF) -> None:
            painter.setFont(title)
            painter.setPen(inks.ink)
            words = painter.fontMetrics().elidedText(name, Qt.TextElideMode.ElideRight, int(box.width()))
            painter.drawText(QRectF(box.left(), box.top(), box.width(), 28), int(Qt.AlignmentFlag.AlignLeft), words)
            paint_chart(painter, box.adjusted(0, 32, 0, -12), chart, inks, font)

        height = Measures.of(chart, font, _PAPER_WIDTH).height(chart)
        return Sheet(self._html(), foot(), _SIZES, True, picture, height + 44)

    def _html(self) -> str:
        rows = []
        for group in self._groups(self.events):
            for entry in group.entries:
                pages = "; ".join(_sources(entry.payload))
                rows.append(
                    f"<tr><td>{escape(group.title)}</td><td>{escape(entry.words)}</td><td>{escape(pages)}</td></tr>"
                )
        return (
            '<table border="1" cellspacing="0" cellpadding="3" width="100%" '
            'style="border-collapse: collapse; border-style: solid; border-color: #000000">'
            f"{''.join(rows)}</table>"
        )

    def _on_entry_opened(self, entry: Entry) -> None:
        if isinstance(entry.payload, tuple) and entry.payload:
            self.sentence_opened.emit(entry.payload[0])

    def _on_warmth_changed(self) -> None:
        self.warmth_form.show_warmth()
        self.work()

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        beside = event.size().width() >= scaled(_BESIDE)
        self.split.setOrientation(Qt.Orientation.Horizontal if beside else Qt.Orientation.Vertical)


def _in_time(events: Sequence[Event]) -> list[Event]:
    """By their moment; what has none last, as it came."""
    timed = [(event.at, event) for event in events if event.at is not None]
    timed.sort(key=lambda pair: pair[0])
    return [*(event for _, event in timed), *(event for event in events if event.at is None)]


def _sources(payload: object) -> list[str]:
    sentences = payload if isinstance(payload, tuple) else ()
    return list(dict.fromkeys(one.source for one in sentences if isinstance(one, Sentence)))
