"""`tinsheet read-again`: filed sheets once more through the reader, decisions kept, differences listed."""

from __future__ import annotations

import argparse
import json
from typing import Any

from app.command_line.commands import FAULT
from app.command_line.libraries import opened
from app.command_line.reading import read_pdf
from app.messages import message_for
from app.reading_again.matching import by_file, paired
from app.reading_again.words import not_matched_words, outcome_words
from app.workers import ReadingChildren
from extract.errors import ReadError
from extract.version import READER_VERSION
from store.errors import StoreError
from store.library import Library
from store.records import SheetRecord


def run(arguments: argparse.Namespace) -> int:
    """Exit status FAULT where a file could not be read again; what it said before then stands."""
    failed = 0
    told: list[dict[str, Any]] = []
    with opened(arguments) as library, ReadingChildren() as children:
        sheets = library.sheets() if arguments.all else library.read_by_others(READER_VERSION)
        for group in by_file(sheets):
            try:
                found = _read_again(library, children, group)
            except (OSError, ReadError, StoreError) as fault:
                failed += 1
                sentence = message_for(fault).sentence
                found = [{"sheet": s.id, "product": s.product.name, "fault": sentence} for s in group]
                if not arguments.json:
                    print(f"{group[0].file_name}: not read again. {sentence}", flush=True)
            told += found
            if not arguments.json:
                for one in found:
                    for line in one.get("lines", ()):
                        print(line, flush=True)
    if arguments.json:
        print(json.dumps([{k: v for k, v in one.items() if k != "lines"} for one in told], ensure_ascii=False))
    elif not sheets:
        print("Every sheet has been read by this version of the program.")
    return FAULT if failed else 0


def _read_again(library: Library, children: ReadingChildren, group: tuple[SheetRecord, ...]) -> list[dict[str, Any]]:
    path = library.pdf_path(group[0].id)
    readings = read_pdf(path.read_bytes(), group[0].file_name, children=children)
    pairs = paired(group, readings)
    out: list[dict[str, Any]] = []
    for sheet, reading in pairs:
        filed = library.reread(sheet.id, reading)
        head, *rest = outcome_words(filed)
        out.append(
            {
                "sheet": sheet.id,
                "product": filed.sheet.product.name,
                "decisions_kept": filed.carried,
                "waiting": filed.waiting,
                "differences": [difference.words for difference in filed.differences],
                "lines": [head, *(f"    {line}" for line in rest)],
            }
        )
    for sheet in group:
        if sheet not in [pair[0] for pair in pairs]:
            words = not_matched_words(sheet.product.name)
            out.append({"sheet": sheet.id, "product": sheet.product.name, "not_found": True, "lines": [words]})
    return out
