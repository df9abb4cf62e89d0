"""All text larger or smaller by key, remembered, with every length that holds text growing along."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QAbstractButton, QApplication, QLabel, QLineEdit
from pytestqt.qtbot import QtBot
from window_kit import PreparedReader, window
from window_states import fill, prepared

from app.settings import TEXT_PERCENT, Settings, text_percent
from app.theme.text_size import PERCENTS, SMALL, factor, scaled, step
from app.theme.theme import Theme
from app.wiring import Wiring


@pytest.fixture
def wiring(qtbot: QtBot, tmp_path: Path, qapp: QApplication) -> Iterator[Wiring]:
    with window(tmp_path, PreparedReader(prepared("full"))) as made:
        made.window.resize(1280, 800)
        yield made
        made.theme.set_percent(100)


def test_text_grows_and_shrinks_by_key_and_is_remembered(qtbot: QtBot, wiring: Wiring, tmp_path: Path) -> None:
    window_ = wiring.window
    label = wiring.filing.findChildren(QLabel)[0]
    field = wiring.asking.findChildren(QLineEdit)[0]
    window_.go_to("sheets")
    before, field_before = label.fontInfo().pointSizeF(), field.fontInfo().pointSizeF()
    for _ in range(2):
        qtbot.keyClick(window_, Qt.Key.Key_Plus, Qt.KeyboardModifier.ControlModifier)
    assert wiring.theme.percent == 150
    assert label.fontInfo().pointSizeF() == pytest.approx(1.5 * before, abs=0.6)
    assert field.fontInfo().pointSizeF() == pytest.approx(1.5 * field_before, abs=0.6)
    assert [percent for percent, action in wiring.text_menu.sizes.items() if action.isChecked()] == [150]
    assert text_percent(Settings(tmp_path / "window.ini")) == 150
    qtbot.keyClick(window_, Qt.Key.Key_Minus, Qt.KeyboardModifier.ControlModifier)
    assert wiring.theme.percent == 125


def test_the_ends_of_the_sizes_are_ends(wiring: Wiring) -> None:
    wiring.text_menu.choose(200)
    assert not wiring.text_menu.larger.isEnabled() and wiring.text_menu.smaller.isEnabled()
    wiring.text_menu.choose(100)
    assert wiring.text_menu.larger.isEnabled() and not wiring.text_menu.smaller.isEnabled()
    assert step(200, 1) == 200 and step(100, -1) == 100 and step(130, 1) == 150


def test_what_nobody_could_have_chosen_counts_as_the_usual_size(tmp_path: Path) -> None:
    settings = Settings(tmp_path / "w.ini")
    for kept, percent in (("9000", 100), ("rubbish", 100), ("175", 175)):
        settings.set_text(TEXT_PERCENT, kept)
        assert text_percent(settings) == percent


def test_lengths_follow_the_text_also_while_the_window_stands(wiring: Wiring) -> None:
    temperature = wiring.build_up.temperature
    before = temperature.width()
    wiring.text_menu.choose(200)
    assert factor() == pytest.approx(2.0)
    assert scaled(10) == 20
    assert temperature.minimumWidth() == 2 * before
    wiring.text_menu.choose(100)
    assert temperature.minimumWidth() == before


def test_a_theme_begins_at_the_size_it_is_given(qapp: QApplication) -> None:
    theme = Theme(qapp, dark=False, percent=175)
    assert qapp.font().pointSizeF() == pytest.approx(SMALL * 1.75)
    theme.set_percent(100)
    theme.deleteLater()


@pytest.mark.parametrize("percent", PERCENTS)
def test_no_word_on_a_button_is_cut_wherever_the_window_goes(
    qtbot: QtBot, wiring: Wiring, tmp_path: Path, percent: int
) -> None:
    wiring.text_menu.choose(percent)
    cut: set[str] = set()
    for name, show in fill(wiring, "full", tmp_path):
        qtbot.waitUntil(lambda: wiring.filing.card.sheet is not None)
        show()
        # Layouts of what has just been made settle over several turns of the event loop.
        for _ in range(4):
            QApplication.processEvents()
        for button in wiring.window.place.findChildren(QAbstractButton):
            words = button.text().replace("&", "")
            if button.isVisible() and words and not button.visibleRegion().isEmpty():
                needed = button.fontMetrics().horizontalAdvance(words)
                if button.width() < needed:
                    cut.add(f"{name}: {words}: {button.width()} of {needed}")
    assert cut == set()
