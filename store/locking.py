"""One writer a library: a lock file that the operating system frees when its holder dies.

The file also says who holds it (process and machine), for the sentence that the second copy shows.
The lock itself is the system's, so a dead holder leaves nothing to clear away.
"""

from __future__ import annotations

import json
import os
import socket
import sys
from pathlib import Path

from store.errors import LibraryFull, LibraryInUse

LOCK_NAME = "library.lock"
_FAR = 1 << 30
"""Where the locked byte lies: far past the text, which others must be able to read while it is locked."""


class WriterLock:
    """Held from construction to release(). Raises LibraryInUse with the holder, or LibraryFull."""

    def __init__(self, folder: Path) -> None:
        path = folder / LOCK_NAME
        try:
            self._handle = os.open(path, os.O_RDWR | os.O_CREAT, 0o644)
        except OSError as error:
            raise LibraryFull(str(folder), error.strerror or str(error)) from error
        try:
            free = _lock(self._handle)
        except OSError as error:
            # A file system that knows no locks cannot keep two writers apart.
            os.close(self._handle)
            raise LibraryFull(str(folder), error.strerror or str(error)) from error
        if not free:
            os.close(self._handle)
            raise LibraryInUse(str(folder), _holder(path))
        text = json.dumps({"pid": os.getpid(), "host": socket.gethostname()})
        try:
            os.ftruncate(self._handle, 0)
            os.write(self._handle, text.encode("utf-8"))
        except OSError as error:
            self.release()
            raise LibraryFull(str(folder), error.strerror or str(error)) from error

    def release(self) -> None:
        if self._handle >= 0:
            # The file stays: taking it away would let two others lock two different files of that name.
            os.close(self._handle)
            self._handle = -1


def _holder(path: Path) -> str:
    try:
        said = json.loads(path.read_text("utf-8"))
        return f"process {int(said['pid'])} on {said['host']}"
    except (OSError, ValueError, KeyError, TypeError):
        return ""


if sys.platform == "win32":
    import msvcrt

    def _lock(handle: int) -> bool:
        os.lseek(handle, _FAR, os.SEEK_SET)
        try:
            msvcrt.locking(handle, msvcrt.LK_NBLCK, 1)
        except OSError:
            return False
        finally:
            os.lseek(handle, 0, os.SEEK_SET)
        return True
else:
    import fcntl

    def _lock(handle: int) -> bool:
        try:
            fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except BlockingIOError:
            return False
        return True
