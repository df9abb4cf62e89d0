from __future__ import annotations

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from made_sheets import ETCH_NO, FIVE_DAYS, SEVEN_DAYS, STEEL, THREE, over, reading

from extract.claims import Stance
from store.library import Library
from store.records import HitKind


@pytest.fixture
def filled(library: Library) -> Library:
    library.file_sheet(b"1", "g.pdf", [reading(THREE, code="G-4711", more_words=["Crème brûlée tint, shake 30 times"])])
    library.file_sheet(b"2", "o.pdf", [reading([FIVE_DAYS], product="Opal 30", maker="Kieselhof")])
    return library


def kinds(library: Library, words: str) -> list[HitKind]:
    return [hit.kind for hit in library.search(words)]


def test_products_are_found_by_name_maker_code_and_beginnings(filled: Library) -> None:
    for words in ("gran", "Granat 12", "VELLM", "4711", "vellmark gran", "g-4711"):
        hit = filled.search(words)[0]
        assert (hit.kind, hit.title) == (HitKind.PRODUCT, "Granat 12"), words
    assert [h.title for h in filled.search("kiesel")] == ["Opal 30", "Kieselhof"]
    assert {h.title for h in filled.search("2k epoxy")} == {"Granat 12", "Opal 30"}, "what a painter calls its kind"


def test_every_word_counts(filled: Library) -> None:
    assert filled.search("granat kieselhof") == ()
    assert filled.search("steel elephants") == ()


def test_a_claim_is_found_with_its_place(filled: Library) -> None:
    (hit,) = [h for h in filled.search("acid etch") if h.kind is HitKind.CLAIM]
    claim = filled.claim(hit.claim_id or 0)
    assert hit.excerpt == ETCH_NO.evidence.quote
    assert (hit.sheet_id, hit.page, hit.boxes) == (claim.sheet_id, 1, claim.claim.evidence.boxes)


def test_words_of_the_page_are_found_without_their_accents(filled: Library) -> None:
    (hit,) = filled.search("creme brul")
    assert hit.kind is HitKind.PAGE
    assert "Crème brûlée tint," in hit.excerpt
    words = {w.text: w.box for w in filled.page_texts(hit.sheet_id or 0)[0].words}
    (box,) = hit.boxes
    assert (box[0], box[2]) == (words["Crème"][0], words["brûlée"][2])
    assert filled.search("BRÛLÉE")[0] == filled.search("brulee")[0]


def test_words_apart_are_lit_each_by_itself(filled: Library) -> None:
    (hit,) = filled.search("brulee shake")
    assert len(hit.boxes) == 2


def test_one_sentence_is_one_hit(library: Library) -> None:
    both = "Over primers and fillers of any make"
    library.file_sheet(b"1", "g.pdf", [reading([over("primer", both), over("filler", both)])])
    assert kinds(library, "fillers") == [HitKind.CLAIM, HitKind.PAGE]


def test_rejected_claims_are_not_found_and_confirmed_come_first(library: Library) -> None:
    library.file_sheet(b"1", "a.pdf", [reading([over("primer", "Over any primer")], product="Alpha")])
    library.file_sheet(b"2", "b.pdf", [reading([over("primer", "Over any primers")], product="Beta")])
    first, second = (library.claims(s.id)[0].id for s in library.sheets())
    library.confirm([second])
    assert [h.title for h in library.search("any prim") if h.kind is HitKind.CLAIM] == ["Beta", "Alpha"]
    library.reject([first])
    assert [h.title for h in library.search("any prim") if h.kind is HitKind.CLAIM] == ["Beta"]


def test_an_issue_that_was_replaced_is_not_found(library: Library) -> None:
    library.file_sheet(b"1", "g.pdf", [reading([SEVEN_DAYS])])
    assert kinds(library, "overcoat 7") == [HitKind.CLAIM, HitKind.PAGE]
    library.file_sheet(b"2", "g.pdf", [reading([FIVE_DAYS], issued="2024-01-01")])
    assert library.search("overcoat 7") == ()
    assert kinds(library, "overcoat 5") == [HitKind.CLAIM, HitKind.PAGE]


def test_notes_are_found_as_long_as_they_stand(filled: Library) -> None:
    product = filled.products()[0]
    note = filled.write_note(product.id, "Läuft gern an kalten Tagen")
    (hit,) = filled.search("kalten")
    assert (hit.kind, hit.product_id, hit.excerpt) == (HitKind.NOTE, product.id, "Läuft gern an kalten Tagen")
    filled.write_note(product.id, "Doch nicht", note.id)
    assert filled.search("kalten") == ()
    filled.remove_note(note.id)
    assert filled.search("doch") == ()


def test_a_product_is_found_by_its_new_name_only(filled: Library) -> None:
    product = filled.products()[0]
    filled.change_product(product.id, name="Rubin 9")
    assert filled.search("rubin")[0].title == "Rubin 9"
    assert HitKind.PRODUCT not in kinds(filled, "granat")


def test_no_more_than_asked_for_and_each_sort_has_its_share(library: Library) -> None:
    sentences = [over("primer", f"Primer number {n}", stance=Stance.PERMITS) for n in range(40)]
    for n in range(12):
        library.file_sheet(bytes([n]), "p.pdf", [reading([*sentences, STEEL], product=f"Primer {n}", issued=None)])
    hits = library.search("prim", limit=12)
    assert len(hits) == 12
    assert {HitKind.PRODUCT, HitKind.CLAIM, HitKind.PAGE} <= {h.kind for h in hits}
    assert library.search("prim", limit=0) == ()


@given(
    words=st.one_of(st.text(max_size=40), st.sampled_from(['"', "a AND", "NEAR(", "x*", "a OR b", "-", "^a", "col:b"]))
)
@settings(max_examples=150, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_no_input_is_taken_for_an_operator(library: Library, words: str) -> None:
    assert library.search(words) == ()
