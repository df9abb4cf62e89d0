"""The lists of sheets, files and claims keep Qt's rules, and say what the records say."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import pytest
from PySide6.QtCore import Qt

from app.confirming.model import ROW_ROLE, ClaimList
from app.filing.model import FileTable, SheetTable, item_words
from app.filing.queue import FileState, FilingItem
from app.filing.words import cells
from app.messages import Message
from extract.claims import Claim, Evidence, Stance, Topic
from store.records import ClaimRecord, ClaimStatus, Filed, FilingOutcome, ProductRecord, SheetRecord

PRODUCT = ProductRecord(3, "Fern 12", "Hollin & Reeve", "primer.epoxy.2k")
FILED_AT = datetime(2024, 5, 1, tzinfo=UTC)
SHEET = replace(
    SheetRecord(5, PRODUCT, "fern.pdf", "0" * 64, 2, "2024-03-01", None, "en", False, FILED_AT), waiting=4, decided=2
)


def claim_record(number: int, topic: Topic = Topic.FILM, status: ClaimStatus = ClaimStatus.PROPOSED) -> ClaimRecord:
    evidence = Evidence(1, f"quote {number}", ())
    claim = Claim(topic, "coats", Stance.STATES, evidence, low=2.0, high=2.0, unit="count")
    return ClaimRecord(number, 5, claim, claim, status)


def test_sheet_table(qtmodeltester: Any) -> None:
    table = SheetTable()
    table.set_sheets([SHEET, replace(SHEET, id=6)])
    qtmodeltester.check(table)
    assert cells(SHEET) == ("Fern 12", "Hollin & Reeve", "2K epoxy primer", "1 March 2024", "4 of 6 wait")
    assert table.row_of(6) == 1
    assert table.row_of(7) is None


def test_a_sheet_that_changes_in_place_does_not_reset_the_list(qtbot: Any) -> None:
    table = SheetTable()
    table.set_sheets([SHEET, replace(SHEET, id=6)])
    with qtbot.assertNotEmitted(table.modelReset), qtbot.waitSignal(table.dataChanged) as changed:
        table.set_sheets([SHEET, replace(SHEET, id=6, waiting=0)])
    assert changed.args[0].row() == 1
    assert table.index(1, 4).data() == "all 2 decided"


def test_file_table(qtmodeltester: Any) -> None:
    table = FileTable()
    table.add([FilingItem(0, Path("a.pdf")), FilingItem(1, Path("b.pdf"), FileState.READING, 2, 3)])
    qtmodeltester.check(table)
    table.change(FilingItem(0, Path("a.pdf"), FileState.CANCELLED))
    assert table.index(0, 1).data() == "taken out, nothing filed"


@pytest.mark.parametrize(
    ("item", "words"),
    [
        (FilingItem(0, Path("a")), "waiting its turn"),
        (FilingItem(0, Path("a"), FileState.READING, 2, 5), "reading page 2 of 5"),
        (FilingItem(0, Path("a"), FileState.READING), "opening"),
        (
            FilingItem(0, Path("a"), FileState.FILED, filed=(Filed(FilingOutcome.FILED, SHEET, 1),)),
            "filed: 1 waits to be confirmed",
        ),
        (
            FilingItem(0, Path("a"), FileState.FILED, filed=(Filed(FilingOutcome.FILED, SHEET, 4),) * 2),
            "filed: 8 wait to be confirmed for 2 products",
        ),
        (
            FilingItem(0, Path("a"), FileState.NEWER_ISSUE, filed=(Filed(FilingOutcome.NEWER_ISSUE, SHEET, 4, 2),)),
            "newer issue of Fern 12: 4 wait to be confirmed, 2 confirmed before still stand",
        ),
        (
            FilingItem(
                0,
                Path("a"),
                FileState.FILED,
                filed=(Filed(FilingOutcome.FILED, replace(SHEET, problems=("Page 3 was not read.",)), 4),),
            ),
            "filed: 4 wait to be confirmed, not all of it could be read",
        ),
        (
            FilingItem(
                0, Path("a"), FileState.FILED, filed=(Filed(FilingOutcome.FILED, replace(SHEET, scanned=True), 0),)
            ),
            "filed: its pages are pictures without text, so nothing could be read out of them",
        ),
        (FilingItem(0, Path("a"), FileState.ALREADY_FILED, known=(SHEET,)), "already filed, as Fern 12"),
        (FilingItem(0, Path("a"), FileState.NOT_READ, message=Message("Torn.")), "Torn."),
    ],
)
def test_what_became_of_a_file_is_said(item: FilingItem, words: str) -> None:
    assert item_words(item) == words


def test_claim_list(qtmodeltester: Any) -> None:
    claims = ClaimList()
    claims.show_claims([claim_record(1), claim_record(2), claim_record(3, Topic.SAFETY)], "Fern 12")
    qtmodeltester.check(claims)
    assert not claims.flags(claims.index(0)) & Qt.ItemFlag.ItemIsSelectable
    assert claims.waiting() == 3
    assert "quote 1" in claims.index(1).data(Qt.ItemDataRole.AccessibleTextRole)


def test_a_decision_changes_one_row_and_resets_nothing(qtbot: Any) -> None:
    claims = ClaimList()
    claims.show_claims([claim_record(n) for n in range(1, 200)], "Fern 12")
    row = claims.row_of(77)
    with qtbot.assertNotEmitted(claims.modelReset), qtbot.waitSignal(claims.dataChanged) as changed:
        claims.take([claim_record(77, status=ClaimStatus.CONFIRMED)])
    assert changed.args[0].row() == row
    assert claims.index(row).data(ROW_ROLE).status is ClaimStatus.CONFIRMED


def test_an_added_claim_takes_its_place_in_the_order() -> None:
    claims = ClaimList()
    claims.show_claims([claim_record(1)], "Fern 12")
    claims.take([claim_record(2), claim_record(3, Topic.GOES_OVER)])
    assert [r.id for r in claims.claims()] == [3, 1, 2]
    assert claims.row_of(3) == 1
