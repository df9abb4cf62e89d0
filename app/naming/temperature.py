"""The temperature that times are asked for: one field, the same in every place, remembered."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QValidator, QWheelEvent
from PySide6.QtWidgets import QDoubleSpinBox, QWidget

from app.settings import Settings
from app.theme.theme import GRID

_KEY = "temperature"
_LEAST, _MOST = -21.0, 60.0


class TemperatureField(QDoubleSpinBox):
    """In degC. Emptied, or below -20, it stands at 'as the sheets state', and `at_c` is None.

    Signals: temperature_chosen() when another one stands, after Enter, an arrow or leaving the field.
    """

    temperature_chosen = Signal()

    def __init__(self, settings: Settings, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._settings = settings
        self.setRange(_LEAST, _MOST)
        self.setDecimals(1)
        self.setButtonSymbols(QDoubleSpinBox.ButtonSymbols.NoButtons)
        self.setMinimumWidth(20 * GRID)
        self.setSuffix(" °C")
        self.setSpecialValueText(self.tr("as the sheets state"))
        self.setAccessibleName(self.tr("Temperature in degrees Celsius"))
        self.setToolTip(self.tr("Times for this temperature. Empty: as the sheets state them."))
        self.setKeyboardTracking(False)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.take_up()
        self.valueChanged.connect(self._on_value_changed)

    @property
    def at_c(self) -> float | None:
        return None if self.value() <= _LEAST else self.value()

    def take_up(self) -> None:
        """Show the temperature that was last chosen, here or in another place."""
        self.blockSignals(True)
        self.setValue(self._settings.number(_KEY, _LEAST))
        self.blockSignals(False)

    def set_at(self, at_c: float | None) -> None:
        """Show this one and remember it; says nothing to anybody."""
        self.blockSignals(True)
        self.setValue(_LEAST if at_c is None else at_c)
        self.blockSignals(False)
        self._settings.set_number(_KEY, self.value())

    def _on_value_changed(self, value: float) -> None:
        self._settings.set_number(_KEY, value)
        self.temperature_chosen.emit()

    def textFromValue(self, value: float) -> str:
        text = f"{value:.1f}"
        return text.removesuffix(".0").replace("-", "−")

    def valueFromText(self, text: str) -> float:
        plain = text.replace("°C", "").replace("−", "-").replace(",", ".").strip()
        try:
            return float(plain)
        except ValueError:
            return _LEAST

    def validate(self, text: str, position: int) -> tuple[QValidator.State, str, int]:
        plain = text.replace("°C", "").replace("−", "-").replace(",", ".").strip()
        if plain in {"", "-"} or text == self.specialValueText():
            return (self._state(plain not in {"-"}), text, position)
        try:
            return (self._state(_LEAST <= float(plain) <= _MOST), text, position)
        except ValueError:
            return (QValidator.State.Invalid, text, position)

    def _state(self, whole: bool) -> QValidator.State:
        return QValidator.State.Acceptable if whole else QValidator.State.Intermediate

    def stepBy(self, steps: int) -> None:
        if self.at_c is None and steps > 0:
            # From 'as the sheets state' the first step up is to a shop's temperature, not to -20.
            self.setValue(20.0)
            return
        super().stepBy(steps)

    def wheelEvent(self, event: QWheelEvent) -> None:
        # Rolling over the page must not change what is asked.
        event.ignore()
