"""Drop the demo sheets, confirm with keys only, compare, ask, find, close, reopen: everything is still there.

Everything is real here: threads, reading and drawing processes, the library on the disk.
"""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest
from PySide6.QtCore import QMimeData, QPointF, Qt, QUrl
from PySide6.QtGui import QDropEvent
from pytestqt.qtbot import QtBot
from window_kit import window

from app.naming.field import NameField
from app.page_pane.drawer import ChildPageDrawer
from app.wiring import Runners, Wiring
from app.workers import read_in_child

FIXTURES = Path(__file__).resolve().parents[2] / "fixtures"
SHEETS = ("quern-lane-biter.pdf", "bruvelt-planor.pdf", "quern-lane-keeper.pdf")
PATIENCE = 60_000
"""Milliseconds: reading processes start slowly on a machine that is busy."""


@contextmanager
def real_window(folder: Path) -> Iterator[Wiring]:
    with window(folder, read_in_child, drawer=ChildPageDrawer({}), runners=Runners.threads()) as wiring:
        yield wiring


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    for name in SHEETS:
        shutil.copy(FIXTURES / name, tmp_path / name)
    return tmp_path


def drop(wiring: Wiring, paths: list[Path]) -> None:
    mime = QMimeData()
    mime.setUrls([QUrl.fromLocalFile(str(path)) for path in paths])
    none, left = Qt.KeyboardModifier.NoModifier, Qt.MouseButton.LeftButton
    wiring.window.dropEvent(QDropEvent(QPointF(300, 300), Qt.DropAction.CopyAction, mime, left, none))


def confirm_by_keys(qtbot: QtBot, wiring: Wiring) -> None:
    """Claim after claim, sheet after sheet, until nothing waits."""
    place = wiring.confirming
    wiring.window.go_to("sheets")
    qtbot.keyClick(wiring.filing.list_view, Qt.Key.Key_Return)
    seen: set[int] = set()

    def at_a_new_sheet() -> bool:
        if place.sheet is not None and place.sheet.id not in seen:
            return True
        if seen:
            qtbot.keyClick(place.list, Qt.Key.Key_N)
        return False

    while len(seen) < len(SHEETS):
        qtbot.waitUntil(at_a_new_sheet, timeout=PATIENCE)
        assert place.sheet is not None
        seen.add(place.sheet.id)
        while place.claims.waiting():
            qtbot.keyClick(place.list, Qt.Key.Key_Space)


def name_it(qtbot: QtBot, field: NameField, letters: str, becomes: str) -> None:
    field.line.setFocus()
    field.line.selectAll()
    qtbot.keyClicks(field.line, letters)
    qtbot.waitUntil(lambda: becomes in field.line.offers.texts, timeout=PATIENCE)
    while field.line.offers.current is None or field.line.offers.current.text != becomes:
        qtbot.keyClick(field.line, Qt.Key.Key_Down)
    qtbot.keyClick(field.line, Qt.Key.Key_Return)


def answered(qtbot: QtBot, wiring: Wiring, upper: str, lower: str) -> str:
    """Ask by keys; the verdict's shape."""
    place = wiring.asking
    wiring.window.go_to("ask")
    name_it(qtbot, place.on_top, upper[:4].lower(), upper)
    name_it(qtbot, place.beneath, lower[:4].lower(), lower)
    question = f"May {upper} go straight onto {lower}?"
    qtbot.waitUntil(lambda: place.page is not None and place.page.question == question, timeout=PATIENCE)
    assert place.page is not None
    return place.page.shape


def test_file_confirm_compare_ask_close_reopen(qtbot: QtBot, folder: Path) -> None:
    with real_window(folder) as wiring:
        drop(wiring, [folder / name for name in SHEETS])
        qtbot.waitUntil(lambda: wiring.filing.table.rowCount() == len(SHEETS), timeout=PATIENCE)
        qtbot.waitUntil(lambda: len(wiring.book.products) == len(SHEETS), timeout=PATIENCE)

        # Nothing is confirmed, so nothing is answered.
        assert answered(qtbot, wiring, "Planor", "Biter") == "unconfirmed"
        confirm_by_keys(qtbot, wiring)

        # A filler that is forbidden over the etch and allowed, on conditions, over the epoxy.
        assert answered(qtbot, wiring, "Planor", "Biter") == "no"
        assert answered(qtbot, wiring, "Planor", "Keeper") == "yes_if"
        page = wiring.asking.page
        assert page is not None
        assert page.conditions
        assert page.says
        card = wiring.asking.answer_view.cards[0]
        qtbot.mouseClick(card.open_button, Qt.MouseButton.LeftButton)
        pane = wiring.window.evidence.pane
        qtbot.waitUntil(lambda: bool(pane.lit) and any(p.has_image for p in pane.pages), timeout=PATIENCE)
        qtbot.keyClick(pane, Qt.Key.Key_Escape)

        wiring.window.go_to("compare")
        compared = wiring.comparing
        for letters, name in (("kee", "Keeper"), ("bit", "Biter")):
            name_it(qtbot, compared.bar.field, letters, name)
        qtbot.waitUntil(lambda: compared.lines.heads == ("Keeper", "Biter"), timeout=PATIENCE)
        assert any(line.differs for line in compared.lines.lines)
        lines = compared.lines

        wiring.window.go_to("find")
        qtbot.keyClicks(wiring.finding.line, "keeper")
        qtbot.waitUntil(lambda: any(e.words == "Keeper" for e in wiring.finding.hits.entries), timeout=PATIENCE)

        product = next(p for p in wiring.book.products if p.name == "Keeper")
        wiring.window.go_to("products", product.id)
        about = wiring.products
        qtbot.waitUntil(lambda: about.shown is not None and about.shown.product == product, timeout=PATIENCE)
        qtbot.keyClicks(wiring.products.page.notes.editor, "levels well in the cold")
        qtbot.keyClick(wiring.products.page.notes.editor, Qt.Key.Key_Return, Qt.KeyboardModifier.ControlModifier)
        qtbot.waitUntil(lambda: len(wiring.products.page.notes.notes) == 1, timeout=PATIENCE)

    with real_window(folder) as wiring:
        wiring.window.go_to("ask")
        qtbot.waitUntil(lambda: wiring.asking.page == page, timeout=PATIENCE)
        asked = [entry.words for entry in wiring.asking.history.entries]
        assert asked == ["Planor over Keeper", "Planor over Biter"]
        wiring.window.go_to("compare")
        qtbot.waitUntil(lambda: wiring.comparing.lines == lines, timeout=PATIENCE)
        wiring.window.go_to("products")
        qtbot.waitUntil(lambda: wiring.products.shown is not None, timeout=PATIENCE)
        shown = wiring.products.shown
        assert shown is not None
        assert (shown.product.name, [note.text for note in shown.notes]) == ("Keeper", ["levels well in the cold"])
