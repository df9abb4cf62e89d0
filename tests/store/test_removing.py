"""A sheet taken out is nowhere to be found, and comes back as it was."""

from __future__ import annotations

from pathlib import Path

import pytest
from made_sheets import FIVE_DAYS, SEVEN_DAYS, STEEL, THREE, reading

from store.errors import UnknownRecord
from store.job_records import ChangeScope, Tin
from store.library import Library
from store.records import FilingOutcome


def file(library: Library, content: bytes, *claims: object, **header: object) -> int:
    return library.file_sheet(content, "g.pdf", [reading(claims or THREE, **header)])[0].sheet.id  # type: ignore[arg-type]


def test_a_removed_sheet_answers_nothing_and_is_found_nowhere(library: Library) -> None:
    sheet = file(library, b"one")
    library.confirm([c.id for c in library.claims(sheet)])
    library.remove_sheet(sheet)
    assert library.sheets(include_superseded=True) == ()
    assert library.rules() == ()
    assert library.rules_for([library.removed_sheets()[0].product.id], ["primer.epoxy.2k"]) == ()
    assert library.search("bare steel") == ()
    assert library.search("granat") == library.search("vellmark") == ()
    assert library.products() == library.makers() == ()
    assert library.progress().decided == 0
    assert library.known_file(library.removed_sheets()[0].sha256) == ()
    with pytest.raises(UnknownRecord):
        library.sheet(sheet)
    with pytest.raises(UnknownRecord):
        library.remove_sheet(sheet)


def test_undo_and_restoring_bring_it_back_with_its_decisions(library: Library, folder: Path) -> None:
    sheet = file(library, b"one")
    library.confirm([c.id for c in library.claims(sheet)])
    rules, record = library.rules(), library.sheet(sheet)
    library.remove_sheet(sheet)
    library.undo_change(ChangeScope.SHEETS)
    assert (library.rules(), library.sheet(sheet)) == (rules, record)
    library.redo_change(ChangeScope.SHEETS)
    assert library.rules() == ()
    library.close()
    with Library.open(folder) as again:
        assert again.restore_sheet(sheet) == record
        assert again.rules() == rules
        assert again.removed_sheets() == ()
        assert again.pdf_path(sheet).exists(), "the PDF was not swept"


def test_filing_the_same_file_again_brings_its_sheet_back(library: Library) -> None:
    sheet = file(library, b"one")
    library.confirm([c.id for c in library.claims(sheet)])
    library.remove_sheet(sheet)
    (filed,) = library.file_sheet(b"one", "g.pdf", [reading(THREE)])
    assert (filed.outcome, filed.sheet.id) == (FilingOutcome.ALREADY_FILED, sheet)
    assert len(library.rules()) == 3


def test_an_older_issue_counts_again_until_the_newer_one_comes_back(library: Library) -> None:
    old = file(library, b"old", STEEL, SEVEN_DAYS, issued="2022-01-01")
    new = file(library, b"new", STEEL, FIVE_DAYS, issued="2024-01-01")
    assert [s.id for s in library.sheets()] == [new]
    library.remove_sheet(new)
    assert [s.id for s in library.sheets()] == [old]
    library.restore_sheet(new)
    assert [s.id for s in library.sheets()] == [new]
    library.undo_change(ChangeScope.SHEETS)
    assert [s.id for s in library.sheets()] == [old]
    library.undo_change(ChangeScope.SHEETS)
    assert [s.id for s in library.sheets()] == [new]
    assert [s.superseded_by for s in library.sheets(include_superseded=True)] == [new, None]


def test_a_still_newer_issue_filed_meanwhile_stays_the_current_one(library: Library) -> None:
    old = file(library, b"old", STEEL, SEVEN_DAYS, issued="2022-01-01")
    new = file(library, b"new", STEEL, FIVE_DAYS, issued="2023-01-01")
    library.remove_sheet(new)
    newest = file(library, b"newest", STEEL, issued="2024-01-01")
    library.undo_change(ChangeScope.SHEETS)
    assert [s.id for s in library.sheets()] == [newest]
    assert {s.id for s in library.sheets(include_superseded=True)} == {old, new, newest}


def test_removing_the_middle_of_three_issues_leaves_the_chain_whole(library: Library) -> None:
    ids = [file(library, b"%d" % year, STEEL, SEVEN_DAYS, issued=f"{year}-01-01") for year in (2021, 2022, 2023)]
    library.remove_sheet(ids[1])
    assert {s.id: s.superseded_by for s in library.sheets(include_superseded=True)} == {ids[0]: ids[2], ids[2]: None}
    library.remove_sheet(ids[2])
    assert [s.id for s in library.sheets()] == [ids[0]]


def test_a_product_with_a_tin_stays_known_without_its_sheet(library: Library) -> None:
    sheet = file(library, b"one")
    product = library.sheet(sheet).product
    library.add_tin(Tin(product.id, 500.0))
    library.remove_sheet(sheet)
    (known,) = library.products()
    assert (known.id, known.has_sheet) == (product.id, False)


def test_sheets_and_the_job_have_undo_histories_of_their_own(library: Library) -> None:
    sheet = file(library, b"one")
    product = library.sheet(sheet).product.id
    library.add_tin(Tin(product, 500.0))
    library.remove_sheet(sheet)
    library.undo_change(ChangeScope.JOB)
    assert library.tins() == ()
    assert library.sheets() == ()
    library.undo_change(ChangeScope.SHEETS)
    assert [s.id for s in library.sheets()] == [sheet]
