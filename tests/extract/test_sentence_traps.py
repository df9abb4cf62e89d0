"""What a careless reader takes the wrong way, read by every finder at once: cases/traps.toml, each with its twin."""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any

import pytest

from extract.claims import Claim
from extract.document import StatementKind
from extract.pipeline import FINDERS
from extract.sorting import without_doubles
from extract.terms import SubjectNames, Vocabulary
from tests.extract.build import document, statement

CASES = tomllib.loads((Path(__file__).parent / "cases" / "traps.toml").read_text("utf-8"))["case"]


def said(claim: Claim) -> str:
    """'overcoat_window window states - 120..4320min @20 if abraded'."""
    words = [claim.topic.value, claim.property or "", claim.stance.value, claim.object or "-"]
    if claim.low is not None or claim.high is not None:
        low, high = ("" if end is None else f"{end:g}" for end in (claim.low, claim.high))
        words.append(f"{low}..{high}{claim.unit or ''}")
    words.append("unlimited" if claim.unlimited else "")
    words.append(":".join(f"{part:g}" for part in claim.parts or ()))
    words.append(f"@{claim.at_c:g}" if claim.at_c is not None else "")
    words.append(f"by {claim.method}" if claim.method else "")
    words.append("if " + " ".join(c.value for c in claim.conditions) if claim.conditions else "")
    return " ".join(word for word in words if word)


def read(case: dict[str, Any]) -> list[str]:
    subject = SubjectNames("Hobnail 3", kind=case.get("kind", "primer.epoxy.2k"))
    label = case.get("label")
    block = statement(
        case["says"],
        case.get("under", ()),
        kind=StatementKind.FIELD if label else StatementKind.SENTENCE,
        label=label,
    )
    sheet = document(block)
    vocabulary = Vocabulary.load("en").bind(sheet, subject)
    return [said(c) for c in without_doubles(c for find in FINDERS for c in find(sheet, subject, vocabulary))]


@pytest.mark.parametrize("case", CASES, ids=[case["says"] for case in CASES])
def test_a_trap_is_read_as_a_careful_person_reads_it(case: dict[str, Any]) -> None:
    claims = read(case)
    assert set(case.get("has", ())) <= set(claims)
    assert [claim for claim in claims if claim.startswith(tuple(case.get("lacks", ())))] == []
