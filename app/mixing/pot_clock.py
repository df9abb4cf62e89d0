"""The clock of a pot of mixed paint: started when the hardener goes in, it counts down and warns before the end."""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, datetime

from PySide6.QtCore import QTimer, Signal
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLabel, QPushButton, QVBoxLayout, QWidget

from app.figure_words import duration_words
from app.mixing.words import left_words, stage_words
from app.settings import Settings
from app.theme.theme import GRID, Theme, set_look
from app.theme.verdict_shape import VerdictWord
from store.planning.pot_life import Pot, PotStage, pot_from_text, pot_to_text

Now = Callable[[], datetime]
_KEY = "mixing/pot"
_SHAPES = {PotStage.FRESH: "yes", PotStage.ENDING: "yes_if", PotStage.OVER: "no"}


def now_here() -> datetime:
    """This moment in the machine's own zone."""
    return datetime.now(UTC).astimezone()


class PotClock(QFrame):
    """Keeps on over closing the program: what counts is when the pot was mixed.

    Signals: stage_changed(Pot, PotStage) once at each change while it runs.
    """

    stage_changed = Signal(object, object)

    def __init__(self, theme: Theme, settings: Settings, now: Now = now_here, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        set_look(self, "card")
        self._settings = settings
        self._now = now
        self._name, self._minutes = "", 0.0
        self._stage: PotStage | None = None
        self._pot: Pot | None = pot_from_text(settings.text(_KEY))
        self._left = QLabel(self)
        self._left.setWordWrap(True)
        set_look(self._left, "large")
        self._state = VerdictWord(theme, "yes", stage_words(PotStage.FRESH), look="lead", parent=self)
        self._times = QLabel(self)
        self._times.setWordWrap(True)
        set_look(self._times, "quiet")
        self.start_button = QPushButton(self.tr("Start the pot's clock"), self)
        self.stop_button = QPushButton(self.tr("Pot is empty"), self)
        self.start_button.clicked.connect(self.start)
        self.stop_button.clicked.connect(self.stop)
        deeds = QHBoxLayout()
        deeds.setSpacing(GRID)
        deeds.addWidget(self.start_button)
        deeds.addWidget(self.stop_button)
        deeds.addStretch(1)
        column = QVBoxLayout(self)
        column.setContentsMargins(2 * GRID, 2 * GRID, 2 * GRID, 2 * GRID)
        column.setSpacing(GRID)
        for widget in (self._left, self._state, self._times):
            column.addWidget(widget)
        column.addLayout(deeds)
        self._timer = QTimer(self)
        self._timer.setInterval(1000)
        self._timer.timeout.connect(self.look)
        self.set_pot_life("", None)
        self.look()

    @property
    def pot(self) -> Pot | None:
        """The one that runs."""
        return self._pot

    @property
    def words(self) -> str:
        return self._left.text()

    def set_pot_life(self, name: str, minutes: float | None) -> None:
        """What the next pot will be; without a pot life none can be started."""
        usable = minutes is not None and 0 < minutes < 60 * 24 * 366
        self._name, self._minutes = name, minutes if usable and minutes is not None else 0.0
        self.start_button.setEnabled(usable)
        self._write()

    def start(self) -> None:
        """The hardener went in now."""
        if not self._minutes:
            return
        self._pot = Pot(self._name or self.tr("the pot"), self._now(), self._minutes)
        self._stage = None
        self._settings.set_text(_KEY, pot_to_text(self._pot))
        # At once onto the disk: a crash must not lose when it was mixed.
        self._settings.flush()
        self.look()
        self.stop_button.setFocus()

    def stop(self) -> None:
        self._pot = None
        self._settings.set_text(_KEY, "")
        self.look()
        self.start_button.setFocus()

    def look(self) -> None:
        """Look at the time."""
        if self._pot is None:
            self._timer.stop()
            self._stage = None
        else:
            if not self._timer.isActive():
                self._timer.start()
            stage = self._pot.at(self._now()).stage
            if stage is not self._stage:
                self._stage = stage
                self.stage_changed.emit(self._pot, stage)
        self._write()

    def _write(self) -> None:
        pot = self._pot
        running = pot is not None
        self._state.setVisible(running)
        self.stop_button.setVisible(running)
        self.start_button.setText(self.tr("Start a new pot") if running else self.tr("Start the pot's clock"))
        if pot is None:
            life = duration_words(self._minutes) if self._minutes else self.tr("not known")
            self._left.setText(self.tr("Pot life {time}").format(time=life))
            self._times.setText(self.tr("Start the clock when the hardener goes in. It warns before the end."))
        else:
            moment = pot.at(self._now())
            self._left.setText(left_words(moment.left))
            self._state.set_verdict(_SHAPES[moment.stage], stage_words(moment.stage))
            self._times.setText(
                self.tr("{name}: mixed {mixed}, warns {warns}, ends {ends}").format(
                    name=pot.name,
                    mixed=_time(pot.mixed_at, pot),
                    warns=_time(pot.warns_at, pot),
                    ends=_time(pot.ends_at, pot),
                )
            )
        self.setAccessibleName(" ".join((self._left.text(), self._times.text())))


def _time(at: datetime, pot: Pot) -> str:
    """The time of day; with the day where it is another one than that of mixing."""
    return at.strftime("%H:%M") if at.date() == pot.mixed_at.date() else at.strftime("%d.%m. %H:%M")
