from __future__ import annotations

import json
import os
import signal
import socket
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest
from made_sheets import THREE, over, reading

from store.errors import LibraryFull, LibraryInUse, ReadingOnly
from store.library import Library
from store.locking import LOCK_NAME
from store.records import ClaimStatus

HOLD = """
import sys
from pathlib import Path
from store.library import Library
library = Library.open(Path(sys.argv[1]))
print("open", flush=True)
sys.stdin.readline()
library.close()
print("closed", flush=True)
sys.stdin.readline()
"""


@pytest.fixture
def holder(folder: Path) -> Iterator[subprocess.Popen[str]]:
    """Another process that has the library open for writing."""
    process = subprocess.Popen(
        [sys.executable, "-c", HOLD, str(folder)], stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True
    )
    with process:
        assert process.stdout is not None
        assert process.stdout.readline() == "open\n"
        yield process
        process.kill()


def test_a_second_writer_is_refused_and_told_who_has_it(folder: Path, holder: subprocess.Popen[str]) -> None:
    with pytest.raises(LibraryInUse) as raised:
        Library.open(folder)
    assert raised.value.holder == f"process {holder.pid} on {socket.gethostname()}"


def test_a_writer_that_closed_lets_the_next_one_in(folder: Path, holder: subprocess.Popen[str]) -> None:
    assert holder.stdin is not None
    assert holder.stdout is not None
    holder.stdin.write("\n")
    holder.stdin.flush()
    assert holder.stdout.readline() == "closed\n"
    Library.open(folder).close()


def test_the_lock_of_a_killed_writer_is_taken_over(folder: Path, holder: subprocess.Popen[str]) -> None:
    holder.send_signal(signal.SIGKILL)
    holder.wait()
    with Library.open(folder):
        said = json.loads((folder / LOCK_NAME).read_text("utf-8"))
    assert said["pid"] == os.getpid()


def test_a_lock_file_of_another_machine_that_nobody_holds_is_no_hindrance(folder: Path) -> None:
    folder.mkdir()
    (folder / LOCK_NAME).write_text('{"pid": 1, "host": "elsewhere"}', "utf-8")
    Library.open(folder).close()


def test_a_reader_works_beside_the_writer(folder: Path, holder: subprocess.Popen[str]) -> None:
    with Library.open(folder, read_only=True) as reader:
        assert reader.products() == ()
        assert reader.read_only


def test_one_process_cannot_write_twice_either(library: Library, folder: Path) -> None:
    with pytest.raises(LibraryInUse):
        Library.open(folder)


WRITE_AND_DIE = """
import os, signal, sys
from pathlib import Path
from store.database import connect
raw = connect(Path(sys.argv[1]) / "library.sqlite")
raw.execute("PRAGMA cache_size = 2")
raw.execute("BEGIN IMMEDIATE")
raw.execute("UPDATE claims SET quote = 'half written'")
raw.execute("UPDATE pages SET text = zeroblob(400000)")
os.kill(os.getpid(), signal.SIGKILL)
"""


@pytest.mark.parametrize("read_only", [True, False])
def test_what_a_killed_writer_left_half_written_is_rolled_back(folder: Path, read_only: bool) -> None:
    with Library.open(folder) as library:
        sheet = library.file_sheet(b"one", "g.pdf", [reading(THREE)])[0].sheet
        before = library.claims(sheet.id)
    whole = (folder / "library.sqlite").read_bytes()
    subprocess.run([sys.executable, "-c", WRITE_AND_DIE, str(folder)], check=False)
    assert (folder / "library.sqlite-journal").exists()
    assert (folder / "library.sqlite").read_bytes() != whole
    with Library.open(folder, read_only=read_only) as library:
        assert library.claims(sheet.id) == before


def test_several_threads_share_a_library(library: Library) -> None:
    sheet = library.file_sheet(b"one", "g.pdf", [reading([over("primer", f"Over {n}") for n in range(40)])])[0].sheet
    ids = [c.id for c in library.claims(sheet.id)]
    with ThreadPoolExecutor(4) as pool:
        confirming = [pool.submit(library.confirm, [claim_id]) for claim_id in ids]
        looking = [pool.submit(library.rules) for _ in ids]
        assert [f.result()[0].status for f in confirming] == [ClaimStatus.CONFIRMED] * 40
        assert all(len(f.result()) <= 40 for f in looking)
    assert library.progress().decided == 40


def test_a_failed_opening_leaves_no_lock(folder: Path) -> None:
    folder.mkdir()
    database = folder / "library.sqlite"
    database.write_bytes(b"rubbish" * 1000)
    with pytest.raises(Exception, match="damaged"):
        Library.open(folder)
    database.unlink()
    Library.open(folder).close()


def test_closing_twice_does_no_harm(folder: Path) -> None:
    library = Library.open(folder)
    library.close()
    library.close()


@pytest.fixture
def locked_down() -> Iterator[Path]:
    """A library whose folder may only be read, also where the tests run as root."""
    with tempfile.TemporaryDirectory() as place:
        Path(place).chmod(0o755)
        folder = Path(place) / "nur lesen"
        with Library.open(folder) as library:
            sheet = library.file_sheet(b"one", "g.pdf", [reading(THREE)])[0].sheet
            library.confirm([library.claims(sheet.id)[0].id])
        folder.chmod(0o555)
        is_root = os.geteuid() == 0
        if is_root:
            os.seteuid(65534)
        try:
            yield folder
        finally:
            if is_root:
                os.seteuid(0)
            folder.chmod(0o755)


def test_a_folder_that_may_only_be_read_can_be_read(locked_down: Path) -> None:
    with pytest.raises(LibraryFull):
        Library.open(locked_down)
    with Library.open(locked_down, read_only=True) as library:
        (sheet,) = library.sheets()
        assert [c.status for c in library.claims(sheet.id)].count(ClaimStatus.CONFIRMED) == 1
        assert library.pdf_path(sheet.id).read_bytes() == b"one"
        assert len(library.search("steel")) == 2
        with pytest.raises(ReadingOnly):
            library.undo()
