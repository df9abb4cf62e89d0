"""Photos of the job, in a folder of the library, each named by its content."""

from __future__ import annotations

from datetime import UTC, datetime
from pathlib import Path, PurePath

from sqlalchemy import Connection, insert, select

from store.errors import UnknownRecord, WrongEntry
from store.files import PHOTO_FOLDER, keep_photo, photo_path, sha256_of
from store.job_records import Photo
from store.job_tables import PhotoRow

SUFFIXES = frozenset({".jpg", ".jpeg", ".png", ".webp", ".heic", ".gif", ".bmp", ".tif", ".tiff"})

__all__ = ["PHOTO_FOLDER", "SUFFIXES", "keep", "path_of", "photo", "photos"]


def keep(connection: Connection, folder: Path, content: bytes, file_name: str) -> Photo:
    """Keep a photo; the same content again is the photo that is there. Raises WrongEntry for another sort of file."""
    suffix = PurePath(file_name).suffix.lower()
    if suffix not in SUFFIXES:
        raise WrongEntry("photo", f"{PurePath(file_name).name} is not a picture")
    if not content:
        raise WrongEntry("photo", f"{PurePath(file_name).name} is empty")
    sha256 = sha256_of(content)
    known = connection.execute(select(PhotoRow.__table__).where(PhotoRow.sha256 == sha256)).first()
    if known is not None:
        keep_photo(folder, sha256, known.suffix, content)  # Mends a library whose photo was taken away.
        return Photo(known.id, known.sha256, known.suffix, known.name)
    name = PurePath(file_name).name
    values = {
        "sha256": sha256, "suffix": suffix, "name": name, "length": len(content), "kept_at": datetime.now(UTC),
    }  # fmt: skip
    made = connection.execute(insert(PhotoRow).values(values).returning(PhotoRow.id)).scalar_one()
    # On the disk before the commit, so that no entry is ever without its photo; a stray one is swept on opening.
    keep_photo(folder, sha256, suffix, content)
    return Photo(int(made), sha256, suffix, name)


def photo(connection: Connection, photo_id: int) -> Photo:
    row = connection.execute(select(PhotoRow.__table__).where(PhotoRow.id == photo_id)).first()
    if row is None:
        raise UnknownRecord(f"photo {photo_id}")
    return Photo(row.id, row.sha256, row.suffix, row.name)


def photos(connection: Connection) -> tuple[Photo, ...]:
    rows = connection.execute(select(PhotoRow.__table__).order_by(PhotoRow.id))
    return tuple(Photo(row.id, row.sha256, row.suffix, row.name) for row in rows)


def path_of(folder: Path, photo: Photo) -> Path:
    return photo_path(folder, photo.sha256, photo.suffix)
