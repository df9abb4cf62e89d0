"""Which window governs, and how it is read at a temperature."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from paper import EPOXY, GLOSS, SHELF, SURFACER, ask, claim, over, party, rule, topped, window

from extract.claims import Condition, Method, Stance, Topic
from store.records import Rule
from store.rules.answers import Conditional, Reading, Window
from store.rules.windows import governing_window

H, D = 60.0, 1440.0
# Made up for this test, both ways falling with warmth: 10, 20 and 30 degC.
TABLE = [(10.0, 16 * H, 7 * D), (20.0, 8 * H, 4 * D), (30.0, 4 * H, 2 * D)]


def table(object_: str | None = "topcoat") -> list[Rule]:
    return [window(EPOXY, object_, low, high, at_c=at_c) for at_c, low, high in TABLE]


def read(rules: list[Rule], at_c: float | None = None, upper: str = "Lumo DG", lower: str = "Granat 12") -> Window:
    found = governing_window(party(lower), party(upper), rules, SHELF, at_c)
    assert found is not None
    return found


@pytest.mark.parametrize(
    ("at_c", "low", "high", "reading"),
    [
        (20.0, 8 * H, 4 * D, Reading.STATED),
        (20.4, 8 * H, 4 * D, Reading.STATED),
        (12.0, 16 * H, 4 * D, Reading.BETWEEN),
        (17.0, 16 * H, 4 * D, Reading.BETWEEN),
        (22.0, 8 * H, 2 * D, Reading.BETWEEN),
        (None, 8 * H, 4 * D, Reading.STATED),
        # Colder the coat needs longer and stays open longer, hotter the other way round: only the careful end is read.
        (5.0, None, 7 * D, Reading.OUTSIDE),
        (36.0, 4 * H, None, Reading.OUTSIDE),
    ],
)
def test_a_table_is_read_on_the_careful_side(
    at_c: float | None, low: float | None, high: float | None, reading: Reading
) -> None:
    found = read(table(), at_c)
    assert (found.low, found.high, found.reading) == (low, high, reading)
    assert found.citations


@given(st.floats(10, 30))
def test_between_rows_no_promise_is_better_than_both_neighbours(at_c: float) -> None:
    found = read(table(), at_c)
    below = max((row for row in TABLE if row[0] <= at_c + 0.5), key=lambda row: row[0])
    above = min((row for row in TABLE if row[0] >= at_c - 0.5), key=lambda row: row[0])
    assert found.low is not None
    assert found.high is not None
    assert found.low >= min(below[1], above[1])
    assert found.high <= max(below[2], above[2])
    if found.reading is Reading.BETWEEN:
        assert (found.low, found.high) == (max(below[1], above[1]), min(below[2], above[2]))


def test_one_stated_temperature_is_not_stretched() -> None:
    rules = [window(EPOXY, None, H, D, at_c=20.0)]
    assert read(rules, 20.0).reading is Reading.STATED
    cold, hot = read(rules, 15.0), read(rules, 27.0)
    assert (cold.reading, cold.low, cold.high) == (Reading.OUTSIDE, None, D)
    assert (hot.reading, hot.low, hot.high) == (Reading.OUTSIDE, H, None)
    assert "below 20 °C" in cold.no_low
    assert "above 20 °C" in hot.no_high


def test_a_time_at_seventy_fahrenheit_is_no_earliest_at_twenty_celsius() -> None:
    # 70 degF is 21.1 degC: at 20 degC the coat needs somewhat longer, and stays open no shorter.
    found = read([window(EPOXY, None, 2 * H, D, at_c=70 / 1.8 - 32 / 1.8)], 20.0)
    assert (found.low, found.high) == (None, D)
    assert read([window(EPOXY, None, 2 * H, D, at_c=70 / 1.8 - 32 / 1.8)], 21.0).low == 2 * H


def test_one_sheet_outside_its_table_leaves_that_end_unknown() -> None:
    contact = over(SURFACER, "primer.epoxy", "within_window", low=2 * H, high=5 * D, unit="min", at_c=20.0)
    rules = [contact, topped(EPOXY, "surfacer"), window(EPOXY, "surfacer", H, 3 * D, at_c=10.0)]
    answer = ask("Granat 12", "NK-310", rules, at_c=15.0)
    assert isinstance(answer, Conditional)
    assert answer.window is not None
    # The one sheet tells no earliest at 15 degC, the other no latest: each end is as unknown as the worse of the two.
    assert (answer.window.low, answer.window.high) == (None, None)
    assert answer.window.no_low and answer.window.no_high


def test_a_window_without_a_temperature_says_so() -> None:
    found = read([window(EPOXY, None, H, D)], 12.0)
    assert (found.low, found.high, found.at_c, found.reading) == (H, D, None, Reading.UNTEMPERED)


def test_the_window_for_a_product_goes_before_its_kind_and_the_general_one() -> None:
    rules = [window(EPOXY, None, 1, 9), window(EPOXY, "topcoat", 2, 8), window(EPOXY, "topcoat.solid.2k", 3, 7)]
    assert (read(rules).low, read(rules).high) == (3, 7)
    rules.append(window(EPOXY, "product:Lumo DG", 4, 6))
    assert (read(rules).low, read(rules).high) == (4, 6)
    assert (read(rules, upper="NK-310").low, read(rules, upper="NK-310").high) == (1, 9)


def test_a_coat_of_itself_has_its_own_window() -> None:
    rules = [window(EPOXY, "self", 20, 400), window(EPOXY, "primer.epoxy", 1, 9)]
    assert (read(rules, upper="Granat 12").low, read(rules, upper="Granat 12").high) == (20, 400)
    assert governing_window(party("Granat 12"), party("Lumo DG"), rules, SHELF) is None


def test_the_upper_sheets_windows_are_for_what_goes_on_it() -> None:
    assert governing_window(party("Granat 12"), party("Lumo DG"), [window(GLOSS, None, 1, 2)], SHELF) is None
    assert governing_window(party("primer"), party("Lumo DG"), [window(GLOSS, None, 1, 2)], SHELF) is None


def test_two_sheets_that_give_times_are_read_together_strictly() -> None:
    contact = over(SURFACER, "primer.epoxy", "within_window", low=2 * H, high=5 * D, unit="min")
    rules = [contact, topped(EPOXY, "surfacer", "within_window"), window(EPOXY, "surfacer", H, 3 * D)]
    answer = ask("Granat 12", "NK-310", rules)
    assert isinstance(answer, Conditional)
    assert answer.window is not None
    assert (answer.window.low, answer.window.high) == (2 * H, 3 * D)
    assert {found.sheet.product for found in answer.window.citations} == {"Granat 12", "NK-310 Plainfield"}


def test_an_end_that_the_particular_window_lacks_comes_from_the_general_one() -> None:
    found = read([window(EPOXY, "topcoat", 30, None, at_c=20.0), window(EPOXY, None, 10, D, at_c=20.0)])
    assert (found.low, found.high) == (30, D)


def test_a_lone_earliest_and_a_lone_latest_make_one_window() -> None:
    found = read([window(EPOXY, "topcoat", 30, None, at_c=20.0), window(EPOXY, "topcoat", None, D, at_c=20.0)], 20.0)
    assert (found.low, found.high) == (30, D)


def test_no_latest_time_is_kept_apart_from_one_not_given() -> None:
    cold = window(EPOXY, "filler", 24 * H, None, unlimited=True, at_c=10.0)
    warm = window(EPOXY, "filler", 8 * H, None, unlimited=True, at_c=30.0)
    assert read([cold, warm], 20.0, upper="Fugex 300").unlimited
    unsaid = window(EPOXY, "filler", 8 * H, None, at_c=30.0)
    assert not read([cold, unsaid], 20.0, upper="Fugex 300").unlimited
    limited = window(EPOXY, "filler", 8 * H, 2 * D, at_c=30.0)
    assert read([cold, limited], 20.0, upper="Fugex 300").high == 2 * D


def test_an_oven_is_not_the_shop() -> None:
    oven = window(EPOXY, "topcoat", 30, None, at_c=60.0, method=Method.FORCE)
    assert read([oven, *table()], 20.0).low == 8 * H
    assert read([oven, *table()], 60.0).reading is Reading.OUTSIDE


def test_rows_of_a_hot_yard_stand_in_the_table_of_the_shop() -> None:
    yard = window(EPOXY, "topcoat", 2 * H, D, at_c=43.0, method=Method.FORCE)
    assert (read([yard, *table()], 43.0).low, read([yard, *table()], 43.0).high) == (2 * H, D)
    between = read([yard, *table()], 36.0)
    assert (between.low, between.high) == (4 * H, D)
    assert (read([yard, *table()], 20.0).low, read([yard, *table()], 20.0).high) == (8 * H, 4 * D)


def test_rows_that_cannot_both_be_kept_leave_no_moment() -> None:
    rules = [window(EPOXY, None, 36 * H, 14 * D, at_c=10.0), window(EPOXY, None, 12 * H, 24 * H, at_c=30.0)]
    assert read(rules, 20.0).closed


def test_what_to_do_past_the_latest_time_rides_along() -> None:
    general = claim(Topic.OVERCOAT_WINDOW, None, Stance.REQUIRES, property_="abrade_after", low=320, high=320, unit="P")
    special = claim(
        Topic.OVERCOAT_WINDOW, "topcoat", Stance.REQUIRES, property_="abrade_after", low=500, high=500, unit="P"
    )
    found = read([*table(), rule(EPOXY, general), rule(EPOXY, special)])
    assert found.past is not None
    assert found.past.claim == special


def test_the_windows_own_conditions_are_kept() -> None:
    found = read([window(EPOXY, "topcoat", H, D)])
    assert found.conditions == ()
    found = read(
        [rule(EPOXY, claim(Topic.OVERCOAT_WINDOW, None, Stance.STATES, "abraded", property_="window", low=1, high=2))]
    )
    assert found.conditions == (Condition.ABRADED,)


# Five published intervals, figures only, in hours: UFGS-09971, polyurethane over polyurethane, surface degC.
UFGS_09971 = [(16.0, 8, 48), (22.0, 6, 48), (28.0, 4, 36), (33.0, 3, 24), (39.0, 2, 12), (44.0, 1, 2)]


@pytest.mark.parametrize(("surface_c", "elapsed_h", "in_time"), [(34.0, 30, False), (20.0, 30, True), (34.0, 10, True)])
def test_a_hot_surface_closes_the_window_early(surface_c: float, elapsed_h: float, in_time: bool) -> None:
    rules = [window(EPOXY, None, low * H, high * H, at_c=at_c) for at_c, low, high in UFGS_09971]
    found = read(rules, surface_c)
    assert found.high is not None
    assert (elapsed_h * H <= found.high) is in_time
