"""Back-ups looked at before anything is done with them: what a file holds, and which the library keeps by itself.

Before its tables are changed the library copies its database, before it is replaced by a back-up it packs itself
whole; both lie in its folder of back-ups, the last ten of each.
"""

from __future__ import annotations

import re
import shutil
import sqlite3
import tempfile
from dataclasses import dataclass
from datetime import UTC, datetime
from enum import StrEnum
from pathlib import Path

from store import backup
from store.database import DATABASE_NAME, connect
from store.errors import BackupDamaged, LibraryDamaged, StoreError
from store.migrating import BACKUP_FOLDER, damage_in


class WhyKept(StrEnum):
    BEFORE_MIGRATION = "before_migration"
    BEFORE_RESTORE = "before_restore"


@dataclass(frozen=True, slots=True)
class KeptBackup:
    """One that the library made by itself. damage is '' where it passed its checks."""

    path: Path
    made_at: datetime
    why: WhyKept
    size: int
    damage: str = ""


@dataclass(frozen=True, slots=True)
class BackupAbout:
    """What a checked back-up holds. made_at is None for a bare copy of the database that does not say."""

    source: Path
    made_at: datetime | None
    sheets: int
    products: int
    panels: int
    tins: int


_STAMPED = re.compile(r"(\d{8}-\d{6}-\d{6})-(before-restore\.zip|before-\d{4}\.sqlite)")


def kept_backups(folder: Path) -> tuple[KeptBackup, ...]:
    """Those of the library in a folder, the newest first, each checked: the larger the library, the longer it takes."""
    found = []
    for path in sorted((folder / BACKUP_FOLDER).glob("*"), reverse=True):
        stamped = _STAMPED.fullmatch(path.name)
        if stamped is None:
            continue
        made_at = datetime.strptime(stamped[1], "%Y%m%d-%H%M%S-%f").replace(tzinfo=UTC)
        why = WhyKept.BEFORE_RESTORE if path.suffix == ".zip" else WhyKept.BEFORE_MIGRATION
        found.append(KeptBackup(path, made_at, why, path.stat().st_size, _damage(path, folder)))
    return tuple(found)


def about_backup(source: Path, folder: Path) -> BackupAbout:
    """Check the whole of a back-up and say what it holds; nothing is changed.

    folder is the library that a bare copy of a database belongs to, whose PDFs lie there. Raises BackupDamaged,
    LibraryTooNew.
    """
    with tempfile.TemporaryDirectory(prefix="tinsheet-") as scratch:
        fresh = Path(scratch) / "fresh"
        fresh.mkdir()
        packed = _packed(source, folder, Path(scratch))
        made_at: datetime | None = backup.unpack_checked(packed, fresh)
        if packed != source:
            stamped = _STAMPED.fullmatch(source.name)
            made_at = (
                datetime.strptime(stamped[1], "%Y%m%d-%H%M%S-%f").replace(tzinfo=UTC) if stamped is not None else None
            )
        raw = connect(fresh / DATABASE_NAME, read_only=True)
        try:
            counts = [_count(raw, table) for table in ("sheets", "products", "panels", "tins")]
        finally:
            raw.close()
    return BackupAbout(source, made_at, *counts)


def restore_any(source: Path, folder: Path) -> None:
    """Library.restore for a back-up of either sort. The caller holds no library in the folder open."""
    from store.library import Library  # noqa: PLC0415 - the facade knows of no back-up that is only looked at

    with tempfile.TemporaryDirectory(prefix="tinsheet-") as scratch:
        Library.restore(_packed(source, folder, Path(scratch)), folder)


def _packed(source: Path, folder: Path, scratch: Path) -> Path:
    """A bare copy of a database packed with the PDFs that lie in its library's folder; other files as they are."""
    if source.suffix != ".sqlite":
        return source
    packed = scratch / "packed.zip"

    def copy(to: Path) -> None:
        shutil.copy2(source, to)

    try:
        backup.back_up(copy, folder, packed)
    except (LibraryDamaged, sqlite3.DatabaseError, FileNotFoundError) as error:
        raise BackupDamaged(str(source), str(error)) from error
    return packed


def _damage(path: Path, folder: Path) -> str:
    try:
        if path.suffix == ".sqlite":
            raw = connect(path, read_only=True)
            try:
                return damage_in(raw)
            finally:
                raw.close()
        about_backup(path, folder)
    except (StoreError, sqlite3.DatabaseError, OSError) as error:
        return str(error)
    return ""


def _count(raw: sqlite3.Connection, table: str) -> int:
    if not raw.execute("SELECT 1 FROM sqlite_master WHERE type = 'table' AND name = ?", (table,)).fetchone():
        return 0
    columns = {row[1] for row in raw.execute(f"PRAGMA table_info({table})")}
    present = " WHERE deleted_at IS NULL" if "deleted_at" in columns else ""
    return int(raw.execute(f"SELECT count(*) FROM {table}{present}").fetchone()[0])  # noqa: S608 - names of our own
