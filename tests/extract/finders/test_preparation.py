"""What to do to what, from sentences, bullets and substrate tables."""

from __future__ import annotations

from typing import Any

import pytest

from extract.finders import preparation
from extract.grades import iso_blast_grade
from tests.extract.finders import cases

CASES = cases.load("preparation")


@pytest.mark.parametrize("case", CASES, ids=[cases.name_of(c) for c in CASES])
def test_text(case: dict[str, Any]) -> None:
    assert cases.read(case, preparation.find) == sorted(case["claims"])


@pytest.mark.parametrize(
    ("printed", "grade"),
    [
        # Three public comparison tables of preparation standards that agree (ISO 8501-1, SSPC, NACE).
        ("SSPC-SP 10", "Sa 2½"),
        ("SSPC SP10", "Sa 2½"),
        ("NACE No. 2", "Sa 2½"),
        ("SSPC-SP 5", "Sa 3"),
        ("NACE No. 1", "Sa 3"),
        ("SSPC-SP 6", "Sa 2"),
        ("SSPC-SP 7", "Sa 1"),
        ("SSPC-SP 3", "St 3"),
        ("near-white metal", "Sa 2½"),
        ("white metal blast", "Sa 3"),
        ("commercial blast", "Sa 2"),
        # Spellings seen in print; the letter of a rust grade before it is the starting condition.
        ("Sa 2 1/2", "Sa 2½"),
        ("SA 2,5", "Sa 2½"),
        ("Sa2.5", "Sa 2½"),
        ("B Sa 2½", "Sa 2½"),
        ("Sa 2", "Sa 2"),
        # SP 11 and SP 14 have no like in ISO 8501-1.
        ("SSPC-SP 11", None),
        ("SSPC-SP 14", None),
        ("P80", None),
    ],
)
def test_blast_grades_known_by_other_names(printed: str, grade: str | None) -> None:
    assert iso_blast_grade(printed) == grade
