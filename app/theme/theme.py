"""The look of the whole program: palette and style sheet made from the roles, switched live with the system."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Signal
from PySide6.QtGui import QColor, QFont, QPalette
from PySide6.QtWidgets import QApplication, QWidget

from app.theme.roles import DARK, LIGHT, Role
from app.theme.style_sheet import style_sheet
from app.theme.text_size import SMALL

if TYPE_CHECKING:
    from PySide6.QtCore import Qt

GRID = 8
"""Every gap is a multiple of this many device-independent pixels (or half of it between a mark and its word)."""

PICTURES = Path(__file__).with_name("icons")


class Theme(QObject):
    """Light or dark for the whole program; drawn by Qt's own style (window.py asks for it), the same on every system.

    Signals: theme_changed() once palette, text size and style sheet stand.
    """

    theme_changed = Signal()

    def __init__(self, application: QApplication, *, dark: bool | None = None, percent: int = 100) -> None:
        """dark None follows the system, and follows it live. percent: the size of all text."""
        super().__init__(application)
        self._application = application
        hints = application.styleHints()
        # The palette that the system gave says the same as its colour scheme, whose type is slow to load.
        self._dark = application.palette().window().color().lightness() < 128 if dark is None else dark
        self._percent = percent
        self._apply()
        if dark is None:
            hints.colorSchemeChanged.connect(self._on_scheme_changed)

    @property
    def dark(self) -> bool:
        return self._dark

    @property
    def roles(self) -> Mapping[Role, str]:
        return DARK if self._dark else LIGHT

    def colour(self, role: Role) -> QColor:
        return QColor(self.roles[role])

    def set_dark(self, dark: bool) -> None:
        if dark != self._dark:
            self._dark = dark
            self._apply()

    @property
    def percent(self) -> int:
        """The size of all text."""
        return self._percent

    def set_percent(self, percent: int) -> None:
        if percent != self._percent:
            self._percent = percent
            self._apply()

    def _on_scheme_changed(self, scheme: Qt.ColorScheme) -> None:
        if scheme.name != "Unknown":
            self.set_dark(scheme.name == "Dark")

    def _apply(self) -> None:
        font = QFont(self._application.font())
        size = SMALL * self._percent / 100
        if font.pointSizeF() != size:
            font.setPointSizeF(size)
            self._application.setFont(font)
        self._application.setPalette(_palette(self.roles))
        shade = "dark" if self._dark else "light"
        # With forward slashes: a style sheet reads no others.
        chevron, check = (PICTURES.joinpath(f"{name}_{shade}.svg").as_posix() for name in ("chevron", "check"))
        sheet = style_sheet(self.roles, chevron, check, percent=self._percent)
        self._application.setStyleSheet(sheet)
        self.theme_changed.emit()


def _palette(roles: Mapping[Role, str]) -> QPalette:
    palette = QPalette()
    colour = {role: QColor(value) for role, value in roles.items()}
    for which, role in (
        (QPalette.ColorRole.Window, Role.PAPER),
        (QPalette.ColorRole.WindowText, Role.INK),
        (QPalette.ColorRole.Base, Role.RAISED),
        (QPalette.ColorRole.AlternateBase, Role.PAPER),
        (QPalette.ColorRole.Text, Role.INK),
        (QPalette.ColorRole.Button, Role.RAISED),
        (QPalette.ColorRole.ButtonText, Role.INK),
        (QPalette.ColorRole.ToolTipBase, Role.RAISED),
        (QPalette.ColorRole.ToolTipText, Role.INK),
        (QPalette.ColorRole.PlaceholderText, Role.QUIET),
        (QPalette.ColorRole.Highlight, Role.ACCENT),
        (QPalette.ColorRole.HighlightedText, Role.ON_ACCENT),
        (QPalette.ColorRole.Link, Role.ACCENT),
        (QPalette.ColorRole.LinkVisited, Role.ACCENT),
        (QPalette.ColorRole.Mid, Role.LINE),
        (QPalette.ColorRole.Light, Role.RAISED),
        (QPalette.ColorRole.Dark, Role.EDGE),
    ):
        palette.setColor(which, colour[role])
    for which in (QPalette.ColorRole.WindowText, QPalette.ColorRole.Text, QPalette.ColorRole.ButtonText):
        palette.setColor(QPalette.ColorGroup.Disabled, which, colour[Role.QUIET])
    return palette


def set_look(widget: QWidget, look: str) -> None:
    """Give a widget one of the style sheet's looks ('head', 'quiet', 'primary' ...), also after it is shown."""
    widget.setProperty("look", look)
    style = widget.style()
    style.unpolish(widget)
    style.polish(widget)
