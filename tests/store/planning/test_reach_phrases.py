"""The phrases that tell how far a sentence reaches: every example, every counter-example, no idle phrase."""

from __future__ import annotations

import tomllib
from importlib import resources

import pytest

from extract.document import fold
from extract.phrases import compile_phrases
from store.planning.reach_phrases import LEAST_ABOVE, least_above, meanings, says

RAW = tomllib.loads(resources.files("store.planning").joinpath("reach_phrases.toml").read_text("utf-8"))["meaning"]
EXAMPLES = [(entry["name"], sentence) for entry in RAW for sentence in entry["example"]]
COUNTER = [(entry["name"], sentence) for entry in RAW for sentence in entry["counter_example"]]
PHRASES = [(entry["name"], phrase) for entry in RAW for phrase in entry["phrase"]]


@pytest.mark.parametrize(("name", "sentence"), EXAMPLES)
def test_an_example_is_understood(name: str, sentence: str) -> None:
    assert says(sentence, name)


@pytest.mark.parametrize(("name", "sentence"), COUNTER)
def test_a_counter_example_is_not(name: str, sentence: str) -> None:
    assert not says(sentence, name)


@pytest.mark.parametrize(("name", "phrase"), PHRASES)
def test_every_phrase_has_an_example_of_its_own(name: str, phrase: str) -> None:
    regex = compile_phrases((phrase,))
    assert any(regex.search(fold(sentence)) for sentence in meanings()[name].examples)


@pytest.mark.parametrize(
    ("sentence", "film"),
    [
        ("At least 100 µm of topcoat must lie above it.", 100.0),
        ("Overcoat with at least 3 mils of finish.", 76.2),
        ("Apply at least 50 µm.", None),
        ("Overcoat after at least 2 h.", None),
    ],
)
def test_the_least_film_above_is_read_in_micrometres(sentence: str, film: float | None) -> None:
    assert least_above(sentence) == (None if film is None else pytest.approx(film))
    assert says(sentence, LEAST_ABOVE) is (film is not None)
