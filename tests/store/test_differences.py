from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st
from made_sheets import ETCH_NO, FIVE_DAYS, SEVEN_DAYS, STEEL, THREE, evidence, over, window

from extract.claims import Claim, Condition, Method, Stance, Topic
from store.differences import describe, differences, duration, match, sentence_key


def words(before: list[Claim], after: list[Claim]) -> list[str]:
    return [d.words for d in differences(before, after)]


def figure(topic: Topic, property_: str, low: float | None, high: float | None, unit: str, **more: object) -> Claim:
    claim = Claim(topic, property_, Stance.STATES, evidence("x"), low=low, high=high, unit=unit)
    return replace(claim, **more)  # type: ignore[arg-type]


def test_a_window_that_changed() -> None:
    assert words([SEVEN_DAYS], [FIVE_DAYS]) == ["latest overcoat 7 days -> 5 days at 20 °C"]
    later = window(90, 7200, "x")
    assert words([SEVEN_DAYS], [later]) == [
        "earliest overcoat 1 h -> 90 min, latest overcoat 7 days -> 5 days at 20 °C"
    ]
    endless = replace(SEVEN_DAYS, high=None, unlimited=True)
    assert words([SEVEN_DAYS], [endless]) == ["latest overcoat 7 days -> without limit at 20 °C"]
    assert words([SEVEN_DAYS], [replace(SEVEN_DAYS, low=None)]) == ["earliest overcoat 1 h -> unsaid at 20 °C"]


def test_each_temperature_is_compared_with_its_own() -> None:
    cold, warm = window(120, 20160, "x", at_c=10.0), window(60, 10080, "x", at_c=20.0)
    assert words([cold, warm], [cold, replace(warm, high=8640.0)]) == ["latest overcoat 7 days -> 6 days at 20 °C"]
    assert words([warm], [replace(warm, at_c=23.0)]) == ["overcoat 1 h to 7 days at 20 °C -> 1 h to 7 days at 23 °C"]


def test_permissions_that_changed() -> None:
    forbidden = replace(STEEL, stance=Stance.FORBIDS)
    assert words([STEEL], [forbidden]) == ["over bare steel: permitted -> forbidden"]
    if_clean = replace(STEEL, conditions=(Condition.CLEAN, Condition.ABRADED))
    assert words([STEEL], [if_clean]) == ["over bare steel: permitted -> permitted if clean and abraded"]
    isolated = replace(STEEL, conditions=(Condition.ISOLATED,), via="surfacer")
    assert words([STEEL], [isolated]) == ["over bare steel: permitted -> permitted if isolated by surfacer"]


@pytest.mark.parametrize(
    ("before", "after", "said"),
    [
        (
            figure(Topic.DRYING, "touch", 30, 30, "min", method=Method.AIR),
            figure(Topic.DRYING, "touch", 45, 45, "min", method=Method.AIR),
            "touch dry 30 min -> 45 min (air)",
        ),
        (
            figure(Topic.FILM, "dry", 40, 60, "um"),
            figure(Topic.FILM, "dry", 50, 60, "um"),
            "dry film 40 µm to 60 µm -> 50 µm to 60 µm",
        ),
        (
            figure(Topic.MIXING, "ratio", None, None, "", parts=(4.0, 1.0), basis="volume"),
            figure(Topic.MIXING, "ratio", None, None, "", parts=(3.0, 1.0), basis="volume"),
            "mixing ratio 4:1 by volume -> 3:1 by volume",
        ),
        (
            figure(Topic.PREPARATION, "abrade", 80, 120, "P", stance=Stance.REQUIRES, object="surface.steel"),
            figure(Topic.PREPARATION, "abrade", 180, 180, "P", stance=Stance.REQUIRES, object="surface.steel"),
            "abrade on bare steel P80 to P120 -> P180",
        ),
        (
            figure(Topic.EXPOSURE, "outdoors", None, 80640, "min", stance=Stance.PERMITS),
            figure(Topic.EXPOSURE, "outdoors", None, 40320, "min", stance=Stance.PERMITS),
            "standing outdoors permitted at most 8 weeks -> permitted at most 4 weeks",
        ),
    ],
)  # fmt: skip
def test_figures_that_changed(before: Claim, after: Claim, said: str) -> None:
    assert words([before], [after]) == [said]


def test_what_is_new_and_what_is_gone() -> None:
    filler = over("filler.polyester", "x", stance=Stance.FORBIDS)
    assert words([STEEL, ETCH_NO], [STEEL, filler]) == [
        "gone: over etch primer: forbidden",
        "new: over polyester filler: forbidden",
    ]
    assert [(d.before, d.after) for d in differences([STEEL], [])] == [(STEEL, None)]
    own = over("product:Opal 30", "x")
    assert words([], [own]) == ["new: over Opal 30: permitted"]


def test_a_sentence_put_otherwise_is_no_difference() -> None:
    again = replace(SEVEN_DAYS, evidence=evidence("From one hour, within seven days"))
    assert words([SEVEN_DAYS], [again]) == []


def test_the_same_sentence_whatever_its_spacing_and_dashes() -> None:
    assert sentence_key("Sand P80–P120 .") == sentence_key("sand  P80-P120")
    assert sentence_key("60 ℃") == sentence_key("60 °C")
    assert sentence_key("not over etch") != sentence_key("over etch")


@pytest.mark.parametrize(
    ("minutes", "said"),
    [(0, "0 min"), (30, "30 min"), (90, "90 min"), (60, "1 h"), (1440, "1 day"), (4320, "3 days"), (10080, "7 days"),
     (20160, "2 weeks"), (80640, "8 weeks"), (2160, "36 h"), (7.5, "7.5 min")],
)  # fmt: skip
def test_durations(minutes: float, said: str) -> None:
    assert duration(minutes) == said


CLAIMS = st.lists(st.sampled_from([*THREE, FIVE_DAYS, over("filler", "Over fillers")]), max_size=8)


@given(CLAIMS, CLAIMS)
def test_every_claim_is_matched_gone_or_new(before: list[Claim], after: list[Claim]) -> None:
    matched = match(before, after)
    assert sorted([i for i, _ in matched.same] + list(matched.gone)) == list(range(len(before)))
    assert sorted([j for _, j in matched.same] + list(matched.new)) == list(range(len(after)))
    assert all(before[i] == after[j] for i, j in matched.same)
    assert differences(before, before) == ()


@given(CLAIMS)
def test_every_claim_can_be_described(claims: list[Claim]) -> None:
    assert all(describe(claim).strip() for claim in claims)
