"""How certain a claim may be at most, by what such claims came to on sheets that the reader had not been shown.

A finder knows how plainly a sentence was worded. It cannot know how often plain words mislead it, so that is counted
outside (`python -m tests.benchmarks.reliability`) and kept in vocabulary/certainty.toml.
"""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import replace
from functools import cache
from importlib import resources

from extract.claims import Claim, Topic


@cache
def most_certain() -> Mapping[Topic, float]:
    """From 0 to 1, by topic; topics without a limit are left out."""
    text = resources.files("extract.vocabulary").joinpath("certainty.toml").read_text("utf-8")
    return {Topic(name): float(most) for name, most in tomllib.loads(text)["most"].items()}


def no_surer_than_it_proved(claim: Claim) -> Claim:
    """The claim with no more confidence than its topic has earned."""
    most = most_certain().get(claim.topic, 1.0)
    return claim if claim.confidence <= most else replace(claim, confidence=most)
