from __future__ import annotations

import json
import zipfile
from collections.abc import Callable
from pathlib import Path

import pytest
from made_sheets import FIVE_DAYS, THREE, reading

import store.backup
from store.database import DATABASE_NAME, connect
from store.errors import BackupDamaged, LibraryDamaged, LibraryFull, LibraryInUse, LibraryTooNew
from store.library import Library
from store.migrations import HEAD


@pytest.fixture
def kept(library: Library, tmp_path: Path) -> Path:
    """A back-up of a library with two sheets, a decision, a note and a question."""
    sheet = library.file_sheet(b"%PDF one", "Blatt ä.pdf", [reading(THREE)])[0].sheet
    library.file_sheet(b"%PDF two", "opal.pdf", [reading([FIVE_DAYS], product="Opal 30")])
    library.confirm([library.claims(sheet.id)[0].id])
    library.write_note(sheet.product.id, "gut")
    library.remember_question("Granat 12", "filler", 12.5, "silent")
    to = tmp_path / "Sicherung ü.zip"
    library.back_up(to)
    return to


def contents(library: Library) -> object:
    sheets = library.sheets(include_superseded=True)
    return (
        sheets,
        [library.claims(s.id) for s in sheets],
        [library.page_texts(s.id) for s in sheets],
        [library.pdf_path(s.id).read_bytes() for s in sheets],
        [library.notes(p.id) for p in library.products()],
        library.questions(),
        library.rules(),
    )


def test_a_restored_library_is_the_one_backed_up(library: Library, kept: Path, tmp_path: Path) -> None:
    Library.restore(kept, tmp_path / "new place")
    with Library.open(tmp_path / "new place") as restored:
        assert contents(restored) == contents(library)
        assert restored.can_undo()
        assert restored.search("granat") == library.search("granat")


def test_restoring_replaces_what_is_there_and_keeps_a_back_up_of_it(kept: Path, tmp_path: Path) -> None:
    there = tmp_path / "there"
    with Library.open(there) as library:
        library.file_sheet(b"%PDF three", "kies.pdf", [reading(THREE, product="Kies 7")])
    # Side files of another mode and another time must not be rolled into the restored database.
    for side in ("-journal", "-wal", "-shm"):
        (there / (DATABASE_NAME + side)).write_bytes(b"stale")
    Library.restore(kept, there)
    with Library.open(there) as library:
        assert [p.name for p in library.products()] == ["Granat 12", "Opal 30"]
        assert len(list((there / "sheets").iterdir())) == 2
    (before,) = (there / "backups").glob("*-before-restore.zip")
    Library.restore(before, tmp_path / "back again")
    with Library.open(tmp_path / "back again") as library:
        assert [p.name for p in library.products()] == ["Kies 7"]
        assert library.pdf_path(library.sheets()[0].id).read_bytes() == b"%PDF three"


def test_a_damaged_library_is_kept_aside_and_replaced(kept: Path, tmp_path: Path) -> None:
    there = tmp_path / "there"
    Library.open(there).close()
    (there / DATABASE_NAME).write_bytes(b"rubbish" * 999)
    Library.restore(kept, there)
    with Library.open(there) as library:
        assert len(library.sheets()) == 2
    (aside,) = (there / "backups").glob("*-damaged")
    assert (aside / DATABASE_NAME).read_bytes() == b"rubbish" * 999


def test_a_library_that_is_open_is_not_restored_over(library: Library, kept: Path, folder: Path) -> None:
    before = contents(library)
    with pytest.raises(LibraryInUse):
        Library.restore(kept, folder)
    assert contents(library) == before


def rewritten(source: Path, change: Callable[[str, bytes], bytes | None]) -> Path:
    """A copy of a back-up with its members changed, or left out for None."""
    target = source.with_name("changed.zip")
    with zipfile.ZipFile(source) as old, zipfile.ZipFile(target, "w") as new:
        for name in old.namelist():
            content = change(name, old.read(name))
            if content is not None:
                new.writestr(name, content)
    return target


def is_pdf(name: str) -> bool:
    return name.endswith(".pdf")


def newer(name: str, content: bytes) -> bytes:
    return content[:60] + (HEAD + 1).to_bytes(4, "big") + content[64:] if name == DATABASE_NAME else content


DAMAGES: dict[str, Callable[[str, bytes], bytes | None]] = {
    "a PDF changed": lambda name, content: content + b"!" if is_pdf(name) else content,
    "a PDF left out": lambda name, content: None if is_pdf(name) else content,
    "no database": lambda name, content: None if name == DATABASE_NAME else content,
    "database cut short": lambda name, content: content[:9000] if name == DATABASE_NAME else content,
    "database overwritten": lambda name, content: b"\0" * len(content) if name == DATABASE_NAME else content,
    "no description": lambda name, content: None if name == "about.json" else content,
    "another description": lambda name, content: b'{"format": "x"}' if name == "about.json" else content,
    "a description of another shape": lambda name, content: b"[1]" if name == "about.json" else content,
}


@pytest.mark.parametrize("damage", DAMAGES)
def test_a_damaged_back_up_changes_nothing(kept: Path, tmp_path: Path, damage: str) -> None:
    there = tmp_path / "there"
    with Library.open(there) as library:
        library.file_sheet(b"%PDF three", "kies.pdf", [reading(THREE, product="Kies 7")])
    with pytest.raises(BackupDamaged):
        Library.restore(rewritten(kept, DAMAGES[damage]), there)
    assert not (there / "backups").exists()
    assert list(there.glob(".restoring-*")) == []
    with Library.open(there) as library:
        assert [p.name for p in library.products()] == ["Kies 7"]


def test_what_is_no_back_up_is_refused(kept: Path, tmp_path: Path) -> None:
    cut = tmp_path / "cut.zip"
    cut.write_bytes(kept.read_bytes()[:-200])
    text = tmp_path / "text.zip"
    text.write_text("hello", "utf-8")
    flipped = tmp_path / "flipped.zip"
    content = bytearray(kept.read_bytes())
    content[len(content) // 3] ^= 0xFF
    flipped.write_bytes(content)
    for source in (cut, text, flipped, tmp_path / "not there.zip"):
        with pytest.raises(BackupDamaged):
            Library.restore(source, tmp_path / "there")


def test_rows_that_point_nowhere_are_found_before_restoring(library: Library, kept: Path, tmp_path: Path) -> None:
    def orphan(name: str, content: bytes) -> bytes:
        if name != DATABASE_NAME:
            return content
        scratch = tmp_path / "scratch.sqlite"
        scratch.write_bytes(content)
        raw = connect(scratch, foreign_keys=False)
        raw.execute("UPDATE sheets SET product_id = 77")
        raw.close()
        return scratch.read_bytes()

    with pytest.raises(BackupDamaged, match="points nowhere"):
        Library.restore(rewritten(kept, orphan), tmp_path / "there")


def test_a_back_up_of_a_newer_program_is_refused(kept: Path, tmp_path: Path) -> None:
    with pytest.raises(LibraryTooNew):
        Library.restore(rewritten(kept, newer), tmp_path / "there")


def test_no_name_in_a_back_up_leads_out_of_the_folder(kept: Path, tmp_path: Path) -> None:
    with zipfile.ZipFile(kept, "a") as archive:
        for name in ("../outside.pdf", "sheets/../../outside.pdf", "sheets/..\\outside.pdf", "/outside.pdf"):
            archive.writestr(name, b"out")
    Library.restore(kept, tmp_path / "there")
    assert list(tmp_path.rglob("*outside*")) == []
    with Library.open(tmp_path / "there") as library:
        assert len(library.sheets()) == 2


def test_a_missing_pdf_stops_a_back_up_and_leaves_no_file(library: Library, kept: Path, tmp_path: Path) -> None:
    library.pdf_path(library.sheets()[0].id).write_bytes(b"changed")
    with pytest.raises(LibraryDamaged, match=r"Blatt ä\.pdf is missing or changed"):
        library.back_up(tmp_path / "second.zip")
    assert list(tmp_path.glob("second*")) == []


def test_a_back_up_that_cannot_be_written_keeps_the_earlier_one(
    library: Library, kept: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    before = kept.read_bytes()

    def no_room(handle: int) -> None:
        raise OSError(28, "No space left on device")

    with monkeypatch.context() as patched:
        patched.setattr(store.backup.os, "fsync", no_room)
        with pytest.raises(LibraryFull):
            library.back_up(kept)
    assert kept.read_bytes() == before
    assert list(kept.parent.glob("*.part")) == []


def test_a_back_up_says_what_it_is(kept: Path) -> None:
    with zipfile.ZipFile(kept) as archive:
        about = json.loads(archive.read("about.json"))
    assert (about["format"], about["revision"]) == ("tinsheet-backup/1", HEAD)
