"""Which library a command works on."""

from __future__ import annotations

import argparse
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from platformdirs import user_data_path

from store.library import Library


def library_folder(arguments: argparse.Namespace) -> Path:
    """--library, the demo library, or the platform's place for a user's data."""
    if arguments.demo:
        from app.demo import demo_folder  # noqa: PLC0415 - made only when it is asked for

        return demo_folder()
    given: Path | None = arguments.library
    return given if given is not None else user_data_path("tinsheet", appauthor=False) / "library"


@contextmanager
def opened(arguments: argparse.Namespace, *, read_only: bool = False) -> Iterator[Library]:
    """The library, closed again whatever happens. Raises StoreError."""
    folder = library_folder(arguments)
    library = Library.open(folder, read_only=read_only)
    try:
        yield library
    finally:
        library.close()
