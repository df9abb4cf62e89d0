"""Nothing laid by hand in the build-up is lost: not by a slip, not by opening another over it, not by closing."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from answer_kit import filed, name_it
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QLabel
from pytestqt.qtbot import QtBot
from window_kit import PreparedReader, window

from app.build_up.steps import Steps, change_words
from app.build_up.view import BuildUpPlace
from app.verdict_words import party_words
from app.wiring import Wiring
from store.planning.buildup import BuildUp, Layer
from store.rules.reach import KindParty

CTRL, SHIFT = Qt.KeyboardModifier.ControlModifier, Qt.KeyboardModifier.ShiftModifier
STEEL, EPOXY, FILLER, PAINT = (
    Layer(KindParty(kind)) for kind in ("surface.steel", "primer.epoxy.2k", "filler.polyester", "topcoat.solid.2k")
)


@pytest.fixture
def wiring(qtbot: QtBot, tmp_path: Path) -> Iterator[Wiring]:
    with filed(tmp_path) as made:
        made.window.go_to("build_up")
        yield made


def lay(qtbot: QtBot, place: BuildUpPlace, *names: str) -> None:
    for name in names:
        name_it(qtbot, place.editor.field, name)


def names(place: BuildUpPlace) -> list[str]:
    return [party_words(layer.party) for layer in place.editor.layers]


def said(place: BuildUpPlace) -> str:
    return " ".join(label.text() for label in place.kept_bar.findChildren(QLabel) if label.isVisible())


def test_another_build_up_opened_over_typed_layers_is_one_key_from_them(qtbot: QtBot, wiring: Wiring) -> None:
    place = wiring.build_up
    lay(qtbot, place, "bare steel", "Kestrel Bond 40", "Brockle Fill")
    place.temperature.set_value(20)
    wiring.window.go_to("build_up", BuildUp((STEEL, EPOXY), 12.0))
    assert names(place) == ["bare steel", "2K epoxy primer"]
    assert "is not lost" in said(place)
    assert place.undo.undo_button.text() == "Undo: another build-up opened"
    assert QApplication.focusWidget() is place.editor.field.line
    qtbot.keyClick(place.editor.field.line, Qt.Key.Key_Z, CTRL)
    assert names(place) == ["bare steel", "Kestrel Bond 40", "Brockle Fill"]
    assert place.temperature.value == 20
    assert place.view.page is not None and len(place.view.page.contacts) == 2
    qtbot.keyClick(place.editor.field.line, Qt.Key.Key_Z, CTRL | SHIFT)
    assert names(place) == ["bare steel", "2K epoxy primer"]
    assert place.temperature.value == 12


def test_the_keys_take_back_typing_before_layers(qtbot: QtBot, wiring: Wiring) -> None:
    place = wiring.build_up
    lay(qtbot, place, "bare steel", "Kestrel Bond 40")
    line = place.editor.field.line
    qtbot.keyClicks(line, "Broc")
    qtbot.keyClick(line, Qt.Key.Key_Z, CTRL)
    assert line.text() == ""
    assert names(place) == ["bare steel", "Kestrel Bond 40"]


def test_every_slip_of_a_hand_is_taken_back(qtbot: QtBot, wiring: Wiring) -> None:
    place = wiring.build_up
    undo = place.undo
    lay(qtbot, place, "bare steel", "Kestrel Bond 40", "Brockle Fill")
    assert undo.undo_button.text() == "Undo: Brockle Fill added"
    ordered = place.editor.list
    ordered.setCurrentRow(0)
    qtbot.keyClick(ordered, Qt.Key.Key_Down, Qt.KeyboardModifier.AltModifier)
    assert undo.undo_button.text() == "Undo: put in another order"
    qtbot.keyClick(ordered, Qt.Key.Key_Delete)
    assert undo.undo_button.text() == "Undo: Brockle Fill taken out"
    place.editor.choose(1)
    qtbot.keyClicks(place.editor.details.film, "60")
    qtbot.keyClick(place.editor.details.film, Qt.Key.Key_Return)
    assert undo.undo_button.text() == "Undo: Kestrel Bond 40 changed"
    for _ in range(3):
        undo.undo_button.click()
    assert names(place) == ["bare steel", "Kestrel Bond 40", "Brockle Fill"]
    assert place.editor.layers[1].film_um is None
    for _ in range(3):
        undo.undo_button.click()
    assert names(place) == []
    assert not undo.undo_button.isEnabled()
    for _ in range(6):
        undo.redo_button.click()
    assert names(place) == ["bare steel", "Kestrel Bond 40"]
    assert place.editor.layers[1].film_um == 60
    assert not undo.redo_button.isVisible()


def test_what_was_replaced_is_there_after_closing_too(qtbot: QtBot, tmp_path: Path) -> None:
    with filed(tmp_path) as wiring:
        wiring.window.go_to("build_up")
        lay(qtbot, wiring.build_up, "bare steel", "Kestrel Bond 40", "Brockle Fill")
        wiring.window.go_to("build_up", BuildUp((STEEL, EPOXY)))
    with window(tmp_path, PreparedReader({})) as wiring:
        place = wiring.build_up
        wiring.window.go_to("build_up")
        assert names(place) == ["bare steel", "2K epoxy primer"]
        place.undo.undo_button.click()
        assert names(place) == ["bare steel", "Kestrel Bond 40", "Brockle Fill"]


def test_opening_the_same_again_is_no_step(qtbot: QtBot, wiring: Wiring) -> None:
    place = wiring.build_up
    lay(qtbot, place, "bare steel", "Kestrel Bond 40")
    before = place.undo.undo_button.text()
    wiring.window.go_to("build_up", place.build_up)
    assert place.undo.undo_button.text() == before
    assert said(place) == ""


@pytest.mark.parametrize(
    ("before", "after", "words"),
    [
        ((STEEL,), (STEEL, EPOXY), "2K epoxy primer added"),
        ((STEEL, EPOXY), (STEEL, EPOXY, EPOXY), "2K epoxy primer added"),
        ((STEEL, EPOXY, EPOXY), (STEEL, EPOXY), "2K epoxy primer taken out"),
        ((STEEL, EPOXY, FILLER), (STEEL, FILLER, EPOXY), "put in another order"),
        ((STEEL, EPOXY), (STEEL, Layer(EPOXY.party, film_um=60.0)), "2K epoxy primer changed"),
        ((STEEL, EPOXY, FILLER), (STEEL, FILLER, PAINT), "another build-up opened"),
        ((STEEL, EPOXY, FILLER), (STEEL,), "another build-up opened"),
    ],
)
def test_each_step_says_what_it_was(before: tuple[Layer, ...], after: tuple[Layer, ...], words: str) -> None:
    assert change_words(before, after) == words


def test_steps_are_written_and_read() -> None:
    steps = Steps()
    steps.put(BuildUp((STEEL,)))
    steps.put(BuildUp((STEEL, EPOXY), 15.0))
    again = Steps()
    again.read(steps.written(), ())
    assert again.take_back(BuildUp(())) == BuildUp((STEEL, EPOXY), 15.0)
    assert again.take_back(BuildUp(())) == BuildUp((STEEL,))
    assert again.take_back(BuildUp(())) is None
    for broken in ("", "no json", "{}", "[3, null]"):
        again.read(broken, ())
        assert again.take_back(BuildUp((STEEL,))) is None


def test_something_new_ends_what_could_be_done_again() -> None:
    steps = Steps()
    steps.put(BuildUp(()))
    assert steps.take_back(BuildUp((STEEL,))) == BuildUp(())
    assert steps.words_on(BuildUp(())) == "bare steel added"
    steps.put(BuildUp(()))
    assert steps.do_again(BuildUp((EPOXY,))) is None
