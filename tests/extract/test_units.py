"""Conversions against published or defined values, and figures as words."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from extract.document import fold
from extract.quantities import find_quantities
from extract.units import format_value, in_unit, units


@pytest.mark.parametrize(
    ("unit", "value", "canonical", "source"),
    [
        ("mil", 1, 25.4, "international inch, 1959, exact"),
        ("us_gal", 1, 3.785411784, "231 in3, exact"),
        ("imp_gal", 1, 4.54609, "UK Weights and Measures Act, exact"),
        ("psi", 14.5037738, 1.0, "lbf and inch as defined"),
        ("ft2/us_gal", 40.7458333, 1.0, "from the definitions of foot and gallon"),
        ("ft2/us_gal", 770, 18.8979, "same"),
        ("degF", 140, 60.0, "(F - 32)/1.8"),
        ("degF", 32, 0.0, "(F - 32)/1.8"),
        ("lb/us_gal", 3.5, 0.41939, "VOC tables print 420 g/l beside 3.5 lb/gal"),
        # SSPC-Paint 27 par. 2.2 prints 320 ft2/gal beside 7.9 m2/l; SSPC zinc dust specification 480 beside 11.8.
        ("ft2/us_gal", 320, 7.9, "SSPC-Paint 27"),
        ("ft2/us_gal", 480, 11.8, "SSPC zinc dust/phenolic specification"),
    ],
)
def test_conversions(unit: str, value: float, canonical: float, source: str) -> None:
    assert units()[unit].canonical(value) == pytest.approx(canonical, rel=0.01 if "SSPC" in source else 1e-4), source


def test_a_difference_is_not_a_reading() -> None:
    assert units()["degF"].difference(5) == pytest.approx(2.7778, abs=1e-4)
    assert units()["degF"].difference(10) == pytest.approx(5.5556, abs=1e-4)


def test_in_unit() -> None:
    assert in_unit(330.2, "mil") == pytest.approx(13)
    assert in_unit(43200 * 9, "months") == 9


@given(st.integers(1, 60 * 24 * 400))
def test_a_time_reads_back_as_itself(minutes: int) -> None:
    words = format_value(float(minutes), "min")
    (q,) = find_quantities(fold(words))
    assert q.low == pytest.approx(minutes, rel=1e-3)


@given(st.integers(1, 900), st.sampled_from(["um", "degC", "bar", "%", "m2/l", "P", "s"]))
def test_a_figure_reads_back_as_itself(value: int, unit: str) -> None:
    value = value + 11 if unit == "P" else value
    (q,) = find_quantities(fold(format_value(float(value), unit)))
    assert (q.low, q.unit) == (pytest.approx(value), unit)


@pytest.mark.parametrize(
    ("value", "unit", "words"),
    [
        (30, "min", "30 min"), (90, "min", "1.5 h"), (1440, "min", "24 h"), (4320, "min", "3 days"),
        (10080, "min", "1 week"), (43200, "min", "1 month"), (525600, "min", "1 year"), (75, "min", "1 h 15 min"),
        (320, "P", "P320"), (1, "count", "1 coat"), (6, "months", "6 months"),
    ],
)  # fmt: skip
def test_figures_as_words(value: float, unit: str, words: str) -> None:
    assert format_value(value, unit) == words
