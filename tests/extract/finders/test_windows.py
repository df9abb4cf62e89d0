"""Windows, case by case: cases/windows.toml holds sentences, fields and tables with what they say and do not say."""

from __future__ import annotations

from typing import Any

import pytest

from extract.finders import windows
from extract.terms import SubjectNames, Vocabulary
from tests.extract.build import document, statement
from tests.extract.finders import cases
from tests.extract.test_coat_cases import written

NAMED = statement("Kelpstone 55 HS and Marlgrit 20 are made by us; see Tallowfin Base, at 20 °C.")
CASES = cases.load("windows")


@pytest.mark.parametrize("case", CASES, ids=[cases.name_of(c) for c in CASES])
def test_case(case: dict[str, Any]) -> None:
    subject = SubjectNames("Hobnail 3", kind=case.get("own", "primer.epoxy.2k"))
    found = list(windows.find(document(*cases.blocks_of(case), NAMED), subject, Vocabulary.load("en")))
    assert sorted(map(written, found)) == sorted(case["claims"])
    for claim in found:
        assert claim.evidence.quote and claim.evidence.boxes
        assert claim.why is not None and 0 < claim.confidence < 1
