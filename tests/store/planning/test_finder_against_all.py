"""The finder against every sequence there is, tried one by one: on small shelves its best are the best of all."""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Sequence
from typing import Any

from hypothesis import given
from hypothesis import strategies as st
from paper import EPOXY, ETCH, GLOSS, SURFACER, not_over, not_topped, over, party, topped, window

from store.planning.buildup import BuildUp, Layer
from store.planning.buildup_check import check
from store.planning.buildup_sheets import Sheets
from store.planning.finder import FoundBuildUp, Wanted, find, weighed
from store.records import ProductRecord, Rule
from store.rules.reach import KindParty, ProductParty

STEEL = KindParty("surface.steel")
SEALER = ProductRecord(21, "Quarzit 8", "Vellmark", "sealer")
FREE = (EPOXY, ETCH, SURFACER, SEALER)
SHELF = (*FREE, GLOSS)
ALLOWS = {"yes", "yes_if"}
OBJECTS = (
    "surface.steel", "primer", "primer.epoxy", "primer.etch", "surfacer", "sealer", "topcoat", "family.2k",
    "product:Granat 12", None,
)  # fmt: skip


@st.composite
def some_rules(draw: st.DrawFn) -> Rule:
    product, object_ = draw(st.sampled_from(SHELF)), draw(st.sampled_from(OBJECTS))
    make: Any = draw(st.sampled_from((over, over, over, topped, topped, topped, not_over, not_topped, window)))
    if make is window:
        made: Rule = window(product, object_, draw(st.sampled_from((None, 30.0, 900.0))), None, at_c=20.0)
        return made
    conditions: Sequence[str] = ()
    if make in (over, topped):
        conditions = draw(st.lists(st.sampled_from(("clean", "abraded", "cured")), unique=True, max_size=2))
    quote = draw(st.sampled_from(("", "", "Not over it, even if isolated.")))
    named: Rule = make(product, object_, *conditions, quote=quote)
    return named


RULES = st.lists(some_rules(), min_size=4, max_size=24)


def every(sheets: Sheets, at_c: float | None = None) -> Iterator[FoundBuildUp]:
    """All sequences of steel, up to four different coats and the finish, checked."""
    for count in range(len(FREE) + 1):
        for coats in itertools.permutations(map(ProductParty, FREE), count):
            layers = tuple(Layer(one) for one in (STEEL, *coats, party("Lumo DG")))
            yield weighed(check(BuildUp(layers, at_c), sheets))


def blocked(one: FoundBuildUp) -> tuple[int, int]:
    """How much forbids it, then how much is not said or not confirmed."""
    words = [part.word for part in one.in_the_way]
    forbidden = sum(word in {"no", "disputed"} for word in words)
    return forbidden, len(words) - forbidden


@given(RULES, st.integers(1, 3))
def test_the_best_that_are_handed_out_are_the_best_there_are(rules: list[Rule], most: int) -> None:
    sheets = Sheets(rules, products=SHELF)
    allowed = sorted(one.rank for one in every(sheets) if one.checked.word in ALLOWS)
    result = find(Wanted(STEEL, party("Lumo DG"), most=most), SHELF, sheets)
    assert not result.cut_short
    assert [one.rank for one in result.allowed] == allowed[:most]


@given(RULES)
def test_nothing_stands_less_in_the_way_than_of_the_nearest(rules: list[Rule]) -> None:
    sheets = Sheets(rules, products=SHELF)
    result = find(Wanted(STEEL, party("Lumo DG")), SHELF, sheets)
    if result.allowed:
        assert result.nearest is None
        return
    assert result.nearest is not None
    checked = result.nearest.checked
    assert set(result.nearest.in_the_way) == {
        part for part in (*checked.contacts, *checked.findings) if part.word not in ALLOWS
    }
    assert result.nearest.in_the_way
    assert blocked(result.nearest) == min(blocked(one) for one in every(sheets))


OPEN = (
    *(over(product, "surface.steel") for product in FREE),
    *(over(product, "primer") for product in (SURFACER, SEALER)),
    over(GLOSS, "primer"),
    over(GLOSS, "surfacer", "clean"),
    over(GLOSS, "sealer"),
)
WAITS = st.lists(
    st.builds(
        window, st.sampled_from(FREE), st.sampled_from((None, "topcoat", "surfacer", "sealer")),
        st.sampled_from((30.0, 60.0, 900.0)), st.none(), at_c=st.sampled_from((None, 10.0, 20.0)),
    ),
    max_size=8,
)  # fmt: skip


@given(WAITS, RULES, st.integers(1, 4), st.sampled_from((None, 10.0, 15.0, 20.0)))
def test_where_much_is_allowed_waits_decide_and_a_wait_unsaid_is_no_short_one(
    waits: list[Rule], rules: list[Rule], most: int, at_c: float | None
) -> None:
    sheets = Sheets([*OPEN, *waits, *rules[:3]], products=SHELF)
    allowed = sorted(one.rank for one in every(sheets, at_c) if one.checked.word in ALLOWS)
    result = find(Wanted(STEEL, party("Lumo DG"), at_c=at_c, most=most), SHELF, sheets)
    assert [one.rank for one in result.allowed] == allowed[:most]
