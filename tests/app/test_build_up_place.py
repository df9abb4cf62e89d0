"""The place of the build-up, driven as by a hand; what it shows is what the check and the finder say of the library."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from answer_kit import filed, name_it
from PySide6.QtCore import QMimeData, QPointF, Qt
from PySide6.QtGui import QDropEvent
from PySide6.QtWidgets import QLabel
from pytestqt.qtbot import QtBot

from app.build_up.check_page import findings_of
from app.build_up.search import SearchLeft
from app.build_up.typed_wait import read_wait
from app.build_up.view import BuildUpPlace
from app.jobs import LibraryChange
from app.sentence_links import SentenceLinks
from app.typed_figures import NotAFigure
from app.verdict_words import party_words
from app.wiring import Wiring
from store.build_ups import decoded, encoded
from store.job_records import Tin
from store.planning.buildup_check import check
from store.planning.buildup_sheets import Sheets
from store.planning.finder import Wanted, find
from store.rules.reach import KindParty


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


def checked_by_the_library(wiring: Wiring) -> str:
    found: list[str] = []

    def work(library: object) -> str:
        products = library.products()  # type: ignore[attr-defined]
        sheets = Sheets(library.rules(), library.proposals(), (), products)  # type: ignore[attr-defined]
        return check(wiring.build_up.build_up, sheets).word

    wiring.desk.read(work, found.append)
    return found[0]


def test_layers_are_named_from_the_metal_up_and_judged_live(qtbot: QtBot, wiring: Wiring) -> None:
    place = wiring.build_up
    lay(qtbot, place, "bare steel", "Kestrel Bond 40")
    assert names(place) == ["bare steel", "Kestrel Bond 40"]
    assert place.view.page is not None
    assert place.view.page.shape == checked_by_the_library(wiring) == "yes"
    lay(qtbot, place, "Brockle Fill")
    assert len(place.view.page.contacts) == 2
    assert place.view.page.shape == checked_by_the_library(wiring)


def test_the_verdict_of_the_whole_is_the_worst_part_with_its_reason_and_sentence(qtbot: QtBot, wiring: Wiring) -> None:
    place = wiring.build_up
    lay(qtbot, place, "bare steel", "Larkrise Etch 7", "Brockle Fill")
    page = place.view.page
    assert page is not None
    assert page.shape == "no"
    assert "must not go straight onto" in page.reason
    assert "Do not coat with polyester filler." in [sentence.quote for sentence in page.reason_sentences]
    assert any("acid" in words for words in page.cautions.words)
    assert "replaces neither the sheets" in page.cautions.words[-1]


def test_a_sentence_opens_its_page(qtbot: QtBot, wiring: Wiring) -> None:
    place = wiring.build_up
    lay(qtbot, place, "bare steel", "Larkrise Etch 7", "Brockle Fill")
    links = place.view.findChildren(SentenceLinks)
    with qtbot.waitSignal(place.evidence_opened) as opened:
        links[0].linkActivated.emit("0")
    assert opened.args[1] == links[0].sentences[0].page


def test_layers_are_ordered_by_keys_by_drag_and_taken_out(qtbot: QtBot, wiring: Wiring) -> None:
    place = wiring.build_up
    lay(qtbot, place, "bare steel", "Kestrel Bond 40", "Brockle Fill")
    ordered = place.editor.list
    ordered.setCurrentRow(0)
    qtbot.keyClick(ordered, Qt.Key.Key_Down, Qt.KeyboardModifier.AltModifier)
    assert names(place) == ["bare steel", "Brockle Fill", "Kestrel Bond 40"]
    assert ordered.currentRow() == 1
    first = ordered.visualItemRect(ordered.item(0))
    drop = QDropEvent(
        QPointF(first.center().x(), first.top() + 1), Qt.DropAction.MoveAction, QMimeData(),
        Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier,
    )  # fmt: skip
    ordered.dropEvent(drop)
    assert names(place) == ["bare steel", "Kestrel Bond 40", "Brockle Fill"]
    assert ordered.count() == 3
    qtbot.keyClick(ordered, Qt.Key.Key_Delete)
    assert names(place) == ["bare steel", "Kestrel Bond 40"]


def test_what_is_said_of_a_layer_changes_the_verdict(qtbot: QtBot, wiring: Wiring) -> None:
    place = wiring.build_up
    place.temperature.set_value(20)
    lay(qtbot, place, "bare steel", "Kestrel Bond 40", "Brockle Fill")
    place.editor.choose(2)
    details = place.editor.details
    details.after.setFocus()
    qtbot.keyClicks(details.after, "5 days")
    qtbot.keyClick(details.after, Qt.Key.Key_Return)
    assert place.editor.layers[2].after_min == 7200
    assert place.view.page is not None
    assert "too late" in place.view.page.reason
    assert place.view.page.shape == checked_by_the_library(wiring) == "no"
    details.after.selectAll()
    qtbot.keyClicks(details.after, "soon")
    qtbot.keyClick(details.after, Qt.Key.Key_Return)
    assert place.editor.layers[2].after_min == 7200
    assert any("soon" in label.text() for label in details.findChildren(QLabel) if not label.isHidden())


def test_an_answer_that_comes_late_is_dropped(qtbot: QtBot, wiring: Wiring, monkeypatch: pytest.MonkeyPatch) -> None:
    place = wiring.build_up
    lay(qtbot, place, "bare steel", "Larkrise Etch 7")
    late: list[tuple[object, object]] = []
    read = wiring.desk.read

    def hold(work: object, done: object, failed: object = None) -> None:
        late.append((work, done))

    monkeypatch.setattr(wiring.desk, "read", hold)
    place._work()
    monkeypatch.setattr(wiring.desk, "read", read)
    lay(qtbot, place, "Brockle Fill")
    read(*late[0])  # type: ignore[arg-type]
    assert place.view.page is not None
    assert len(place.view.page.contacts) == 2


def test_it_is_kept_forgotten_taken_back_and_survives_the_window(qtbot: QtBot, wiring: Wiring) -> None:
    place = wiring.build_up
    lay(qtbot, place, "bare steel", "Kestrel Bond 40")
    bar = place.kept_bar
    qtbot.keyClicks(bar.name, "Left door")
    qtbot.keyClick(bar.name, Qt.Key.Key_Return)
    assert [one.name for one in bar.kept] == ["Left door"]
    place.editor.set_layers(())
    bar.choice.setCurrentIndex(1)
    bar.choice.activated.emit(1)
    assert names(place) == ["bare steel", "Kestrel Bond 40"]
    bar.forget.click()
    assert bar.kept == ()
    bar.back.click()
    assert [one.name for one in bar.kept] == ["Left door"]
    again, lost = decoded(encoded(place.build_up), wiring.book.products)
    assert (again, lost) == (place.build_up, ())


def test_it_becomes_the_plan_of_a_new_panel(qtbot: QtBot, wiring: Wiring) -> None:
    place = wiring.build_up
    lay(qtbot, place, "bare steel", "Kestrel Bond 40", "Brockle Fill")
    place.kept_bar.panels.activated.emit(place.kept_bar.panels.count() - 1)
    found: list[object] = []
    wiring.desk.read(lambda library: library.panels(), found.extend)
    panel = found[0].panel  # type: ignore[attr-defined]
    assert panel.surface == "surface.steel"
    assert [layer.product_id for layer in panel.plan] == [
        next(p.id for p in wiring.book.products if p.name == name) for name in ("Kestrel Bond 40", "Brockle Fill")
    ]


def test_found_build_ups_are_those_of_the_finder_and_open_in_the_check(qtbot: QtBot, wiring: Wiring) -> None:
    place = wiring.build_up
    place.show_page(1)
    page = place.find_page
    name_it(qtbot, page.surface, "bare steel")
    name_it(qtbot, page.finish, "Brockle Fill")
    page.go.click()
    products = wiring.book.products
    finish = page.finish.meaning
    expected: list[object] = []

    def work(library: object) -> object:
        from store.rules.reach import party_of  # noqa: PLC0415

        wanted = Wanted(KindParty("surface.steel"), party_of(finish), (), page.temperature.value)  # type: ignore[arg-type]
        return find(wanted, products, Sheets(library.rules(), library.proposals(), (), products))  # type: ignore[attr-defined]

    wiring.desk.read(work, expected.append)
    shelf, apart = page.view.parts
    assert (shelf.shelf, shelf.result, apart.shelf) == (True, None, False)
    assert apart.result is not None
    assert apart.result.allowed == expected[0].allowed  # type: ignore[attr-defined]
    assert page.view.openers
    page.view.openers[0].click()
    assert names(place)[0] == "bare steel"
    assert names(place)[-1] == "Brockle Fill"
    assert place.view.page is not None


def test_an_empty_shelf_is_said_with_the_way_to_it(qtbot: QtBot, wiring: Wiring) -> None:
    place = wiring.build_up
    place.show_page(1)
    page = place.find_page
    name_it(qtbot, page.surface, "bare steel")
    name_it(qtbot, page.finish, "Brockle Fill")
    page.source.setCurrentIndex(page.source.findData("shelf"))
    page.go.click()
    assert page.stack.currentWidget() is page.empty
    assert "shelf" in page.empty.words
    with qtbot.waitSignal(place.place_wanted) as wanted:
        page.empty.button.click()
    assert wanted.args[0] in {other.name for other in wiring.window.places}


def test_the_shelf_comes_first_and_what_all_sheets_allow_stands_apart(qtbot: QtBot, wiring: Wiring) -> None:
    place = wiring.build_up
    ids = {product.name: product.id for product in wiring.book.products}

    def stock(library: object) -> None:
        library.add_tin(Tin(ids["Kestrel Bond 40"], 500))  # type: ignore[attr-defined]

    wiring.desk.write(stock, LibraryChange(job=True))
    place.show_page(1)
    page = place.find_page
    name_it(qtbot, page.surface, "bare steel")
    name_it(qtbot, page.finish, "primer")
    assert page.source.currentData() == "both"
    page.go.click()
    shelf, apart = page.view.parts
    assert shelf.result is not None and apart.result is not None
    on_shelf = [found.checked.build_up for found in shelf.result.allowed]
    anywhere = [found.checked.build_up for found in apart.result.allowed]
    assert on_shelf and set(on_shelf) < set(anywhere)
    texts = [label.text() for label in page.view.findChildren(QLabel)]
    assert texts.index("Out of what is on the shelf") < texts.index("Apart from that: out of all filed sheets")
    # Each stands there once.
    assert len(page.view.openers) == len(set(anywhere))


def test_what_says_the_same_is_said_once(qtbot: QtBot, wiring: Wiring) -> None:
    place = wiring.build_up
    lay(qtbot, place, "bare steel", "Kestrel Bond 40", "Brockle Fill")
    for layer in (1, 2):
        place.editor.choose(layer)
        qtbot.keyClicks(place.editor.details.weeks, "30")
        qtbot.keyClick(place.editor.details.weeks, Qt.Key.Key_Return)
    assert place.worked is not None
    checked = place.worked.checked
    once = [mark.words for mark in findings_of(checked)]
    assert len(checked.findings) > 1
    doubled = replace(checked, findings=(*checked.findings, *checked.findings))
    assert [mark.words for mark in findings_of(doubled)] == once
    assert place.view.page is not None
    assert place.view.page.reason not in once


def test_a_search_that_is_left_ends_and_says_so(qtbot: QtBot, wiring: Wiring) -> None:
    place = wiring.build_up
    place.show_page(1)
    page = place.find_page
    name_it(qtbot, page.surface, "bare steel")
    name_it(qtbot, page.finish, "Brockle Fill")
    waiting: list[object] = []

    class Held:
        """A runner that does nothing until it is told to."""

        def run(self, work: object, done: object, failed: object) -> None:
            waiting.extend((work, done, failed))

        def close(self, last: object = None) -> None:
            """Nothing waits."""

    place.search._runner = Held()  # type: ignore[assignment]
    page.go.click()
    assert page.stack.currentWidget() is page.waiting
    page.cancel.click()
    assert page.stack.currentWidget() is page.empty
    with pytest.raises(SearchLeft) as left:
        waiting[0]()  # type: ignore[operator]
    waiting[2](left.value)  # type: ignore[operator]
    assert page.stack.currentWidget() is page.empty


@pytest.mark.parametrize(
    ("typed", "minutes"),
    [("", None), ("90 min", 90), ("1 h 30", 90), ("24h", 1440), ("1,5 h", 90), ("1 week 2 days", 12960)],
)
def test_waits_as_they_are_typed(typed: str, minutes: float | None) -> None:
    assert read_wait(typed) == minutes


@pytest.mark.parametrize("typed", ["24", "soon", "3 moons", "h"])
def test_what_is_no_wait_is_refused(typed: str) -> None:
    with pytest.raises(NotAFigure):
        read_wait(typed)
