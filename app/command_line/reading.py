"""Reading a PDF for the command line, in a child process like everywhere else."""

from __future__ import annotations

import threading
from pathlib import Path

from app.workers import ReadingChildren, read_in_child
from extract.claims import SheetReading


def read_file(path: Path, password: str | None = None) -> tuple[SheetReading, ...]:
    """What one PDF says, one reading for each product in it. Raises OSError or ReadError."""
    return read_pdf(path.read_bytes(), path.name, password)


def read_pdf(
    pdf: bytes,
    file_name: str,
    password: str | None = None,
    cancelled: threading.Event | None = None,
    children: ReadingChildren | None = None,
) -> tuple[SheetReading, ...]:
    """The same of a PDF's bytes. Raises ReadError, or ReadingCancelled once cancelled is set.

    children: kept for several files; else a child is started for this one.
    """
    stop = cancelled if cancelled is not None else threading.Event()
    read = read_in_child if children is None else children
    return read(pdf, file_name, password=password, progress=_no_progress, cancelled=stop)


def _no_progress(page: int, pages: int) -> None:
    """The command line shows files, not pages."""
