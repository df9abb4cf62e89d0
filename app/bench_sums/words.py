"""The bench sums in words: titles, what each asks for, what comes out. No Qt: the command line says the same."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping

from app.translating import QT_TRANSLATE_NOOP, translate
from app.typed_figures import figure_text
from store.sums.inputs import Worked


def sum_title(name: str) -> str:
    return _TITLES[name]()


def sum_hint(name: str) -> str:
    """One line of what the sum is for."""
    return _HINTS[name]()


def input_words(name: str) -> str:
    return _INPUTS[name]()


def answer_words(name: str) -> str:
    return _ANSWERS[name]()


def option_words(name: str) -> str:
    """A choice in words; units and cups are called as they are."""
    made = _OPTIONS.get(name)
    return made() if made else name


def unit_words(unit: str) -> str:
    made = _UNITS.get(unit)
    if unit == "K":
        # A difference of temperatures, as sheets print it.
        return "°C"
    return made() if made else unit


def figure_line(worked: Worked) -> str:
    """'76.2 µm', 'P240', 'CAMI 320', '5B'; a grade or a judgement in words, first."""
    value, unit = worked.result.value, worked.result.unit
    if worked.result.word:
        return judged_words(worked.result.word)
    if unit == "ISO 2409":
        return translate("sums", "class {number}").format(number=f"{value:g}")
    if unit == "B":
        return f"{value:g}B"
    if unit in {"P", "CAMI"}:
        return f"P{value:g}" if unit == "P" else f"CAMI {value:g}"
    return f"{figure_text(value, 3 if abs(value) < 100 else 4)} {unit_words(unit)}"


def judged_words(word: str) -> str:
    """A grade or a judgement, as store.sums gives it; names of standards stand as they are."""
    return translate("sums", word) if word in _JUDGED else word


_JUDGED = (
    QT_TRANSLATE_NOOP("sums", "accepted"),
    QT_TRANSLATE_NOOP("sums", "not accepted"),
    QT_TRANSLATE_NOOP("sums", "finer than fine"),
    QT_TRANSLATE_NOOP("sums", "fine"),
    QT_TRANSLATE_NOOP("sums", "medium"),
    QT_TRANSLATE_NOOP("sums", "coarse"),
    QT_TRANSLATE_NOOP("sums", "coarser than coarse"),
    QT_TRANSLATE_NOOP("sums", "V1, high"),
    QT_TRANSLATE_NOOP("sums", "V2, medium"),
    QT_TRANSLATE_NOOP("sums", "V3, low"),
    QT_TRANSLATE_NOOP("sums", "within the limit"),
    QT_TRANSLATE_NOOP("sums", "above the limit"),
    QT_TRANSLATE_NOOP("sums", "first quality"),
    QT_TRANSLATE_NOOP("sums", "second quality"),
    QT_TRANSLATE_NOOP("sums", "third quality"),
)


Words = Mapping[str, Callable[[], str]]

_TITLES: Words = {
    "wet-film": lambda: translate("sums", "Wet film for a dry film"),
    "dry-film": lambda: translate("sums", "Dry film from a wet film"),
    "coverage": lambda: translate("sums", "Coverage in theory"),
    "paint-needed": lambda: translate("sums", "Paint needed"),
    "dew-point": lambda: translate("sums", "Dew point and margin"),
    "humidity": lambda: translate("sums", "Humidity of the air"),
    "weighed-film": lambda: translate("sums", "Film from its weight"),
    "solvent": lambda: translate("sums", "Solvent as applied"),
    "mix": lambda: translate("sums", "Shares of a mix"),
    "thinner": lambda: translate("sums", "Thinner to add"),
    "pot-life": lambda: translate("sums", "Pot life when warmer"),
    "grit": lambda: translate("sums", "Grit: P, CAMI, micron"),
    "cups": lambda: translate("sums", "Flow cups"),
    "units": lambda: translate("sums", "Units"),
    "cure": lambda: translate("sums", "Next coat by warmth"),
    "film-readings": lambda: translate("sums", "Film readings"),
    "profile": lambda: translate("sums", "Blast profile"),
    "cross-cut": lambda: translate("sums", "Cross-cut test"),
    "vapour": lambda: translate("sums", "Vapour through a film"),
    "vapour-layers": lambda: translate("sums", "Vapour through layers"),
    "cleanliness": lambda: translate("sums", "Cleaned steel"),
}
_HINTS: Words = {
    "wet-film": lambda: translate("sums", "How thick to lay it on, wet, for the dry film that is wanted."),
    "dry-film": lambda: translate("sums", "What a wet film, measured with the comb, leaves when it is dry."),
    "coverage": lambda: translate("sums", "How far a litre goes where nothing is lost."),
    "paint-needed": lambda: translate(
        "sums", "Litres to buy for an area: what misses the panel and what a blast profile swallows counts too."
    ),
    "dew-point": lambda: translate(
        "sums", "Below which temperature water settles on the metal, and how far the panel stands above it."
    ),
    "humidity": lambda: translate("sums", "Relative humidity of the air where its dew point is known."),
    "mix": lambda: translate("sums", "What goes into the cup of each component, by volume and by weight."),
    "weighed-film": lambda: translate("sums", "How thick a film lies where the sheet gives grams to the square metre."),
    "solvent": lambda: translate("sums", "What a litre gives off once it is thinned; the limits are for that."),
    "thinner": lambda: translate("sums", "How much to add, where the sheet says percent."),
    "pot-life": lambda: translate("sums", "A hint for a warm day. A figure on the sheet always wins."),
    "grit": lambda: translate("sums", "The same paper on the other scale."),
    "cups": lambda: translate("sums", "Seconds in one cup as seconds in another."),
    "units": lambda: translate("sums", "Units met on data sheets."),
    "cure": lambda: translate(
        "sums",
        "A hint for a shop colder or warmer than the sheet's one temperature. A figure on the sheet always wins.",
    ),
    "film-readings": lambda: translate(
        "sums", "Whether the readings of a gauge meet the film that is asked for, by the rule that the job names."
    ),
    "profile": lambda: translate("sums", "Its grade, and how much film it takes to cover it."),
    "cross-cut": lambda: translate(
        "sums", "How far apart to cut for the film, and which class it is by what came off."
    ),
    "vapour": lambda: translate("sums", "What a figure for water vapour on a sheet means, and its class."),
    "vapour-layers": lambda: translate(
        "sums", "What films one on the other let through together: less than the tightest of them."
    ),
    "cleanliness": lambda: translate("sums", "The same grade on the other scales that sheets print."),
}
_INPUTS: Words = {
    "dry-film": lambda: translate("sums", "Dry film"),
    "wet-film": lambda: translate("sums", "Wet film"),
    "volume-solids": lambda: translate("sums", "Volume solids"),
    "thinner": lambda: translate("sums", "Thinner"),
    "area": lambda: translate("sums", "Area"),
    "loss": lambda: translate("sums", "Lost on the way"),
    "profile": lambda: translate("sums", "Height of the blast profile"),
    "air": lambda: translate("sums", "Air temperature"),
    "humidity": lambda: translate("sums", "Relative humidity"),
    "surface": lambda: translate("sums", "Temperature of the panel"),
    "margin-asked": lambda: translate("sums", "Margin asked for"),
    "dew": lambda: translate("sums", "Dew point"),
    "by": lambda: translate("sums", "The ratio goes by"),
    "amount": lambda: translate("sums", "Amount in all"),
    "base-parts": lambda: translate("sums", "Base"),
    "hardener-parts": lambda: translate("sums", "Hardener"),
    "third-parts": lambda: translate("sums", "Third component"),
    "base-density": lambda: translate("sums", "Density of the base"),
    "hardener-density": lambda: translate("sums", "Density of the hardener"),
    "third-density": lambda: translate("sums", "Density of the third"),
    "paint": lambda: translate("sums", "Paint, hardener in it"),
    "percent": lambda: translate("sums", "Thinner by the sheet"),
    "percent-of": lambda: translate("sums", "The sheet means percent of"),
    "minutes": lambda: translate("sums", "Pot life on the sheet"),
    "stated-at": lambda: translate("sums", "Stated at"),
    "asked-at": lambda: translate("sums", "Temperature in the shop"),
    "scale": lambda: translate("sums", "Scale"),
    "grade": lambda: translate("sums", "Grade or size"),
    "cup": lambda: translate("sums", "Cup"),
    "seconds": lambda: translate("sums", "Time to run out"),
    "other-cup": lambda: translate("sums", "The other cup"),
    "weight": lambda: translate("sums", "Weight on the area"),
    "density": lambda: translate("sums", "Density as it is put on"),
    "solvent": lambda: translate("sums", "Solvent of the paint (VOC)"),
    "thinner-density": lambda: translate("sums", "Density of the thinner"),
    "value": lambda: translate("sums", "Figure"),
    "from": lambda: translate("sums", "In"),
    "to": lambda: translate("sums", "As"),
    "earliest": lambda: translate("sums", "Earliest on the sheet"),
    "latest": lambda: translate("sums", "Latest on the sheet"),
    "readings": lambda: translate("sums", "Readings"),
    "nominal-film": lambda: translate("sums", "Film asked for"),
    "most-film": lambda: translate("sums", "Most film allowed"),
    "acceptance": lambda: translate("sums", "By the rule"),
    "profile-grade": lambda: translate("sums", "Profile, gauge set on smooth steel"),
    "comparator": lambda: translate("sums", "Blasted with"),
    "ground": lambda: translate("sums", "Ground"),
    "flaked": lambda: translate("sums", "Came off"),
    "vapour-as": lambda: translate("sums", "The sheet gives"),
    "vapour": lambda: translate("sums", "Its figure"),
    "perms": lambda: translate("sums", "Each layer"),
    "cleaned": lambda: translate("sums", "Grade"),
    "profile-counts": lambda: translate("sums", "The profile counts"),
    "limit-for": lambda: translate("sums", "EU limit for a"),
}
_ANSWERS: Words = {
    "wet-film": lambda: translate("sums", "wet film"),
    "dry-film": lambda: translate("sums", "dry film"),
    "solids-of-mix": lambda: translate("sums", "volume solids of the thinned mix"),
    "coverage": lambda: translate("sums", "coverage in theory, unthinned"),
    "coverage-of-mix": lambda: translate("sums", "coverage of the thinned mix"),
    "paint-needed": lambda: translate("sums", "paint needed, unthinned"),
    "practical-coverage": lambda: translate("sums", "coverage in practice"),
    "lost-in-profile": lambda: translate("sums", "extra dry film for the profile"),
    "dew-point": lambda: translate("sums", "dew point"),
    "margin": lambda: translate("sums", "panel above the dew point"),
    "least-surface": lambda: translate("sums", "panel at least"),
    "humidity": lambda: translate("sums", "relative humidity"),
    "base": lambda: translate("sums", "base"),
    "base-weight": lambda: translate("sums", "base, by weight"),
    "base-volume": lambda: translate("sums", "base, by volume"),
    "hardener": lambda: translate("sums", "hardener"),
    "hardener-weight": lambda: translate("sums", "hardener, by weight"),
    "hardener-volume": lambda: translate("sums", "hardener, by volume"),
    "third": lambda: translate("sums", "third component"),
    "third-weight": lambda: translate("sums", "third component, by weight"),
    "third-volume": lambda: translate("sums", "third component, by volume"),
    "thinner": lambda: translate("sums", "thinner to add"),
    "ready": lambda: translate("sums", "ready to spray"),
    "pot-life": lambda: translate("sums", "pot life, about"),
    "p-grade": lambda: translate("sums", "nearest P grade"),
    "cami-grade": lambda: translate("sums", "nearest US CAMI grade"),
    "grain-size": lambda: translate("sums", "mean size of the grain"),
    "viscosity": lambda: translate("sums", "kinematic viscosity"),
    "solvent-as-applied": lambda: translate("sums", "solvent of the thinned mix"),
    "seconds": lambda: translate("sums", "in the other cup"),
    "in-other-unit": lambda: translate("sums", "in the other unit"),
    "earliest": lambda: translate("sums", "earliest next coat, careful"),
    "latest": lambda: translate("sums", "latest next coat, careful"),
    "earliest-doubled": lambda: translate("sums", "earliest, if it doubles for each 10 °C colder"),
    "earliest-energy": lambda: translate("sums", "earliest, by Arrhenius with 50 kJ/mol"),
    "film-judged": lambda: translate("sums", "by this rule"),
    "below-nominal": lambda: translate("sums", "of the readings lie below what is asked for"),
    "mean-film": lambda: translate("sums", "mean of the readings"),
    "least-film": lambda: translate("sums", "least reading"),
    "profile-grade": lambda: translate("sums", "the profile's grade (ISO 8503)"),
    "film-over-profile": lambda: translate("sums", "dry film in all, at least"),
    "cut-spacing": lambda: translate("sums", "between the cuts"),
    "cut-class": lambda: translate("sums", "class of the cross-cut"),
    "cut-class-astm": lambda: translate("sums", "class by ASTM D3359"),
    "vapour-class": lambda: translate("sums", "class of the film (EN 1062-1)"),
    "vapour-through": lambda: translate("sums", "water vapour that passes"),
    "air-layer": lambda: translate("sums", "equal layer of air (sd)"),
    "perms-together": lambda: translate("sums", "all layers together"),
    "perms-metric": lambda: translate("sums", "the same in metric units"),
    "cleaned-iso": lambda: translate("sums", "ISO 8501-1"),
    "cleaned-sspc": lambda: translate("sums", "SSPC"),
    "cleaned-nace": lambda: translate("sums", "NACE"),
    "cleaned-british": lambda: translate("sums", "BS 4232"),
    "solvent-limit": lambda: translate("sums", "EU limit, ready to use"),
}
_OPTIONS: Words = {
    "volume": lambda: translate("sums", "volume"),
    "weight": lambda: translate("sums", "weight"),
    "paint": lambda: translate("sums", "the paint with its hardener"),
    "mix": lambda: translate("sums", "the finished mix"),
    "P": lambda: translate("sums", "P (FEPA)"),
    "CAMI": lambda: translate("sums", "US CAMI"),
    "µm": lambda: "µm",
    "none": lambda: translate("sums", "no profile, or the gauge was set on it"),
    "fine": lambda: translate("sums", "fine profile"),
    "medium": lambda: translate("sums", "medium profile"),
    "coarse": lambda: translate("sums", "coarse profile"),
    "unknown": lambda: translate("sums", "profile not known"),
    "grit": lambda: translate("sums", "grit, or grit and shot"),
    "shot": lambda: translate("sums", "shot"),
    "hard": lambda: translate("sums", "hard: metal"),
    "soft": lambda: translate("sums", "soft: plastic, filler, wood"),
    "V": lambda: translate("sums", "V in g/m² a day"),
    "sd": lambda: translate("sums", "sd in m"),
    "by class": lambda: translate("sums", "by its class"),
    "two thirds": lambda: translate("sums", "two thirds of its height"),
    "in full": lambda: translate("sums", "all of its height"),
    "preparatory": lambda: translate("sums", "preparatory product"),
    "body filler": lambda: translate("sums", "body filler"),
    "primer": lambda: translate("sums", "primer or surfacer"),
    "wash primer": lambda: translate("sums", "wash primer"),
    "topcoat": lambda: translate("sums", "topcoat"),
    "special finish": lambda: translate("sums", "special finish"),
}
_UNITS: Words = {
    "% of the paint": lambda: translate("sums", "% of the paint"),
    "% of the mix": lambda: translate("sums", "% of the mix"),
    "parts": lambda: translate("sums", "parts"),
    "ml or g": lambda: translate("sums", "ml or g"),
    "m²/l of mix": lambda: translate("sums", "m²/l of mix"),
    "coats": lambda: translate("sums", "coats"),
}
_LIMITED: Words = {
    "air temperature": lambda: translate("sums", "The air temperature"),
    "relative humidity": lambda: translate("sums", "The relative humidity"),
    "dew point": lambda: translate("sums", "The dew point"),
    "surface temperature": lambda: translate("sums", "The temperature of the panel"),
    "margin asked": lambda: translate("sums", "The margin asked for"),
    "volume solids": lambda: translate("sums", "The volume solids"),
    "thinner": lambda: translate("sums", "The thinner"),
    "dry film": lambda: translate("sums", "The dry film"),
    "wet film": lambda: translate("sums", "The wet film"),
    "area": lambda: translate("sums", "The area"),
    "loss": lambda: translate("sums", "The loss"),
    "film lost in the profile": lambda: translate("sums", "The film lost in the profile"),
    "profile": lambda: translate("sums", "The height of the profile"),
    "amount": lambda: translate("sums", "The amount"),
    "first part": lambda: translate("sums", "The first part of the ratio"),
    "part": lambda: translate("sums", "A part of the ratio"),
    "paint": lambda: translate("sums", "The amount of paint"),
    "pot life": lambda: translate("sums", "The pot life"),
    "temperature": lambda: translate("sums", "The temperature"),
    "grain size": lambda: translate("sums", "The size of the grain"),
    "coats": lambda: translate("sums", "The number of coats"),
    "grade": lambda: translate("sums", "The grade"),
    "step": lambda: translate("sums", "The mark of the cup"),
    "value": lambda: translate("sums", "The value"),
    "density": lambda: translate("sums", "The density"),
    "weight on an area": lambda: translate("sums", "The weight on the area"),
    "solvent": lambda: translate("sums", "The solvent"),
    "nominal film": lambda: translate("sums", "The film asked for"),
    "number of readings": lambda: translate("sums", "The number of readings"),
    "most film": lambda: translate("sums", "The most film allowed"),
    "flaked": lambda: translate("sums", "What came off"),
    "vapour transmission": lambda: translate("sums", "The water vapour"),
    "air layer": lambda: translate("sums", "The layer of air"),
    "number of layers": lambda: translate("sums", "The number of layers"),
    "permeance": lambda: translate("sums", "A layer's figure"),
    "time to the next coat": lambda: translate("sums", "The time to the next coat"),
}


def limited_words(name: str) -> str:
    """What lies outside its range, at the head of a sentence: 'The volume solids'."""
    made = _LIMITED.get(name)
    if made is not None:
        return made()
    if name.startswith("time in "):
        return translate("sums", "The time in {cup}").format(cup=name.removeprefix("time in "))
    if name.startswith("density of "):
        part = answer_words(name.removeprefix("density of "))
        return translate("sums", "The density of the {part}").format(part=part)
    return name[:1].upper() + name[1:]


_NOTES = (
    QT_TRANSLATE_NOOP("sums", "Frost forms first: frost point {degrees} °C."),
    QT_TRANSLATE_NOOP("sums", "Water may settle on the surface. Do not coat it now."),
    QT_TRANSLATE_NOOP("sums", "{cup} holds from {low} to {high} s; this liquid would be outside."),
)
"""What a sum adds to its figure, as store.sums words it."""


def note_words(note: str) -> str:
    """One note of a Result; one that is not known here stands as it is."""
    for known in _NOTES:
        found = re.fullmatch(re.sub(r"\\{(\w+)\\}", r"(?P<\1>.+)", re.escape(known)), note)
        if found is not None:
            return translate("sums", known).format(**found.groupdict())
    return note
