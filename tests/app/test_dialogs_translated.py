"""Every word beside the window goes through translation too: dialogs, notices, troubles, tables for spreadsheets."""

from __future__ import annotations

import csv
from collections.abc import Callable
from datetime import datetime, timedelta
from pathlib import Path

import pytest
from other_alphabet import Owned, owned, strange_words
from PySide6.QtCore import QLibraryInfo, QTimer
from PySide6.QtGui import QAction
from PySide6.QtPrintSupport import QPrintDialog, QPrinter
from PySide6.QtWidgets import QApplication, QDialog, QFileDialog, QWidget
from pytestqt.qtbot import QtBot
from test_library_menu import Picked
from test_messages import READING, library_faults
from translation_kit import spoken
from window_kit import PreparedReader, window
from window_states import fill, prepared
from words_in_sight import painted_words

from app.filing.choosing import SystemChooser
from app.library_menu.choosing import SystemLibraryChooser
from app.messages import message_for, reading_message
from app.now import now_here
from app.panels.photos import choose_photos
from app.printing.outlets import SystemOutlets
from app.translating import translate
from app.wiring import Wiring
from store.migrating import back_up_database

QT_WORDS = ("OK", "Cancel")
"""On buttons of Qt's own dialogs, which German has too."""


def filled(wiring: Wiring, folder: Path) -> None:
    """The state that is worth looking at, without looking."""
    for _, bring_about in fill(wiring, "full", folder):
        bring_about()


def test_the_dialog_of_back_ups(spoken_otherwise: None, qtbot: QtBot, tmp_path: Path) -> None:
    picked = Picked(to=tmp_path / "kept.tinsheet-backup")
    (tmp_path / "torn.zip").write_bytes(b"nothing of ours")
    strange: dict[str, str] = {}
    with window(tmp_path, PreparedReader(prepared("full"))) as wiring:
        wiring.library_menu._chooser = picked
        dialog = wiring.library_menu.dialog

        def look(step: str, does: Callable[[], object]) -> None:
            does()
            QApplication.processEvents()
            for words in strange_words(wiring, tmp_path, dialog):
                strange.setdefault(words, step)

        def restore_torn() -> None:
            picked.source = tmp_path / "torn.zip"
            wiring.library_menu.restore()

        def question() -> None:
            picked.source = picked.to
            dialog.restore()

        filled(wiring, tmp_path)
        look("nothing yet", wiring.library_menu.show_backups)
        look("backed up", wiring.library_menu.back_up)
        look("no back-up", restore_torn)
        look("before restoring", question)
        look("restored", dialog.sure_button.click)
        wiring.desk.read(lambda library: back_up_database(library.folder, "before-0003"), lambda _: None)
        look("a list of them", wiring.library_menu.show_backups)
        look("one chosen", lambda: dialog.list.setCurrentRow(0))
        assert dialog.list.count() == 2
    assert {step: words for words, step in strange.items()} == {}


def test_what_the_program_is(spoken_otherwise: None, qtbot: QtBot, tmp_path: Path) -> None:
    found: list[list[str]] = []
    with window(tmp_path, PreparedReader({})) as wiring:

        def look_and_close() -> None:
            box = QApplication.activeModalWidget()
            assert isinstance(box, QDialog)
            found.append([words for words in strange_words(wiring, tmp_path, box) if words not in QT_WORDS])
            box.reject()

        about = next(
            a for a in wiring.window.findChildren(QAction) if a.text() == translate("Wiring", "What Tinsheet is")
        )
        QTimer.singleShot(0, look_and_close)
        about.trigger()
    assert found == [[]]


def test_the_systems_dialogs_are_opened_with_translated_words(
    spoken_otherwise: None, qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    said: list[str] = []

    def told(*words: object) -> tuple[str, str]:
        said.extend(part for part in words if isinstance(part, str))
        return "", ""

    def told_several(*words: object) -> tuple[list[str], str]:
        told(*words)
        return [], ""

    def told_folder(*words: object) -> str:
        return told(*words)[0]

    monkeypatch.setattr(QFileDialog, "getOpenFileName", told)
    monkeypatch.setattr(QFileDialog, "getOpenFileNames", told_several)
    monkeypatch.setattr(QFileDialog, "getSaveFileName", told)
    monkeypatch.setattr(QFileDialog, "getExistingDirectory", told_folder)
    monkeypatch.setattr(QPrintDialog, "exec", lambda dialog: said.append(dialog.windowTitle()))
    with window(tmp_path, PreparedReader({})) as wiring:
        # Each place asks with itself for a parent, so none may lend the dialog its own name.
        parents: list[QWidget] = [wiring.window, *wiring.window.places]
        for parent in parents:
            SystemChooser().files(parent)
            SystemChooser().folder(parent)
            choose_photos(parent)
            SystemLibraryChooser().back_up_to(parent, "7")
            SystemLibraryChooser().restore_from(parent)
            SystemLibraryChooser().library_folder(parent)
            SystemOutlets().file(parent, "7", "pdf")
            SystemOutlets().file(parent, "7", "csv")
            SystemOutlets().printer(parent, QPrinter())
    own = Owned([])
    endings = ("*.pdf", "*.PDF", "*.csv", "*.tinsheet-backup", "*.zip", ".tinsheet-backup", "(*)")
    pictures = [f"*.{kind}" for kind in ("jpg", "jpeg", "png", "webp", "heic", "gif", "bmp", "tif", "tiff")]
    strange = set()
    for words in said:
        left = words
        for ending in sorted((*endings, *pictures), key=len, reverse=True):
            left = left.replace(ending, "")
        strange.add(own.strange(left))
    assert len(said) > 9 * len(parents)
    assert strange == {""}


def test_every_trouble_is_said_in_the_other_language(spoken_otherwise: None, qtbot: QtBot) -> None:
    own = Owned(["/some/where", "where", "xref", "x", "/a/sheet.pdf", "sheet.pdf", "boom"])
    faults: list[BaseException] = [
        *READING, *library_faults(), FileNotFoundError(2, "x", "/a/sheet.pdf"), OSError(28, "x"), RuntimeError("boom"),
        PermissionError(13, "x", "/a/sheet.pdf"), IsADirectoryError(21, "x", "/a/sheet.pdf"),
    ]  # fmt: skip
    said = {type(fault).__name__: message_for(fault).sentence for fault in faults}
    said |= {code: reading_message(code).sentence for code in ("timeout", "crashed", "never heard of")}
    assert {name: strange for name, words in said.items() if (strange := own.strange(words))} == {}


class Told:
    """A tray that keeps what it was given to tell."""

    def __init__(self) -> None:
        self.words: list[str] = []

    def tell(self, title: str, words: str) -> bool:
        self.words += [title, words]
        return True


class Later:
    """A clock that a test sets on."""

    def __init__(self) -> None:
        self.on = timedelta()

    def __call__(self) -> datetime:
        return now_here() + self.on


def test_notices_of_the_tray(spoken_otherwise: None, qtbot: QtBot, tmp_path: Path) -> None:
    told, clock = Told(), Later()
    with window(tmp_path, PreparedReader(prepared("full")), tray=told, now=clock) as wiring:
        filled(wiring, tmp_path)
        for hours in (20, 200, 2000):
            clock.on = timedelta(hours=hours)
            wiring.notices.look()
            wiring.mixing.clocks.look()
        own = owned(wiring, tmp_path)
    assert len(told.words) >= 4
    assert [strange for words in told.words if (strange := own.strange(words))] == []


def test_tables_that_are_kept_for_spreadsheets(spoken_otherwise: None, qtbot: QtBot, tmp_path: Path) -> None:
    kept: list[Path] = []

    class Outlets:
        def file(self, parent: QWidget, name: str, kind: str) -> Path:
            kept.append(tmp_path / f"{len(kept)} {name}")
            return kept[-1]

        def printer(self, parent: QWidget, printer: QPrinter) -> QPrinter | None:
            return None

    with window(tmp_path, PreparedReader(prepared("full")), outlets=Outlets()) as wiring:
        keep = {
            "compare-needs": wiring.comparing.save_csv,
            "panels-1": lambda: wiring.panels.page.print_wanted.emit("csv"),
            "shelf-full": wiring.tins.save_csv,
        }
        for name, bring_about in fill(wiring, "full", tmp_path):
            bring_about()
            if name in keep:
                keep[name]()
        own = owned(wiring, tmp_path)
    assert len(kept) == len(keep)
    strange = {own.strange(path.stem.split(" ", 1)[1]) for path in kept}
    for path in kept:
        with path.open(encoding="utf-8-sig", newline="") as file:
            strange |= {own.strange(cell) for row in csv.reader(file) for cell in row}
    assert strange == {""}


def test_qts_own_words_come_in_the_language_too(qapp: QApplication, other_alphabet: Path) -> None:
    source = Path(QLibraryInfo.path(QLibraryInfo.LibraryPath.TranslationsPath)) / "qtbase_de.qm"
    assert source.is_file()
    assert translate("QPlatformTheme", "Cancel") == "Cancel"
    with spoken(qapp, other_alphabet):
        # As qtbase_de.qm of Qt 6 has it.
        assert translate("QPlatformTheme", "Cancel") == "Abbrechen"


def test_a_dialog_with_words_of_ours_is_found(spoken_otherwise: None, qtbot: QtBot, tmp_path: Path) -> None:
    with window(tmp_path, PreparedReader({})) as wiring:
        dialog = QDialog(wiring.window)
        dialog.setWindowTitle("Two words")
        dialog.show()
        assert list(painted_words(dialog)) == []
        assert strange_words(wiring, tmp_path, dialog) == ["Two words"]
