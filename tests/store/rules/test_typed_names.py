"""A name typed in the window means itself or nothing; likenesses are only offered."""

from __future__ import annotations

import pytest
from paper import SHELF

from store.records import ProductRecord
from store.rules.names import KindName, Unknown, complete
from store.rules.typed_names import named


@pytest.mark.parametrize(
    ("written", "found"),
    [
        ("Granat 12", "Granat 12"),
        ("product:Granat 12", "Granat 12"),
        ("granat12", "Granat 12"),
        ("GRANAT-12", "Granat 12"),
        ("  granat  12 ", "Granat 12"),
        ("Vellmark Granat 12", "Granat 12"),
        ("V-1200", "Granat 12"),
        ("Granat 12 V-1200", "Granat 12"),
        ("nk310 plainfield", "NK-310 Plainfield"),
    ],
)
def test_a_product_by_its_whole_name_whatever_the_capitals_and_spaces(written: str, found: str) -> None:
    meaning = named(written, SHELF)
    assert isinstance(meaning, ProductRecord)
    assert meaning.name == found


@pytest.mark.parametrize("written", ["Granat", "Grannat 12", "Granat 12 epoxy primer", "Plainfield", "gran"])
def test_what_is_only_like_a_name_is_offered_and_not_taken(written: str) -> None:
    meaning = named(written, SHELF)
    assert isinstance(meaning, Unknown)
    assert not meaning.several
    assert meaning.nearest[0] in {"Granat 12", "NK-310 Plainfield"}


@pytest.mark.parametrize(
    ("written", "kind"),
    [("mild steel", "surface.steel"), ("Old Paintwork", "finish.old"), ("surface.steel", "surface.steel")],
)
def test_a_kind_by_its_label_its_id_or_what_the_trade_calls_it(written: str, kind: str) -> None:
    assert named(written, SHELF) == KindName(kind)


def test_old_paint_that_lifts_is_no_factory_paint() -> None:
    meaning = named("old paint that lifts", SHELF)
    assert isinstance(meaning, Unknown)
    assert meaning.nearest[0] == "old paint that solvent softens"
    assert complete("old paint that lifts", SHELF)[0].text == "old paint that solvent softens"


def test_two_of_one_name_are_both_offered_with_their_makers() -> None:
    twins = (ProductRecord(31, "Harle", "Vellmark", "filler"), ProductRecord(32, "Harle", "Ostmoor", "filler"))
    assert named("harle", twins) == Unknown("harle", ("Vellmark Harle", "Ostmoor Harle"), several=True)
    assert named("ostmoor harle", twins) == twins[1]


def test_an_offer_written_out_is_then_taken() -> None:
    twins = (ProductRecord(31, "Harle", "Vellmark", "filler"), ProductRecord(32, "Harle", "Ostmoor", "filler"))
    meaning = named("harl", twins)
    assert isinstance(meaning, Unknown)
    products = [named(text, twins) for text in meaning.nearest if text.endswith("Harle")]
    assert sorted(products, key=str) == sorted(twins, key=str)


def test_only_products_are_offered_where_no_kind_is_taken() -> None:
    meaning = named("polyester fil", SHELF, kinds_too=False)
    assert isinstance(meaning, Unknown)
    assert set(meaning.nearest) <= {product.name for product in SHELF}
    with_kinds = named("polyester fil", SHELF)
    assert isinstance(with_kinds, Unknown)
    assert "polyester filler" in with_kinds.nearest
