"""The PDFs as they came and the photos of the job, in folders of the library, each file named by its content."""

from __future__ import annotations

import hashlib
import os
from collections.abc import Container
from contextlib import suppress
from pathlib import Path

PDF_FOLDER = "sheets"
PHOTO_FOLDER = "photos"
_UNFINISHED = ".part"


def sha256_of(content: bytes) -> str:
    return hashlib.sha256(content).hexdigest()


def pdf_path(folder: Path, sha256: str) -> Path:
    return folder / PDF_FOLDER / f"{sha256}.pdf"


def keep_pdf(folder: Path, sha256: str, content: bytes) -> bool:
    """Put a PDF in its place, safe on the disk before this returns; True where it was not there yet.

    Raises OSError where it cannot be written; nothing is left behind then.
    """
    return _keep(pdf_path(folder, sha256), sha256, content)


def photo_path(folder: Path, sha256: str, suffix: str) -> Path:
    return folder / PHOTO_FOLDER / f"{sha256}{suffix}"


def keep_photo(folder: Path, sha256: str, suffix: str, content: bytes) -> bool:
    """As keep_pdf."""
    return _keep(photo_path(folder, sha256, suffix), sha256, content)


def _keep(path: Path, sha256: str, content: bytes) -> bool:
    if path.exists() and path.stat().st_size == len(content) and sha256_of(path.read_bytes()) == sha256:
        return False
    path.parent.mkdir(exist_ok=True)
    write_safely(path, content)
    return True


def write_safely(path: Path, content: bytes) -> None:
    """Write under another name, sync, then rename: whoever looks sees the whole file or none."""
    part = path.with_name(path.name + _UNFINISHED)
    try:
        with part.open("wb") as out:
            out.write(content)
            out.flush()
            os.fsync(out.fileno())
        part.replace(path)
    except OSError:
        with suppress(OSError):
            part.unlink(missing_ok=True)
        raise
    sync_folder(path.parent)


def sync_folder(folder: Path) -> None:
    """Make a rename in the folder last; Windows has no such call and needs none."""
    if os.name == "nt":
        return
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)


def sweep(folder: Path, known: Container[str], photos: Container[str] = ()) -> int:
    """Remove what a killed filing left: unfinished files, PDFs and photos whose entry was never committed."""
    swept = 0
    for place, kept in ((folder / PDF_FOLDER, known), (folder / PHOTO_FOLDER, photos)):
        if not place.is_dir():
            continue
        for path in place.iterdir():
            of_ours = path.suffix == ".pdf" or place.name == PHOTO_FOLDER
            if path.name.endswith(_UNFINISHED) or (of_ours and path.stem not in kept):
                path.unlink(missing_ok=True)
                swept += 1
    return swept
