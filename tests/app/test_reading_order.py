"""The Tab key goes through every place as it is read: down, and within a row from left to right."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise
from pathlib import Path

import pytest
from PySide6.QtCore import QPoint, QRect, Qt
from PySide6.QtWidgets import QAbstractButton, QApplication, QHBoxLayout, QLineEdit, QScrollArea, QVBoxLayout, QWidget
from pytestqt.qtbot import QtBot
from window_kit import PreparedReader, window
from window_states import fill, prepared

from app.tab_order import put_in_order


def stops(inside: QWidget) -> list[QWidget]:
    """What Tab comes to within a widget, in its order, from the first on."""
    chain = []
    window = inside.window()
    widget = window
    while (following := widget.nextInFocusChain()) is not window:
        widget = following
        takes = bool(widget.focusPolicy() & Qt.FocusPolicy.TabFocus) and widget.isEnabled() and widget.isVisible()
        # Of buttons of which one is down, Tab comes to that one and the arrows go to the others.
        group = widget.group() if isinstance(widget, QAbstractButton) else None
        takes = takes and (group is None or not group.exclusive() or widget.isChecked())
        if takes and inside.isAncestorOf(widget) and widget.focusProxy() is None:
            chain.append(widget)
    return chain


def where(widget: QWidget, inside: QWidget) -> QRect:
    return QRect(widget.mapTo(inside, QPoint()), widget.size())


def against_reading(inside: QWidget) -> Iterator[str]:
    """Steps that go back: to the left within a row, or up without going on to the right."""
    chain = stops(inside)
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
            for area in place.findChildren(QScrollArea):
                area.verticalScrollBar().setValue(0)
            put_in_order(place)
            for words in against_reading(place):
                found.setdefault(words, name)
    assert "\n".join(f"{name}: {words}" for words, name in found.items()) == ""


@pytest.mark.parametrize(
    "name", ["sheets", "ask", "compare", "products", "find", "build_up", "mixing", "panels", "shelf"]
)
def test_the_tab_key_itself_goes_that_way_and_back(qtbot: QtBot, tmp_path: Path, name: str) -> None:
    with window(tmp_path, PreparedReader({})) as wiring:
        wiring.window.go_to(name)
        QApplication.processEvents()
        place = next(place for place in wiring.window.places if place.isVisible())
        put_in_order(place)
        wanted = stops(place)
        wanted[0].setFocus()
        came = [wanted[0]]
        for _ in wanted[1:]:
            qtbot.keyClick(came[-1], Qt.Key.Key_Tab)
            came.append(QApplication.focusWidget())
        assert [told(one) for one in came] == [told(one) for one in wanted]
        qtbot.keyClick(came[-1], Qt.Key.Key_Backtab)
        assert len(wanted) == 1 or QApplication.focusWidget() is wanted[-2]


def test_what_was_made_later_is_visited_where_it_stands(qtbot: QtBot) -> None:
    page = QWidget()
    qtbot.addWidget(page)
    column = QVBoxLayout(page)
    first, last = QLineEdit(page), QLineEdit(page)
    column.addWidget(first)
    column.addWidget(last)
    late = QLineEdit(page)
    column.insertWidget(1, late)
    page.show()
    assert stops(page) == [first, last, late]
    put_in_order(page)
    assert stops(page) == [first, late, last]


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
    page.show()
    assert [told(widget) for widget in stops(page)] == list(names)
    assert list(against_reading(page)) == []
    QWidget.setTabOrder(made["two"], made["one"])
    QWidget.setTabOrder(made["four"], made["three"])
    assert len(list(against_reading(page))) == 2
