"""What can go wrong in the library; wording for the user lives in app/messages.py."""

from __future__ import annotations


class StoreError(Exception):
    """Base of every error that store raises on purpose."""


class LibraryInUse(StoreError):
    """Another copy of the program has the library open for writing."""

    def __init__(self, folder: str, holder: str = "") -> None:
        super().__init__(f"library in use: {folder} {holder}".strip())
        self.folder = folder
        self.holder = holder


class LibraryTooNew(StoreError):
    """The library was written by a newer program."""

    def __init__(self, folder: str, revision: str) -> None:
        super().__init__(f"library is newer than this program: {folder} ({revision})")
        self.folder = folder
        self.revision = revision


class LibraryDamaged(StoreError):
    """The database does not pass its own check."""

    def __init__(self, folder: str, detail: str) -> None:
        super().__init__(f"library damaged: {folder}: {detail}")
        self.folder = folder
        self.detail = detail


class LibraryFull(StoreError):
    """No room, or no right to write, where the library stands."""

    def __init__(self, folder: str, detail: str) -> None:
        super().__init__(f"library cannot be written: {folder}: {detail}")
        self.folder = folder
        self.detail = detail


class UnknownRecord(StoreError):
    """An id that the library does not hold."""


class WrongEntry(StoreError):
    """A value that cannot be: field is the value's name in its record, why a short reason in plain words."""

    def __init__(self, field: str, why: str) -> None:
        super().__init__(f"{field}: {why}")
        self.field = field
        self.why = why


class PhotoMissing(StoreError):
    """A kept photo is no longer in the library's folder."""

    def __init__(self, name: str, path: str) -> None:
        super().__init__(f"photo is missing: {name} ({path})")
        self.name = name
        self.path = path


class LibraryMissing(StoreError):
    """There is no library in the folder, and reading alone makes none."""

    def __init__(self, folder: str) -> None:
        super().__init__(f"no library in {folder}")
        self.folder = folder


class LibraryTooOld(StoreError):
    """The library must be brought up to date first, which reading alone cannot do."""

    def __init__(self, folder: str, revision: str) -> None:
        super().__init__(f"library needs a migration first: {folder} ({revision})")
        self.folder = folder
        self.revision = revision


class ReadingOnly(StoreError):
    """A change was asked of a library that was opened for reading."""

    def __init__(self, folder: str) -> None:
        super().__init__(f"library opened for reading only: {folder}")
        self.folder = folder


class PdfMissing(StoreError):
    """A filed PDF is no longer in the library's folder."""

    def __init__(self, file_name: str, path: str) -> None:
        super().__init__(f"filed PDF is missing: {file_name} ({path})")
        self.file_name = file_name
        self.path = path


class BackupDamaged(StoreError):
    """A back-up file does not pass its checks; nothing was restored from it."""

    def __init__(self, source: str, detail: str) -> None:
        super().__init__(f"back-up damaged: {source}: {detail}")
        self.source = source
        self.detail = detail
