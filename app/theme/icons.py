"""The program's own line drawings. An icon stands only beside a word."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import QByteArray, QRectF, Qt
from PySide6.QtGui import QColor, QIcon, QPainter, QPixmap

_FOLDER = Path(__file__).with_name("icons")
_RATIOS = (1, 2, 3)


def icon(name: str, colour: QColor, side: int = 20) -> QIcon:
    """The drawing `name` in one colour, sharp up to three times the size. Raises FileNotFoundError."""
    from PySide6.QtSvg import QSvgRenderer  # noqa: PLC0415 - the first paint has no icon and does not wait for it

    source = (_FOLDER / f"{name}.svg").read_text(encoding="utf-8").replace("currentColor", colour.name())
    renderer = QSvgRenderer(QByteArray(source.encode("utf-8")))
    made = QIcon()
    for ratio in _RATIOS:
        pixmap = QPixmap(side * ratio, side * ratio)
        pixmap.fill(Qt.GlobalColor.transparent)
        painter = QPainter(pixmap)
        renderer.render(painter, QRectF(0, 0, side * ratio, side * ratio))
        painter.end()
        pixmap.setDevicePixelRatio(ratio)
        made.addPixmap(pixmap)
    return made
