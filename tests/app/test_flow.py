"""A row that goes on in the next line: no gap for what is hidden, no empty line either."""

from __future__ import annotations

import pytest
from PySide6.QtWidgets import QApplication, QLabel, QWidget
from pytestqt.qtbot import QtBot

from app.due_list.short_card import ShortCard
from app.due_list.words import Short
from app.flow import FlowLayout
from app.theme.theme import Theme

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


@pytest.mark.parametrize("large", ["was 19 October 2026", "from tomorrow 04:06", "less than a minute outdoors"])
def test_a_large_time_stands_on_one_line_where_there_is_one_and_is_wrapped_else(
    qtbot: QtBot, qapp: QApplication, large: str
) -> None:
    card = ShortCard(Theme(qapp, dark=False), "left door", Short("no", "Too late", large, "108 days ago"), (), ())
    qtbot.addWidget(card)
    card.show()
    label = next(one for one in card.findChildren(QLabel) if one.text() == large)
    heights = []
    for width in (700, 200):
        card.resize(width, 400)
        QApplication.processEvents()
        heights.append(label.height())
        assert label.width() <= card.width()
    assert heights[0] < 1.6 * label.fontMetrics().lineSpacing()
    assert heights[1] >= 2 * label.fontMetrics().lineSpacing()
