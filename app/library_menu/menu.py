"""The menu of the library as a whole: back-ups, and opening another one."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject
from PySide6.QtGui import QAction
from PySide6.QtWidgets import QMenu

from app.jobs import LibraryDesk
from app.library_menu.choosing import LibraryChooser
from app.library_menu.folders import no_strange_folder
from app.settings import Settings

if TYPE_CHECKING:
    from app.library_menu.dialog import BackupsDialog
    from app.shell import MainWindow
    from store.library import Library

Opener = Callable[[Path], "Library"]

OPENED_LAST = "library/folder"
"""The setting that names the library which was opened last."""


class LibraryMenu(QObject):
    """Fills a menu; the dialog of back-ups is made when it is first wanted."""

    def __init__(
        self,
        menu: QMenu,
        window: MainWindow,
        desk: LibraryDesk,
        opener: Opener,
        chooser: LibraryChooser,
        settings: Settings,
        still_reading: Callable[[], bool],
    ) -> None:
        super().__init__(window)
        self._window = window
        self._desk = desk
        self._opener = opener
        self._chooser = chooser
        self._settings = settings
        self._still_reading = still_reading
        self._dialog: BackupsDialog | None = None
        for words, does in (
            (self.tr("Back up to one file …"), self.back_up),
            (self.tr("Restore from a back-up …"), self.restore),
            (self.tr("Automatic back-ups …"), self.show_backups),
            (self.tr("Open another library …"), self.open_another),
        ):
            action = QAction(words, window)
            action.triggered.connect(lambda _=False, does=does: does())
            menu.addAction(action)

    @property
    def dialog(self) -> BackupsDialog:
        if self._dialog is None:
            from app.library_menu.dialog import BackupsDialog  # noqa: PLC0415 - brings SQLAlchemy in with it

            self._dialog = BackupsDialog(self._desk, self._opener, self._chooser, self._still_reading, self._window)
            self._dialog.library_restored.connect(self._window.evidence.close_panel)
        return self._dialog

    def show_backups(self) -> None:
        self.dialog.show()
        self.dialog.raise_()
        self.dialog.look()

    def back_up(self) -> None:
        self.show_backups()
        self.dialog.back_up()

    def restore(self) -> None:
        self.show_backups()
        self.dialog.restore()

    def open_another(self) -> None:
        """Open the library of another folder, or begin one in an empty folder."""
        if self._still_reading():
            self._window.trouble.say(
                self.tr("Sheets are still being read. Wait for them, or take them out of the list, then open another.")
            )
            return
        folder = self._chooser.library_folder(self._window)
        if folder is not None:
            self._desk.read(lambda library: library.folder, lambda before: self._open(folder, before))

    def _open(self, folder: Path, before: Path) -> None:
        def opened() -> Library:
            no_strange_folder(folder)
            return self._opener(folder)

        def done(_: object) -> None:
            self._settings.set_text(OPENED_LAST, str(folder))
            self._settings.flush()
            self._window.evidence.close_panel()

        self._desk.replace(opened, lambda: self._opener(before), done)
