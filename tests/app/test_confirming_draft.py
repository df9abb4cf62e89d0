"""What is typed into the form becomes the claim that was meant, and a claim comes back from the form unharmed."""

from __future__ import annotations

from dataclasses import replace

import pytest

from app.confirming.draft import (
    Draft,
    NotUnderstood,
    claim_of,
    draft_of,
    new_draft,
    object_choices,
    properties_of,
    stances_of,
)
from extract.claims import SELF, Claim, Condition, Evidence, Method, Stance, Topic
from extract.kinds import kinds

WORDS = Evidence(2, "as printed", ((1.0, 2.0, 3.0, 4.0),))

CLAIMS = [
    Claim(
        Topic.GOES_OVER,
        None,
        Stance.PERMITS,
        WORDS,
        object="primer.epoxy.2k",
        only=True,
        conditions=(Condition.ABRADED, Condition.ISOLATED),
        via="surfacer.2k",
    ),
    Claim(Topic.TOPPED_BY, None, Stance.FORBIDS, WORDS, object="product:Lack 7 plus"),
    Claim(Topic.TOPPED_BY, None, Stance.PERMITS, WORDS, object=SELF),
    Claim(
        Topic.OVERCOAT_WINDOW,
        "window",
        Stance.STATES,
        WORDS,
        object="filler.polyester",
        low=90.0,
        high=4320.0,
        unit="min",
        at_c=20.0,
    ),
    Claim(Topic.OVERCOAT_WINDOW, "window", Stance.STATES, WORDS, low=30.0, unit="min", unlimited=True),
    Claim(Topic.MIXING, "ratio", Stance.STATES, WORDS, parts=(4.0, 1.0, 0.5), basis="volume"),
    Claim(Topic.FILM, "dry", Stance.STATES, WORDS, low=60.0, high=80.0, unit="um"),
    Claim(Topic.APPLICATION, "nozzle", Stance.STATES, WORDS, low=1.6, high=1.8, unit="mm", text="gravity gun"),
    Claim(Topic.DRYING, "sand", Stance.STATES, WORDS, low=45.0, high=45.0, unit="min", at_c=60.0, method=Method.FORCE),
    Claim(Topic.PREPARATION, "abrade", Stance.REQUIRES, WORDS, object="surface.steel", low=180.0, high=240.0, unit="P"),
    Claim(Topic.EXPOSURE, "waterproof", Stance.FORBIDS, WORDS),
    Claim(Topic.STORAGE, "temp", Stance.STATES, WORDS, low=-5.0, high=35.0, unit="degC"),
    Claim(Topic.SAFETY, "air_fed", Stance.REQUIRES, WORDS, text="when spraying"),
]


@pytest.mark.parametrize("claim", CLAIMS, ids=lambda c: f"{c.topic.value}-{c.property}")
def test_a_claim_comes_back_from_the_form_as_it_was(claim: Claim) -> None:
    assert claim_of(draft_of(claim), WORDS, claim) == replace(claim, confidence=1.0)


def test_every_kind_can_be_chosen_by_its_words() -> None:
    choices = object_choices()
    assert set(choices.values()) == {SELF, *kinds()}
    for words, kind in choices.items():
        made = claim_of(Draft(Topic.GOES_OVER, stance=Stance.PERMITS, object=words.upper()), WORDS)
        assert made.object == kind


def test_a_name_that_is_no_kind_is_a_product() -> None:
    draft = Draft(Topic.GOES_OVER, stance=Stance.FORBIDS, object=" Fern 12 ")
    assert claim_of(draft, WORDS).object == "product:Fern 12"
    assert claim_of(replace(draft, object="product: Fern 12"), WORDS).object == "product:Fern 12"


@pytest.mark.parametrize(
    ("typed", "minutes"), [("45", 45), ("1 h 30", 90), ("3 days", 4320), ("90 min", 90), ("2 weeks", 20160)]
)
def test_times_are_typed_as_they_are_said(typed: str, minutes: float) -> None:
    draft = Draft(Topic.OVERCOAT_WINDOW, "window", high=typed)
    assert claim_of(draft, WORDS).high == minutes


@pytest.mark.parametrize(
    ("draft", "field"),
    [
        (Draft(Topic.GOES_OVER), "object"),
        (Draft(Topic.OVERCOAT_WINDOW, "window", low="soon"), "low"),
        (Draft(Topic.FILM, "dry", low="80", high="60"), "high"),
        (Draft(Topic.FILM, "dry", low="thick"), "low"),
        (Draft(Topic.MIXING, "ratio", parts="4"), "parts"),
        (Draft(Topic.MIXING, "ratio", parts="four to one"), "parts"),
        (Draft(Topic.SAFETY, "lead", low="3"), "low"),
        (Draft(Topic.GOES_OVER, object="product: "), "object"),
    ],
)
def test_what_is_not_understood_is_said_at_its_field(draft: Draft, field: str) -> None:
    with pytest.raises(NotUnderstood) as caught:
        claim_of(draft, WORDS)
    assert caught.value.field == field
    assert caught.value.words.endswith(".")


def test_commas_and_grades_as_people_write_them() -> None:
    assert claim_of(Draft(Topic.APPLICATION, "nozzle", low="1,8", high="1,8"), WORDS).low == 1.8
    assert claim_of(Draft(Topic.PREPARATION, "abrade", Stance.REQUIRES, low="P240"), WORDS).low == 240


@pytest.mark.parametrize("topic", list(Topic))
def test_every_topic_can_be_begun(topic: Topic) -> None:
    draft = new_draft(topic)
    assert draft.property in properties_of(topic)
    for name in properties_of(topic):
        assert stances_of(topic, name)
