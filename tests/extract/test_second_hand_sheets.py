"""Sheets and gold written by other hands than the reader's: what was learned from them stays, and nothing misleads.

Two kinds: those that the reader was worked on with, held closely; and those it was never shown, held loosely, so that
a change which only suits the first kind is seen. A figure that falls under its floor is a loss to somebody's sheet.
"""

from __future__ import annotations

import json
from functools import cache
from pathlib import Path

import pytest

from extract.claims import claim_to_json
from extract.pipeline import read_sheet
from tests.extract.scoring import Score, score

FIXTURES = Path(__file__).resolve().parents[2] / "fixtures"
NEVER_SHOWN = frozenset(
    {
        "almuradiel-aparejo", "jinlanhe-lightclear", "mezovar-directfeny", "ottersleben-ep3300", "palisade-block",
        "palisade-spectra", "palisade-tether", "ellerthwaite-e450", "marsdyke-glidefill", "portarrow-oxiguard",
        "quillback-qb80", "turolense-fosfarel",
    }
)  # fmt: skip


@cache
def result(folder: str, shown: bool | None = None) -> Score:
    sheets = []
    for gold in sorted((FIXTURES / folder).glob("*.gold.json")):
        name = gold.name.removesuffix(".gold.json")
        if shown is not None and shown is (name in NEVER_SHOWN):
            continue
        claims = json.loads(gold.read_text("utf-8"))["claims"]
        readings = read_sheet(gold.with_name(f"{name}.pdf").read_bytes(), f"{name}.pdf")
        sheets.append((name, claims, [claim_to_json(c) for reading in readings for c in reading.claims]))
    assert sheets
    return score(sheets)


def test_nothing_on_a_sheet_that_was_learned_from_misleads() -> None:
    assert result("reading", shown=True).dangerous == []


@pytest.mark.parametrize(
    ("folder", "shown", "recall", "precision"),
    [
        ("reading", True, 0.90, 0.96),
        ("reading", False, 0.71, 0.88),
        ("reading_languages_second", None, 0.79, 0.93),
    ],
    ids=["shown", "never-shown", "other-languages"],
)
def test_what_is_found_and_what_is_right_stay_above_their_floors(
    folder: str, shown: bool | None, recall: float, precision: float
) -> None:
    found = result(folder, shown)
    assert found.recall >= recall, found.missed[:20]
    assert found.precision >= precision, found.invented[:20]
