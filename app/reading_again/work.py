"""Reads filed sheets again, one file after the other, off the main thread; can be stopped between and within files."""

from __future__ import annotations

import threading
from collections import deque
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Signal

from app.filing.queue import Reader
from app.jobs import LibraryChange, LibraryDesk, Runner
from app.messages import message_for
from app.reading_again.matching import by_file, paired
from app.reading_again.words import not_matched_words, outcome_words
from app.workers import ReadingCancelled
from extract.claims import SheetReading
from extract.version import READER_VERSION
from store.records import Filed, SheetRecord

if TYPE_CHECKING:
    from store.library import Library


class ReadingAgain(QObject):
    """Signals: older_found(how many sheets); file_done(done, of); ended(lines: tuple of str)."""

    older_found = Signal(int)
    file_done = Signal(int, int)
    ended = Signal(object)

    def __init__(self, desk: LibraryDesk, reader: Reader, runner: Runner, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._desk, self._reader, self._runner = desk, reader, runner
        self._files: deque[tuple[SheetRecord, ...]] = deque()
        self._of = 0
        self._lines: list[str] = []
        self._stop = threading.Event()
        self._running = False

    @property
    def running(self) -> bool:
        return self._running

    def look(self) -> None:
        """Count the sheets that an older reader read."""
        self._desk.read(lambda library: library.read_by_others(READER_VERSION), lambda s: self.older_found.emit(len(s)))

    def begin(self) -> None:
        """Read them again."""
        if self._running:
            return
        self._running = True
        self._stop = threading.Event()
        self._lines = []
        self._desk.read(lambda library: library.read_by_others(READER_VERSION), self._on_found)

    def stop(self) -> None:
        """No further file; what was read again already stands."""
        self._stop.set()
        self._files.clear()

    # --- inside

    def _on_found(self, sheets: Sequence[SheetRecord]) -> None:
        self._files = deque(by_file(sheets))
        self._of = len(self._files)
        self._next()

    def _next(self) -> None:
        self.file_done.emit(self._of - len(self._files), self._of)
        if not self._files or self._stop.is_set():
            self._end()
            return
        sheets = self._files.popleft()
        self._desk.read(
            lambda library: library.pdf_path(sheets[0].id),
            lambda path: self._read(sheets, path),
            lambda error: self._on_failed(sheets, error),
        )

    def _read(self, sheets: tuple[SheetRecord, ...], path: Path) -> None:
        stop = self._stop

        def work() -> tuple[SheetReading, ...]:
            name = sheets[0].file_name
            return self._reader(path.read_bytes(), name, password=None, progress=_unheard, cancelled=stop)

        self._runner.run(
            work, lambda readings: self._on_read(sheets, readings), lambda error: self._on_failed(sheets, error)
        )

    def _on_read(self, sheets: tuple[SheetRecord, ...], readings: tuple[SheetReading, ...]) -> None:
        pairs = paired(sheets, readings)
        self._lines += [
            not_matched_words(sheet.product.name) for sheet in sheets if sheet not in [pair[0] for pair in pairs]
        ]

        def work(library: Library) -> tuple[Filed, ...]:
            return tuple(library.reread(sheet.id, reading) for sheet, reading in pairs)

        def change(filed: tuple[Filed, ...]) -> LibraryChange:
            return LibraryChange(
                sheets=frozenset(f.sheet.id for f in filed),
                products=frozenset(f.sheet.product.id for f in filed),
                filed=True,
            )

        self._desk.write(work, change, self._on_filed, lambda error: self._on_failed(sheets, error))

    def _on_filed(self, filed: tuple[Filed, ...]) -> None:
        for one in filed:
            head, *rest = outcome_words(one)
            self._lines += [head, *(f"    {line}" for line in rest)]
        self._next()

    def _on_failed(self, sheets: tuple[SheetRecord, ...], error: BaseException) -> None:
        if not isinstance(error, ReadingCancelled):
            self._lines += [f"{sheet.product.name}: {message_for(error).sentence}" for sheet in sheets]
        self._next()

    def _end(self) -> None:
        self._running = False
        self.ended.emit(tuple(self._lines))
        self.look()


def _unheard(page: int, pages: int) -> None:
    """Sheets are short: progress is told by the file."""
