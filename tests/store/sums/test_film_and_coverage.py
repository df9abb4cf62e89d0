"""Film and coverage against published worked figures; each row names its source."""

import pytest

from store.sums.coverage import paint_needed, profile_allowance, spreading_rate, spreading_rate_of_mix
from store.sums.film import dry_from_wet, film_disagrees, solids_after_thinning, wet_from_dry
from store.sums.result import OutOfRange
from store.sums.units import convert

MIL = 25.4


@pytest.mark.parametrize(
    ("solids", "dry", "wet"),
    [
        (42, 1.5 * MIL, 3.57 * MIL),  # Paints and Coatings Resource Center, expert archive
        (62, 100, 161),  # a coating shop's public page
        (50, 50, 100),  # by definition
        (48, 60, 125),  # by definition
    ],
)
def test_wet_film_for_a_dry_film(solids: float, dry: float, wet: float) -> None:
    assert wet_from_dry(dry, solids).value == pytest.approx(wet, rel=0.003)
    assert dry_from_wet(wet, solids).value == pytest.approx(dry, rel=0.003)


def test_thinned_solids_worked_example() -> None:
    # An industrial coating school's page: 60 % and one quart in one US gallon gives 48 %, not 35, not 45.
    assert solids_after_thinning(60, 25).value == pytest.approx(48)


@pytest.mark.parametrize(
    ("dry", "solids", "thinner", "wet"), [(50, 50, 10, 110), (75, 62, 15, 139.1), (80, 65, 5, 129.2)]
)
def test_thinner_makes_the_wet_film_thicker(dry: float, solids: float, thinner: float, wet: float) -> None:
    assert wet_from_dry(dry, solids, thinner).value == pytest.approx(wet, abs=0.06)


@pytest.mark.parametrize(
    ("solids", "dry", "rate"),
    [
        (71, 125, 5.7),  # a coating shop's public page
        (100, 25, 40.0),  # a paint maker's public loss table, and the next three
        (85, 150, 5.7),
        (55, 75, 7.3),
        (65, 125, 5.2),
    ],
)
def test_spreading_rate_published(solids: float, dry: float, rate: float) -> None:
    assert spreading_rate(solids, dry).value == pytest.approx(rate, abs=0.05)


@pytest.mark.parametrize(
    ("solids", "mils", "feet"),
    [
        (10, 0.5, 320),  # SSPC-Paint 27 par. 2.2
        (65, 2.0, 520),  # SSPC alkyd/linseed primer specification
        (60, 2.0, 480),  # SSPC zinc dust/phenolic specification
        (66, 1.0, 1058),  # SSPC alkyd primer specification, type II
        (37, 1.0, 590),  # the same, type I
    ],
)
def test_spreading_rate_in_american_units(solids: float, mils: float, feet: float) -> None:
    found = convert(spreading_rate(solids, mils * MIL).value, "m²/l", "ft²/US gal").value
    assert found == pytest.approx(feet, rel=0.01)


def test_a_misprint_in_a_handbook_is_seen() -> None:
    # The stored copy of MIL-HDBK-1110 par. 2.1.5 prints 600 ft2 at 1 mil for 50 % solids beside 400 at 2 mil.
    at_two = convert(spreading_rate(50, 2 * MIL).value, "m²/l", "ft²/US gal").value
    at_one = convert(spreading_rate(50, 1 * MIL).value, "m²/l", "ft²/US gal").value
    assert at_two == pytest.approx(400, rel=0.01)
    assert at_one == pytest.approx(800, rel=0.01)


def test_thinner_never_changes_what_a_litre_of_paint_covers() -> None:
    assert spreading_rate_of_mix(62, 75, 15).value == pytest.approx(spreading_rate(62, 75).value / 1.15)


@pytest.mark.parametrize(
    ("area", "dry", "solids", "loss", "extra", "litres"),
    [
        (10, 100, 62, 30, 0, 2.304),
        (8, 60, 50, 50, 0, 1.920),
        (4.5, 13, 10, 40, 0, 0.975),
        (12, 75, 62, 35, 0, 2.233),
        (12, 75, 62, 35, 10, 2.531),
        (12, 75, 62, 35, 35, 3.275),
        # A blasting equipment house's article: 10 000 ft2, 50 um profile in full, 79 %, transfer 75 %: about 80 l.
        (929.03, 50, 79, 25, 0, 78.4),
    ],
)
def test_paint_needed(area: float, dry: float, solids: float, loss: float, extra: float, litres: float) -> None:
    assert paint_needed(area, dry, solids, loss, extra).value == pytest.approx(litres, abs=0.05 if area > 100 else 6e-4)


def test_loss_is_a_share_wasted_not_a_surcharge() -> None:
    assert paint_needed(12, 75, 62, 35).value != pytest.approx(1.960, abs=0.01)


@pytest.mark.parametrize(("profile", "extra"), [(30, 10), (50, 35), (75, 35), (120, 60), (200, 125)])
def test_profile_allowance(profile: float, extra: float) -> None:
    # Public guidance note on spreading rate and application losses; the higher class at a border.
    assert profile_allowance(profile).value == extra


def test_a_sheet_whose_wet_film_dry_film_and_solids_disagree() -> None:
    # TO 1-1-8 par. 6.12.9.7: 0.6 mil wet for 0.2-0.3 mil dry, while the family has about 10 % solids.
    assert film_disagrees(0.6 * MIL, 0.25 * MIL, 10)
    assert not film_disagrees(161, 100, 62)


@pytest.mark.parametrize("solids", [0, 101, -5])
def test_refuses_impossible_solids(solids: float) -> None:
    with pytest.raises(OutOfRange) as caught:
        wet_from_dry(50, solids)
    assert caught.value.name == "volume solids"
