"""The pages of a sheet one under another, sharp at any zoom, with words lit and words to choose."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial
from pathlib import Path

from PySide6.QtCore import QEvent, QObject, QPointF, QRectF, QSize, Qt, QTimer, Signal
from PySide6.QtGui import QImage, QKeyEvent, QMouseEvent, QPainter, QResizeEvent, QShowEvent, QWheelEvent
from PySide6.QtWidgets import QGraphicsScene, QGraphicsView, QWidget

from app.page_pane.items import LitItem, PageItem
from app.page_pane.pictures import PageKey, PagePictures
from app.page_pane.words import WordRange, evidence_of_words, step_line, word_at
from extract.claims import Box, Evidence, PageText
from extract.errors import PasswordNeeded
from extract.reading.geometry import drawn_size

GAP = 16.0
SMALLEST, LARGEST = 0.25, 8.0
"""Zoom in device-independent pixels a point."""
STEP = 1.25


class PagePane(QGraphicsView):
    """Shows a filed sheet. Keys: + and - zoom, 0 fits the width, arrows choose words (with Shift: more of them).

    Signals: words_chosen(Evidence or None); adding_asked(Evidence) on Enter.
    """

    words_chosen = Signal(object)
    adding_asked = Signal(object)

    def __init__(self, pictures: PagePictures, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._pictures = pictures
        self._sheet_id: int | None = None
        self._pdf = Path()
        self._pages: list[PageItem] = []
        self._lit: list[LitItem] = []
        self._chosen: WordRange | None = None
        self._chosen_item: LitItem | None = None
        self._dragging = False
        self._fits = True
        self._zoom = 1.0
        self._text_left, self._text_right = 0.0, 0.0
        self.setScene(QGraphicsScene(self))
        self.setRenderHints(QPainter.RenderHint.Antialiasing | QPainter.RenderHint.SmoothPixmapTransform)
        self.setAlignment(Qt.AlignmentFlag.AlignHCenter | Qt.AlignmentFlag.AlignTop)
        self.setViewportUpdateMode(QGraphicsView.ViewportUpdateMode.FullViewportUpdate)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAsNeeded)
        self.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOn)
        self.setAccessibleName(self.tr("Page"))
        self.setAccessibleDescription(self.tr("Plus and minus zoom, 0 fits the width, arrow keys choose words."))
        self._soon = QTimer(self)
        self._soon.setSingleShot(True)
        self._soon.setInterval(40)
        self._soon.timeout.connect(self.draw_what_shows)
        self.verticalScrollBar().valueChanged.connect(self._soon.start)
        pictures.picture_drawn.connect(self._on_picture_drawn)
        pictures.picture_failed.connect(self._on_picture_failed)

    @property
    def sheet_id(self) -> int | None:
        return self._sheet_id

    @property
    def zoom(self) -> float:
        return self._zoom

    @property
    def pages(self) -> Sequence[PageItem]:
        return self._pages

    @property
    def lit(self) -> Sequence[LitItem]:
        return self._lit

    def show_sheet(self, sheet_id: int, pages: Sequence[PageText], pdf: Path) -> None:
        """Show these pages; the same sheet again changes nothing."""
        if sheet_id == self._sheet_id:
            return
        self.clear()
        self._sheet_id = sheet_id
        self._pdf = pdf
        top = GAP
        widest = max((drawn_size(p.geometry, 1.0)[0] for p in pages), default=0.0)
        for page in pages:
            item = PageItem(page)
            item.setPos((widest - item.boundingRect().width()) / 2, top)
            self.scene().addItem(item)
            self._pages.append(item)
            top += item.boundingRect().height() + GAP
        self.scene().setSceneRect(-GAP, 0, widest + 2 * GAP, max(top, 1.0))
        self._text_left, self._text_right = self._text_sides()
        self._fits = True
        self._fit()
        self.verticalScrollBar().setValue(0)
        self._soon.start()

    def clear(self) -> None:
        """Show nothing."""
        self._sheet_id = None
        self._pages = []
        self._lit = []
        self._chosen = None
        self._chosen_item = None
        self.scene().clear()

    def light(self, page: int, boxes: Sequence[Box]) -> None:
        """Light the boxes on their page and bring them into sight; none takes the light away."""
        for old in self._lit:
            self.scene().removeItem(old)
        self._lit = []
        item = self._item(page)
        if item is None:
            return
        if boxes:
            lit = LitItem(item, boxes)
            self._lit.append(lit)
            target = lit.mapRectToScene(lit.boundingRect())
        else:
            target = item.mapRectToScene(QRectF(0, 0, item.boundingRect().width(), 1))
        self._bring_into_sight(target)

    def zoom_by(self, factor: float) -> None:
        """Closer or further; the middle of the view stays where it is."""
        self._fits = False
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAsNeeded)
        self._set_zoom(self._zoom * factor)

    def fit_width(self) -> None:
        self._fits = True
        self._fit()

    def chosen_evidence(self) -> Evidence | None:
        """The words chosen on the page, as evidence."""
        if self._chosen is None:
            return None
        item = self._item(self._chosen.page)
        return None if item is None else evidence_of_words(item.page, self._chosen)

    def choose(self, chosen: WordRange | None) -> None:
        """Choose words, or none."""
        self._chosen = chosen
        if self._chosen_item is not None:
            self.scene().removeItem(self._chosen_item)
            self._chosen_item = None
        evidence = self.chosen_evidence()
        if chosen is not None and evidence is not None:
            item = self._item(chosen.page)
            if item is not None:
                self._chosen_item = LitItem(item, evidence.boxes, chosen=True)
        self.words_chosen.emit(evidence)

    def draw_what_shows(self) -> None:
        """Ask for the pictures of the pages in sight at the sharpness of the screen they are on."""
        if self._sheet_id is None or not self.isVisible():
            return
        seen = self._seen()
        for item in self._pages:
            if item.sceneBoundingRect().intersects(seen):
                key = self._key(item)
                self._pictures.ask(key, self._pdf, partial(self._still_wanted, key))

    def sizeHint(self) -> QSize:
        return QSize(560, 640)

    # --- inside

    def _key(self, item: PageItem) -> PageKey:
        scale = self._zoom * self.devicePixelRatioF()
        return PageKey(self._sheet_id or 0, item.page.number, round(scale * 1000))

    def _still_wanted(self, key: PageKey) -> bool:
        item = self._item(key.page)
        return item is not None and key.sheet_id == self._sheet_id and self._key(item) == key

    def _item(self, page: int) -> PageItem | None:
        return next((i for i in self._pages if i.page.number == page), None)

    def _seen(self) -> QRectF:
        return self.mapToScene(self.viewport().rect()).boundingRect().adjusted(0, -120, 0, 120)

    def _text_sides(self) -> tuple[float, float]:
        """Left and right of all printed words in the scene: the margins are not worth the smaller print."""
        boxes = [item.mapRectToScene(item.box_on_page(w.box)) for item in self._pages for w in item.page.words]
        whole = self.scene().sceneRect()
        if not boxes:
            return whole.left(), whole.right()
        left = min(max(min(b.left() for b in boxes) - GAP, whole.left()), whole.center().x())
        right = max(min(max(b.right() for b in boxes) + GAP, whole.right()), whole.center().x() + 1)
        # A page with a few words must not be blown up to them.
        short = max(whole.width() * 0.6 - (right - left), 0.0) / 2
        return left - short, right + short

    def _set_zoom(self, zoom: float) -> None:
        self._zoom = min(max(zoom, SMALLEST), LARGEST)
        self.resetTransform()
        self.scale(self._zoom, self._zoom)
        self._soon.start()

    def _fit(self) -> None:
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        if self._text_right > self._text_left:
            self._set_zoom(self.viewport().width() / (self._text_right - self._text_left))
            self._centre_text()

    def _centre_text(self) -> None:
        seen = self.mapToScene(self.viewport().rect().center())
        self.centerOn((self._text_left + self._text_right) / 2, seen.y())

    def _bring_into_sight(self, target: QRectF) -> None:
        seen = self.mapToScene(self.viewport().rect()).boundingRect()
        if not seen.contains(target):
            # A third from the top: the words under a lit sentence are read next.
            x = (
                target.center().x()
                if target.left() < seen.left() or target.right() > seen.right()
                else seen.center().x()
            )
            self.centerOn(x, target.center().y() + seen.height() / 6)
        self._soon.start()

    def _on_picture_drawn(self, key: PageKey, image: QImage) -> None:
        if key.sheet_id == self._sheet_id:
            item = self._item(key.page)
            if item is not None and (self._key(item) == key or not item.has_image):
                item.set_image(image)

    def _on_picture_failed(self, key: PageKey, error: BaseException) -> None:
        item = self._item(key.page) if key.sheet_id == self._sheet_id else None
        if item is not None:
            item.set_words(self._why_not_drawn(error))

    def _why_not_drawn(self, error: BaseException) -> str:
        if isinstance(error, PasswordNeeded):
            return self.tr(
                "This PDF is locked, and its password is not kept once the program is closed. "
                "What was read from the page still stands."
            )
        return self.tr("This page could not be drawn. What was read from it, and its PDF, are still in the library.")

    def _place(self, event: QMouseEvent) -> tuple[PageItem, int] | None:
        point = self.mapToScene(event.position().toPoint())
        item = next((i for i in self._pages if i.sceneBoundingRect().contains(point)), None)
        if item is None:
            return None
        inside: QPointF = item.mapFromScene(point)
        word = word_at(item.page.words, *item.point_as_displayed(inside.x(), inside.y()))
        return None if word is None else (item, word)

    def _step(self, key: Qt.Key, extend: bool) -> None:
        page = self._chosen.page if self._chosen else (self._first_seen() or 1)
        item = self._item(page)
        if item is None or not item.page.words:
            return
        words = item.page.words
        at = self._chosen.end if self._chosen else -1
        if self._chosen is None:
            at = 0
        elif key == Qt.Key.Key_Right:
            at = min(at + 1, len(words) - 1)
        elif key == Qt.Key.Key_Left:
            at = max(at - 1, 0)
        else:
            at = step_line(words, at, down=key == Qt.Key.Key_Down)
        start = self._chosen.start if extend and self._chosen else at
        self.choose(WordRange(page, start, at))
        self._bring_into_sight(item.mapRectToScene(item.box_on_page(words[at].box)))

    def _first_seen(self) -> int | None:
        seen = self.mapToScene(self.viewport().rect()).boundingRect()
        return next((i.page.number for i in self._pages if i.sceneBoundingRect().intersects(seen)), None)

    # --- Qt

    def mousePressEvent(self, event: QMouseEvent) -> None:
        place = self._place(event) if event.button() == Qt.MouseButton.LeftButton else None
        if place is None:
            super().mousePressEvent(event)
            return
        item, word = place
        keeps = self._chosen is not None and event.modifiers() & Qt.KeyboardModifier.ShiftModifier
        start = self._chosen.start if keeps and self._chosen and self._chosen.page == item.page.number else word
        self._dragging = True
        self.choose(WordRange(item.page.number, start, word))
        event.accept()

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        place = self._place(event) if self._dragging else None
        if place is None or self._chosen is None or place[0].page.number != self._chosen.page:
            super().mouseMoveEvent(event)
            return
        self.choose(WordRange(self._chosen.page, self._chosen.start, place[1]))

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        if self._dragging:
            self._dragging = False
            event.accept()
        else:
            super().mouseReleaseEvent(event)

    def wheelEvent(self, event: QWheelEvent) -> None:
        if event.modifiers() & Qt.KeyboardModifier.ControlModifier:
            self.zoom_by(STEP if event.angleDelta().y() > 0 else 1 / STEP)
            event.accept()
        else:
            super().wheelEvent(event)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        key = Qt.Key(event.key())
        if key in (Qt.Key.Key_Plus, Qt.Key.Key_Equal):
            self.zoom_by(STEP)
        elif key == Qt.Key.Key_Minus:
            self.zoom_by(1 / STEP)
        elif key == Qt.Key.Key_0:
            self.fit_width()
        elif key in (Qt.Key.Key_Left, Qt.Key.Key_Right, Qt.Key.Key_Up, Qt.Key.Key_Down):
            self._step(key, bool(event.modifiers() & Qt.KeyboardModifier.ShiftModifier))
        elif key in (Qt.Key.Key_Return, Qt.Key.Key_Enter) and (evidence := self.chosen_evidence()) is not None:
            self.adding_asked.emit(evidence)
        elif key == Qt.Key.Key_Escape and self._chosen is not None:
            self.choose(None)
        else:
            super().keyPressEvent(event)
            return
        event.accept()

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        if self._fits:
            self._fit()
        for lit in self._lit[:1]:
            self._bring_into_sight(lit.mapRectToScene(lit.boundingRect()))
        self._soon.start()

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        window = self.window().windowHandle()
        if window is not None:
            window.installEventFilter(self)
        self._soon.start()

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        # A move to a screen of another sharpness needs the pages drawn anew.
        if event.type() in (QEvent.Type.DevicePixelRatioChange, QEvent.Type.ScreenChangeInternal):
            self._soon.start()
        return super().eventFilter(watched, event)
