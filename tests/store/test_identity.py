from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from store.identity import Identity, folded, folded_code, folded_maker, same_maker, same_name, same_product


@pytest.mark.parametrize(
    ("a", "b", "same"),
    [
        ("Granat 12", "GRANAT-12", True),
        ("Granat 12", "Granat12", True),
        ("Granat 12", "Granat 13", False),
        ("EX 4711", "EX 4712", False),
        ("Éclat Primer", "Eclat Primer", True),
        ("Epoxy Primer White", "Epoxy Primer Grey", False),
        ("Filler HS 400", "Filler MS 400", False),
        ("Quick Surfacer", "Quick Surfacers", True),
        ("Quick Surfacer", "Quick Surfacer Plus", False),
        ("Hardener fast", "Hardener slow", False),
        ("Grundierung Ferrolin extra stark", "Grundierung Ferrolan extra stark", False),
        ("Rust Stop Metal Coatings", "Rust-Stop Metal Coating", True),
        ("", "", False),
    ],
)
def test_names(a: str, b: str, same: bool) -> None:
    assert same_name(folded(a), folded(b)) is same


@pytest.mark.parametrize(
    ("a", "b", "same"),
    [
        ("Vellmark GmbH & Co. KG", "VELLMARK", True),
        ("Vellmark Coatings", "Vellmark  Coating", True),
        ("Vellmark", "Kieselhof", False),
        ("Group", "GROUP", True),
        ("", "Vellmark", False),
        ("", "", True),
    ],
)
def test_makers(a: str, b: str, same: bool) -> None:
    assert same_maker(folded_maker(a), folded_maker(b)) is same


@pytest.mark.parametrize(
    ("a", "b", "same"),
    [
        (("Vellmark", "Granat", "4711"), ("Vellmark", "Granat", "4712"), False),
        (("Vellmark", "Granat", "47-11"), ("Vellmark", "Granat Primer", "4711"), True),
        (("Vellmark", "Granat", "4711"), ("", "Granat", "4711"), True),
        (("Vellmark", "Granat", "4711"), ("Kieselhof", "Granat", "4711"), False),
        (("Vellmark", "Granat", "4711"), ("Vellmark", "Zinc thinner", "4711"), False),
        (("Vellmark", "Granat", "4711"), ("Vellmark", "Granat", ""), True),
        (("Vellmark", "Granat", ""), ("Kieselhof", "Granat", ""), False),
    ],
)
def test_products(a: tuple[str, str, str], b: tuple[str, str, str], same: bool) -> None:
    one, other = (Identity(folded_maker(m), folded(n), folded_code(c)) for m, n, c in (a, b))
    assert same_product(one, other) is same
    assert same_product(other, one) is same


@given(st.text(max_size=20), st.text(max_size=20))
def test_a_name_with_other_figures_is_another_name(a: str, b: str) -> None:
    one, other = folded(f"{a} 12"), folded(f"{b} 13")
    assert not same_name(one, other)
    assert same_name(folded(f"x{a}"), folded(f"x{a}"))
