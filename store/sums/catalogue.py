"""Every bench sum as data: what it asks for and what it gives. The window and the command line are made from this.

Names of inputs are those of the command line ('volume-solids'); the words for people are the program's. An answer is
a row of named Results, the one that was asked for first.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from store.sums import coverage, cups, cure, dew_point, film, grit, mixing, solvent_limits
from store.sums.inputs import Asked, Choice, Given, Sum, Worked
from store.sums.judging import JUDGING
from store.sums.result import OutOfRange, Result, above_zero, density_of, within
from store.sums.units import UNITS, convert

_SOLIDS = Asked("volume-solids", "%")
_THINNER = Asked("thinner", "% of the paint", 0, needed=False)
_AIR = Asked("air", "°C", 20)
_HUMIDITY = Asked("humidity", "%", 60)


def _dry_film(given: Given) -> tuple[Worked, ...]:
    thinner = given.get("thinner")
    out = [Worked("dry-film", film.dry_from_wet(given["wet-film"], given["volume-solids"], thinner))]
    if thinner:
        out.append(Worked("solids-of-mix", film.solids_after_thinning(given["volume-solids"], thinner)))
    return tuple(out)


def _wet_film(given: Given) -> tuple[Worked, ...]:
    thinner = given.get("thinner")
    out = [Worked("wet-film", film.wet_from_dry(given["dry-film"], given["volume-solids"], thinner))]
    if thinner:
        out.append(Worked("solids-of-mix", film.solids_after_thinning(given["volume-solids"], thinner)))
    return tuple(out)


def _weighed_film(given: Given) -> tuple[Worked, ...]:
    wet = film.wet_from_weight(given["weight"], given["density"])
    out = [Worked("wet-film", wet)]
    if "volume-solids" in given.figures:
        out.append(Worked("dry-film", film.dry_from_wet(wet.value, given["volume-solids"])))
    return tuple(out)


def _solvent(given: Given) -> tuple[Worked, ...]:
    found = mixing.solvent_as_applied(given["solvent"], given["thinner"], given["thinner-density"])
    limit = solvent_limits.against_limit(found.value, given.choices["limit-for"])
    return (Worked("solvent-as-applied", found), Worked("solvent-limit", limit))


def _spreading(given: Given) -> tuple[Worked, ...]:
    solids, dry, thinner = given["volume-solids"], given["dry-film"], given.get("thinner")
    out = [Worked("coverage", coverage.spreading_rate(solids, dry))]
    if thinner:
        out.append(Worked("coverage-of-mix", coverage.spreading_rate_of_mix(solids, dry, thinner)))
    return tuple(out)


def _paint_needed(given: Given) -> tuple[Worked, ...]:
    out = []
    extra = 0.0
    if "profile" in given.figures:
        allowance = coverage.profile_allowance(given["profile"], given.choices["profile-counts"])
        extra = allowance.value
        out = [Worked("lost-in-profile", allowance)]
    needed = coverage.paint_needed(
        given["area"], given["dry-film"], given["volume-solids"], given.get("loss"), profile_extra=extra
    )
    practical = Result(
        given["area"] / needed.value,
        "m²/l",
        f"{given['area']:g} ÷ {needed.value:.3f} = {given['area'] / needed.value:.2f}",
        needed.source,
        needed.valid_for,
    )
    theoretical = coverage.spreading_rate(given["volume-solids"], given["dry-film"])
    return (
        Worked("paint-needed", needed),
        Worked("practical-coverage", practical),
        Worked("coverage", theoretical),
        *out,
    )


def _dew_point(given: Given) -> tuple[Worked, ...]:
    dew = dew_point.dew_point(given["air"], given["humidity"])
    asked = given.get("margin-asked", 3.0)
    out = [Worked("dew-point", dew)]
    if "surface" in given.figures:
        found = dew_point.margin(given["air"], given["humidity"], given["surface"], asked)
        reached = "reached" if found.passes else "not reached"
        out.append(
            Worked(
                "margin",
                Result(
                    found.margin,
                    "K",
                    f"{given['surface']:g} − {dew.value:.1f} = {found.margin:.1f}; {asked:g} K asked for: {reached}",
                    "the surface over the dew point; 3 K is usual, a sheet's own figure wins",
                    "surface −45 to 120 °C, margin 0 to 20 K",
                    () if found.passes else ("Water may settle on the surface. Do not coat it now.",),
                ),
            )
        )
    else:
        within("margin asked", asked, 0, 20, "K")
        out.append(
            Worked(
                "least-surface",
                Result(
                    dew.value + asked,
                    "°C",
                    f"{dew.value:.1f} + {asked:g} = {dew.value + asked:.1f}",
                    "the surface over the dew point; 3 K is usual, a sheet's own figure wins",
                    "margin 0 to 20 K",
                ),
            )
        )
    return tuple(out)


def _humidity(given: Given) -> tuple[Worked, ...]:
    return (Worked("humidity", dew_point.humidity_from_dew_point(given["air"], given["dew"])),)


_PARTS = ("base", "hardener", "third")


def _mix(given: Given) -> tuple[Worked, ...]:
    names = [name for name in _PARTS if f"{name}-parts" in given.figures]
    parts = [given[f"{name}-parts"] for name in names]
    densities = [given.figures.get(f"{name}-density") for name in names]
    for name, density in zip(names, densities, strict=True):
        if density is not None:
            density_of(name, density)
    ratio = " : ".join(f"{part:g}" for part in parts)
    by_volume = given.choices["by"] == "volume"
    share = mixing.by_volume if by_volume else mixing.by_weight
    shared: list[tuple[str, float | None, float | None]]
    if by_volume or all(density is not None for density in densities):
        shared = [(p.name, p.ml, p.g) for p in share(parts, given["amount"], names, densities)]
    else:
        # A share of a weight needs no density; only volumes would.
        total = sum(above_zero(f"{n} parts", p, "parts") for n, p in zip(names, parts, strict=True))
        weight = above_zero("amount", given["amount"], "g")
        shared = [(n, None, weight * p / total) for n, p in zip(names, parts, strict=True)]
    out = []
    unit = "ml" if by_volume else "g"
    for name, ml, g in shared:
        part = given[f"{name}-parts"]
        first, other, other_unit = (ml, g, "g") if by_volume else (g, ml, "ml")
        formula = f"{given['amount']:g} × {part:g} ÷ ({ratio.replace(' : ', ' + ')}) = {first:.1f} {unit}"
        source = f"shares of {ratio} by {given.choices['by']}; weight = volume × density"
        valid = "parts above nothing; densities of the components as supplied, 0.3 to 8 kg/l"
        out.append(Worked(name, Result(first or 0.0, unit, formula, source, valid)))
        if other is not None:
            density = given[f"{name}-density"]
            sign = "×" if by_volume else "÷"
            formula = f"{first:.1f} {sign} {density:g} = {other:.1f}"
            out.append(
                Worked(
                    f"{name}-{'weight' if by_volume else 'volume'}", Result(other, other_unit, formula, source, valid)
                )
            )
    return tuple(out)


def _thinner(given: Given) -> tuple[Worked, ...]:
    of = mixing.thinner_of_paint if given.choices["percent-of"] == "paint" else mixing.thinner_of_mix
    found = of(given["paint"], given["percent"])
    total = given["paint"] + found.value
    ready = Result(total, "ml", f"{given['paint']:g} + {found.value:.1f} = {total:.1f}", found.source, found.valid_for)
    return (Worked("thinner", found), Worked("ready", ready))


def _pot_life(given: Given) -> tuple[Worked, ...]:
    return (Worked("pot-life", mixing.pot_life_at(given["minutes"], given["stated-at"], given["asked-at"])),)


def _cure(given: Given) -> tuple[Worked, ...]:
    at = (given["stated-at"], given["asked-at"])
    out = [
        Worked("earliest", cure.earliest(given["earliest"], *at)),
        Worked("earliest-doubled", cure.doubled(given["earliest"], *at)),
        Worked("earliest-energy", cure.by_energy(given["earliest"], *at)),
    ]
    if "latest" in given.figures:
        out.insert(1, Worked("latest", cure.latest(given["latest"], *at)))
    return tuple(out)


def _grit(given: Given) -> tuple[Worked, ...]:
    scale = given.choices["scale"]
    if scale == "µm":
        return (Worked("p-grade", grit.p_from_microns(given["grade"])),)
    size = grit.microns(scale, given.whole("grade"))
    if scale == "CAMI":
        return (Worked("p-grade", grit.p_from_cami(given.whole("grade"))), Worked("grain-size", size))
    return (Worked("grain-size", size), Worked("cami-grade", _cami(given.whole("grade"), size.value)))


def _cami(grade: int, size: float) -> Result:
    table = grit.CAMI_MICRONS
    within("grain size", size, min(table.values()), max(table.values()), "µm")
    nearest = grade if grade <= 220 and grade in table else min(table, key=lambda g: (abs(table[g] - size) / size, g))
    return Result(
        nearest,
        "CAMI",
        f"P{grade} ≈ {size:g} µm ≈ CAMI {nearest} ({table[nearest]:g} µm)",
        grit.microns("CAMI", nearest).source,
        "approximate; keep the scale that the sheet prints",
    )


def _cups(given: Given) -> tuple[Worked, ...]:
    first, other = given.choices["cup"], given.choices["other-cup"]
    viscosity = cups.viscosity(first, given["seconds"])
    if other == first:
        return (Worked("viscosity", viscosity),)
    try:
        seconds = cups.seconds_in(first, other, given["seconds"])
    except OutOfRange as fault:
        # The viscosity holds all the same; only the other cup cannot show it.
        note = f"{other} holds from {fault.low:g} to {fault.high:g} s; this liquid would be outside."
        return (Worked("viscosity", replace(viscosity, notes=(*viscosity.notes, note))),)
    return (Worked("seconds", seconds), Worked("viscosity", viscosity))


def _units(given: Given) -> tuple[Worked, ...]:
    return (Worked("in-other-unit", convert(given["value"], given.choices["from"], given.choices["to"])),)


def units_beside(name: str) -> tuple[str, ...]:
    """Units of the same quantity, itself among them. Raises KeyError on an unknown unit."""
    return tuple(u.name for u in UNITS.values() if u.quantity == UNITS[name].quantity)


_CUPS = tuple(cups.CUPS)
_UNITS = tuple(UNITS)

SUMS: tuple[Sum, ...] = (
    Sum("wet-film", (Asked("dry-film", "µm"), _SOLIDS, _THINNER), _wet_film),
    Sum("dry-film", (Asked("wet-film", "µm"), _SOLIDS, _THINNER), _dry_film),
    Sum(
        "weighed-film",
        (Asked("weight", "g/m²"), Asked("density", "kg/l"), Asked("volume-solids", "%", None, needed=False)),
        _weighed_film,
    ),
    Sum("coverage", (_SOLIDS, Asked("dry-film", "µm"), _THINNER), _spreading),
    Sum(
        "paint-needed",
        (
            Asked("area", "m²"),
            Asked("dry-film", "µm"),
            _SOLIDS,
            Asked("loss", "%", 40, needed=False),
            Asked("profile", "µm", None, needed=False),
            Choice("profile-counts", coverage.PROFILE_COUNTS),
        ),
        _paint_needed,
    ),
    Sum(
        "dew-point",
        (_AIR, _HUMIDITY, Asked("surface", "°C", None, needed=False), Asked("margin-asked", "K", 3, needed=False)),
        _dew_point,
    ),
    Sum("humidity", (_AIR, Asked("dew", "°C")), _humidity),
    Sum(
        "mix",
        (
            Choice("by", ("volume", "weight")),
            Asked("amount", "ml or g", 500),
            Asked("base-parts", "parts", 4),
            Asked("hardener-parts", "parts", 1),
            Asked("third-parts", "parts", None, needed=False),
            Asked("base-density", "kg/l", None, needed=False),
            Asked("hardener-density", "kg/l", None, needed=False),
            Asked("third-density", "kg/l", None, needed=False),
        ),
        _mix,
    ),
    Sum(
        "thinner",
        (Asked("paint", "ml", 500), Asked("percent", "%"), Choice("percent-of", ("paint", "mix"))),
        _thinner,
    ),
    Sum(
        "solvent",
        (
            Asked("solvent", "g/l"),
            Asked("thinner", "% of the paint"),
            Asked("thinner-density", "kg/l"),
            Choice("limit-for", tuple(solvent_limits.LIMITS), "primer"),
        ),
        _solvent,
    ),
    Sum("pot-life", (Asked("minutes", "min"), Asked("stated-at", "°C", 20), Asked("asked-at", "°C")), _pot_life),
    Sum(
        "cure",
        (
            Asked("earliest", "h"),
            Asked("latest", "h", None, needed=False),
            Asked("stated-at", "°C", 20),
            Asked("asked-at", "°C"),
        ),
        _cure,
    ),
    *JUDGING,
    Sum("grit", (Choice("scale", ("P", "CAMI", "µm")), Asked("grade", "")), _grit),
    Sum(
        "cups",
        (Choice("cup", _CUPS, "DIN 4 mm"), Asked("seconds", "s"), Choice("other-cup", _CUPS, "ISO 4 mm")),
        _cups,
    ),
    Sum("units", (Asked("value", ""), Choice("from", _UNITS, "mil"), Choice("to", _UNITS, "µm")), _units),
)
BY_NAME: Mapping[str, Sum] = {one.name: one for one in SUMS}
