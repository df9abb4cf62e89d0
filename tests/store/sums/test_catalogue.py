"""The list of sums: each can be worked from its own inputs, and gives what the functions behind it give."""

from __future__ import annotations

import pytest

from store.sums import coverage, cups, dew_point, film, grit
from store.sums.catalogue import BY_NAME, SUMS, units_beside
from store.sums.inputs import Given, Sum
from store.sums.result import OutOfRange

EXAMPLES = {
    "wet-film": {"dry-film": 50.0, "volume-solids": 50.0, "thinner": 10.0},
    "dry-film": {"wet-film": 110.0, "volume-solids": 50.0, "thinner": 10.0},
    "weighed-film": {"weight": 150.0, "density": 1.5, "volume-solids": 50.0},
    "solvent": {"solvent": 420.0, "thinner": 10.0, "thinner-density": 0.87},
    "coverage": {"volume-solids": 50.0, "dry-film": 50.0, "thinner": 10.0},
    "paint-needed": {"area": 10.0, "dry-film": 50.0, "volume-solids": 50.0, "loss": 50.0, "profile": 60.0},
    "dew-point": {"air": 20.0, "humidity": 60.0, "surface": 16.0, "margin-asked": 3.0},
    "humidity": {"air": 20.0, "dew": 12.0},
    "mix": {"amount": 500.0, "base-parts": 4.0, "hardener-parts": 1.0, "base-density": 1.4},
    "thinner": {"paint": 500.0, "percent": 10.0},
    "pot-life": {"minutes": 240.0, "stated-at": 20.0, "asked-at": 30.0},
    "cure": {"earliest": 16.0, "latest": 96.0, "stated-at": 20.0, "asked-at": 10.0},
    "profile": {"profile": 60.0},
    "cross-cut": {"dry-film": 80.0, "flaked": 10.0},
    "vapour": {"vapour": 60.0},
    "film-readings": {"nominal-film": 100.0, "most-film": 150.0},
    "vapour-layers": {},
    "cleanliness": {},
    "grit": {"grade": 240.0},
    "cups": {"seconds": 40.0},
    "units": {"value": 2.0},
}

ROWS = {"film-readings": {"readings": (104.0, 98.0, 112.0)}, "vapour-layers": {"perms": (0.05, 0.01)}}


def given(one: Sum, **choices: str) -> Given:
    chosen = {c.name: choices.get(c.name.replace("-", "_"), c.beginning) for c in one.choices()}
    return Given(EXAMPLES[one.name], chosen, ROWS.get(one.name, {}))


def work(one: Sum, **choices: str) -> dict[str, float]:
    return {w.name: w.result.value for w in one.work(given(one, **choices))}


@pytest.mark.parametrize("one", SUMS, ids=lambda one: one.name)
def test_every_sum_gives_a_figure_with_all_that_it_rests_on(one: Sum) -> None:
    worked = one.work(given(one))
    assert worked
    for answer in worked:
        result = answer.result
        assert result.formula and result.source and result.valid_for
    assert len({a.name for a in worked}) == len(worked)


def test_the_sums_are_those_of_the_functions_behind_them() -> None:
    # 50 um dry at 50 % with 10 % thinner is 110 um wet (worked from the definition).
    assert work(BY_NAME["wet-film"])["wet-film"] == pytest.approx(110)
    assert work(BY_NAME["dry-film"])["dry-film"] == pytest.approx(film.dry_from_wet(110, 50, 10).value)
    assert work(BY_NAME["coverage"])["coverage-of-mix"] == pytest.approx(10 / 1.1)
    assert work(BY_NAME["dew-point"])["margin"] == pytest.approx(16 - dew_point.dew_point(20, 60).value)
    assert work(BY_NAME["cups"], other_cup="Ford 4")["seconds"] == pytest.approx(
        cups.seconds_in("DIN 4 mm", "Ford 4", 40).value
    )
    assert work(BY_NAME["cups"])["viscosity"] == pytest.approx(cups.viscosity("DIN 4 mm", 40).value)
    assert work(BY_NAME["grit"])["grain-size"] == grit.P_MICRONS[240]
    # P240 is 58.5 um and lies between CAMI 220 (68) and CAMI 240 (53).
    assert work(BY_NAME["grit"])["cami-grade"] == 240


def test_the_blast_profile_and_the_loss_both_cost_paint() -> None:
    found = work(BY_NAME["paint-needed"])
    extra = coverage.profile_allowance(60).value
    assert found["paint-needed"] == pytest.approx(10 * (50 + extra) / 500 / 0.5)
    assert found["practical-coverage"] == pytest.approx(10 / found["paint-needed"])


def test_what_stays_empty_is_named() -> None:
    assert BY_NAME["dew-point"].lacking(Given({"air": 20}, {})) == ("humidity",)
    assert BY_NAME["wet-film"].lacking(Given({"dry-film": 1, "volume-solids": 1}, {})) == ()
    assert BY_NAME["film-readings"].lacking(Given({}, {}, {"readings": ()})) == ("readings", "nominal-film")
    assert BY_NAME["film-readings"].lacking(Given({"nominal-film": 80}, {}, {"readings": (80.0,)})) == ()


def test_a_share_by_weight_needs_no_density_and_gives_no_volume() -> None:
    given = Given({"amount": 102, "base-parts": 100, "hardener-parts": 2}, {"by": "weight"})
    found = {w.name: (w.result.value, w.result.unit) for w in BY_NAME["mix"].work(given)}
    assert found == {"base": (pytest.approx(100), "g"), "hardener": (pytest.approx(2), "g")}


def test_a_grade_that_is_no_whole_number_is_refused() -> None:
    with pytest.raises(OutOfRange):
        BY_NAME["grit"].work(Given({"grade": 240.5}, {"scale": "P"}))


def test_a_margin_that_is_not_reached_says_not_to_coat() -> None:
    figures = {"air": 20.0, "humidity": 60.0, "surface": 13.0}
    margin = BY_NAME["dew-point"].work(Given(figures, {}))[1]
    assert margin.result.value < 3
    assert any("Do not coat" in note for note in margin.result.notes)


def test_units_beside_are_of_the_same_quantity() -> None:
    assert set(units_beside("mil")) == {"µm", "mil", "mm", "inch"}


def test_a_cup_too_small_for_the_liquid_is_said_and_the_viscosity_stays() -> None:
    (viscosity,) = BY_NAME["cups"].work(Given({"seconds": 40}, {"cup": "DIN 4 mm", "other-cup": "ISO 4 mm"}))
    assert any("ISO 4 mm holds from 30 to 100 s" in note for note in viscosity.result.notes)


@pytest.mark.parametrize(
    ("name", "choices", "figures", "outside"),
    [
        ("wet-film", {}, {"dry-film": 0, "volume-solids": 50}, "dry film"),
        ("wet-film", {}, {"dry-film": 50, "volume-solids": 50, "thinner": 201}, "thinner"),
        ("dry-film", {}, {"wet-film": 110, "volume-solids": 0.5}, "volume solids"),
        ("weighed-film", {}, {"weight": 150, "density": 1500}, "density"),
        ("weighed-film", {}, {"weight": 0, "density": 1.5}, "weight on an area"),
        ("solvent", {}, {"solvent": 1001, "thinner": 10, "thinner-density": 0.87}, "solvent"),
        ("coverage", {}, {"volume-solids": 101, "dry-film": 75}, "volume solids"),
        ("paint-needed", {}, {"area": 12, "dry-film": 75, "volume-solids": 62, "loss": 96}, "loss"),
        ("paint-needed", {}, {"area": 12, "dry-film": 75, "volume-solids": 62, "profile": 301}, "profile"),
        ("dew-point", {}, {"air": 61, "humidity": 60}, "air temperature"),
        ("dew-point", {}, {"air": 20, "humidity": 60, "surface": 121}, "surface temperature"),
        ("dew-point", {}, {"air": 20, "humidity": 60, "margin-asked": 21}, "margin asked"),
        ("humidity", {}, {"air": 20, "dew": 20.5}, "dew point"),
        ("humidity", {}, {"air": 20, "dew": -46}, "dew point"),
        ("mix", {"by": "volume"}, {"amount": 0, "base-parts": 4, "hardener-parts": 1}, "amount"),
        (
            "mix",
            {"by": "volume"},
            {"amount": 100, "base-parts": 4, "hardener-parts": 1, "base-density": 1450},
            "density of base",
        ),
        (
            "mix",
            {"by": "weight"},
            {"amount": 100, "base-parts": 4, "hardener-parts": 1, "base-density": 0.1},
            "density of base",
        ),
        ("thinner", {"percent-of": "mix"}, {"paint": 500, "percent": 91}, "thinner"),
        ("thinner", {"percent-of": "paint"}, {"paint": 500, "percent": 201}, "thinner"),
        ("pot-life", {}, {"minutes": 240, "stated-at": 51, "asked-at": 20}, "temperature"),
        ("pot-life", {}, {"minutes": 240, "stated-at": 20, "asked-at": -11}, "temperature"),
        ("cure", {}, {"earliest": 16, "stated-at": 20, "asked-at": 4}, "temperature"),
        ("profile", {"comparator": "grit"}, {"profile": 301}, "profile"),
        ("cross-cut", {"ground": "hard"}, {"dry-film": 251}, "dry film"),
        ("cross-cut", {"ground": "hard"}, {"dry-film": 60, "flaked": 101}, "flaked"),
        ("vapour", {"vapour-as": "V"}, {"vapour": 681}, "vapour transmission"),
        ("vapour", {"vapour-as": "sd"}, {"vapour": 0.02}, "air layer"),
        ("vapour-layers", {}, {"perms": 0}, "permeance"),
        (
            "film-readings",
            {"acceptance": "80/20", "profile-grade": "none"},
            {"readings": 100, "nominal-film": 39},
            "nominal film",
        ),
        ("grit", {"scale": "P"}, {"grade": 181}, "P grade"),
        ("grit", {"scale": "µm"}, {"grade": 8}, "grain size"),
        ("cups", {"cup": "DIN 4 mm", "other-cup": "Ford 4"}, {"seconds": 24}, "time in DIN 4 mm"),
        ("units", {"from": "mil", "to": "µm"}, {"value": -1}, "value"),
        ("units", {"from": "°C", "to": "°F"}, {"value": -274}, "temperature"),
    ],
)
def test_every_sum_refuses_what_lies_beyond_its_range(
    name: str, choices: dict[str, str], figures: dict[str, float], outside: str
) -> None:
    one = BY_NAME[name]
    rows = {row.name: (figures[row.name],) * 3 for row in one.rows()}
    with pytest.raises(OutOfRange) as caught:
        one.work(Given(figures, {c.name: c.beginning for c in one.choices()} | choices, rows))
    assert caught.value.name == outside


def test_every_sum_is_among_those_that_are_refused_something() -> None:
    cases = test_every_sum_refuses_what_lies_beyond_its_range.pytestmark[0].args[1]
    # A grade of cleaned steel is chosen, not typed.
    assert {case[0] for case in cases} == set(BY_NAME) - {"cleanliness"}


@pytest.mark.parametrize(("value", "source", "target"), [(-5, "°F (difference)", "K (difference)"), (-5, "°C", "°F")])
def test_a_temperature_may_lie_below_nothing(value: float, source: str, target: str) -> None:
    (worked,) = BY_NAME["units"].work(Given({"value": value}, {"from": source, "to": target}))
    assert worked.result.valid_for == "any value"
