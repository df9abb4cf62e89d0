"""All threading of the window: work goes out, answers come back on the main thread.

The library is touched by one thread only, in the order in which work was handed in. What a write changed is
broadcast once, with who asked for it, and every place decides for itself whether to look again.
"""

from __future__ import annotations

from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from functools import partial
from typing import TYPE_CHECKING, Any, Protocol, TypeVar

from PySide6.QtCore import QObject, Qt, QTimer, Signal

if TYPE_CHECKING:
    from store.library import Library

T = TypeVar("T")
Done = Callable[[Any], None]
Failed = Callable[[BaseException], None]


class Runner(Protocol):
    """Runs work elsewhere; `done` or `failed` is called on the main thread."""

    def run(self, work: Callable[[], Any], done: Done, failed: Failed) -> None: ...

    def close(self, last: Callable[[], Any] | None = None) -> None: ...


class ThreadRunner(QObject):
    """`threads` threads, work taken in order. `drops` says whether work that waits is dropped on closing."""

    _came_back = Signal(object)

    def __init__(self, name: str, threads: int = 1, *, drops: bool = True, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._drops = drops
        self._pool = ThreadPoolExecutor(threads, thread_name_prefix=name)
        self._closed = False
        self._came_back.connect(self._on_came_back, Qt.ConnectionType.QueuedConnection)

    def run(self, work: Callable[[], Any], done: Done, failed: Failed) -> None:
        if not self._closed:
            self._pool.submit(self._work, work, done, failed)

    def close(self, last: Callable[[], Any] | None = None) -> None:
        """Finish what runs (and what waits, unless it drops), then `last`. No answer is delivered any more."""
        self._closed = True
        if last is not None:
            self._pool.submit(last)
        self._pool.shutdown(wait=True, cancel_futures=self._drops and last is None)

    def _work(self, work: Callable[[], Any], done: Done, failed: Failed) -> None:
        try:
            result = work()
        except Exception as error:  # every failure must reach the person, whatever it is
            self._send(partial(failed, error))
        else:
            self._send(partial(done, result))

    def _send(self, answer: Callable[[], None]) -> None:
        if not self._closed:
            self._came_back.emit(answer)

    def _on_came_back(self, answer: Callable[[], None]) -> None:
        if not self._closed:
            answer()


class InlineRunner:
    """Runs work at once on the caller's thread: for tests and for pictures."""

    def run(self, work: Callable[[], Any], done: Done, failed: Failed) -> None:
        try:
            result = work()
        except Exception as error:  # as in ThreadRunner
            failed(error)
        else:
            done(result)

    def close(self, last: Callable[[], Any] | None = None) -> None:
        """Nothing waits."""
        if last is not None:
            last()


@dataclass(frozen=True, slots=True)
class LibraryChange:
    """What a write changed. Empty sets with `everything` False mean: settings of the library only.

    sheets: sheets whose claims, header or state changed. products: products (also notes on them).
    filed: sheets came or went, so lists of sheets and products are no longer whole. job: panels, their logs or tins.
    """

    sheets: frozenset[int] = frozenset()
    products: frozenset[int] = frozenset()
    filed: bool = False
    job: bool = False
    everything: bool = False
    initiator: object | None = None


class LibraryDesk(QObject):
    """The one way from the window to the library.

    Signals: library_opened(); library_changed(LibraryChange); trouble_came(error) where nobody else takes a failure.
    """

    library_opened = Signal()
    library_changed = Signal(object)
    trouble_came = Signal(object)

    def __init__(self, runner: Runner, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._runner = runner
        self._library: Library | None = None

    @property
    def ready(self) -> bool:
        """Whether the library is open. Work handed in before waits its turn behind the opening."""
        return self._library is not None

    def open(self, opener: Callable[[], Library], failed: Failed | None = None) -> None:
        """Open the library on the library's thread; library_opened follows."""

        def keep() -> None:
            self._library = opener()

        self._runner.run(keep, lambda _: self.library_opened.emit(), failed or self.trouble_came.emit)

    def replace(
        self, opener: Callable[[], Library], former: Callable[[], Library], done: Done, failed: Failed | None = None
    ) -> None:
        """Close the library and open another in its place; where that fails, `former` opens the first one again.

        library_opened and a library_changed for everything follow, then `done`.
        """

        def work() -> None:
            self._let_go()
            try:
                self._library = opener()
            except BaseException:
                self._library = former()
                raise

        def finished(_: object) -> None:
            self.library_opened.emit()
            self.library_changed.emit(LibraryChange(filed=True, everything=True))
            done(None)

        self._runner.run(work, finished, failed or self.trouble_came.emit)

    def read(self, work: Callable[[Library], T], done: Callable[[T], None], failed: Failed | None = None) -> None:
        """Ask the library something; `done` gets the answer on the main thread."""
        self._runner.run(lambda: work(self._held()), done, failed or self.trouble_came.emit)

    def write(
        self,
        work: Callable[[Library], T],
        change: LibraryChange | Callable[[T], LibraryChange],
        done: Callable[[T], None] | None = None,
        failed: Failed | None = None,
    ) -> None:
        """Change the library; `done` first, then library_changed. `change` may be made from the answer."""

        def finished(result: T) -> None:
            if done is not None:
                done(result)
            self.library_changed.emit(change(result) if callable(change) else change)

        self._runner.run(lambda: work(self._held()), finished, failed or self.trouble_came.emit)

    def close(self) -> None:
        """Finish every write that was asked for, close the library, end its thread."""
        self._runner.close(self._let_go)

    def _let_go(self) -> None:
        if self._library is not None:
            self._library.close()
            self._library = None

    def _held(self) -> Library:
        if self._library is None:
            raise LibraryNotOpen
        return self._library


class Soon(QObject):
    """Gathers many reasons to look again into one look, `after` milliseconds from the first."""

    def __init__(self, look: Callable[[], None], after: int = 120, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._timer = QTimer(self)
        self._timer.setSingleShot(True)
        self._timer.setInterval(after)
        self._timer.timeout.connect(look)

    def ask(self) -> None:
        if not self._timer.isActive():
            self._timer.start()


class LibraryNotOpen(Exception):
    """The library could not be opened, or is closed already."""
