"""The child process that opens PDFs, under limits: ``python -m extract.worker read``, ``... scan`` or ``... draw``.

Orders come on standard input, answers go to standard output, one JSON object a line, ASCII.

``read``: an order ``{"file": NAME, "password": WORD or null, "size": N}``, a line, then the PDF's N bytes. Answers:
``{"page": DONE, "pages": ALL}`` after each page, then ``{"readings": [...]}`` (see extract.exchange) or
``{"error": KIND, "fields": {...}}`` (see extract.errors). Then the next order, until its input ends or its memory does.
The error "pictures" says that pages are pictures that a ``scan`` could read; ``"pictures": "leave"`` in the order has
them left out instead.

``scan``: as ``read``, but pictures are read too, with more memory.

``draw``: an order ``{"size": N, "password": WORD or null}`` with the PDF's N bytes; then any number of orders
``{"page": FROM_1, "scale": PIXELS_A_POINT}``, each answered by ``{"width": W, "height": H, "stride": BYTES_A_ROW,
"scale": DRAWN_AT, "pixels": BASE64}`` (blue, green, red, unused; white paper; the CropBox as displayed) or by an error.
Ends when its input does.

The process has no database, writes no file, opens no connection, and forgets its environment at the start.
"""

from __future__ import annotations

import base64
import gc
import json
import os
import signal
import sys
import threading
import time
import traceback
from pathlib import Path
from typing import IO, Any

from extract.claims import Pictures
from extract.collecting import ROUND_AFTER
from extract.errors import DamagedPdf, OutOfMemory, ReaderFailed, ReadError, TooLarge
from extract.exchange import reading_from_json, reading_to_json

MEMORY = 1024 * 1024 * 1024
"""Bytes of address space, where the system can limit it (Linux)."""
SCAN_MEMORY = 3 * 1024 * 1024 * 1024
"""The same where pictures are read: the recogniser takes most of it."""
_OPEN_FILES = 64
_PR_SET_PDEATHSIG = 1
"""prctl(2)."""
_WATCH_SECONDS = 1.0
_LARGEST_ORDER = 1 << 16
_LARGEST_FILE = 64 * 2**20
_KEPT_VARIABLES = frozenset({"SYSTEMROOT", "WINDIR", "TEMP", "TMP", "LANG", "LC_ALL", "PATH"})

__all__ = ["main", "reading_from_json"]


def limit_process(memory: int = MEMORY) -> None:
    """Bound this process and forget what its parent's environment told it."""
    for name in tuple(os.environ):
        if name.upper() not in _KEPT_VARIABLES:
            del os.environ[name]
    if sys.platform == "win32":
        return
    import resource  # noqa: PLC0415 - not on Windows

    resource.setrlimit(resource.RLIMIT_CORE, (0, 0))
    _lower(resource.RLIMIT_NOFILE, _OPEN_FILES)
    if sys.platform == "linux":
        _lower(resource.RLIMIT_AS, memory)


def end_with_parent() -> None:
    """See to it that this process does not outlive the one that started it, however that one ends."""
    parent = os.getppid()
    if sys.platform == "linux":
        import ctypes  # noqa: PLC0415 - for this system only

        ctypes.CDLL(None).prctl(_PR_SET_PDEATHSIG, signal.SIGKILL)
    threading.Thread(target=_watch, args=(parent,), name="parent", daemon=True).start()


def _watch(parent: int) -> None:
    import psutil  # noqa: PLC0415 - off the way to the first page

    while os.getppid() == parent and psutil.pid_exists(parent):
        time.sleep(_WATCH_SECONDS)
    os._exit(3)


def _lower(which: int, to: int) -> None:
    import resource  # noqa: PLC0415 - not on Windows

    _, hard = resource.getrlimit(which)
    limit = to if hard == resource.RLIM_INFINITY else min(to, hard)
    resource.setrlimit(which, (limit, limit))


def main(arguments: list[str], source: IO[bytes], sink: IO[bytes]) -> int:
    """Serve one parent. Exit status 2 where the order is not one of ours."""
    if arguments not in (["read"], ["scan"], ["draw"]):
        return 2
    order = _order(source)
    if order is None:
        return 2
    while order is not None:
        try:
            size, password = int(order["size"]), order.get("password")
            pictures = Pictures.READ if arguments == ["scan"] else Pictures(order.get("pictures", Pictures.REPORT))
            pdf = _bytes(source, size)
        except (KeyError, TypeError, ValueError):
            return 2
        except TooLarge as error:
            _say(sink, _told(error))
            return 0
        try:
            if arguments == ["draw"]:
                _draw(pdf, password, source, sink)
            else:
                _read(pdf, str(order.get("file", "")), password, pictures, sink)
        except ReadError as error:
            _say(sink, _told(error))
        except MemoryError:
            _say(sink, _told(OutOfMemory()))
            return 0
        order = _order(source)
    return 0


def _read(pdf: bytes, file_name: str, password: str | None, pictures: Pictures, sink: IO[bytes]) -> None:
    from extract.pipeline import read_sheet  # noqa: PLC0415 - after the limits are set

    def tell(done: int, of: int) -> None:
        _say(sink, {"page": done, "pages": of})

    try:
        readings = read_sheet(pdf, file_name, password, tell, pictures)
    except RecursionError as error:
        raise DamagedPdf("nested too deep") from error
    except (ReadError, MemoryError):
        raise
    except Exception as error:  # a fault of ours is told as ours, never as the file's
        where = traceback.extract_tb(error.__traceback__)[-1]
        cause = f"{type(error).__name__}: {error} ({Path(where.filename).name}:{where.lineno})"
        raise ReaderFailed(cause) from error
    _say(sink, {"readings": [reading_to_json(r) for r in readings]})


def _draw(pdf: bytes, password: str | None, source: IO[bytes], sink: IO[bytes]) -> None:
    from extract.drawing import OpenDocument  # noqa: PLC0415 - after the limits are set

    document = OpenDocument(pdf, password)
    try:
        while (order := _order(source)) is not None:
            try:
                picture = document.draw(int(order["page"]), float(order["scale"]))
            except ReadError as error:
                _say(sink, _told(error))
                continue
            except MemoryError:
                _say(sink, _told(OutOfMemory()))
                continue
            _say(
                sink,
                {
                    "width": picture.width,
                    "height": picture.height,
                    "stride": picture.stride,
                    "scale": picture.scale,
                    "pixels": base64.b64encode(picture.pixels).decode("ascii"),
                },
            )
    finally:
        document.close()


def _order(source: IO[bytes]) -> dict[str, Any] | None:
    line = source.readline(_LARGEST_ORDER)
    if not line:
        return None
    try:
        order = json.loads(line)
    except ValueError:
        return None
    return order if isinstance(order, dict) else None


def _bytes(source: IO[bytes], size: int) -> bytes:
    if size > _LARGEST_FILE:
        raise TooLarge("bytes", size, _LARGEST_FILE)
    data = source.read(size)
    if len(data) != size:
        raise ValueError("the PDF broke off")
    return data


def _told(error: ReadError) -> dict[str, Any]:
    return {"error": error.kind, "fields": error.fields()}


def _say(sink: IO[bytes], answer: dict[str, Any]) -> None:
    sink.write(json.dumps(answer, separators=(",", ":")).encode("ascii") + b"\n")
    sink.flush()


if __name__ == "__main__":
    gc.set_threshold(ROUND_AFTER)
    end_with_parent()
    limit_process(SCAN_MEMORY if sys.argv[1:] == ["scan"] else MEMORY)
    sys.exit(main(sys.argv[1:], sys.stdin.buffer, sys.stdout.buffer))
