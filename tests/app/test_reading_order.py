"""The Tab key goes through every place as it is read: down, and within a row from left to right."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise
from pathlib import Path

import pytest
from PySide6.QtCore import QPoint, QRect, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import (
    QApplication,
    QHBoxLayout,
    QLineEdit,
    QListWidget,
    QPlainTextEdit,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)
from pytestqt.qtbot import QtBot
from window_kit import PreparedReader, window
from window_states import fill, prepared

from app.tab_order import put_in_order

_MOST = 60
"""Presses after which a widget that still has the keyboard will never let it go."""


def press(window: QWidget, key: Qt.Key = Qt.Key.Key_Tab) -> QWidget | None:
    """The key goes to whatever has the keyboard, as from a hand. What has the keyboard then."""
    QTest.keyClick(QApplication.focusWidget() or window, key)
    return QApplication.focusWidget()


def stops(inside: QWidget) -> list[QWidget]:
    """What Tab comes to within a widget, from where it comes in until it goes out again, as it must."""
    start = next((w for w in inside.window().findChildren(QListWidget) if not inside.isAncestorOf(w)), inside.window())
    start.setFocus()
    came = press(inside.window())
    for _ in inside.window().findChildren(QWidget):
        if came is None or inside.isAncestorOf(came):
            break
        came = press(inside.window())
    chain: list[QWidget] = []
    stayed = 0
    while came is not None and inside.isAncestorOf(came):
        if not chain or came is not chain[-1]:
            if came in chain:
                break
            chain.append(came)
            stayed = 0
        # Words with links in them are gone through link by link.
        stayed += 1
        assert stayed <= _MOST, f"Tab does not leave {told(came)}"
        came = press(inside.window())
    assert came is None or not inside.isAncestorOf(came) or came is chain[0], f"Tab goes back to {told(came)}"
    return chain


def where(widget: QWidget, inside: QWidget) -> QRect:
    return QRect(widget.mapTo(inside, QPoint()), widget.size())


def against_reading(inside: QWidget) -> Iterator[str]:
    """Steps that go back: to the left within a row, or up without going on to the right."""
    chain = stops(inside)
    for area in inside.findChildren(QScrollArea):
        # The walk has scrolled to where it went.
        area.verticalScrollBar().setValue(0)
    for before, after in pairwise(chain):
        one, other = where(before, inside), where(after, inside)
        shared = min(one.bottom(), other.bottom()) - max(one.top(), other.top())
        same_row = shared > 0.5 * min(one.height(), other.height())
        back = same_row and other.right() <= one.left()
        up = other.bottom() <= one.top() and other.left() < one.right()
        if back or up:
            yield f"{told(before)} at {one.topLeft().toTuple()} -> {told(after)} at {other.topLeft().toTuple()}"


def told(widget: QWidget) -> str:
    text = getattr(widget, "text", None)
    return widget.accessibleName() or (text() if callable(text) else "") or type(widget).__name__


@pytest.mark.parametrize("size", [(1024, 700), (1440, 900)], ids=str)
@pytest.mark.parametrize("state", ["empty", "full"])
def test_tab_goes_as_one_reads(qtbot: QtBot, tmp_path: Path, state: str, size: tuple[int, int]) -> None:
    found: dict[str, str] = {}
    with window(tmp_path, PreparedReader(prepared(state))) as wiring:
        wiring.window.resize(*size)
        for name, bring_about in fill(wiring, state, tmp_path):
            bring_about()
            QApplication.processEvents()
            place = next(place for place in wiring.window.places if place.isVisible())
            for words in against_reading(place):
                found.setdefault(words, name)
    assert "\n".join(f"{name}: {words}" for words, name in found.items()) == ""


@pytest.mark.parametrize(
    "name", ["sheets", "ask", "compare", "products", "find", "build_up", "mixing", "panels", "shelf"]
)
def test_back_goes_the_same_way(qtbot: QtBot, tmp_path: Path, name: str) -> None:
    with window(tmp_path, PreparedReader({})) as wiring:
        wiring.window.go_to(name)
        QApplication.processEvents()
        place = next(place for place in wiring.window.places if place.isVisible())
        there = stops(place)
        there[-1].setFocus()
        back = [there[-1], *(came for _ in there[1:] if (came := press(wiring.window, Qt.Key.Key_Backtab)) is not None)]
        assert [told(one) for one in back] == [told(one) for one in reversed(there)]


def test_what_was_made_later_is_visited_where_it_stands(qtbot: QtBot) -> None:
    page = QWidget()
    qtbot.addWidget(page)
    column = QVBoxLayout(page)
    first, last = QLineEdit(page), QLineEdit(page)
    column.addWidget(first)
    column.addWidget(last)
    late = QLineEdit(page)
    column.insertWidget(1, late)
    with qtbot.waitActive(page):
        page.show()
        page.activateWindow()
    assert stops(page) == [first, last, late]
    put_in_order(page)
    assert stops(page) == [first, late, last]


def test_a_field_that_keeps_the_tab_key_is_found(qtbot: QtBot) -> None:
    page = QWidget()
    qtbot.addWidget(page)
    column = QVBoxLayout(page)
    for widget in (QLineEdit(page), QPlainTextEdit(page), QLineEdit(page)):
        column.addWidget(widget)
    with qtbot.waitActive(page):
        page.show()
        page.activateWindow()
    with pytest.raises(AssertionError, match="does not leave QPlainTextEdit"):
        stops(page)


def test_steps_back_are_found(qtbot: QtBot) -> None:
    page = QWidget()
    qtbot.addWidget(page)
    names = ("one", "two", "three", "four")
    made = {name: QLineEdit(page) for name in names}
    for name, line in made.items():
        line.setAccessibleName(name)
    row = QHBoxLayout()
    row.addWidget(made["one"])
    row.addWidget(made["two"])
    column = QVBoxLayout(page)
    column.addLayout(row)
    column.addWidget(made["three"])
    column.addWidget(made["four"])
    with qtbot.waitActive(page):
        page.show()
        page.activateWindow()
    assert [told(widget) for widget in stops(page)] == list(names)
    assert list(against_reading(page)) == []
    QWidget.setTabOrder(made["two"], made["one"])
    QWidget.setTabOrder(made["four"], made["three"])
    assert len(list(against_reading(page))) == 2
