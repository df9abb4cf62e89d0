"""Dew point against a published table, psychrolib 2.5, and the traps of readings against differences."""

import psychrolib
import pytest
from hypothesis import given
from hypothesis import strategies as st

from store.sums.dew_point import dew_point, frost_point, humidity_from_dew_point, margin
from store.sums.result import OutOfRange

psychrolib.SetUnitSystem(psychrolib.SI)

# An industrial paint maker's public sheet on air temperature, substrate temperature and humidity, June 2013.
PUBLISHED = [
    (5, 75, 0.9), (5, 85, 2.7), (5, 90, 3.6), (10, 50, 0.1), (10, 65, 3.7), (10, 80, 6.7), (10, 90, 8.4),
    (15, 50, 4.7), (15, 70, 9.5), (15, 80, 11.5), (15, 85, 12.5), (18, 60, 10.2), (20, 50, 9.3), (20, 55, 10.7),
    (20, 60, 12.0), (25, 50, 13.8), (25, 60, 16.7), (28, 55, 18.1), (30, 50, 18.4), (30, 55, 20.0), (30, 60, 21.4),
    (20, 70, 14.4),  # a German building-physics dew-point table
    (22, 45, 9.5), (22, 70, 16.3),  # a building drying firm's glossary
]  # fmt: skip


@pytest.mark.parametrize(("air", "humidity", "published"), PUBLISHED)
def test_agrees_with_the_published_table_to_its_rounding(air: float, humidity: float, published: float) -> None:
    assert dew_point(air, humidity).value == pytest.approx(published, abs=0.11)


@given(st.floats(0, 40), st.floats(30, 100))
def test_agrees_with_psychrolib_above_freezing(air: float, humidity: float) -> None:
    reference = psychrolib.GetTDewPointFromRelHum(air, humidity / 100)
    if reference >= 0:
        assert dew_point(air, humidity).value == pytest.approx(reference, abs=0.035)


# Above freezing only: below it psychrolib counts the humidity itself over ice, hygrometers and the WMO over water.
@pytest.mark.parametrize(("air", "humidity"), [(5, 30), (5, 50), (0.01, 50), (12, 40), (3, 75)])
def test_frost_point_agrees_with_psychrolib_which_reckons_over_ice(air: float, humidity: float) -> None:
    reference = psychrolib.GetTDewPointFromRelHum(air, humidity / 100)
    assert frost_point(air, humidity) == pytest.approx(reference, abs=0.06)
    assert "frost point" in dew_point(air, humidity).notes[0]


def test_no_frost_note_above_freezing() -> None:
    assert dew_point(20, 50).notes == ()


@given(st.floats(-20, 45), st.floats(10, 100))
def test_humidity_is_the_inverse(air: float, humidity: float) -> None:
    assert humidity_from_dew_point(air, min(air, dew_point(air, humidity).value)).value == pytest.approx(humidity)


# Computed from the formula; the pairs are chosen round the 3 K rule of ISO 8502-4 (from memory) and its 5 degF cousin.
@pytest.mark.parametrize(
    ("air", "humidity", "surface", "found", "passes"),
    [
        (20, 60, 15.5, 3.50, True),
        (20, 60, 14.9, 2.90, False),
        (18, 70, 15.5, 3.06, True),
        (12, 82, 12.0, 2.98, False),
        (25, 85, 25.0, 2.70, False),
        (21, 65, 16.7, 2.53, False),
    ],
)
def test_margin(air: float, humidity: float, surface: float, found: float, passes: bool) -> None:
    result = margin(air, humidity, surface)
    assert result.margin == pytest.approx(found, abs=0.01)
    assert result.passes is passes


def test_a_sheet_that_asks_less_is_believed() -> None:
    assert margin(12, 82, 12.0, asked=5 / 1.8).passes


@pytest.mark.parametrize(("air", "humidity"), [(61, 50), (-46, 50), (20, 0), (20, 101), (float("nan"), 50)])
def test_refuses_what_lies_outside(air: float, humidity: float) -> None:
    with pytest.raises(OutOfRange):
        dew_point(air, humidity)


# Computed: the formula with Sonntag's set beside psychrolib 2.5.0's own dew point, to four figures.
@pytest.mark.parametrize(
    ("air", "humidity", "formula", "reference"),
    [
        (0, 100, 0.0, 0.0), (2, 95, 1.2827, 1.2844), (5, 90, 3.4950, 3.4985), (10, 80, 6.7060, 6.7130),
        (12, 85, 9.5544, 9.5593), (15, 75, 10.6019, 10.6099), (18, 65, 11.3188, 11.3297), (20, 50, 9.2552, 9.2724),
        (20, 85, 17.3994, 17.4027), (25, 60, 16.6931, 16.7011), (30, 70, 23.9272, 23.9279),
        (35, 40, 19.3838, 19.3846), (40, 30, 19.1321, 19.1252),
    ],
)  # fmt: skip
def test_the_formula_to_four_figures_and_psychrolib_beside_it(
    air: float, humidity: float, formula: float, reference: float
) -> None:
    assert dew_point(air, humidity).value == pytest.approx(formula, abs=6e-5)
    assert psychrolib.GetTDewPointFromRelHum(air, humidity / 100) == pytest.approx(reference, abs=2e-3)


# A secondary table in whole degrees that truncates here and there, so to one degree only.
@pytest.mark.parametrize(
    ("air", "humidity", "whole"),
    [(50, 70, 43), (30, 80, 26), (20, 50, 9), (20, 60, 12), (15, 70, 9), (20, 40, 5), (25, 60, 16)],
)
def test_agrees_with_a_table_in_whole_degrees_to_one_degree(air: float, humidity: float, whole: float) -> None:
    assert dew_point(air, humidity).value == pytest.approx(whole, abs=1.0)


# A public chart in degrees Fahrenheit; its 60 F / 60 % cell is more than a degree out and left aside.
@pytest.mark.parametrize(
    ("air", "humidity", "charted"), [(70, 65, 57), (70, 90, 67), (70, 85, 65), (80, 50, 59), (60, 85, 55), (90, 80, 82)]
)
def test_agrees_with_a_chart_in_fahrenheit_to_one_degree(air: float, humidity: float, charted: float) -> None:
    found = dew_point((air - 32) / 1.8, humidity).value
    assert found * 1.8 + 32 == pytest.approx(charted, abs=1.0)


# Over supercooled water by the formula, over ice by psychrolib; the paint maker's sheet of June 2013 prints -4.1.
@pytest.mark.parametrize(
    ("air", "humidity", "water", "ice"),
    [
        (5, 50, -4.58, -4.03),
        (5, 30, -11.17, -9.92),
        (0, 50, -9.20, -8.16),
        (-2, 60, -8.74, -7.98),
        (-5, 20, -24.55, -22.59),
    ],
)
def test_below_freezing_water_and_ice_differ(air: float, humidity: float, water: float, ice: float) -> None:
    assert dew_point(air, humidity).value == pytest.approx(water, abs=0.006)
    assert psychrolib.GetTDewPointFromRelHum(air, humidity / 100) == pytest.approx(ice, abs=0.006)


def test_the_printed_frost_point_of_a_paint_makers_sheet() -> None:
    # An industrial paint maker's public sheet, June 2013: 5 degC and 50 %, -4.1, over ice.
    assert frost_point(5, 50) == pytest.approx(-4.1, abs=0.1)


# A German building-physics page: ground at the dew point and 3 degC more, 17.4 and 11.4.
@pytest.mark.parametrize(("air", "humidity", "least"), [(20, 70, 17.4), (10, 90, 11.4)])
def test_least_temperature_of_the_surface(air: float, humidity: float, least: float) -> None:
    assert dew_point(air, humidity).value + 3 == pytest.approx(least, abs=0.06)
    assert margin(air, humidity, least + 0.1).passes
    assert not margin(air, humidity, least - 0.1).passes


# Computed: with the panel as warm as the air, 3 K alone hold the humidity below 85 %.
@pytest.mark.parametrize(("air", "most"), [(5, 81.0), (10, 81.6), (15, 82.3), (20, 82.9), (25, 83.5), (30, 84.0)])
def test_three_degrees_bind_before_eighty_five_per_cent(air: float, most: float) -> None:
    assert humidity_from_dew_point(air, air - 3).value == pytest.approx(most, abs=0.06)
