"""Windows, case by case: cases/windows.toml holds sentences, fields and tables with what they say and do not say."""

from __future__ import annotations

from typing import Any

import pytest

from extract.claims import Method
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


@pytest.mark.parametrize(
    ("says", "methods"),
    [
        ("Infrared, short wave: 8 minutes, then recoat.", [Method.IR]),
        ("Stove for 20 minutes, then recoat.", [Method.FORCE]),
        ("Force-dry for 20 minutes, then recoat.", [Method.FORCE]),
        ("30 minutes at 60 °C, 16 h at 20 °C before recoating.", [Method.FORCE, None]),
        ("Recoat after 6 hours, or after 20 minutes under the lamp.", [None]),
        ("Leave for 20 minutes, then recoat.", [None]),
    ],
)
def test_a_time_under_the_lamp_or_in_the_oven_is_no_time_in_the_air(says: str, methods: list[Method | None]) -> None:
    subject = SubjectNames("Hobnail 3", kind="primer.epoxy.2k")
    found = windows.find(document(statement(says)), subject, Vocabulary.load("en"))
    assert [c.method for c in found] == methods
