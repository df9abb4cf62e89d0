"""The pane: boxes on their words whatever the rotation and crop, sharp pictures, a bounded shelf of them."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from PySide6.QtCore import QPoint, QRectF, Qt
from PySide6.QtGui import QImage
from pytestqt.qtbot import QtBot
from window_kit import WordDrawer

from app.jobs import InlineRunner
from app.page_pane.items import LitItem, PageItem
from app.page_pane.pictures import PageKey, PagePictures, PictureShelf
from app.page_pane.view import LARGEST, SMALLEST, PagePane
from app.page_pane.words import WordRange
from extract.claims import Evidence, PageGeometry, PageText, PageWord
from extract.errors import PageNotDrawn
from extract.reading.geometry import drawn_size, to_displayed

A4 = (0.0, 0.0, 595.0, 842.0)
WORDS = tuple(
    PageWord(f"w{i}", (50.0 + 60 * (i % 5), 100.0 + 20 * (i // 5), 100.0 + 60 * (i % 5), 112.0 + 20 * (i // 5)))
    for i in range(20)
)
PAGES = tuple(PageText(n, PageGeometry(A4, A4, 0), WORDS) for n in (1, 2, 3))


@st.composite
def geometries(draw: st.DrawFn) -> PageGeometry:
    """A page anywhere in user space, cropped by any amount, turned by any quarter."""
    x, y = draw(st.floats(-300, 300)), draw(st.floats(-300, 300))
    width, height = draw(st.floats(100, 900)), draw(st.floats(100, 900))
    left, right = draw(st.floats(0, 0.3)), draw(st.floats(0, 0.3))
    low, high = draw(st.floats(0, 0.3)), draw(st.floats(0, 0.3))
    media = (x, y, x + width, y + height)
    crop = (x + left * width, y + low * height, x + width - right * width, y + height - high * height)
    return PageGeometry(media, crop, draw(st.sampled_from((0, 90, 180, 270))))


def reference(user: tuple[float, float], geometry: PageGeometry) -> tuple[float, float]:
    """A user-space point on the drawn page, by the plain rule: shift to the crop's top left, then turn clockwise."""
    x0, y0, x1, y1 = geometry.cropbox
    x, y, width, height = user[0] - x0, y1 - user[1], x1 - x0, y1 - y0
    for _ in range(geometry.rotation // 90):
        x, y, width, height = height - y, x, height, width
    return x, y


@given(geometries(), st.floats(0, 1), st.floats(0, 1), st.floats(0.01, 0.3), st.floats(0.01, 0.3))
def test_a_lit_box_lies_on_its_words_on_any_page(
    geometry: PageGeometry, across: float, up: float, wide: float, tall: float
) -> None:
    m = geometry.mediabox
    x, y = m[0] + across * (m[2] - m[0]), m[1] + up * (m[3] - m[1])
    user = (x, y, x + wide * 100, y + tall * 100)
    item = PageItem(PageText(1, geometry, ()))
    box = item.box_on_page(to_displayed(user, geometry))
    corners = [reference((px, py), geometry) for px in (user[0], user[2]) for py in (user[1], user[3])]
    xs, ys = [c[0] for c in corners], [c[1] for c in corners]
    assert box.left() == pytest.approx(min(xs), abs=1e-6)
    assert box.right() == pytest.approx(max(xs), abs=1e-6)
    assert box.top() == pytest.approx(min(ys), abs=1e-6)
    assert box.bottom() == pytest.approx(max(ys), abs=1e-6)
    assert (item.boundingRect().width(), item.boundingRect().height()) == pytest.approx(drawn_size(geometry, 1.0))


@given(geometries(), st.floats(0, 400), st.floats(0, 400))
def test_a_point_pressed_on_the_page_is_the_point_of_the_words(geometry: PageGeometry, x: float, y: float) -> None:
    item = PageItem(PageText(1, geometry, ()))
    px, py = item.point_as_displayed(x, y)
    back = item.box_on_page((px, py, px, py))
    assert (back.left(), back.top()) == pytest.approx((x, y), abs=1e-6)


def pane(qtbot: QtBot, drawer: WordDrawer | None = None) -> tuple[PagePane, WordDrawer]:
    drawer = drawer or WordDrawer()
    pictures = PagePictures(drawer, InlineRunner())
    made = PagePane(pictures)
    qtbot.addWidget(made)
    pictures.setParent(made)
    made.resize(500, 600)
    made.show()
    made.show_sheet(7, PAGES, Path("seven.pdf"))
    made.draw_what_shows()
    return made, drawer


def test_pages_are_drawn_at_the_sharpness_of_the_zoom_and_only_where_seen(qtbot: QtBot) -> None:
    made, drawer = pane(qtbot)
    scale = made.zoom * made.devicePixelRatioF()
    assert {(page, round(s, 2)) for _, page, s in drawer.drawn} >= {(1, round(scale, 2))}
    assert all(page != 3 for _, page, _ in drawer.drawn)
    before = len(drawer.drawn)
    made.zoom_by(2.0)
    made.draw_what_shows()
    assert len(drawer.drawn) > before
    assert drawer.drawn[-1][2] == pytest.approx(made.zoom * made.devicePixelRatioF(), abs=0.001)


def test_keys_zoom_within_limits_and_fit_the_width(qtbot: QtBot) -> None:
    made, _ = pane(qtbot)
    fitted = made.zoom
    qtbot.keyClick(made, Qt.Key.Key_Plus)
    assert made.zoom == pytest.approx(fitted * 1.25)
    for _ in range(40):
        qtbot.keyClick(made, Qt.Key.Key_Plus)
    assert made.zoom == LARGEST
    for _ in range(60):
        qtbot.keyClick(made, Qt.Key.Key_Minus)
    assert made.zoom == SMALLEST
    qtbot.keyClick(made, Qt.Key.Key_0)
    assert made.zoom == pytest.approx(fitted)


def test_lighting_brings_the_words_into_sight(qtbot: QtBot) -> None:
    made, _ = pane(qtbot)
    made.light(3, [(50.0, 700.0, 150.0, 712.0)])
    (lit,) = made.lit
    seen = made.mapToScene(made.viewport().rect()).boundingRect()
    assert seen.contains(lit.mapRectToScene(lit.boundingRect()))
    made.light(1, [])
    assert made.lit == []


def test_light_keeps_black_print_black_and_turns_paper_yellow(qtbot: QtBot) -> None:
    made, _ = pane(qtbot)
    made.light(1, [(0.0, 0.0, 300.0, 60.0)])
    image = made.viewport().grab().toImage()
    page = made.mapFromScene(made.pages[0].sceneBoundingRect().topLeft() + QPoint(20, 20))
    colour = image.pixelColor(int(page.x() * image.devicePixelRatio()), int(page.y() * image.devicePixelRatio()))
    assert colour.blue() < 120 < colour.red()


def test_a_page_that_cannot_be_drawn_says_so(qtbot: QtBot) -> None:
    class Broken(WordDrawer):
        def draw(self, pdf: Path, page: int, scale: float) -> QImage:
            raise PageNotDrawn(page)

    made, _ = pane(qtbot, Broken())
    assert "could not be drawn" in made.pages[0].words
    assert not made.pages[0].has_image


def test_words_are_chosen_by_keys_alone(qtbot: QtBot) -> None:
    made, _ = pane(qtbot)
    asked: list[Evidence] = []
    made.adding_asked.connect(asked.append)
    qtbot.keyClick(made, Qt.Key.Key_Right)
    qtbot.keyClick(made, Qt.Key.Key_Right)
    qtbot.keyClick(made, Qt.Key.Key_Right, Qt.KeyboardModifier.ShiftModifier)
    qtbot.keyClick(made, Qt.Key.Key_Down, Qt.KeyboardModifier.ShiftModifier)
    qtbot.keyClick(made, Qt.Key.Key_Return)
    (evidence,) = asked
    assert evidence.quote == "w1 w2 w3 w4 w5 w6 w7"
    assert len(evidence.boxes) == 2
    qtbot.keyClick(made, Qt.Key.Key_Escape)
    assert made.chosen_evidence() is None


def test_words_are_chosen_by_dragging(qtbot: QtBot) -> None:
    made, _ = pane(qtbot)
    chosen: list[Evidence | None] = []
    made.words_chosen.connect(chosen.append)

    def at(word: int) -> QPoint:
        item = made.pages[0]
        return made.mapFromScene(item.mapToScene(item.box_on_page(WORDS[word].box).center()))

    qtbot.mousePress(made.viewport(), Qt.MouseButton.LeftButton, pos=at(2))
    qtbot.mouseMove(made.viewport(), at(4))
    qtbot.mouseRelease(made.viewport(), Qt.MouseButton.LeftButton, pos=at(4))
    assert chosen[-1] is not None
    assert chosen[-1].quote == "w2 w3 w4"


def test_the_shelf_gives_up_the_oldest_pictures_by_bytes() -> None:
    image = QImage(100, 100, QImage.Format.Format_RGB32)
    shelf = PictureShelf(most=3 * image.sizeInBytes())
    keys = [PageKey(1, page, 1000) for page in range(5)]
    for key in keys:
        shelf.put(key, image)
    assert shelf.get(keys[0]) is None
    assert shelf.get(keys[4]) is not None
    assert shelf.size_in_bytes == 3 * image.sizeInBytes()
    shelf.put(keys[4], image)
    assert shelf.size_in_bytes == 3 * image.sizeInBytes()
    shelf.put(PageKey(1, 9, 1000), QImage(1000, 1000, QImage.Format.Format_RGB32))
    assert shelf.get(PageKey(1, 9, 1000)) is None


def test_a_lit_item_holds_a_box_for_each_line() -> None:
    item = PageItem(PAGES[0])
    lit = LitItem(item, [(10.0, 10.0, 50.0, 20.0), (10.0, 30.0, 80.0, 40.0)])
    assert [b.center() for b in lit.boxes] == [QRectF(10, 10, 40, 10).center(), QRectF(10, 30, 70, 10).center()]


def test_choosing_a_range_of_a_page_that_is_not_there_gives_nothing(qtbot: QtBot) -> None:
    made, _ = pane(qtbot)
    made.choose(WordRange(9, 0, 1))
    assert made.chosen_evidence() is None
