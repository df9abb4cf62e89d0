"""Cautions, and their absence, sentence by sentence."""

from __future__ import annotations

from typing import Any

import pytest

from extract.finders import safety
from extract.terms import SubjectNames, Vocabulary
from tests.extract.build import document, statement
from tests.extract.finders import cases

CASES = cases.load("safety")


@pytest.mark.parametrize("case", CASES, ids=[cases.name_of(c) for c in CASES])
def test_sentence(case: dict[str, Any]) -> None:
    assert cases.read(case, safety.find) == sorted(case["claims"])


def test_each_caution_is_filed_once_with_the_words_that_say_it() -> None:
    doc = document(
        statement("The hardener is an isocyanate hardener.", "Product"),
        statement("Keep away from children. The hardener contains isocyanates; ventilate.", "Safety"),
    )
    (claim,) = safety.find(doc, SubjectNames("Testol 100"), Vocabulary.load("en"))
    assert claim.evidence.quote == "The hardener contains isocyanates"
