"""The main window: the places of the job down one side, the place in front, the page beside it when asked for."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QSize, QTimer, Signal
from PySide6.QtWidgets import QLabel, QMainWindow

from app.settings import Settings
from app.theme.roles import Role
from app.theme.text_size import at_every_size, scaled
from app.theme.theme import GRID, Theme, set_look

if TYPE_CHECKING:
    from PySide6.QtGui import QAction, QCloseEvent, QDragEnterEvent, QDropEvent, QPaintEvent, QResizeEvent
    from PySide6.QtWidgets import QListWidget, QSplitter, QStackedWidget, QWidget

    from app.notices import NoticeBar
    from app.page_pane.evidence_panel import EvidencePanel
    from app.place import Place
    from app.trouble_bar import TroubleBar

FIRST_SIZE = QSize(1280, 800)
SIDE_WIDTH = 168
_ABREAST = 90 * GRID
"""Where there is less room than this, the page takes the place's until it is closed."""
PLACE_KEYS = "1234567890B"
"""With Ctrl, a key for each place in its order; the bench sums come last."""


class _Opening(QLabel):
    """Signals: painted() from the event loop, once it has been seen."""

    painted = Signal()

    def paintEvent(self, event: QPaintEvent) -> None:
        super().paintEvent(event)
        QTimer.singleShot(0, self, self.painted.emit)


class MainWindow(QMainWindow):
    """Holds the places in the order of the job.

    Signals: painted() once it has been seen for the first time; files_dropped(list of Path); closing() before
    anything is let go.
    """

    painted = Signal()
    files_dropped = Signal(object)
    closing = Signal()

    evidence: EvidencePanel
    trouble: TroubleBar
    notice: NoticeBar
    _side: QListWidget
    _stack: QStackedWidget
    _split: QSplitter

    def __init__(self, theme: Theme, settings: Settings, parent: QWidget | None = None) -> None:
        """The bare frame; furnish() brings the places."""
        super().__init__(parent)
        self._places: dict[str, Place] = {}
        self._order: tuple[Place, ...] = ()
        self._theme = theme
        self._settings = settings
        self._came_from: QWidget | None = None
        self._seen = False
        self.setWindowTitle("Tinsheet")
        self.setAcceptDrops(True)
        self.setMinimumSize(QSize(720, 480))
        self._restore()

    def furnish(self, places: Sequence[Place], evidence: EvidencePanel) -> None:
        """Bring in the places, in the order of the job; the first comes to the front."""
        from PySide6.QtCore import Qt  # noqa: PLC0415 - it alone takes as long as the first paint
        from PySide6.QtWidgets import (  # noqa: PLC0415
            QHBoxLayout,
            QListWidget,
            QListWidgetItem,
            QSplitter,
            QStackedWidget,
            QVBoxLayout,
            QWidget,
        )

        from app.notices import NoticeBar  # noqa: PLC0415
        from app.roll import Roll  # noqa: PLC0415
        from app.trouble_bar import TroubleBar  # noqa: PLC0415

        self._places = {place.name: place for place in places}
        self._order = tuple(places)
        self.evidence = evidence
        self.trouble = TroubleBar(self)
        self.notice = NoticeBar(self)
        self.notice.place_wanted.connect(self.go_to)
        self._side = QListWidget(self)
        set_look(self._side, "places")
        self._side.setAccessibleName(self.tr("Places"))
        self._side.setIconSize(QSize(20, 20))
        self._side.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self._stack = QStackedWidget(self)
        self._split = QSplitter(Qt.Orientation.Horizontal, self)
        self._split.setChildrenCollapsible(False)
        self._split.addWidget(self._stack)
        middle = QVBoxLayout()
        middle.setSpacing(0)
        middle.addWidget(self.trouble)
        middle.addWidget(self.notice)
        middle.addWidget(self._split, 1)
        whole = QWidget(self)
        row = QHBoxLayout(whole)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(0)
        row.addWidget(self._side)
        row.addLayout(middle, 1)
        self.setCentralWidget(whole)
        for place in places:
            QListWidgetItem(place.title, self._side)
            self._stack.addWidget(Roll(place))
            place.evidence_opened.connect(self.show_evidence)
            place.place_wanted.connect(self.go_to)
        self._split.addWidget(evidence)
        self._split.setStretchFactor(0, 3)
        self._split.setStretchFactor(1, 2)
        evidence.hide()
        evidence.closed.connect(self._on_evidence_closed)
        self._side.currentRowChanged.connect(self._on_place_chosen)
        self._theme.theme_changed.connect(self._paint_icons)
        self._paint_icons()
        # As wide as the longest word of a place, in any language.
        self._side.ensurePolished()
        bar = self._side.verticalScrollBar().sizeHint().width()
        at_every_size(
            self._side,
            lambda: self._side.setFixedWidth(max(SIDE_WIDTH, self._side.sizeHintForColumn(0) + GRID + bar)),
        )
        # Once the list of places has its own new width.
        at_every_size(self._split, lambda: QTimer.singleShot(0, self, self._fit_evidence))
        self._make_place_menu()
        self._side.setCurrentRow(0)

    @property
    def place(self) -> Place:
        """The place in front."""
        return self._order[max(self._side.currentRow(), 0)]

    @property
    def places(self) -> Sequence[Place]:
        return self._order

    def go_to(self, name: str, payload: object = None) -> None:
        """Bring a place to the front; an unknown name changes nothing."""
        place = self._places.get(name)
        if place is None:
            return
        self._side.setCurrentRow(self._order.index(place))
        if payload is not None:
            place.come_with(payload)

    def show_evidence(self, sheet_id: int, page: int, boxes: object) -> None:
        """The page beside the place in front, the boxes lit."""
        first = self.evidence.isHidden()
        focused = self.focusWidget()
        if focused is not None and not self.evidence.isAncestorOf(focused):
            self._came_from = focused
        self.evidence.open(sheet_id, page, tuple(boxes))  # type: ignore[arg-type]
        self.evidence.pane.setFocus()
        if first and not self._settings.restore_splitter("evidence", self._split):
            self._split.setSizes([3 * self.width() // 5, 2 * self.width() // 5])
        self._fit_evidence()

    def _fit_evidence(self) -> None:
        """Place and page side by side where both can be read, else the page alone."""
        covered = not self.evidence.isHidden() and self._split.width() < scaled(_ABREAST)
        self._stack.setVisible(not covered)

    def _make_place_menu(self) -> None:
        from PySide6.QtGui import QAction, QKeySequence  # noqa: PLC0415 - after the first paint

        menu = self.menuBar().addMenu(self.tr("&Go"))
        self._place_actions: list[QAction] = []
        for place, key in zip(self._order, PLACE_KEYS, strict=False):
            action = QAction(place.title, self)
            action.setShortcut(QKeySequence(f"Ctrl+{key}"))
            action.triggered.connect(lambda _=False, name=place.name: self.go_to(name))
            menu.addAction(action)
            self._place_actions.append(action)

    def _paint_icons(self) -> None:
        from app.theme.icons import icon  # noqa: PLC0415 - after the first paint

        for row, place in enumerate(self._order):
            self._side.item(row).setIcon(icon(place.icon_name, self._theme.colour(Role.INK)))

    def _restore(self) -> None:
        if not self._settings.restore_window(self):
            self.resize(FIRST_SIZE)

    def _say_opening(self) -> None:
        if self._order:
            self.painted.emit()
            return
        opening = _Opening(self.tr("Opening …"), self)
        opening.setContentsMargins(3 * GRID, 2 * GRID, 3 * GRID, 2 * GRID)
        opening.setIndent(SIDE_WIDTH)
        # Not by set_look: asking for the style takes longer than the whole frame, and nothing is polished yet.
        opening.setProperty("look", "lead")
        opening.painted.connect(self.painted)
        self.setCentralWidget(opening)

    def _on_place_chosen(self, row: int) -> None:
        if row >= 0:
            if self._stack.isHidden():
                self.evidence.close_panel()
            self._stack.setCurrentIndex(row)
            self._order[row].activated()

    def _on_evidence_closed(self) -> None:
        if self._stack.isHidden():
            self._stack.show()
        else:
            self._settings.keep_splitter("evidence", self._split)
        # Back to where the sentence was opened from, if that is still there to go to.
        from shiboken6 import isValid  # noqa: PLC0415 - after the first paint

        came_from = self._came_from
        there = came_from is not None and isValid(came_from) and self.place.isAncestorOf(came_from)
        back = came_from if there and came_from is not None else self.place
        back.setFocus()

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        if self._order:
            self._fit_evidence()

    def paintEvent(self, event: QPaintEvent) -> None:
        super().paintEvent(event)
        if not self._seen:
            self._seen = True
            # From the event loop: the first word waits for the fonts, and the frame is to be on the screen before it.
            QTimer.singleShot(0, self, self._say_opening)

    def dragEnterEvent(self, event: QDragEnterEvent) -> None:
        if event.mimeData().hasUrls():
            event.acceptProposedAction()

    def dropEvent(self, event: QDropEvent) -> None:
        paths = [Path(url.toLocalFile()) for url in event.mimeData().urls() if url.isLocalFile()]
        event.acceptProposedAction()
        self.files_dropped.emit(paths)

    def closeEvent(self, event: QCloseEvent) -> None:
        if self._order and not self.evidence.isHidden() and not self._stack.isHidden():
            self._settings.keep_splitter("evidence", self._split)
        self._settings.keep_window(self)
        for place in self._order:
            place.keep()
        self._settings.flush()
        self.closing.emit()
        super().closeEvent(event)
