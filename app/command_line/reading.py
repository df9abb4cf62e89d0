"""Reading a PDF for the command line."""

from __future__ import annotations

from pathlib import Path

from extract.claims import SheetReading
from extract.pipeline import read_sheet


def read_file(path: Path, password: str | None = None) -> tuple[SheetReading, ...]:
    """What one PDF says, one reading for each product in it. Raises OSError or ReadError."""
    return read_pdf(path.read_bytes(), path.name, password)


def read_pdf(pdf: bytes, file_name: str, password: str | None = None) -> tuple[SheetReading, ...]:
    """The same of a PDF's bytes. Raises ReadError."""
    return read_sheet(pdf, file_name, password)
