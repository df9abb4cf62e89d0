"""What to mix for a job, worked from the definitions; cups, pots and what a sheet states."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given
from hypothesis import strategies as st

from extract.claims import Claim, Evidence, Stance, Topic
from store.planning.measuring import Measure, cup_step, on_marks
from store.planning.mix_job import DensitiesLacking, MixJob, mixed, with_film_of_all_coats
from store.planning.pot_life import Pot, PotStage, pot_from_text, pot_to_text
from store.planning.product_figures import product_figures
from store.records import ProductRecord, Proposal, Rule, SheetRef
from store.sums.result import OutOfRange

JOB = MixJob(area=2.0, coats=2, dry=50, solids=50, loss=50, parts=(4, 1), thinner=10)
"""2 m2 x 50 um x 2 / 0.5 / 0.5 = 800 ml of paint, 880 ml ready to spray."""


def test_from_the_area_to_the_cup() -> None:
    found = mixed(JOB)
    assert found.wanted_ml == pytest.approx(880)
    base, hardener, thinner = found.made.parts
    # 4:1 with a tenth of thinner falls on 10 ml marks in steps of 80 ml of base.
    assert (base.ml, hardener.ml, thinner.ml) == pytest.approx((640, 160, 80))
    assert found.made.ready_ml == pytest.approx(880)


def test_thinner_of_the_mix_is_more_than_the_same_percent_of_the_paint() -> None:
    of_mix = mixed(replace(JOB, thinner_of_mix=True))
    assert of_mix.thinner_of_paint == pytest.approx(100 / 9)
    assert of_mix.wanted_ml == pytest.approx(800 * (1 + 1 / 9))


def test_a_third_part_that_is_thinner_leaves_no_solids() -> None:
    with_thinner = mixed(replace(JOB, parts=(4, 1, 1), third_is_thinner=True, thinner=0))
    assert with_thinner.wanted_ml == pytest.approx(800 * 1.2)
    assert [p.name for p in with_thinner.made.parts] == ["base", "hardener", "thinner"]
    other = mixed(replace(JOB, parts=(4, 1, 1), thinner=0))
    assert other.wanted_ml == pytest.approx(800)
    assert [p.name for p in other.made.parts] == ["base", "hardener", "third component"]


def test_by_weight_needs_densities_and_then_keeps_the_ratio() -> None:
    with pytest.raises(DensitiesLacking):
        mixed(replace(JOB, basis="weight", parts=(100, 20)))
    found = mixed(replace(JOB, basis="weight", parts=(100, 20), densities=(1.4, 1.0, None), measure=Measure.SCALE))
    base, hardener, _ = found.made.parts
    assert base.g is not None and hardener.g is not None
    assert base.g / hardener.g == pytest.approx(5)
    assert base.g == pytest.approx(round(base.g))


def test_one_component() -> None:
    found = mixed(replace(JOB, parts=(), thinner=0, densities=(1.2, None, None), prices=(20, None, None)))
    (paint,) = found.made.parts
    assert (paint.name, paint.ml, paint.g) == ("paint", pytest.approx(800), pytest.approx(960))
    assert found.made.cost == pytest.approx(16)


def test_cost_only_where_every_price_is_known() -> None:
    assert mixed(replace(JOB, prices=(30, 40, None))).made.cost is None
    known = mixed(replace(JOB, prices=(30, 40, None), thinner_price=8)).made.cost
    assert known == pytest.approx(0.64 * 30 + 0.16 * 40 + 0.08 * 8)


def test_film_of_all_coats_is_shared_out() -> None:
    assert mixed(with_film_of_all_coats(replace(JOB, dry=100))).wanted_ml == pytest.approx(880)


@pytest.mark.parametrize("wrong", [{"solids": 0}, {"loss": 99}, {"area": -1}, {"thinner": 300}, {"parts": (4.0, 0.0)}])
def test_what_cannot_be_is_refused(wrong: dict[str, float]) -> None:
    with pytest.raises(OutOfRange):
        mixed(replace(JOB, **wrong))  # type: ignore[arg-type]


@given(
    st.floats(0.1, 30), st.integers(1, 5), st.floats(10, 200), st.floats(10, 95),
    st.lists(st.sampled_from([1.0, 2.0, 3.0, 4.0, 5.0, 0.5]), min_size=2, max_size=3), st.sampled_from(list(Measure)),
)  # fmt: skip
def test_never_less_than_the_area_needs(
    area: float, coats: int, dry: float, solids: float, parts: list[float], measure: Measure
) -> None:
    job = MixJob(area, coats, dry, solids, 40, tuple(parts), "volume", 15, densities=(1.3, 1.0, 0.9), measure=measure)
    found = mixed(job)
    assert found.made.ready_ml >= found.wanted_ml * (1 - 1e-9)
    assert found.made.parts[0].ml / found.made.parts[1].ml == pytest.approx(parts[0] / parts[1])


def test_a_cup_is_filled_to_its_marks() -> None:
    assert cup_step((4, 1)) == 40
    assert cup_step((2, 1)) == 20
    assert cup_step((3, 2)) == 30
    # 100:3 would go in steps of a litre: the base keeps the mark, the hardener falls between.
    assert cup_step((100, 3)) == 10
    assert on_marks(98.04, 0.1) == pytest.approx(98.0)
    with pytest.raises(ValueError, match="above nothing"):
        cup_step((4, 0))


START = datetime(2026, 3, 28, 23, 30, tzinfo=ZoneInfo("Europe/Berlin"))


def test_a_pot_warns_early_and_ends() -> None:
    start = START.astimezone(UTC)
    pot = Pot("Keeper", start, 240)
    assert pot.at(start).stage is PotStage.FRESH
    assert pot.at(start + timedelta(minutes=209)).stage is PotStage.FRESH
    assert pot.at(start + timedelta(minutes=210)).stage is PotStage.ENDING
    assert pot.at(pot.ends_at).stage is PotStage.OVER
    assert Pot("short", start, 4).at(start).stage is PotStage.ENDING


def test_a_pot_lasts_as_long_over_the_night_in_which_clocks_change() -> None:
    pot = Pot("Keeper", START, 240)
    # 23:30 and four hours, with the hour from two to three left out (28 to 29 March 2026 in Berlin).
    assert pot.ends_at.strftime("%H:%M") == "04:30"
    assert pot.at(START.replace(day=29, hour=4, minute=0)).left == timedelta(minutes=30)


def test_a_pot_is_remembered() -> None:
    pot = Pot("Keeper 2 K, grey", START.astimezone(UTC), 90.5)
    assert pot_from_text(pot_to_text(pot)) == pot
    assert pot_from_text("yesterday 5 x") is None
    assert pot_from_text("") is None
    with pytest.raises(ValueError, match="time zone"):
        Pot("x", datetime(2026, 1, 1), 5)  # noqa: DTZ001 - refused for it


PRODUCT = ProductRecord(1, "Keeper", "Quern", "primer.epoxy.2k")
SHEET = SheetRef(7, 1, "Keeper", "Quern", "primer.epoxy.2k")
OTHER = SheetRef(8, 2, "Other", "Quern", "primer.epoxy.2k")


def rule(id_: int, topic: Topic, name: str, *, sheet: SheetRef = SHEET, **figures: object) -> Rule:
    made = Claim(topic, name, Stance.STATES, Evidence(1, f"sentence {id_}", ()))
    return Rule(id_, replace(made, **figures), sheet)  # type: ignore[arg-type]


def test_only_the_products_own_confirmed_figures_count() -> None:
    rules = [
        rule(1, Topic.FILM, "volume_solids", low=55.0, high=57.0),
        rule(2, Topic.FILM, "volume_solids", sheet=OTHER, low=99.0, high=99.0),
        rule(3, Topic.SAFETY, "isocyanate"),
    ]
    waiting = [Proposal(4, rule(4, Topic.FILM, "dry", low=60.0).claim, SHEET)]
    found = product_figures(PRODUCT, rules, waiting)
    assert [s.rule.id for s in found.stated["volume_solids"]] == [1]
    assert found.waiting == {"dry": 1}
    assert found.first("dry") is None
    assert [r.id for r in found.cautions] == [3]


def test_of_a_range_the_end_that_does_no_harm_is_taken() -> None:
    rules = [
        rule(1, Topic.FILM, "volume_solids", low=55.0, high=57.0),
        rule(2, Topic.FILM, "dry", low=60.0, high=80.0),
        rule(3, Topic.MIXING, "thinner", low=5.0, high=10.0),
        rule(4, Topic.MIXING, "pot_life", low=120.0, high=180.0),
        rule(5, Topic.FILM, "coats", low=2.0, high=3.0),
    ]
    found = product_figures(PRODUCT, rules)
    careful = {name: stated[0].careful for name, stated in found.stated.items()}
    assert careful == {"volume_solids": 55, "dry": 80, "thinner": 5, "pot_life": 120, "coats": 3}


def test_do_not_thin_is_no_thinner() -> None:
    made = replace(rule(1, Topic.MIXING, "thinner"), claim=replace(rule(1, Topic.MIXING, "thinner").claim,
                   stance=Stance.FORBIDS))  # fmt: skip
    stated = product_figures(PRODUCT, [made]).first("thinner")
    assert stated is not None and stated.careful == 0


def test_the_usual_case_comes_before_the_special_one() -> None:
    rules = [
        rule(1, Topic.MIXING, "pot_life", low=60.0, high=60.0, at_c=30.0),
        rule(2, Topic.MIXING, "pot_life", low=240.0, high=240.0, at_c=20.0),
        rule(3, Topic.MIXING, "pot_life", low=240.0, high=240.0, at_c=20.0),
    ]
    assert [s.rule.id for s in product_figures(PRODUCT, rules).stated["pot_life"]] == [2, 1]
