"""Build-ups kept by name in a library."""

from __future__ import annotations

from pathlib import Path

import pytest

from store.build_ups import decoded, encoded, forget, keep, keep_again, kept
from store.library import Library
from store.planning.buildup import BuildUp, Layer
from store.rules.reach import KindParty, ProductParty


def test_kept_build_ups_outlive_the_program_and_are_replaced_by_name(tmp_path: Path) -> None:
    with Library.open(tmp_path) as library:
        primer = library.add_product("Granat 12", maker="Vellmark", kind="primer.epoxy.2k", code=None)
        layers = (
            Layer(KindParty("surface.steel")),
            Layer(ProductParty(primer), 60.0, 90.0, 15.0, None, True, False, None, 8.0),
        )
        keep(library, " Left door ", BuildUp(layers, 18.0))
        keep(library, "left DOOR", BuildUp(layers, 20.0))
    with Library.open(tmp_path, read_only=True) as library:
        (one,) = kept(library)
    assert (one.name, one.build_up, one.lost) == ("left DOOR", BuildUp(layers, 20.0), ())


def test_what_is_forgotten_can_be_taken_back_as_it_was(tmp_path: Path) -> None:
    with Library.open(tmp_path) as library:
        (one,) = keep(library, "Roof", BuildUp((Layer(KindParty("surface.steel")),)))
        assert forget(library, "roof") == ()
        assert forget(library, "roof") == ()
        assert keep_again(library, one) == (one,)


def test_a_layer_whose_product_is_gone_is_said_to_be_lost(tmp_path: Path) -> None:
    with Library.open(tmp_path) as library:
        product = library.add_product("Granat 12", maker="", kind=None, code=None)
        written = encoded(BuildUp((Layer(KindParty("surface.steel")), Layer(ProductParty(product)))))
    build_up, lost = decoded(written, ())
    assert [layer.party for layer in build_up.layers] == [KindParty("surface.steel")]
    assert lost == ("Granat 12",)


def test_a_product_under_another_number_is_found_by_its_name_unless_two_have_it(tmp_path: Path) -> None:
    with Library.open(tmp_path) as library:
        first = library.add_product("Granat 12", maker="Vellmark", kind=None, code=None)
        second = library.add_product("Granat 12", maker="Norrkill", kind=None, code=None)
    written = {"layers": [{"name": "granat 12", "product_id": 999}]}
    assert [layer.party for layer in decoded(written, (first,))[0].layers] == [ProductParty(first)]
    assert decoded(written, (first, second))[1] == ("granat 12",)


def test_a_name_is_needed(tmp_path: Path) -> None:
    with Library.open(tmp_path) as library, pytest.raises(ValueError, match="name"):
        keep(library, "  ", BuildUp(()))
