"""Choosing photos of a coat: which files are pictures, and the system's dialog for them."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from PySide6.QtWidgets import QFileDialog, QWidget

from app.translating import translate

PhotoChooser = Callable[[QWidget], tuple[Path, ...]]
PICTURES = frozenset({".jpg", ".jpeg", ".png", ".webp", ".heic", ".gif", ".bmp", ".tif", ".tiff"})


def choose_photos(parent: QWidget) -> tuple[Path, ...]:
    """The system's own dialog."""
    patterns = " ".join(f"*{suffix}" for suffix in sorted(PICTURES))
    pictures = translate("panels", "Pictures")
    chosen, _ = QFileDialog.getOpenFileNames(
        parent, translate("panels", "Photos of the coat"), "", f"{pictures} ({patterns})"
    )
    return tuple(Path(name) for name in chosen)
