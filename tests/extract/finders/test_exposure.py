"""Water, weather, wet flatting and light, sentence by sentence."""

from __future__ import annotations

from typing import Any

import pytest

from extract.finders import exposure
from extract.terms import SubjectNames, Vocabulary
from tests.extract.build import document, statement
from tests.extract.finders import cases

CASES = cases.load("exposure")


@pytest.mark.parametrize("case", CASES, ids=[cases.name_of(c) for c in CASES])
def test_sentence(case: dict[str, Any]) -> None:
    assert cases.read(case, exposure.find) == sorted(case["claims"])


def test_the_quote_is_the_clause_that_says_it() -> None:
    doc = document(statement("Sand it first. A primed body may be parked outside for up to 30 days; wash it then."))
    (claim,) = exposure.find(doc, SubjectNames("Testol 100", (), "primer.epoxy.2k"), Vocabulary.load("en"))
    assert claim.evidence.quote == "A primed body may be parked outside for up to 30 days"
    assert claim.high == 30 * 24 * 60
