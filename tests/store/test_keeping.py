from __future__ import annotations

from pathlib import Path

import pytest
from made_sheets import THREE, reading

from store.errors import UnknownRecord
from store.library import Library
from store.records import FilingOutcome


def test_notes_of_a_product(library: Library) -> None:
    product = library.add_product("Granat 12", maker="Vellmark")
    first = library.write_note(product.id, "one")
    second = library.write_note(product.id, "two")
    assert library.notes(product.id) == (second, first)
    changed = library.write_note(product.id, "one, mended", first.id)
    assert library.notes(product.id) == (changed, second)
    library.remove_note(second.id)
    assert library.notes(product.id) == (changed,)
    with pytest.raises(UnknownRecord):
        library.remove_note(second.id)
    with pytest.raises(UnknownRecord):
        library.write_note(99, "nobody's")
    with pytest.raises(UnknownRecord):
        library.write_note(product.id, "x", second.id)


def test_own_rules_are_kept_apart(library: Library) -> None:
    rule = library.add_own_rule("primer.etch", "filler", forbids=True, words="lifted twice", source="own experience")
    assert library.own_rules() == (rule,)
    assert library.rules() == ()
    library.remove_own_rule(rule.id)
    assert library.own_rules() == ()
    with pytest.raises(UnknownRecord):
        library.remove_own_rule(rule.id)


def test_a_question_asked_again_stands_once_at_the_top(library: Library) -> None:
    library.remember_question("a", "b", None, "silent")
    library.remember_question("c", "d", 12.0, "no")
    again = library.remember_question("a", "b", None, "yes")
    assert library.questions()[0] == again
    assert [(q.lower, q.at_c, q.verdict) for q in library.questions()] == [("a", None, "yes"), ("c", 12.0, "no")]
    library.remember_question("a", "b", 20.0, "yes")
    assert len(library.questions()) == 3
    assert len(library.questions(limit=1)) == 1


def test_settings_travel_with_the_library(library: Library, folder: Path) -> None:
    assert library.setting("shop temperature", 20) == 20
    library.set_setting("shop temperature", 14.5)
    library.set_setting("shop temperature", {"day": 15, "night": 9})
    library.close()
    with Library.open(folder) as again:
        assert again.setting("shop temperature") == {"day": 15, "night": 9}


def test_a_product_without_a_sheet_is_found_by_one_filed_later(library: Library) -> None:
    added = library.add_product("Granat 12", maker="Vellmark", kind="primer.epoxy.2k")
    assert not added.has_sheet
    (filed,) = library.file_sheet(b"one", "g.pdf", [reading(THREE, kind="primer")])
    assert filed.outcome is FilingOutcome.FILED
    assert filed.sheet.product.id == added.id
    assert library.product(added.id).has_sheet
    assert library.product(added.id).kind == "primer.epoxy.2k"


def test_a_field_can_be_emptied(library: Library) -> None:
    added = library.add_product("Granat 12", maker="Vellmark", kind="primer", code="7")
    changed = library.change_product(added.id, kind="", code="")
    assert (changed.kind, changed.code, changed.name, changed.maker) == (None, None, "Granat 12", "Vellmark")
    with pytest.raises(UnknownRecord):
        library.change_product(99, name="x")


def test_makers_are_those_that_have_products(library: Library) -> None:
    product = library.add_product("Granat 12", maker="Vellmark GmbH")
    library.add_product("Opal 30", maker="ambros")
    assert library.makers() == ("ambros", "Vellmark GmbH")
    library.change_product(product.id, maker="Zirbel")
    assert library.makers() == ("ambros", "Zirbel")
    assert [p.name for p in library.products()] == ["Granat 12", "Opal 30"]


def test_a_sheet_that_names_neither_maker_nor_product_goes_by_its_file(library: Library) -> None:
    (filed,) = library.file_sheet(b"one", "scan 0007.pdf", [reading(THREE, product=None, maker=None)])
    assert (filed.sheet.product.name, filed.sheet.product.maker) == ("scan 0007", "")
