"""A page's picture by PDFium, on white paper, as viewers show it: the CropBox, /Rotate applied."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from pypdfium2 import PdfiumError

from extract.errors import PageNotDrawn
from extract.reading.geometry import is_sane, normalised
from extract.reading.pages import open_document

MOST_PIXELS = 40_000_000
"""A picture: 160 MB. A larger scale is taken down to it."""


@dataclass(frozen=True, slots=True)
class Picture:
    """Rows of stride bytes, four bytes a pixel: blue, green, red and one unused. scale is what was drawn at."""

    width: int
    height: int
    stride: int
    scale: float
    pixels: bytes


class OpenDocument:
    """A PDF held open while its pages are looked at. Errors on opening as for open_sheet."""

    def __init__(self, pdf: bytes, password: str | None = None) -> None:
        self._document, _ = open_document(pdf, password)

    def draw(self, page: int, scale: float) -> Picture:
        """Page (from 1) at scale pixels a point. Raises PageNotDrawn."""
        if not 1 <= page <= len(self._document):
            raise PageNotDrawn(page, "no such page")
        if not 0.01 <= scale <= 50:
            raise PageNotDrawn(page, f"scale {scale}")
        try:
            opened = self._document[page - 1]
        except PdfiumError as error:
            raise PageNotDrawn(page, str(error)) from error
        try:
            return _drawn(opened, page, scale)
        except PdfiumError as error:
            raise PageNotDrawn(page, str(error)) from error
        finally:
            opened.close()

    def close(self) -> None:
        self._document.close()


def _drawn(opened: Any, page: int, scale: float) -> Picture:
    width, height = opened.get_size()
    if not is_sane(normalised((0.0, 0.0, width, height))):
        raise PageNotDrawn(page, "absurd size")
    pixels = width * height * scale * scale
    if pixels > MOST_PIXELS:
        scale *= (MOST_PIXELS / pixels) ** 0.5
    bitmap = opened.render(
        scale=scale, fill_color=(255, 255, 255, 255), prefer_bgrx=True, may_draw_forms=False, limit_image_cache=True
    )
    try:
        return Picture(bitmap.width, bitmap.height, bitmap.stride, scale, bytes(bitmap.buffer))
    finally:
        bitmap.close()
