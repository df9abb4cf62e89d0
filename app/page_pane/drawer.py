"""Pages drawn by a child process, as pictures of Qt. One child a document, kept while its pages are looked at."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

from PySide6.QtGui import QImage

from app.workers import DrawingChildren


class ChildPageDrawer:
    """A PageDrawer over workers.DrawingChildren."""

    def __init__(self, passwords: Mapping[str, str]) -> None:
        """passwords: see DrawingChildren."""
        self._children = DrawingChildren(passwords)

    def draw(self, pdf: Path, page: int, scale: float) -> QImage:
        """The page at scale pixels a point. Raises ReadError or OSError where it cannot be drawn."""
        picture = self._children.draw(pdf, page, scale)
        image = QImage(picture.pixels, picture.width, picture.height, picture.stride, QImage.Format.Format_RGB32)
        # The image looks into bytes that Python lets go of; a copy stands on its own.
        return image.copy()

    def close(self) -> None:
        self._children.close()
