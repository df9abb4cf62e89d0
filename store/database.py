"""The one connection to the library's SQLite file: how it is opened, how transactions run, what its errors mean."""

from __future__ import annotations

import sqlite3
from collections.abc import Callable, Iterable, Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from threading import RLock
from typing import Any, TypeVar

from sqlalchemy import Connection, Engine, StaticPool, create_engine, event
from sqlalchemy.exc import DBAPIError

from store.errors import LibraryDamaged, LibraryFull, LibraryInUse, ReadingOnly, StoreError

DATABASE_NAME = "library.sqlite"
SIDE_FILES = ("-journal", "-wal", "-shm")
BUSY_SECONDS = 5.0

_IN_USE = {sqlite3.SQLITE_BUSY, sqlite3.SQLITE_LOCKED}
_NO_ROOM = {
    sqlite3.SQLITE_READONLY,
    sqlite3.SQLITE_IOERR,
    sqlite3.SQLITE_FULL,
    sqlite3.SQLITE_CANTOPEN,
    sqlite3.SQLITE_PERM,
}
_DAMAGED = {sqlite3.SQLITE_CORRUPT, sqlite3.SQLITE_NOTADB}

T = TypeVar("T")


def connect(path: Path, *, read_only: bool = False, foreign_keys: bool = True) -> sqlite3.Connection:
    """A connection set up for the library: rollback journal, every commit synced, no implicit transactions."""
    uri = f"{path.absolute().as_uri()}?mode={'ro' if read_only else 'rwc'}"
    raw = sqlite3.connect(uri, uri=True, timeout=BUSY_SECONDS, check_same_thread=False, isolation_level=None)
    try:
        if not read_only:
            raw.execute("PRAGMA journal_mode = DELETE")
        raw.execute("PRAGMA synchronous = FULL")
        raw.execute(f"PRAGMA foreign_keys = {'ON' if foreign_keys else 'OFF'}")
    except sqlite3.Error:
        raw.close()
        raise
    return raw


def engine_over(open_connection: Callable[[], sqlite3.Connection]) -> Engine:
    """An engine on one connection whose transactions are begun by us: sqlite3's own would leave DDL outside."""
    engine = create_engine("sqlite://", creator=open_connection, poolclass=StaticPool)

    @event.listens_for(engine, "begin")
    def _begin(connection: Connection) -> None:
        writing = connection.get_execution_options().get("writing", False)
        connection.exec_driver_sql("BEGIN IMMEDIATE" if writing else "BEGIN")

    return engine


def store_error(error: sqlite3.Error | OSError, folder: Path) -> StoreError | None:
    """The world's fault behind an error of SQLite or of the file system, or None where it is our own bug."""
    if isinstance(error, OSError):
        return LibraryFull(str(folder), error.strerror or str(error))
    code = getattr(error, "sqlite_errorcode", 0) & 0xFF
    if code in _IN_USE:
        return LibraryInUse(str(folder))
    if code in _NO_ROOM:
        return LibraryFull(str(folder), str(error))
    if code in _DAMAGED:
        return LibraryDamaged(str(folder), str(error))
    return None


@contextmanager
def translated(folder: Path) -> Iterator[None]:
    """Turn errors of SQLite and of the file system into StoreErrors; anything else passes."""
    try:
        yield
    except DBAPIError as error:
        meant = store_error(error.orig, folder) if isinstance(error.orig, sqlite3.Error) else None
        if meant is None:
            raise
        raise meant from error
    except (sqlite3.Error, OSError) as error:
        meant = store_error(error, folder)
        if meant is None:
            raise
        raise meant from error


class Database:
    """Transactions on the library's file. One connection, one at a time, from any thread."""

    def __init__(self, folder: Path, *, read_only: bool) -> None:
        self.folder = folder
        self.path = folder / DATABASE_NAME
        self.read_only = read_only
        self._lock = RLock()
        self._engine = engine_over(lambda: connect(self.path, read_only=read_only))

    def close(self) -> None:
        with self._lock:
            self._engine.dispose()

    @contextmanager
    def reading(self) -> Iterator[Connection]:
        """One transaction that sees one state of the library."""
        with self._lock, translated(self.folder), self._engine.connect() as connection, connection.begin():
            yield connection

    @contextmanager
    def writing(self) -> Iterator[Connection]:
        """One transaction that is wholly kept or wholly dropped. Raises ReadingOnly where nothing may change."""
        if self.read_only:
            raise ReadingOnly(str(self.folder))
        with (
            self._lock,
            translated(self.folder),
            self._engine.connect().execution_options(writing=True) as connection,
            connection.begin(),
        ):
            yield connection

    @contextmanager
    def raw(self) -> Iterator[sqlite3.Connection]:
        """The driver's connection outside any transaction, for back-ups and checks."""
        with self._lock, translated(self.folder), self._engine.connect() as connection:
            driver: Any = connection.connection.driver_connection
            yield driver


def chunks(values: Iterable[T], size: int = 800) -> Iterator[Sequence[T]]:
    """The values in lists that fit an IN (...)."""
    batch: list[T] = []
    for value in values:
        batch.append(value)
        if len(batch) == size:
            yield batch
            batch = []
    if batch:
        yield batch
