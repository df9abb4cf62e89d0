"""In a small window with large text, places scroll: no button, field or line of words is squeezed."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import suppress
from pathlib import Path

import pytest
from PySide6.QtCore import QSize, Qt
from PySide6.QtWidgets import (
    QApplication,
    QComboBox,
    QLabel,
    QLineEdit,
    QListWidget,
    QPushButton,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)
from pytestqt.exceptions import TimeoutError as WaitedTooLong
from pytestqt.qtbot import QtBot
from window_kit import PreparedReader, window
from window_states import fill, prepared

from app.front_stack import FrontStack
from app.roll import Roll, least_size


def squeezed(place: QWidget) -> Iterator[str]:
    """What is lower, or for buttons narrower, than it needs for its words."""
    for widget in place.findChildren(QWidget):
        if not widget.isVisible() or not isinstance(widget, (QPushButton, QLineEdit, QComboBox, QLabel)):
            continue
        if isinstance(widget.parent(), QComboBox):
            continue
        least = widget.minimumSizeHint()
        if isinstance(widget, QLabel) and (widget.wordWrap() or not widget.text()):
            least = QSize(0, widget.heightForWidth(widget.width()) if widget.text() else 0)
        low = widget.height() < least.height() - 1
        narrow = isinstance(widget, QPushButton) and widget.width() < least.width() - 1
        if low or narrow:
            words = widget.text() if isinstance(widget, (QPushButton, QLabel)) else widget.accessibleName()
            yield f"{type(widget).__name__} {words!r} has {widget.size().toTuple()}, needs {least.toTuple()}"


def cut_at_the_side(place: QWidget) -> Iterator[str]:
    """What is wider than the part of a place that scrolls up and down only."""
    for area in place.findChildren(QScrollArea):
        inner, room = area.widget(), area.viewport().width()
        bar = area.horizontalScrollBarPolicy()
        if area.isVisible() and inner is not None and bar is Qt.ScrollBarPolicy.ScrollBarAlwaysOff:
            needed = inner.minimumSizeHint().width()
            if needed > room:
                yield f"{type(area).__name__} has {room} across, needs {needed}"


def still_squeezed(qtbot: QtBot, place: QWidget) -> list[str]:
    """What stays so once every layout has been asked again."""
    with suppress(WaitedTooLong):
        qtbot.waitUntil(lambda: not list(squeezed(place)), timeout=1500)
    return list(squeezed(place))


def settle() -> None:
    """Layouts are asked again by events that come one out of the other."""
    for _ in range(6):
        QApplication.processEvents()


@pytest.mark.parametrize("percent", [100, 200])
def test_no_words_are_cut_short(qtbot: QtBot, tmp_path: Path, percent: int) -> None:
    found: dict[str, str] = {}
    with window(tmp_path, PreparedReader(prepared("full"))) as wiring:
        wiring.text_menu.choose(percent)
        wiring.window.resize(1024, 700)
        for name, bring_about in fill(wiring, "full", tmp_path):
            bring_about()
            settle()
            in_front = next((one for one in wiring.window.places if one.isVisible()), wiring.window.evidence)
            for words in still_squeezed(qtbot, in_front):
                found.setdefault(words, name)
            for words in cut_at_the_side(in_front):
                found.setdefault(words, name)
            for roll in wiring.window.findChildren(Roll):
                if roll.isVisible() and (beyond := roll.horizontalScrollBar().maximum()):
                    found.setdefault(f"reaches {beyond} pixels beyond the window's side", name)
    assert "\n".join(f"{name}: {words}" for words, name in found.items()) == ""


def page_of(count: int) -> QWidget:
    page = QWidget()
    column = QVBoxLayout(page)
    for number in range(count):
        column.addWidget(QPushButton(f"Button {number}"))
    return page


def test_a_place_is_as_large_as_the_window_lets_it_and_scrolls_else(qtbot: QtBot) -> None:
    page = page_of(20)
    roll = Roll(page)
    qtbot.addWidget(roll)
    roll.resize(300, 2000)
    roll.show()
    settle()
    assert page.size() == roll.viewport().size()
    roll.resize(300, 200)
    settle()
    assert page.height() == least_size(page).height() > 200
    assert roll.verticalScrollBar().isVisible()
    assert page.width() <= roll.viewport().width()
    assert not list(squeezed(page))
    roll.resize(300, 2000)
    settle()
    assert page.size() == roll.viewport().size()


def test_a_list_needs_only_what_it_asks_for_at_least(qtbot: QtBot) -> None:
    page = QWidget()
    qtbot.addWidget(page)
    column = QVBoxLayout(page)
    rows = QListWidget()
    rows.addItems([str(number) for number in range(500)])
    column.addWidget(rows)
    assert least_size(page).height() < 200


def test_pages_that_are_not_in_front_take_no_room(qtbot: QtBot) -> None:
    stack = FrontStack()
    qtbot.addWidget(stack)
    stack.addWidget(page_of(2))
    stack.addWidget(page_of(30))
    small = stack.minimumSizeHint().height()
    stack.setCurrentIndex(1)
    assert stack.minimumSizeHint().height() > 5 * small
    area = QScrollArea()
    stack.addWidget(area)
    stack.setCurrentWidget(area)
    assert not stack.hasHeightForWidth()
    assert least_size(stack).height() <= 5 * small


def test_the_page_takes_the_room_of_a_place_that_is_too_narrow_for_both(qtbot: QtBot, tmp_path: Path) -> None:
    with window(tmp_path, PreparedReader(prepared("full"))) as wiring:
        for name, bring_about in fill(wiring, "full", tmp_path):
            if name == "ask-page":
                bring_about()
                break
        settle()
        shell = wiring.window
        shell.resize(1280, 800)
        settle()
        assert wiring.asking.isVisible() and shell.evidence.isVisible()
        shell.resize(1024, 700)
        settle()
        assert wiring.asking.isVisible() and shell.evidence.isVisible()
        wiring.text_menu.choose(200)
        qtbot.waitUntil(lambda: not wiring.asking.isVisible())
        assert shell.evidence.isVisible()
        qtbot.keyClick(shell.evidence.pane, Qt.Key.Key_Escape)
        assert wiring.asking.isVisible() and not shell.evidence.isVisible()
        focused = QApplication.focusWidget()
        assert focused is not None and wiring.asking.isAncestorOf(focused)
        shell.show_evidence(1, 1, ())
        assert not wiring.asking.isVisible()
        shell.go_to("shelf")
        assert wiring.tins.isVisible() and not shell.evidence.isVisible()
        shell.show_evidence(1, 1, ())
        wiring.text_menu.choose(100)
        qtbot.waitUntil(wiring.tins.isVisible)
        assert shell.evidence.isVisible()
