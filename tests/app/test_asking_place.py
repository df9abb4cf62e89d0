"""Asking in the real window, held against what the reasoning says of the same library."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from answer_kit import confirm, filed, name_it
from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QPushButton
from pytestqt.qtbot import QtBot
from window_kit import KEEPER, PreparedReader, claim, reading, window

from app.jobs import LibraryChange
from app.verdict_words import advice_text, answer_words, conditions_words, silence_words, verdict_words
from app.window_words import window_words
from app.wiring import Wiring
from extract.claims import Stance, Topic
from store.rules.answers import Answer, Conditional
from store.rules.asking import ask
from store.rules.names import Unknown, resolve
from store.rules.reach import party_of


@pytest.fixture
def wiring(qtbot: QtBot, tmp_path: Path) -> Iterator[Wiring]:
    with filed(tmp_path) as made:
        made.window.go_to("ask")
        yield made


def ask_it(qtbot: QtBot, wiring: Wiring, upper: str, lower: str) -> None:
    name_it(qtbot, wiring.asking.on_top, upper)
    name_it(qtbot, wiring.asking.beneath, lower)


def reasoned(wiring: Wiring, lower: str, upper: str, at_c: float | None = None) -> Answer:
    """What the reasoning makes of it, without the window."""
    found: list[Answer] = []

    def work(library: object) -> Answer:
        products = library.products()  # type: ignore[attr-defined]
        meanings = [resolve(text, products) for text in (lower, upper)]
        assert not any(isinstance(meaning, Unknown) for meaning in meanings)
        below, above = (party_of(m) for m in meanings if not isinstance(m, Unknown))
        return ask(library, below, above, at_c=at_c)  # type: ignore[arg-type]

    wiring.desk.read(work, found.append)
    return found[0]


@pytest.mark.parametrize(
    ("upper", "lower", "word"),
    [
        ("Brockle Fill", "Kestrel Bond 40", "yes"),
        ("Brockle Fill", "Larkrise Etch 7", "no"),
        ("Brockle Fill", "Morrow Etch", "disputed"),
        ("Kestrel Bond 40", "galvanised steel", "silent"),
    ],
)
def test_the_answer_is_the_reasonings_with_every_sentence(
    qtbot: QtBot, wiring: Wiring, upper: str, lower: str, word: str
) -> None:
    ask_it(qtbot, wiring, upper, lower)
    answer = reasoned(wiring, lower, upper)
    page = wiring.asking.page
    assert answer.word == word
    assert page is not None
    assert (page.shape, page.word, page.sentence) == (word, verdict_words(word), answer_words(answer))
    assert [saying.sentence.quote for saying in page.says] == [c.claim.evidence.quote for c in answer.citations]
    assert page.unsaid == tuple(silence_words(s) for s in answer.silences)
    assert " ".join(page.advice) == advice_text(answer)
    shown = [card.sentence.claim_id for card in wiring.asking.answer_view.cards]
    assert {c.id for c in answer.citations} <= set(shown)


def test_disputed_shows_both_quotes(qtbot: QtBot, wiring: Wiring) -> None:
    ask_it(qtbot, wiring, "Brockle Fill", "Morrow Etch")
    page = wiring.asking.page
    assert page is not None
    assert {(s.does, s.sentence.product) for s in page.says} == {
        ("forbids it", "Brockle Fill"),
        ("allows it", "Morrow Etch"),
    }


def test_the_window_governs_at_the_temperature_asked_for(qtbot: QtBot, wiring: Wiring) -> None:
    ask_it(qtbot, wiring, "Brockle Fill", "Kestrel Bond 40")
    field = wiring.asking.temperature
    field.setFocus()
    qtbot.keyClicks(field, "20")
    qtbot.keyClick(field, Qt.Key.Key_Return)
    answer = reasoned(wiring, "Kestrel Bond 40", "Brockle Fill", 20.0)
    page = wiring.asking.page
    assert page is not None
    assert page.times is not None
    assert page.times.large == "1 h – 3 days"
    assert isinstance(answer, Conditional) or answer.word == "yes"
    assert page.times.words == window_words(answer.window)  # type: ignore[union-attr, arg-type]
    assert [s.quote for s in page.times.sentences] == ["Recoat after 1 hour and within 3 days at 20 °C."]
    assert page.conditions == conditions_words(answer)

    field.selectAll()
    qtbot.keyClicks(field, "5")
    qtbot.keyClick(field, Qt.Key.Key_Return)
    page = wiring.asking.page
    assert page is not None
    assert page.times is not None
    assert page.times.large == ""
    assert "for 20 °C only, not for 5 °C; the earliest is later than the 1 h stated for 20 °C" in page.times.words


def test_a_sentence_opens_its_page_lit(qtbot: QtBot, wiring: Wiring) -> None:
    ask_it(qtbot, wiring, "Brockle Fill", "Larkrise Etch 7")
    card = wiring.asking.answer_view.cards[0]
    qtbot.mouseClick(card.open_button, Qt.MouseButton.LeftButton)
    panel = wiring.window.evidence
    assert panel.isVisible()
    assert panel._title.text() == card.sentence.product
    assert len(panel.pane.lit) == len(card.sentence.boxes)
    qtbot.keyClick(panel.pane, Qt.Key.Key_Escape)
    qtbot.mouseClick(card, Qt.MouseButton.LeftButton)
    assert panel.isVisible()


def test_swap_turns_the_question_round(qtbot: QtBot, wiring: Wiring) -> None:
    ask_it(qtbot, wiring, "Brockle Fill", "Larkrise Etch 7")
    qtbot.keyClick(wiring.asking, Qt.Key.Key_T, Qt.KeyboardModifier.ControlModifier)
    assert (wiring.asking.on_top.text, wiring.asking.beneath.text) == ("Larkrise Etch 7", "Brockle Fill")
    page = wiring.asking.page
    assert page is not None
    assert page.question == "May Larkrise Etch 7 go straight onto Brockle Fill?"


def test_what_waits_is_shown_as_such_and_leads_to_confirming(qtbot: QtBot, tmp_path: Path) -> None:
    with filed(tmp_path, but=("etch.pdf", "filler.pdf")) as wiring:
        wiring.window.go_to("ask")
        ask_it(qtbot, wiring, "Brockle Fill", "Larkrise Etch 7")
        place = wiring.asking
        page = place.page
        assert page is not None
        assert page.shape == "unconfirmed"
        assert not page.says
        assert {s.quote for s in page.waiting} == {"Do not coat with polyester filler.", "Not over etch primers."}
        assert all(s.standing == "not yet confirmed" for s in page.waiting)
        (confirm_these,) = [
            button for button in place.answer_view.findChildren(QPushButton) if button.text() == "Confirm these"
        ]
        qtbot.mouseClick(confirm_these, Qt.MouseButton.LeftButton)
        assert wiring.window.place is wiring.confirming
        current = wiring.confirming.current
        assert current is not None
        assert current.id == page.waiting[0].claim_id

        # Confirmed meanwhile, the question that stands is answered anew.
        confirm(wiring)
        qtbot.waitUntil(lambda: place.page is not None and place.page.shape == "no")


def test_an_own_rule_tightens_and_is_marked_as_the_users(qtbot: QtBot, wiring: Wiring) -> None:
    wiring.desk.write(
        lambda library: library.add_own_rule(
            "Kestrel Bond 40", "Brockle Fill", forbids=True, words="it lifted twice", source="own experience"
        ),
        LibraryChange(everything=True),
    )
    ask_it(qtbot, wiring, "Brockle Fill", "Kestrel Bond 40")
    page = wiring.asking.page
    assert page is not None
    assert page.shape == "no"
    assert page.own == ("it lifted twice (your own rule, own experience)",)
    assert all("lifted" not in saying.sentence.quote for saying in page.says)
    assert "Your own rules:\n- it lifted twice (your own rule, own experience)" in page.text


def test_an_own_rule_of_one_maker_holds_where_two_share_a_name(qtbot: QtBot, wiring: Wiring) -> None:
    wiring.desk.write(
        lambda library: library.add_product("Brockle Fill", maker="Ashgrove Coatings", kind="filler.polyester"),
        LibraryChange(filed=True),
    )
    (ours,) = [p for p in wiring.book.products if (p.name, p.maker) == ("Brockle Fill", "Ferrow Works")]
    written = wiring.book.text_of(ours)
    wiring.desk.write(
        lambda library: library.add_own_rule(
            "Kestrel Bond 40", written, forbids=True, words="it lifted", source="own experience"
        ),
        LibraryChange(everything=True),
    )
    wiring.asking.come_with(("Kestrel Bond 40", written))
    page = wiring.asking.page
    assert page is not None
    assert (page.shape, page.own) == ("no", ("it lifted (your own rule, own experience)",))
    wiring.asking.come_with(("Kestrel Bond 40", "Ashgrove Coatings Brockle Fill"))
    page = wiring.asking.page
    assert page is not None
    assert page.own == ()


def test_the_answer_is_copied_whole(qtbot: QtBot, wiring: Wiring) -> None:
    ask_it(qtbot, wiring, "Brockle Fill", "Larkrise Etch 7")
    wiring.asking.answer_view.copy()
    copied = QGuiApplication.clipboard().text()
    assert copied.startswith("May Brockle Fill go straight onto Larkrise Etch 7?\nNo.")
    assert "“Not over etch primers.” Brockle Fill, p. 1 (forbids it)" in copied
    assert "“Do not coat with polyester filler.” Larkrise Etch 7, p. 1" in copied


def test_questions_are_kept_and_can_be_asked_again(qtbot: QtBot, wiring: Wiring) -> None:
    ask_it(qtbot, wiring, "Brockle Fill", "Larkrise Etch 7")
    ask_it(qtbot, wiring, "Brockle Fill", "Kestrel Bond 40")
    history = wiring.asking.history
    assert [entry.words for entry in history.entries][:2] == [
        "Brockle Fill over Kestrel Bond 40",
        "Brockle Fill over Larkrise Etch 7",
    ]
    history.setFocus()
    history.choose(1)
    qtbot.keyClick(history, Qt.Key.Key_Return)
    page = wiring.asking.page
    assert page is not None
    assert page.question == "May Brockle Fill go straight onto Larkrise Etch 7?"
    assert history.entries[0].words == "Brockle Fill over Larkrise Etch 7"


def test_the_last_question_stands_there_when_the_window_comes_back(qtbot: QtBot, tmp_path: Path) -> None:
    with filed(tmp_path) as wiring:
        wiring.window.go_to("ask")
        wiring.asking.temperature.set_value(18)
        ask_it(qtbot, wiring, "Brockle Fill", "Kestrel Bond 40")
        before = wiring.asking.page
    with window(tmp_path, PreparedReader({"keeper.pdf": KEEPER})) as wiring:
        wiring.window.go_to("ask")
        assert wiring.asking.page == before
        assert wiring.asking.temperature.value == 18
        assert len(wiring.asking.history.entries) == len({e.words for e in wiring.asking.history.entries})


def test_an_empty_library_is_led_to_filing(qtbot: QtBot, tmp_path: Path) -> None:
    with window(tmp_path, PreparedReader({})) as wiring:
        wiring.window.go_to("ask")
        buttons = [b for b in wiring.asking.findChildren(QPushButton) if b.text() == "File sheets …" and b.isVisible()]
        qtbot.mouseClick(buttons[0], Qt.MouseButton.LeftButton)
        assert wiring.window.place is wiring.filing


def test_a_ban_by_a_name_that_two_makers_may_bear_is_no_yes_until_the_user_says_whose(
    qtbot: QtBot, tmp_path: Path
) -> None:
    sheets = {
        "etch.pdf": reading(
            "Tarn Etch",
            [claim("Surfacers may go on it.", Topic.TOPPED_BY, object_="surfacer.2k")],
            kind="primer.etch.1k",
        ),
        "sand.pdf": reading(
            "Holm Sand",
            [claim("Never over Tarn Etch.", stance=Stance.FORBIDS, object_="product:Tarn Etch")],
            maker="Ostry Paints",
            kind="surfacer.2k",
        ),
    }
    for name in sheets:
        (tmp_path / name).write_bytes(name.encode())
    with window(tmp_path, PreparedReader(sheets)) as wiring:
        wiring.filing.add([tmp_path / name for name in sheets])
        confirm(wiring)
        wiring.window.go_to("ask")
        place = wiring.asking
        ask_it(qtbot, wiring, "Holm Sand", "Tarn Etch")
        assert place.page is not None
        assert (place.page.shape, place.page.word) == ("unconfirmed", "Not settled")
        assert "do not put Holm Sand onto Tarn Etch" in place.page.sentence
        assert "Whose product is named?" in place.page.text
        (settle,) = [b for b in place.answer_view.findChildren(QPushButton) if b.text() == "Put the name right"]
        qtbot.mouseClick(settle, Qt.MouseButton.LeftButton)
        assert wiring.window.place.name == "confirm"
        record = wiring.confirming.current
        assert record is not None and record.claim.object == "product:Tarn Etch"
        for written, word in (("product:Ostry Tarn Etch", "yes"), ("product:Hollin & Reeve Tarn Etch", "disputed")):
            right = replace(record.claim, object=written)
            wiring.desk.write(
                lambda library, right=right: library.correct(record.id, right), LibraryChange(everything=True)
            )
            wiring.window.go_to("ask")
            ask_it(qtbot, wiring, "Holm Sand", "Tarn Etch")
            assert place.page is not None and place.page.shape == word
