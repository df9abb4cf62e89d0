"""The library's back-ups: making one, restoring one, and those that were made automatically."""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import (
    QDialog,
    QFrame,
    QHBoxLayout,
    QLabel,
    QListWidget,
    QListWidgetItem,
    QProgressBar,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from app.jobs import LibraryDesk
from app.library_menu.choosing import LibraryChooser
from app.library_menu.words import kept_words, last_good_words, restoring_words
from app.messages import message_for
from app.theme.theme import GRID, set_look
from store.kept_backups import BackupAbout, KeptBackup, about_backup, kept_backups, restore_any

if TYPE_CHECKING:
    from store.library import Library

Opener = Callable[[Path], "Library"]


class BackupsDialog(QDialog):
    """Open beside the window, which goes on working meanwhile.

    Signals: library_restored() once another state of the library is open.
    """

    library_restored = Signal()

    def __init__(
        self,
        desk: LibraryDesk,
        opener: Opener,
        chooser: LibraryChooser,
        still_reading: Callable[[], bool],
        parent: QWidget | None = None,
    ) -> None:
        """opener opens the library of a folder; still_reading says whether sheets are being filed right now."""
        super().__init__(parent)
        self._desk = desk
        self._opener = opener
        self._chooser = chooser
        self._still_reading = still_reading
        self._about: BackupAbout | None = None
        self.setWindowTitle(self.tr("Back-ups of the library"))
        self.setModal(False)
        self.resize(84 * GRID, 62 * GRID)
        self.back_up_button = QPushButton(self.tr("Back up to one file …"), self)
        set_look(self.back_up_button, "primary")
        self.restore_button = QPushButton(self.tr("Restore from a file …"), self)
        self.list = QListWidget(self)
        self.list.setAccessibleName(self.tr("Automatic back-ups"))
        self.list.setWordWrap(True)
        self.list.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        set_look(self.list, "choices")
        self.chosen_button = QPushButton(self.tr("Restore the chosen one …"), self)
        self.chosen_button.setEnabled(False)
        self._folder = _words(self, "quiet")
        self._last = _words(self, "topic")
        self._said = _words(self, "lead")
        self._detail = _words(self, "quiet")
        self._busy_words = _words(self, "quiet")
        self._busy = QProgressBar(self)
        self._busy.setRange(0, 0)
        self._busy.setAccessibleName(self.tr("Under way"))
        self._asking = QFrame(self)
        set_look(self._asking, "card")
        self._question = _words(self._asking, "lead")
        self.sure_button = QPushButton(self.tr("Restore it"), self._asking)
        set_look(self.sure_button, "primary")
        self.leave_button = QPushButton(self.tr("Leave everything as it is"), self._asking)
        self._lay_out()
        self.back_up_button.clicked.connect(self.back_up)
        self.restore_button.clicked.connect(self.restore)
        self.chosen_button.clicked.connect(self._on_chosen_wanted)
        self.list.itemSelectionChanged.connect(self._on_selection_changed)
        self.sure_button.clicked.connect(self._on_sure)
        self.leave_button.clicked.connect(self._forget_question)
        desk.library_opened.connect(self.look)
        self._rest()

    @property
    def said(self) -> str:
        """The last sentence on what was done."""
        return self._said.text()

    @property
    def question(self) -> str:
        return self._question.text() if not self._asking.isHidden() else ""

    @property
    def last_good(self) -> str:
        return self._last.text()

    def look(self) -> None:
        """Look again what is there."""
        self._desk.read(lambda library: (library.folder, kept_backups(library.folder)), self._on_looked)

    def back_up(self) -> None:
        """Ask where to, then write the file."""
        name = f"tinsheet {datetime.now(UTC).astimezone():%Y-%m-%d}"
        to = self._chooser.back_up_to(self, name)
        if to is None:
            return
        self._begin(self.tr("Backing up to {name} …").format(name=to.name))
        self._desk.read(lambda library: library.back_up(to), lambda _: self._on_backed_up(to), self._on_failed)

    def restore(self) -> None:
        """Ask for the file, check it, and say what will happen."""
        source = self._chooser.restore_from(self)
        if source is not None:
            self._check(source)

    # --- inside

    def _lay_out(self) -> None:
        head = QLabel(self.tr("Back-ups of the library"), self)
        set_look(head, "head")
        deeds = QHBoxLayout()
        deeds.setSpacing(GRID)
        deeds.addWidget(self.back_up_button)
        deeds.addWidget(self.restore_button)
        deeds.addStretch(1)
        sure = QHBoxLayout()
        sure.setSpacing(GRID)
        sure.addWidget(self.sure_button)
        sure.addWidget(self.leave_button)
        sure.addStretch(1)
        asking = QVBoxLayout(self._asking)
        asking.setContentsMargins(2 * GRID, 2 * GRID, 2 * GRID, 2 * GRID)
        asking.setSpacing(2 * GRID)
        asking.addWidget(self._question)
        asking.addLayout(sure)
        self._asking.hide()
        column = QVBoxLayout(self)
        column.setContentsMargins(3 * GRID, 3 * GRID, 3 * GRID, 3 * GRID)
        column.setSpacing(2 * GRID)
        column.addWidget(head)
        column.addWidget(self._folder)
        column.addLayout(deeds)
        for widget in (self._busy_words, self._busy, self._said, self._detail, self._asking, self._last):
            column.addWidget(widget)
        column.addWidget(self.list, 1)
        column.addWidget(self.chosen_button, 0, Qt.AlignmentFlag.AlignLeft)
        column.addStretch(0)

    def _check(self, source: Path) -> None:
        if self._still_reading():
            self._say(
                self.tr("Sheets are still being read. Wait for them or take them out of the list, then try again.")
            )
            return
        self._begin(self.tr("Checking {name} …").format(name=source.name))
        self._desk.read(
            lambda library: (about_backup(source, library.folder), len(library.sheets())),
            self._on_checked,
            self._on_failed,
        )

    def _on_checked(self, answer: tuple[BackupAbout, int]) -> None:
        self._rest()
        self._about, sheets_now = answer
        self._question.setText(restoring_words(self._about, sheets_now))
        # A label in a nested layout is given too little height for its lines unless it asks for it.
        self._question.setMinimumHeight(self._question.heightForWidth(self.width() - 10 * GRID))
        self._asking.show()
        # Not on the button that does it: Enter pressed too soon must change nothing.
        self.leave_button.setFocus()

    def _on_sure(self) -> None:
        about = self._about
        self._forget_question()
        if about is None:
            return
        self._begin(self.tr("Restoring, with a back-up of what is there now first …"))
        self._desk.read(lambda library: library.folder, lambda folder: self._replace(about.source, folder))

    def _replace(self, source: Path, folder: Path) -> None:
        def restored() -> Library:
            restore_any(source, folder)
            return self._opener(folder)

        self._desk.replace(restored, lambda: self._opener(folder), self._on_restored, self._on_failed)

    def _on_restored(self, _: object) -> None:
        self._rest()
        self._say(self.tr("Restored, and checked. What was there before is the newest back-up of the list."))
        self.library_restored.emit()

    def _on_backed_up(self, to: Path) -> None:
        self._rest()
        self._say(self.tr("Backed up to {name}, and checked.").format(name=str(to)))

    def _on_failed(self, error: BaseException) -> None:
        self._rest()
        message = message_for(error)
        self._say(message.sentence, message.detail)
        self.look()

    def _on_looked(self, answer: tuple[Path, tuple[KeptBackup, ...]]) -> None:
        folder, kept = answer
        self._folder.setText(self.tr("The library lies in {folder}").format(folder=str(folder)))
        self._last.setText(last_good_words(kept))
        self.list.clear()
        for one in kept:
            item = QListWidgetItem(kept_words(one), self.list)
            item.setToolTip(one.damage or str(one.path))
            item.setData(Qt.ItemDataRole.UserRole, one)
        self.list.setVisible(bool(kept))
        self.chosen_button.setVisible(bool(kept))
        self._on_selection_changed()

    def _on_selection_changed(self) -> None:
        kept = self._chosen()
        self.chosen_button.setEnabled(kept is not None and not kept.damage and self._busy.isHidden())

    def _on_chosen_wanted(self) -> None:
        kept = self._chosen()
        if kept is not None:
            self._check(kept.path)

    def _chosen(self) -> KeptBackup | None:
        items = self.list.selectedItems()
        kept = items[0].data(Qt.ItemDataRole.UserRole) if items else None
        return kept if isinstance(kept, KeptBackup) else None

    def _forget_question(self) -> None:
        self._about = None
        self._asking.hide()

    def _begin(self, words: str) -> None:
        self._forget_question()
        self._say("")
        self._busy_words.setText(words)
        self._set_busy(True)

    def _rest(self) -> None:
        self._set_busy(False)

    def _set_busy(self, busy: bool) -> None:
        self._busy.setVisible(busy)
        self._busy_words.setVisible(busy)
        for button in (self.back_up_button, self.restore_button):
            button.setEnabled(not busy)
        self._on_selection_changed()

    def _say(self, words: str, detail: str = "") -> None:
        self._said.setText(words)
        self._said.setVisible(bool(words))
        self._detail.setText(detail)
        self._detail.setVisible(bool(detail))


def _words(parent: QWidget, look: str) -> QLabel:
    label = QLabel(parent)
    label.setWordWrap(True)
    set_look(label, look)
    return label
