from __future__ import annotations

from datetime import date

import pytest
from job_paper import EPOXY, FILLER, GLOSS, SURFACER, material, permits, rule, tin

from extract.claims import Stance, Topic
from store.job_records import Component
from store.planning.on_hand import may_go_on
from store.planning.shelf_life import TinState
from store.planning.tin_dates import tin_dates, warnings
from store.records import ProductRecord, Rule
from store.rules.reach import ProductParty

TODAY = date(2026, 3, 28)


def life(
    months: float, text: str | None = None, product: ProductRecord = EPOXY, quote: str = "Keeps so many months."
) -> Rule:
    return rule(product, Topic.STORAGE, "shelf_life", low=months, high=months, unit="months", text=text, quote=quote)


@pytest.mark.parametrize(
    ("component", "until"),
    [(Component.BASE, date(2027, 2, 28)), (Component.HARDENER, date(2026, 2, 28)), (Component.THINNER, None)],
)
def test_each_component_has_its_own_life_and_a_general_one_is_not_the_thinners(
    component: Component, until: date | None
) -> None:
    held = tin(EPOXY, component=component, made=date(2025, 2, 28))
    rules = [life(24, "base"), life(12, "hardener H 12"), life(36, "base", GLOSS)]
    assert tin_dates(held, rules, TODAY).until == until


def test_a_sentence_that_names_one_component_or_the_tin_itself_is_for_that_alone() -> None:
    rules = [life(24, quote="Shelf life 24 months."), life(12, quote="12 months for GR-13, unopened")]
    made = date(2025, 1, 31)
    assert tin_dates(tin(EPOXY, component=Component.HARDENER, name="gr-13", made=made), rules, TODAY).until == date(
        2026, 1, 31
    )
    hardener = [life(24, quote="Shelf life 24 months."), life(6, quote="The hardener keeps 6 months.")]
    assert tin_dates(tin(EPOXY, made=made), hardener, TODAY).until == date(2027, 1, 31)
    assert tin_dates(tin(EPOXY, component=Component.HARDENER, made=made), hardener, TODAY).until == date(2025, 7, 31)
    both = [life(6, quote="Base 24 months, hardener 6 months.")]
    assert tin_dates(tin(EPOXY, made=made), both, TODAY).until == date(2025, 7, 31), "unclear: the shorter holds"


def test_months_end_on_the_last_day_of_a_shorter_month() -> None:
    held = tin(EPOXY, made=date(2024, 8, 31))
    assert tin_dates(held, [life(18)], TODAY).until == date(2026, 2, 28)


def test_the_shortest_life_said_holds_and_an_opened_tin_ends_sooner() -> None:
    held = tin(EPOXY, made=date(2025, 6, 30), opened=date(2026, 1, 31))
    rules = [life(24), life(12, "unopened"), life(1, "once opened")]
    assert tin_dates(held, rules, TODAY).until == date(2026, 2, 28)
    assert tin_dates(held, rules, TODAY).state is TinState.PAST
    closed = tin(EPOXY, made=date(2025, 6, 30))
    assert tin_dates(closed, rules, TODAY).until == date(2026, 6, 30)


def test_what_is_not_said_is_not_known() -> None:
    nothing_said = tin_dates(tin(EPOXY, made=date(2020, 1, 1)), [], TODAY)
    assert (nothing_said.until, nothing_said.state) == (None, TinState.UNKNOWN)
    no_date = tin_dates(tin(EPOXY, batch="2020-01"), [life(12)], TODAY)
    assert (no_date.state, no_date.why) == (TinState.UNKNOWN, "no date made or bought")


def test_what_may_go_on_comes_first_and_every_product_says_why() -> None:
    rules = material(
        permits(EPOXY, "surfacer"),
        permits(EPOXY, "filler", "abraded"),
        rule(EPOXY, Topic.TOPPED_BY, None, Stance.FORBIDS, object_="topcoat"),
    )
    tins = [tin(GLOSS), tin(FILLER), tin(SURFACER), tin(EPOXY), tin(FILLER, left=0.0)]
    found = may_go_on(ProductParty(EPOXY), tins, rules, TODAY)
    assert [(i.product.name, i.answer.word) for i in found] == [
        (SURFACER.name, "yes"),
        (FILLER.name, "yes_if"),
        (EPOXY.name, "silent"),
        (GLOSS.name, "no"),
    ]
    assert [i.may for i in found] == [True, True, False, False]
    assert [len(i.tins) for i in found] == [1, 1, 1, 1], "an empty tin is no tin"
    assert found[-1].answer.citations[0].claim.object == "topcoat"


def test_a_product_without_its_hardener_says_so_and_a_hardener_alone_is_no_product() -> None:
    ratio = rule(SURFACER, Topic.MIXING, "ratio", parts=(4.0, 1.0), basis="volume")
    rules = material(permits(EPOXY, "surfacer"), ratio)
    (alone,) = may_go_on(ProductParty(EPOXY), [tin(SURFACER)], rules, TODAY)
    assert alone.missing == (Component.HARDENER,)
    both = [tin(SURFACER), tin(SURFACER, component=Component.HARDENER)]
    assert may_go_on(ProductParty(EPOXY), both, rules, TODAY)[0].missing == ()
    assert may_go_on(ProductParty(EPOXY), both[1:], rules, TODAY) == ()


def test_warnings_list_what_is_past_or_soon_the_oldest_first_and_no_empty_tin() -> None:
    soon, past = tin(EPOXY, made=date(2024, 4, 20)), tin(EPOXY, made=date(2024, 1, 31))
    rest = [tin(EPOXY, left=0.0, made=date(2020, 1, 1)), tin(EPOXY, made=date(2026, 1, 1)), tin(EPOXY)]
    found = warnings([soon, *rest, past], [life(24)], TODAY)
    assert [(record, dates.state) for record, dates in found] == [(past, TinState.PAST), (soon, TinState.SOON)]
    assert warnings([soon], [life(24)], TODAY, warn_days=10) == ()
