"""Sequences found: only allowed ones, the best first, by everything that the whole check knows."""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from paper import (
    EPOXY,
    ETCH,
    FILLER,
    GLOSS,
    SHELF,
    SURFACER,
    claim,
    not_over,
    not_topped,
    over,
    party,
    rule,
    topped,
    window,
)

from extract.claims import Stance, Topic
from extract.kinds import is_kind_of
from store.planning.buildup import BuildUp, FindingKind, Layer
from store.planning.buildup_check import check
from store.planning.buildup_sheets import Sheets
from store.planning.finder import FindResult, FoundBuildUp, Stop, Wanted, find
from store.planning.finder_estimate import Estimate
from store.records import ProductRecord, Rule
from store.rules.reach import KindParty, ProductParty

WEEK = 10080.0
ALLOWS = {"yes", "yes_if"}
STEEL = KindParty("surface.steel")
SHEETS = (
    over(EPOXY, "surface.steel"),
    over(ETCH, "surface.steel"),
    over(FILLER, "primer.epoxy", "abraded"),
    topped(EPOXY, "surfacer"),
    topped(FILLER, "surfacer"),
    topped(SURFACER, "topcoat"),
    window(EPOXY, "surfacer", 60.0, 4320.0, at_c=20.0),
)


def found(rules: Sequence[Rule], *between: Stop, products: Sequence[ProductRecord] = SHELF, **more: Any) -> FindResult:
    finish = more.pop("finish", party("Lumo DG"))
    surface = more.pop("surface", STEEL)
    return find(Wanted(surface, finish, between, **more), products, Sheets(rules, products=SHELF))


def names(one: FoundBuildUp) -> list[str]:
    return [layer.party.name for layer in one.checked.build_up.layers]


def test_the_way_that_the_sheets_allow_is_found() -> None:
    result = found(SHEETS)
    assert [names(one) for one in result.allowed] == [["surface.steel", "Granat 12", "NK-310 Plainfield", "Lumo DG"]]
    assert result.allowed[0].rank.minutes == 60.0
    assert result.allowed[0].rank.untimed == 1


def test_work_in_between_comes_in_its_order() -> None:
    (one,) = found(SHEETS, Stop(KindParty("filler"))).allowed
    assert names(one) == ["surface.steel", "Granat 12", "Fugex 300", "NK-310 Plainfield", "Lumo DG"]
    assert one.rank.conditions == 1


def test_without_the_product_nothing_can_be_found_and_it_is_named() -> None:
    result = found(SHEETS, Stop(KindParty("sealant.cavity")))
    assert not result.allowed
    assert result.nearest is None
    assert result.lacking == (KindParty("sealant.cavity"),)


def test_a_rule_that_reaches_through_closes_the_way() -> None:
    reaching = not_over(GLOSS, "primer.epoxy", quote="Not over epoxy, even if another coat lies between.")
    result = found([*SHEETS, reaching])
    assert not result.allowed
    assert result.nearest is not None
    assert {getattr(part, "kind", None) for part in result.nearest.in_the_way} & {FindingKind.REACHES_THROUGH, None}


def test_fewest_conditions_come_first_then_waiting_then_coats() -> None:
    second = ProductRecord(11, "Gabbro 9", "Vellmark", "primer.epoxy.2k")
    slow = ProductRecord(12, "Schiefer 4", "Vellmark", "primer.epoxy.2k")
    shelf = (*SHELF, second, slow)
    rules = [
        over(second, "surface.steel", "abraded"), topped(second, "surfacer"),
        over(slow, "surface.steel"), topped(slow, "surfacer"), window(slow, "surfacer", 900.0, None, at_c=20.0),
        *SHEETS,
    ]  # fmt: skip
    result = find(Wanted(STEEL, party("Lumo DG")), shelf, Sheets(rules, products=shelf))
    assert [names(one)[1] for one in result.allowed] == ["Granat 12", "Schiefer 4", "Gabbro 9"]
    ranks = [one.rank for one in result.allowed]
    assert ranks == sorted(ranks)


def test_unsaid_contacts_only_where_they_are_asked_for_and_last() -> None:
    rules = [r for r in SHEETS if r.sheet.product_id != SURFACER.id]
    assert not found(rules).allowed
    result = found(rules, allow_unsaid=True)
    assert result.allowed
    assert all(one.rank.unsaid > 0 and one.checked.word == "silent" for one in result.allowed)
    both = found([*SHEETS, over(ETCH, "surface.steel")], allow_unsaid=True, most=3)
    assert [one.rank.unsaid > 0 for one in both.allowed] == [False, True, True]


def test_where_nothing_is_allowed_the_nearest_says_what_stands_in_its_way() -> None:
    forbidden = not_topped(SURFACER, "topcoat.solid.2k", quote="Never straight under solid colours.")
    result = found([*SHEETS, forbidden], products=(EPOXY, SURFACER, GLOSS))
    assert not result.allowed
    assert result.nearest is not None
    assert result.nearest.in_the_way
    assert result.nearest.checked.word not in ALLOWS


def test_time_outdoors_needs_a_coat_that_may_stand_there_and_is_keyed_after() -> None:
    outdoors = claim(Topic.EXPOSURE, None, Stance.PERMITS, property_="outdoors", high=12 * WEEK, unit="min")
    remedy = claim(Topic.OVERCOAT_WINDOW, None, Stance.REQUIRES, property_="abrade_after", low=320.0, unit="P")
    assert not found(SHEETS, Stop(weeks_outdoors=8)).allowed
    assert not found([*SHEETS, rule(EPOXY, outdoors)], Stop(weeks_outdoors=8), at_c=20.0).allowed
    (one,) = found([*SHEETS, rule(EPOXY, outdoors), rule(EPOXY, remedy)], Stop(weeks_outdoors=8), at_c=20.0).allowed
    assert [layer.weeks_outdoors for layer in one.checked.build_up.layers] == [0, 8, 0, 0]
    assert FindingKind.WINDOW_KEYED in {finding.kind for finding in one.checked.findings}
    assert not found([*SHEETS, rule(EPOXY, outdoors), rule(EPOXY, remedy)], Stop(weeks_outdoors=13), at_c=20.0).allowed


def test_a_coat_too_cold_to_be_put_on_is_left_out() -> None:
    warm = rule(EPOXY, claim(Topic.APPLICATION, None, Stance.STATES, property_="air_temp", low=10.0, unit="degC"))
    assert found([*SHEETS, warm], at_c=20.0).allowed
    cold = found([*SHEETS, warm], at_c=5.0)
    assert not cold.allowed


def test_a_finish_may_be_a_kind_and_the_surface_a_product() -> None:
    assert names(found(SHEETS, finish=KindParty("topcoat")).allowed[0])[-1] == "Lumo DG"
    (one,) = found(SHEETS, surface=party("Granat 12")).allowed
    assert names(one) == ["Granat 12", "NK-310 Plainfield", "Lumo DG"]


# --- what must hold of every search ---

PRODUCTS = (EPOXY, ETCH, FILLER, GLOSS, SURFACER)
OBJECTS = (
    "surface.steel", "primer", "primer.epoxy", "primer.etch", "filler", "filler.polyester", "surfacer", "topcoat",
    "family.2k", "self", "product:Granat 12", "product:Lumo", None,
)  # fmt: skip


@st.composite
def some_rules(draw: st.DrawFn) -> Rule:
    product, object_ = draw(st.sampled_from(PRODUCTS)), draw(st.sampled_from(OBJECTS))
    quote = draw(st.sampled_from(("", "Not over it, even if isolated.")))
    make: Any = draw(st.sampled_from((over, over, topped, topped, not_over, not_topped)))
    if make in (over, topped):
        conditions = draw(
            st.lists(st.sampled_from(("clean", "abraded", "spot_only", "isolated")), unique=True, max_size=2)
        )
        made: Rule = make(product, object_, *conditions, quote=quote, only=draw(st.booleans()))
        return made
    forbidding: Rule = make(product, object_, quote=quote)
    return forbidding


RULES = st.lists(some_rules(), max_size=20)
STOPS = st.lists(st.sampled_from((Stop(KindParty("filler")), Stop(party("NK-310 Plainfield")))), max_size=1)


@given(RULES, STOPS, st.booleans())
def test_all_that_is_found_passes_the_check_and_is_what_was_asked_for(
    rules: list[Rule], between: list[Stop], unsaid: bool
) -> None:
    result = found(rules, *between, allow_unsaid=unsaid)
    sheets = Sheets(rules, products=SHELF)
    for one in result.allowed:
        again = check(one.checked.build_up, sheets)
        assert again == one.checked
        assert again.word in ALLOWS or (unsaid and again.word == "silent")
        layers = [layer.party for layer in one.checked.build_up.layers]
        assert (layers[0], layers[-1]) == (STEEL, party("Lumo DG"))
        for stop in between:
            assert stop.party is not None
            assert any(p == stop.party or is_kind_of(p.kind or "", stop.party.kind or "") for p in layers[1:-1])
    assert [one.rank for one in result.allowed] == sorted(one.rank for one in result.allowed)


@given(RULES)
def test_whatever_short_sequence_the_check_allows_is_found(rules: list[Rule]) -> None:
    """Every sequence of the free coats tried one by one: the search misses none, and none better than its best."""
    sheets = Sheets(rules, products=SHELF)
    free = [ProductParty(product) for product in (EPOXY, ETCH, SURFACER)]
    allowed = []
    for count in range(3):
        for coats in itertools.permutations(free, count):
            layers = tuple(Layer(one) for one in (STEEL, *coats, party("Lumo DG")))
            if check(BuildUp(layers), sheets).word in ALLOWS:
                allowed.append([layer.party.name for layer in layers])
    result = found(rules, most=50)
    assert all(sequence in [names(one) for one in result.allowed] for sequence in allowed)


@given(RULES)
def test_the_estimate_is_never_stricter_than_the_verdict(rules: list[Rule]) -> None:
    sheets = Sheets(rules, products=SHELF)
    estimate = Estimate(sheets, PRODUCTS)
    for lower, upper in itertools.permutations((STEEL, *map(ProductParty, PRODUCTS)), 2):
        likely, answer = estimate.contact(lower, upper), sheets.answer(lower, upper)
        if answer.word in ALLOWS:
            assert likely.word == "yes"
        if answer.word == "silent":
            assert likely.word != "no"
        if answer.word == "yes":
            assert likely.conditions == 0


def test_the_same_question_has_the_same_answer() -> None:
    assert found(SHEETS, allow_unsaid=True) == found(list(reversed(SHEETS)), allow_unsaid=True)


def test_what_the_check_refuses_is_not_found() -> None:
    needs = rule(EPOXY, claim(Topic.EXPOSURE, "topcoat.clear", Stance.REQUIRES, property_="topcoat_needed"))
    result = found([*SHEETS, needs], products=(EPOXY, SURFACER, GLOSS))
    assert not result.allowed
    with pytest.raises(ValueError, match="two layers"):
        check(BuildUp((Layer(STEEL),)), Sheets(SHEETS, products=SHELF))


def test_a_search_cut_short_still_hands_out_what_is_allowed_and_says_so(monkeypatch: pytest.MonkeyPatch) -> None:
    primers = [ProductRecord(100 + n, f"Gabbro {n}", "Vellmark", "primer.epoxy.2k") for n in range(30)]
    rules = [topped(SURFACER, "topcoat")]
    for primer in primers:
        rules += [over(primer, "surface.steel", "clean", quote="Clean."), over(primer, "surface.steel", "abraded")]
        rules += [topped(primer, "surfacer", "clean", quote="Clean."), topped(primer, "surfacer", "abraded")]
    shelf = (*primers, SURFACER, GLOSS)
    wanted = Wanted(STEEL, party("Lumo DG"), most=2)
    assert not find(wanted, shelf, Sheets(rules, products=shelf)).cut_short
    monkeypatch.setattr("store.planning.finder_search._MOST_JUDGED", 25)
    result = find(wanted, shelf, Sheets(rules, products=shelf))
    assert result.cut_short
    assert result.allowed
    assert all(one.checked.word in ALLOWS for one in result.allowed)
