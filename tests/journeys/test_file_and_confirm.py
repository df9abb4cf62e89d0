"""A person files two real sheets, confirms with keys only, closes the window, and finds everything as it was."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest
from PySide6.QtCore import QMimeData, QPointF, Qt, QUrl
from PySide6.QtGui import QDropEvent
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot
from window_kit import PickedFiles, window

from app.filing.queue import FileState
from app.page_pane.drawer import ChildPageDrawer
from app.wiring import Runners, Wiring
from app.workers import Child, read_in_child
from store.records import ClaimStatus

FIXTURES = Path(__file__).resolve().parents[2] / "fixtures"
FIRST, SECOND = "quern-lane-biter.pdf", "bruvelt-planor.pdf"
PATIENCE = 60_000
"""Milliseconds: reading processes start slowly on a machine that is busy."""


@contextmanager
def real_window(folder: Path, chooser: PickedFiles | None = None) -> Iterator[Wiring]:
    """The window with everything real: threads, reading and drawing processes, the library on disk."""
    with window(
        folder, read_in_child, drawer=ChildPageDrawer({}), runners=Runners.threads(), chooser=chooser
    ) as wiring:
        yield wiring


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    odd = tmp_path / "sheets ü 'quoted' 漆"
    odd.mkdir()
    for name in (FIRST, SECOND):
        shutil.copy(FIXTURES / name, odd / f"copy of {name}")
        (odd / f"copy of {name}").chmod(0o444)
    return tmp_path


def drop_all(wiring: Wiring, paths: list[Path]) -> None:
    mime = QMimeData()
    mime.setUrls([QUrl.fromLocalFile(str(path)) for path in paths])
    wiring.window.dropEvent(
        QDropEvent(
            QPointF(300, 300),
            Qt.DropAction.CopyAction,
            mime,
            Qt.MouseButton.LeftButton,
            Qt.KeyboardModifier.NoModifier,
        )
    )


def statuses(qtbot: QtBot, wiring: Wiring) -> dict[int, ClaimStatus]:
    found: dict[int, ClaimStatus] = {}
    with qtbot.waitCallback(timeout=PATIENCE) as read:
        wiring.desk.read(lambda library: [c for s in library.sheets() for c in library.claims(s.id)], read)
    found.update((claim.id, claim.status) for claim in read.args[0])
    return found


def test_drop_two_sheets_confirm_by_keys_close_reopen(qtbot: QtBot, folder: Path) -> None:
    with real_window(folder) as wiring:
        drop_all(wiring, [folder / "sheets ü 'quoted' 漆"])
        qtbot.waitUntil(lambda: [i.state for i in wiring.queue.items] == [FileState.FILED] * 2, timeout=PATIENCE)
        qtbot.waitUntil(lambda: wiring.filing.table.rowCount() == 2, timeout=PATIENCE)

        # From here on keys only.
        qtbot.keyClick(wiring.filing.list_view, Qt.Key.Key_Return)
        place = wiring.confirming
        qtbot.waitUntil(lambda: place.sheet is not None and place.current is not None, timeout=PATIENCE)
        assert wiring.window.place is place
        assert place.sheet is not None
        sheet_id = place.sheet.id
        total = place.claims.waiting()
        assert total > 5
        qtbot.keyClick(place.list, Qt.Key.Key_X)
        while place.claims.waiting():
            qtbot.keyClick(place.list, Qt.Key.Key_Space)
        qtbot.keyClick(place.list, Qt.Key.Key_Z)
        qtbot.waitUntil(lambda: place.claims.waiting() == 1, timeout=PATIENCE)
        qtbot.waitUntil(lambda: any(page.has_image for page in place.pane.pages), timeout=PATIENCE)
        before = statuses(qtbot, wiring)
        assert list(before.values()).count(ClaimStatus.CONFIRMED) == total - 2
        assert list(before.values()).count(ClaimStatus.REJECTED) == 1

    with real_window(folder) as wiring:
        qtbot.waitUntil(lambda: wiring.filing.table.rowCount() == 2, timeout=PATIENCE)
        assert statuses(qtbot, wiring) == before
        wiring.window.go_to("confirm", sheet_id)
        place = wiring.confirming
        qtbot.waitUntil(lambda: place.claims.waiting() == 1, timeout=PATIENCE)
        # The undo history goes on where it was left.
        qtbot.keyClick(place.list, Qt.Key.Key_Z, Qt.KeyboardModifier.ShiftModifier)
        qtbot.waitUntil(lambda: place.claims.waiting() == 0, timeout=PATIENCE)
        # The same files again are known.
        drop_all(wiring, [folder / "sheets ü 'quoted' 漆"])
        qtbot.waitUntil(
            lambda: [i.state for i in wiring.queue.items] == [FileState.ALREADY_FILED] * 2, timeout=PATIENCE
        )
    assert not list(Child.living())


def test_every_claim_of_a_real_sheet_lights_words_on_its_page(qtbot: QtBot, folder: Path) -> None:
    with real_window(folder) as wiring:
        wiring.filing.add([FIXTURES / FIRST])
        qtbot.waitUntil(lambda: wiring.filing.table.rowCount() == 1, timeout=PATIENCE)
        wiring.window.go_to("confirm", 1)
        place = wiring.confirming
        qtbot.waitUntil(lambda: place.current is not None, timeout=PATIENCE)
        for record in place.claims.claims():
            row = place.claims.row_of(record.id)
            assert row is not None
            place.list.setCurrentIndex(place.claims.index(row))
            (lit,) = place.pane.lit
            seen = place.pane.mapToScene(place.pane.viewport().rect()).boundingRect()
            assert seen.intersects(lit.mapRectToScene(lit.boundingRect()))
        QApplication.processEvents()


def test_files_that_cannot_be_read_say_why_and_the_rest_are_filed(qtbot: QtBot, folder: Path) -> None:
    (folder / "empty.pdf").write_bytes(b"")
    (folder / "page.pdf").write_text("<html>not found</html>", encoding="utf-8")
    (folder / "torn.pdf").write_bytes((FIXTURES / SECOND).read_bytes()[:700])
    with real_window(folder) as wiring:
        wiring.filing.add(
            [folder / "empty.pdf", folder / "page.pdf", folder / "torn.pdf", FIXTURES / FIRST, folder / "gone.pdf"]
        )
        qtbot.waitUntil(lambda: bool(wiring.queue.items) and not wiring.queue.under_way, timeout=PATIENCE)
        states = [item.state for item in wiring.queue.items]
        assert states == [FileState.NOT_READ] * 3 + [FileState.FILED, FileState.NOT_READ]
        said = [item.message.sentence for item in wiring.queue.items if item.message is not None]
        assert "not a PDF" in said[0]
        assert "not a PDF" in said[1]
        assert "damaged" in said[2]
        qtbot.waitUntil(lambda: wiring.filing.table.rowCount() == 1, timeout=PATIENCE)
