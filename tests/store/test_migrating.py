from __future__ import annotations

import sqlite3
import subprocess
import sys
from datetime import UTC, datetime
from pathlib import Path

import pytest
from alembic.autogenerate import compare_metadata
from alembic.config import Config
from alembic.migration import MigrationContext
from alembic.script import ScriptDirectory
from made_sheets import THREE, reading

from store import backup, migrating
from store.database import DATABASE_NAME, connect, engine_over
from store.errors import LibraryDamaged, LibraryMissing, LibraryTooNew, LibraryTooOld
from store.files import pdf_path, sha256_of
from store.job_records import Coat, Panel
from store.library import Library
from store.migrations import HEAD
from store.tables import Base


def revision_of(folder: Path) -> int:
    raw = connect(folder / DATABASE_NAME, read_only=True)
    try:
        return int(raw.execute("PRAGMA user_version").fetchone()[0])
    finally:
        raw.close()


def tables_of(folder: Path) -> set[str]:
    raw = connect(folder / DATABASE_NAME, read_only=True)
    try:
        return {row[0] for row in raw.execute("SELECT name FROM sqlite_master")}
    finally:
        raw.close()


@pytest.fixture
def old_library(folder: Path) -> Path:
    """A library as the first version of the tables left it, with a maker and a product in it."""
    folder.mkdir()
    migrating.upgrade(folder / DATABASE_NAME, folder, to="0001")
    raw = connect(folder / DATABASE_NAME)
    raw.execute("INSERT INTO makers VALUES (1, 'Vellmark')")
    raw.execute("INSERT INTO products VALUES (1, 1, 'Granat 12', 'primer.epoxy.2k', NULL, 'Granat 12 Vellmark', '[]')")
    raw.close()
    assert revision_of(folder) == 1
    return folder


def test_the_migrations_make_the_tables_that_the_program_works_with(library: Library, folder: Path) -> None:
    engine = engine_over(lambda: connect(folder / DATABASE_NAME, read_only=True))
    try:
        with engine.connect() as connection:
            context = MigrationContext.configure(connection, opts={"compare_type": True})
            differences = [d for d in compare_metadata(context, Base.metadata) if not about_search(d)]
    finally:
        engine.dispose()
    assert differences == []


def about_search(difference: object) -> bool:
    """FTS5 keeps tables of its own that no model describes."""
    kind, what = difference[0], difference[1]  # type: ignore[index]
    return kind == "remove_table" and "_search" in what.name


def test_head_is_the_newest_revision() -> None:
    config = Config()
    config.set_main_option("script_location", "store:migrations")
    assert ScriptDirectory.from_config(config).get_current_head() == f"{HEAD:04d}"


def test_a_new_library_stands_at_head_with_the_settings_it_needs(library: Library, folder: Path) -> None:
    assert revision_of(folder) == HEAD
    with library._database.raw() as raw:
        pragmas = {
            name: raw.execute(f"PRAGMA {name}").fetchone()[0]
            for name in ("journal_mode", "synchronous", "foreign_keys")
        }
    assert pragmas == {"journal_mode": "delete", "synchronous": 2, "foreign_keys": 1}
    assert not (folder / "backups").exists(), "there was nothing to back up"


def test_an_old_library_is_backed_up_and_brought_up_to_date(old_library: Path) -> None:
    with Library.open(old_library) as library:
        assert library.search("vellm")[0].title == "Granat 12"
        library.file_sheet(b"one", "g.pdf", [reading(THREE)])
    assert revision_of(old_library) == HEAD
    (kept,) = (old_library / "backups").iterdir()
    raw = sqlite3.connect(kept)
    assert raw.execute("PRAGMA user_version").fetchone() == (1,)
    assert raw.execute("SELECT name FROM products").fetchall() == [("Granat 12",)]
    raw.close()


@pytest.fixture
def library_before_the_job(folder: Path) -> Path:
    """A library as the second version of the tables left it: a sheet with a confirmed claim, a note, a question."""
    folder.mkdir()
    migrating.upgrade(folder / DATABASE_NAME, folder, to="0002")
    raw = connect(folder / DATABASE_NAME)
    raw.execute("INSERT INTO makers VALUES (1, 'Vellmark')")
    raw.execute("INSERT INTO products VALUES (1, 1, 'Granat 12', 'primer.epoxy.2k', NULL, 'Granat 12 Vellmark', '[]')")
    moment = "2025-11-02T08:00:00.000000+00:00"
    raw.execute("INSERT INTO files VALUES (1, ?, 'g.pdf', 3, ?)", (sha256_of(b"one"), moment))
    raw.execute(
        "INSERT INTO sheets VALUES (1, 1, 1, 1, '2023-04-01', NULL, 'en', 0, '[]', '1', ?, NULL, 0, 1)", (moment,)
    )
    raw.execute(
        "INSERT INTO claims (id, sheet_id, position, topic, stance, object, only, unlimited, confidence, from_picture,"
        " page, quote, boxes, status, added_by_user, withdrawn) VALUES (1, 1, 0, 'goes_over', 'permits',"
        " 'surface.steel', 0, 0, 0.9, 0, 1, 'Apply to clean bare steel', '[[50,60,200,70]]', 'confirmed', 0, 0)"
    )
    raw.execute("INSERT INTO notes VALUES (1, 1, 'sprays well', ?)", (moment,))
    raw.execute("INSERT INTO questions VALUES (1, 'steel', 'Granat 12', 12.0, ?, 'yes')", (moment,))
    raw.close()
    (folder / "sheets").mkdir()
    pdf_path(folder, sha256_of(b"one")).write_bytes(b"one")
    return folder


def test_a_library_with_sheets_and_decisions_keeps_them_when_the_job_is_added(library_before_the_job: Path) -> None:
    folder = library_before_the_job
    with Library.open(folder) as library:
        (sheet,) = library.sheets()
        assert (sheet.file_name, sheet.decided) == ("g.pdf", 1)
        assert [r.claim.object for r in library.rules()] == ["surface.steel"]
        assert library.notes(1)[0].text == "sprays well"
        assert library.questions()[0].at_c == 12.0
        assert library.search("bare steel")[0].sheet_id == 1
        assert library.pdf_path(1).read_bytes() == b"one"
        door = library.add_panel(Panel("door")).id
        library.log_coat(door, Coat(datetime(2026, 1, 31, tzinfo=UTC), 1))
        library.remove_sheet(1)
        assert library.rules() == ()
    assert revision_of(folder) == HEAD
    (kept,) = (folder / "backups").iterdir()
    raw = sqlite3.connect(kept)
    assert raw.execute("PRAGMA user_version").fetchone() == (2,)
    assert raw.execute("SELECT quote FROM claims").fetchall() == [("Apply to clean bare steel",)]
    raw.close()


def test_kinds_in_own_rules_and_questions_go_by_their_ids_from_then_on(folder: Path) -> None:
    folder.mkdir()
    migrating.upgrade(folder / DATABASE_NAME, folder, to="0003")
    moment = "2025-11-02T08:00:00.000000+00:00"
    raw = connect(folder / DATABASE_NAME)
    raw.execute("INSERT INTO makers VALUES (1, 'Vellmark')")
    raw.execute("INSERT INTO products VALUES (1, 1, 'Granat 12', 'primer.epoxy.2k', NULL, 'Granat 12 Vellmark', '[]')")
    raw.execute("INSERT INTO products VALUES (2, 1, 'Etch Primer', 'primer.etch', NULL, 'Etch Primer Vellmark', '[]')")
    for lower, upper in (("bare steel", "Granat 12"), ("2K epoxy primer", "no kind at all"), ("Etch Primer", "filler")):
        raw.execute(
            "INSERT INTO own_rules (lower, upper, forbids, words, source, made_at) VALUES (?, ?, 1, 'lifted', '', ?)",
            (lower, upper, moment),
        )
    for lower in ("bare steel", "surface.steel", "epoxy primer"):
        raw.execute(
            "INSERT INTO questions (lower, upper, at_c, asked_at, verdict) VALUES (?, 'Granat 12', NULL, ?, 'yes')",
            (lower, moment),
        )
    raw.close()
    with Library.open(folder) as library:
        assert [(rule.lower, rule.upper) for rule in library.own_rules()] == [
            ("surface.steel", "Granat 12"),
            ("primer.epoxy.2k", "no kind at all"),
            ("Etch Primer", "filler"),
        ]
        assert [question.lower for question in library.questions()] == ["primer.epoxy", "surface.steel"]
    (kept,) = (folder / "backups").iterdir()
    raw = sqlite3.connect(kept)
    assert raw.execute("SELECT lower FROM own_rules WHERE id = 1").fetchone() == ("bare steel",)
    raw.close()


def test_a_back_up_from_before_the_job_can_still_be_restored(library_before_the_job: Path, tmp_path: Path) -> None:
    old = library_before_the_job

    def copy_database(to: Path) -> None:
        raw = connect(old / DATABASE_NAME)
        migrating.copy_checked(raw, to, old)
        raw.close()

    backup.back_up(copy_database, old, tmp_path / "old.zip")
    Library.restore(tmp_path / "old.zip", tmp_path / "new")
    with Library.open(tmp_path / "new") as library:
        assert [s.file_name for s in library.sheets()] == ["g.pdf"]
        assert library.panels() == ()


def test_an_upgrade_that_fails_leaves_the_library_as_it_was(old_library: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    before = tables_of(old_library)

    def find_fault(connection: object, folder: Path) -> None:
        raise LibraryDamaged(str(folder), "row 1 missing from index")

    with monkeypatch.context() as patched:
        patched.setattr(migrating, "_check_after", find_fault)
        with pytest.raises(LibraryDamaged):
            Library.open(old_library)
    assert (revision_of(old_library), tables_of(old_library)) == (1, before)
    with Library.open(old_library) as library:
        assert [p.name for p in library.products()] == ["Granat 12"]


def test_an_upgrade_that_ruins_the_file_is_replaced_by_the_back_up(
    old_library: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def ruin(path: Path, folder: Path, to: str = "head") -> None:
        path.write_bytes(b"\0" * 5000)
        raise RuntimeError("power cut")

    with monkeypatch.context() as patched:
        patched.setattr(migrating, "upgrade", ruin)
        with pytest.raises(RuntimeError):
            Library.open(old_library)
    assert revision_of(old_library) == 1
    with Library.open(old_library) as library:
        assert [p.name for p in library.products()] == ["Granat 12"]


def test_rows_that_point_nowhere_stop_an_upgrade(old_library: Path) -> None:
    raw = connect(old_library / DATABASE_NAME, foreign_keys=False)
    raw.execute("UPDATE products SET maker_id = 7")
    raw.close()
    with pytest.raises(LibraryDamaged) as raised:
        Library.open(old_library)
    assert "products points nowhere" in raised.value.detail
    assert revision_of(old_library) == 1


def test_the_last_ten_back_ups_are_kept(old_library: Path) -> None:
    made = [migrating.back_up_database(old_library, f"before-{n:04d}") for n in range(12)]
    assert sorted((old_library / "backups").iterdir()) == made[2:]


def test_a_library_of_a_newer_program_is_refused_untouched(folder: Path) -> None:
    Library.open(folder).close()
    raw = connect(folder / DATABASE_NAME)
    raw.execute(f"PRAGMA user_version = {HEAD + 1}")
    raw.close()
    before = (folder / DATABASE_NAME).read_bytes()
    for read_only in (False, True):
        with pytest.raises(LibraryTooNew) as raised:
            Library.open(folder, read_only=read_only)
        assert raised.value.revision == f"{HEAD + 1:04d}"
    assert (folder / DATABASE_NAME).read_bytes() == before


def test_reading_alone_neither_makes_nor_migrates(old_library: Path, tmp_path: Path) -> None:
    with pytest.raises(LibraryTooOld):
        Library.open(old_library, read_only=True)
    for empty in (tmp_path / "not there", tmp_path):
        with pytest.raises(LibraryMissing):
            Library.open(empty, read_only=True)


def test_a_damaged_file_is_said_to_be_damaged(folder: Path) -> None:
    with Library.open(folder) as library:
        library.file_sheet(b"one", "g.pdf", [reading(THREE)])
    whole = (folder / DATABASE_NAME).read_bytes()
    for broken in (b"not a database" * 400, whole[:8192], whole[:4096] + b"\xff" * (len(whole) - 4096)):
        (folder / DATABASE_NAME).write_bytes(broken)
        with pytest.raises(LibraryDamaged):
            Library.open(folder)
    foreign = sqlite3.connect(folder / "other.sqlite")
    foreign.execute("CREATE TABLE t (x)")
    foreign.close()
    (folder / "other.sqlite").replace(folder / DATABASE_NAME)
    with pytest.raises(LibraryDamaged):
        Library.open(folder)


def test_opening_an_up_to_date_library_does_not_import_alembic(folder: Path) -> None:
    Library.open(folder).close()
    code = (
        "import sys; from pathlib import Path; from store.library import Library;"
        "Library.open(Path(sys.argv[1])).close(); print('alembic' in sys.modules)"
    )
    done = subprocess.run([sys.executable, "-c", code, str(folder)], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "False"
