"""The reader on the demo sheets, held against the claims written down by hand before it had seen them."""

from __future__ import annotations

import json
from functools import cache
from typing import Any

import pdfplumber
import pytest

from extract.claims import SheetReading, claim_to_json
from extract.pipeline import read_sheet
from fixtures.make_sheets import HERE, SHEETS
from tests.extract.scoring import quote_stands_inside, score

RECALL = 0.80
PRECISION = 0.90
HEADERS_RIGHT = 0.85
HEADER = ("maker", "product", "code", "kind", "issued")


@cache
def read(name: str) -> SheetReading:
    (reading,) = read_sheet((HERE / f"{name}.pdf").read_bytes(), f"{name}.pdf")
    return reading


@cache
def gold(name: str) -> dict[str, Any]:
    return dict(json.loads((HERE / "gold" / f"{name}.gold.json").read_text(encoding="utf-8")))


def claims(name: str) -> list[dict[str, Any]]:
    return [claim_to_json(claim) for claim in read(name).claims]


@pytest.mark.parametrize("name", sorted(SHEETS))
def test_nothing_that_would_mislead(name: str) -> None:
    assert score([(name, gold(name)["claims"], claims(name))]).dangerous == []


def test_finds_what_a_careful_person_files_and_little_else() -> None:
    found = score((name, gold(name)["claims"], claims(name)) for name in sorted(SHEETS))
    looked_at = "\n".join(["missed:", *found.missed, "invented:", *found.invented])
    assert found.recall >= RECALL, f"recall {found.recall:.3f}\n{looked_at}"
    assert found.precision >= PRECISION, f"precision {found.precision:.3f}\n{looked_at}"


def test_knows_whose_sheet_it_is() -> None:
    wrong = []
    for name in sorted(SHEETS):
        for field in HEADER:
            wanted, got = str(gold(name)["sheet"][field]).lower(), str(getattr(read(name).header, field)).lower()
            if not (wanted == got or (field in ("maker", "product") and (wanted in got or got in wanted))):
                wrong.append(f"{name}: {field} {got} for {wanted}")
    assert 1 - len(wrong) / (len(SHEETS) * len(HEADER)) >= HEADERS_RIGHT, wrong


@pytest.mark.parametrize("name", sorted(SHEETS))
def test_every_quote_stands_inside_its_boxes(name: str) -> None:
    with pdfplumber.open(HERE / f"{name}.pdf") as document:
        words = {
            page.page_number: [
                (w["text"], (w["x0"], w["top"], w["x1"], w["bottom"])) for w in page.extract_words(use_text_flow=True)
            ]
            for page in document.pages
        }
    told = claims(name)
    assert told
    assert [c["evidence"] for c in told if not quote_stands_inside(c, words[c["evidence"]["page"]])] == []
