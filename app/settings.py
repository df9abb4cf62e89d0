"""What the window remembers, in an INI file of its own at a place that is said, not guessed."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QByteArray, QRect, QSettings, QStandardPaths
from PySide6.QtGui import QGuiApplication

if TYPE_CHECKING:
    from PySide6.QtWidgets import QHeaderView, QSplitter, QWidget


TEXT_PERCENT = "text/percent"


def settings_path() -> Path:
    """Where the program keeps them for this user."""
    # Qt's own answer: the first paint waits for the size kept there, and would wait for another library too.
    where = QStandardPaths.writableLocation(QStandardPaths.StandardLocation.GenericConfigLocation)
    return Path(where) / "tinsheet" / "window.ini"


class Settings:
    """Sizes and last choices by key. A value that cannot be read counts as none."""

    def __init__(self, path: Path) -> None:
        self._store = QSettings(str(path), QSettings.Format.IniFormat)

    def text(self, key: str, otherwise: str = "") -> str:
        value = self._store.value(key, otherwise)
        return value if isinstance(value, str) else otherwise

    def set_text(self, key: str, value: str) -> None:
        self._store.setValue(key, value)

    def number(self, key: str, otherwise: float) -> float:
        try:
            return float(self.text(key, str(otherwise)))
        except ValueError:
            return otherwise

    def set_number(self, key: str, value: float) -> None:
        self._store.setValue(key, str(value))

    def texts(self, key: str) -> tuple[str, ...]:
        """A list kept with set_texts, as it was."""
        value = self._store.value(key)
        if isinstance(value, str):
            return (value,) if value else ()
        if isinstance(value, list):
            return tuple(v for v in value if isinstance(v, str))
        return ()

    def set_texts(self, key: str, values: tuple[str, ...]) -> None:
        self._store.setValue(key, list(values))

    def keep_window(self, window: QWidget) -> None:
        self._store.setValue("window/geometry", window.saveGeometry())

    def restore_window(self, window: QWidget) -> bool:
        """The window as it was left, unless no screen that exists now would show it. Says whether it was restored."""
        geometry = self._bytes("window/geometry")
        if geometry is None or not window.restoreGeometry(geometry):
            return False
        return on_a_screen(window.frameGeometry())

    def keep_splitter(self, name: str, splitter: QSplitter) -> None:
        self._store.setValue(f"splitter/{name}", splitter.saveState())

    def restore_splitter(self, name: str, splitter: QSplitter) -> bool:
        state = self._bytes(f"splitter/{name}")
        return state is not None and splitter.restoreState(state)

    def keep_columns(self, name: str, header: QHeaderView) -> None:
        self._store.setValue(f"columns/{name}", header.saveState())

    def restore_columns(self, name: str, header: QHeaderView) -> bool:
        state = self._bytes(f"columns/{name}")
        return state is not None and header.restoreState(state)

    def flush(self) -> None:
        """Write to the file now."""
        self._store.sync()

    def _bytes(self, key: str) -> QByteArray | None:
        value = self._store.value(key)
        return value if isinstance(value, QByteArray) else None


def text_percent(settings: Settings) -> int:
    """The size of all text that was chosen last; 100 where none was, or where nobody could have chosen it."""
    kept = round(settings.number(TEXT_PERCENT, 100))
    return kept if 100 <= kept <= 200 else 100


def on_a_screen(frame: QRect, least: int = 64) -> bool:
    """Whether some screen shows at least a square of `least` pixels of the frame's title bar and body."""
    for screen in QGuiApplication.screens():
        seen = screen.availableGeometry().intersected(frame)
        if seen.width() >= least and seen.height() >= least and frame.top() >= screen.availableGeometry().top() - 8:
            return True
    return False
