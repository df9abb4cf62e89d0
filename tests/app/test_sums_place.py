"""The place of the bench sums, driven as by a hand."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QComboBox, QLineEdit
from pytestqt.qtbot import QtBot
from window_kit import PreparedReader, claim, reading, window

from app.bench_sums.view import SumsPlace
from app.sheet_says import SheetSays
from app.wiring import Wiring
from extract.claims import Stance, Topic
from store.sums.catalogue import SUMS

SOLIDS = reading(
    "Tarnwick Fill 5",
    [
        claim("Volume solids 52 %.", Topic.FILM, "volume_solids", Stance.STATES, low=52.0, high=52.0, unit="%"),
        claim("Dry film 60 to 80 microns a coat.", Topic.FILM, "dry", Stance.STATES, low=60.0, high=80.0, unit="um"),
        claim("Surface at least 4 °C above the dew point.", Topic.APPLICATION, "dew_margin", Stance.REQUIRES, low=4.0,
              unit="degC", page=2),
    ],
)  # fmt: skip


@pytest.fixture
def wiring(qtbot: QtBot, tmp_path: Path) -> Iterator[Wiring]:
    (tmp_path / "fill.pdf").write_bytes(b"fill")
    with window(tmp_path, PreparedReader({"fill.pdf": SOLIDS})) as made:
        made.window.go_to("sums")
        yield made


@pytest.fixture
def place(wiring: Wiring) -> SumsPlace:
    return wiring.sums


def choose(place: SumsPlace, name: str) -> None:
    place.list.setCurrentRow([one.name for one in SUMS].index(name))


def type_in(qtbot: QtBot, line: QLineEdit, text: str) -> None:
    line.selectAll()
    qtbot.keyClicks(line, text)


def file_and_confirm(wiring: Wiring, folder: Path, *, leave: str = "") -> None:
    wiring.filing.add([folder / "fill.pdf"])

    def confirm(library: object) -> None:
        claims = [c.id for s in library.sheets() for c in library.claims(s.id) if c.claim.property != leave]  # type: ignore[attr-defined]
        library.confirm(claims)  # type: ignore[attr-defined]

    wiring.desk.read(confirm, lambda _: None)


def test_the_figure_comes_as_it_is_typed(qtbot: QtBot, place: SumsPlace) -> None:
    choose(place, "wet-film")
    assert "Still to type" in place.card.refusal
    type_in(qtbot, place.form.lines["dry-film"], "50")
    type_in(qtbot, place.form.lines["volume-solids"], "62,5")
    assert place.card.large == "80 µm"
    type_in(qtbot, place.form.lines["volume-solids"], "62.5")
    assert place.card.large == "80 µm"
    type_in(qtbot, place.form.lines["dry-film"], "2 mil")
    assert place.card.large == "81.3 µm"


def test_a_figure_outside_is_refused_in_a_sentence_and_cannot_be_copied(qtbot: QtBot, place: SumsPlace) -> None:
    choose(place, "dew-point")
    type_in(qtbot, place.form.lines["humidity"], "140")
    assert place.card.refusal == (
        "The relative humidity: 140 % is outside what this sum holds for. It takes 1 to 100 %."
    )
    assert not place.copy_button.isEnabled()
    type_in(qtbot, place.form.lines["humidity"], "wet")
    assert "“wet” is not a figure" in place.card.refusal


@pytest.mark.parametrize("one", SUMS, ids=lambda one: one.name)
def test_every_sum_opens_and_every_field_has_a_name(place: SumsPlace, one: object) -> None:
    choose(place, one.name)  # type: ignore[attr-defined]
    fields = [*place.form.findChildren(QLineEdit), *place.form.findChildren(QComboBox)]
    assert fields and all(field.accessibleName() for field in fields)
    assert place.card.worked or place.card.refusal


def test_the_result_is_copied_with_all_that_it_rests_on(qtbot: QtBot, place: SumsPlace) -> None:
    choose(place, "dew-point")
    qtbot.keyClick(
        place.form.lines["air"], Qt.Key.Key_C, Qt.KeyboardModifier.ControlModifier | Qt.KeyboardModifier.ShiftModifier
    )
    copied = QGuiApplication.clipboard().text()
    for words in ("dew point: 12 °C", "Formula:", "Sonntag", "Holds for:"):
        assert words in copied


def test_what_was_typed_stands_there_at_the_next_opening(qtbot: QtBot, tmp_path: Path) -> None:
    for opening in range(2):
        with window(tmp_path, PreparedReader({})) as wiring:
            wiring.window.go_to("sums")
            if opening == 0:
                choose(wiring.sums, "grit")
                wiring.sums.form.put("scale", "CAMI")
                type_in(qtbot, wiring.sums.form.lines["grade"], "320")
            else:
                assert wiring.sums.form.sum.name == "grit"
                assert wiring.sums.card.large == "P400"


def test_beginning_afresh_puts_back_what_stood_there_first(qtbot: QtBot, place: SumsPlace) -> None:
    choose(place, "dew-point")
    type_in(qtbot, place.form.lines["air"], "5")
    qtbot.mouseClick(place.afresh_button, Qt.MouseButton.LeftButton)
    assert place.form.lines["air"].text() == "20"
    assert place.card.large == "12 °C"


def test_units_are_offered_only_where_they_can_be_turned_into_each_other(place: SumsPlace) -> None:
    choose(place, "units")
    place.form.put("from", "psi")
    to = place.form.choices["to"]
    assert {to.itemData(i) for i in range(to.count())} == {"bar", "psi", "MPa"}


def test_keys_alone_go_through_the_fields(qtbot: QtBot, place: SumsPlace) -> None:
    choose(place, "wet-film")
    line = place.form.lines["dry-film"]
    line.setFocus()
    type_in(qtbot, line, "50")
    qtbot.keyClick(line, Qt.Key.Key_Up)
    assert line.text() == "51"
    qtbot.keyClick(line, Qt.Key.Key_Return)
    assert place.form.lines["volume-solids"].hasFocus()


def test_a_products_own_figures_fill_in_with_their_sentences(wiring: Wiring, place: SumsPlace, tmp_path: Path) -> None:
    file_and_confirm(wiring, tmp_path)
    choose(place, "dew-point")
    place.product.write("Tarnwick Fill 5")
    assert place.form.lines["margin-asked"].text() == "4"
    (says,) = [s for s in place.form.findChildren(SheetSays) if s.sentence is not None]
    says.linkActivated.emit("page")
    assert wiring.window.evidence.isVisible()
    choose(place, "coverage")
    assert place.form.lines["volume-solids"].text() == "52"
    assert place.form.lines["dry-film"].text() == "80"


def test_a_sentence_that_nobody_confirmed_gives_no_figure(wiring: Wiring, place: SumsPlace, tmp_path: Path) -> None:
    file_and_confirm(wiring, tmp_path, leave="volume_solids")
    choose(place, "coverage")
    place.product.write("Tarnwick Fill 5")
    assert place.form.lines["volume-solids"].text() == ""
    assert any("nobody has confirmed" in says.words for says in place.form.findChildren(SheetSays))


def test_ones_own_figure_over_the_sheets_is_marked(
    qtbot: QtBot, wiring: Wiring, place: SumsPlace, tmp_path: Path
) -> None:
    file_and_confirm(wiring, tmp_path)
    choose(place, "dew-point")
    place.product.write("Tarnwick Fill 5")
    type_in(qtbot, place.form.lines["margin-asked"], "2")
    (says,) = [s for s in place.form.findChildren(SheetSays) if s.sentence is not None]
    assert says.words.startswith("Your figure. The sheet says: “Surface at least 4 °C")


def test_film_readings_are_judged_as_they_are_typed(qtbot: QtBot, place: SumsPlace) -> None:
    choose(place, "film-readings")
    form = place.form
    assert place.card.refusal == "Still to type: readings, film asked for."
    type_in(qtbot, form.rows["readings"], "104 98; 112, 101 85 120 99 130 107 110")
    type_in(qtbot, form.lines["nominal-film"], "100")
    assert place.card.large == "not accepted"
    assert "mean of the readings: 106.6 µm" in place.card.text()
    assert "30 %" in place.card.text()
    type_in(qtbot, form.rows["readings"], "104 98 112 101 85 120 101 130 107 110")
    assert place.card.large == "accepted"
    type_in(qtbot, form.rows["readings"], "104 9x")
    assert place.card.refusal == "“9x” is not a figure. Type one like 12.5 or 12,5."
    type_in(qtbot, form.rows["readings"], "4 mil 104")
    assert "“mil”" in place.card.refusal
    place.afresh_button.click()
    assert form.rows["readings"].text() == ""


@pytest.mark.parametrize(
    ("name", "typed", "large", "beside"),
    [
        ("profile", {"profile": "59", "comparator": "grit"}, "fine", "177 µm"),
        ("profile", {"profile": "60", "comparator": "shot"}, "medium", "180 µm"),
        ("cross-cut", {"dry-film": "80", "flaked": "10"}, "class 2", "3B"),
        ("vapour", {"vapour": "1,4", "vapour-as": "sd"}, "V3, low", "14.6 g/m²d"),
        ("vapour-layers", {"perms": "0,05 0,01"}, "0.00833 perm", "0.477 ng/(s·m²·Pa)"),
        ("cleanliness", {"cleaned": "Sa 2½"}, "Sa 2½", "SP 10"),
        ("cure", {"earliest": "16", "latest": "96", "stated-at": "20", "asked-at": "10"}, "48 h", "96 h"),
        ("solvent", {"solvent": "420", "thinner": "10", "thinner-density": "0.87"}, "460.9 g/l", "within the limit"),
    ],
)
def test_what_was_measured_is_judged_with_its_source(
    place: SumsPlace, name: str, typed: dict[str, str], large: str, beside: str
) -> None:
    place.come_with((name, typed))
    assert place.card.large == large
    text = place.card.text()
    assert beside in text
    assert "Formula: " in text and "Source: " in text and "Holds for: " in text
