"""All text stands out from what it is painted on, 4.5 to 1 (WCAG 2.2, 1.4.3), in every place and state, light and dark.

Measured on what is painted, not on the style sheet: the colour of every run of letters against the colour that most
of the picture around it has. Words that may not be used just now count like all others here.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import QPoint, QRect
from PySide6.QtGui import QColor, QImage, QPainter
from PySide6.QtWidgets import QApplication, QCheckBox, QLabel, QLineEdit, QPushButton, QVBoxLayout, QWidget
from pytestqt.qtbot import QtBot
from window_kit import PreparedReader, window
from window_states import fill, prepared
from words_in_sight import PaintedText, painted_texts

from app.naming.offers import OffersPopup
from app.theme.roles import contrast
from app.theme.theme import Theme, set_look

LEAST = 4.5


def picture_of(widget: QWidget) -> QImage:
    image = QImage(widget.size(), QImage.Format.Format_RGB32)
    painter = QPainter(image)
    widget.render(painter, QPoint())
    painter.end()
    return image


def ground_of(image: QImage, box: QRect) -> QColor | None:
    """The colour that most of the box has; None where it lies outside the picture."""
    inside = box.intersected(image.rect())
    if inside.isEmpty():
        return None
    seen = Counter(
        image.pixel(x, y)
        for x in range(inside.left(), inside.right() + 1, 2)
        for y in range(inside.top(), inside.bottom() + 1)
    )
    return QColor.fromRgb(seen.most_common(1)[0][0])


def written(text: PaintedText, ground: QColor) -> QColor:
    """The letters' colour as the eye sees it: what is half clear lets the ground through."""
    share = text.colour.alphaF()
    mixed = [share * a + (1 - share) * b for a, b in zip(text.colour.getRgbF()[:3], ground.getRgbF()[:3], strict=True)]
    return QColor.fromRgbF(*mixed)


def faint(widget: QWidget) -> Iterator[str]:
    """Every run of letters that is too near to its ground, with its colours."""
    image = picture_of(widget)
    # What lies over the rest is measured by itself: letters beneath it are not to be seen.
    over = [one for one in widget.findChildren(OffersPopup) if one.isVisible()]
    hidden = [QRect(one.mapTo(widget, QPoint()), one.size()) for one in over]
    for one in over:
        yield from faint(one)
    for text in painted_texts(widget):
        if any(rect.intersects(text.box) for rect in hidden):
            continue
        ground = ground_of(image, text.box) if any(letter.isalnum() for letter in text.words) else None
        if ground is not None:
            colour = written(text, ground)
            found = contrast(colour.name(), ground.name())
            if found < LEAST:
                yield f"{text.words[:40]!r} {colour.name()} on {ground.name()}: {found:.2f}"


@pytest.mark.parametrize("dark", [False, True], ids=["light", "dark"])
@pytest.mark.parametrize("state", ["empty", "full"])
def test_every_word_painted_stands_out_from_its_ground(qtbot: QtBot, tmp_path: Path, state: str, dark: bool) -> None:
    found: dict[str, str] = {}
    with window(tmp_path, PreparedReader(prepared(state)), dark=dark) as wiring:
        for name, bring_about in fill(wiring, state, tmp_path):
            bring_about()
            QApplication.processEvents()
            for words in faint(wiring.window):
                found.setdefault(words, name)
    assert "\n".join(f"{name}: {words}" for words, name in found.items()) == ""


@pytest.mark.parametrize("dark", [False, True], ids=["light", "dark"])
def test_what_may_not_be_used_and_hints_and_links_stand_out(qapp: QApplication, qtbot: QtBot, dark: bool) -> None:
    theme = Theme(qapp, dark=dark)
    page = QWidget()
    set_look(page, "paper")
    qtbot.addWidget(page)
    column = QVBoxLayout(page)
    for look in ("", "primary", "deed", "first_deed", "link"):
        for usable in (True, False):
            button = QPushButton(f"a button {look}", page)
            set_look(button, look)
            button.setEnabled(usable)
            column.addWidget(button)
    for usable in (True, False):
        box, line, typed = QCheckBox("a box", page), QLineEdit(page), QLineEdit("typed", page)
        line.setPlaceholderText("a hint")
        for widget in (box, line, typed):
            widget.setEnabled(usable)
            column.addWidget(widget)
    for look in ("quiet", "lead", "head", "quote", "caution", "key"):
        label = QLabel(f'words and <a href="x">a link</a> {look}', page)
        set_look(label, look)
        column.addWidget(label)
    page.show()
    QApplication.processEvents()
    assert len(list(painted_texts(page))) >= 22
    assert list(faint(page)) == []
    theme.set_dark(False)


def test_words_that_are_too_faint_are_found(qtbot: QtBot) -> None:
    label = QLabel("hardly to be seen")
    label.setStyleSheet("color: #999999; background: #ffffff")
    qtbot.addWidget(label)
    label.show()
    (words,) = faint(label)
    assert "#999999 on #ffffff: 2.8" in words
    label.setStyleSheet("color: #444444; background: #ffffff")
    assert list(faint(label)) == []
