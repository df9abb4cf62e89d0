"""The whole library in one file, and back: a zip of a checked copy of the database, the PDFs and the photos."""

from __future__ import annotations

import json
import os
import re
import shutil
import sqlite3
import tempfile
import zipfile
from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path

from store.database import DATABASE_NAME, SIDE_FILES, connect
from store.errors import BackupDamaged, LibraryDamaged, LibraryTooNew
from store.files import PDF_FOLDER, PHOTO_FOLDER, sha256_of, sync_folder
from store.migrating import BACKUP_FOLDER, BACKUPS_KEPT, copy_checked, damage_in
from store.migrations import HEAD

FORMAT = "tinsheet-backup/1"
_ABOUT = "about.json"
_UNFINISHED = ".part"
_SCRATCH = ".restoring-"


def back_up(copy_database: Callable[[Path], None], folder: Path, to: Path) -> None:
    """Write the library to one file, which appears whole or not at all.

    copy_database puts a checked copy of the database at a path; only it needs the library to stand still, as a
    filed PDF never changes. Raises LibraryDamaged where the database or a PDF does not pass its check, OSError
    where there is no room.
    """
    part = to.with_name(to.name + _UNFINISHED)
    with tempfile.TemporaryDirectory(prefix="tinsheet-") as scratch:
        copy = Path(scratch) / DATABASE_NAME
        copy_database(copy)
        try:
            with zipfile.ZipFile(part, "w", zipfile.ZIP_DEFLATED) as archive:
                about = {"format": FORMAT, "revision": HEAD, "made_at": datetime.now(UTC).isoformat()}
                archive.writestr(_ABOUT, json.dumps(about))
                archive.write(copy, DATABASE_NAME)
                for within, sha256, name in _files_in(copy):
                    path = folder / within
                    if not path.exists() or sha256_of(path.read_bytes()) != sha256:
                        raise LibraryDamaged(str(folder), f"{name} is missing or changed ({path.name})")
                    # PDFs and photos are packed inside already; packing them again costs time and saves little.
                    archive.write(path, within, compress_type=zipfile.ZIP_STORED)
            with part.open("rb+") as written:
                os.fsync(written.fileno())
            part.replace(to)
        finally:
            part.unlink(missing_ok=True)
    sync_folder(to.parent)


def restore(source: Path, folder: Path) -> None:
    """Put a back-up in place of what the folder holds, after everything in it has passed its check.

    What the folder held before is itself backed up first, into its folder of back-ups. The caller holds the
    writer's lock. Raises BackupDamaged or LibraryTooNew, and then nothing has changed.
    """
    with tempfile.TemporaryDirectory(prefix=_SCRATCH, dir=folder) as scratch:
        fresh = Path(scratch)
        _unpack(source, fresh)
        _check(source, fresh)
        _keep_present(folder)
        for place in (PDF_FOLDER, PHOTO_FOLDER):
            (folder / place).mkdir(exist_ok=True)
            for kept in (fresh / place).iterdir():
                kept.replace(folder / place / kept.name)
            sync_folder(folder / place)
        # A journal left from the old database would be rolled into the new one and ruin it.
        for side in SIDE_FILES:
            (folder / (DATABASE_NAME + side)).unlink(missing_ok=True)
        (fresh / DATABASE_NAME).replace(folder / DATABASE_NAME)
        sync_folder(folder)


def unpack_checked(source: Path, fresh: Path) -> datetime:
    """Unpack a back-up into an empty folder and check all of it; when it was made. Raises as restore does."""
    _unpack(source, fresh)
    _check(source, fresh)
    with zipfile.ZipFile(source) as archive:
        try:
            return datetime.fromisoformat(str(json.loads(archive.read(_ABOUT))["made_at"]))
        except (KeyError, ValueError) as error:
            raise BackupDamaged(str(source), "does not say when it was made") from error


def clear_unfinished(folder: Path) -> None:
    """Remove what a killed back-up or restoring left in the library's folder. The caller holds the writer's lock."""
    for scratch in folder.glob(f"{_SCRATCH}*"):
        shutil.rmtree(scratch, ignore_errors=True)
    for part in (folder / BACKUP_FOLDER).glob(f"*{_UNFINISHED}"):
        part.unlink(missing_ok=True)


def _files_in(database: Path) -> list[tuple[str, str, str]]:
    """What belongs beside the database: the place within the library, the hash, and the name it came under."""
    raw = connect(database, read_only=True)
    try:
        found = raw.execute("SELECT sha256, name FROM files ORDER BY id").fetchall()
        files = [(f"{PDF_FOLDER}/{sha256}.pdf", str(sha256), str(name)) for sha256, name in found]
        if raw.execute("SELECT 1 FROM sqlite_master WHERE name = 'photos'").fetchone():
            photos = raw.execute("SELECT sha256, suffix, name FROM photos ORDER BY id").fetchall()
            files += [(f"{PHOTO_FOLDER}/{sha256}{suffix}", str(sha256), str(name)) for sha256, suffix, name in photos]
        return files
    finally:
        raw.close()


def _unpack(source: Path, fresh: Path) -> None:
    """Take out what a back-up is made of and nothing else: no name in it is trusted as a path."""
    for place in (PDF_FOLDER, PHOTO_FOLDER):
        (fresh / place).mkdir()
    try:
        with zipfile.ZipFile(source) as archive:
            about = json.loads(archive.read(_ABOUT))
            if about.get("format") != FORMAT:
                raise BackupDamaged(str(source), "not a back-up of a library")
            for name in archive.namelist():
                parts = name.split("/")
                if name == DATABASE_NAME:
                    target = fresh / DATABASE_NAME
                elif len(parts) == 2 and _is_kept_file(*parts):
                    target = fresh / parts[0] / parts[1]
                else:
                    continue
                with archive.open(name) as packed, target.open("wb") as out:
                    shutil.copyfileobj(packed, out)
                    out.flush()
                    os.fsync(out.fileno())
    except FileNotFoundError as error:
        raise BackupDamaged(str(source), "no such file") from error
    except (zipfile.BadZipFile, KeyError, ValueError, AttributeError, EOFError) as error:
        raise BackupDamaged(str(source), str(error) or "not a back-up of a library") from error


def _is_kept_file(place: str, name: str) -> bool:
    """True for a name that the library itself gives: a hash and an ending, nothing that could lead elsewhere."""
    if place == PDF_FOLDER:
        return name.endswith(".pdf") and "\\" not in name
    return place == PHOTO_FOLDER and re.fullmatch(r"[0-9a-f]{64}\.[a-z]{3,4}", name) is not None


def _check(source: Path, fresh: Path) -> None:
    database = fresh / DATABASE_NAME
    if not database.exists():
        raise BackupDamaged(str(source), "holds no database")
    try:
        raw = connect(database, read_only=True)
        try:
            damage = damage_in(raw)
            revision = int(raw.execute("PRAGMA user_version").fetchone()[0])
        finally:
            raw.close()
        if damage or revision == 0:
            raise BackupDamaged(str(source), damage or "its database is not a library")
        if revision > HEAD:
            raise LibraryTooNew(str(source), f"{revision:04d}")
        files = _files_in(database)
    except sqlite3.DatabaseError as error:
        raise BackupDamaged(str(source), str(error)) from error
    for within, sha256, name in files:
        kept = fresh / within
        if not _is_kept_file(*within.split("/", 1)) or not kept.exists() or sha256_of(kept.read_bytes()) != sha256:
            raise BackupDamaged(str(source), f"{name} is missing or changed")


def _keep_present(folder: Path) -> None:
    """Back up what is there, if it is a library; a damaged one is kept as it is, beside the back-ups."""
    database = folder / DATABASE_NAME
    if not database.exists():
        return
    backups = folder / BACKUP_FOLDER
    backups.mkdir(exist_ok=True)
    stamp = datetime.now(UTC).strftime("%Y%m%d-%H%M%S-%f")
    try:
        raw = connect(database)
        try:
            to = backups / f"{stamp}-before-restore.zip"
            back_up(lambda copy: copy_checked(raw, copy, folder), folder, to)
        finally:
            raw.close()
    except (LibraryDamaged, sqlite3.DatabaseError):
        damaged = backups / f"{stamp}-damaged"
        damaged.mkdir()
        for name in (DATABASE_NAME, *(DATABASE_NAME + side for side in SIDE_FILES)):
            if (folder / name).exists():
                shutil.copy2(folder / name, damaged / name)
        for place in (PDF_FOLDER, PHOTO_FOLDER):
            if (folder / place).is_dir():
                shutil.copytree(folder / place, damaged / place)
    for old in sorted(backups.glob("*-before-restore.zip"))[:-BACKUPS_KEPT]:
        old.unlink(missing_ok=True)
