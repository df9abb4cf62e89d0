"""Sheets in other languages than English: what is not understood is said, and never read as leave."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from extract.claims import SheetReading, claim_to_json
from extract.document import fold
from extract.pipeline import read_sheet
from tests.extract.scoring import score

SHEETS = Path(__file__).resolve().parents[2] / "fixtures" / "reading_languages"
GOLD = sorted(SHEETS.glob("*.gold.json"))


def _read(gold: Path) -> tuple[dict[str, Any], SheetReading]:
    pdf = gold.with_name(gold.name.replace(".gold.json", ".pdf"))
    (reading,) = read_sheet(pdf.read_bytes(), pdf.name)
    return json.loads(gold.read_text(encoding="utf-8")), reading


def test_every_language_has_a_sheet() -> None:
    assert {json.loads(g.read_text(encoding="utf-8"))["sheet"]["language"] for g in GOLD} == {"de", "fr", "es", "nl"}


@pytest.mark.parametrize("gold", GOLD, ids=lambda g: g.name.split(".")[0])
def test_a_sheet_in_another_language_misleads_nobody(gold: Path) -> None:
    expected, reading = _read(gold)
    told = [claim_to_json(c) for c in reading.claims]
    assert score([(gold.stem, expected["claims"], told)]).dangerous == []
    assert reading.header.language == expected["sheet"]["language"]
    assert told or any(expected["sheet"]["language"] in problem for problem in reading.problems)


@pytest.mark.parametrize("gold", GOLD, ids=lambda g: g.name.split(".")[0])
def test_no_coat_is_permitted_that_the_sheet_does_not_permit(gold: Path) -> None:
    expected, reading = _read(gold)
    permitted = {c.object for c in reading.claims if c.stance == "permits" and c.topic in ("goes_over", "topped_by")}
    granted = {o for g in expected["claims"] if g["stance"] == "permits" for o in (g["object"], *g.get("also", ()))}
    assert permitted <= granted


def test_every_topic_is_read_with_a_floor() -> None:
    result = score([(g.stem, e["claims"], [claim_to_json(c) for c in r.claims]) for g in GOLD for e, r in [_read(g)]])
    assert result.recall >= 0.85, result.missed
    assert result.precision >= 0.92, result.invented


@pytest.mark.parametrize("gold", GOLD, ids=lambda g: g.name.split(".")[0])
def test_the_head_is_read_and_the_words_shown_are_the_sheet_s(gold: Path) -> None:
    expected, reading = _read(gold)
    head = reading.header
    assert (head.product, head.kind) == (expected["sheet"]["product"], expected["sheet"]["kind"])
    printed = {page.number: _letters(" ".join(w.text for w in page.words)) for page in reading.pages}
    for claim in reading.claims:
        for part in claim.evidence.quote.split(" … "):
            assert all(_letters(word) in printed[claim.evidence.page] for word in part.split()), part


def _letters(text: str) -> str:
    return "".join(c for c in fold(text) if c.isalnum())
