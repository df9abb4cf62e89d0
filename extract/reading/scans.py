"""Pages that are pictures: their lines read by an offline recogniser, an optional extra of the program.

Loaded only in the child process that reads pictures: the recogniser takes about a gigabyte. Its models come with its
package; where they are missing, pictures count as unreadable, and nothing is fetched.
"""

from __future__ import annotations

import importlib.util
import math
import os
from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING, Any

from extract.claims import Box, PageGeometry
from extract.reading.geometry import displayed_size, from_drawn
from extract.reading.marks import Marks
from extract.reading.words import PrintedLine, find_lines

if TYPE_CHECKING:
    from extract.reading.recognised import Recognised

DOTS_AN_INCH = 300
MOST_PIXELS = 16_000_000
"""A picture. A larger page is drawn coarser."""
LEAST_SURE = 0.5
"""A line of which the recogniser is less sure is left out."""
_MODELS = ("det", "rec")


@dataclass(frozen=True, slots=True)
class ReadPicture:
    """What stood on one picture, in displayed coordinates; sureness has each line's box and 0..1."""

    lines: list[PrintedLine]
    marks: Marks
    sureness: list[tuple[Box, float]] = field(default_factory=list)


def installed() -> bool:
    """Whether pictures can be read: the extra is installed and its models came with it."""
    return importlib.util.find_spec("onnxruntime") is not None and set(_models()) == set(_MODELS)


def _models() -> dict[str, Path]:
    spec = importlib.util.find_spec("rapidocr")
    if spec is None or spec.origin is None:
        return {}
    folder = Path(spec.origin).parent / "models"
    found = {}
    for part in _MODELS:
        files = sorted(folder.glob(f"*_{part}_*.onnx"))
        if files:
            found[part] = files[-1]
    return found


class PictureReader:
    """The recogniser, loaded when the first picture comes. Not for several threads."""

    def __init__(self) -> None:
        self._engine: Any = None
        self._sizes: list[float] = []

    def read(self, page: Any, geometry: PageGeometry) -> ReadPicture:
        """What stands on a pypdfium2 page that is a picture. Raises pypdfium2.PdfiumError or MemoryError."""
        from extract.reading.inked import marks_of  # noqa: PLC0415 - of the extra
        from extract.reading.recognised import Picture, characters_of  # noqa: PLC0415 - of the extra

        scale = _scale(geometry)
        bitmap = page.render(scale=scale, fill_color=(255, 255, 255, 255), may_draw_forms=False, rev_byteorder=False)
        try:
            pixels = bitmap.to_numpy()[:, :, :3].copy()
        finally:
            bitmap.close()
        found = self._recognise(pixels)
        picture = Picture.of(pixels, found)

        def shown(box: Box) -> Box:
            return from_drawn(box, geometry, scale)

        chars = characters_of(picture, shown, 1 / scale, self._sizes)
        width, height = displayed_size(geometry)
        return ReadPicture(
            find_lines(chars, width, height),
            marks_of(picture, shown, 1 / scale),
            [(shown(line.around), line.sure) for line in found],
        )

    def _recognise(self, pixels: Any) -> list[Recognised]:
        from extract.reading.recognised import Recognised  # noqa: PLC0415 - of the extra

        if self._engine is None:
            self._engine = _load()
        result = self._engine(pixels, use_cls=False)
        if result.boxes is None or result.txts is None or result.scores is None:
            return []
        lines = zip(result.boxes, result.txts, result.scores, strict=True)
        return [
            Recognised(tuple((float(x), float(y)) for x, y in corners), str(text), float(sure))
            for corners, text, sure in lines
            if text.strip() and sure >= LEAST_SURE
        ]


def _scale(geometry: PageGeometry) -> float:
    width, height = displayed_size(geometry)
    scale = DOTS_AN_INCH / 72
    return min(scale, math.sqrt(MOST_PIXELS / (width * height)))


def _load() -> Any:
    # Several sheets are read at once: each recogniser keeps to its share of the cores.
    threads = max((os.cpu_count() or 2) // 2, 1)
    os.environ.setdefault("OMP_NUM_THREADS", str(threads))
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
    import cv2  # noqa: PLC0415 - of the extra
    from rapidocr import RapidOCR  # noqa: PLC0415 - of the extra

    cv2.setNumThreads(threads)
    models = _models()
    return RapidOCR(
        params={
            "Global.log_level": "critical",
            # Upright cells were turned upside-down by it.
            "Global.use_cls": False,
            "Global.text_score": LEAST_SURE,
            # Named, so that nothing is ever fetched.
            "Det.model_path": str(models["det"]),
            "Rec.model_path": str(models["rec"]),
            "EngineConfig.onnxruntime.intra_op_num_threads": threads,
            "EngineConfig.onnxruntime.inter_op_num_threads": 1,
        }
    )


__all__ = ["PictureReader", "ReadPicture", "installed"]
