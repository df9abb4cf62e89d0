"""Bringing a library up to this program's tables: a back-up first, then all in one transaction, checked.

Alembic is imported only where there is something to do; its import would cost every start a quarter of a second.
"""

from __future__ import annotations

import sqlite3
from datetime import UTC, datetime
from pathlib import Path

from sqlalchemy import Connection, Engine

from store.database import DATABASE_NAME, SIDE_FILES, connect, engine_over, translated
from store.errors import LibraryDamaged, LibraryMissing, LibraryTooNew, LibraryTooOld
from store.migrations import HEAD

BACKUP_FOLDER = "backups"
BACKUPS_KEPT = 10


def prepare(folder: Path, *, read_only: bool) -> None:
    """Check the database, make it where there is none, migrate it where it is older than this program.

    Raises LibraryMissing or LibraryTooOld where only reading is allowed, LibraryTooNew, LibraryDamaged, LibraryFull.
    """
    path = folder / DATABASE_NAME
    with translated(folder):
        if read_only:
            if not path.exists():
                raise LibraryMissing(str(folder))
            _recover(path)
        revision = _checked_revision(path, folder, read_only=read_only)
        if revision > HEAD:
            raise LibraryTooNew(str(folder), f"{revision:04d}")
        if revision == HEAD:
            return
        if read_only:
            raise LibraryTooOld(str(folder), f"{revision:04d}")
        kept = back_up_database(folder, f"before-{HEAD:04d}") if revision else None
        try:
            upgrade(path, folder)
        except BaseException:
            if kept is not None and not _unharmed(path, folder, revision):
                put_back(kept, path)
            raise


def upgrade(path: Path, folder: Path, to: str = "head") -> None:
    """Run the migrations in one transaction, kept only if the result passes every check."""
    # Foreign keys are off while tables are rebuilt, or dropping the old one would empty those that point at it.
    engine = engine_over(lambda: connect(path, foreign_keys=False))
    try:
        with engine.connect().execution_options(writing=True) as connection, connection.begin():
            _run_alembic(connection, to)
            _check_after(connection, folder)
    finally:
        _dispose(engine)


def _run_alembic(connection: Connection, to: str) -> None:
    from alembic import command  # noqa: PLC0415 - slow to import, rarely needed
    from alembic.config import Config  # noqa: PLC0415
    from alembic.script import ScriptDirectory  # noqa: PLC0415

    config = Config()
    config.set_main_option("script_location", "store:migrations")
    config.attributes["connection"] = connection
    command.upgrade(config, to)
    script = ScriptDirectory.from_config(config).get_revision(to)
    connection.exec_driver_sql(f"PRAGMA user_version = {int(script.revision)}")


def _check_after(connection: Connection, folder: Path) -> None:
    damage = [row[0] for row in connection.exec_driver_sql("PRAGMA integrity_check") if row[0] != "ok"]
    damage += [f"{row[0]} points nowhere" for row in connection.exec_driver_sql("PRAGMA foreign_key_check")]
    if damage:
        raise LibraryDamaged(str(folder), "; ".join(damage[:5]))


def _dispose(engine: Engine) -> None:
    engine.dispose()


def _recover(path: Path) -> None:
    """Roll back what a killed writer left half-written: a connection that only reads cannot."""
    journal = path.with_name(path.name + "-journal")
    if not journal.exists():
        return
    try:
        raw = connect(path)
    except sqlite3.OperationalError:
        return  # The folder allows no writing; opening for reading will say what is wrong.
    try:
        raw.execute("SELECT count(*) FROM sqlite_master").fetchone()
    finally:
        raw.close()


def _checked_revision(path: Path, folder: Path, *, read_only: bool) -> int:
    raw = connect(path, read_only=read_only)
    try:
        verdict = raw.execute("PRAGMA quick_check(1)").fetchone()[0]
        if verdict != "ok":
            raise LibraryDamaged(str(folder), str(verdict))
        revision = int(raw.execute("PRAGMA user_version").fetchone()[0])
        if revision == 0 and raw.execute("SELECT count(*) FROM sqlite_master").fetchone()[0]:
            raise LibraryDamaged(str(folder), f"{DATABASE_NAME} is not a library")
        return revision
    finally:
        raw.close()


def _unharmed(path: Path, folder: Path, revision: int) -> bool:
    try:
        return _checked_revision(path, folder, read_only=False) == revision
    except (LibraryDamaged, sqlite3.Error):
        return False


def back_up_database(folder: Path, why: str) -> Path:
    """A checked copy of the database in the library's own folder of back-ups; the last ten are kept."""
    backups = folder / BACKUP_FOLDER
    backups.mkdir(exist_ok=True)
    stamp = datetime.now(UTC).strftime("%Y%m%d-%H%M%S-%f")
    target = backups / f"{stamp}-{why}.sqlite"
    source = connect(folder / DATABASE_NAME)
    try:
        copy_checked(source, target, folder)
    finally:
        source.close()
    for old in sorted(backups.glob("*.sqlite"))[:-BACKUPS_KEPT]:
        old.unlink(missing_ok=True)
    return target


def copy_checked(source: sqlite3.Connection, target: Path, folder: Path) -> None:
    """Copy a database by SQLite's back-up call and check the copy. Raises LibraryDamaged; leaves no bad copy."""
    copy = sqlite3.connect(target)
    try:
        source.backup(copy)
        # A copy of a database is not to be written through a journal of another mode.
        copy.execute("PRAGMA journal_mode = DELETE")
        damage = damage_in(copy)
    except BaseException:
        copy.close()
        target.unlink(missing_ok=True)
        raise
    copy.close()
    if damage:
        target.unlink(missing_ok=True)
        raise LibraryDamaged(str(folder), damage)


def damage_in(raw: sqlite3.Connection) -> str:
    """What SQLite's own checks find wrong, '' where nothing is."""
    found = [str(row[0]) for row in raw.execute("PRAGMA integrity_check") if row[0] != "ok"]
    found += [f"{row[0]} points nowhere" for row in raw.execute("PRAGMA foreign_key_check")]
    return "; ".join(found[:5])


def put_back(kept: Path, path: Path) -> None:
    """Replace a database by a copy of it. Side files go first: a journal of the old one would ruin the new."""
    fresh = path.with_name(path.name + ".part")
    fresh.write_bytes(kept.read_bytes())
    for side in SIDE_FILES:
        path.with_name(path.name + side).unlink(missing_ok=True)
    fresh.replace(path)
