"""What must hold once files went through the program: each filed whole or refused in words, and nobody left over."""

from __future__ import annotations

import contextlib
import sqlite3
from pathlib import Path

import psutil

from store.library import Library

WORKER = "extract.worker"


def workers() -> list[int]:
    """Process ids of every reading or drawing process that this one started."""
    found = []
    for child in psutil.Process().children(recursive=True):
        with contextlib.suppress(psutil.Error):
            if WORKER in child.cmdline():
                found.append(child.pid)
    return found


def half_filed(folder: Path) -> list[str]:
    """What a library holds of files that were not filed whole; empty where all is well."""
    wrong: list[str] = []
    kept = {path.stem for path in (folder / "sheets").glob("*.pdf")}
    wrong.extend(f"left over: {path.name}" for path in folder.rglob("*.part"))
    with Library.open(folder, read_only=True) as library:
        sheets = library.sheets(include_superseded=True)
        for sheet in sheets:
            pages = library.page_texts(sheet.id)
            if not pages:
                wrong.append(f"{sheet.file_name}: a sheet without pages")
            if not library.pdf_path(sheet.id).is_file():
                wrong.append(f"{sheet.file_name}: a sheet without its PDF")
            numbers = {page.number for page in pages}
            for claim in library.claims(sheet.id):
                if claim.claim.evidence.page not in numbers or not claim.claim.evidence.boxes:
                    wrong.append(f"{sheet.file_name}: claim {claim.id} stands nowhere")
        known = {library.pdf_path(sheet.id).stem for sheet in sheets}
    wrong.extend(f"a PDF of no sheet: {stem}" for stem in sorted(kept - known))
    for database in folder.glob("*.sqlite"):
        with contextlib.closing(sqlite3.connect(database)) as connection:
            wrong.extend(
                f"database: {row[0]}" for row in connection.execute("PRAGMA integrity_check") if row[0] != "ok"
            )
            wrong.extend(f"database: {row}" for row in connection.execute("PRAGMA foreign_key_check"))
    return wrong
