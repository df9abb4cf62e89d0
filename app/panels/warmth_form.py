"""How warm it is and will be: one figure, and a forecast of a few typed rows folded under it."""

from __future__ import annotations

from PySide6.QtWidgets import QHBoxLayout, QLabel, QPlainTextEdit, QPushButton, QVBoxLayout, QWidget

from app.flow import flowing
from app.naming.temperature import TemperatureField
from app.settings import Settings
from app.shop_warmth import NotARow, ShopWarmth, rows_text
from app.theme.text_size import fix_height, limit_width
from app.theme.theme import GRID, set_look


class WarmthForm(QWidget):
    """Changes the shop's warmth, which says so itself."""

    def __init__(self, warmth: ShopWarmth, settings: Settings, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._warmth = warmth
        self.temperature = TemperatureField(settings, self)
        self.temperature.setPlaceholderText(self.tr("not known"))
        self.fold = QPushButton(self.tr("Forecast"), self)
        self.fold.setCheckable(True)
        self.rows = QPlainTextEdit(self)
        self.rows.setTabChangesFocus(True)
        self.rows.setAccessibleName(self.tr("Forecast, a time and a temperature on each line"))
        self.rows.setPlaceholderText(self.tr("today 18:00  12\ntomorrow 06:00  6\ntomorrow 12:00  15"))
        fix_height(self.rows, 11 * GRID)
        self.take_button = QPushButton(self.tr("Use this forecast"), self)
        self._said = QLabel(self)
        self._said.setWordWrap(True)
        set_look(self._said, "quiet")
        row = flowing(GRID, QLabel(self.tr("The shop is at"), self), self.temperature, self.fold, parent=self)
        self._folded = QWidget(self)
        inside = QHBoxLayout(self._folded)
        inside.setContentsMargins(0, 0, 0, 0)
        inside.setSpacing(GRID)
        inside.addWidget(self.rows, 1)
        inside.addWidget(self.take_button)
        limit_width(self._folded, 72 * GRID)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(GRID)
        column.addWidget(row)
        column.addWidget(self._folded)
        column.addWidget(self._said)
        self._folded.hide()
        self.fold.toggled.connect(self._on_fold_toggled)
        self.temperature.figure_changed.connect(self._on_figure_changed)
        self.take_button.clicked.connect(self.take)
        self.show_warmth()

    def show_warmth(self) -> None:
        """Take up what was kept, here or elsewhere."""
        self.temperature.take_up()
        rows = self._warmth.rows
        if not self.rows.hasFocus():
            self.rows.setPlainText(rows_text(rows))
        self.fold.setText(self.tr("Forecast ({count})").format(count=len(rows)) if rows else self.tr("Forecast"))
        if self.temperature.value is None and not rows:
            self._say(self.tr("Without a temperature only times that a sheet gives for any warmth can be told."))
        else:
            self._say("")

    def take(self) -> None:
        """Use what is typed as forecast."""
        try:
            self._warmth.set_rows(self.rows.toPlainText())
        except NotARow as fault:
            self._say(
                self.tr("“{line}” is not a row. Type a time, then the temperature: “tomorrow 06:00 8”.").format(
                    line=fault.line
                )
            )
            return
        self.rows.setPlainText(rows_text(self._warmth.rows))
        self.show_warmth()

    @property
    def said(self) -> str:
        return self._said.text()

    def _say(self, words: str) -> None:
        self._said.setText(words)
        self._said.setVisible(bool(words))

    def _on_fold_toggled(self, opened: bool) -> None:
        self._folded.setVisible(opened)
        if opened:
            self.rows.setFocus()

    def _on_figure_changed(self) -> None:
        self._warmth.say_changed()
        self.show_warmth()
