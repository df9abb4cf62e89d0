"""Pictures of pages: asked for at a scale, drawn elsewhere, kept up to a number of bytes."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Callable
from pathlib import Path
from typing import NamedTuple, Protocol

from PySide6.QtCore import QObject, Signal
from PySide6.QtGui import QImage

from app.jobs import Runner

KEPT_BYTES = 96 * 1024 * 1024


class PageKey(NamedTuple):
    """A page of a filed sheet at a scale in pixels a point, in thousandths so that equal scales are equal keys."""

    sheet_id: int
    page: int
    milliscale: int

    @property
    def scale(self) -> float:
        return self.milliscale / 1000


class PageDrawer(Protocol):
    """Draws pages. Called on a runner's thread, one call at a time. Raises where a page cannot be drawn."""

    def draw(self, pdf: Path, page: int, scale: float) -> QImage: ...

    def close(self) -> None: ...


class PictureShelf:
    """The pictures drawn last, the oldest given up first once they take more than `most` bytes."""

    def __init__(self, most: int = KEPT_BYTES) -> None:
        self._most = most
        self._held: OrderedDict[PageKey, QImage] = OrderedDict()
        self._bytes = 0

    @property
    def size_in_bytes(self) -> int:
        return self._bytes

    def get(self, key: PageKey) -> QImage | None:
        image = self._held.get(key)
        if image is not None:
            self._held.move_to_end(key)
        return image

    def put(self, key: PageKey, image: QImage) -> None:
        """Keep it; a picture larger than the whole shelf is not kept."""
        self.drop(key)
        if image.sizeInBytes() > self._most:
            return
        self._held[key] = image
        self._bytes += image.sizeInBytes()
        while self._bytes > self._most:
            _, old = self._held.popitem(last=False)
            self._bytes -= old.sizeInBytes()

    def drop(self, key: PageKey) -> None:
        image = self._held.pop(key, None)
        if image is not None:
            self._bytes -= image.sizeInBytes()


class PagePictures(QObject):
    """Hands out pictures of pages, shared by every pane of the window.

    Signals: picture_drawn(PageKey, QImage); picture_failed(PageKey, error).
    """

    picture_drawn = Signal(object, object)
    picture_failed = Signal(object, object)

    def __init__(
        self, drawer: PageDrawer, runner: Runner, parent: QObject | None = None, most: int = KEPT_BYTES
    ) -> None:
        super().__init__(parent)
        self._drawer = drawer
        self._runner = runner
        self._shelf = PictureShelf(most)
        self._asked: dict[PageKey, Callable[[], bool]] = {}

    def ask(self, key: PageKey, pdf: Path, still_wanted: Callable[[], bool]) -> None:
        """picture_drawn follows, at once where the picture is kept. Nothing is drawn once it is no longer wanted."""
        kept = self._shelf.get(key)
        if kept is not None:
            self.picture_drawn.emit(key, kept)
            return
        if key in self._asked:
            self._asked[key] = still_wanted
            return
        self._asked[key] = still_wanted
        self._runner.run(
            lambda: self._draw(key, pdf),
            lambda image: self._on_drawn(key, pdf, image),
            lambda error: self._on_failed(key, error),
        )

    def close(self) -> None:
        """End the drawing; the drawer lets go of its children, at once and again of any begun meanwhile."""
        self._asked.clear()
        self._drawer.close()
        self._runner.close(self._drawer.close)

    def _draw(self, key: PageKey, pdf: Path) -> QImage | None:
        wanted = self._asked.get(key)
        if wanted is None or not wanted():
            return None
        return self._drawer.draw(pdf, key.page, key.scale)

    def _on_drawn(self, key: PageKey, pdf: Path, image: QImage | None) -> None:
        wanted = self._asked.pop(key, None)
        if image is not None:
            self._shelf.put(key, image)
            self.picture_drawn.emit(key, image)
        elif wanted is not None and wanted():
            # It was unwanted when its turn came, and is wanted again now.
            self.ask(key, pdf, wanted)

    def _on_failed(self, key: PageKey, error: BaseException) -> None:
        self._asked.pop(key, None)
        self.picture_failed.emit(key, error)
