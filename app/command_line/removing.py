"""`tinsheet remove-sheet` and `tinsheet restore-sheet`: take a filed sheet out of the library, and put it back."""

from __future__ import annotations

import argparse
import json
import sys
from collections.abc import Sequence

from app.command_line.commands import MISUSED
from app.command_line.libraries import opened
from app.figure_words import date_words
from store.records import SheetRecord


def run(arguments: argparse.Namespace) -> int:
    with opened(arguments) as library:
        removing = arguments.command == "remove-sheet"
        there = library.sheets(include_superseded=True) if removing else library.removed_sheets()
        if arguments.sheet is None:
            return _list(there, as_json=arguments.json)
        found = [sheet for sheet in there if _is_meant(sheet, arguments.sheet)]
        if len(found) != 1:
            print(_unclear(arguments.sheet, found), file=sys.stderr)
            return MISUSED
        (sheet,) = found
        if removing:
            library.remove_sheet(sheet.id)
        else:
            library.restore_sheet(sheet.id)
    done = "Taken out" if removing else "Put back"
    again = f" It can be put back: tinsheet restore-sheet {sheet.id}" if removing else ""
    if arguments.json:
        print(json.dumps({"sheet": sheet.id, "product": sheet.product.name, "removed": removing}, ensure_ascii=False))
    else:
        print(f"{done}: {sheet_line(sheet)}.{again}")
    return 0


def _is_meant(sheet: SheetRecord, said: str) -> bool:
    return said in {str(sheet.id), sheet.file_name} or said.casefold() == sheet.product.name.casefold()


def sheet_line(sheet: SheetRecord) -> str:
    issued = f", issued {date_words(sheet.issued)}" if sheet.issued else ""
    return f"{sheet.product.name} ({sheet.file_name}{issued}; number {sheet.id})"


def _list(sheets: Sequence[SheetRecord], *, as_json: bool) -> int:
    if as_json:
        listed = [
            {"sheet": s.id, "product": s.product.name, "file": s.file_name, "issued": s.issued, "revision": s.revision}
            for s in sheets
        ]
        print(json.dumps(listed, ensure_ascii=False, indent=1))
    for sheet in () if as_json else sheets:
        print(sheet_line(sheet))
    return 0


def _unclear(said: str, found: Sequence[SheetRecord]) -> str:
    if not found:
        return f"No sheet is called “{said}”. Name it by its number, its file or its product."
    return f"“{said}” may be several sheets; name one by its number: {'; '.join(map(sheet_line, found))}"
