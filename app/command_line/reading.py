"""Reading one PDF for the command line."""

from __future__ import annotations

from pathlib import Path

from extract.claims import SheetReading


def read_file(path: Path, password: str | None = None) -> tuple[SheetReading, ...]:
    """What one PDF says, one reading for each product in it. Raises OSError or an ExtractError."""
    from extract.pipeline import read_sheet  # noqa: PLC0415 - the PDF libraries load only for reading

    return read_sheet(path.read_bytes(), path.name, password)
