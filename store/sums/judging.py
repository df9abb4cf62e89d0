"""Bench sums that judge what was measured: film readings, a blast profile, a cross-cut, vapour, cleanliness."""

from __future__ import annotations

from dataclasses import replace

from store.sums import cleanliness, cross_cut, film_readings, profile, vapour
from store.sums.inputs import Asked, Choice, Given, Several, Sum, Worked


def _readings(given: Given) -> tuple[Worked, ...]:
    readings, allowance = given.rows["readings"], given.choices["profile-grade"]
    most = given.figures.get("most-film")
    judged = film_readings.judged(readings, given["nominal-film"], given.choices["acceptance"], most, allowance)
    return (
        Worked("film-judged", judged),
        Worked("below-nominal", replace(judged, word="")),
        Worked("mean-film", film_readings.mean(readings, allowance)),
        Worked("least-film", film_readings.least(readings, allowance)),
    )


def _profile(given: Given) -> tuple[Worked, ...]:
    height = given["profile"]
    return (
        Worked("profile-grade", profile.grade(height, given.choices["comparator"])),
        Worked("film-over-profile", profile.least_film(height)),
    )


def _cross_cut(given: Given) -> tuple[Worked, ...]:
    out = [Worked("cut-spacing", cross_cut.spacing(given["dry-film"], given.choices["ground"]))]
    if "flaked" in given.figures:
        flaked = given["flaked"]
        out = [
            Worked("cut-class", cross_cut.iso_class(flaked)),
            Worked("cut-class-astm", cross_cut.astm_class(flaked)),
            *out,
        ]
    return tuple(out)


def _vapour(given: Given) -> tuple[Worked, ...]:
    through, air = vapour.vapour(given["vapour"], given.choices["vapour-as"])
    return (
        Worked("vapour-class", through),
        Worked("vapour-through", replace(through, word="")),
        Worked("air-layer", air),
    )


def _layers(given: Given) -> tuple[Worked, ...]:
    perms, metric = vapour.layers(given.rows["perms"])
    return (Worked("perms-together", perms), Worked("perms-metric", metric))


def _cleanliness(given: Given) -> tuple[Worked, ...]:
    named = ((f"cleaned-{scale}", cleanliness.called(given.choices["cleaned"], scale)) for scale in _SCALES)
    return tuple(Worked(name, found) for name, found in named if found is not None)


_SCALES = ("iso", "sspc", "nace", "british")

JUDGING: tuple[Sum, ...] = (
    Sum(
        "film-readings",
        (
            Several("readings", "µm"),
            Asked("nominal-film", "µm"),
            Asked("most-film", "µm", None, needed=False),
            Choice("acceptance", tuple(film_readings.RULES)),
            Choice("profile-grade", tuple(film_readings.CORRECTIONS)),
        ),
        _readings,
    ),
    Sum("profile", (Asked("profile", "µm"), Choice("comparator", tuple(profile.SEGMENTS))), _profile),
    Sum(
        "cross-cut",
        (Asked("dry-film", "µm"), Choice("ground", ("hard", "soft")), Asked("flaked", "%", None, needed=False)),
        _cross_cut,
    ),
    Sum("vapour", (Choice("vapour-as", ("V", "sd")), Asked("vapour", "")), _vapour),
    Sum("vapour-layers", (Several("perms", "perm"),), _layers),
    Sum(
        "cleanliness",
        (Choice("cleaned", tuple(one.name for one in cleanliness.GRADES), "Sa 2½"),),
        _cleanliness,
    ),
)
