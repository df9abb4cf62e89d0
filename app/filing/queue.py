"""Files on their way into the library: at most two are read at once, each is filed in one go or not at all."""

from __future__ import annotations

import hashlib
import threading
from collections import deque
from collections.abc import Callable, Iterable, MutableMapping, Sequence
from dataclasses import dataclass, replace
from enum import StrEnum
from pathlib import Path
from typing import Protocol

from PySide6.QtCore import QObject, Signal

from app.jobs import LibraryChange, LibraryDesk, Runner
from app.messages import Message, message_for
from app.workers import ReadingCancelled
from extract.claims import SheetReading
from extract.errors import PasswordNeeded
from store.records import Filed, FilingOutcome, SheetRecord

AT_ONCE = 2


class FileState(StrEnum):
    WAITING = "waiting"
    READING = "reading"
    FILING = "filing"
    FILED = "filed"
    NEWER_ISSUE = "newer_issue"
    OLDER_ISSUE = "older_issue"
    ALREADY_FILED = "already_filed"
    LOCKED = "locked"
    """Needs a password."""
    NOT_READ = "not_read"
    CANCELLED = "cancelled"

    @property
    def under_way(self) -> bool:
        return self in {FileState.WAITING, FileState.READING, FileState.FILING}


_OUTCOMES = {
    FilingOutcome.FILED: FileState.FILED,
    FilingOutcome.ALREADY_FILED: FileState.ALREADY_FILED,
    FilingOutcome.NEWER_ISSUE: FileState.NEWER_ISSUE,
    FilingOutcome.OLDER_ISSUE: FileState.OLDER_ISSUE,
}


@dataclass(frozen=True, slots=True)
class FilingItem:
    """One file and how far it has come. page counts pages read so far; pages is 0 until it is known."""

    number: int
    path: Path
    state: FileState = FileState.WAITING
    page: int = 0
    pages: int = 0
    filed: tuple[Filed, ...] = ()
    known: tuple[SheetRecord, ...] = ()
    message: Message | None = None


class Reader(Protocol):
    """Reads one PDF somewhere else than in this process; see workers.read_in_child."""

    def __call__(
        self,
        pdf: bytes,
        file_name: str,
        *,
        password: str | None,
        progress: Callable[[int, int], None],
        cancelled: threading.Event,
    ) -> tuple[SheetReading, ...]: ...


@dataclass(frozen=True, slots=True)
class _Opened:
    pdf: bytes
    sha256: str


class FilingQueue(QObject):
    """The files of this session, in the order in which they came.

    Signals: items_added(first number, count); item_changed(FilingItem); work_ended() when nothing is under way.
    """

    items_added = Signal(int, int)
    item_changed = Signal(object)
    work_ended = Signal()
    _page_read = Signal(int, int, int)

    def __init__(
        self,
        desk: LibraryDesk,
        reader: Reader,
        runner: Runner,
        parent: QObject | None = None,
        opened_with: MutableMapping[str, str] | None = None,
    ) -> None:
        """opened_with takes the passwords that opened locked files, by SHA-256, so that their pages can be drawn."""
        super().__init__(parent)
        self._opened_with = {} if opened_with is None else opened_with
        self._desk = desk
        self._reader = reader
        self._runner = runner
        self._items: list[FilingItem] = []
        self._passwords: dict[int, str] = {}
        self._stops: dict[int, threading.Event] = {}
        self._busy: set[int] = set()
        self._waiting: deque[int] = deque()
        self._pumping = False
        self._under_way = 0
        self._page_read.connect(self._on_page_read)

    @property
    def items(self) -> Sequence[FilingItem]:
        return self._items

    @property
    def under_way(self) -> int:
        """How many files are not at their end yet."""
        return self._under_way

    def add(self, paths: Iterable[Path]) -> None:
        """Take in files, and every PDF in folders."""
        wanted = tuple(paths)
        self._runner.run(lambda: pdfs_in(wanted), self._on_found, self._desk.trouble_came.emit)

    def cancel(self, number: int) -> None:
        """Take a file out. What is filed already stays filed."""
        item = self._items[number]
        if item.state is FileState.WAITING or item.state is FileState.LOCKED:
            self._set(replace(item, state=FileState.CANCELLED))
        elif item.state is FileState.READING:
            self._stops[number].set()

    def cancel_all(self) -> None:
        for item in tuple(self._items):
            self.cancel(item.number)

    def give_password(self, number: int, password: str) -> None:
        """Read a locked file again with a password, which is forgotten when the program ends."""
        item = self._items[number]
        if item.state is FileState.LOCKED:
            self._passwords[number] = password
            self._set(replace(item, state=FileState.WAITING, message=None))
            self._waiting.appendleft(number)
            self._pump()

    def close(self) -> None:
        """Stop reading; children end with it."""
        for stop in self._stops.values():
            stop.set()
        self._waiting.clear()
        self._items = [replace(i, state=FileState.CANCELLED) if i.state.under_way else i for i in self._items]
        self._under_way = 0
        self._runner.close()

    # --- inside

    def _on_found(self, found: tuple[Path, ...]) -> None:
        first = len(self._items)
        self._items.extend(FilingItem(first + i, path) for i, path in enumerate(found))
        self._waiting.extend(range(first, len(self._items)))
        self._under_way += len(found)
        if found:
            self.items_added.emit(first, len(found))
            self._pump()

    def _pump(self) -> None:
        # Not entered again from within: where work is done at once, each file would else be read inside the last.
        if self._pumping:
            return
        self._pumping = True
        while self._waiting and len(self._busy) < AT_ONCE:
            item = self._items[self._waiting.popleft()]
            if item.state is FileState.WAITING:
                self._start(item)
        self._pumping = False

    def _start(self, item: FilingItem) -> None:
        number = item.number
        self._busy.add(number)
        self._stops[number] = threading.Event()
        self._set(replace(item, state=FileState.READING, page=0, pages=0))
        self._runner.run(
            lambda: _open(item.path),
            lambda opened: self._on_opened(number, opened),
            lambda error: self._on_failed(number, error),
        )

    def _on_opened(self, number: int, opened: _Opened) -> None:
        self._desk.read(
            lambda library: library.known_file(opened.sha256),
            lambda known: self._on_looked_up(number, opened, known),
            lambda error: self._on_failed(number, error),
        )

    def _on_looked_up(self, number: int, opened: _Opened, known: tuple[SheetRecord, ...]) -> None:
        item = self._items[number]
        if known:
            self._finish(replace(item, state=FileState.ALREADY_FILED, known=known))
            return
        stop = self._stops[number]
        password = self._passwords.pop(number, None)
        self._runner.run(
            lambda: self._reader(
                opened.pdf,
                item.path.name,
                password=password,
                progress=lambda page, pages: self._page_read.emit(number, page, pages),
                cancelled=stop,
            ),
            lambda readings: self._on_read(number, opened, readings, password),
            lambda error: self._on_failed(number, error),
        )

    def _on_page_read(self, number: int, page: int, pages: int) -> None:
        item = self._items[number]
        if item.state is FileState.READING:
            self._set(replace(item, page=page, pages=pages))

    def _on_read(self, number: int, opened: _Opened, readings: tuple[SheetReading, ...], password: str | None) -> None:
        item = self._items[number]
        if password is not None:
            self._opened_with[opened.sha256] = password
        if self._stops[number].is_set():
            self._finish(replace(item, state=FileState.CANCELLED))
            return
        self._set(replace(item, state=FileState.FILING))
        self._desk.write(
            lambda library: library.file_sheet(opened.pdf, item.path.name, readings),
            _change,
            lambda filed: self._on_filed(number, filed),
            lambda error: self._on_failed(number, error),
        )

    def _on_filed(self, number: int, filed: tuple[Filed, ...]) -> None:
        state = _OUTCOMES[filed[0].outcome] if filed else FileState.NOT_READ
        self._finish(replace(self._items[number], state=state, filed=filed))

    def _on_failed(self, number: int, error: BaseException) -> None:
        item = self._items[number]
        if isinstance(error, ReadingCancelled):
            self._finish(replace(item, state=FileState.CANCELLED))
        elif isinstance(error, PasswordNeeded):
            self._finish(replace(item, state=FileState.LOCKED, message=message_for(error)))
        else:
            self._finish(replace(item, state=FileState.NOT_READ, message=message_for(error)))

    def _finish(self, item: FilingItem) -> None:
        self._busy.discard(item.number)
        self._set(item)
        self._pump()
        if not self.under_way:
            self.work_ended.emit()

    def _set(self, item: FilingItem) -> None:
        before = self._items[item.number].state
        self._under_way += item.state.under_way - before.under_way
        self._items[item.number] = item
        self.item_changed.emit(item)


def pdfs_in(paths: Iterable[Path]) -> tuple[Path, ...]:
    """The files named, as they are, and every *.pdf under the folders named, by name; no doubles."""
    found: dict[Path, None] = {}
    for path in paths:
        if path.is_dir():
            inside = (p for p in path.rglob("*") if p.suffix.lower() == ".pdf" and p.is_file())
            found.update(dict.fromkeys(sorted(inside)))
        else:
            found[path] = None
    return tuple(found)


def _open(path: Path) -> _Opened:
    pdf = path.read_bytes()
    return _Opened(pdf, hashlib.sha256(pdf).hexdigest())


def _change(filed: tuple[Filed, ...]) -> LibraryChange:
    return LibraryChange(
        sheets=frozenset(f.sheet.id for f in filed),
        products=frozenset(f.sheet.product.id for f in filed),
        filed=True,
    )
