from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from made_sheets import THREE, evidence, over, reading

from extract.claims import Stance
from store.errors import ReadingOnly, UnknownRecord
from store.library import Library
from store.records import ClaimStatus, DecisionKind, Progress, RuleOrigin


@pytest.fixture
def sheet_id(library: Library) -> int:
    return library.file_sheet(b"one", "granat.pdf", [reading(THREE)])[0].sheet.id


def statuses(library: Library, sheet_id: int) -> list[str]:
    return [c.status.value for c in library.claims(sheet_id)]


def test_confirming_makes_rules_and_only_that(library: Library, sheet_id: int) -> None:
    ids = [c.id for c in library.claims(sheet_id)]
    assert library.rules() == ()
    (confirmed,) = library.confirm(ids[:1])
    assert (confirmed.status, confirmed.decided_by) == (ClaimStatus.CONFIRMED, "Ines")
    library.reject(ids[1:2])
    assert [(r.id, r.origin) for r in library.rules()] == [(ids[0], RuleOrigin.SHEET)]
    assert [p.id for p in library.proposals()] == [ids[2]]
    assert library.progress() == library.progress(sheet_id) == Progress(decided=2, waiting=1)
    assert library.sheet(sheet_id).waiting == 1
    rule = library.rules()[0]
    assert (rule.sheet.product, rule.sheet.maker, rule.sheet.file_name) == ("Granat 12", "Vellmark", "granat.pdf")


def test_a_correction_keeps_what_was_printed(library: Library, sheet_id: int) -> None:
    claim = library.claims(sheet_id)[2]
    (corrected,) = library.correct(claim.id, replace(claim.claim, high=4320.0))
    assert corrected.status is ClaimStatus.CORRECTED
    assert (corrected.claim.high, corrected.printed.high) == (4320.0, 10080.0)
    assert library.rules()[0].claim.high == 4320.0
    library.confirm([claim.id])
    assert library.claim(claim.id) == corrected, "confirming a correction changes nothing"
    library.reject([claim.id])
    assert library.claim(claim.id).claim.high == 10080.0
    library.undo()
    assert library.claim(claim.id).claim.high == 4320.0


def test_several_claims_confirmed_at_once_are_one_step(library: Library, sheet_id: int) -> None:
    library.confirm([c.id for c in library.claims(sheet_id)])
    assert statuses(library, sheet_id) == ["confirmed"] * 3
    assert len(library.undo()) == 3
    assert statuses(library, sheet_id) == ["proposed"] * 3
    assert not library.can_undo()
    assert library.undo() == ()
    assert len(library.redo()) == 3
    assert library.redo() == ()


def test_what_changes_nothing_is_no_step(library: Library, sheet_id: int) -> None:
    first = library.claims(sheet_id)[0].id
    library.confirm([first])
    library.confirm([first, first])
    library.undo()
    assert not library.can_undo()


def test_an_added_claim_is_a_rule_until_undone(library: Library, sheet_id: int) -> None:
    own = replace(over("surface.zinc", "Never on zinc", stance=Stance.FORBIDS), evidence=evidence("Never on zinc", 5))
    (added,) = library.add_claim(sheet_id, own)
    assert added.added_by_user
    assert added.claim == own
    assert library.claims(sheet_id)[-1] == added
    assert [r.claim for r in library.rules()] == [own]
    assert library.undo() == ()
    assert library.rules() == ()
    assert len(library.claims(sheet_id)) == 3
    assert library.search("never on zinc") == ()
    with pytest.raises(UnknownRecord):
        library.confirm([added.id])
    assert library.redo() == (added,)


def test_a_new_step_drops_what_was_undone(library: Library, sheet_id: int) -> None:
    first, second, _ = (c.id for c in library.claims(sheet_id))
    library.confirm([first])
    library.undo()
    library.reject([second])
    assert not library.can_redo()
    library.undo()
    assert not library.can_undo()
    assert statuses(library, sheet_id) == ["proposed"] * 3


def test_history_keeps_every_turn(library: Library, sheet_id: int) -> None:
    claim = library.claims(sheet_id)[2]
    corrected = replace(claim.claim, high=4320.0)
    library.confirm([claim.id])
    library.correct(claim.id, corrected)
    library.undo()
    library.redo()
    library.reject([claim.id])
    turns = library.history(claim.id)
    assert [t.kind for t in turns] == [
        DecisionKind.CONFIRM,
        DecisionKind.CORRECT,
        DecisionKind.UNDO,
        DecisionKind.REDO,
        DecisionKind.REJECT,
    ]
    assert [t.status.value for t in turns] == ["confirmed", "corrected", "confirmed", "corrected", "rejected"]
    assert [t.value for t in turns] == [None, corrected, None, corrected, None]
    assert {t.who for t in turns} == {"Ines"}
    assert list(turns) == sorted(turns, key=lambda t: t.at)


def test_undo_and_redo_reach_over_a_restart(folder: Path) -> None:
    with Library.open(folder, who="Ines") as library:
        sheet_id = library.file_sheet(b"one", "g.pdf", [reading(THREE)])[0].sheet.id
        ids = [c.id for c in library.claims(sheet_id)]
        library.confirm(ids[:2])
        library.reject(ids[2:])
        library.undo()
    with Library.open(folder, who="Tom") as library:
        assert statuses(library, sheet_id) == ["confirmed", "confirmed", "proposed"]
        assert (library.can_undo(), library.can_redo()) == (True, True)
        library.redo()
        library.undo()
        library.undo()
        assert statuses(library, sheet_id) == ["proposed"] * 3
        assert library.history(ids[0])[-1].who == "Tom"
        library.redo()
        assert library.claim(ids[0]).decided_by == "Ines"


def test_nothing_happens_where_one_id_is_unknown(library: Library, sheet_id: int) -> None:
    first = library.claims(sheet_id)[0].id
    with pytest.raises(UnknownRecord):
        library.confirm([first, 999])
    with pytest.raises(UnknownRecord):
        library.add_claim(999, THREE[0])
    assert statuses(library, sheet_id) == ["proposed"] * 3
    assert not library.can_undo()


def test_a_library_opened_for_reading_takes_no_decision(library: Library, sheet_id: int, folder: Path) -> None:
    first = library.claims(sheet_id)[0].id
    with Library.open(folder, read_only=True) as beside:
        assert len(beside.claims(sheet_id)) == 3
        with pytest.raises(ReadingOnly):
            beside.confirm([first])
        library.confirm([first])
        assert beside.claim(first).status is ClaimStatus.CONFIRMED
