from __future__ import annotations

import pytest
from made_sheets import ETCH_NO, FIVE_DAYS, SEVEN_DAYS, STEEL, reading

from store.errors import UnknownRecord
from store.library import Library
from store.records import FilingOutcome


def test_a_misread_newer_issue_takes_its_place_once_its_name_is_put_right(library: Library) -> None:
    (old,) = library.file_sheet(b"1", "a.pdf", [reading([STEEL, SEVEN_DAYS])])
    library.confirm([c.id for c in library.claims(old.sheet.id)])
    library.write_note(old.sheet.product.id, "sprays well")
    (new,) = library.file_sheet(
        b"2", "b.pdf", [reading([STEEL, FIVE_DAYS], product="Technical information", issued="2024-01-01", code="9")]
    )
    assert (new.outcome, len(library.rules())) == (FilingOutcome.FILED, 2)
    product = library.change_product(new.sheet.product.id, name="Granat 12")
    assert library.products() == (product,)
    assert (product.id, product.code) == (new.sheet.product.id, "9")
    assert library.sheet(old.sheet.id).superseded_by == new.sheet.id
    assert [(r.sheet.sheet_id, r.claim.object) for r in library.rules()] == [(new.sheet.id, "surface.steel")]
    assert (library.sheet(new.sheet.id).waiting, library.sheet(new.sheet.id).decided) == (1, 1)
    assert [n.text for n in library.notes(product.id)] == ["sprays well"]
    with pytest.raises(UnknownRecord):
        library.product(old.sheet.product.id)
    (third,) = library.file_sheet(b"3", "c.pdf", [reading([STEEL], issued="2025-01-01")])
    assert (third.outcome, third.sheet.product.id) == (FilingOutcome.NEWER_ISSUE, product.id)


def test_another_code_or_maker_keeps_two_products_two(library: Library) -> None:
    library.file_sheet(b"1", "a.pdf", [reading([STEEL], code="4711")])
    (coded,) = library.file_sheet(b"2", "b.pdf", [reading([ETCH_NO], product="Opal", code="4712")])
    (foreign,) = library.file_sheet(b"3", "c.pdf", [reading([ETCH_NO], product="Kies", maker="Kieselhof")])
    for filed in (coded, foreign):
        library.change_product(filed.sheet.product.id, name="Granat 12")
    assert len(library.products()) == 3


def test_two_products_of_one_file_stay_two(library: Library) -> None:
    filed = library.file_sheet(b"1", "a.pdf", [reading([STEEL], product="Slow"), reading([ETCH_NO], product="Fast")])
    library.change_product(filed[1].sheet.product.id, name="Slow")
    assert len(library.products()) == 2
    assert len(library.sheets()) == 2


def test_several_issues_end_in_their_order(library: Library) -> None:
    ids = {}
    for issued, name in (("2021-01-01", "A"), ("2019-01-01", "B"), ("2024-01-01", "C")):
        (filed,) = library.file_sheet(issued.encode(), "a.pdf", [reading([STEEL], product=name, issued=issued)])
        ids[issued] = filed.sheet
    library.change_product(ids["2019-01-01"].product.id, name="A")
    library.change_product(ids["2024-01-01"].product.id, name="A")
    above = {s.issued: s.superseded_by for s in library.sheets(include_superseded=True)}
    assert above == {"2019-01-01": ids["2021-01-01"].id, "2021-01-01": ids["2024-01-01"].id, "2024-01-01": None}
    assert len(library.products()) == 1
