"""Sheets in other languages than English: what is not understood is said, and never read as leave."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from extract.claims import SheetReading, Stance, claim_to_json
from extract.document import fold
from extract.figures.labels import figure_specs, find_labels
from extract.patterns import load_patterns
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


LANGUAGES = ("de", "fr", "es", "nl")
FIGURES = {"mixing", "film", "drying", "storage", "application", "exposure"}


@pytest.mark.parametrize(
    ("language", "index"), [(lang, i) for lang in LANGUAGES for i in range(len(figure_specs(lang)))]
)
def test_a_figure_s_words_find_their_example_and_no_other(language: str, index: int) -> None:
    spec = figure_specs(language)[index]

    def named(text: str) -> set[str]:
        return {lb.spec.key() for lb in find_labels(fold(text), frozenset({spec.dimension}), language=language)}

    assert spec.key() in named(spec.example)
    assert spec.key() not in named(spec.counter_example)


def test_figures_are_read_with_a_floor() -> None:
    sheets = []
    for gold in GOLD:
        expected, reading = _read(gold)
        wanted = [g for g in expected["claims"] if g["topic"] in FIGURES]
        sheets.append((gold.stem, wanted, [claim_to_json(c) for c in reading.claims]))
    result = score(sheets)
    assert result.recall >= 0.85, result.missed
    assert result.precision >= 0.92, result.invented


@pytest.mark.parametrize("language", LANGUAGES)
def test_cautions_find_their_examples_and_permit_nothing(language: str) -> None:
    specs = load_patterns(language, "exposure")
    assert specs
    for spec in specs:
        assert spec.stance is not Stance.PERMITS
        assert all(list(spec.find(fold(text))) for text in spec.examples), spec.name
        assert not any(list(spec.find(fold(text))) for text in spec.counter_examples), spec.name
