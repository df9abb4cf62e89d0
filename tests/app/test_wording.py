"""Claims, times, ranges and verdicts as words."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from typing import Any

import pytest

from app import comparison_words, verdict_words
from app.figure_words import rough_words
from app.kind_labels import KIND_LABELS
from app.window_words import times_large, window_words
from app.wording import (
    claim_words,
    condition_words,
    conditions_joined,
    date_words,
    duration_words,
    joined,
    kind_words,
    object_words,
    property_words,
    range_words,
    temperature_words,
    topic_words,
)
from extract.claims import PROPERTIES, Claim, Condition, Evidence, Method, Stance, Topic
from extract.kinds import kinds
from store.records import Rule, SheetRef
from store.rules.answers import AdviceKind, Part, Reading, Standing, Window
from store.rules.needs import Met

EVIDENCE = Evidence(1, "as printed", ((0.0, 0.0, 1.0, 1.0),))


def claim(topic: Topic, property_: str | None = None, stance: Stance = Stance.STATES, **fields: Any) -> Claim:
    return Claim(topic, property_, stance, EVIDENCE, **fields)


@pytest.mark.parametrize(
    ("minutes", "words"),
    [
        (0, "0 min"),
        (0.5, "30 s"),
        (30, "30 min"),
        (60, "1 h"),
        (90, "1 h 30"),
        (65, "1 h 05"),
        (1440, "24 h"),
        (2160, "36 h"),
        (2880, "48 h"),
        (4320, "3 days"),
        (4380, "3 days 1 h"),
        (10080, "7 days"),
        (43200, "30 days"),
        (129600, "3 months"),
        (525600, "1 year"),
        (1051200, "2 years"),
    ],
)
def test_times_are_said_as_a_person_says_them(minutes: float, words: str) -> None:
    assert duration_words(minutes) == words


@pytest.mark.parametrize(
    ("span", "up", "down"),
    [
        (timedelta(seconds=20), "1 min", "less than a minute"),
        (timedelta(minutes=40, seconds=1), "41 min", "40 min"),
        (timedelta(minutes=59, seconds=30), "1 h", "59 min"),
        (timedelta(hours=2, minutes=30), "2 h 30", "2 h 30"),
        (timedelta(hours=11, minutes=59, seconds=30), "12 h", "11 h 59"),
        (timedelta(hours=12, minutes=1), "13 h", "12 h"),
        (timedelta(hours=35, minutes=59), "36 h", "35 h"),
        (timedelta(hours=71, minutes=1), "3 days", "71 h"),
        (timedelta(hours=48, seconds=5), "48 h", "48 h"),
        (timedelta(days=3), "3 days", "3 days"),
        (timedelta(days=5, seconds=5), "5 days", "5 days"),
        (timedelta(days=3, minutes=1), "4 days", "3 days"),
        (timedelta(days=103, minutes=48), "104 days", "103 days"),
        (-timedelta(days=103, minutes=48), "104 days", "103 days"),
    ],
)
def test_a_span_by_the_clock_is_rounded_to_the_careful_side(span: timedelta, up: str, down: str) -> None:
    """How long it stood is never said to be less, what is left never more."""
    assert rough_words(span, up=True) == up
    assert rough_words(span, up=False) == down


@pytest.mark.parametrize(
    ("low", "high", "unit", "words"),
    [
        (180, 240, "P", "P180–P240"),
        (320, 320, "P", "P320"),
        (25, 40, "um", "25–40 µm"),
        (None, 30, "min", "at most 30 min"),
        (80, None, "um", "at least 80 µm"),
        (60, 4320, "min", "1 h – 3 days"),
        (5, 35, "degC", "5–35 °C"),
        (2, 3, "count", "2–3"),
        (1.5, 1.8, "mm", "1.5–1.8 mm"),
        (9.82, 9.82, "m2/l", "9.82 m²/l"),
        (None, None, "um", ""),
        (12, 12, "months", "12 months"),
    ],
)
def test_ranges_have_an_en_dash_and_their_unit(low: float | None, high: float | None, unit: str, words: str) -> None:
    assert range_words(low, high, unit) == words


def test_temperatures_and_dates() -> None:
    assert temperature_words(21.1111) == "21.1 °C"
    assert temperature_words(-5) == "−5 °C"
    assert date_words("2024-03-01") == "1 March 2024"
    assert date_words("2024") == "2024"
    assert joined(["a", "b", "c"]) == "a, b and c"


@pytest.mark.parametrize(
    ("made", "words"),
    [
        (
            claim(Topic.OVERCOAT_WINDOW, "window", low=60.0, high=4320.0, unit="min", at_c=20.0),
            "Earliest next coat 1 h, latest 3 days, at 20 °C",
        ),
        (
            claim(Topic.OVERCOAT_WINDOW, "window", object="topcoat.base", high=1440.0, unit="min"),
            "Base coat: latest next coat 24 h",
        ),
        (
            claim(Topic.OVERCOAT_WINDOW, "window", low=720.0, unlimited=True, unit="min", conditions=(Condition.ABRADED,)),  # noqa: E501
            "Earliest next coat 12 h, no latest time, once it is sanded or keyed",
        ),
        (
            claim(Topic.OVERCOAT_WINDOW, "abrade_after", Stance.REQUIRES, text="wash", conditions=(Condition.CLEAN,)),
            "Past the latest time, clean it first (wash)",
        ),
        (
            claim(Topic.OVERCOAT_WINDOW, "abrade_after", Stance.REQUIRES, low=320.0, high=400.0, unit="P"),
            "Past the latest time, sand P320–P400",
        ),
        (
            claim(Topic.GOES_OVER, None, Stance.FORBIDS, object="primer.etch"),
            "Granat 12 must not go over etch primers",
        ),
        (
            claim(
                Topic.TOPPED_BY, None, Stance.PERMITS, object="surfacer.2k", only=True,
                conditions=(Condition.CURED, Condition.ABRADED),
            ),
            "Granat 12 may only be coated with 2K surfacers, once it is sanded or keyed and cured",
        ),
        (
            claim(
                Topic.GOES_OVER, None, Stance.PERMITS, object="surface.plastic", conditions=(Condition.ISOLATED,),
                via="primer.plastic",
            ),
            "Granat 12 may go over plastics, with plastics primer between",
        ),
        (
            claim(Topic.PREPARATION, "abrade", Stance.REQUIRES, object="surface.steel", low=80.0, high=180.0, unit="P"),
            "Sand to P80–P180, on bare steel",
        ),
        (
            claim(Topic.PREPARATION, "prime_within", Stance.REQUIRES, high=240.0, unit="min"),
            "Coat within 4 h",
        ),
        (claim(Topic.EXPOSURE, "waterproof", Stance.FORBIDS), "Granat 12 does not keep water out"),
        (
            claim(Topic.EXPOSURE, "outdoors", Stance.PERMITS, high=80640.0, unit="min"),
            "Granat 12 may stand outdoors without a further coat for at most 56 days",
        ),
        (claim(Topic.MIXING, "ratio", parts=(4.0, 1.0, 0.5), basis="volume"), "Mixing ratio 4 : 1 : 0.5 by volume"),
        (claim(Topic.MIXING, "thinner", low=0.0, high=0.0, unit="%"), "Do not thin"),
        (claim(Topic.MIXING, "pot_life", low=480.0, high=480.0, unit="min", at_c=20.0), "Pot life 8 h, at 20 °C"),
        (
            claim(Topic.DRYING, "hard", low=30.0, high=30.0, unit="min", at_c=60.0, method=Method.FORCE),
            "Hard 30 min, at 60 °C, in the oven",
        ),
        (claim(Topic.APPLICATION, "method", text="airless"), "Put on by airless"),
        (claim(Topic.STORAGE, "shelf_life", low=24.0, high=24.0, unit="months"), "Shelf life 24 months"),
        (claim(Topic.SAFETY, "isocyanate"), "Contains isocyanates"),
    ],
)  # fmt: skip
def test_a_claim_in_a_painters_words(made: Claim, words: str) -> None:
    assert claim_words(made, "Granat 12") == words


def test_no_field_name_is_ever_shown() -> None:
    """Every property of every topic has words, whatever the stance and with or without a figure."""
    for topic, properties in PROPERTIES.items():
        assert topic_words(topic)
        for name, unit in properties.items() or [(None, None)]:
            assert name is None or property_words(name)
            for stance in Stance:
                for figures in ({}, {"low": 1.0, "high": 2.0, "unit": unit}, {"high": 2.0, "unit": unit}):
                    words = claim_words(claim(topic, name, stance, **figures), "Granat 12")
                    assert words[0].isupper()
                    assert "_" not in words
                    assert "None" not in words


def test_every_kind_condition_and_verdict_has_words() -> None:
    for kind in kinds():
        assert "." not in kind_words(kind)
    assert object_words("product:Zahn E") == "Zahn E"
    assert object_words(None) == "anything"
    assert condition_words(Condition.ISOLATED, "surfacer.2k") == "with 2K surfacer between"
    assert all(condition_words(condition) for condition in Condition)
    for word in ("yes", "yes_if", "no", "disputed", "silent", "unconfirmed"):
        assert verdict_words.verdict_words(word)
    assert all(verdict_words.standing_words(standing) for standing in Standing)
    assert all(verdict_words.part_words(part) for part in Part)
    assert set(verdict_words._PLAIN_ADVICE) == set(AdviceKind)
    assert set(comparison_words._MET) == set(Met)


def test_conditions_are_said_together() -> None:
    conditions = [Condition.ABRADED, Condition.WITHIN_WINDOW, Condition.CLEAN]
    assert conditions_joined(conditions, details={Condition.ABRADED: "P180"}) == (
        "once it is clean and sanded or keyed (P180), within its time limits"
    )


def window(
    reading: Reading, low: float | None = 60.0, high: float | None = 2880.0, at_c: float | None = 12.0
) -> Window:
    sheet = SheetRef(1, 1, "Granat 12", "Vellmark", "primer.epoxy.2k")
    rule = Rule(1, claim(Topic.OVERCOAT_WINDOW, "window", low=low, high=high, unit="min"), sheet)
    return Window(low, high, False, at_c, reading, (10.0, 20.0, 30.0), (rule,))


def test_a_window_says_how_it_was_read() -> None:
    assert window_words(window(Reading.STATED)) == "Earliest next coat 1 h, latest 48 h, at 12 °C"
    between = window_words(window(Reading.BETWEEN))
    assert between.startswith(
        "Earliest next coat 1 h, latest 48 h, at 12 °C (between the sheet's rows for 10 °C and 20 °C"
    )
    outside = window_words(window(Reading.OUTSIDE, None, None, 5.0))
    assert outside == "The sheet gives times for 10 °C, 20 °C and 30 °C only, not for 5 °C"
    assert "no moment suits" in window_words(window(Reading.BETWEEN, 2880.0, 60.0))
    assert "names no temperature" in window_words(window(Reading.UNTEMPERED, at_c=None))


def beyond(at_c: float, low: float | None, high: float | None, **why: str) -> str:
    sheet = SheetRef(1, 1, "Granat 12", "Vellmark", "primer.epoxy.2k")
    stated = claim(Topic.OVERCOAT_WINDOW, "window", low=120.0, high=1440.0, unit="min", at_c=21.1)
    return window_words(
        Window(low, high, False, at_c, Reading.OUTSIDE, (21.1,), (Rule(1, stated, sheet),), **why)  # type: ignore[arg-type]
    )


def test_a_time_withheld_says_why_and_what_to_do() -> None:
    """Colder a film cures more slowly, so a latest holds and an earliest does not; hotter the other way round."""
    assert beyond(18.0, None, 1440.0, no_low="the sheet gives no earliest time below 21 °C") == (
        "The sheet gives times for 21.1 °C only, not for 18 °C; the earliest is later than the 2 h stated for 21.1 °C, "
        "how much it does not say; latest next coat 24 h: so it says for 21.1 °C, and colder it is no shorter; "
        "keep it at 21.1 °C, or ask the maker"
    )
    assert beyond(30.0, 120.0, None, no_high="the sheet gives no latest time above 21 °C") == (
        "The sheet gives times for 21.1 °C only, not for 30 °C; the latest is sooner than the 24 h stated for 21.1 °C, "
        "how much it does not say; earliest next coat 2 h: so it says for 21.1 °C, and hotter it is no longer; "
        "keep it at 21.1 °C, or ask the maker"
    )


def test_each_of_several_windows_is_said() -> None:
    first, second = window(Reading.STATED, None, 60.0), window(Reading.STATED, 2880.0, None)
    assert window_words(replace(first, also=(second,))) == (
        "Latest next coat 1 h, at 12 °C; or: earliest next coat 48 h, at 12 °C"
    )
    assert times_large(replace(first, also=(second,))) == "at most 1 h or at least 48 h"


def test_every_label_of_a_kind_is_marked_for_translation() -> None:
    assert {words for kind in kinds().values() for words in (kind.label, kind.plural)} == KIND_LABELS
