"""Cups, grit and units against published tables and pint."""

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from store.sums.cups import CUPS, seconds_in, viscosity
from store.sums.grit import CAMI_MICRONS, P_MICRONS, microns, p_from_cami, p_from_microns
from store.sums.result import OutOfRange
from store.sums.units import UNITS, convert

PINT = pint.UnitRegistry()


@pytest.mark.parametrize(
    ("cup", "seconds", "expected"),
    # A viscosity reference oil maker's table, seconds read from it to the whole second.
    [
        ("Zahn 2", 48, 120), ("Zahn 2", 33, 66), ("Ford 4", 36, 120), ("Ford 4", 64, 230), ("Ford 3", 58, 120),
        ("Ford 2", 42, 34), ("Ford 5", 40, 460), ("Zahn 1", 45, 17), ("Zahn 4", 62, 850),
    ],
)  # fmt: skip
def test_cups_agree_with_a_reference_oil_makers_table(cup: str, seconds: float, expected: float) -> None:
    assert CUPS[cup].seconds(expected) == pytest.approx(seconds, abs=0.6)


@pytest.mark.parametrize(
    ("cup", "seconds", "expected"),
    # Computed from the formulas of ISO 2431, DIN 53211 and ASTM D1200.
    [("ISO 3 mm", 57, 21.74), ("ISO 4 mm", 30, 34.43), ("ISO 4 mm", 100, 135.0), ("ISO 6 mm", 60, 404.5),
     ("DIN 4 mm", 30, 122.03), ("DIN 4 mm", 97, 438.63), ("Ford 4", 30, 98.2)],
)  # fmt: skip
def test_viscosity(cup: str, seconds: float, expected: float) -> None:
    assert viscosity(cup, seconds).value == pytest.approx(expected, rel=0.001)


def test_din_4_and_iso_4_are_not_the_same_cup() -> None:
    assert seconds_in("DIN 4 mm", "ISO 4 mm", 25.7).value == pytest.approx(74.9, abs=0.2)


@pytest.mark.parametrize(("cup", "seconds"), [("DIN 4 mm", 18), ("ISO 4 mm", 20), ("Zahn 2", 100)])
def test_a_cup_outside_its_seconds_is_refused(cup: str, seconds: float) -> None:
    with pytest.raises(OutOfRange):
        viscosity(cup, seconds)


@given(st.sampled_from(sorted(CUPS)), st.floats(0.05, 0.95))
def test_seconds_and_viscosity_are_inverse(name: str, share: float) -> None:
    cup = CUPS[name]
    seconds = cup.low + share * (cup.high - cup.low)
    assert cup.seconds(cup.viscosity(seconds)) == pytest.approx(seconds)


def test_grit_scales_run_down_together() -> None:
    for table in (P_MICRONS, CAMI_MICRONS):
        sizes = [table[grade] for grade in sorted(table)]
        assert sizes == sorted(sizes, reverse=True)


@pytest.mark.parametrize(("cami", "p"), [(80, 80), (180, 180), (240, 280), (320, 400), (400, 800), (600, 1200)])
def test_american_grit(cami: int, p: int) -> None:
    # A wood finisher's comparison chart, CAMI / P / micron.
    assert p_from_cami(cami).value == p


def test_grit_of_a_size_and_refusals() -> None:
    assert p_from_microns(201).value == 80
    assert microns("P", 320).value == pytest.approx(46.2, abs=1.5)
    with pytest.raises(OutOfRange):
        microns("P", 181)


@pytest.mark.parametrize(
    ("value", "source", "target", "pint_source", "pint_target"),
    [
        (3, "mil", "µm", "thou", "micrometer"),
        (1, "US gal", "l", "gallon", "liter"),
        (1, "imp gal", "l", "imperial_gallon", "liter"),
        (820, "ft²/US gal", "m²/l", "foot**2/gallon", "meter**2/liter"),
        (10, "yd²/imp gal", "m²/l", "yard**2/imperial_gallon", "meter**2/liter"),
        (3.5, "lb/US gal", "g/l", "pound/gallon", "gram/liter"),
        (29, "psi", "bar", "psi", "bar"),
        (12, "ft³/min", "l/min", "foot**3/minute", "liter/minute"),
        (1.5, "oz/yd²", "g/m²", "ounce/yard**2", "gram/meter**2"),
        (1, "US fl oz", "ml", "fluid_ounce", "milliliter"),
    ],
)
def test_units_agree_with_pint(value: float, source: str, target: str, pint_source: str, pint_target: str) -> None:
    reference = PINT.Quantity(value, pint_source).to(pint_target).magnitude
    assert convert(value, source, target).value == pytest.approx(reference, rel=1e-8)


def test_a_reading_and_a_difference_are_converted_differently() -> None:
    # A coatings magazine (March 2016) converted a spread of 5 degF as if it were a reading: '-15 degC'.
    assert convert(5, "°F (difference)", "K (difference)").value == pytest.approx(2.7778, abs=1e-4)
    assert convert(5, "°F", "°C").value == pytest.approx(-15)


def test_two_quantities_are_not_converted() -> None:
    with pytest.raises(ValueError, match="thickness"):
        convert(1, "mil", "l")


@given(st.sampled_from(sorted(UNITS)), st.floats(1, 1e4))
def test_there_and_back(name: str, value: float) -> None:
    for other in (n for n, u in UNITS.items() if u.quantity == UNITS[name].quantity):
        assert convert(convert(value, name, other).value, other, name).value == pytest.approx(value)


# Two public charts of P grades (P12 to P120, P150 to P2000), a third for P2500; from P240 on the mean of FEPA 43 with
# its tolerance, from memory and within what the charts show.
@pytest.mark.parametrize(
    ("grade", "size", "tolerance"),
    [
        (12, 1815, 0), (16, 1324, 0), (20, 1000, 0), (24, 764, 0), (30, 642, 0), (36, 538, 0), (40, 425, 0),
        (50, 336, 0), (60, 269, 0), (80, 201, 0), (100, 162, 0), (120, 125, 0), (150, 100, 0), (180, 82, 0),
        (220, 68, 0), (240, 58.5, 2.0), (280, 52.2, 2.0), (320, 46.2, 1.5), (360, 40.5, 1.5), (400, 35.0, 1.5),
        (500, 30.2, 1.5), (600, 25.8, 1.0), (800, 21.8, 1.0), (1000, 18.3, 1.0), (1200, 15.3, 1.0), (1500, 12.6, 1.0),
        (2000, 10.3, 0.8), (2500, 8.4, 0.5),
    ],
)  # fmt: skip
def test_sizes_of_p_grades(grade: int, size: float, tolerance: float) -> None:
    assert microns("P", grade).value == pytest.approx(size, abs=max(tolerance, 0.5))


# The same charts' US grades beside the P grade that is nearest; where a chart names two, either will do.
@pytest.mark.parametrize(
    ("cami", "near"),
    [
        (24, {24}), (30, {30}), (36, {36}), (40, {40}), (50, {50}), (60, {60}), (80, {80}), (100, {100, 120}),
        (120, {120, 150}), (150, {150, 180}), (180, {180}), (220, {220}), (240, {280}), (280, {320, 360}), (320, {400}),
        (360, {500, 600}), (400, {800}), (500, {1000}), (600, {1200}), (800, {1500}), (1000, {2000, 2500}),
    ],
)  # fmt: skip
def test_american_grades_beside_p_grades(cami: int, near: set[int]) -> None:
    assert p_from_cami(cami).value in near


def test_differences_of_temperature() -> None:
    # By definition; a spread of 10 F is 5.56 K, and 3 K are 5.4 F.
    assert convert(10, "°F (difference)", "K (difference)").value == pytest.approx(5.5556, abs=1e-4)
    assert convert(3, "K (difference)", "°F (difference)").value == pytest.approx(5.4)
