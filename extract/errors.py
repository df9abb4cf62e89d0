"""What can keep a sheet from being read: kinds and fields. The words for a painter stand in app/messages.py."""

from __future__ import annotations

from typing import Any


class ReadError(Exception):
    """Base of all errors of extract/. kind is a stable word; fields() what a message may need."""

    kind = "unreadable"

    def fields(self) -> dict[str, Any]:
        return dict(vars(self))


class NotAPdf(ReadError):
    """The bytes are of something else (an empty file, HTML, a picture)."""

    kind = "not_a_pdf"

    def __init__(self, size: int) -> None:
        super().__init__(f"not a PDF ({size} bytes)")
        self.size = size


class DamagedPdf(ReadError):
    """A PDF that neither opens nor can be mended."""

    kind = "damaged"

    def __init__(self, cause: str = "") -> None:
        super().__init__(f"damaged PDF: {cause}")
        self.cause = cause


class PasswordNeeded(ReadError):
    """Encrypted: no password was given, or a wrong one."""

    kind = "password"

    def __init__(self, *, wrong: bool) -> None:
        super().__init__("wrong password" if wrong else "password needed")
        self.wrong = wrong


class TooLarge(ReadError):
    """Above a cap: what names it ('bytes'), limit is its value in that unit."""

    kind = "too_large"

    def __init__(self, what: str, size: int, limit: int) -> None:
        super().__init__(f"{size} {what}, at most {limit}")
        self.what = what
        self.size = size
        self.limit = limit


class ReaderFailed(ReadError):
    """The reader itself went wrong over the PDF: a fault of the program, and the file may be sound."""

    kind = "failed"

    def __init__(self, cause: str = "") -> None:
        super().__init__(f"the reader failed: {cause}")
        self.cause = cause


class NoPages(ReadError):
    """Opens, but holds no page."""

    kind = "no_pages"

    def __init__(self) -> None:
        super().__init__("no pages")


class OutOfMemory(ReadError):
    """The memory limit of the reading process was reached."""

    kind = "memory"

    def __init__(self) -> None:
        super().__init__("memory limit reached")


class HoldsPictures(ReadError):
    """Not a fault: this many of its pages are pictures, and reading them needs a process with more room."""

    kind = "pictures"

    def __init__(self, count: int, pages: int) -> None:
        super().__init__(f"{count} of {pages} pages are pictures")
        self.count = count
        self.pages = pages


class PageNotDrawn(ReadError):
    """One page could not be drawn."""

    kind = "not_drawn"

    def __init__(self, page: int, cause: str = "") -> None:
        super().__init__(f"page {page} not drawn: {cause}")
        self.page = page
        self.cause = cause
