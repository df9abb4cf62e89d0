"""The menu of the library: back-ups made, restored and listed; another library opened."""

from __future__ import annotations

import zipfile
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QMenu, QWidget
from pytestqt.qtbot import QtBot
from window_kit import ETCH, KEEPER, PreparedReader, inline

from app.jobs import InlineRunner
from app.library_menu.dialog import BackupsDialog
from app.library_menu.menu import OPENED_LAST
from app.library_menu.words import moment_words
from app.settings import Settings
from app.theme.theme import Theme
from app.window import last_folder, own_folder
from app.wiring import Wiring, open_library
from store.kept_backups import WhyKept, about_backup, kept_backups, restore_any
from store.library import Library
from store.migrating import back_up_database


@dataclass
class Picked:
    """Stands in for the system's dialogs; what was offered as a name is kept."""

    to: Path | None = None
    source: Path | None = None
    folder: Path | None = None
    offered: list[str] = field(default_factory=list)

    def back_up_to(self, parent: QWidget, name: str) -> Path | None:
        self.offered.append(name)
        return self.to

    def restore_from(self, parent: QWidget) -> Path | None:
        return self.source

    def library_folder(self, parent: QWidget) -> Path | None:
        return self.folder


@pytest.fixture
def picked(tmp_path: Path) -> Picked:
    return Picked(to=tmp_path / "kept.tinsheet-backup")


@pytest.fixture
def wiring(qtbot: QtBot, qapp: object, tmp_path: Path, picked: Picked) -> Iterator[Wiring]:
    for name in ("keeper.pdf", "etch.pdf"):
        (tmp_path / name).write_bytes(name.encode())
    made = Wiring(
        lambda: open_library(tmp_path / "library"),
        Theme(qapp, dark=False),  # type: ignore[arg-type]
        Settings(tmp_path / "window.ini"),
        inline(),
        reader=PreparedReader({"keeper.pdf": KEEPER, "etch.pdf": ETCH}),
        library_chooser=picked,
    )
    made.window.show()
    made.open_library()
    made.filing.add([tmp_path / "keeper.pdf"])
    yield made
    made.window.close()
    made.close()
    made.window.deleteLater()


def dialog_of(wiring: Wiring) -> BackupsDialog:
    wiring.library_menu.show_backups()
    return wiring.library_menu.dialog


def sheets(wiring: Wiring) -> int:
    found: list[int] = []
    wiring.desk.read(lambda library: len(library.sheets()), found.append)
    return found[0]


def names_in_menu(wiring: Wiring) -> list[str]:
    menus = [action.menu() for action in wiring.window.menuBar().actions()]
    library = next(m for m in menus if isinstance(m, QMenu) and m.title() == "&Library")
    return [action.text() for action in library.actions()]


def test_the_menu_names_what_it_does(wiring: Wiring) -> None:
    assert names_in_menu(wiring) == [
        "Back up to one file …", "Restore from a back-up …", "Automatic back-ups …", "Open another library …",
    ]  # fmt: skip


def test_one_file_is_written_and_said(qtbot: QtBot, wiring: Wiring, picked: Picked) -> None:
    dialog = dialog_of(wiring)
    qtbot.mouseClick(dialog.back_up_button, Qt.MouseButton.LeftButton)
    assert picked.to is not None and zipfile.is_zipfile(picked.to)
    assert str(picked.to) in dialog.said
    assert picked.offered and picked.offered[0].startswith("tinsheet 20")
    assert not dialog._busy.isVisible()


def test_restoring_says_first_what_will_happen_and_can_be_left(
    qtbot: QtBot, wiring: Wiring, picked: Picked, tmp_path: Path
) -> None:
    dialog = dialog_of(wiring)
    dialog.back_up()
    wiring.filing.add([tmp_path / "etch.pdf"])
    assert sheets(wiring) == 2
    picked.source = picked.to
    qtbot.mouseClick(dialog.restore_button, Qt.MouseButton.LeftButton)
    assert "with 1 sheet." in dialog.question and "which holds 2 sheets" in dialog.question
    assert dialog.focusWidget() is dialog.leave_button
    qtbot.mouseClick(dialog.leave_button, Qt.MouseButton.LeftButton)
    assert not dialog.question
    assert sheets(wiring) == 2


def test_restoring_brings_back_what_was_and_keeps_what_is(
    qtbot: QtBot, wiring: Wiring, picked: Picked, tmp_path: Path
) -> None:
    dialog = dialog_of(wiring)
    dialog.back_up()
    wiring.filing.add([tmp_path / "etch.pdf"])
    picked.source = picked.to
    dialog.restore()
    with qtbot.waitSignal(dialog.library_restored):
        qtbot.mouseClick(dialog.sure_button, Qt.MouseButton.LeftButton)
    assert sheets(wiring) == 1
    qtbot.waitUntil(lambda: wiring.filing.table.rowCount() == 1)
    assert [p.name for p in wiring.book.products] == ["Kestrel Bond 40"]
    assert dialog.list.count() == 1
    assert dialog.last_good.startswith("Last good automatic back-up: ")
    # And back again, from the back-up that was made of it.
    dialog.list.setCurrentRow(0)
    qtbot.mouseClick(dialog.chosen_button, Qt.MouseButton.LeftButton)
    assert "with 2 sheets." in dialog.question
    qtbot.mouseClick(dialog.sure_button, Qt.MouseButton.LeftButton)
    assert sheets(wiring) == 2


def test_a_file_that_is_no_backup_is_refused_and_nothing_changes(
    wiring: Wiring, picked: Picked, tmp_path: Path
) -> None:
    dialog = dialog_of(wiring)
    picked.source = tmp_path / "keeper.pdf"
    dialog.restore()
    assert dialog.said == "This file is not a back-up, or it is damaged. Nothing was changed; try another one."
    assert not dialog.question
    assert sheets(wiring) == 1


def test_a_restoring_that_fails_opens_the_library_again(wiring: Wiring, picked: Picked) -> None:
    dialog = dialog_of(wiring)
    dialog.back_up()
    picked.source = picked.to
    dialog.restore()
    assert picked.to is not None
    picked.to.write_bytes(b"spoilt between the question and the answer")
    dialog.sure_button.click()
    assert "not a back-up" in dialog.said
    assert wiring.desk.ready
    assert sheets(wiring) == 1


def test_while_sheets_are_read_nothing_is_replaced(wiring: Wiring, picked: Picked) -> None:
    dialog = dialog_of(wiring)
    dialog.back_up()
    picked.source = picked.to
    dialog._still_reading = lambda: True
    dialog.restore()
    assert "still being read" in dialog.said and not dialog.question


def test_another_library_is_opened_and_remembered(wiring: Wiring, picked: Picked, tmp_path: Path) -> None:
    picked.folder = tmp_path / "second"
    picked.folder.mkdir()
    wiring.library_menu.open_another()
    assert sheets(wiring) == 0
    assert wiring.book.products == ()
    settings = Settings(tmp_path / "window.ini")
    assert settings.text(OPENED_LAST) == str(picked.folder)
    assert last_folder(settings) == picked.folder
    settings.set_text(OPENED_LAST, str(tmp_path / "gone"))
    assert last_folder(settings) == own_folder()


def test_a_folder_with_other_things_is_not_made_a_library(wiring: Wiring, picked: Picked, tmp_path: Path) -> None:
    picked.folder = tmp_path / "photos"
    picked.folder.mkdir()
    (picked.folder / "wedding.jpg").write_bytes(b"x")
    wiring.library_menu.open_another()
    assert "holds other things and no library" in wiring.window.trouble.words
    assert [p.name for p in picked.folder.iterdir()] == ["wedding.jpg"]
    assert wiring.desk.ready and sheets(wiring) == 1


class Waiting(InlineRunner):
    """Holds work back until it is let go, as a slow disk does."""

    def __init__(self) -> None:
        self.held: list[tuple[object, ...]] = []

    def run(self, work: object, done: object, failed: object) -> None:  # type: ignore[override]
        self.held.append((work, done, failed))

    def let_go(self) -> None:
        while self.held:
            super().run(*self.held.pop(0))  # type: ignore[arg-type]


def test_waiting_is_shown_and_the_buttons_wait_too(qtbot: QtBot, wiring: Wiring) -> None:
    dialog = dialog_of(wiring)
    waiting = Waiting()
    wiring.desk._runner = waiting
    dialog.back_up()
    assert dialog._busy.isVisible() and not dialog.back_up_button.isEnabled()
    assert "Backing up to kept" in dialog._busy_words.text()
    waiting.let_go()
    assert not dialog._busy.isVisible() and dialog.back_up_button.isEnabled()


def test_a_copy_made_before_a_migration_is_listed_checked_and_restored(tmp_path: Path) -> None:
    folder = tmp_path / "library"
    with Library.open(folder) as library:
        library.add_product("Kept", maker="Quern")
    kept = back_up_database(folder, "before-0003")
    with Library.open(folder) as library:
        library.add_product("Added later", maker="Quern")
    (listed,) = kept_backups(folder)
    assert (listed.path, listed.why, listed.damage) == (kept, WhyKept.BEFORE_MIGRATION, "")
    about = about_backup(kept, folder)
    assert about.products == 1 and about.made_at == listed.made_at
    restore_any(kept, folder)
    with Library.open(folder) as library:
        assert [p.name for p in library.products()] == ["Kept"]
    whys = [k.why for k in kept_backups(folder)]
    assert whys == [WhyKept.BEFORE_RESTORE, WhyKept.BEFORE_MIGRATION]


def test_a_spoilt_automatic_backup_is_marked_and_does_not_count_as_good(qtbot: QtBot, wiring: Wiring) -> None:
    folder = next(iter([wiring.desk._library])).folder  # type: ignore[union-attr]
    good = back_up_database(folder, "before-0003")
    bad = back_up_database(folder, "before-0004")
    bad.write_bytes(bad.read_bytes()[:2048])
    dialog = dialog_of(wiring)
    texts = [dialog.list.item(row).text() for row in range(dialog.list.count())]
    assert texts[0].endswith("damaged") and texts[1].endswith("sound")
    (made_at,) = [k.made_at for k in kept_backups(folder) if k.path == good]
    assert dialog.last_good == f"Last good automatic back-up: {moment_words(made_at)}."
    dialog.list.setCurrentRow(0)
    assert not dialog.chosen_button.isEnabled()
