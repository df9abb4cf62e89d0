from __future__ import annotations

import hashlib
from collections.abc import Sequence
from dataclasses import replace
from itertools import permutations
from pathlib import Path
from typing import Any

import pytest
from made_sheets import ETCH_NO, FIVE_DAYS, SEVEN_DAYS, STEEL, THREE, evidence, over, reading

from extract.claims import Claim, Stance
from store.errors import PdfMissing, UnknownRecord
from store.library import Library
from store.records import ClaimStatus, Filed, FilingOutcome, RuleOrigin


def quotes(library: Library, sheet_id: int, status: ClaimStatus) -> list[str]:
    return [c.claim.evidence.quote for c in library.claims(sheet_id) if c.status is status]


def file_one(library: Library, content: bytes, claims: Sequence[Claim], **how: Any) -> Filed:
    (filed,) = library.file_sheet(content, "granat.pdf", [reading(claims, **how)])
    return filed


def test_everything_read_comes_back_as_it_went_in(library: Library) -> None:
    read = reading(THREE, code="G-12", revision="4", more_words=["Store frost-free"])
    (filed,) = library.file_sheet(b"%PDF one", "Datenblatt ä.pdf", [read])
    assert filed.outcome is FilingOutcome.FILED
    assert filed.waiting == 3
    sheet = library.sheet(filed.sheet.id)
    assert (sheet.file_name, sheet.issued, sheet.revision, sheet.language) == (
        "Datenblatt ä.pdf",
        "2023-04-01",
        "4",
        "en",
    )
    assert sheet.sha256 == hashlib.sha256(b"%PDF one").hexdigest()
    assert (sheet.product.name, sheet.product.maker, sheet.product.code) == ("Granat 12", "Vellmark", "G-12")
    claims = library.claims(sheet.id)
    assert tuple(c.claim for c in claims) == read.claims
    assert [c.claim.why for c in claims] == [c.why for c in read.claims]
    assert library.page_texts(sheet.id) == read.pages
    assert library.pdf_path(sheet.id).read_bytes() == b"%PDF one"
    assert library.reader_of(sheet.id) == "1"


def test_the_same_bytes_are_already_filed(library: Library) -> None:
    first = file_one(library, b"one", THREE)
    again = file_one(library, b"one", THREE)
    assert again.outcome is FilingOutcome.ALREADY_FILED
    assert again.sheet == first.sheet
    assert library.known_file(first.sheet.sha256) == (first.sheet,)
    assert library.known_file("0" * 64) == ()
    assert len(library.sheets(include_superseded=True)) == 1


def test_two_files_of_one_name_are_two_files(library: Library) -> None:
    file_one(library, b"one", THREE, product="Granat 12")
    file_one(library, b"two", THREE, product="Opal 30")
    assert [s.file_name for s in library.sheets()] == ["granat.pdf", "granat.pdf"]
    assert len({library.pdf_path(s.id) for s in library.sheets()}) == 2


def test_one_file_with_several_products_is_one_sheet_each(library: Library) -> None:
    readings = [reading(THREE, product="Granat 12"), reading([STEEL], product="Granat 14")]
    filed = library.file_sheet(b"both", "range.pdf", readings)
    assert [f.sheet.product.name for f in filed] == ["Granat 12", "Granat 14"]
    assert [f.waiting for f in filed] == [3, 1]
    assert len(library.known_file(filed[0].sheet.sha256)) == 2


def test_no_reading_is_refused(library: Library) -> None:
    with pytest.raises(ValueError, match="at least one"):
        library.file_sheet(b"x", "x.pdf", [])


def test_a_newer_issue_takes_the_place_and_carries_what_still_stands(library: Library) -> None:
    old = file_one(library, b"old", THREE)
    ids = [c.id for c in library.claims(old.sheet.id)]
    library.confirm(ids[:1])
    library.reject(ids[1:2])
    library.confirm(ids[2:])
    # Spacing and dashes are printed otherwise in the new issue; the sentence is the same.
    steel = replace(STEEL, evidence=replace(STEEL.evidence, quote="Apply  to clean bare steel."))
    new = file_one(library, b"new", [steel, ETCH_NO, FIVE_DAYS], issued="2024-01-01")
    assert new.outcome is FilingOutcome.NEWER_ISSUE
    assert new.carried == 2
    assert new.waiting == 1
    assert [d.words for d in new.differences] == ["latest overcoat 7 days -> 5 days at 20 °C"]
    assert library.sheet(old.sheet.id).superseded_by == new.sheet.id
    assert quotes(library, new.sheet.id, ClaimStatus.CONFIRMED) == ["Apply  to clean bare steel."]
    assert quotes(library, new.sheet.id, ClaimStatus.REJECTED) == [ETCH_NO.evidence.quote]
    carried = library.claims(new.sheet.id)[0]
    assert carried.decided_by == "Ines"
    assert carried.decided_at == library.claims(old.sheet.id)[0].decided_at
    # The old issue keeps all of it, and answers no more.
    assert library.claims(old.sheet.id)[2].status is ClaimStatus.CONFIRMED
    assert {r.sheet.sheet_id for r in library.rules()} == {new.sheet.id}
    assert [s.id for s in library.sheets()] == [new.sheet.id]
    assert [s.id for s in library.sheets_of(new.sheet.product.id)] == [new.sheet.id, old.sheet.id]


def test_a_sentence_with_another_value_is_not_carried(library: Library) -> None:
    old = file_one(library, b"old", [SEVEN_DAYS])
    library.confirm([library.claims(old.sheet.id)[0].id])
    reread_otherwise = replace(SEVEN_DAYS, high=7200.0)
    new = file_one(library, b"new", [reread_otherwise], issued="2024-01-01")
    assert new.carried == 0
    assert library.rules() == ()
    assert library.claims(new.sheet.id)[0].status is ClaimStatus.PROPOSED


def test_a_correction_is_carried_with_its_place_on_the_new_page(library: Library) -> None:
    old = file_one(library, b"old", [SEVEN_DAYS])
    (claim,) = library.claims(old.sheet.id)
    library.correct(claim.id, replace(claim.claim, high=4320.0))
    new = file_one(library, b"new", [STEEL, SEVEN_DAYS], issued="2024-01-01")
    assert new.carried == 1
    (rule,) = library.rules()
    assert rule.claim.high == 4320.0
    assert rule.origin is RuleOrigin.CORRECTED
    assert rule.claim.evidence == library.claims(new.sheet.id)[1].printed.evidence


def test_what_the_user_read_out_is_carried_where_its_words_still_stand(library: Library) -> None:
    old = file_one(library, b"old", [STEEL], more_words=["Never over bitumen", "Never over wax"])
    for kind, words in (("finish.bitumen", "Never over bitumen"), ("sealant.cavity", "Never over wax")):
        library.add_claim(old.sheet.id, over(kind, words, stance=Stance.FORBIDS))
    new = file_one(library, b"new", [STEEL], more_words=["Frost-free", "Never over bitumen."], issued="2024-01-01")
    assert new.carried == 1
    (own,) = [c for c in library.claims(new.sheet.id) if c.added_by_user]
    assert own.claim.object == "finish.bitumen"
    assert own.claim.evidence == evidence("Never over bitumen.", line=2)
    assert own.status is ClaimStatus.CONFIRMED
    assert [d.words for d in new.differences] == ["gone: over cavity wax: forbidden"]
    assert [r.claim.object for r in library.rules()] == ["finish.bitumen"]


def test_undo_reaches_a_decision_that_was_carried(library: Library) -> None:
    old = file_one(library, b"old", THREE)
    library.confirm([library.claims(old.sheet.id)[0].id])
    new = file_one(library, b"new", THREE, issued="2024-01-01")
    assert len(library.rules()) == 1
    library.undo()
    assert library.rules() == ()
    assert library.progress(new.sheet.id).waiting == 3
    library.redo()
    assert [r.sheet.sheet_id for r in library.rules()] == [new.sheet.id]


def test_older_issues_are_filed_beneath_in_their_order(library: Library) -> None:
    newest = file_one(library, b"2024", [FIVE_DAYS], issued="2024-01-01")
    oldest = file_one(library, b"2019", [SEVEN_DAYS], issued="2019-01-01")
    middle = file_one(library, b"2021", [SEVEN_DAYS], issued="2021-01-01")
    assert (oldest.outcome, middle.outcome) == (FilingOutcome.OLDER_ISSUE, FilingOutcome.OLDER_ISSUE)
    assert library.sheet(oldest.sheet.id).superseded_by == middle.sheet.id
    assert library.sheet(middle.sheet.id).superseded_by == newest.sheet.id
    assert [s.id for s in library.sheets()] == [newest.sheet.id]
    assert library.proposals()[0].claim.high == 7200.0


def test_issues_filed_in_any_order_end_in_the_same_chain(library: Library) -> None:
    dates = ("2019-01-01", "2021-06-01", "2022-01-01", "2024-01-01")
    for turn, order in enumerate(permutations(dates)):
        for issued in order:
            file_one(library, f"{turn} {issued}".encode(), [SEVEN_DAYS], product=f"Product {turn}", issued=issued)
        sheets = {s.issued: s for s in library.sheets(include_superseded=True) if s.product.name == f"Product {turn}"}
        above = {issued: sheets[issued].superseded_by for issued in dates}
        assert above == {
            dates[0]: sheets[dates[1]].id,
            dates[1]: sheets[dates[2]].id,
            dates[2]: sheets[dates[3]].id,
            dates[3]: None,
        }, order


def test_a_misreading_that_was_rejected_is_no_news_when_it_is_gone(library: Library) -> None:
    old = file_one(library, b"old", [STEEL, ETCH_NO])
    library.reject([library.claims(old.sheet.id)[1].id])
    assert file_one(library, b"new", [STEEL], issued="2024-01-01").differences == ()


def test_the_revision_decides_on_the_same_date(library: Library) -> None:
    file_one(library, b"a", [SEVEN_DAYS], revision="Rev. 9")
    newer = file_one(library, b"b", [FIVE_DAYS], revision="Rev. 10")
    assert newer.outcome is FilingOutcome.NEWER_ISSUE


def test_where_nothing_tells_the_later_one_both_stay_current(library: Library) -> None:
    file_one(library, b"a", [SEVEN_DAYS], issued=None)
    second = file_one(library, b"b", [FIVE_DAYS], issued=None)
    assert second.outcome is FilingOutcome.FILED
    assert len(library.sheets()) == 2
    assert second.sheet.product == library.sheets()[0].product


def test_the_same_sheet_saved_anew_takes_the_place(library: Library) -> None:
    first = file_one(library, b"a", THREE, issued=None)
    library.confirm([c.id for c in library.claims(first.sheet.id)])
    again = file_one(library, b"a with other metadata", THREE, issued=None)
    assert again.outcome is FilingOutcome.NEWER_ISSUE
    assert (again.carried, again.waiting, again.differences) == (3, 0, ())


def test_a_sheet_in_another_language_displaces_nothing(library: Library) -> None:
    file_one(library, b"en", [SEVEN_DAYS])
    german = file_one(library, b"de", [FIVE_DAYS], language="de", issued="2024-01-01")
    assert german.outcome is FilingOutcome.FILED
    assert len(library.sheets()) == 2


def test_code_numbers_are_told_apart_exactly(library: Library) -> None:
    file_one(library, b"a", THREE, product="EX 4711", code="4711")
    other = file_one(library, b"b", THREE, product="EX 4712", code="4712", issued="2024-01-01")
    assert other.outcome is FilingOutcome.FILED
    assert len(library.products()) == 2


def test_what_the_user_put_right_outlasts_the_next_issue(library: Library) -> None:
    first = file_one(library, b"a", THREE, product="Garnat l2", maker="VELLMARK GmbH", kind="primer")
    product = library.change_product(first.sheet.product.id, name="Granat 12", kind="primer.epoxy.2k", maker="Vellmark")
    assert (product.name, product.maker, product.kind) == ("Granat 12", "Vellmark", "primer.epoxy.2k")
    misread = file_one(
        library,
        b"b",
        [FIVE_DAYS],
        product="Garnat l2",
        maker="VELLMARK GmbH",
        kind="primer",
        issued="2024-01-01",
        code="77",
    )
    assert misread.outcome is FilingOutcome.NEWER_ISSUE
    assert misread.sheet.product.name == "Granat 12"
    assert misread.sheet.product.maker == "Vellmark"
    assert misread.sheet.product.kind == "primer.epoxy.2k"
    assert misread.sheet.product.code == "77"
    assert library.makers() == ("Vellmark",)
    rightly_read = file_one(library, b"c", [FIVE_DAYS], product="Granat 12", issued="2025-01-01")
    assert rightly_read.sheet.product.id == product.id


def test_reading_again_keeps_every_decision_and_lists_what_differs(library: Library) -> None:
    rusted = over("surface.steel.rusted", "Not over rust", stance=Stance.FORBIDS)
    first = file_one(library, b"a", [*THREE, rusted])
    steel, etch, days, rust = library.claims(first.sheet.id)
    library.confirm([steel.id])
    library.correct(days.id, replace(days.claim, high=4320.0))
    library.add_claim(first.sheet.id, over("surface.zinc", "Not over rust"))
    zinc = over("surface.zinc", "Apply to clean bare steel")
    surer = replace(STEEL, confidence=0.99)
    newer = reading([surer, zinc, rusted], reader="2", more_words=[SEVEN_DAYS.evidence.quote])
    filed = library.reread(first.sheet.id, newer)
    now = {c.id: c for c in library.claims(first.sheet.id)}
    assert now[steel.id].status is ClaimStatus.CONFIRMED
    assert now[steel.id].claim.confidence == 0.99
    assert now[days.id].claim.high == 4320.0, "decided: stays although the newer reader does not find it"
    assert etch.id not in now, "nobody had decided it"
    assert now[rust.id].status is ClaimStatus.PROPOSED
    assert filed.waiting == 2
    assert sorted(d.words for d in filed.differences) == [
        "gone: earliest overcoat 1 h, latest overcoat 7 days at 20 °C",
        "gone: over etch primer: forbidden",
        "new: over galvanised steel: permitted",
    ]
    assert library.reader_of(first.sheet.id) == "2"
    assert [w.text for w in library.page_texts(first.sheet.id)[0].words] == [w.text for w in newer.pages[0].words]
    library.undo()
    library.undo()
    library.undo()
    assert library.claim(steel.id).status is ClaimStatus.PROPOSED


def test_reading_one_product_again_leaves_the_others_pages(library: Library) -> None:
    filed = library.file_sheet(b"x", "x.pdf", [reading([STEEL], product="A one"), reading([ETCH_NO], product="B two")])
    before = library.page_texts(filed[1].sheet.id)
    library.reread(filed[0].sheet.id, replace(reading([STEEL], product="A one"), pages=()))
    assert library.page_texts(filed[1].sheet.id) == before


def test_unknown_ids_are_said_to_be_unknown(library: Library) -> None:
    for ask in (library.sheet, library.claims, library.claim, library.page_texts, library.pdf_path, library.product):
        with pytest.raises(UnknownRecord):
            ask(99)  # type: ignore[operator]
    with pytest.raises(UnknownRecord):
        library.reread(99, reading(THREE))


def test_a_pdf_taken_away_is_missed_and_filing_it_again_mends(library: Library) -> None:
    filed = file_one(library, b"one", THREE)
    library.pdf_path(filed.sheet.id).unlink()
    with pytest.raises(PdfMissing):
        library.pdf_path(filed.sheet.id)
    assert file_one(library, b"one", THREE).outcome is FilingOutcome.ALREADY_FILED
    assert library.pdf_path(filed.sheet.id).read_bytes() == b"one"


def test_orphans_of_a_killed_filing_are_swept_at_open(folder: Path) -> None:
    with Library.open(folder) as library:
        kept = library.pdf_path(file_one(library, b"one", THREE).sheet.id)
    orphan = kept.with_name("0" * 64 + ".pdf")
    orphan.write_bytes(b"never committed")
    kept.with_name(kept.name + ".part").write_bytes(b"half")
    Library.open(folder).close()
    assert list(kept.parent.iterdir()) == [kept]


def test_rules_for_a_question_load_only_what_it_asks_of(library: Library) -> None:
    etch = file_one(library, b"a", [STEEL], product="Etch", kind="primer.etch.1k")
    epoxy = file_one(library, b"b", [ETCH_NO], product="Granat")
    filler = file_one(library, b"c", [over("primer", "Over primers")], product="Fil", kind="filler.polyester")
    for filed in (etch, epoxy, filler):
        library.confirm([c.id for c in library.claims(filed.sheet.id)])
    pair = library.rules_for([etch.sheet.product.id], ["filler.polyester"])
    assert {r.sheet.product for r in pair} == {"Etch", "Fil"}
    assert len(library.rules()) == 3
    assert library.rules([]) == ()
    assert library.rules_for([]) == ()
    assert [r.sheet.product for r in library.rules([epoxy.sheet.product.id])] == ["Granat"]
    assert library.proposals() == ()
