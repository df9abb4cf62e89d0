"""Fields for a moment and for a day, typed as people say them; what cannot be read is said under the field."""

from __future__ import annotations

from datetime import date, datetime, timedelta

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QLineEdit, QWidget

from app.now import Now
from app.typed_moments import NotAMoment, day_text, moment_text, read_day, read_moment

_STEP = timedelta(minutes=5)


class MomentField(QLineEdit):
    """Up and down step by five minutes.

    Signals: moment_changed() when another moment stands.
    """

    moment_changed = Signal()

    def __init__(self, name: str, now: Now, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._now = now
        self._at = now()
        self.setAccessibleName(name)
        self.setToolTip(self.tr("“14:05”, “yesterday 16:30”, “Thu 8:00”, “30.3. 14:05” or “now”"))
        self.editingFinished.connect(self._take_text)
        self._write()

    @property
    def moment(self) -> datetime:
        """Aware. Takes up what is typed; raises NotAMoment where that cannot be read."""
        if self.text() != moment_text(self._at):
            self._at = read_moment(self.text(), self._now())
        return self._at

    def set_moment(self, at: datetime) -> None:
        self._at = at.astimezone()
        self._write()

    def _write(self) -> None:
        self.setText(moment_text(self._at))
        self.setCursorPosition(0)

    def _take_text(self) -> None:
        before = self._at
        try:
            self._at = self.moment
        except NotAMoment:
            return  # The words stay as typed; the form says what is wrong with them when it is kept.
        self._write()
        if self._at != before:
            self.moment_changed.emit()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() in (Qt.Key.Key_Up, Qt.Key.Key_Down):
            self._take_text()
            # In UTC, so that an hour that the clocks skip is stepped over.
            step = _STEP if event.key() == Qt.Key.Key_Up else -_STEP
            self.set_moment(datetime.fromtimestamp(self._at.timestamp() + step.total_seconds(), self._at.tzinfo))
            self.moment_changed.emit()
        else:
            super().keyPressEvent(event)


class DayField(QLineEdit):
    """Empty is no day."""

    def __init__(self, name: str, now: Now, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._now = now
        self.setAccessibleName(name)
        self.setPlaceholderText(self.tr("not noted"))
        self.setToolTip(self.tr("“today”, “30.3.2026”, “3/2026” or “2026-03-30”; empty where it is not known"))
        self.editingFinished.connect(self._tidy)

    @property
    def day(self) -> date | None:
        """Raises NotAMoment where what is typed cannot be read."""
        return read_day(self.text(), self._now().date())

    def set_day(self, day: date | None) -> None:
        self.setText(day_text(day))

    def _tidy(self) -> None:
        try:
            self.set_day(self.day)
        except NotAMoment:
            return  # As in MomentField.
