"""Files on their way in: two at once, stopped, unlocked, and each told apart."""

from __future__ import annotations

import threading
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from pytestqt.qtbot import QtBot
from window_kit import ETCH, KEEPER, PreparedReader

from app.filing.queue import AT_ONCE, FileState, FilingQueue, Reader, pdfs_in
from app.jobs import InlineRunner, LibraryChange, LibraryDesk, ThreadRunner
from app.wiring import open_library
from app.workers import ReadingCancelled, TookTooLong
from extract.claims import SheetReading
from extract.errors import DamagedPdf


@pytest.fixture
def desk(qtbot: QtBot, tmp_path: Path) -> Iterator[LibraryDesk]:
    made = LibraryDesk(InlineRunner())
    made.open(lambda: open_library(tmp_path / "library"))
    yield made
    made.close()


def files(folder: Path, *names: str) -> list[Path]:
    folder.mkdir(parents=True, exist_ok=True)
    for name in names:
        (folder / name).write_bytes(b"%PDF " + name.encode())
    return [folder / name for name in names]


def states(queue: FilingQueue) -> list[FileState]:
    return [item.state for item in queue.items]


def inline_queue(desk: LibraryDesk, reader: Reader) -> FilingQueue:
    return FilingQueue(desk, reader, InlineRunner())


def test_each_file_ends_with_its_own_word(desk: LibraryDesk, tmp_path: Path) -> None:
    reader = PreparedReader(
        {"a.pdf": KEEPER, "b.pdf": DamagedPdf("torn"), "c.pdf": TookTooLong(31), "d 'é' 漆.pdf": ETCH},
    )
    queue = inline_queue(desk, reader)
    changes: list[LibraryChange] = []
    desk.library_changed.connect(changes.append)
    (tmp_path / "gone.pdf").unlink(missing_ok=True)
    queue.add([*files(tmp_path, "a.pdf", "b.pdf", "c.pdf", "d 'é' 漆.pdf"), tmp_path / "gone.pdf"])
    assert states(queue) == [
        FileState.FILED,
        FileState.NOT_READ,
        FileState.NOT_READ,
        FileState.FILED,
        FileState.NOT_READ,
    ]
    said = [item.message.sentence for item in queue.items if item.message]
    assert "damaged" in said[0]
    assert "too long" in said[1]
    assert "is not there" in said[2]
    assert [len(c.sheets) for c in changes] == [1, 1]
    assert all(c.filed for c in changes)


def test_the_same_bytes_again_are_already_filed_and_not_read(desk: LibraryDesk, tmp_path: Path) -> None:
    queue = inline_queue(desk, PreparedReader({"a.pdf": KEEPER}))
    (path,) = files(tmp_path, "a.pdf")
    copy = tmp_path / "another name.pdf"
    copy.write_bytes(path.read_bytes())
    queue.add([path])
    queue.add([copy])
    assert states(queue) == [FileState.FILED, FileState.ALREADY_FILED]
    assert queue.items[1].known[0].product.name == "Kestrel Bond 40"


def test_a_locked_file_waits_for_its_password(desk: LibraryDesk, tmp_path: Path) -> None:
    queue = inline_queue(desk, PreparedReader({"a.pdf": KEEPER}, passwords={"a.pdf": "sesame"}))
    queue.add(files(tmp_path, "a.pdf"))
    assert states(queue) == [FileState.LOCKED]
    queue.give_password(0, "wrong")
    assert states(queue) == [FileState.LOCKED]
    assert queue.items[0].message is not None
    assert "does not open" in queue.items[0].message.sentence
    queue.give_password(0, "sesame")
    assert states(queue) == [FileState.FILED]


def test_a_locked_file_can_be_left_out(desk: LibraryDesk, tmp_path: Path) -> None:
    queue = inline_queue(desk, PreparedReader({"a.pdf": KEEPER}, passwords={"a.pdf": "sesame"}))
    queue.add(files(tmp_path, "a.pdf"))
    queue.cancel(0)
    assert states(queue) == [FileState.CANCELLED]
    queue.give_password(0, "sesame")
    assert states(queue) == [FileState.CANCELLED]


class HeldReader:
    """Reads nothing until it is let go; says how many read at once."""

    def __init__(self) -> None:
        self.go = threading.Event()
        self.reading = 0
        self.most = 0
        self._lock = threading.Lock()

    def __call__(
        self,
        pdf: bytes,
        file_name: str,
        *,
        password: str | None,
        progress: Callable[[int, int], None],
        cancelled: threading.Event,
    ) -> tuple[SheetReading, ...]:
        with self._lock:
            self.reading += 1
            self.most = max(self.most, self.reading)
        progress(1, 3)
        while not self.go.wait(0.01):
            if cancelled.is_set():
                self.reading -= 1
                raise ReadingCancelled
        with self._lock:
            self.reading -= 1
        return (KEEPER,)


def test_two_are_read_at_once_the_rest_wait_and_all_can_be_stopped(
    qtbot: QtBot, desk: LibraryDesk, tmp_path: Path
) -> None:
    reader = HeldReader()
    queue = FilingQueue(desk, reader, ThreadRunner("reading", threads=3))
    queue.add(files(tmp_path, *(f"{n}.pdf" for n in range(6))))
    qtbot.waitUntil(lambda: reader.reading == AT_ONCE)
    qtbot.waitUntil(lambda: sum(i.pages == 3 for i in queue.items) == AT_ONCE)
    assert states(queue) == [FileState.READING] * AT_ONCE + [FileState.WAITING] * 4
    queue.cancel(5)
    with qtbot.waitSignal(queue.work_ended):
        queue.cancel_all()
    assert set(states(queue)) == {FileState.CANCELLED}
    assert reader.most == AT_ONCE
    queue.close()


def test_a_second_import_works_after_a_stopped_one(qtbot: QtBot, desk: LibraryDesk, tmp_path: Path) -> None:
    reader = HeldReader()
    queue = FilingQueue(desk, reader, ThreadRunner("reading", threads=3))
    queue.add(files(tmp_path, "1.pdf"))
    qtbot.waitUntil(lambda: reader.reading == 1)
    with qtbot.waitSignal(queue.work_ended):
        queue.cancel_all()
    reader.go.set()
    with qtbot.waitSignal(queue.work_ended):
        queue.add(files(tmp_path, "2.pdf"))
    assert states(queue) == [FileState.CANCELLED, FileState.FILED]
    queue.close()


def test_closing_while_reading_ends_at_once(qtbot: QtBot, desk: LibraryDesk, tmp_path: Path) -> None:
    reader = HeldReader()
    queue = FilingQueue(desk, reader, ThreadRunner("reading", threads=3))
    queue.add(files(tmp_path, "1.pdf", "2.pdf", "3.pdf"))
    qtbot.waitUntil(lambda: reader.reading == AT_ONCE)
    queue.close()
    assert reader.reading == 0
    assert not queue.under_way


def test_folders_give_their_pdfs_by_name_and_files_stay_as_they_are(tmp_path: Path) -> None:
    inside = files(tmp_path / "folder" / "deep er", "b.PDF", "a.pdf")
    (tmp_path / "folder" / "read me.txt").write_text("no sheet")
    (odd,) = files(tmp_path, "a sheet without an ending")
    assert pdfs_in([odd, tmp_path / "folder", inside[0]]) == (odd, inside[1], inside[0])
