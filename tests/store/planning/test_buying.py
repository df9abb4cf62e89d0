"""What to mix: computed from the definitions."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from store.planning.buying import USUAL_PANELS, Mix, ready_to_spray, to_mix
from store.sums.coverage import paint_needed
from store.sums.result import OutOfRange


def test_ready_volume_agrees_with_the_coverage_sum() -> None:
    litres = paint_needed(12, 75, 62, 35).value
    assert ready_to_spray(12, 75, 1, 62, 35) == pytest.approx(1000 * litres)
    assert ready_to_spray(12, 37.5, 2, 62, 35, thinner=10) == pytest.approx(1100 * litres)


def test_four_to_one_with_thinner_by_volume_and_weight() -> None:
    mix = Mix(("base", "hardener"), (4, 1), "volume", 10, (1.45, 0.98), 0.87)
    found = to_mix(mix, 550, prices=(30, 40, 8))
    base, hardener, thinner = found.parts
    assert (base.ml, hardener.ml, thinner.ml) == pytest.approx((400, 100, 50))
    assert (base.g, hardener.g, thinner.g) == pytest.approx((580, 98, 43.5))
    assert found.cost == pytest.approx(12 + 4 + 0.4)


def test_the_base_is_rounded_up_and_the_ratio_kept() -> None:
    found = to_mix(Mix(("base", "hardener"), (4, 1), "volume"), 503, step_ml=10)
    assert found.parts[0].ml == pytest.approx(410)
    assert found.parts[1].ml == pytest.approx(102.5)
    assert found.cost is None


def test_by_weight() -> None:
    found = to_mix(Mix(("filler", "hardener"), (100, 2), "weight", densities=(1.8, 1.1)), 100, step_ml=1)
    filler, hardener = found.parts
    assert filler.g is not None and hardener.g is not None
    assert hardener.g / filler.g == pytest.approx(0.02)


def test_by_weight_without_densities_is_refused() -> None:
    with pytest.raises(OutOfRange):
        to_mix(Mix(("filler", "hardener"), (100, 2), "weight"), 100)


@given(st.floats(1, 5000), st.floats(1, 100))
def test_never_less_than_asked_nor_more_than_one_step_over(ready: float, step: float) -> None:
    found = to_mix(Mix(("base", "hardener", "activator"), (5, 1, 0.5), "volume", 15), ready, step_ml=step)
    assert found.ready_ml >= ready * (1 - 1e-6)
    assert found.ready_ml <= ready + step * 6.5 / 5 * 1.15 * (1 + 1e-6) + 1e-6


def test_usual_panels_say_what_they_rest_on() -> None:
    assert all("no source" in panel.source and panel.area > 0 for panel in USUAL_PANELS)
