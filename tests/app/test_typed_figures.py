"""Figures as typed: comma and point, units of one's own, ratios, and what is refused."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from app.typed_figures import NotAFigure, figure_text, read_figure, read_quantity, read_ratio


@pytest.mark.parametrize(
    ("typed", "value"),
    [("12.5", 12.5), ("12,5", 12.5), (" −3 ", -3.0), ("+4", 4.0), (",5", 0.5), ("1 200", 1200.0), ("7.", 7.0)],
)
def test_comma_and_point_are_the_same(typed: str, value: float) -> None:
    assert read_figure(typed) == value


def test_nothing_typed_is_no_figure_and_no_fault() -> None:
    assert read_figure("  ") is None
    assert read_quantity("", "µm") is None
    assert read_ratio(" ") == ()


@pytest.mark.parametrize("typed", ["1,200.5", "1.2.3", "abc", "-", "12e3", "nan", "inf", "4:1"])
def test_what_is_not_one_figure_is_refused(typed: str) -> None:
    with pytest.raises(NotAFigure):
        read_figure(typed)


@pytest.mark.parametrize(
    ("typed", "unit", "value"),
    [
        ("3 mil", "µm", 76.2),
        ("76.2 um", "µm", 76.2),
        ("68 F", "°C", 20.0),
        ("68 °F", "°C", 20.0),
        ("5,4 °F", "K", 3.0),
        ("60 %", "%", 60.0),
        ("10%", "% of the paint", 10.0),
        ("1 l", "ml", 1000.0),
        ("4 h", "min", 240.0),
        ("10.7639104167 ft2", "m²", 1.0),
        ("100", "µm", 100.0),
    ],
)
def test_a_unit_of_ones_own_is_turned_into_the_fields(typed: str, unit: str, value: float) -> None:
    assert read_quantity(typed, unit) == pytest.approx(value)


@pytest.mark.parametrize(("typed", "unit"), [("3 kg", "µm"), ("mil", "µm"), ("3 apples", "µm"), ("5 mil", "%")])
def test_another_quantitys_unit_is_refused(typed: str, unit: str) -> None:
    with pytest.raises(NotAFigure):
        read_quantity(typed, unit)


def test_ratios() -> None:
    assert read_ratio("4:1") == (4, 1)
    assert read_ratio("4 : 1 : 0,5") == (4, 1, 0.5)
    assert read_ratio("100 + 2") == (100, 2)
    for wrong in ("4", "4:", "4:0", "4:x", "4:-1"):
        with pytest.raises(NotAFigure):
            read_ratio(wrong)


@given(st.floats(-1e6, 1e6).filter(lambda v: v == 0 or abs(v) > 1e-6))
def test_what_is_shown_reads_back_within_its_digits(value: float) -> None:
    shown = read_figure(figure_text(value, 5))
    assert shown == pytest.approx(value, rel=1e-3, abs=0.6 if abs(value) > 1e4 else 1e-9)


def test_figures_are_shown_without_powers_of_ten() -> None:
    assert figure_text(0.000123456) == "0.0001235"
    assert figure_text(-4.0) == "−4"
    assert figure_text(1234567) == "1234567"
