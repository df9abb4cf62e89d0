"""The demo library: the invented sheets of fixtures/, filed through the real import, most of them confirmed."""

from __future__ import annotations

import hashlib
import shutil
import tempfile
import threading
from collections.abc import Iterable
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from typing import TYPE_CHECKING

from platformdirs import user_data_path

from app.now import now_here
from app.workers import read_in_child
from extract.version import READER_VERSION

if TYPE_CHECKING:
    from extract.claims import SheetReading
    from store.records import SheetRecord

FIXTURES = Path(__file__).resolve().parents[1] / "fixtures"
LEFT_TO_CONFIRM = ("quern-lane-carriage-gloss.pdf", "bruvelt-nahtfest.pdf")
"""Sheets that stay as read, so that there is something to confirm."""
DOUBTFUL_BELOW = 0.6
"""On the other sheets, statements read with less confidence than this are left to be looked at."""
QUESTIONS = (("Biter", "Planor"), ("Keeper", "Planor"))
"""Lower and upper, asked where there is no window to ask in."""
_AT_ONCE = 2


class DemoSheetsMissing(FileNotFoundError):
    """The program was installed without the folder that holds the demo sheets."""


def demo_folder(fixtures: Path = FIXTURES, beside: Path | None = None) -> Path:
    """Where the demo library lies; made there the first time, and anew for other sheets.

    Takes some seconds then. Raises DemoSheetsMissing, OSError, StoreError.
    """
    sheets = sorted(fixtures.glob("*.pdf"))
    if not sheets:
        raise DemoSheetsMissing(2, "no demo sheets", str(fixtures))
    home = user_data_path("tinsheet", appauthor=False) if beside is None else beside
    folder = home / f"demo-{_mark(sheets)}"
    if folder.is_dir():
        return folder
    home.mkdir(parents=True, exist_ok=True)
    # Made under another name, so that one cut short is never taken for a whole one.
    making = Path(tempfile.mkdtemp(prefix="demo-being-made-", dir=home))
    try:
        _fill(making, sheets)
        making.rename(folder)
    except OSError:
        if not folder.is_dir():
            raise
    finally:
        shutil.rmtree(making, ignore_errors=True)
    return folder


def _mark(sheets: Iterable[Path]) -> str:
    mark = hashlib.sha256(READER_VERSION.encode("ascii"))
    for sheet in sheets:
        mark.update(sheet.name.encode("utf-8"))
        mark.update(sheet.read_bytes())
    return mark.hexdigest()[:12]


def _fill(folder: Path, sheets: list[Path]) -> None:
    from app.demo_job import lay_out_job  # noqa: PLC0415 - after the window's first paint
    from store.library import Library  # noqa: PLC0415

    with Library.open(folder, who="demo") as library, ThreadPoolExecutor(_AT_ONCE, "demo") as pool:
        for path, readings in zip(sheets, pool.map(_read, sheets), strict=True):
            for filed in library.file_sheet(path.read_bytes(), path.name, readings):
                claims = library.claims(filed.sheet.id)
                sure = [c.id for c in claims if c.claim.confidence >= DOUBTFUL_BELOW]
                if path.name not in LEFT_TO_CONFIRM and sure:
                    library.confirm(sure)
        lay_out_job(library, now_here())


def _read(path: Path) -> tuple[SheetReading, ...]:
    return read_in_child(path.read_bytes(), path.name, progress=_no_progress, cancelled=threading.Event())


def _no_progress(page: int, pages: int) -> None:
    """The demo's sheets are short."""


def show_without_screen() -> int:
    """Print what the window would show: the demo library and two questions asked of it. Returns the exit status."""
    from app.command_line.commands import run_command  # noqa: PLC0415 - not for the window
    from app.command_line.parser import parse  # noqa: PLC0415
    from app.filing.words import sheet_line  # noqa: PLC0415
    from store.library import Library  # noqa: PLC0415

    print("This machine has no screen to open a window on, so here is the demo library in words.", flush=True)
    folder = demo_folder()
    with Library.open(folder, read_only=True) as library:
        sheets: tuple[SheetRecord, ...] = library.sheets()
        progress = library.progress()
    print(f"\n{len(sheets)} sheets of invented makers are filed in {folder}:\n")
    for sheet in sheets:
        print(f"  {sheet_line(sheet)}")
    print(f"\n{progress.decided} statements are confirmed, {progress.waiting} wait to be confirmed.")
    status = 0
    for lower, upper in QUESTIONS:
        print(f"\n$ tinsheet --demo ask {lower} {upper}\n", flush=True)
        status = max(status, run_command(parse(["--library", str(folder), "ask", lower, upper])))
    return status
