"""What became of files and sheets, in words. No Qt: the command line says the same."""

from __future__ import annotations

from app.wording import date_words, kind_words
from store.records import SheetRecord


def waiting_words(sheet: SheetRecord) -> str:
    """How far the confirming of a sheet has come."""
    if sheet.superseded_by is not None:
        return "an older issue"
    total = sheet.waiting + sheet.decided
    if not total:
        return "nothing was read"
    if not sheet.waiting:
        return f"all {total} decided"
    return f"{sheet.waiting} of {total} wait"


def cells(sheet: SheetRecord) -> tuple[str, ...]:
    """Product, maker, kind, issue and what waits, as they are read in a row."""
    issued = date_words(sheet.issued) if sheet.issued else "no date"
    kind = kind_words(sheet.product.kind) if sheet.product.kind else "not known"
    return (sheet.product.name, sheet.product.maker or "not known", kind, issued, waiting_words(sheet))


def sheet_line(sheet: SheetRecord) -> str:
    """A sheet in one line."""
    name, *rest = cells(sheet)
    return f"{name}: {', '.join(rest)}"
