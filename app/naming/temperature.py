"""The temperature that times are asked for: one field, the same in every place, remembered."""

from __future__ import annotations

from PySide6.QtWidgets import QWidget

from app.naming.figures import FigureField
from app.settings import Settings
from app.theme.text_size import fix_width
from app.theme.theme import GRID
from app.translating import translate

_KEY = "temperature"
_LEAST, _MOST, _SHOP = -20.0, 60.0, 20.0


class TemperatureField(FigureField):
    """In degC; empty, the times are as the sheets state them, and `value` is None."""

    def __init__(self, settings: Settings, parent: QWidget | None = None) -> None:
        super().__init__(
            translate("naming", "Temperature in degrees Celsius"), "°C", _LEAST, _MOST,
            empty_words=translate("naming", "as the sheets state"), first=_SHOP, parent=parent,
        )  # fmt: skip
        self._settings = settings
        fix_width(self, 21 * GRID)
        self.take_up()
        self.figure_changed.connect(self._remember)

    def take_up(self) -> None:
        """Show the temperature that was last chosen, here or in another place."""
        text = self._settings.text(_KEY)
        super().set_value(self._settings.number(_KEY, _SHOP) if text else None)

    def set_value(self, value: float | None) -> None:
        super().set_value(value)
        self._remember()

    def _remember(self) -> None:
        self._settings.set_text(_KEY, "" if self.value is None else str(self.value))
