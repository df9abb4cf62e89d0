"""What lies in the page pane's scene: a white page with its picture, and the light on its words."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QColor, QFont, QImage, QPainter, QPen
from PySide6.QtWidgets import QGraphicsItem, QStyleOptionGraphicsItem, QWidget

from app.theme.roles import PAGE_LIT, PAGE_LIT_EDGE
from extract.claims import Box, PageText
from extract.reading.geometry import drawn_size, from_drawn, to_drawn


class PageItem(QGraphicsItem):
    """One page, white in light and dark. Its coordinates are points of the page as drawn (the CropBox)."""

    def __init__(self, page: PageText) -> None:
        super().__init__()
        self.page = page
        self._width, self._height = drawn_size(page.geometry, 1.0)
        self._image: QImage | None = None
        self._words = ""

    def boundingRect(self) -> QRectF:
        return QRectF(0, 0, self._width, self._height)

    def set_image(self, image: QImage) -> None:
        """Show this picture of the page, whatever its scale."""
        self._image = image
        self._words = ""
        self.update()

    def set_words(self, words: str) -> None:
        """Say in the page's place why there is no picture."""
        if self._image is None:
            self._words = words
            self.update()

    @property
    def has_image(self) -> bool:
        return self._image is not None

    @property
    def words(self) -> str:
        return self._words

    def box_on_page(self, box: Box) -> QRectF:
        """A box of a claim (points as displayed) in this item's coordinates."""
        x0, top, x1, bottom = to_drawn(box, self.page.geometry, 1.0)
        return QRectF(x0, top, x1 - x0, bottom - top)

    def point_as_displayed(self, x: float, y: float) -> tuple[float, float]:
        """Inverse of box_on_page for a point."""
        x0, top, _, _ = from_drawn((x, y, x, y), self.page.geometry, 1.0)
        return (x0, top)

    def paint(self, painter: QPainter, option: QStyleOptionGraphicsItem, widget: QWidget | None = None) -> None:
        frame = self.boundingRect()
        painter.fillRect(frame, Qt.GlobalColor.white)
        if self._image is not None:
            painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform)
            painter.drawImage(frame, self._image)
        elif self._words:
            painter.setPen(QColor("#3a3f3c"))
            font = QFont(painter.font())
            font.setPixelSize(16)
            painter.setFont(font)
            painter.drawText(
                frame.adjusted(48, 48, -48, -48),
                int(Qt.AlignmentFlag.AlignCenter) | int(Qt.TextFlag.TextWordWrap),
                self._words,
            )


class LitItem(QGraphicsItem):
    """Words of a page lit: multiplied over the picture, so that black print stays black. A child of its PageItem."""

    def __init__(self, page: PageItem, boxes: Sequence[Box], *, chosen: bool = False) -> None:
        """chosen: words picked by the person (an outline and a cooler colour) rather than a claim's evidence."""
        super().__init__(page)
        self._boxes = [page.box_on_page(box).adjusted(-1.5, -1, 1.5, 1) for box in boxes]
        self._chosen = chosen
        self.setZValue(1)

    @property
    def boxes(self) -> list[QRectF]:
        return self._boxes

    def boundingRect(self) -> QRectF:
        whole = QRectF()
        for box in self._boxes:
            whole = whole.united(box)
        return whole.adjusted(-2, -2, 2, 2)

    def paint(self, painter: QPainter, option: QStyleOptionGraphicsItem, widget: QWidget | None = None) -> None:
        painter.setCompositionMode(QPainter.CompositionMode.CompositionMode_Multiply)
        colour = QColor("#a9dcf0") if self._chosen else QColor(PAGE_LIT)
        for box in self._boxes:
            painter.fillRect(box, colour)
        painter.setCompositionMode(QPainter.CompositionMode.CompositionMode_SourceOver)
        pen = QPen(QColor("#0b5873") if self._chosen else QColor(PAGE_LIT_EDGE), 1.2)
        pen.setCosmetic(True)
        painter.setPen(pen)
        for box in self._boxes:
            painter.drawLine(box.bottomLeft(), box.bottomRight())
