"""A row that goes on in the next line: no gap for what is hidden, no empty line either."""

from __future__ import annotations

from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from app.flow import FlowLayout

_GAP = 8


def row_of(qtbot: QtBot, count: int, width: int) -> tuple[QWidget, list[QWidget]]:
    row = QWidget()
    qtbot.addWidget(row)
    flow = FlowLayout(row, _GAP)
    buttons = []
    for _ in range(count):
        button = QWidget(row)
        button.setFixedSize(60, 30)
        flow.addWidget(button)
        buttons.append(button)
    row.resize(width, 200)
    row.show()
    return row, buttons


def test_a_hidden_widget_leaves_no_gap(qtbot: QtBot) -> None:
    _row, (first, middle, last) = row_of(qtbot, 3, 400)
    assert (first.x(), middle.x(), last.x()) == (0, 68, 136)
    middle.hide()
    qtbot.waitUntil(lambda: last.x() == 68)
    first.hide()
    qtbot.waitUntil(lambda: last.x() == 0)
    middle.show()
    qtbot.waitUntil(lambda: (middle.x(), last.x()) == (0, 68))


def test_what_is_hidden_opens_no_line(qtbot: QtBot) -> None:
    row, buttons = row_of(qtbot, 3, 130)
    flow = row.layout()
    assert flow is not None
    assert [button.y() for button in buttons] == [0, 0, 38]
    assert flow.heightForWidth(130) == 68
    buttons[2].hide()
    assert flow.heightForWidth(130) == 30
    for button in buttons:
        button.hide()
    assert flow.heightForWidth(130) == 0
    assert flow.minimumSize().isEmpty()
