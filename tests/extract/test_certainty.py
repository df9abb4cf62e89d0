"""No claim is shown surer than claims of its topic proved to be."""

from __future__ import annotations

import pytest

from extract.certainty import most_certain, no_surer_than_it_proved
from extract.claims import Claim, Evidence, Stance, Topic

EVIDENCE = Evidence(1, "words", ((0.0, 0.0, 1.0, 1.0),))


@pytest.mark.parametrize("topic", Topic)
def test_confidence_is_bounded_by_what_the_topic_earned_and_never_raised(topic: Topic) -> None:
    for sure in (0.5, 0.85, 0.97):
        claim = no_surer_than_it_proved(Claim(topic, None, Stance.STATES, EVIDENCE, confidence=sure))
        assert claim.confidence == min(sure, most_certain().get(topic, 1.0))


def test_times_to_the_next_coat_never_count_as_certain() -> None:
    assert most_certain()[Topic.OVERCOAT_WINDOW] <= 0.9
