"""The frame: places by key, evidence in one step, drops, trouble, accessible names, nothing heavy at the start."""

from __future__ import annotations

import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import QMimeData, QPointF, Qt, QUrl
from PySide6.QtGui import QDropEvent
from PySide6.QtWidgets import QAbstractButton, QAbstractScrollArea, QApplication, QComboBox, QLabel, QWidget
from pytestqt.qtbot import QtBot
from window_kit import ETCH, KEEPER, PickedFiles, PreparedReader, inline, window

from app.filing.model import RECORD_ROLE
from app.settings import Settings
from app.theme.roles import DARK, Role
from app.theme.theme import Theme
from app.window import Start
from app.wiring import Wiring
from store.errors import LibraryInUse
from store.library import Library


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    for name in ("keeper.pdf", "etch.pdf"):
        (tmp_path / name).write_bytes(name.encode())
    return tmp_path


@pytest.fixture
def wiring(qtbot: QtBot, folder: Path) -> Iterator[Wiring]:
    with window(folder, PreparedReader({"keeper.pdf": KEEPER, "etch.pdf": ETCH})) as made:
        yield made


def drop(wiring: Wiring, mime: QMimeData) -> None:
    event = QDropEvent(
        QPointF(400, 300),
        Qt.DropAction.CopyAction,
        mime,
        Qt.MouseButton.LeftButton,
        Qt.KeyboardModifier.NoModifier,
    )
    wiring.window.dropEvent(event)


def test_files_dropped_anywhere_are_filed_and_listed(qtbot: QtBot, wiring: Wiring, folder: Path) -> None:
    wiring.window.go_to("confirm")
    mime = QMimeData()
    mime.setUrls([QUrl.fromLocalFile(str(folder / "keeper.pdf")), QUrl.fromLocalFile(str(folder / "etch.pdf"))])
    drop(wiring, mime)
    assert wiring.window.place is wiring.filing
    qtbot.waitUntil(lambda: wiring.filing.table.rowCount() == 2)
    assert wiring.filing.card.sheet is not None


def test_a_drop_without_a_file_says_what_to_do(wiring: Wiring) -> None:
    mime = QMimeData()
    mime.setUrls([QUrl("cid:attachment")])
    drop(wiring, mime)
    assert "Save the PDF" in wiring.window.trouble.words
    assert wiring.window.trouble.isVisible()


def test_the_button_asks_for_files(qtbot: QtBot, folder: Path) -> None:
    reader = PreparedReader({"keeper.pdf": KEEPER})
    with window(folder, reader, chooser=PickedFiles(folder / "keeper.pdf")) as wiring:
        wiring.filing.choose_files()
        qtbot.waitUntil(lambda: wiring.filing.table.rowCount() == 1)
        wiring.filing.choose_folder()
        assert len(wiring.queue.items) == 2


def test_a_filed_sheet_opens_its_page_in_one_step_and_closes_by_escape(
    qtbot: QtBot, wiring: Wiring, folder: Path
) -> None:
    wiring.filing.add([folder / "keeper.pdf"])
    evidence = KEEPER.claims[5].evidence
    wiring.filing.evidence_opened.emit(1, evidence.page, evidence.boxes)
    panel = wiring.window.evidence
    assert panel.isVisible()
    (lit,) = panel.pane.lit
    assert lit.parentItem() is panel.pane.pages[1]
    qtbot.keyClick(panel.pane, Qt.Key.Key_Escape)
    assert not panel.isVisible()


def test_the_header_can_be_put_right(qtbot: QtBot, wiring: Wiring, folder: Path) -> None:
    wiring.filing.add([folder / "keeper.pdf"])
    qtbot.waitUntil(lambda: wiring.filing.card.sheet is not None)
    card = wiring.filing.card
    card._edit.setChecked(True)
    card._name_field.setText("Kestrel Bond 41")
    card._kind_field.setCurrentIndex(card._kind_field.findData("primer.etch.2k"))
    qtbot.keyClick(card._name_field, Qt.Key.Key_Return)
    qtbot.waitUntil(lambda: wiring.filing.table.index(0, 0).data() == "Kestrel Bond 41")
    sheet = wiring.filing.table.index(0, 0).data(RECORD_ROLE)
    assert sheet.product.kind == "primer.etch.2k"
    assert sheet.product.maker == "Hollin & Reeve"


def test_cautions_stand_at_the_head_of_the_sheet_and_go_when_rejected(
    qtbot: QtBot, wiring: Wiring, folder: Path
) -> None:
    wiring.filing.add([folder / "keeper.pdf"])
    qtbot.waitUntil(lambda: wiring.filing.card.sheet is not None)
    band = wiring.filing.card._cautions
    assert band.words == ("Contains isocyanates",)
    opened: list[object] = []
    band.caution_opened.connect(opened.append)
    band._on_link_activated("0")
    assert len(opened) == 1
    wiring.window.go_to("confirm", 1)
    assert wiring.confirming._cautions.isVisible()


def test_places_are_reached_by_key(qtbot: QtBot, wiring: Wiring) -> None:
    for place, action in zip(wiring.window.places, wiring.window._place_actions, strict=True):
        action.trigger()
        assert wiring.window.place is place
        assert place.title
        assert place.accessibleName() == place.title


def test_everything_that_can_be_used_has_a_name(wiring: Wiring, folder: Path) -> None:
    wiring.filing.add([folder / "keeper.pdf", folder / "etch.pdf"])
    for place in wiring.window.places:
        wiring.window.go_to(place.name)
    wiring.confirming.show_sheet(1)
    nameless: list[str] = []
    for widget in wiring.window.findChildren(QWidget):
        if widget.focusPolicy() == Qt.FocusPolicy.NoFocus or widget.objectName().startswith("qt_"):
            continue
        parent = widget.parent()
        inside_combo = isinstance(parent, QComboBox) or isinstance(parent and parent.parent(), QComboBox)
        if inside_combo or (isinstance(parent, QAbstractScrollArea) and parent.viewport() is widget):
            continue
        words = widget.text() if isinstance(widget, QAbstractButton) else ""
        if not widget.accessibleName() and not any(c.isalnum() for c in words):
            nameless.append(f"{type(widget).__name__} in {type(widget.parent()).__name__}")
    assert nameless == []


def test_a_library_in_use_is_said_to_a_painter(qtbot: QtBot, tmp_path: Path) -> None:
    application = QApplication.instance()
    assert isinstance(application, QApplication)

    def refuse() -> Library:
        raise LibraryInUse(str(tmp_path), "process 12")

    wiring = Wiring(
        refuse, Theme(application, dark=False), Settings(tmp_path / "w.ini"), inline(), reader=PreparedReader({})
    )
    qtbot.addWidget(wiring.window)
    wiring.window.show()
    wiring.open_library()
    assert "Another window of the program" in wiring.window.trouble.words
    wiring.window.close()


def test_the_window_is_redrawn_in_the_dark_and_the_page_stays_white(qtbot: QtBot, wiring: Wiring, folder: Path) -> None:
    wiring.filing.add([folder / "keeper.pdf"])
    wiring.window.go_to("confirm", 1)
    wiring.theme.set_dark(True)
    image = wiring.window.grab().toImage()
    assert image.pixelColor(180, image.height() - 4).name() == DARK[Role.PAPER]
    pane = wiring.confirming.pane
    page = pane.viewport().grab().toImage()
    assert page.pixelColor(page.width() // 2, 60).name() == "#ffffff"
    wiring.theme.set_dark(False)


def test_the_window_comes_back_as_it_was_left(qtbot: QtBot, folder: Path) -> None:
    reader = PreparedReader({"keeper.pdf": KEEPER})
    with window(folder, reader) as wiring:
        wiring.window.resize(760, 600)
        wiring.filing.list_view.horizontalHeader().resizeSection(0, 300)
    with window(folder, reader) as wiring:
        assert (wiring.window.width(), wiring.window.height()) == (760, 600)
        assert wiring.filing.list_view.columnWidth(0) == 300


def test_the_frame_is_painted_before_anything_heavy_is_imported(tmp_path: Path) -> None:
    code = (
        "import sys\n"
        "from pathlib import Path\n"
        "from PySide6.QtWidgets import QApplication\n"
        "from app.settings import Settings\n"
        "from app.window import Start\n"
        "application = QApplication([])\n"
        "start = Start(application, lambda: Path(sys.argv[1]) / 'library', Settings(Path(sys.argv[1]) / 'w.ini'))\n"
        "start.window.show()\n"
        "application.processEvents()\n"
        "later = {'app.wiring', 'app.confirming.view', 'extract.kinds'}\n"
        "never = {'sqlalchemy', 'alembic', 'pdfplumber', 'pdfminer', 'pypdfium2', 'pikepdf', 'PIL'}\n"
        "print(sorted((later | never) & set(sys.modules)))\n"
        "start.furnish()\n"
        "print(sorted(later - set(sys.modules)))\n"
        "start.close()\n"
        "print(sorted((never - {'sqlalchemy', 'alembic'}) & set(sys.modules)))\n"
    )
    command = [sys.executable, "-c", code, str(tmp_path)]
    done = subprocess.run(command, capture_output=True, text=True, timeout=120, check=True)
    assert done.stdout.split() == ["[]", "[]", "[]"]


def test_the_places_come_without_the_database() -> None:
    """The library's thread imports it, while the places can be used already."""
    code = "import sys, app.wiring; print(sorted({'sqlalchemy', 'alembic', 'store.library'} & set(sys.modules)))"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, timeout=120, check=True)
    assert done.stdout.strip() == "[]"


def test_the_first_paint_waits_for_no_word(qtbot: QtBot, folder: Path) -> None:
    """Fonts take as long as all the rest: 'Opening …' comes with the second paint, the places after it."""
    application = QApplication.instance()
    assert isinstance(application, QApplication)
    start = Start(application, lambda: folder / "library", Settings(folder / "w.ini"))
    qtbot.addWidget(start.window)
    assert not start.window.findChildren(QLabel)
    said: list[str] = []
    start.window.painted.disconnect(start.furnish)
    start.window.painted.connect(lambda: said.extend(label.text() for label in start.window.findChildren(QLabel)))
    with qtbot.waitSignal(start.window.painted):
        start.show()
    assert said == ["Opening …"]
    start.window.close()
    start.close()


def test_the_places_and_the_library_come_once_the_frame_is_shown(qtbot: QtBot, folder: Path) -> None:
    application = QApplication.instance()
    assert isinstance(application, QApplication)
    start = Start(application, lambda: folder / "library", Settings(folder / "w.ini"))
    qtbot.addWidget(start.window)
    start.show()
    assert start.window.isVisible()
    assert not start.window.places
    qtbot.waitUntil(lambda: start.wiring is not None and start.wiring.desk.ready)
    assert start.window.places
    start.window.close()
    start.close()


def test_a_window_closed_before_it_is_furnished_opens_no_library(qtbot: QtBot, folder: Path) -> None:
    application = QApplication.instance()
    assert isinstance(application, QApplication)
    start = Start(application, lambda: folder / "library", Settings(folder / "w.ini"))
    qtbot.addWidget(start.window)
    start.window.show()
    start.window.close()
    start.furnish()
    start.close()
    assert start.wiring is None
    assert not (folder / "library").exists()
