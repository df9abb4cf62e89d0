"""What became of files and sheets, in words. No Qt: the command line says the same."""

from __future__ import annotations

from app.translating import translate
from app.wording import date_words, kind_words
from store.records import SheetRecord


def waiting_words(sheet: SheetRecord) -> str:
    """How far the confirming of a sheet has come."""
    if sheet.superseded_by is not None:
        return translate("filing", "an older issue")
    total = sheet.waiting + sheet.decided
    if not total:
        return translate("filing", "nothing was read")
    if not sheet.waiting:
        return translate("filing", "all {total} decided").format(total=total)
    return translate("filing", "{waiting} of {total} wait").format(waiting=sheet.waiting, total=total)


def cells(sheet: SheetRecord) -> tuple[str, ...]:
    """Product, maker, kind, issue and what waits, as they are read in a row."""
    issued = date_words(sheet.issued) if sheet.issued else translate("filing", "no date")
    kind = kind_words(sheet.product.kind) if sheet.product.kind else translate("filing", "not known")
    return (
        sheet.product.name,
        sheet.product.maker or translate("filing", "not known"),
        kind,
        issued,
        waiting_words(sheet),
    )


def sheet_line(sheet: SheetRecord) -> str:
    """A sheet in one line."""
    name, *rest = cells(sheet)
    return f"{name}: {', '.join(rest)}"
