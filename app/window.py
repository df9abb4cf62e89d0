"""Opens the window: the bare frame is painted first, then furnished, and the library is opened in a job after that.

What is imported here is what the first paint waits for; everything else comes with app/wiring.py.
"""

from __future__ import annotations

import os
import signal
import sys
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject
from PySide6.QtWidgets import QApplication

from app.language import take_up
from app.screen import NO_SCREEN, no_screen
from app.settings import Settings, settings_path, text_percent
from app.shell import MainWindow
from app.theme.theme import Theme

if TYPE_CHECKING:
    from app.wiring import Wiring


class Start(QObject):
    """Shows the frame, furnishes it once it is painted, lets everything go at the end."""

    def __init__(self, application: QApplication, folder: Callable[[], Path], settings: Settings) -> None:
        super().__init__()
        self._folder = folder
        self._settings = settings
        self._theme = Theme(application, percent=text_percent(settings))
        self.window = MainWindow(self._theme, settings)
        self.window.painted.connect(self.furnish)
        self.wiring: Wiring | None = None

    def show(self) -> None:
        """furnish() follows once the frame has been painted."""
        self.window.show()

    def furnish(self) -> None:
        """Bring in the places and open the library."""
        from app.wiring import Runners, Wiring, open_library  # noqa: PLC0415 - after the first paint

        if self.wiring is not None or not self.window.isVisible():
            return
        folder = self._folder
        self.wiring = Wiring(
            lambda: open_library(folder()), self._theme, self._settings, Runners.threads(), window=self.window
        )
        self.wiring.open_library()

    def close(self) -> None:
        """Finish every decision, end every thread and child."""
        if self.wiring is not None:
            self.wiring.close()


def run(library: Path | None, demo: bool) -> int:
    """Open the window on a library folder (None: the user's own) or on the demo library; returns the exit status."""
    if demo:
        from app.demo import demo_folder, show_without_screen  # noqa: PLC0415 - only for the demo

        if no_screen():
            return show_without_screen()
        return _run(demo_folder, settings_path().with_name("demo.ini"))
    if no_screen():
        print(NO_SCREEN, file=sys.stderr)
        return 1
    if library is not None:
        return _run(lambda: library, settings_path())
    return _run(lambda: last_folder(Settings(settings_path())), settings_path())


def last_folder(settings: Settings) -> Path:
    """The library that was opened last, if it is still there; this user's own otherwise."""
    from app.library_menu.menu import OPENED_LAST  # noqa: PLC0415 - after the first paint

    kept = settings.text(OPENED_LAST)
    return Path(kept) if kept and Path(kept).is_dir() else own_folder()


def own_folder() -> Path:
    """Where this user's library lies."""
    from platformdirs import user_data_path  # noqa: PLC0415 - kept off the way to the first paint

    return user_data_path("tinsheet", appauthor=False) / "library"


def _run(folder: Callable[[], Path], settings_file: Path) -> int:
    # Said to Qt before it starts: asked of it afterwards, the style costs a tenth of the time to the first paint.
    os.environ["QT_STYLE_OVERRIDE"] = "Fusion"
    application = QApplication(sys.argv[:1])
    application.setApplicationName("Tinsheet")
    take_up(application)
    start = Start(application, folder, Settings(settings_file))
    application.aboutToQuit.connect(start.close)
    # Ctrl+C in a terminal ends it at once: every decision is in the library already, and children follow.
    signal.signal(signal.SIGINT, signal.SIG_DFL)
    start.show()
    status = application.exec()
    start.close()
    return status
