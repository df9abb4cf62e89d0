"""All child processes: a PDF is read and drawn there, under a clock and a memory limit, never here.

No Qt: the window and the command line both use it. A child ends with what it was started for, with a limit, with
close(), or with this process: every child watches its standard input, which closes when this process is gone.
"""

from __future__ import annotations

import atexit
import base64
import contextlib
import hashlib
import json
import queue
import signal
import subprocess
import sys
import threading
import time
import weakref
from collections import OrderedDict
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import IO, Any, ClassVar

import psutil

from extract.claims import SheetReading
from extract.errors import HoldsPictures, OutOfMemory, PasswordNeeded, ReadError, TooLarge
from extract.exchange import BadReading, reading_from_json
from extract.worker import MEMORY, SCAN_MEMORY


@dataclass(frozen=True, slots=True)
class Limits:
    """How long and how large a child may get. Seconds; bytes of resident memory."""

    seconds: float = 30.0
    seconds_a_page: float = 1.0
    silent_seconds: float = 10.0
    memory: int = MEMORY


class TookTooLong(ReadError):
    """The child was stopped by the clock."""

    kind = "timeout"

    def __init__(self, seconds: float) -> None:
        super().__init__(f"stopped after {seconds:.0f} s")
        self.seconds = seconds


class ChildDied(ReadError):
    """The child ended without an answer. status is its exit status, said what it printed last."""

    kind = "crashed"

    def __init__(self, status: int | None, said: str) -> None:
        super().__init__(f"reading process ended with {status}: {said}")
        self.cause = f"the reading process ended with status {status}. {said}".strip()


class ReadingCancelled(Exception):
    """The person took the file out while it was read."""


_END = object()
_ABORTED = -signal.SIGABRT
_POLL_SECONDS = 0.1
_MEMORY_POLL_SECONDS = 0.2
_SAID_BYTES = 4000
_LONGEST_LINE = 256 * 2**20
"""Bytes: a page of 40 million pixels in base64, and room."""


class Child:
    """One worker process: bytes in, lines out. Not shared between threads, but for kill()."""

    _living: ClassVar[weakref.WeakSet[Child]] = weakref.WeakSet()

    def __init__(self, arguments: tuple[str, ...], limits: Limits) -> None:
        self._limits = limits
        self._process = subprocess.Popen(  # noqa: S603 - our own module, no shell
            [sys.executable, "-m", "extract.worker", *arguments],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            stderr=subprocess.PIPE,
            creationflags=getattr(subprocess, "CREATE_NO_WINDOW", 0),
        )
        self._lines: queue.Queue[object] = queue.Queue()
        self._said = b""
        self._too_large = False
        Child._living.add(self)
        self._readers = [threading.Thread(target=work, daemon=True) for work in (self._read_out, self._read_err)]
        for thread in (*self._readers, threading.Thread(target=self._watch_memory, daemon=True)):
            thread.start()

    @property
    def pid(self) -> int:
        return self._process.pid

    @property
    def alive(self) -> bool:
        return self._process.poll() is None

    @property
    def memory(self) -> int:
        """Bytes that it holds now; 0 where it is gone."""
        try:
            return int(psutil.Process(self._process.pid).memory_info().rss)
        except psutil.Error:
            return 0

    def send(self, data: bytes) -> None:
        """Hand bytes to the child. Raises ChildDied where it is gone."""
        try:
            self._in.write(data)
            self._in.flush()
        except (BrokenPipeError, OSError, ValueError):
            raise self._death() from None

    def answer(
        self, until: float, cancelled: threading.Event | None = None, *, silent: float | None = None
    ) -> dict[str, Any]:
        """The next line, as JSON; `until` is on time.monotonic's clock, silent the seconds it may take at most.

        Raises TookTooLong, ReadingCancelled, ChildDied.
        """
        line = self._line(until, cancelled, self._limits.silent_seconds if silent is None else silent)
        try:
            answer = json.loads(line)
        except ValueError:
            answer = None
        if not isinstance(answer, dict):
            self.kill()
            raise ChildDied(None, "it said something else than was asked")
        return answer

    def _line(self, until: float, cancelled: threading.Event | None, silent: float) -> bytes:
        started = time.monotonic()
        silent_until = started + silent
        while True:
            if cancelled is not None and cancelled.is_set():
                self.kill()
                raise ReadingCancelled
            now = time.monotonic()
            if now >= min(until, silent_until):
                self.kill()
                raise TookTooLong(now - started)
            try:
                got = self._lines.get(timeout=min(_POLL_SECONDS, max(min(until, silent_until) - now, 0.001)))
            except queue.Empty:
                continue
            if isinstance(got, bytes):
                return got
            raise self._death()

    def kill(self) -> None:
        """End it now, and wait until it is gone."""
        with contextlib.suppress(ProcessLookupError):
            self._process.kill()
        self._process.wait()
        with contextlib.suppress(OSError, ValueError):
            self._in.close()
        # Each reader closes its own end: closing under its hands would wait for it or lose the file.
        for reader in self._readers:
            reader.join()
        Child._living.discard(self)

    @classmethod
    def living(cls) -> tuple[Child, ...]:
        """Every child of this process that was not ended yet."""
        return tuple(cls._living)

    @classmethod
    def kill_all(cls) -> None:
        """End every child of this process."""
        for child in cls.living():
            child.kill()

    # --- inside

    @property
    def _in(self) -> IO[bytes]:
        if self._process.stdin is None:
            raise ValueError("no standard input")
        return self._process.stdin

    def _death(self) -> ReadError:
        with contextlib.suppress(subprocess.TimeoutExpired):
            self._process.wait(timeout=1)
        status = self._process.poll()
        said = self._said.decode("utf-8", "replace").strip()
        self.kill()
        # PDFium aborts where it is refused memory, and says nothing.
        if self._too_large or "MemoryError" in said or status == _ABORTED:
            return OutOfMemory()
        return ChildDied(status, said.splitlines()[-1] if said else "")

    def _read_out(self) -> None:
        stream = self._process.stdout
        if stream is not None:
            with stream, contextlib.suppress(OSError):
                while line := stream.readline(_LONGEST_LINE):
                    self._lines.put(line)
        self._lines.put(_END)

    def _read_err(self) -> None:
        stream = self._process.stderr
        if stream is not None:
            with stream, contextlib.suppress(OSError):
                while said := stream.readline(1024):
                    self._said = (self._said + said)[-_SAID_BYTES:]

    def _watch_memory(self) -> None:
        # Linux limits the child from within; elsewhere a look five times a second has to do.
        if sys.platform == "linux":
            return
        with contextlib.suppress(psutil.Error):
            seen = psutil.Process(self._process.pid)
            while self.alive:
                if seen.memory_info().rss > self._limits.memory:
                    self._too_large = True
                    self.kill()
                    return
                time.sleep(_MEMORY_POLL_SECONDS)


atexit.register(Child.kill_all)

Progress = Callable[[int, int], None]
"""Called with pages read so far and pages in all."""

LARGEST_FILE = 64 * 2**20
"""Bytes. What is larger is not even handed to a child."""
LIMITS = Limits()
SCAN_LIMITS = Limits(seconds=60.0, seconds_a_page=30.0, silent_seconds=60.0, memory=SCAN_MEMORY)
"""A page that is a picture takes seconds, and the recogniser most of a gigabyte."""
FILES_A_CHILD = 25
KEPT_MEMORY = 300 * 2**20
"""Bytes: a child that has grown larger is not kept for the next file."""
DRAWING_LIMITS = Limits(seconds=15.0, silent_seconds=15.0)


class Reported(ReadError):
    """A reading error as the child reported it: its kind and fields are those of extract.errors."""

    def __init__(self, kind: str, fields: dict[str, Any]) -> None:
        super().__init__(kind)
        self.kind = kind
        self._fields = fields

    def fields(self) -> dict[str, Any]:
        return dict(self._fields)


@dataclass(frozen=True, slots=True)
class Picture:
    """A drawn page: pixels are rows of `stride` bytes, blue, green, red and one unused byte a pixel."""

    width: int
    height: int
    stride: int
    pixels: bytes


def read_in_child(
    pdf: bytes,
    file_name: str,
    *,
    password: str | None = None,
    progress: Progress,
    cancelled: threading.Event,
    limits: Limits = LIMITS,
) -> tuple[SheetReading, ...]:
    """One reading for each product that the PDF covers. Raises ReadError, or ReadingCancelled."""
    with ReadingChildren(limits=limits) as read:
        return read(pdf, file_name, password=password, progress=progress, cancelled=cancelled)


class ReadingChildren:
    """Reads PDFs, each in a child process; a child that came well through one is kept for the next. For any thread.

    A child whose file ended otherwise than with a reading is ended with it, and one that has grown, or read its
    share, is replaced: nothing that a file leaves behind in a process reaches far.
    """

    def __init__(
        self, *, most_files: int = FILES_A_CHILD, limits: Limits = LIMITS, scan_limits: Limits = SCAN_LIMITS
    ) -> None:
        self._most_files = most_files
        self._limits = limits
        self._scan_limits = scan_limits
        self._idle: list[tuple[Child, int]] = []
        self._closed = False
        self._lock = threading.Lock()

    def __call__(
        self,
        pdf: bytes,
        file_name: str,
        *,
        password: str | None = None,
        progress: Progress,
        cancelled: threading.Event,
    ) -> tuple[SheetReading, ...]:
        """As read_in_child."""
        if len(pdf) > LARGEST_FILE:
            raise TooLarge("bytes", len(pdf), LARGEST_FILE)
        order = {"file": file_name, "password": password, "size": len(pdf)}
        try:
            return self._read_in_kept(order, pdf, progress, cancelled)
        except Reported as error:
            if error.kind != HoldsPictures.kind:
                raise
        try:
            with contextlib.closing(_Once("scan", self._scan_limits)) as child:
                return _read(child.child, self._scan_limits, order, pdf, progress, cancelled)
        except ReadError:
            # What stands there in letters is filed all the same, and the reading says what is missing.
            with contextlib.closing(_Once("read", self._limits)) as child:
                return _read(child.child, self._limits, {**order, "pictures": "leave"}, pdf, progress, cancelled)

    def close(self) -> None:
        """End the children that wait; one that still reads ends with its file."""
        with self._lock:
            self._closed = True
            idle, self._idle = self._idle, []
        for child, _ in idle:
            child.kill()

    def __enter__(self) -> ReadingChildren:
        return self

    def __exit__(self, *_: object) -> None:
        self.close()

    def _read_in_kept(
        self, order: dict[str, Any], pdf: bytes, progress: Progress, cancelled: threading.Event
    ) -> tuple[SheetReading, ...]:
        child, files = self._taken()
        try:
            readings = _read(child, self._limits, order, pdf, progress, cancelled)
        except BaseException:
            child.kill()
            raise
        self._give_back(child, files + 1)
        return readings

    def _taken(self) -> tuple[Child, int]:
        with self._lock:
            while self._idle:
                child, files = self._idle.pop()
                if child.alive:
                    return child, files
                child.kill()
        return Child(("read",), self._limits), 0

    def _give_back(self, child: Child, files: int) -> None:
        if files < self._most_files and child.memory <= KEPT_MEMORY:
            with self._lock:
                if not self._closed:
                    self._idle.append((child, files))
                    return
        child.kill()


class _Once:
    """A child for one file."""

    def __init__(self, job: str, limits: Limits) -> None:
        self.child = Child((job,), limits)

    def close(self) -> None:
        self.child.kill()


def _read(
    child: Child,
    limits: Limits,
    order: dict[str, Any],
    pdf: bytes,
    progress: Progress,
    cancelled: threading.Event,
) -> tuple[SheetReading, ...]:
    """What one child reads out of one PDF. Raises ReadError or ReadingCancelled; the child is then of no more use."""
    try:
        until = time.monotonic() + limits.seconds
        child.send(_order(order) + pdf)
        page = pages = 0
        while True:
            # Once every page is read, what they say is worked out, and no line comes until that is done.
            silent = limits.seconds + limits.seconds_a_page * pages if page == pages > 0 else None
            answer = child.answer(until, cancelled, silent=silent)
            if "error" in answer:
                raise _error(answer)
            if "readings" in answer:
                return tuple(reading_from_json(r) for r in answer["readings"])
            page = int(answer["page"])
            if answer["pages"] != pages:
                until += limits.seconds_a_page * (int(answer["pages"]) - pages)
                pages = int(answer["pages"])
            progress(page, pages)
    except (BadReading, KeyError, TypeError) as error:
        raise ChildDied(None, str(error)) from error


class DrawingChildren:
    """Children that hold a document open while its pages are looked at: one a document, the last few kept.

    For one thread at a time, but for close().
    """

    def __init__(
        self, passwords: Mapping[str, str] | None = None, *, kept: int = 2, limits: Limits = DRAWING_LIMITS
    ) -> None:
        """passwords: of locked documents, by the SHA-256 of their bytes; looked up when a document is opened."""
        self._passwords = {} if passwords is None else passwords
        self._kept = kept
        self._limits = limits
        self._children: OrderedDict[Path, Child] = OrderedDict()
        self._closed = False

    def draw(self, pdf: Path, page: int, scale: float) -> Picture:
        """A page at scale pixels a point. Raises ReadError or OSError."""
        child = self._child(pdf)
        try:
            child.send(_order({"page": page, "scale": scale}))
            answer = child.answer(time.monotonic() + self._limits.seconds)
        except ReadError:
            self._drop(pdf)
            raise
        if "error" in answer:
            raise _error(answer)
        return _picture(answer)

    def close(self) -> None:
        """End every child."""
        self._closed = True
        for pdf in tuple(self._children):
            self._drop(pdf)

    def _child(self, pdf: Path) -> Child:
        if self._closed:
            raise ChildDied(None, "closed")
        child = self._children.get(pdf)
        if child is not None and child.alive:
            self._children.move_to_end(pdf)
            return child
        self._drop(pdf)
        data = pdf.read_bytes()
        child = Child(("draw",), self._limits)
        self._children[pdf] = child
        while len(self._children) > self._kept:
            self._drop(next(iter(self._children)))
        password = self._passwords.get(hashlib.sha256(data).hexdigest())
        child.send(_order({"size": len(data), "password": password}) + data)
        return child

    def _drop(self, pdf: Path) -> None:
        child = self._children.pop(pdf, None)
        if child is not None:
            child.kill()


def _picture(answer: dict[str, Any]) -> Picture:
    try:
        pixels = base64.b64decode(answer["pixels"])
        width, height, stride = int(answer["width"]), int(answer["height"]), int(answer["stride"])
    except (KeyError, TypeError, ValueError) as error:
        raise ChildDied(None, str(error)) from error
    if width < 1 or stride < 4 * width or len(pixels) < stride * height:
        raise ChildDied(None, "a picture of another size than was said")
    return Picture(width, height, stride, pixels)


def _order(fields: dict[str, Any]) -> bytes:
    return json.dumps(fields).encode("ascii") + b"\n"


def _error(answer: dict[str, Any]) -> ReadError:
    kind, fields = str(answer["error"]), dict(answer.get("fields", {}))
    if kind == PasswordNeeded.kind:
        return PasswordNeeded(wrong=bool(fields.get("wrong")))
    return Reported(kind, fields)
