"""Sentences in other languages in, claims out: every case of cases/languages/*.toml.

A claim is written as in test_coat_cases.py; "exposure forbids outdoors" and the like say what the film stands alone.
"""

from __future__ import annotations

import tomllib
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from extract.claims import Claim, Topic
from extract.document import StatementKind
from extract.finders import coats, exposure, safety, windows
from extract.gloss.doubts import sure
from extract.gloss.original import Original
from extract.gloss.sheets import gloss_document
from extract.terms import SubjectNames, Vocabulary
from tests.extract.build import document, statement
from tests.extract.test_coat_cases import written

FOLDER = Path(__file__).parents[1] / "cases" / "languages"
NAMED = "Kelpstone 55 HS, Marlgrit 20, BX-40 Sandrake, Tallowfin Base, 20 °C, 8 h."


def cases() -> list[Any]:
    return [
        pytest.param(path.stem, case, id=f"{path.stem}-{n}")
        for path in sorted(FOLDER.glob("*.toml"))
        for n, case in enumerate(tomllib.loads(path.read_text("utf-8"))["case"])
    ]


def says(claim: Claim) -> str:
    if claim.topic is Topic.SAFETY:
        return f"safety {claim.stance.value} {claim.property}"
    if claim.topic is not Topic.EXPOSURE:
        return written(claim)
    words = ["exposure", claim.stance.value, str(claim.property)]
    return " ".join([*words, f"..{claim.high:g}"] if claim.high is not None else words)


def read(language: str, case: dict[str, Any]) -> tuple[list[Claim], list[Claim]]:
    """What is filed, and what would be filed if nothing were in doubt."""
    subject = SubjectNames(case.get("name", "Hobnail 3"), kind=case.get("kind", "primer.epoxy.2k"))
    block = statement(
        case["says"],
        case.get("under", ()),
        kind=StatementKind(case.get("as", "sentence")),
        lead=case.get("lead"),
        label=case.get("label"),
        mark=case.get("mark", ""),
    )
    sheet = replace(document(block, statement(NAMED)), language=language)
    glossed = gloss_document(sheet, (subject.name,))
    vocabulary = Vocabulary.load("en").bind(glossed.document, subject)
    found = [c for f in (coats, windows, exposure, safety) for c in f.find(glossed.document, subject, vocabulary)]
    original = Original(sheet)
    return [original.claim(c) for c in sure(found, glossed.doubts)], found


@pytest.mark.parametrize(("language", "case"), cases())
def test_a_sentence_says(language: str, case: dict[str, Any]) -> None:
    filed, _ = read(language, case)
    assert sorted({says(c) for c in filed}) == sorted(case["claims"]), case["says"]


@pytest.mark.parametrize(("language", "case"), cases())
def test_a_claim_shows_the_sheet_s_own_words(language: str, case: dict[str, Any]) -> None:
    printed = " ".join(str(case.get(part) or "") for part in ("lead", "label", "says"))
    for claim in read(language, case)[0]:
        assert all(part in printed for part in claim.evidence.quote.split(" … ")), claim.evidence.quote


@pytest.mark.parametrize("language", ["de", "es", "fr", "nl"])
def test_every_language_has_traps(language: str) -> None:
    told = [case for case in cases() if case.values[0] == language]
    assert len(told) >= 30
    assert sum(not case.values[1]["claims"] for case in told) >= 4
