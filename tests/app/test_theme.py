"""The colours hold their contrast, the shapes can be told apart without them, and the look switches live."""

from __future__ import annotations

from itertools import combinations

import pytest
from PySide6.QtCore import QRectF
from PySide6.QtGui import QColor, QImage, QPainter, QPalette
from PySide6.QtWidgets import QApplication, QLineEdit
from pytestqt.qtbot import QtBot

from app.theme.icons import icon
from app.theme.roles import DARK, LIGHT, PAGE_LIT, VERDICT_ROLES, Role, contrast
from app.theme.style_sheet import style_sheet
from app.theme.theme import Theme
from app.theme.verdict_shape import SHAPES, VerdictShape, VerdictWord, paint_shape

WRITTEN = (
    *((role, ground) for role in (Role.INK, Role.QUIET, Role.ACCENT) for ground in (Role.PAPER, Role.RAISED)),
    *((role, ground) for role in set(VERDICT_ROLES.values()) for ground in (Role.PAPER, Role.RAISED, Role.CHOSEN)),
    (Role.INK, Role.LIT),
    (Role.INK, Role.CHOSEN),
    (Role.QUIET, Role.CHOSEN),
    (Role.INK, Role.CAUTION),
    (Role.ACCENT, Role.CAUTION),
    (Role.ON_ACCENT, Role.ACCENT),
)


@pytest.mark.parametrize("roles", [LIGHT, DARK], ids=["light", "dark"])
@pytest.mark.parametrize(("text", "ground"), WRITTEN)
def test_text_stands_out_from_what_it_is_written_on(roles: dict[Role, str], text: Role, ground: Role) -> None:
    assert contrast(roles[text], roles[ground]) >= 4.5


@pytest.mark.parametrize("roles", [LIGHT, DARK], ids=["light", "dark"])
def test_outlines_of_controls_are_seen(roles: dict[Role, str]) -> None:
    assert contrast(roles[Role.EDGE], roles[Role.PAPER]) >= 3.0
    assert contrast(roles[Role.EDGE], roles[Role.RAISED]) >= 3.0


def test_black_print_stays_readable_under_the_light() -> None:
    assert contrast("#000000", PAGE_LIT) >= 4.5


def test_contrast_of_black_and_white() -> None:
    # 21:1 is the greatest ratio there is (WCAG 2.2, definition of 'contrast ratio').
    assert contrast("#000000", "#ffffff") == pytest.approx(21.0)
    assert contrast("#777777", "#777777") == pytest.approx(1.0)


def test_both_shades_name_every_role_and_leave_no_blank_in_the_sheet() -> None:
    assert set(LIGHT) == set(DARK) == set(Role)
    assert "$" not in style_sheet(LIGHT)


@pytest.mark.parametrize("dark", [False, True])
def test_the_words_in_an_empty_field_can_be_read(qtbot: QtBot, dark: bool) -> None:
    application = QApplication.instance()
    assert isinstance(application, QApplication)
    theme = Theme(application, dark=dark)
    field = QLineEdit()
    qtbot.addWidget(field)
    field.setPlaceholderText("product, maker")
    field.show()
    hint = field.palette().placeholderText().color()
    assert hint.alpha() == 255
    assert contrast(hint.name(), theme.roles[Role.RAISED]) >= 4.5
    theme.set_dark(False)


def drawn(name: str, side: int = 12) -> list[bool]:
    """The shape in black and white, pixel by pixel."""
    image = QImage(side, side, QImage.Format.Format_RGB32)
    image.fill(QColor("white"))
    painter = QPainter(image)
    paint_shape(painter, name, QRectF(0, 0, side, side), QColor("black"))
    painter.end()
    return [image.pixelColor(x, y).lightness() < 128 for y in range(side) for x in range(side)]


# The state of a claim that waits is the verdict 'unconfirmed': one shape on purpose.
DISTINCT = [name for name in SHAPES if name != "proposed"]


@pytest.mark.parametrize(("one", "other"), list(combinations(DISTINCT, 2)))
def test_shapes_are_told_apart_at_12_pixels_in_black_and_white(qapp: QApplication, one: str, other: str) -> None:
    differing = sum(a != b for a, b in zip(drawn(one), drawn(other), strict=True))
    assert differing >= 16, f"{one} and {other} differ in {differing} of 144 pixels"


def test_a_shape_says_its_word_to_a_screen_reader(qapp: QApplication) -> None:
    theme = Theme(qapp, dark=False)
    shape = VerdictShape(theme, "yes_if", "Yes, if")
    assert shape.accessibleName() == "Yes, if"
    with pytest.raises(KeyError):
        shape.set_verdict("perhaps", "Perhaps")
    word = VerdictWord(theme, "no", "No")
    word.set_verdict("silent", "The sheets do not say")
    assert word.accessibleName() == "The sheets do not say"


def test_the_look_switches_live(qapp: QApplication) -> None:
    theme = Theme(qapp, dark=False)
    heard: list[bool] = []
    theme.theme_changed.connect(lambda: heard.append(theme.dark))
    theme.set_dark(True)
    assert heard == [True]
    assert qapp.palette().color(QPalette.ColorRole.Window).name() == DARK[Role.PAPER]
    theme.set_dark(True)
    assert heard == [True]
    theme.set_dark(False)
    assert qapp.palette().color(QPalette.ColorRole.Window).name() == LIGHT[Role.PAPER]


@pytest.mark.parametrize("name", ["sheets", "confirm", "compare", "ask", "find", "notes", "check_light"])
def test_icons_draw_something_at_every_sharpness(qapp: QApplication, name: str) -> None:
    made = icon(name, QColor("black"))
    assert len(made.availableSizes()) == 3
    image = made.pixmap(20, 20).toImage()
    assert any(image.pixelColor(x, y).alpha() for x in range(image.width()) for y in range(image.height()))
