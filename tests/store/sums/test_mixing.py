"""Mixing sums; the figures are computed from the definitions (volume x density = weight)."""

import pytest

from store.sums.mixing import (
    by_volume,
    by_weight,
    pot_life_at,
    thinner_of_mix,
    thinner_of_paint,
    volume_ratio,
    weight_ratio,
)
from store.sums.result import OutOfRange


def test_four_to_one_by_volume_on_the_scale() -> None:
    base, hardener = by_volume((4, 1), 1000, ("base", "hardener"), (1.45, 0.98))
    assert (base.ml, hardener.ml) == pytest.approx((800, 200))
    assert (base.g, hardener.g) == pytest.approx((1160, 196))


def test_three_parts() -> None:
    parts = by_volume((4, 1, 1), 1200, ("base", "hardener", "thinner"), (1.45, 0.98, 0.87))
    assert [p.g for p in parts] == pytest.approx([1160, 196, 174])


def test_weights_are_left_out_where_no_density_is_stated() -> None:
    assert [p.g for p in by_volume((2, 1), 300, ("base", "hardener"), (1.6, None))] == [pytest.approx(320), None]


def test_ratios_turn_into_one_another() -> None:
    assert weight_ratio((4, 1), (1.45, 0.98)) == pytest.approx((100, 16.897), abs=0.001)
    assert volume_ratio((100, 20), (1.50, 1.05)) == pytest.approx((3.5, 1))


def test_filler_with_two_percent_of_hardener() -> None:
    filler, hardener = by_weight((100, 2), 255, ("filler", "hardener"), (1.8, 1.1))
    assert (filler.g, hardener.g) == pytest.approx((250, 5))


def test_by_weight_needs_densities() -> None:
    with pytest.raises(OutOfRange):
        by_weight((100, 20), 100, ("base", "hardener"), (1.5, None))


@pytest.mark.parametrize(
    ("percent", "share", "to_add"),
    [(5, 4.76, 5.26), (10, 9.09, 11.11), (15, 13.04, 17.65), (20, 16.67, 25.0), (30, 23.08, 42.86), (50, 33.33, 100)],
)
def test_percent_of_the_paint_and_of_the_mix_are_two_things(percent: float, share: float, to_add: float) -> None:
    of_paint = thinner_of_paint(100, percent).value
    assert 100 * of_paint / (100 + of_paint) == pytest.approx(share, abs=0.005)
    assert thinner_of_mix(100, percent).value == pytest.approx(to_add, abs=0.005)


def test_pot_life_hint_stays_below_what_an_army_monthly_measured() -> None:
    # Army maintenance monthly, issue 396: polyurethane 8 h at room temperature, 2 h at 100 degF; halving says 2.83 h.
    assert pot_life_at(480, 23, 37.8).value < 120


def test_pot_life_is_not_stretched_in_the_cold() -> None:
    assert pot_life_at(240, 21, 11).value == 240
