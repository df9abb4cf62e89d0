"""The place of mixing, driven as by a hand, with a clock that the test sets."""

from __future__ import annotations

import json
from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QComboBox, QLineEdit
from pytestqt.qtbot import QtBot
from window_kit import PreparedReader, claim, reading, window

from app.__main__ import main
from app.mixing.pot_clocks import PotClocks
from app.mixing.view import MixingPlace
from app.settings import Settings
from app.theme.theme import Theme
from app.wiring import Wiring
from extract.claims import Stance, Topic
from store.job_records import Component, Tin
from store.planning.buying import USUAL_PANELS
from store.planning.pot_life import PotStage

STATES = Stance.STATES
BASE_4 = "Mix 4 parts base with 1 part hardener by volume."
PAINT = reading(
    "Tarnwick Bond 2",
    [
        claim(BASE_4, Topic.MIXING, "ratio", STATES, parts=(4.0, 1.0), basis="volume"),
        claim("By weight mix 100 to 17.", Topic.MIXING, "ratio", STATES, parts=(100.0, 17.0), basis="weight"),
        claim("Thin 5 to 10 % for spraying.", Topic.MIXING, "thinner", STATES, low=5.0, high=10.0, unit="%"),
        claim("Pot life 4 hours.", Topic.MIXING, "pot_life", STATES, low=240.0, high=240.0, unit="min", page=2),
        claim("Volume solids 50 %.", Topic.FILM, "volume_solids", STATES, low=50.0, high=50.0, unit="%", page=2),
        claim("Apply 2 coats.", Topic.FILM, "coats", STATES, low=2.0, high=2.0, unit="count", page=2),
        claim("The hardener contains isocyanates.", Topic.SAFETY, "isocyanate", STATES, page=2),
    ],
)
NAME = "Tarnwick Bond 2"


def filed(wiring: Wiring, folder: Path, *, confirmed: bool = True) -> MixingPlace:
    (folder / "bond.pdf").write_bytes(b"bond")
    wiring.filing.add([folder / "bond.pdf"])
    if confirmed:
        wiring.desk.read(
            lambda library: [library.confirm([c.id for c in library.claims(s.id)]) for s in library.sheets()],
            lambda _: None,
        )
    wiring.window.go_to("mixing")
    wiring.mixing.product.write(NAME)
    return wiring.mixing


@pytest.fixture
def wiring(qtbot: QtBot, tmp_path: Path) -> Iterator[Wiring]:
    with window(tmp_path, PreparedReader({"bond.pdf": PAINT})) as made:
        yield made


def type_in(qtbot: QtBot, line: QLineEdit, text: str) -> None:
    line.selectAll()
    if text:
        qtbot.keyClicks(line, text)
    else:
        qtbot.keyClick(line, Qt.Key.Key_Backspace)


def complete(qtbot: QtBot, place: MixingPlace) -> None:
    """2 m2 x 50 um x 2 coats / 50 % / half lost: 800 ml, and 5 % thinner."""
    for name, text in (("area", "2"), ("dry", "50"), ("loss", "50")):
        type_in(qtbot, place.form.lines[name], text)


def test_the_sheet_fills_in_and_every_figure_opens_its_sentence(qtbot: QtBot, wiring: Wiring, tmp_path: Path) -> None:
    place = filed(wiring, tmp_path)
    complete(qtbot, place)
    assert place.form.lines["volume_solids"].text() == "50"
    assert place.form.ratio == (4, 1)
    assert place.card.large == "840 ml"
    assert any(line.startswith("base: 640 ml") for line in place.card.lines)
    says = place.form._rows["volume_solids"].says
    assert "Volume solids 50 %." in says.words
    says.linkActivated.emit("page")
    assert wiring.window.evidence.isVisible()
    assert wiring.window.evidence.pane.lit


def test_what_the_sheet_does_not_say_stays_empty_and_the_users_figure_is_marked(
    qtbot: QtBot, wiring: Wiring, tmp_path: Path
) -> None:
    place = filed(wiring, tmp_path)
    row = place.form._rows["dry"]
    assert row.line.text() == "" and row.says.words == "The sheet does not say. Type your own figure."
    assert "the dry film" in place.card.refusal
    type_in(qtbot, row.line, "60")
    assert row.says.words == "Your figure: the sheet does not say."
    coats = place.form._rows["coats"]
    type_in(qtbot, coats.line, "3")
    assert coats.says.words == "Your figure. The sheet says: “Apply 2 coats.”"


def test_a_name_that_is_none_takes_the_figures_of_the_last_product_with_it(
    qtbot: QtBot, wiring: Wiring, tmp_path: Path
) -> None:
    place = filed(wiring, tmp_path)
    complete(qtbot, place)
    assert place.form.ratio == (4, 1)
    place.product.line.setFocus()
    type_in(qtbot, place.product.line, "another one")
    qtbot.keyClick(place.product.line, Qt.Key.Key_Return)
    assert place.product.meaning is None
    assert "another one" in place.product.trouble
    assert place.form.lines["volume_solids"].text() == ""
    assert place.form.ratio == ()
    assert place.form.lines["area"].text() == "2"
    assert place.form.lines["dry"].text() == "50", "what the user typed stays"
    assert not place.card.lines


def test_words_that_wait_fill_in_nothing_and_lead_to_confirming(wiring: Wiring, tmp_path: Path) -> None:
    place = filed(wiring, tmp_path, confirmed=False)
    row = place.form._rows["volume_solids"]
    assert row.line.text() == ""
    assert row.says.words.startswith("The sheet has words on this that nobody has confirmed yet.")
    row.says.linkActivated.emit("confirm")
    assert wiring.window.place is wiring.confirming


def test_one_of_several_ratios_can_be_chosen(qtbot: QtBot, wiring: Wiring, tmp_path: Path) -> None:
    place = filed(wiring, tmp_path)
    complete(qtbot, place)
    variants = place.form._rows["ratio"].variants
    assert [variants.itemText(i) for i in range(variants.count())] == ["4 : 1 by volume", "100 : 17 by weight"]
    variants.setFocus()
    qtbot.keyClick(variants, Qt.Key.Key_Down)
    variants.activated.emit(variants.currentIndex())
    assert place.form.basis.currentData() == "weight"
    assert "Type the density of each component" in place.card.refusal
    type_in(qtbot, place.form.lines["density/base"], "1,4")
    type_in(qtbot, place.form.lines["density/hardener"], "1.0")
    assert place.card.large
    assert not place.card.refusal


def test_usual_panels_add_up_and_say_what_they_rest_on(qtbot: QtBot, wiring: Wiring, tmp_path: Path) -> None:
    place = filed(wiring, tmp_path)
    type_in(qtbot, place.form.lines["area"], "")
    for at in (1, 2):
        place.form.panels.activated.emit(at)
    expected = USUAL_PANELS[0].area + USUAL_PANELS[1].area
    assert place.form.figure("area") == pytest.approx(expected)
    assert "common practice, no source" in place.form._panels_said.text()
    place.form.losses.activated.emit(2)
    assert place.form.figure("loss") == 30


def test_a_third_part_is_asked_about(qtbot: QtBot, wiring: Wiring, tmp_path: Path) -> None:
    place = filed(wiring, tmp_path)
    complete(qtbot, place)
    type_in(qtbot, place.form.ratio_line, "4:1:1")
    assert place.form.third.isVisible() and not place.form.lines["thinner"].isVisible()
    assert place.card.large == "960 ml"
    place.form.third.setCurrentIndex(1)
    assert place.form.lines["thinner"].isVisible()
    assert any(line.startswith("third component") for line in place.card.lines)


def test_thinner_of_the_mix_and_a_scale(qtbot: QtBot, wiring: Wiring, tmp_path: Path) -> None:
    place = filed(wiring, tmp_path)
    complete(qtbot, place)
    type_in(qtbot, place.form.lines["thinner"], "10")
    place.form.thinner_of.setCurrentIndex(1)
    assert any("11.1 %" in line for line in place.card.lines)
    for part, density in (("base", "1.4"), ("hardener", "1"), ("thinner", "0.87")):
        type_in(qtbot, place.form.lines[f"density/{part}"], density)
    place.form.measure.setCurrentIndex(2)
    base = next(line for line in place.card.lines if line.startswith("base:"))
    assert base == "base: 896.0 g (640 ml)"


def test_cautions_stand_at_the_head_and_open_their_sentence(wiring: Wiring, tmp_path: Path) -> None:
    place = filed(wiring, tmp_path)
    assert place.cautions.isVisible()
    assert "isocyanates" in place.cautions.words[0].lower()
    assert "air-fed mask" in place.cautions.usual
    assert place.cautions.usual.endswith("The sheet itself, local rules and licensed practice decide.")
    place.cautions._label.linkActivated.emit("0")
    assert wiring.window.evidence.isVisible()


def test_prices_of_the_tins_on_the_shelf_make_the_cost(qtbot: QtBot, wiring: Wiring, tmp_path: Path) -> None:
    place = filed(wiring, tmp_path)

    def stock(library: object) -> None:
        product = library.products()[0].id  # type: ignore[attr-defined]
        for component, price in ((Component.BASE, 30.0), (Component.HARDENER, 40.0), (Component.THINNER, 8.0)):
            library.add_tin(Tin(product, 500.0, component, price_per_litre=price))  # type: ignore[attr-defined]

    wiring.desk.read(stock, lambda _: None)
    place.product.write(NAME)
    complete(qtbot, place)
    # 640 ml of base, 160 of hardener, 40 of thinner.
    assert "costs 25.92" in place.card.lines
    type_in(qtbot, place.form.lines["price/thinner"], "")
    assert not any(line.startswith("costs") for line in place.card.lines)
    assert "What it costs comes once these have a price too: thinner." in place.card.lines
    for part in ("base", "hardener"):
        type_in(qtbot, place.form.lines[f"price/{part}"], "")
    assert not any("cost" in line for line in place.card.lines)


@pytest.mark.parametrize(
    ("field", "text", "said"),
    [
        ("volume_solids", "140", "It takes 1 to 100 %."),
        ("loss", "99", "It takes 0 to 95 %."),
        ("area", "big", "is not a figure"),
        ("thinner", "300", "It takes 0 to 200 % of the paint."),
    ],
)
def test_what_cannot_be_is_refused_in_a_sentence(
    qtbot: QtBot, wiring: Wiring, tmp_path: Path, field: str, text: str, said: str
) -> None:
    place = filed(wiring, tmp_path)
    complete(qtbot, place)
    type_in(qtbot, place.form.lines[field], text)
    assert said in place.card.refusal
    assert not place.copy_button.isEnabled()


def test_a_ratio_that_is_none_is_refused(qtbot: QtBot, wiring: Wiring, tmp_path: Path) -> None:
    place = filed(wiring, tmp_path)
    complete(qtbot, place)
    type_in(qtbot, place.form.ratio_line, "4:")
    assert "is not a ratio" in place.card.refusal


def test_own_figures_and_the_product_are_there_at_the_next_opening(qtbot: QtBot, tmp_path: Path) -> None:
    for opening in range(2):
        with window(tmp_path, PreparedReader({"bond.pdf": PAINT})) as wiring:
            if opening == 0:
                place = filed(wiring, tmp_path)
                complete(qtbot, place)
                type_in(qtbot, place.form.lines["density/base"], "1,45")
            else:
                assert wiring.mixing.product.text == NAME
                assert wiring.mixing.form.figure("area") == 2
                assert wiring.mixing.form.figure("density/base") == 1.45
                assert wiring.mixing.form.figure("dry") == 50
                assert wiring.mixing.form._rows["dry"].says.words == "Your figure: the sheet does not say."
                assert wiring.mixing.card.large == "840 ml"


def test_every_field_has_a_name(wiring: Wiring, tmp_path: Path) -> None:
    place = filed(wiring, tmp_path)
    fields = [*place.findChildren(QLineEdit), *place.findChildren(QComboBox)]
    assert len(fields) > 15
    assert all(field.accessibleName() for field in fields)


class Hands:
    """A clock that stands until it is moved."""

    def __init__(self) -> None:
        self.now = datetime(2026, 5, 4, 9, 0, tzinfo=UTC)

    def __call__(self) -> datetime:
        return self.now


@pytest.fixture
def theme(qapp: object) -> Theme:
    return Theme(qapp, dark=False)  # type: ignore[arg-type]


def test_the_pots_clock_runs_warns_early_and_says_when_it_is_over(qtbot: QtBot, tmp_path: Path, theme: Theme) -> None:
    hands = Hands()
    clocks = PotClocks(theme, Settings(tmp_path / "w.ini"), hands)
    qtbot.addWidget(clocks)
    stages: list[PotStage] = []
    clocks.stage_changed.connect(lambda _, stage: stages.append(stage))
    assert not clocks.start_button.isEnabled()
    clocks.set_pot_life("Tarnwick", 240)
    qtbot.mouseClick(clocks.start_button, Qt.MouseButton.LeftButton)
    (card,) = clocks.cards
    assert card.words == "4 h 00 left"
    for minutes, words in (
        (209, "31 min left"),
        (212, "28 min left"),
        (235, "5:00 left"),
        (250, "10 min past its end"),
    ):
        hands.now = datetime(2026, 5, 4, 9, 0, tzinfo=UTC) + timedelta(minutes=minutes)
        clocks.look()
        assert card.words == words
    assert stages == [PotStage.FRESH, PotStage.ENDING, PotStage.OVER]
    qtbot.mouseClick(card.empty_button, Qt.MouseButton.LeftButton)
    assert not clocks.cards and clocks.words == "Pot life 4 h"


def test_several_pots_run_at_once_the_first_to_end_on_top(qtbot: QtBot, tmp_path: Path, theme: Theme) -> None:
    hands = Hands()
    clocks = PotClocks(theme, Settings(tmp_path / "w.ini"), hands)
    qtbot.addWidget(clocks)
    told: list[tuple[str, PotStage]] = []
    clocks.stage_changed.connect(lambda pot, stage: told.append((pot.name, stage)))
    for name, minutes in (("epoxy", 240), ("filler", 5), ("clear", 60)):
        clocks.set_pot_life(name, minutes)
        qtbot.mouseClick(clocks.start_button, Qt.MouseButton.LeftButton)
    assert [card.pot.name for card in clocks.cards] == ["filler", "clear", "epoxy"]
    hands.now += timedelta(minutes=6)
    clocks.look()
    assert told[-1] == ("filler", PotStage.OVER)
    qtbot.mouseClick(clocks.cards[1].empty_button, Qt.MouseButton.LeftButton)
    assert [card.pot.name for card in clocks.cards] == ["filler", "epoxy"]
    again = PotClocks(theme, Settings(tmp_path / "w.ini"), hands)
    qtbot.addWidget(again)
    assert [card.pot.name for card in again.cards] == ["filler", "epoxy"]


def test_a_pot_goes_on_over_closing_the_program_and_its_end_meanwhile_is_told(
    qtbot: QtBot, tmp_path: Path, theme: Theme
) -> None:
    hands = Hands()
    first = PotClocks(theme, Settings(tmp_path / "w.ini"), hands)
    qtbot.addWidget(first)
    first.set_pot_life("Tarnwick", 60)
    first.start()
    hands.now += timedelta(minutes=20)
    second = PotClocks(theme, Settings(tmp_path / "w.ini"), hands)
    qtbot.addWidget(second)
    assert second.cards[0].words == "40 min left"
    hands.now += timedelta(minutes=60)
    third = PotClocks(theme, Settings(tmp_path / "w.ini"), hands)
    qtbot.addWidget(third)
    with qtbot.waitSignal(third.stage_changed, timeout=5000) as told:
        pass
    assert told.args is not None and told.args[1] is PotStage.OVER


class Tray:
    """The system's notices, where it has them."""

    def __init__(self, *, there: bool) -> None:
        self.there = there
        self.told: list[tuple[str, str]] = []

    def tell(self, title: str, words: str) -> bool:
        if self.there:
            self.told.append((title, words))
        return self.there


@pytest.mark.parametrize("there", [True, False])
def test_the_end_of_a_pot_is_told_by_the_system_or_in_the_window(qtbot: QtBot, tmp_path: Path, there: bool) -> None:
    hands, tray = Hands(), Tray(there=there)
    with window(tmp_path, PreparedReader({"bond.pdf": PAINT}), now=hands, tray=tray) as wiring:
        filed(wiring, tmp_path)
        wiring.mixing.clocks.set_pot_life(NAME, 60)
        qtbot.mouseClick(wiring.mixing.clocks.start_button, Qt.MouseButton.LeftButton)
        assert not tray.told and not wiring.window.notice.isVisible()
        hands.now += timedelta(minutes=50)
        wiring.mixing.clocks.look()
        words = f"{NAME}: 10 min left"
        if there:
            assert tray.told == [(words, "finish now")]
        else:
            assert wiring.window.notice.words == f"{words}. finish now"
            wiring.window.go_to("sheets")
            qtbot.mouseClick(wiring.window.notice.open_button, Qt.MouseButton.LeftButton)
            assert wiring.window.place is wiring.mixing and not wiring.window.notice.isVisible()


def test_mix_on_the_command_line(qtbot: QtBot, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    with window(tmp_path, PreparedReader({"bond.pdf": PAINT})) as wiring:
        filed(wiring, tmp_path)
    library = ["--library", str(tmp_path / "library"), "mix", NAME, "--area", "2", "--loss", "50"]
    assert main([*library, "--dry-film", "50", "--json"]) == 0
    out = json.loads(capsys.readouterr().out)
    assert out["needed_ml"] == pytest.approx(840)
    assert {p["name"]: p["ml"] for p in out["parts"]} == pytest.approx({"base": 640, "hardener": 160, "thinner": 40})
    assert out["by_the_sheet"]["ratio"]["evidence"]["quote"] == BASE_4
    assert out["cautions"][0]["property"] == "isocyanate"
    assert main([*library, "--dry-film", "2 mil", "--ratio", "100:17", "--by", "weight"]) == 2
    assert "--densities" in capsys.readouterr().err
    assert main([*library, "--dry-film", "50", "--thinner", "0", "--densities", "1,4 1"]) == 0
    said = capsys.readouterr().out
    assert "air-fed mask" in said and "800 ml of Tarnwick Bond 2" in said and "896 g" in said
    assert main(library) == 2
    assert "--dry-film" in capsys.readouterr().err
