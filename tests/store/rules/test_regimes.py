"""Several windows for one coat: taken apart where the sheet says so, and never run into one that cannot be kept."""

from __future__ import annotations

from dataclasses import replace
from random import Random

import pytest
from hypothesis import given
from hypothesis import strategies as st
from paper import EPOXY, SHELF, over, party, window

from extract.claims import Condition
from store.records import ProductRecord, Rule
from store.rules.answers import Window
from store.rules.regimes import regimes
from store.rules.windows import governing_window

H, D = 60.0, 1440.0
TWO = "Recoat within 1 h or after 48 h."


def within_or_after(
    end: float = H, begin: float = 48 * H, *, at_c: float | None = None, quote: str = TWO, object_: str | None = None
) -> list[Rule]:
    """What the reader makes of 'within 1 h or after 48 h'."""
    return [
        window(EPOXY, object_, None, end, at_c=at_c, quote=quote),
        window(EPOXY, object_, begin, None, at_c=at_c, quote=quote),
    ]


def read(rules: list[Rule], at_c: float | None = None) -> Window:
    found = governing_window(party("Granat 12"), party("Lumo DG"), rules, SHELF, at_c)
    assert found is not None
    return found


def ends(found: Window) -> list[tuple[float | None, float | None]]:
    return [(one.low, one.high) for one in found.each]


def test_within_or_after_are_two_windows() -> None:
    found = read(within_or_after())
    assert ends(found) == [(None, H), (48 * H, None)]
    assert not any(one.closed for one in found.each)
    assert len(found.carried_by) == 2


def test_the_same_figures_in_two_sentences_stay_one_window_that_cannot_be_kept() -> None:
    rules = [
        window(EPOXY, None, None, H, quote="Recoat within 1 h."),
        window(EPOXY, None, 48 * H, None, quote="Leave for 48 h before recoating."),
    ]
    found = read(rules)
    assert found.closed
    assert found.also == ()


def test_an_earliest_that_lies_within_is_one_window() -> None:
    rules = within_or_after(end=4 * D, begin=8 * H, quote="After 8 h, within 4 days.")
    assert ends(read(rules)) == [(8 * H, 4 * D)]


def test_each_temperature_has_its_two() -> None:
    rules = [*within_or_after(2 * H, 72 * H, at_c=10.0, quote="2 h or after 72 h"), *within_or_after(at_c=20.0)]
    assert ends(read(rules, 10.0)) == [(None, 2 * H), (72 * H, None)]
    assert ends(read(rules, 20.0)) == [(None, H), (48 * H, None)]
    assert ends(read(rules, 15.0)) == [(None, H), (72 * H, None)]
    assert ends(read(rules, 5.0)) == [(None, 2 * H), (None, None)]
    assert ends(read(rules, 30.0)) == [(None, None), (48 * H, None)]


def test_three_windows_stay_three() -> None:
    quote = "15 to 30 min, or 4 to 8 h, or after 3 days"
    rules = [
        window(EPOXY, None, 15.0, 30.0, quote=quote),
        window(EPOXY, None, 4 * H, 8 * H, quote=quote),
        window(EPOXY, None, 3 * D, None, quote=quote),
    ]
    assert ends(read(rules)) == [(15.0, 30.0), (4 * H, 8 * H), (3 * D, None)]


def test_what_holds_on_a_condition_is_a_window_of_its_own_and_comes_after_the_plain_one() -> None:
    # 5 to 8 h as it is, to 24 h once wiped: TO 1-1-8 par. 5.6.2 e on an epoxy primer at 75 degF.
    rules = [
        window(EPOXY, None, 5 * H, 8 * H, at_c=24.0),
        rule_if("clean", 8 * H, 24 * H, at_c=24.0),
    ]
    found = read(rules, 24.0)
    assert ends(found) == [(5 * H, 8 * H), (8 * H, 24 * H)]
    assert [one.conditions for one in found.each] == [(), (Condition.CLEAN,)]


def test_that_a_window_is_to_be_kept_is_no_condition_of_it() -> None:
    contact = over(party_product("Lumo DG"), "primer.epoxy", "within_window", low=30.0, high=3 * D, unit="min")
    found = governing_window(party("Granat 12"), party("Lumo DG"), [], SHELF, None, [contact])
    assert found is not None
    assert (found.low, found.high, found.conditions) == (30.0, 3 * D, ())


def test_an_earliest_on_a_condition_past_the_plain_end_shuts_no_window() -> None:
    rules = [window(EPOXY, None, H, 24 * H), rule_if("abraded", 24 * H, None)]
    found = read(rules)
    assert ends(found) == [(H, 24 * H), (24 * H, None)]
    assert found.also[0].conditions == (Condition.ABRADED,)


def test_an_earliest_on_a_condition_within_the_plain_one_holds_for_it_as_well() -> None:
    assert ends(read([window(EPOXY, None, H, 24 * H), rule_if("clean", 3 * H, None)])) == [(3 * H, 24 * H)]


def test_two_sheets_with_two_windows_leave_what_suits_both() -> None:
    contact = over(party_product("Lumo DG"), "primer.epoxy", "within_window", low=30.0, high=3 * D, unit="min")
    found = governing_window(party("Granat 12"), party("Lumo DG"), within_or_after(), SHELF, None, [contact])
    assert found is not None
    assert ends(found) == [(30.0, H), (48 * H, 3 * D)]


def test_a_window_that_another_sheet_rules_out_is_left_out_where_one_is_left() -> None:
    contact = over(party_product("Lumo DG"), "primer.epoxy", "within_window", low=4 * H, high=3 * D, unit="min")
    found = governing_window(party("Granat 12"), party("Lumo DG"), within_or_after(), SHELF, None, [contact])
    assert found is not None
    assert ends(found) == [(48 * H, 3 * D)]


def rule_if(condition: str, low: float | None, high: float | None, at_c: float | None = None) -> Rule:
    plain = window(EPOXY, None, low, high, at_c=at_c, quote=f"{condition} {low} {high}")
    return replace(plain, claim=replace(plain.claim, conditions=(Condition(condition),)))


def party_product(name: str) -> ProductRecord:
    return next(product for product in SHELF if product.name == name)


MINUTES = st.integers(1, 20_000)
TEMPERATURES = st.sampled_from([None, 5.0, 10.0, 20.0, 30.0])
QUOTES = st.sampled_from(["one sentence", "another", "a third that says one sentence again"])


@st.composite
def rows(draw: st.DrawFn) -> Rule:
    low = draw(st.none() | MINUTES)
    high = draw(st.none() | MINUTES) if low is not None else draw(MINUTES)
    conditions = draw(st.sampled_from([(), ("clean",), ("abraded",)]))
    found = window(
        EPOXY, None, None if low is None else float(low), None if high is None else float(high),
        at_c=draw(TEMPERATURES), quote=draw(QUOTES),
    )  # fmt: skip
    return replace(found, claim=replace(found.claim, conditions=tuple(Condition(c) for c in conditions)))


def allows(found: Window, minutes: float) -> bool:
    """Whether some window says that this moment suits; an end that is not known says nothing."""
    return any(
        one.low is not None and one.low <= minutes and (one.unlimited or (one.high is not None and minutes <= one.high))
        for one in found.each
    )


@given(st.lists(rows(), min_size=1, max_size=6), MINUTES, st.sampled_from([3.0, 10.0, 14.0, 20.0, 27.0, 35.0]))
def test_no_moment_is_allowed_that_no_sentence_allows(rules: list[Rule], minutes: int, at_c: float) -> None:
    """Taking windows apart must never let a moment through that lies outside every row's own two ends."""
    found = read(rules, at_c)
    if allows(found, minutes):
        lows = [rule.claim.low for rule in rules if rule.claim.low is not None]
        highs = [rule.claim.high for rule in rules if rule.claim.high is not None]
        assert min(lows) <= minutes <= max(highs)
        # Between the end of the window before it and its own beginning nothing is open.
        for one in found.each:
            assert one.low is None or one.high is None or one.low <= one.high or found.closed


@given(st.lists(rows(), min_size=1, max_size=6), MINUTES)
def test_sentences_of_their_own_without_conditions_all_hold_at_once(drawn: list[Rule], minutes: int) -> None:
    rules = [
        replace(rule, claim=replace(rule.claim, at_c=None, conditions=(), evidence=replace(
            rule.claim.evidence, quote=f"{number}.")))
        for number, rule in enumerate(drawn)
    ]  # fmt: skip
    lows = [rule.claim.low for rule in rules if rule.claim.low is not None]
    highs = [rule.claim.high for rule in rules if rule.claim.high is not None]
    strict = bool(lows and highs) and max(lows) <= minutes <= min(highs)
    assert allows(read(rules), minutes) is strict


@given(st.lists(rows(), min_size=1, max_size=6), MINUTES, st.sampled_from([None, 10.0, 20.0]))
def test_every_rule_has_a_say_in_some_window(rules: list[Rule], minutes: int, at_c: float | None) -> None:
    taken = {rule.id for regime in regimes(rules) for rule in regime.used}
    assert taken == {rule.id for rule in rules}


@given(MINUTES, MINUTES, MINUTES, st.sampled_from([None, 20.0]))
def test_between_within_and_after_nothing_is_open(end: int, gap: int, asked: int, at_c: float | None) -> None:
    found = read(within_or_after(float(end), float(end + gap), at_c=at_c), at_c)
    inside = end < asked < end + gap
    open_ = [
        one for one in found.each if (one.low is None or one.low <= asked) and (one.high is None or asked <= one.high)
    ]
    assert (not open_) is inside


@given(st.lists(rows(), min_size=1, max_size=5), st.randoms())
def test_the_order_of_the_rows_changes_nothing(rules: list[Rule], random: Random) -> None:
    mixed = list(rules)
    random.shuffle(mixed)
    assert sorted(map(str, ends(read(rules, 20.0)))) == sorted(map(str, ends(read(mixed, 20.0))))


@pytest.mark.parametrize("at_c", [None, 20.0])
def test_a_general_latest_does_not_open_a_window_that_a_particular_one_shuts(at_c: float | None) -> None:
    rules = [
        window(EPOXY, None, None, 4 * H, at_c=20.0, quote="Within 4 h."),
        window(EPOXY, "topcoat", 8 * H, None, at_c=20.0, quote="Topcoats after 8 h."),
    ]
    assert read(rules, at_c).closed
