"""A product's page: cautions at its head, what its sheets say, notes, own rules, issues and what they changed."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from answer_kit import SHEETS, filed, name_it
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QLabel, QPushButton
from pytestqt.qtbot import QtBot
from window_kit import KEEPER, PreparedReader, window

from app.product_page.about import About
from app.product_page.own_rules import rule_words
from app.wiring import Wiring
from extract.claims import SheetReading, Topic
from store.records import ClaimRecord, Note, OwnRule


@pytest.fixture
def wiring(qtbot: QtBot, tmp_path: Path) -> Iterator[Wiring]:
    with filed(tmp_path, but=("etch.pdf",)) as made:
        made.window.go_to("products")
        show(qtbot, made, "Kestrel Bond 40")
        yield made


def show(qtbot: QtBot, wiring: Wiring, name: str) -> About:
    product = next(p for p in wiring.book.products if p.name == name)
    wiring.window.go_to("products", product.id)
    qtbot.waitUntil(lambda: wiring.products.shown is not None and wiring.products.shown.product.id == product.id)
    shown = wiring.products.shown
    assert shown is not None
    return shown


def kept_notes(wiring: Wiring) -> tuple[Note, ...]:
    found: list[tuple[Note, ...]] = []
    product_id = wiring.products.shown.product.id  # type: ignore[union-attr]
    wiring.desk.read(lambda library: library.notes(product_id), found.append)
    return found[0]


def kept_rules(wiring: Wiring) -> tuple[OwnRule, ...]:
    found: list[tuple[OwnRule, ...]] = []
    wiring.desk.read(lambda library: library.own_rules(), found.append)
    return found[0]


def button(wiring: Wiring, words: str) -> QPushButton:
    QApplication.processEvents()  # What was just put into a layout shows with the next event.
    return next(b for b in wiring.products.findChildren(QPushButton) if b.text() == words and b.isVisible())


def test_cautions_stand_at_the_head_and_open_their_sentence(qtbot: QtBot, wiring: Wiring) -> None:
    band = wiring.products.page.cautions
    assert band.isVisible()
    assert band.words == ("Contains isocyanates",)
    band._on_link_activated("0")
    assert "page 2" in wiring.window.evidence._source.text()
    show(qtbot, wiring, "Morrow Etch")
    assert not band.isVisible()


def test_claims_stand_by_topic_each_with_its_sentence(qtbot: QtBot, wiring: Wiring) -> None:
    page = wiring.products.page
    records = [entry.payload for entry in page.claims.entries]
    assert all(isinstance(record, ClaimRecord) for record in records)
    topics = [record.claim.topic for record in records if isinstance(record, ClaimRecord)]
    assert topics == sorted(topics, key=list(Topic).index)
    assert len(topics) == len(KEEPER.claims)
    page.claims.choose(0)
    page.claims.setFocus()
    qtbot.keyClick(page.claims, Qt.Key.Key_Return)
    assert wiring.window.evidence.isVisible()
    show(qtbot, wiring, "Larkrise Etch 7")
    assert {entry.shape for entry in page.claims.entries} == {"proposed"}
    assert all("not yet confirmed" in entry.beside for entry in page.claims.entries)


def test_notes_are_kept_changed_removed_and_put_back(qtbot: QtBot, wiring: Wiring) -> None:
    page = wiring.products.page
    page.show_part(1)
    qtbot.keyClicks(page.notes.editor, "Second tin was thin.")
    qtbot.keyClick(page.notes.editor, Qt.Key.Key_Return, Qt.KeyboardModifier.ControlModifier)
    assert [note.text for note in kept_notes(wiring)] == ["Second tin was thin."]
    assert page.notes.editor.toPlainText() == ""
    qtbot.waitUntil(lambda: len(page.notes.notes) == 1)

    qtbot.mouseClick(button(wiring, "Change"), Qt.MouseButton.LeftButton)
    qtbot.keyClicks(page.notes.editor, "Maker says: ")
    qtbot.mouseClick(page.notes.keep_button, Qt.MouseButton.LeftButton)
    qtbot.waitUntil(lambda: [n.text for n in page.notes.notes] == ["Maker says: Second tin was thin."])

    qtbot.mouseClick(button(wiring, "Remove"), Qt.MouseButton.LeftButton)
    assert kept_notes(wiring) == ()
    qtbot.mouseClick(page.notes.gone.button, Qt.MouseButton.LeftButton)
    assert [note.text for note in kept_notes(wiring)] == ["Maker says: Second tin was thin."]


def test_what_is_being_written_outlives_a_change_of_the_library(qtbot: QtBot, wiring: Wiring) -> None:
    page = wiring.products.page
    page.show_part(1)
    qtbot.keyClicks(page.notes.editor, "half a")
    show(qtbot, wiring, "Kestrel Bond 40")
    assert page.notes.editor.toPlainText() == "half a"
    show(qtbot, wiring, "Brockle Fill")
    assert page.notes.editor.toPlainText() == ""
    show(qtbot, wiring, "Kestrel Bond 40")
    assert page.notes.editor.toPlainText() == "half a"


def test_an_own_rule_is_kept_marked_and_removed(qtbot: QtBot, wiring: Wiring) -> None:
    page = wiring.products.page
    page.show_part(1)
    rules = page.own_rules
    assert rules.on_top.text == "Kestrel Bond 40"
    name_it(qtbot, rules.beneath, "bare steel")
    qtbot.keyClicks(rules.words, "it lifted twice")
    qtbot.keyClick(rules.words, Qt.Key.Key_Return)
    (kept,) = kept_rules(wiring)
    assert (kept.lower, kept.upper, kept.forbids) == ("surface.steel", "Kestrel Bond 40", True)
    assert (kept.words, kept.source) == ("it lifted twice", "own experience")
    qtbot.waitUntil(lambda: rules.rules == (kept,))
    QApplication.processEvents()
    words = [label.text() for label in rules.findChildren(QLabel) if label.isVisible()]
    assert "your own rule" in words
    assert rule_words(kept) in words
    assert rule_words(kept) == (
        "Kestrel Bond 40 over bare steel: never: it lifted twice (your own rule, own experience)"
    )

    qtbot.mouseClick(button(wiring, "Remove"), Qt.MouseButton.LeftButton)
    assert kept_rules(wiring) == ()
    qtbot.mouseClick(rules.gone.button, Qt.MouseButton.LeftButton)
    (back,) = kept_rules(wiring)
    assert (back.words, back.forbids) == ("it lifted twice", True)


def test_an_own_rule_wants_both_sides_and_a_condition(qtbot: QtBot, wiring: Wiring) -> None:
    page = wiring.products.page
    page.show_part(1)
    rules = page.own_rules
    qtbot.mouseClick(rules.keep_button, Qt.MouseButton.LeftButton)
    assert "what lies beneath" in rules.trouble.text()
    name_it(qtbot, rules.beneath, "bare steel")
    rules.says.setCurrentIndex(1)
    qtbot.mouseClick(rules.keep_button, Qt.MouseButton.LeftButton)
    assert rules.trouble.text() == "Say on what condition."
    assert kept_rules(wiring) == ()


def test_a_rule_on_a_kind_stands_on_the_pages_it_speaks_of(qtbot: QtBot, wiring: Wiring) -> None:
    from app.jobs import LibraryChange  # noqa: PLC0415

    wiring.desk.write(
        lambda library: library.add_own_rule(
            "etch primer", "body filler", forbids=True, words="never again", source="common practice"
        ),
        LibraryChange(everything=True),
    )
    assert len(show(qtbot, wiring, "Brockle Fill").own_rules) == 1
    assert len(show(qtbot, wiring, "Larkrise Etch 7").own_rules) == 1
    assert show(qtbot, wiring, "Kestrel Bond 40").own_rules == ()


def test_a_newer_issue_says_what_changed(qtbot: QtBot, tmp_path: Path) -> None:
    newer = replace(
        KEEPER,
        header=replace(KEEPER.header, issued="2025-03-01"),
        claims=tuple(
            replace(
                one, high=7200.0, evidence=replace(one.evidence, quote="Recoat within 5 days at 20 °C.")
            )
            if one.topic is Topic.OVERCOAT_WINDOW
            else one
            for one in KEEPER.claims
        ),
    )  # fmt: skip
    sheets: dict[str, SheetReading] = {**SHEETS, "newer.pdf": newer}
    for name in sheets:
        (tmp_path / name).write_bytes(name.encode())
    with window(tmp_path, PreparedReader(sheets)) as wiring:
        wiring.filing.add([tmp_path / "keeper.pdf"])
        wiring.filing.add([tmp_path / "newer.pdf"])
        shown = show(qtbot, wiring, "Kestrel Bond 40")
        assert [issue.sheet.issued for issue in shown.issues] == ["2025-03-01", "2024-03-01"]
        (change,) = shown.issues[0].changes
        assert "3 days -> 5 days" in change.words
        assert shown.issues[1].changes == ()
        wiring.products.page.show_part(2)

        def words_shown() -> str:
            labels = wiring.products.page.findChildren(QLabel)
            return " ".join(label.text() for label in labels if label.isVisible())

        qtbot.waitUntil(lambda: "Changed since the issue before:" in words_shown())
        words = words_shown()
        assert "replaced by a newer issue" in words
        assert "Issue of 1 March 2025" in words


def test_the_list_is_narrowed_and_stepped_by_keys(qtbot: QtBot, wiring: Wiring) -> None:
    place = wiring.products
    qtbot.keyClicks(place.filter, "etch pri")
    assert [entry.words for entry in place.list.entries] == ["Larkrise Etch 7", "Morrow Etch"]
    place.list.setFocus()
    qtbot.keyClick(place.list, Qt.Key.Key_Down)
    qtbot.waitUntil(lambda: place.shown is not None and place.shown.product.name in {"Larkrise Etch 7", "Morrow Etch"})
    first = place.shown
    qtbot.keyClick(place.list, Qt.Key.Key_Down)
    qtbot.waitUntil(lambda: place.shown is not first or place.list.currentIndex().row() == 1)


def test_from_the_page_one_goes_on_asking_comparing_confirming(qtbot: QtBot, wiring: Wiring) -> None:
    qtbot.mouseClick(button(wiring, "Ask about it"), Qt.MouseButton.LeftButton)
    assert wiring.window.place is wiring.asking
    assert wiring.asking.on_top.text == "Kestrel Bond 40"
    wiring.window.go_to("products")
    qtbot.mouseClick(button(wiring, "Compare it"), Qt.MouseButton.LeftButton)
    assert wiring.window.place is wiring.comparing
    assert [product.name for product in wiring.comparing.bar.products] == ["Kestrel Bond 40"]
    show(qtbot, wiring, "Larkrise Etch 7")
    qtbot.mouseClick(button(wiring, "Confirm (3 wait)"), Qt.MouseButton.LeftButton)
    assert wiring.window.place is wiring.confirming
    assert wiring.confirming.sheet is not None
    assert wiring.confirming.sheet.product.name == "Larkrise Etch 7"


def test_ten_thousand_products_are_listed_by_the_first_and_narrowed(qtbot: QtBot, wiring: Wiring) -> None:
    from store.records import ProductRecord  # noqa: PLC0415

    many = tuple(ProductRecord(number, f"Product {number:05}", "Maker", "primer.etch") for number in range(10_000))
    wiring.book._on_products_read(many)
    place = wiring.products
    assert len(place.list.entries) == 200
    assert "9800 more" in place._more.text()
    place.filter.setText("09999")
    assert [entry.words for entry in place.list.entries] == ["Product 09999"]
