"""A form with something typed in it is not lost by a slip: not by Esc, not by a click beside it."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from answer_kit import filed
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLabel, QWidget
from pytestqt.qtbot import QtBot

from app.jobs import LibraryChange
from app.panels.panel_list import DUE
from app.wiring import Wiring
from store.job_records import Panel, Tin


@pytest.fixture
def wiring(qtbot: QtBot, tmp_path: Path) -> Iterator[Wiring]:
    with filed(tmp_path) as made:

        def stock(library: object) -> None:
            for name in ("left door", "bonnet"):
                library.add_panel(Panel(name, surface="surface.steel"))  # type: ignore[attr-defined]
            library.add_tin(Tin(made.book.products[0].id, 500))  # type: ignore[attr-defined]

        made.desk.write(stock, LibraryChange(job=True))
        made.window.go_to("panels")
        yield made


def said(form: QWidget) -> str:
    return " ".join(label.text() for label in form.findChildren(QLabel) if label.isVisible())


def open_coat(wiring: Wiring) -> None:
    seen = wiring.panels.seen
    assert seen is not None
    wiring.panels.show_panel(seen.held.panels[0].id)
    wiring.panels.log_coat()


def test_a_click_on_another_panel_does_not_lose_a_coat_half_typed(qtbot: QtBot, wiring: Wiring) -> None:
    place = wiring.panels
    open_coat(wiring)
    qtbot.keyClicks(place.coat_form.note, "thin at the edge")
    for payload in (place.seen.held.panels[1].id, DUE):  # type: ignore[union-attr]
        entry = next(entry for entry in place.list.entries if entry.payload == payload)
        place.list.entry_opened.emit(entry)
        assert place.pages.currentWidget() is place.coat_form
        assert "not kept yet" in said(place.coat_form)
    place.new_button.click()
    qtbot.keyClick(place.coat_form.note, Qt.Key.Key_L, Qt.KeyboardModifier.ControlModifier)
    wiring.window.go_to("sheets")
    wiring.window.go_to("panels", DUE)
    assert place.pages.currentWidget() is place.coat_form
    assert place.coat_form.note.toPlainText() == "thin at the edge"


def test_a_form_with_nothing_typed_lets_go(qtbot: QtBot, wiring: Wiring) -> None:
    open_coat(wiring)
    place = wiring.panels
    place.list.entry_opened.emit(place.list.entries[0])
    assert place.pages.currentWidget() is place.due_list
    open_coat(wiring)
    qtbot.keyClick(place.coat_form.note, Qt.Key.Key_Escape)
    assert place.pages.currentWidget() is place.page


def test_esc_loses_typed_words_only_when_it_has_said_so(qtbot: QtBot, wiring: Wiring) -> None:
    open_coat(wiring)
    place = wiring.panels
    note = place.coat_form.note
    qtbot.keyClicks(note, "thin")
    qtbot.keyClick(note, Qt.Key.Key_Escape)
    assert place.pages.currentWidget() is place.coat_form
    assert "Esc once more" in said(place.coat_form)
    qtbot.keyClicks(note, " at the edge")
    qtbot.keyClick(note, Qt.Key.Key_Escape)
    assert place.pages.currentWidget() is place.coat_form
    qtbot.keyClick(note, Qt.Key.Key_Escape)
    assert place.pages.currentWidget() is place.page


def test_photos_and_a_plan_count_as_typed(qtbot: QtBot, wiring: Wiring, tmp_path: Path) -> None:
    open_coat(wiring)
    place = wiring.panels
    assert not place.coat_form.half_typed.touched
    place.coat_form.add_photos([tmp_path / "edge.png"])
    assert place.coat_form.half_typed.touched
    place.coat_form.leave_button.click()
    place.add_panel()
    assert not place.form.half_typed.touched
    place.form.plan.field.meaning_changed.emit(wiring.book.products[0])
    assert place.form.half_typed.touched


def test_a_tin_half_typed_is_not_lost_behind_another(qtbot: QtBot, wiring: Wiring) -> None:
    wiring.window.go_to("shelf")
    place = wiring.tins
    place.change()
    qtbot.keyClicks(place.form.batch, "7A")
    place.new_button.click()
    assert (place.form.batch.text(), place.form.record is not None) == ("7A", True)
    assert "not kept yet" in said(place.form)
    qtbot.keyClick(place.form.batch, Qt.Key.Key_Escape)
    assert not place.form.isVisible()
