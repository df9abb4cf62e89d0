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
