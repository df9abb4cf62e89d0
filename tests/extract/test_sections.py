"""Headings, corners and labels as sheets word them, and what they speak of."""

from __future__ import annotations

import pytest

from extract.document import EMPTY, Passage, Section
from extract.sections import Sense, sense_of, sense_of_text

S = Sense


def passage(text: str) -> Passage:
    return Passage(text, (None,) * len(text))


@pytest.mark.parametrize(
    ("heading", "senses"),
    [
        ("2 Substrates", {S.GOES_OVER}),
        ("What will it go on?", {S.GOES_OVER}),
        ("WHAT WILL GO ON TOP?", {S.TOPPED_BY}),
        ("WHERE TO USE IT", {S.GOES_OVER}),
        ("Where it may be used", {S.GOES_OVER}),
        ("SUPPORTS AND PREPARATION", {S.GOES_OVER, S.PREPARATION}),
        ("SUPPORTS", {S.GOES_OVER}),
        ("Compatible surfaces", {S.GOES_OVER}),
        ("SURFACE PREPARATION", {S.PREPARATION}),
        ("S U R F A C E  prep", {S.PREPARATION}),
        ("PREPARATION OF THE PRODUCT", {S.MIXING}),
        ("Get it ready with", {S.PREPARATION}),
        ("Pre-treatment (degrease before and after sanding)", {S.PREPARATION}),
        ("PREP", {S.PREPARATION}),
        ("SECOND HELPINGS", {S.OVERCOATING}),
        ("OVERPAINTING", {S.OVERCOATING}),
        ("Overworking", {S.OVERCOATING}),
        ("Recoat chart", {S.OVERCOATING}),
        ("6 What may follow", {S.TOPPED_BY}),
        ("WHAT GOES ON NEXT", {S.TOPPED_BY}),
        ("WHAT GOES OVER HOBNAIL", {S.TOPPED_BY}),
        ("What can go on top of Hobnail", {S.TOPPED_BY}),
        ("What it goes over", {S.GOES_OVER}),
        ("What goes under it", {S.GOES_OVER}),
        ("Next coat", {S.TOPPED_BY}),
        ("Recommended topcoats", {S.TOPPED_BY}),
        ("Painting over it", {S.TOPPED_BY}),
        ("Underneath", {S.GOES_OVER}),
        ("Surface", {S.GOES_OVER}),
        ("CAN I DRIVE IT IN PRIMER?", {S.EXPOSURE}),
        ("PRIMED PIECES IN WAITING", {S.EXPOSURE}),
        ("7 Resistance of the primed object", {S.EXPOSURE}),
        ("Flatting", {S.OWN_FILM}),
        ("5 Drying and sanding", {S.DRYING, S.OWN_FILM}),
        ("SANDING AND RECOATING", {S.OWN_FILM, S.OVERCOATING}),
        ("DRY TIMES", {S.DRYING}),
        ("Storage", {S.STORAGE}),
        ("Keeping it", {S.STORAGE}),
        ("Health & Safety", {S.SAFETY}),
        ("Taking care", {S.SAFETY}),
        ("SAFETY AND REGULATORY", {S.SAFETY}),
        ("GUN SETUP", {S.APPLICATION}),
        ("Faults, and what brings them on", {S.FAULTS}),
        ("FREQUENT ERRORS", {S.FAULTS}),
        ("QUESTIONS FROM THE TECH LINE", {S.QUESTIONS}),
        ("Proven systems", {S.SYSTEMS}),
        ("CLEAN UP", {S.CLEANING}),
        ("PACKAGING AND CLEANING", {S.PACKAGING, S.CLEANING}),
        ("Prepration", {S.PREPARATION}),
        ("Surface cleaning", {S.PREPARATION}),
        ("Cleaning and degreasing", {S.PREPARATION}),
        ("Cleaning of tools", {S.CLEANING}),
        ("How long can it be left?", {S.EXPOSURE}),
        ("Getting the metal ready", {S.PREPARATION}),
        ("Layers beneath", {S.GOES_OVER}),
        ("Important notes", set()),
        ("Behaviour in the wet", {S.EXPOSURE}),
        ("Two-component acrylic surfacer", set()),
        ("Zylophone", set()),
    ],
)
def test_sense_of_a_heading(heading: str, senses: set[Sense]) -> None:
    assert sense_of_text(heading) == senses


def test_a_heading_that_says_no_keeps_what_it_speaks_of() -> None:
    assert {S.FORBIDS, S.GOES_OVER} <= sense_of_text("Not suitable substrates")
    assert S.FORBIDS in sense_of_text("DO NOT apply over:")
    assert S.FORBIDS not in sense_of_text("Suitable substrates")


def test_a_slip_never_bridges_a_negation_or_a_figure() -> None:
    assert sense_of_text("No storrage") == frozenset()
    assert sense_of_text("Storrage") == {S.STORAGE}
    assert sense_of_text("Storrage 2") == frozenset()


def test_the_innermost_heading_that_speaks_decides() -> None:
    outer, inner, mute = passage("Storage"), passage("Exterior exposure"), passage("Levelbeck 40")
    assert sense_of(Section((outer, inner))) == {S.EXPOSURE}
    assert sense_of(Section((outer, mute))) == {S.STORAGE}
    title = passage("Mixing-bench primer for coach builders")
    assert sense_of(Section((title, mute))) == frozenset()
    assert sense_of(Section()) == frozenset()
    assert sense_of(EMPTY) == frozenset()


def test_a_word_for_the_ground_in_a_products_name_makes_no_list_of_grounds() -> None:
    assert Sense.GOES_OVER in sense_of_text("Base")
    assert Sense.GOES_OVER not in sense_of_text("Lacrimex Base · Lacrimex Clear")
    assert Sense.GOES_OVER not in sense_of_text("Ferrolux Base 5")


def test_what_a_product_is_to_be_kept_off_is_what_it_must_not_go_onto() -> None:
    assert sense_of_text("Keep it off") == sense_of_text("Not on") == {Sense.FORBIDS, Sense.GOES_OVER}
    assert sense_of_text("Use it on") == {Sense.GOES_OVER}
    assert sense_of_text("Keep") == {Sense.STORAGE}
