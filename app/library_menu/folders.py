"""Which folders may be opened as a library. No Qt."""

from __future__ import annotations

from pathlib import Path


def no_strange_folder(folder: Path) -> None:
    """A library is begun in an empty folder only, never among other files. Raises NotALibrary."""
    from store.database import DATABASE_NAME  # noqa: PLC0415 - on the library's thread

    if not (folder / DATABASE_NAME).exists() and folder.is_dir() and any(folder.iterdir()):
        raise NotALibrary(folder)


class NotALibrary(Exception):
    """A folder that holds other things and no library."""

    def __init__(self, folder: Path) -> None:
        super().__init__(f"no library in {folder}")
        self.folder = folder
