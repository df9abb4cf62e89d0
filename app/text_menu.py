"""The menu that makes all text larger or smaller, and remembers it."""

from __future__ import annotations

from PySide6.QtCore import QObject
from PySide6.QtGui import QAction, QKeySequence
from PySide6.QtWidgets import QMenu, QWidget

from app.settings import TEXT_PERCENT, Settings
from app.theme.text_size import PERCENTS, step
from app.theme.theme import Theme


class TextMenu(QObject):
    """Larger and smaller by key, and every size by name."""

    def __init__(self, menu: QMenu, window: QWidget, theme: Theme, settings: Settings) -> None:
        super().__init__(menu)
        self._theme, self._settings = theme, settings
        self.larger = self._deed(menu, window, self.tr("Larger text"), 1)
        self.larger.setShortcuts([QKeySequence("Ctrl++"), QKeySequence("Ctrl+=")])
        self.smaller = self._deed(menu, window, self.tr("Smaller text"), -1)
        self.smaller.setShortcut(QKeySequence("Ctrl+-"))
        menu.addSeparator()
        self.sizes: dict[int, QAction] = {}
        for percent in PERCENTS:
            action = menu.addAction(self.tr("{percent} %").format(percent=percent))
            action.setCheckable(True)
            action.triggered.connect(lambda _=False, percent=percent: self.choose(percent))
            self.sizes[percent] = action
        self._show()

    def choose(self, percent: int) -> None:
        """Set the size of all text now, and for the next time."""
        self._theme.set_percent(percent)
        self._settings.set_number(TEXT_PERCENT, percent)
        self._show()

    def _deed(self, menu: QMenu, window: QWidget, words: str, by: int) -> QAction:
        action = QAction(words, window)
        action.triggered.connect(lambda: self.choose(step(self._theme.percent, by)))
        menu.addAction(action)
        return action

    def _show(self) -> None:
        now = self._theme.percent
        for percent, action in self.sizes.items():
            action.setChecked(percent == now)
        self.larger.setEnabled(now < PERCENTS[-1])
        self.smaller.setEnabled(now > PERCENTS[0])
