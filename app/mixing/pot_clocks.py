"""The clocks of mixed pots: each is started when the hardener goes in, counts down and warns before its end."""

from __future__ import annotations

from datetime import datetime

from PySide6.QtCore import QTimer, Signal
from PySide6.QtWidgets import QFrame, QLabel, QPushButton, QVBoxLayout, QWidget

from app.figure_words import duration_words
from app.flow import FlowLayout
from app.mixing.words import left_words, stage_words
from app.now import Now, now_here
from app.settings import Settings
from app.theme.theme import GRID, Theme, set_look
from app.theme.verdict_shape import VerdictWord
from store.planning.pot_life import Pot, PotStage, pot_from_text, pot_to_text

_KEY = "mixing/pots"
_SHAPES = {PotStage.FRESH: "yes", PotStage.ENDING: "yes_if", PotStage.OVER: "no"}


class PotCard(QFrame):
    """One pot that runs. Signals: emptied(PotCard)."""

    emptied = Signal(object)

    def __init__(self, pot: Pot, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        set_look(self, "card")
        self.pot = pot
        self.stage: PotStage | None = None
        name = QLabel(pot.name, self)
        name.setWordWrap(True)
        set_look(name, "lead")
        self._left = QLabel(self)
        self._left.setWordWrap(True)
        set_look(self._left, "large")
        self._state = VerdictWord(theme, "yes", stage_words(PotStage.FRESH), look="lead", parent=self)
        times = QLabel(
            self.tr("mixed {mixed}, warns {warns}, ends {ends}").format(
                mixed=_time(pot.mixed_at, pot), warns=_time(pot.warns_at, pot), ends=_time(pot.ends_at, pot)
            ),
            self,
        )
        times.setWordWrap(True)
        set_look(times, "quiet")
        self.empty_button = QPushButton(self.tr("Pot is empty"), self)
        self.empty_button.setAccessibleName(self.tr("Pot of {name} is empty").format(name=pot.name))
        self.empty_button.clicked.connect(lambda: self.emptied.emit(self))
        deeds = QWidget(self)
        FlowLayout(deeds, GRID).addWidget(self.empty_button)
        column = QVBoxLayout(self)
        column.setContentsMargins(2 * GRID, 2 * GRID, 2 * GRID, 2 * GRID)
        column.setSpacing(GRID)
        for widget in (name, self._left, self._state, times, deeds):
            column.addWidget(widget)

    @property
    def words(self) -> str:
        return self._left.text()

    def show_moment(self, now: datetime) -> PotStage:
        """Count down to this moment."""
        moment = self.pot.at(now)
        self._left.setText(left_words(moment.left))
        self._state.set_verdict(_SHAPES[moment.stage], stage_words(moment.stage))
        self.setAccessibleName(f"{self.pot.name}: {self._left.text()}, {stage_words(moment.stage)}")
        return moment.stage


class PotClocks(QWidget):
    """Several pots at once, the one that ends first on top. They go on over closing the program: what counts is
    when each was mixed.

    Signals: stage_changed(Pot, PotStage) once at each change of a pot that runs.
    """

    stage_changed = Signal(object, object)

    def __init__(self, theme: Theme, settings: Settings, now: Now = now_here, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._theme, self._settings, self._now = theme, settings, now
        self._name, self._minutes = "", 0.0
        self._cards: list[PotCard] = []
        self._life = QLabel(self)
        self._life.setWordWrap(True)
        set_look(self._life, "head")
        self._advice = QLabel(self.tr("Start the clock when the hardener goes in. It warns before the end."), self)
        self._advice.setWordWrap(True)
        set_look(self._advice, "quiet")
        self.start_button = QPushButton(self.tr("Start the pot's clock"), self)
        self.start_button.clicked.connect(self.start)
        start = QFrame(self)
        set_look(start, "card")
        deeds = QWidget(start)
        FlowLayout(deeds, GRID).addWidget(self.start_button)
        inside = QVBoxLayout(start)
        inside.setContentsMargins(2 * GRID, 2 * GRID, 2 * GRID, 2 * GRID)
        inside.setSpacing(GRID)
        for widget in (self._life, self._advice, deeds):
            inside.addWidget(widget)
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(GRID)
        self._column.addWidget(start)
        self._timer = QTimer(self)
        self._timer.setInterval(1000)
        self._timer.timeout.connect(self.look)
        self.set_pot_life("", None)
        for line in settings.text(_KEY).splitlines():
            pot = pot_from_text(line)
            if pot is not None:
                self._add(pot).show_moment(now())
        if self._cards:
            # Its first tick tells of those that have ended meanwhile, when somebody listens.
            self._timer.start()

    @property
    def cards(self) -> tuple[PotCard, ...]:
        """Those that run, as they stand from the top."""
        return tuple(self._cards)

    @property
    def words(self) -> str:
        """What the next pot would be."""
        return self._life.text()

    def set_pot_life(self, name: str, minutes: float | None) -> None:
        """What the next pot will be; without a pot life none can be started."""
        usable = minutes is not None and 0 < minutes < 60 * 24 * 366
        self._name, self._minutes = name, minutes if usable and minutes is not None else 0.0
        self.start_button.setEnabled(usable)
        life = duration_words(self._minutes) if self._minutes else self.tr("not known")
        self._life.setText(self.tr("Pot life {time}").format(time=life))

    def start(self) -> None:
        """The hardener went in now."""
        if not self._minutes:
            return
        card = self._add(Pot(self._name or self.tr("the pot"), self._now(), self._minutes))
        self._remember()
        self.look()
        card.empty_button.setFocus()

    def look(self) -> None:
        """Look at the time."""
        now = self._now()
        for card in self._cards:
            stage = card.show_moment(now)
            if stage is not card.stage:
                card.stage = stage
                self.stage_changed.emit(card.pot, stage)
        if self._cards and not self._timer.isActive():
            self._timer.start()
        elif not self._cards:
            self._timer.stop()

    def _add(self, pot: Pot) -> PotCard:
        card = PotCard(pot, self._theme, self)
        card.emptied.connect(self._on_emptied)
        at = sum(other.pot.ends_at <= pot.ends_at for other in self._cards)
        self._cards.insert(at, card)
        self._column.insertWidget(at, card)
        return card

    def _on_emptied(self, card: PotCard) -> None:
        self._cards.remove(card)
        self._column.removeWidget(card)
        card.hide()
        card.deleteLater()
        self._remember()
        self.look()
        (self._cards[0].empty_button if self._cards else self.start_button).setFocus()

    def _remember(self) -> None:
        self._settings.set_text(_KEY, "\n".join(pot_to_text(card.pot) for card in self._cards))
        # At once onto the disk: a crash must not lose when a pot was mixed.
        self._settings.flush()


def _time(at: datetime, pot: Pot) -> str:
    """The time of day; with the day where it is another one than that of mixing."""
    return at.strftime("%H:%M") if at.date() == pot.mixed_at.date() else at.strftime("%d.%m. %H:%M")
