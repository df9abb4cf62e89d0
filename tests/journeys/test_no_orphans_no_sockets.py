"""No reading process outlives the program however it ends, and the program opens no connection."""

from __future__ import annotations

import json
import subprocess
import sys
import threading
from pathlib import Path

import psutil
import pytest

from app.workers import Child, ChildDied, DrawingChildren, Limits, ReadingCancelled, TookTooLong, read_in_child
from extract.errors import DamagedPdf, NotAPdf, OutOfMemory, PageNotDrawn, TooLarge
from fixtures.nasty.make import KINDS

FIXTURES = Path(__file__).resolve().parents[2] / "fixtures"
SHEET = FIXTURES / "quern-lane-biter.pdf"

# A window that files a folder through the real import; it says when the first page is being read.
PROGRAM = """
import json, os, sys
from pathlib import Path
from PySide6.QtWidgets import QApplication
from app.filing.queue import FileState
from app.settings import Settings
from app.theme.theme import Theme
from app.wiring import Runners, Wiring, open_library
import psutil

folder, sheets = Path(sys.argv[1]), [Path(p) for p in sys.argv[2:]]
asked = []
# The lock on the library names this machine; asking for that name connects to nothing.
harmless = {"socket.gethostname"}
sys.addaudithook(
    lambda name, args: asked.append(name) if name.startswith("socket.") and name not in harmless else None
)
application = QApplication([])
settings = Settings(folder / "w.ini")
wiring = Wiring(lambda: open_library(folder / "library"), Theme(application), settings, Runners.threads())

def say(item):
    if item.state is FileState.READING:
        children = [c.pid for c in psutil.Process().children(recursive=True)]
        if children:
            print(json.dumps({"children": children}), flush=True)

def ended():
    print(json.dumps({"states": [i.state for i in wiring.queue.items], "sockets": asked}), flush=True)
    wiring.window.close()
    application.quit()

wiring.queue.item_changed.connect(say)
wiring.queue.work_ended.connect(ended)
wiring.desk.library_opened.connect(lambda: wiring.filing.add(sheets))
wiring.window.show()
wiring.open_library()
application.exec()
wiring.close()
"""


def run(folder: Path, sheets: list[Path]) -> subprocess.Popen[str]:
    return subprocess.Popen(
        [sys.executable, "-c", PROGRAM, str(folder), *map(str, sheets)], stdout=subprocess.PIPE, text=True
    )


def test_filing_and_showing_opens_no_socket(tmp_path: Path) -> None:
    process = run(tmp_path, [SHEET])
    out, _ = process.communicate(timeout=120)
    ended = [json.loads(line) for line in out.splitlines() if "states" in line]
    assert process.returncode == 0
    assert ended == [{"states": ["filed"], "sockets": []}]


def test_killing_the_program_while_it_reads_leaves_no_child_and_no_half_sheet(tmp_path: Path) -> None:
    copies = []
    for number in range(6):
        copy = tmp_path / f"{number}.pdf"
        copy.write_bytes(SHEET.read_bytes() + b"\n% " + str(number).encode())
        copies.append(copy)
    process = run(tmp_path, copies)
    assert process.stdout is not None
    children: list[psutil.Process] = []
    for line in process.stdout:
        for pid in json.loads(line).get("children", ()):
            if psutil.pid_exists(pid):
                children.append(psutil.Process(pid))
        if children:
            break
    assert children
    process.kill()
    process.wait(timeout=30)
    process.stdout.close()
    gone, alive = psutil.wait_procs(children, timeout=30)
    assert not alive
    assert gone

    from store.library import Library  # noqa: PLC0415

    with Library.open(tmp_path / "library") as library:
        for sheet in library.sheets():
            assert library.claims(sheet.id)
            assert library.pdf_path(sheet.id).is_file()


def no_progress(page: int, pages: int) -> None:
    """Nobody looks."""


def test_a_file_that_takes_too_long_is_stopped_and_its_child_gone() -> None:
    with pytest.raises(TookTooLong):
        read_in_child(
            SHEET.read_bytes(),
            "a.pdf",
            progress=no_progress,
            cancelled=threading.Event(),
            limits=Limits(seconds=0.01, seconds_a_page=0.0, silent_seconds=0.01),
        )
    assert not Child.living()


def test_a_reading_is_cancelled_at_once() -> None:
    cancelled = threading.Event()
    cancelled.set()
    with pytest.raises(ReadingCancelled):
        read_in_child(SHEET.read_bytes(), "a.pdf", progress=no_progress, cancelled=cancelled)
    assert not Child.living()


def test_errors_of_the_child_come_through_by_kind() -> None:
    for pdf, kind in ((b"", NotAPdf.kind), (b"%PDF-1.7\nnothing else", DamagedPdf.kind)):
        with pytest.raises(Exception) as caught:
            read_in_child(pdf, "a.pdf", progress=no_progress, cancelled=threading.Event())
        assert getattr(caught.value, "kind", None) == kind
    with pytest.raises(TooLarge):
        read_in_child(bytes(64 * 2**20 + 1), "a.pdf", progress=no_progress, cancelled=threading.Event())


@pytest.mark.parametrize("bomb", ["double_flate_bomb", "doubling_forms"])
def test_a_bomb_ends_as_too_much_memory_and_harms_nothing(bomb: str) -> None:
    with pytest.raises(OutOfMemory):
        read_in_child(KINDS[bomb](), "bomb.pdf", progress=no_progress, cancelled=threading.Event())
    assert not Child.living()


def test_pages_are_drawn_and_a_child_that_died_is_replaced(tmp_path: Path) -> None:
    children = DrawingChildren(kept=1)
    picture = children.draw(SHEET, 1, 1.0)
    assert abs(picture.width - 595) <= 1
    assert len(picture.pixels) >= picture.stride * picture.height
    with pytest.raises(Exception) as caught:
        children.draw(SHEET, 99, 1.0)
    assert getattr(caught.value, "kind", None) == PageNotDrawn.kind
    (child,) = Child.living()
    psutil.Process(child.pid).kill()
    psutil.wait_procs([psutil.Process(child.pid)] if psutil.pid_exists(child.pid) else [], timeout=10)
    try:
        children.draw(SHEET, 1, 1.0)
    except ChildDied:
        children.draw(SHEET, 1, 1.0)
    other = tmp_path / "other.pdf"
    other.write_bytes(SHEET.read_bytes())
    children.draw(other, 1, 0.5)
    assert len(Child.living()) == 1
    children.close()
    assert not Child.living()
