"""How warm the shop is and will be: one figure, and a few rows typed as a forecast. Kept with the window's settings."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import UTC, datetime

from PySide6.QtCore import QObject, Signal

from app.now import Now
from app.settings import Settings
from app.typed_figures import NotAFigure, read_figure
from app.typed_moments import NotAMoment, moment_text, read_moment
from store.planning.clocks import Warmth

_STEADY, _ROWS = "temperature", "panels/forecast"
_LEAST, _MOST = -40.0, 80.0


class NotARow(ValueError):
    """A line of the forecast that is no moment with a temperature after it."""

    def __init__(self, line: str) -> None:
        super().__init__(f"not a row: {line}")
        self.line = line


def read_rows(typed: str, now: datetime) -> tuple[Warmth, ...]:
    """Lines like 'tomorrow 06:00  8' as a forecast, in the order of time. Raises NotARow."""
    rows = []
    for line in typed.splitlines():
        if not line.strip():
            continue
        words = line.replace("°C", " ").replace("°", " ").rsplit(maxsplit=1)
        try:
            figure = read_figure(words[-1])
            at = read_moment(words[0], now, ahead=True) if len(words) == 2 else None
        except (NotAFigure, NotAMoment):
            raise NotARow(line.strip()) from None
        if at is None or figure is None or not _LEAST <= figure <= _MOST:
            raise NotARow(line.strip())
        rows.append(Warmth(at, figure))
    return tuple(sorted(rows, key=lambda row: row.since))


def rows_text(rows: Sequence[Warmth]) -> str:
    """The rows as they can be read again on any day."""
    return "\n".join(f"{moment_text(row.since.astimezone())}  {row.temperature:g} °C" for row in rows)


class ShopWarmth(QObject):
    """What every clock of the job runs on.

    Signals: warmth_changed() once another figure or forecast stands.
    """

    warmth_changed = Signal()

    def __init__(self, settings: Settings, now: Now, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._settings = settings
        self._now = now

    @property
    def steady_c(self) -> float | None:
        """The one figure in degC, shared with every place that asks for a temperature."""
        text = self._settings.text(_STEADY)
        try:
            return read_figure(text)
        except NotAFigure:
            return None

    @property
    def rows(self) -> tuple[Warmth, ...]:
        try:
            return read_rows("\n".join(self._settings.texts(_ROWS)), self._now())
        except NotARow:
            return ()

    @property
    def forecast(self) -> tuple[Warmth, ...]:
        """What store.planning takes: the steady figure holds whenever a coat was put on, until the rows begin."""
        steady = self.steady_c
        before = () if steady is None else (Warmth(datetime.min.replace(tzinfo=UTC), steady),)
        return (*before, *self.rows)

    def set_rows(self, typed: str) -> None:
        """Take a typed forecast; '' for none. Raises NotARow and changes nothing then."""
        rows = read_rows(typed, self._now())
        self._settings.set_texts(_ROWS, tuple(rows_text(rows).splitlines()))
        self.warmth_changed.emit()

    def say_changed(self) -> None:
        """The one figure was changed in a field that keeps it itself."""
        self.warmth_changed.emit()
