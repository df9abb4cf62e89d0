"""Finding a build-up: what is there, what comes in between, what goes on top; from the shelf or from all sheets."""

from __future__ import annotations

from collections.abc import Callable
from enum import StrEnum

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import (
    QCheckBox,
    QComboBox,
    QFrame,
    QGridLayout,
    QHBoxLayout,
    QLabel,
    QProgressBar,
    QPushButton,
    QScrollArea,
    QSplitter,
    QVBoxLayout,
    QWidget,
)

from app.build_up.find_view import FindView, FoundIn
from app.build_up.search import Asked, BuildUpSearch
from app.build_up.stops import StopsEditor
from app.empty_place import EmptyPlace
from app.front_stack import FrontStack
from app.naming.book import NameBook
from app.naming.field import NameField
from app.naming.temperature import TemperatureField
from app.settings import Settings
from app.theme.text_size import scaled
from app.theme.theme import GRID, Theme, set_look
from store.planning.finder import FindResult, Wanted
from store.rules.reach import party_of

_BESIDE = 88 * GRID
_LOOK_IN = "build_up/look_in"


class Where(StrEnum):
    """Where to look."""

    BOTH = "both"
    SHELF = "shelf"
    ALL = "all"


_SHELF_THEN_ALL = {Where.BOTH: (True, False), Where.SHELF: (True,), Where.ALL: (False,)}


class FindPage(QWidget):
    """Signals: sentence_opened(Sentence); opening_wanted(BuildUp); shelf_wanted() to put tins there;
    trouble_came(error)."""

    sentence_opened = Signal(object)
    opening_wanted = Signal(object)
    shelf_wanted = Signal()
    trouble_came = Signal(object)

    def __init__(
        self, book: NameBook, search: BuildUpSearch, theme: Theme, settings: Settings, parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self._search = search
        self._settings = settings
        self.surface = NameField(book, self.tr("What is found there"), hint=self.tr("bare steel …"), parent=self)
        self.finish = NameField(book, self.tr("The finish"), hint=self.tr("a topcoat"), parent=self)
        self.stops = StopsEditor(book, theme, self)
        self.temperature = TemperatureField(settings, self)
        self.source = QComboBox(self)
        self.source.setAccessibleName(self.tr("Where to look"))
        for words, where in (
            (self.tr("the shelf first, then all sheets"), Where.BOTH),
            (self.tr("what is on the shelf"), Where.SHELF),
            (self.tr("all filed sheets"), Where.ALL),
        ):
            self.source.addItem(words, where.value)
        self.source.setCurrentIndex(max(self.source.findData(settings.text(_LOOK_IN)), 0))
        self.unsaid = QCheckBox(self.tr("also with contacts that no sheet speaks of"), self)
        self.go = QPushButton(self.tr("Find build-ups"), self)
        set_look(self.go, "primary")
        self._missing = QLabel(self)
        self._missing.setWordWrap(True)
        set_look(self._missing, "quiet")
        self.view = FindView(theme, self)
        self.waiting = QWidget(self)
        self.counted = QLabel(self)
        self.cancel = QPushButton(self.tr("Cancel"), self)
        self.empty = EmptyPlace(
            self.tr("Name what is found there, what comes in between and the finish: the allowed build-ups come best "
                    "first, each with its sentences."),
            self.tr("Name what is found there"),
            self,
        )  # fmt: skip
        self._wanted: Wanted | None = None
        self._ahead: list[bool] = []
        self._parts: list[FoundIn] = []
        self._empty_does: Callable[[], object] = self._name_surface
        self.stack = FrontStack(self)
        self._lay_out()
        self.go.clicked.connect(self.look)
        self.cancel.clicked.connect(self._on_cancelled)
        self.empty.wanted.connect(self._on_empty_wanted)
        self.view.sentence_opened.connect(self.sentence_opened)
        self.view.opening_wanted.connect(self.opening_wanted)
        search.contacts_judged.connect(self._on_judged)
        search.found.connect(self._on_found)
        search.shelf_bare.connect(self._on_shelf_bare)
        search.trouble_came.connect(self._on_trouble)
        self.surface.meaning_changed.connect(lambda _: self._say_missing())
        self.finish.meaning_changed.connect(lambda _: self._say_missing())
        self._say_missing()

    def activated(self) -> None:
        self.temperature.take_up()
        self.surface.line.setFocus(Qt.FocusReason.OtherFocusReason)

    def look(self) -> None:
        """Begin the search, if what is asked is whole."""
        surface, finish = self.surface.meaning, self.finish.meaning
        if surface is None or finish is None:
            (self.surface if surface is None else self.finish).line.setFocus()
            return
        wanted = Wanted(
            party_of(surface), party_of(finish), self.stops.stops, self.temperature.value, self.unsaid.isChecked()
        )
        self._settings.set_text(_LOOK_IN, str(self.source.currentData()))
        self._wanted, self._parts = wanted, []
        self._ahead = list(_SHELF_THEN_ALL[Where(self.source.currentData())])
        self.counted.setText(self.tr("Reading the sheets …"))
        self.stack.setCurrentWidget(self.waiting)
        self.cancel.setFocus()
        self._go_on()

    def forget_result(self) -> None:
        """The library changed, or another was opened: what was found may no longer hold."""
        if self._search.running:
            self._search.leave()
        if self.stack.currentWidget() is not self.empty:
            self._say_empty(
                self.tr("The library changed: look again."), self.tr("Find build-ups"), self.look
            )  # fmt: skip

    def clear(self) -> None:
        """Another library: the names mean nothing any more."""
        self._search.leave()
        self.surface.set_meaning(None)
        self.finish.set_meaning(None)
        self.stops.set_stops(())
        self.stack.setCurrentWidget(self.empty)
        self._say_missing()

    # --- inside

    def _lay_out(self) -> None:
        form = QWidget()
        grid = QGridLayout()
        grid.setHorizontalSpacing(GRID)
        grid.setVerticalSpacing(GRID)
        rows: tuple[tuple[str, QWidget], ...] = (
            (self.tr("On"), self.surface),
            (self.tr("between"), self.stops),
            (self.tr("finish"), self.finish),
            (self.tr("at"), self.temperature),
            (self.tr("out of"), self.source),
        )
        for at, (words, field) in enumerate(rows):
            label = QLabel(words, form)
            label.setBuddy(field)
            set_look(label, "beside")
            grid.addWidget(label, at, 0, Qt.AlignmentFlag.AlignTop)
            grid.addWidget(field, at, 1)
        grid.setColumnStretch(1, 1)
        inside = QVBoxLayout(form)
        inside.setContentsMargins(0, 0, GRID, 0)
        inside.setSpacing(GRID)
        inside.addLayout(grid)
        inside.addWidget(self.unsaid)
        inside.addWidget(self.go, 0, Qt.AlignmentFlag.AlignLeft)
        inside.addWidget(self._missing)
        inside.addStretch(1)
        side = QScrollArea(self)
        side.setWidgetResizable(True)
        side.setFrameShape(QFrame.Shape.NoFrame)
        side.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        side.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        side.setMinimumWidth(44 * GRID)
        side.setWidget(form)
        bar = QProgressBar(self.waiting)
        bar.setRange(0, 0)
        bar.setAccessibleName(self.tr("Looking for build-ups"))
        wait = QVBoxLayout(self.waiting)
        wait.addStretch(1)
        set_look(self.counted, "lead")
        wait.addWidget(self.counted)
        wait.addWidget(bar)
        row = QHBoxLayout()
        row.addWidget(self.cancel)
        row.addStretch(1)
        wait.addLayout(row)
        wait.addStretch(2)
        for page in (self.empty, self.waiting, self.view):
            self.stack.addWidget(page)
        self.split = QSplitter(Qt.Orientation.Horizontal, self)
        self.split.setChildrenCollapsible(False)
        self.split.setHandleWidth(2 * GRID)
        self.split.addWidget(side)
        self.split.addWidget(self.stack)
        self.split.setStretchFactor(1, 1)
        self.split.setSizes([56 * GRID, 80 * GRID])
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(self.split)

    def _say_missing(self) -> None:
        missing = [
            words
            for field, words in ((self.surface, self.tr("what is found there")), (self.finish, self.tr("the finish")))
            if field.meaning is None
        ]
        names = self.tr(" and ").join(missing)
        self._missing.setText(self.tr("Still to be named: {names}.").format(names=names) if missing else "")
        self._missing.setVisible(bool(missing))

    def _say_empty(self, words: str, deed: str, does: Callable[[], object]) -> None:
        self.empty.say(words, deed)
        self._empty_does = does
        self.stack.setCurrentWidget(self.empty)

    def _on_empty_wanted(self) -> None:
        self._empty_does()

    def _name_surface(self) -> None:
        self.surface.line.setFocus()

    def _on_cancelled(self) -> None:
        self._search.leave()
        self._say_empty(
            self.tr("The search was left. What is asked still stands."), self.tr("Find build-ups"), self.look
        )
        self.go.setFocus()

    def _on_judged(self, count: int) -> None:
        self.counted.setText(self.tr("{count} contacts looked at …").format(count=count))

    def _go_on(self) -> None:
        """Look where it is to be looked next, or show what was found."""
        if self._wanted is not None and self._ahead:
            self._search.start(Asked(self._wanted, self._ahead[0]))
            return
        self.view.show_results(self._parts)
        self.stack.setCurrentWidget(self.view)
        self.view.setFocus()

    def _on_found(self, result: FindResult | None) -> None:
        self._parts.append(FoundIn(self._ahead.pop(0), result))
        self._go_on()

    def _on_shelf_bare(self) -> None:
        """There is nothing to look in."""
        if len(self._ahead) > 1:
            self._on_found(None)
        elif self._ahead == [True]:
            self._say_empty(
                self.tr("No tin with paint in it is on the shelf. Put tins there, or look in all filed sheets."),
                self.tr("To the shelf"),
                self.shelf_wanted.emit,
            )
        else:
            self._say_empty(self.tr("No sheets are filed yet."), "", self._name_surface)

    def _on_trouble(self, error: BaseException) -> None:
        self._say_empty(self.tr("The search came to nothing."), self.tr("Find build-ups"), self.look)
        self.trouble_came.emit(error)

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        beside = event.size().width() >= scaled(_BESIDE)
        self.split.setOrientation(Qt.Orientation.Horizontal if beside else Qt.Orientation.Vertical)
