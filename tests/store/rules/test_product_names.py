"""Names as people and sheets write them."""

from __future__ import annotations

import pytest
from paper import EPOXY, SHELF, SURFACER, sheet_of

from store.records import ProductRecord
from store.rules.names import Certainty, KindName, Likeness, Unknown, complete, likeness, meant_by, resolve, same_maker

COLUMBIC = ProductRecord(20, "Harle 40", "Vellmark", "filler.polyester")
TWINS = (ProductRecord(21, "EX 4711", "Ostmoor", "primer"), ProductRecord(22, "EX 4712", "Ostmoor", "primer"))


@pytest.mark.parametrize(
    ("written", "found"),
    [
        ("Granat 12", "Granat 12"),
        ("product:Granat 12", "Granat 12"),
        ("granat12", "Granat 12"),
        ("GRANAT-12", "Granat 12"),
        ("Vellmark Granat 12", "Granat 12"),
        ("Granat 12 epoxy primer", "Granat 12"),
        ("Granat", "Granat 12"),
        ("Grannat 12", "Granat 12"),
        ("V-1200", "Granat 12"),
        ("NK-310 Plainfield", "NK-310 Plainfield"),
        ("nk 310", "NK-310 Plainfield"),
        ("Plainfield", "NK-310 Plainfield"),
        ("product:NK310", "NK-310 Plainfield"),
        ("fugex  glas", "Fugex Glas"),
    ],
)
def test_a_product_is_found_as_a_person_would_write_it(written: str, found: str) -> None:
    meaning = resolve(written, SHELF)
    assert isinstance(meaning, ProductRecord)
    assert meaning.name == found


@pytest.mark.parametrize(
    ("written", "kind"),
    [
        ("primer.epoxy.2k", "primer.epoxy.2k"),
        ("bare steel", "surface.steel"),
        ("Etch primers", "primer.etch"),
        ("body filler", "filler"),
    ],
)
def test_a_kind_is_found_by_its_id_or_its_words(written: str, kind: str) -> None:
    assert resolve(written, SHELF) == KindName(kind)


@pytest.mark.parametrize(
    ("written", "kind"),
    [
        ("mild steel", "surface.steel"),
        ("Mild-steel panels", None),
        ("bodywork filler", "filler"),
        ("2-pack epoxy", "primer.epoxy.2k"),
        ("two pack epoxy primers", "primer.epoxy.2k"),
        ("knifing putty", "filler"),
        ("E-coat", "finish.ecoat"),
        ("steel and aluminium", None),
        ("mild steel by the sea", None),
        ("over mild steel", None),
    ],
)
def test_a_kind_is_found_by_what_else_the_trade_calls_it(written: str, kind: str | None) -> None:
    meaning = resolve(written, SHELF)
    assert isinstance(meaning, Unknown) if kind is None else meaning == KindName(kind)


def test_other_names_are_offered_after_labels_each_kind_once() -> None:
    mild = complete("mild st", ())
    assert [(one.text, one.other_name) for one in mild[:1]] == [("bare steel", "mild steel")]
    pack = complete("2-pack epoxy", SHELF)
    assert (pack[0].text, pack[0].other_name) == ("2K epoxy primer", "2-pack epoxy")
    fillers = complete("filler", (), limit=100)
    assert [one.other_name for one in fillers if one.meaning == KindName("filler")] == [""]
    assert len({one.meaning for one in fillers}) == len(fillers)


def test_labels_of_another_language_are_found_and_offered_beside_english() -> None:
    called = {"surface.steel": ("blankes Blech", "blanke Bleche")}
    assert resolve("Blankes Blech", SHELF, called) == KindName("surface.steel")
    assert resolve("bare steel", SHELF, called) == KindName("surface.steel")
    assert complete("blanke B", (), called=called)[0].text == "blankes Blech"
    assert complete("bare st", (), called=called)[0].text == "blankes Blech"


@pytest.mark.parametrize(
    "written", ["Granat 13", "NK-311", "product:primer.epoxy.2k", "Fugex", "Granat 12 hardener", "self", ""]
)
def test_what_could_be_another_thing_is_asked_for(written: str) -> None:
    assert isinstance(resolve(written, SHELF), Unknown)


def test_an_unknown_name_comes_with_the_nearest() -> None:
    meaning = resolve("Granat 13", SHELF)
    assert isinstance(meaning, Unknown)
    assert "Granat 12" in meaning.nearest
    assert isinstance(resolve("Fugex", SHELF), Unknown)
    both = resolve("Fugex", SHELF)
    assert isinstance(both, Unknown)
    assert set(both.nearest) == {"Ostmoor Fugex 300", "Ostmoor Fugex Glas"}


def test_code_numbers_join_only_where_every_digit_group_is_the_same() -> None:
    assert likeness("EX 4711", TWINS[1]) is Likeness.NONE
    assert likeness("EX-4711", TWINS[0]) is Likeness.SAME
    assert meant_by("EX 4711", sheet_of(TWINS[0]), TWINS[1], TWINS) is Certainty.NONE
    assert resolve("ex 4712", TWINS) == TWINS[1]


@pytest.mark.parametrize(
    ("written", "product", "certainty"),
    [
        ("Granat 12", EPOXY, Certainty.CERTAIN),
        ("Granat 12 primer", EPOXY, Certainty.CERTAIN),
        ("V-1200", EPOXY, Certainty.CERTAIN),
        ("Harle", COLUMBIC, Certainty.DOUBTFUL),
        ("Harle range", COLUMBIC, Certainty.DOUBTFUL),
        ("Harle 40 Rapid", COLUMBIC, Certainty.DOUBTFUL),
        ("Harle 41", COLUMBIC, Certainty.NONE),
        ("Harle 40 hardener", COLUMBIC, Certainty.NONE),
        ("Granat", EPOXY, Certainty.DOUBTFUL),
        ("NK-310", SURFACER, Certainty.DOUBTFUL),
        ("Norrkill NK-310", SURFACER, Certainty.CERTAIN),
    ],
)
def test_a_name_on_a_vellmark_sheet(written: str, product: ProductRecord, certainty: Certainty) -> None:
    assert meant_by(written, sheet_of(EPOXY), product, (*SHELF, COLUMBIC)) is certainty


@pytest.mark.parametrize("written", ["NK-310", "Plainfield", "NK-310 Plainfield", "NK-310 surfacer"])
def test_short_forms_are_certain_on_the_makers_own_sheets(written: str) -> None:
    other = ProductRecord(30, "NK-740 Longstone", "Norrkill", "primer.epoxy.2k", "NK-740")
    assert meant_by(written, sheet_of(other), SURFACER, (*SHELF, other)) is Certainty.CERTAIN
    assert meant_by(written, sheet_of(other), other, (*SHELF, other)) is Certainty.NONE


def test_a_short_form_that_two_products_share_is_doubtful() -> None:
    first = ProductRecord(31, "NK-311 Plainfield", "Norrkill", "surfacer.2k", "NK-311")
    assert meant_by("Plainfield", sheet_of(first), SURFACER, (*SHELF, first)) is Certainty.DOUBTFUL


def test_makers_are_one_firm_under_their_longer_names() -> None:
    assert same_maker("Vellmark", "Vellmark Coatings GmbH") is True
    assert same_maker("Vellmark", "Ostmoor") is False
    assert same_maker("", "Ostmoor") is None


def test_completion_puts_beginnings_first_and_products_before_kinds() -> None:
    assert complete("gran", SHELF)[0].text == "Granat 12"
    assert complete("310", SHELF)[0].text == "NK-310 Plainfield"
    epoxies = [s.text for s in complete("epoxy pr", SHELF)]
    assert epoxies[0] == "epoxy primer"
    assert "Granat 12" in [s.text for s in complete("granta", SHELF)]
    assert complete("", SHELF) == ()
    assert len(complete("p", SHELF, limit=3)) == 3


def test_of_two_products_of_one_name_the_maker_tells_which() -> None:
    ours = ProductRecord(41, "Plain Etch", "Norrkill Works", "primer.etch.1k")
    theirs = ProductRecord(42, "Plain Etch", "Ostmoor Works", "primer.etch.2k")
    shelf = (*SHELF, ours, theirs)
    unsettled = resolve("Plain Etch", shelf)
    assert isinstance(unsettled, Unknown)
    assert unsettled.nearest == ("Norrkill Works Plain Etch", "Ostmoor Works Plain Etch")
    assert [resolve(name, shelf) for name in unsettled.nearest] == [ours, theirs]
