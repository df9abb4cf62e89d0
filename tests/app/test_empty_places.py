"""A place in which nothing is yet says what comes next, and its button brings that about."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QLabel, QPushButton, QWidget
from pytestqt.qtbot import QtBot
from window_kit import PreparedReader, window

from app.empty_place import EmptyPlace
from app.place import Place
from app.wiring import Wiring

WORKED_AS_TYPED = {"sums", "mixing"}
"""They need no library: what must still be typed is said where the figure will stand."""


class AskedForFiles:
    """Stands in for the system's dialogs, and notes that one was asked for."""

    def __init__(self) -> None:
        self.asked = 0

    def files(self, parent: QWidget) -> tuple[Path, ...]:
        self.asked += 1
        return ()

    folder = files


def said_and_offered(place: Place) -> list[tuple[str, QPushButton]]:
    """The sentence of each empty part in sight, with its button."""
    found = [(one.words, one.button) for one in place.findChildren(EmptyPlace) if one.isVisible()]
    if not found:
        deeds = [
            one for one in place.findChildren(QPushButton) if one.isVisible() and one.property("look") == "primary"
        ]
        words = [one for one in place.findChildren(QLabel) if one.isVisible() and one.property("look") == "lead"]
        found = [(label.text(), deed) for label in words for deed in deeds if deed.parent() is label.parent()]
    return found


def came_about(wiring: Wiring, chooser: AskedForFiles) -> tuple[object, ...]:
    """All that a button can bring about: another place, another page of it, the keyboard elsewhere, a dialog."""
    place = wiring.window.place
    pages = tuple(child.isVisible() for child in place.findChildren(QWidget))
    return place.name, pages, QApplication.focusWidget(), chooser.asked


NAMES = ("sheets", "confirm", "ask", "compare", "products", "find", "build_up", "mixing", "panels", "shelf", "sums")


@pytest.fixture
def chooser() -> AskedForFiles:
    return AskedForFiles()


@pytest.fixture
def wiring(qtbot: QtBot, tmp_path: Path, chooser: AskedForFiles) -> Iterator[Wiring]:
    with window(tmp_path, PreparedReader({}), chooser=chooser) as made:  # type: ignore[arg-type]
        yield made


def test_every_place_is_looked_at(wiring: Wiring) -> None:
    assert {place.name for place in wiring.window.places} == set(NAMES)


@pytest.mark.parametrize("name", sorted(set(NAMES) - WORKED_AS_TYPED))
def test_an_empty_place_names_the_next_step_and_its_button_brings_it_about(
    qtbot: QtBot, wiring: Wiring, chooser: AskedForFiles, name: str
) -> None:
    wiring.window.go_to(name)
    QApplication.processEvents()
    empty = said_and_offered(wiring.window.place)
    assert empty, "nothing is said"
    for words, button in empty:
        assert words.endswith(".")
        assert button.isVisible()
        assert button.isEnabled()
        assert button.text()
        before = came_about(wiring, chooser)
        qtbot.mouseClick(button, Qt.MouseButton.LeftButton)
        QApplication.processEvents()
        assert came_about(wiring, chooser) != before
        wiring.window.go_to(name)


def test_sums_and_mixes_say_what_must_still_be_typed(qtbot: QtBot, wiring: Wiring) -> None:
    wiring.window.go_to("mixing")
    assert "the area" in wiring.mixing.card.accessibleName()
    wiring.window.go_to("sums", ("dew-point", {"air": ""}))
    assert wiring.sums.card.accessibleName().startswith("Still to type: ")
