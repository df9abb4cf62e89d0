"""Tells of what falls due before it is too late: by the system's tray, or by a bar in the window where it has none.

Each matter is told once, also across restarts: what was told is kept in the library.
"""

from __future__ import annotations

from collections.abc import Sequence
from enum import Enum
from typing import TYPE_CHECKING, Protocol

from PySide6.QtCore import QObject, QTimer, Signal
from PySide6.QtGui import QIcon, QResizeEvent
from PySide6.QtWidgets import (
    QApplication,
    QBoxLayout,
    QFrame,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QSystemTrayIcon,
    QWidget,
)

from app.due_list.words import due_short
from app.job_words import due_words
from app.jobs import LibraryChange, LibraryDesk
from app.mixing.words import left_words, stage_words
from app.now import Now
from app.panels.held import hold
from app.shop_warmth import ShopWarmth
from app.theme.text_size import scaled
from app.theme.theme import GRID, set_look
from store.planning.due import Alert, alerts
from store.planning.pot_life import Pot, PotStage

if TYPE_CHECKING:
    from store.library import Library

LEAD_MINUTES = 60.0
"""How long before a time runs out it is told."""
_TICK = 30_000
_BESIDE = 80 * GRID


class Matter(Enum):
    """What is told of: the place that shows it, and what to show there."""

    DUE = ("panels", "due")
    POT = ("mixing", None)


class Tray(Protocol):
    """Where the system shows a notice. `told` says whether it could."""

    def tell(self, title: str, words: str) -> bool: ...


class SystemTray(QObject):
    """The desktop's own notices. Signals: clicked()."""

    clicked = Signal()

    def __init__(self, icon: QIcon, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._icon = icon
        self._tray: QSystemTrayIcon | None = None

    def tell(self, title: str, words: str) -> bool:
        """Shown only while there is something to tell, so that no icon stands about."""
        if not (QSystemTrayIcon.isSystemTrayAvailable() and QSystemTrayIcon.supportsMessages()):
            return False
        if self._tray is None:
            self._tray = QSystemTrayIcon(self._icon, self)
            self._tray.messageClicked.connect(self.clicked)
            self._tray.activated.connect(lambda _: self.clicked.emit())
        self._tray.show()
        self._tray.showMessage(title, words, self._icon)
        return True

    def hide(self) -> None:
        if self._tray is not None:
            self._tray.hide()


class NoticeBar(QFrame):
    """A band over the place in front. Signals: place_wanted(name, payload)."""

    place_wanted = Signal(str, object)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        set_look(self, "caution")
        self.setAccessibleName(self.tr("What falls due"))
        self._words = QLabel(self)
        self._words.setWordWrap(True)
        self._matter = Matter.DUE
        self.open_button = QPushButton(self.tr("Open Panels"), self)
        self.open_button.clicked.connect(lambda: self.place_wanted.emit(*self._matter.value))
        self.open_button.clicked.connect(self.hide)
        self.read_button = QPushButton(self.tr("Understood"), self)
        self.read_button.clicked.connect(self.hide)
        self._row = QBoxLayout(QBoxLayout.Direction.LeftToRight, self)
        self._row.setContentsMargins(2 * GRID, GRID, 2 * GRID, GRID)
        self._row.setSpacing(GRID)
        self._row.addWidget(self._words, 1)
        deeds = QHBoxLayout()
        deeds.setSpacing(GRID)
        deeds.addWidget(self.open_button)
        deeds.addWidget(self.read_button)
        deeds.addStretch(1)
        self._row.addLayout(deeds)
        self.hide()

    @property
    def words(self) -> str:
        return self._words.text()

    def say(self, words: str, matter: Matter) -> None:
        """What is not yet marked as understood stays, under what is new."""
        if self.isVisible():
            older = [line for line in self._words.text().splitlines() if line not in words]
            words = "\n".join((words, *older))
        self._matter = matter
        self.open_button.setText(self.tr("Open Mix and buy") if matter is Matter.POT else self.tr("Open Panels"))
        self._words.setText(words)
        self._words.setAccessibleName(words)
        self.show()

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        beside = event.size().width() >= scaled(_BESIDE)
        self._row.setDirection(QBoxLayout.Direction.LeftToRight if beside else QBoxLayout.Direction.TopToBottom)


class Notices(QObject):
    """Looks at every tick and after every change of the job."""

    def __init__(
        self, desk: LibraryDesk, warmth: ShopWarmth, now: Now, tray: Tray, bar: NoticeBar, parent: QObject | None = None
    ) -> None:
        super().__init__(parent)
        self._desk, self._warmth, self._now, self._tray, self._bar = desk, warmth, now, tray, bar
        self._looking = False
        self._last = Matter.DUE
        self._timer = QTimer(self)
        self._timer.setInterval(_TICK)
        self._timer.timeout.connect(self.look)
        desk.library_opened.connect(self._on_library_opened)
        desk.library_changed.connect(self._on_library_changed)
        warmth.warmth_changed.connect(self.look)

    def look(self) -> None:
        """Find what is newly due, remember it as told, and tell it."""
        if not self._desk.ready or self._looking:
            return
        self._looking = True
        now, forecast = self._now(), self._warmth.forecast

        def work(library: Library) -> tuple[Alert, ...]:
            due = alerts(hold(library).due(now, forecast), now, LEAD_MINUTES)
            raised = library.alerts_raised()
            new = tuple(alert for alert in due if alert.key not in raised)
            if new:
                library.remember_alerts([alert.key for alert in new], [alert.key for alert in due])
            return new

        self._desk.read(work, self._on_found, self._on_failed)

    @property
    def last(self) -> Matter:
        """What was told of last."""
        return self._last

    def tell_of_pot(self, pot: Pot, stage: PotStage) -> None:
        """A pot of mixed paint comes to its end, or is past it."""
        if stage is PotStage.FRESH:
            return
        title, words = f"{pot.name}: {left_words(pot.at(self._now()).left)}", stage_words(stage)
        self._last = Matter.POT
        if not self._tray.tell(title, words):
            self._bar.say(f"{title}. {words}", Matter.POT)
        # The window may lie behind others while somebody sprays.
        QApplication.alert(self._bar.window())
        QApplication.beep()

    def stop(self) -> None:
        """No more looks."""
        self._timer.stop()

    def _on_found(self, new: Sequence[Alert]) -> None:
        self._looking = False
        if not new:
            return
        lines = [due_words(alert.item) for alert in new]
        words = "\n".join(lines)
        self._last = Matter.DUE
        first = new[0].item
        title = f"{first.panel}: {due_short(first, self._now()).word}"
        if not self._tray.tell(title, words):
            self._bar.say(words, Matter.DUE)

    def _on_failed(self, error: BaseException) -> None:
        self._looking = False
        self._desk.trouble_came.emit(error)

    def _on_library_opened(self) -> None:
        self._timer.start()
        self.look()

    def _on_library_changed(self, change: LibraryChange) -> None:
        if change.job or change.sheets or change.everything or change.filed:
            self.look()
