"""Finding in the real window: as one types, in groups, opening at the place; late answers are dropped."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from answer_kit import filed
from PySide6.QtCore import Qt
from pytestqt.modeltest import ModelTester
from pytestqt.qtbot import QtBot
from window_kit import PreparedReader, inline, window

from app.jobs import InlineRunner, LibraryChange
from app.wiring import Runners, Wiring
from store.records import Hit, HitKind


@pytest.fixture
def wiring(qtbot: QtBot, tmp_path: Path) -> Iterator[Wiring]:
    with filed(tmp_path) as made:
        yield made


def look_for(qtbot: QtBot, wiring: Wiring, words: str) -> list[Hit]:
    wiring.window.go_to("find")
    wiring.finding.line.selectAll()
    qtbot.keyClicks(wiring.finding.line, words)
    return [entry.payload for entry in wiring.finding.hits.entries if isinstance(entry.payload, Hit)]


def test_ctrl_f_goes_to_the_box_from_anywhere(qtbot: QtBot, wiring: Wiring) -> None:
    wiring.window.go_to("ask")
    (find,) = [a for m in wiring.window.menuBar().actions() for a in m.menu().actions() if a.text() == "Find …"]  # type: ignore[union-attr]
    assert find.shortcut().toString() == "Ctrl+F"
    find.trigger()
    assert wiring.window.place is wiring.finding
    wiring.finding.hits.setFocus()
    find.trigger()
    assert wiring.window.focusWidget() is wiring.finding.line


def test_hits_are_the_librarys_in_groups(qtbot: QtBot, wiring: Wiring, qtmodeltester: ModelTester) -> None:
    found = look_for(qtbot, wiring, "etch")
    asked: list[Any] = []
    wiring.desk.read(lambda library: library.search("etch", 60), asked.append)
    assert set(found) == set(asked[0])
    assert {HitKind.PRODUCT, HitKind.CLAIM, HitKind.PAGE} <= {hit.kind for hit in found}
    model = wiring.finding.hits.model_
    rows = [model.index(row).data() for row in range(model.rowCount())]
    assert rows.index("Products") < rows.index("What sheets say") < rows.index("In the sheets' own words")
    qtmodeltester.check(model)


def test_a_sentence_opens_lit_on_its_page_by_keys_alone(qtbot: QtBot, wiring: Wiring) -> None:
    look_for(qtbot, wiring, "waterproof weeks")
    qtbot.keyClick(wiring.finding.line, Qt.Key.Key_Down)
    qtbot.keyClick(wiring.finding.hits, Qt.Key.Key_Return)
    panel = wiring.window.evidence
    assert panel.isVisible()
    assert "page 2 of 2" in panel._source.text()
    assert panel.pane.lit


def test_enter_in_the_box_opens_the_first_hit(qtbot: QtBot, wiring: Wiring) -> None:
    look_for(qtbot, wiring, "brockle")
    qtbot.keyClick(wiring.finding.line, Qt.Key.Key_Return)
    assert wiring.window.place is wiring.products
    qtbot.waitUntil(lambda: wiring.products.shown is not None and wiring.products.shown.product.name == "Brockle Fill")


def test_a_maker_leads_to_its_products(qtbot: QtBot, wiring: Wiring) -> None:
    found = look_for(qtbot, wiring, "ashgrove")
    at = next(number for number, hit in enumerate(found) if hit.kind is HitKind.MAKER)
    wiring.finding.hits.choose(at)
    wiring.finding.hits.open_current()
    assert wiring.window.place is wiring.products
    assert [entry.words for entry in wiring.products.list.entries] == ["Morrow Etch"]


def test_a_note_is_found_and_opens_its_product(qtbot: QtBot, wiring: Wiring) -> None:
    product = wiring.book.products[0]
    wiring.desk.write(
        lambda library: library.write_note(product.id, "sprays best at two bar"),
        LibraryChange(products=frozenset({product.id})),
    )
    (hit,) = look_for(qtbot, wiring, "two bar")
    assert hit.kind is HitKind.NOTE
    qtbot.keyClick(wiring.finding.line, Qt.Key.Key_Return)
    qtbot.waitUntil(lambda: wiring.products.shown is not None and wiring.products.shown.product.id == product.id)


def test_nothing_found_says_so_and_an_empty_box_says_what_can_be_found(qtbot: QtBot, wiring: Wiring) -> None:
    assert look_for(qtbot, wiring, "xylophone") == []
    assert wiring.finding.empty.isVisible()
    assert "holds “xylophone”" in wiring.finding.empty.words
    wiring.finding.line.clear()
    assert "Type a word" in wiring.finding.empty.words


class WaitingRunner(InlineRunner):
    """Once told to hold, keeps the work back until it is let go."""

    def __init__(self) -> None:
        self.holds = False
        self.held: list[Callable[[], None]] = []

    def run(
        self, work: Callable[[], Any], done: Callable[[Any], None], failed: Callable[[BaseException], None]
    ) -> None:
        if self.holds:
            self.held.append(lambda: InlineRunner.run(self, work, done, failed))
        else:
            super().run(work, done, failed)


def test_of_several_searches_only_the_last_one_is_shown(qtbot: QtBot, tmp_path: Path) -> None:
    with filed(tmp_path):
        pass
    runner = WaitingRunner()
    runners = Runners(runner, inline().reading, inline().drawing)
    with window(tmp_path, PreparedReader({}), runners=runners) as wiring:
        wiring.window.go_to("find")
        runner.holds = True
        qtbot.keyClicks(wiring.finding.line, "larkrise")
        # However fast one types, one search is under way.
        assert len(runner.held) == 1
        runner.held.pop()()
        assert wiring.finding.hits.entries == ()
        assert len(runner.held) == 1
        runner.held.pop()()
        assert not runner.held
        assert wiring.finding.hits.entries[0].words == "Larkrise Etch 7"
        runner.holds = False


def test_the_words_stand_there_when_the_window_comes_back(qtbot: QtBot, tmp_path: Path) -> None:
    with filed(tmp_path) as wiring:
        look_for(qtbot, wiring, "larkrise")
    with window(tmp_path, PreparedReader({})) as wiring:
        wiring.window.go_to("find")
        assert wiring.finding.line.text() == "larkrise"
        assert wiring.finding.hits.entries[0].words == "Larkrise Etch 7"
