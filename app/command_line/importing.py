"""`tinsheet import`: files and folders into the library, a line for each file.

Two files are read at once, in child processes; this process alone writes, in the order given.
"""

from __future__ import annotations

import argparse
import hashlib
import sys
import threading
from collections import deque
from collections.abc import Iterable, Iterator, Sequence
from concurrent.futures import Future, ThreadPoolExecutor
from dataclasses import dataclass
from pathlib import Path

from app.command_line.commands import FAULT, MISUSED
from app.command_line.libraries import opened
from app.command_line.reading import read_pdf
from app.messages import message_for
from app.workers import ReadingChildren
from extract.claims import SheetReading
from extract.errors import ReadError
from store.library import Library
from store.records import ClaimStatus, Filed, FilingOutcome, SheetRecord

_AT_ONCE = 2


@dataclass(frozen=True, slots=True)
class _Read:
    """A file's bytes and, unless its bytes are in the library already, what was read out of them."""

    pdf: bytes
    readings: tuple[SheetReading, ...]
    known: tuple[SheetRecord, ...] = ()


def run(arguments: argparse.Namespace) -> int:
    files = list(dict.fromkeys(pdfs_in(arguments.paths)))
    if not files:
        print("No PDF is there to file.", file=sys.stderr)
        return MISUSED
    failed = 0
    with opened(arguments) as library:
        for path, reading in _read_ahead(files, library, arguments.password):
            try:
                sheets = _file(library, path, reading.result())
            except (OSError, ReadError) as fault:
                failed += 1
                message = message_for(fault)
                detail = f"\n    ({message.detail})" if message.detail else ""
                print(f"{path.name}: not filed. {message.sentence}{detail}", flush=True)
                continue
            if arguments.confirm_all:
                _confirm(library, sheets)
        waiting = library.progress().waiting
    done = len(files) - failed
    print(f"{done} of {len(files)} file{'' if len(files) == 1 else 's'} in the library; {waiting} claims wait.")
    return FAULT if failed else 0


def pdfs_in(paths: Iterable[Path]) -> Iterator[Path]:
    """Files as they are named, and every PDF in folders, below them too, by name."""
    for path in paths:
        if path.is_dir():
            yield from sorted(found for found in path.rglob("*") if found.suffix.lower() == ".pdf" and found.is_file())
        else:
            yield path


def _read_ahead(files: Sequence[Path], library: Library, password: str | None) -> Iterator[tuple[Path, Future[_Read]]]:
    """Each file with its reading to come, in order; never more under way than are read at once, and one waiting."""
    pool = ThreadPoolExecutor(_AT_ONCE, thread_name_prefix="read")
    stop = threading.Event()
    children = ReadingChildren()
    under_way: deque[tuple[Path, Future[_Read]]] = deque()
    try:
        for path in files:
            under_way.append((path, pool.submit(_read, path, library, password, stop, children)))
            if len(under_way) > _AT_ONCE:
                yield under_way.popleft()
        while under_way:
            yield under_way.popleft()
    finally:
        # On the way out early (Ctrl+C), what is still being read is let go.
        stop.set()
        pool.shutdown(wait=True, cancel_futures=True)
        children.close()


def _read(
    path: Path, library: Library, password: str | None, stop: threading.Event, children: ReadingChildren
) -> _Read:
    pdf = path.read_bytes()
    known = library.known_file(hashlib.sha256(pdf).hexdigest())
    return _Read(pdf, () if known else read_pdf(pdf, path.name, password, stop, children), known)


def _file(library: Library, path: Path, read: _Read) -> tuple[SheetRecord, ...]:
    """File what was read, and say so; the sheets of the file."""
    if read.known:
        print(f"{path.name}: already filed as {_names(read.known)}", flush=True)
        return read.known
    filed = library.file_sheet(read.pdf, path.name, read.readings)
    for one in filed:
        print(f"{path.name}: {filed_words(one)}", flush=True)
        for problem in one.sheet.problems:
            print(f"    {problem}", flush=True)
    return tuple(one.sheet for one in filed)


def _confirm(library: Library, sheets: Iterable[SheetRecord]) -> None:
    # What was read off a picture is never certain, and is confirmed one by one.
    ids = [
        record.id
        for sheet in sheets
        for record in library.claims(sheet.id)
        if record.status is ClaimStatus.PROPOSED and not record.claim.from_picture
    ]
    if ids:
        library.confirm(ids)


def _names(sheets: Iterable[SheetRecord]) -> str:
    return ", ".join(sheet.product.name for sheet in sheets)


def filed_words(filed: Filed) -> str:
    """What became of one product's sheet."""
    name = filed.sheet.product.name
    claims = f"{filed.waiting} claim{' waits' if filed.waiting == 1 else 's wait'}"
    if filed.outcome is FilingOutcome.ALREADY_FILED:
        return f"already filed as {name}"
    if filed.outcome is FilingOutcome.OLDER_ISSUE:
        return f"kept as an older issue of {name}; the newer one still holds"
    if filed.outcome is FilingOutcome.NEWER_ISSUE:
        changes = "".join(f"\n    changed: {difference.words}" for difference in filed.differences)
        return f"newer issue of {name}, {filed.carried} decisions carried over, {claims}{changes}"
    return f"filed as {name}, {claims}"
