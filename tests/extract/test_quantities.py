"""The grammar of figures, held against sentences as sheets print them."""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from extract.document import fold
from extract.quantities import Bound, Quantity, find_quantities, read_cell
from extract.units import Dimension


def only(text: str, default_unit: str | None = None) -> Quantity:
    found = find_quantities(fold(text), default_unit)
    assert len(found) == 1, found
    return found[0]


@pytest.mark.parametrize(
    ("text", "low", "high", "unit"),
    [
        ("30 min", 30, 30, "min"),
        ("45 mins.", 45, 45, "min"),
        ("2 hrs.", 120, 120, "min"),
        ("6h", 360, 360, "min"),
        ("7 d", 10080, 10080, "min"),
        ("3 weeks", 30240, 30240, "min"),
        ("two months", 86400, 86400, "min"),
        ("1 h 30", 90, 90, "min"),
        ("1 hour 15 minutes", 75, 75, "min"),
        ("2 hours and 30 minutes", 150, 150, "min"),
        ("1½ hrs.", 90, 90, "min"),
        ("1 1/2 h", 90, 90, "min"),
        ("1,5 h", 90, 90, "min"),
        ("half an hour", 30, 30, "min"),
        ("a quarter of an hour", 15, 15, "min"),
        ("three quarters of an hour", 45, 45, "min"),
        ("an hour and a half", 90, 90, "min"),
        ("an hour or two", 60, 120, "min"),
        ("a week", 10080, 10080, "min"),
        ("twenty-four hours", 1440, 1440, "min"),
        ("forty five minutes", 45, 45, "min"),
        ("five to ten minutes", 5, 10, "min"),
        ("a two-hour wait", 120, 120, "min"),
        ("60 min - 24 h", 60, 1440, "min"),
        ("24 h to 7 days", 1440, 10080, "min"),
        ("10...15 min", 10, 15, "min"),
        ("three full minutes", 3, 3, "min"),
        ("20 °C", 20, 20, "degC"),
        ("20 C", 20, 20, "degC"),
        ("200C", 20, 20, "degC"),
        ("20 0C", 20, 20, "degC"),
        ("20oC", 20, 20, "degC"),
        ("60 degrees C", 60, 60, "degC"),
        ("73'F", 22.7778, 22.7778, "degC"),
        ("70°F", 21.1111, 21.1111, "degC"),
        ("−40 to +90 °C", -40, 90, "degC"),
        ("between 15 and 25 °C", 15, 25, "degC"),
        ("15° to 25°C", 15, 25, "degC"),
        ("20 °C ± 2 °C", 20, 20, "degC"),
        ("60–95°F (16–35°C)", 15.5556, 35, "degC"),
        ("50 ± 5 µm", 50, 50, "um"),
        ("1.500 µm", 1500, 1500, "um"),
        ("2.5–3.5 mils", 63.5, 88.9, "um"),
        ("6.0 mils (150 microns)", 152.4, 152.4, "um"),
        ("80 mic", 80, 80, "um"),
        ("1,3–1,8 mm", 1300, 1800, "um"),
        ("0.013 in.", 330.2, 330.2, "um"),
        ("2,000 psi", 137.8951, 137.8951, "bar"),
        ("2 MPa", 20, 20, "bar"),
        ("29–36 lbf/in²", 1.99948, 2.48211, "bar"),
        ("41-43 %", 41, 43, "%"),
        ("75 per cent", 75, 75, "%"),
        ("7,5 m²/l", 7.5, 7.5, "m2/l"),
        ("300 sq. ft. per gallon", 7.36272, 7.36272, "m2/l"),
        ("1,8 kg per m²", 1.8, 1.8, "kg/m2"),
        ("1.350 kg/l", 1.35, 1.35, "kg/l"),
        ("P80–P150", 80, 150, "P"),
        ("P 320", 320, 320, "P"),
        ("180-220 grit", 180, 220, "P"),
        ("#400", 400, 400, "P"),
        ("24–28 sec.", 24, 28, "s"),
        ("17-19”", 17, 19, "s"),
        ("two or three thin coats", 2, 3, "count"),
        ("1 to 2 full wet coats", 1, 2, "count"),
    ],
)
def test_a_figure_is_read_in_its_canonical_unit(text: str, low: float, high: float, unit: str) -> None:
    q = only(text)
    assert (q.low, q.high) == (pytest.approx(low, rel=1e-4), pytest.approx(high, rel=1e-4))
    assert q.unit == unit


@pytest.mark.parametrize(
    ("text", "low", "high"),
    [
        ("at least 3 bar", 3, None),
        ("not below 3 bar", 3, None),
        ("never less than 3 bar", 3, None),
        ("min. 3 bar", 3, None),
        ("3 bar min.", 3, None),
        ("3 bar or more", 3, None),
        ("> 3 bar", 3, None),
        ("above 3 bar", 3, None),
        ("max. 3 bar", None, 3),
        ("3 bar max", None, 3),
        ("up to 3 bar", None, 3),
        ("not more than 3 bar", None, 3),
        ("must not exceed 3 bar", None, 3),
        ("3 bar or less", None, 3),
        ("≤ 3 bar", None, 3),
        ("under 3 bar", None, 3),
        ("3 bar", 3, 3),
    ],
)
def test_words_that_bound(text: str, low: float | None, high: float | None) -> None:
    q = only(text)
    assert (q.low, q.high) == (low, high)


def test_min_is_minutes_after_a_number_and_minimum_elsewhere() -> None:
    minutes, minimum = find_quantities("shake 2 min. min. 10 °c")
    assert (minutes.low, minutes.high, minutes.unit) == (2, 2, "min")
    assert (minimum.low, minimum.high, minimum.unit) == (10, None, "degC")


def test_bounds_printed_behind_belong_to_the_figure_before() -> None:
    cold, hot = find_quantities("10 °c min. 35 °c max.")
    assert (cold.low, cold.high, hot.low, hot.high) == (10, None, None, 35)


def test_a_negated_clause_turns_the_bound_round() -> None:
    q = only("below 10 °C")
    assert (q.bound, q.high) == (Bound.MOST, 10)
    assert (q.flipped().bound, q.flipped().low, q.flipped().high) == (Bound.LEAST, 10, None)


def test_a_margin_above_the_dew_point_is_a_difference() -> None:
    # A difference of 5 degF is 2.78 K, although trade papers print '5 F (-15 C)' (coatings trade magazine, March 2016).
    q = only("5 °F (-15 °C) above the dew point")
    assert q.dimension is Dimension.TEMPERATURE_DIFFERENCE
    assert q.low == pytest.approx(2.7778, abs=1e-3)
    assert only("3 K above the dew point").low == 3


def test_a_time_in_a_word_says_so() -> None:
    q = only("leave overnight before sanding")
    assert (q.word, q.approximate) == ("overnight", True)
    assert (only("within the hour").low, only("within the hour").high) == (None, 60)
    assert only("prime the same day").high == 1440


@pytest.mark.parametrize(
    "text",
    ["2K primer", "mix 4:1", "2 of the coats", "CM-310 and 2 more", "Issue 7", "two-pack epoxy", "M&S Panel Wipe",
     "a can of paint", "one in four", "a mixture 4 in 1"],
)  # fmt: skip
def test_numbers_without_a_unit_are_no_figures(text: str) -> None:
    assert find_quantities(fold(text)) == ()


def test_a_bare_number_takes_the_unit_of_its_column() -> None:
    assert find_quantities("25", "min")[0].low == 25
    assert (only("1,2-1,3", "mm").low, only("1,2-1,3", "mm").high) == (1200, 1300)
    cell = read_cell("2 crossed", "coat")
    assert cell is not None
    assert cell.low == 2
    assert read_cell("8 h at 20 °c") is None


def test_two_figures_of_one_unit_stay_two() -> None:
    found = find_quantities(fold("6 h at 20 °C / 3 h at 30 °C"))
    assert [q.low for q in found] == [360, 20, 180, 30]


def test_places_are_those_of_the_words() -> None:
    text = fold("Flash-off between coats 10–15 min at 20 °C.")
    for q in find_quantities(text):
        assert text[q.start : q.end] == q.printed


@given(st.integers(1, 999), st.sampled_from(["min", "h", "days", "µm", "mils", "bar", "psi", "%", "months"]))
def test_any_whole_number_with_a_unit_is_one_figure(number: int, unit: str) -> None:
    q = only(f"about {number} {unit} or so")
    assert q.printed_low == q.printed_high == number
    assert q.approximate


@given(st.text(max_size=80))
def test_any_text_is_read_without_overlap(text: str) -> None:
    found = find_quantities(fold(text))
    for q in found:
        assert 0 <= q.start < q.end <= len(text)
    assert all(a.end <= b.start for a, b in pairwise(found))


@given(st.floats(0.1, 90, allow_nan=False), st.floats(0.1, 9, allow_nan=False))
def test_a_range_keeps_both_ends(low: float, width: float) -> None:
    a, b = round(low, 1), round(low + width, 1)
    if a < b:
        q = only(f"{a}-{b} mm")
        assert (q.printed_low, q.printed_high) == (a, b)
        comma = only(f"{a} to {b} mm".replace(".", ","))
        assert (comma.low, comma.high) == (q.low, q.high)


def test_a_paint_of_two_components_is_no_temperature() -> None:
    def temperatures(text: str) -> list[float | None]:
        return [q.low for q in find_quantities(fold(text)) if q.dimension is Dimension.TEMPERATURE]

    assert temperatures("Hobnail 2C: 2 parts") == []
    assert temperatures("8 h at 23C") == [23.0]
