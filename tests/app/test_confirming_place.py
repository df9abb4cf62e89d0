"""Confirming by keys: one key a decision, the page follows, nothing is decided twice, every step can be undone."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot
from window_kit import ETCH, KEEPER, PreparedReader, window

from app.confirming.keys import KEY_WORDS, Deed
from app.confirming.view import ConfirmingPlace
from app.page_pane.words import WordRange
from app.wiring import Wiring
from extract.claims import Topic
from store.records import ClaimRecord, ClaimStatus

KEYS = {
    Deed.CONFIRM: Qt.Key.Key_Space,
    Deed.REJECT: Qt.Key.Key_X,
    Deed.CORRECT: Qt.Key.Key_C,
    Deed.GROUP: Qt.Key.Key_G,
    Deed.UNDO: Qt.Key.Key_Z,
    Deed.ADD: Qt.Key.Key_A,
    Deed.NEXT_SHEET: Qt.Key.Key_N,
}


@pytest.fixture
def wiring(qtbot: QtBot, tmp_path: Path) -> Iterator[Wiring]:
    for name in ("keeper.pdf", "etch.pdf"):
        (tmp_path / name).write_bytes(name.encode())
    with window(tmp_path, PreparedReader({"keeper.pdf": KEEPER, "etch.pdf": ETCH})) as made:
        made.filing.add([tmp_path / "keeper.pdf", tmp_path / "etch.pdf"])
        made.window.go_to("confirm", 1)
        yield made


@pytest.fixture
def place(wiring: Wiring) -> ConfirmingPlace:
    return wiring.confirming


def press(qtbot: QtBot, place: ConfirmingPlace, deed: Deed, *, shift: bool = False) -> None:
    held = Qt.KeyboardModifier.ShiftModifier if shift else Qt.KeyboardModifier.NoModifier
    qtbot.keyClick(place.list, KEYS[deed], held)


def stored(wiring: Wiring, sheet_id: int = 1) -> dict[str, ClaimStatus]:
    """What the library holds, by quote and object."""
    found: list[ClaimRecord] = []
    wiring.desk.read(lambda library: library.claims(sheet_id), found.extend)
    return {f"{c.claim.evidence.quote} {c.claim.object}": c.status for c in found}


def test_it_opens_on_the_most_doubtful_claim_of_the_first_topic_lit_on_its_page(place: ConfirmingPlace) -> None:
    current = place.current
    assert current is not None
    assert current.claim.evidence.quote.startswith("Do not apply over acid etch")
    (lit,) = place.pane.lit
    assert lit.boxes[0].left() == pytest.approx(current.claim.evidence.boxes[0][0] - 1.5)


def test_one_key_confirms_and_goes_on(qtbot: QtBot, wiring: Wiring, place: ConfirmingPlace) -> None:
    first = place.current
    press(qtbot, place, Deed.CONFIRM)
    assert first is not None
    assert stored(wiring)[f"{first.claim.evidence.quote} {first.claim.object}"] is ClaimStatus.CONFIRMED
    assert place.current is not None
    assert place.current.id != first.id
    assert place.current.status is ClaimStatus.PROPOSED


def test_enter_confirms_x_rejects_z_undoes_shift_z_redoes(qtbot: QtBot, wiring: Wiring, place: ConfirmingPlace) -> None:
    first = place.current
    assert first is not None
    key = f"{first.claim.evidence.quote} {first.claim.object}"
    press(qtbot, place, Deed.REJECT)
    assert stored(wiring)[key] is ClaimStatus.REJECTED
    press(qtbot, place, Deed.UNDO)
    assert stored(wiring)[key] is ClaimStatus.PROPOSED
    assert place.current is not None
    assert place.current.id == first.id
    press(qtbot, place, Deed.UNDO, shift=True)
    assert stored(wiring)[key] is ClaimStatus.REJECTED
    qtbot.keyClick(place.list, Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
    qtbot.keyClick(place.list, Qt.Key.Key_Return)
    assert stored(wiring)[key] is ClaimStatus.CONFIRMED


def test_the_page_follows_to_another_page(qtbot: QtBot, place: ConfirmingPlace) -> None:
    while place.current is not None and place.current.claim.evidence.page == 1:
        press(qtbot, place, Deed.CONFIRM)
    (lit,) = place.pane.lit
    assert lit.parentItem() is place.pane.pages[1]


def test_the_rest_of_a_group_is_one_step(qtbot: QtBot, wiring: Wiring, place: ConfirmingPlace) -> None:
    press(qtbot, place, Deed.REJECT)
    press(qtbot, place, Deed.GROUP)
    statuses = [r.status for r in place.claims.claims() if r.claim.topic is Topic.GOES_OVER]
    assert statuses == [ClaimStatus.REJECTED, ClaimStatus.CONFIRMED, ClaimStatus.CONFIRMED]
    assert place.current is not None
    assert place.current.claim.topic is Topic.TOPPED_BY
    press(qtbot, place, Deed.UNDO)
    assert list(stored(wiring).values()).count(ClaimStatus.CONFIRMED) == 0
    assert list(stored(wiring).values()).count(ClaimStatus.REJECTED) == 1


def test_correcting_by_keys(qtbot: QtBot, wiring: Wiring, place: ConfirmingPlace) -> None:
    press(qtbot, place, Deed.CORRECT)
    assert place.form.isVisible()
    assert not place.list.isVisible()
    # Keys of the form are the form's: nothing is decided while it is open.
    place.do(Deed.CONFIRM)
    place.form._object.setCurrentText("sealers")
    place.form.keep()
    assert not place.form.isVisible()
    statuses = stored(wiring)
    assert [k for k, v in statuses.items() if v is ClaimStatus.CORRECTED]
    assert list(statuses.values()).count(ClaimStatus.CONFIRMED) == 0


def test_what_is_not_understood_keeps_the_form_open(qtbot: QtBot, place: ConfirmingPlace) -> None:
    press(qtbot, place, Deed.CORRECT)
    place.form._object.setCurrentText("")
    place.form.keep()
    assert "Say what it is about" in place.form.trouble
    assert place.form.isVisible()
    qtbot.keyClick(place.form, Qt.Key.Key_Escape)
    assert not place.form.isVisible()
    assert place.current is not None
    assert place.current.status is ClaimStatus.PROPOSED


def test_a_claim_is_added_from_words_on_the_page_and_undone(
    qtbot: QtBot, wiring: Wiring, place: ConfirmingPlace
) -> None:
    before = len(place.claims.claims())
    press(qtbot, place, Deed.ADD)
    assert not place.form.isVisible()
    place.pane.choose(WordRange(1, 3, 6))
    press(qtbot, place, Deed.ADD)
    assert place.form.isVisible()
    place.form._object.setCurrentText("Fern 12")
    place.form.keep()
    added = [r for r in place.claims.claims() if r.added_by_user]
    assert len(added) == 1
    assert added[0].claim.object == "product:Fern 12"
    assert added[0].claim.evidence.quote == " ".join(w.text for w in KEEPER.pages[0].words[3:7])
    press(qtbot, place, Deed.UNDO)
    assert len(place.claims.claims()) == before


def test_next_sheet_and_undo_across_sheets(qtbot: QtBot, place: ConfirmingPlace) -> None:
    press(qtbot, place, Deed.CONFIRM)
    qtbot.waitUntil(place.keys.button(Deed.NEXT_SHEET).isEnabled)
    press(qtbot, place, Deed.NEXT_SHEET)
    assert place.sheet is not None
    assert place.sheet.product.name == "Larkrise Etch 7"
    press(qtbot, place, Deed.UNDO)
    assert place.sheet.product.name == "Kestrel Bond 40"


def test_keys_work_from_the_page_too_but_enter_there_adds(qtbot: QtBot, place: ConfirmingPlace) -> None:
    first = place.current
    assert first is not None
    qtbot.keyClick(place.pane, Qt.Key.Key_X)
    row = place.claims.row_of(first.id)
    assert row is not None
    rejected = place.claims.record(row)
    assert rejected is not None
    assert rejected.status is ClaimStatus.REJECTED
    place.pane.choose(WordRange(1, 0, 1))
    qtbot.keyClick(place.pane, Qt.Key.Key_Return)
    assert place.form.isVisible()


def test_every_key_is_shown_on_a_button_that_does_the_same(qtbot: QtBot, place: ConfirmingPlace) -> None:
    for deed in Deed:
        key, words = KEY_WORDS[deed]
        assert key in place.keys.button(deed).text()
        assert words in place.keys.button(deed).text()
    first = place.current
    qtbot.mouseClick(place.keys.button(Deed.CONFIRM), Qt.MouseButton.LeftButton)
    assert place.current != first


def test_the_next_claim_stands_before_the_library_has_answered(qtbot: QtBot, place: ConfirmingPlace) -> None:
    first = place.current
    assert first is not None
    with qtbot.assertNotEmitted(place.claims.modelReset):
        press(qtbot, place, Deed.CONFIRM)
        QApplication.processEvents()
    assert place.current is not None
    assert place.current.id != first.id
