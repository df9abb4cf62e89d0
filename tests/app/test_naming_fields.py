"""Names by a few letters, arrows and Enter; figures with their unit; both say what they cannot take."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from answer_kit import filed, name_it
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from app.naming.book import NameBook
from app.naming.field import NameField
from app.naming.figures import FigureField
from app.naming.offers import beside_words
from app.wiring import Wiring
from store.records import ProductRecord
from store.rules.names import KindName, Suggestion


@pytest.fixture
def wiring(qtbot: QtBot, tmp_path: Path) -> Iterator[Wiring]:
    with filed(tmp_path) as made:
        made.window.go_to("ask")
        yield made


@pytest.fixture
def field(wiring: Wiring) -> NameField:
    return wiring.asking.on_top


def test_letters_offer_names_and_enter_takes_the_one_gone_to(qtbot: QtBot, field: NameField) -> None:
    field.line.setFocus()
    qtbot.keyClicks(field.line, "kes")
    assert field.line.offers.isVisible()
    assert field.line.offers.texts == ("Kestrel Bond 40",)
    assert field.line.offers.current is None
    qtbot.keyClick(field.line, Qt.Key.Key_Down)
    qtbot.keyClick(field.line, Qt.Key.Key_Return)
    assert isinstance(field.meaning, ProductRecord)
    assert field.text == "Kestrel Bond 40"
    assert not field.line.offers.isVisible()


@pytest.mark.parametrize("typed", ["kes", "Kestrel", "old paint that lifts", "Kestrel Bund 40"])
@pytest.mark.parametrize("key", [Qt.Key.Key_Return, Qt.Key.Key_Tab])
def test_enter_and_tab_take_no_guess_and_keep_what_is_typed(
    qtbot: QtBot, field: NameField, typed: str, key: Qt.Key
) -> None:
    field.line.setFocus()
    qtbot.keyClicks(field.line, typed)
    offered = field.line.offers.texts
    assert offered
    with qtbot.assertNotEmitted(field.meaning_changed):
        qtbot.keyClick(field.line, key)
    assert (field.text, field.meaning) == (typed, None)
    assert f"Nothing here is called “{typed}”" in field.trouble
    assert offered[0] in field.trouble


@pytest.mark.parametrize(
    "typed", ["kestrel bond 40", "KESTREL BOND40", " kestrelbond 40 ", "Hollin & Reeve Kestrel Bond 40"]
)
@pytest.mark.parametrize("key", [Qt.Key.Key_Return, Qt.Key.Key_Tab])
def test_a_name_written_out_is_taken_whatever_its_capitals_and_spaces(
    qtbot: QtBot, field: NameField, typed: str, key: Qt.Key
) -> None:
    field.line.setFocus()
    qtbot.keyClicks(field.line, typed)
    qtbot.keyClick(field.line, key)
    assert isinstance(field.meaning, ProductRecord)
    assert (field.text, field.trouble) == ("Kestrel Bond 40", "")


def test_arrow_down_brings_the_offers_back_after_a_name_was_refused(qtbot: QtBot, field: NameField) -> None:
    field.line.setFocus()
    qtbot.keyClicks(field.line, "old paint that lifts")
    qtbot.keyClick(field.line, Qt.Key.Key_Return)
    assert not field.line.offers.isVisible()
    qtbot.keyClick(field.line, Qt.Key.Key_Down)
    current = field.line.offers.current
    assert current is not None
    qtbot.keyClick(field.line, Qt.Key.Key_Return)
    assert field.meaning == current.meaning
    assert field.trouble == ""


def test_arrows_go_round_the_offers(qtbot: QtBot, field: NameField) -> None:
    field.line.setFocus()
    qtbot.keyClicks(field.line, "etch")
    texts = field.line.offers.texts
    assert {"Morrow Etch", "Larkrise Etch 7", "etch primer"} <= set(texts)
    qtbot.keyClick(field.line, Qt.Key.Key_Up)
    assert field.line.offers.current is not None
    assert field.line.offers.current.text == texts[-1]
    qtbot.keyClick(field.line, Qt.Key.Key_Down)
    qtbot.keyClick(field.line, Qt.Key.Key_Down)
    qtbot.keyClick(field.line, Qt.Key.Key_Return)
    assert field.text == texts[1]
    assert field.meaning is not None


def test_a_kind_written_out_is_the_kind(qtbot: QtBot, field: NameField) -> None:
    name_it(qtbot, field, "polyester filler")
    assert field.meaning == KindName("filler.polyester")


def test_a_click_takes_an_offer(qtbot: QtBot, field: NameField) -> None:
    field.line.setFocus()
    qtbot.keyClicks(field.line, "larkrise")
    offers = field.line.offers
    where = offers.visualRect(offers.model().index(0, 0)).center()
    qtbot.mouseClick(offers.viewport(), Qt.MouseButton.LeftButton, pos=where)
    assert field.text == "Larkrise Etch 7"


def test_tab_takes_the_offer_gone_to_and_moves_on(qtbot: QtBot, wiring: Wiring, field: NameField) -> None:
    field.line.setFocus()
    qtbot.keyClicks(field.line, "brock")
    qtbot.keyClick(field.line, Qt.Key.Key_Down)
    qtbot.keyClick(field.line, Qt.Key.Key_Tab)
    assert field.text == "Brockle Fill"
    assert field.meaning is not None


def test_escape_leaves_what_is_typed(qtbot: QtBot, field: NameField) -> None:
    field.line.setFocus()
    qtbot.keyClicks(field.line, "kes")
    qtbot.keyClick(field.line, Qt.Key.Key_Escape)
    assert not field.line.offers.isVisible()
    assert (field.text, field.meaning) == ("kes", None)


def test_an_unknown_name_is_said_with_what_may_have_been_meant(qtbot: QtBot, field: NameField) -> None:
    field.write("Kestrel Bund")
    assert field.meaning is None
    assert "Nothing here is called “Kestrel Bund”" in field.trouble
    assert "“Kestrel Bond 40”" in field.trouble
    field._trouble.linkActivated.emit("0")
    assert field.text == "Kestrel Bond 40"
    assert field.trouble == ""


def test_a_field_for_products_takes_no_kind(qtbot: QtBot, wiring: Wiring) -> None:
    field = wiring.comparing.bar.field
    field.write("polyester filler")
    assert field.meaning is None
    assert "is a kind" in field.trouble


def test_offers_of_an_earlier_word_never_show(qtbot: QtBot, wiring: Wiring) -> None:
    """Two completions under way, the first comes back last: it is dropped."""
    kept: list[tuple[str, object]] = []

    class SlowBook(NameBook):
        def complete(self, typed: str, done: object, *, kinds_too: bool = True) -> None:
            kept.append((typed, done))

    field = NameField(SlowBook(wiring.desk), "A name")
    qtbot.addWidget(field)
    field.show()
    qtbot.keyClicks(field.line, "ke")
    assert [typed for typed, _ in kept] == ["k", "ke"]
    kestrel = Suggestion("Kestrel Bond 40", "Hollin & Reeve", wiring.book.products[0])
    kept[1][1]([kestrel])  # type: ignore[operator]
    assert field.line.offers.texts == ("Kestrel Bond 40",)
    kept[0][1]([])  # type: ignore[operator]
    assert field.line.offers.texts == ("Kestrel Bond 40",)


def test_two_products_of_one_name_are_written_with_their_makers(qtbot: QtBot, wiring: Wiring) -> None:
    from app.jobs import LibraryChange  # noqa: PLC0415

    wiring.desk.write(
        lambda library: library.add_product("Brockle Fill", maker="Ashgrove Coatings", kind="filler.glass"),
        LibraryChange(filed=True),
    )
    written = {wiring.book.text_of(p) for p in wiring.book.products if p.name == "Brockle Fill"}
    assert written == {"Ferrow Works Brockle Fill", "Ashgrove Coatings Brockle Fill"}
    wiring.asking.on_top.write("Brockle Fill")
    assert wiring.asking.on_top.meaning is None
    assert "Several are called “Brockle Fill”" in wiring.asking.on_top.trouble
    for text in written:
        wiring.asking.on_top.write(text)
        assert wiring.asking.on_top.text == text
        assert wiring.asking.on_top.meaning is not None


@pytest.fixture
def figure(qtbot: QtBot) -> FigureField:
    made = FigureField("Temperature", "°C", -20, 60, empty_words="as stated", first=20)
    qtbot.addWidget(made)
    return made


@pytest.mark.parametrize(
    ("typed", "stands", "shown"),
    [("12", 12.0, "12 °C"), ("12,5", 12.5, "12.5 °C"), ("-3 °C", -3.0, "−3 °C"), ("", None, "")],
)
def test_a_figure_is_taken_as_written(
    qtbot: QtBot, figure: FigureField, typed: str, stands: float | None, shown: str
) -> None:
    figure.set_value(18)
    figure.selectAll()
    qtbot.keyClick(figure, Qt.Key.Key_Delete)
    qtbot.keyClicks(figure, typed)
    with qtbot.waitSignal(figure.figure_changed):
        qtbot.keyClick(figure, Qt.Key.Key_Return)
    assert figure.value == stands
    assert figure.text() == shown


@pytest.mark.parametrize("typed", ["warm", "95", "-21"])
def test_a_figure_that_cannot_be_is_not_taken(qtbot: QtBot, figure: FigureField, typed: str) -> None:
    figure.set_value(18)
    figure.selectAll()
    with qtbot.assertNotEmitted(figure.figure_changed):
        qtbot.keyClicks(figure, typed)
        qtbot.keyClick(figure, Qt.Key.Key_Return)
    assert (figure.value, figure.text()) == (18, "18 °C")


def test_a_figure_is_stepped_by_arrows_from_a_shops_temperature(qtbot: QtBot, figure: FigureField) -> None:
    qtbot.keyClick(figure, Qt.Key.Key_Up)
    assert figure.value == 20
    qtbot.keyClick(figure, Qt.Key.Key_Down)
    assert figure.text() == "19 °C"


@pytest.mark.parametrize(
    ("typed", "shown", "kind"),
    [
        ("mild ste", "bare steel", "surface.steel"),
        ("bodywork fi", "body filler", "filler"),
        ("2-pack epoxy", "2K epoxy primer", "primer.epoxy.2k"),
    ],
)
def test_what_else_the_trade_says_is_offered_with_the_label_that_enter_writes(
    qtbot: QtBot, field: NameField, typed: str, shown: str, kind: str
) -> None:
    field.line.setFocus()
    qtbot.keyClicks(field.line, typed)
    if field.line.offers.current is None:
        qtbot.keyClick(field.line, Qt.Key.Key_Down)
    offer = field.line.offers.current
    assert offer is not None
    assert offer.text == shown
    assert offer.other_name.startswith(typed)
    assert beside_words(offer) == f"a kind: {offer.other_name}"
    qtbot.keyClick(field.line, Qt.Key.Key_Return)
    assert field.meaning == KindName(kind)
    assert field.text == shown


@pytest.mark.parametrize(
    ("typed", "stands", "shown"),
    [
        ("1", 1, "1 week"),
        ("8", 8, "8 weeks"),
        ("1 week", 1, "1 week"),
        ("3 weeks", 3, "3 weeks"),
        ("1,5", 1.5, "1.5 weeks"),
    ],
)
def test_what_is_counted_has_its_form_for_one(qtbot: QtBot, typed: str, stands: float, shown: str) -> None:
    figure = FigureField("Outdoors", "weeks", 0, 520, empty_words="none", first=1, counted="week")
    qtbot.addWidget(figure)
    qtbot.keyClicks(figure, typed)
    qtbot.keyClick(figure, Qt.Key.Key_Return)
    assert (figure.value, figure.text()) == (stands, shown)
    figure.take_text()
    assert figure.value == stands


def test_offers_go_with_the_place_that_they_belong_to(qtbot: QtBot, wiring: Wiring, field: NameField) -> None:
    field.line.setFocus()
    qtbot.keyClicks(field.line, "kes")
    assert field.line.offers.isVisible()
    wiring.window.go_to("build_up")
    assert not field.line.offers.isVisible()
