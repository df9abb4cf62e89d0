"""Figures of mixing, film, application, drying and storage, case by case."""

from __future__ import annotations

from typing import Any

import pytest

from extract.claims import Claim, Topic
from extract.figures.labels import figure_specs
from extract.figures.methods import ways_in
from extract.figures.reading import read_figures
from extract.finders import application, drying, film, mixing, storage
from extract.sorting import without_doubles
from extract.terms import SubjectNames, Vocabulary
from tests.extract.build import document, statement, table
from tests.extract.finders import cases

CASES = cases.load("figures")
SUBJECT = SubjectNames("Testol 100", (), "primer.epoxy.2k")
TOPICS = {Topic.MIXING, Topic.FILM, Topic.APPLICATION, Topic.DRYING, Topic.STORAGE}


def brief(claim: Claim) -> str:
    out = [f"{claim.topic.value}.{claim.property}"]
    if claim.parts:
        out.append(":".join(f"{p:g}" for p in claim.parts))
    else:
        low = "" if claim.low is None else f"{claim.low:g}"
        high = "" if claim.high is None else f"{claim.high:g}"
        out.append(low if low == high else f"{low}..{high}")
    if claim.at_c is not None:
        out.append(f"@{claim.at_c:g}")
    out += [word for word in (claim.method and claim.method.value, claim.basis) if word]
    return " ".join(out)


def found(*blocks: Any) -> list[Claim]:
    doc = document(*blocks)
    vocabulary = Vocabulary.load("en").bind(doc, SUBJECT)
    claims: list[Claim] = []
    for finder in (mixing, film, application, drying, storage):
        claims += finder.find(doc, SUBJECT, vocabulary)
    return [c for c in without_doubles(claims) if c.property != "method"]


@pytest.mark.parametrize("case", CASES, ids=[cases.name_of(c) for c in CASES])
def test_case(case: dict[str, Any]) -> None:
    claims = found(*cases.blocks_of(case))
    assert sorted(map(brief, claims)) == sorted(case["claims"])
    for claim in claims:
        assert claim.topic in TOPICS
        assert claim.evidence.quote and claim.evidence.boxes
        assert claim.why is not None and 0 < claim.confidence < 1


SPECS = [s for s in figure_specs() if s.topic is not None]


@pytest.mark.parametrize("spec", SPECS, ids=[s.key() for s in SPECS])
def test_each_figure_is_named_by_its_example_and_not_by_its_counter_example(spec: Any) -> None:
    assert spec.key() in {f.spec.key() for f in read_figures(document(statement(spec.example)))}
    assert spec.key() not in {f.spec.key() for f in read_figures(document(statement(spec.counter_example)))}


def test_a_sentence_adds_a_temperature_to_the_table_before_it() -> None:
    times = table(["", "20 °C", "Oven, 60 °C"], [["Sandable", "25 min", "10 min"]], "Drying")
    claims = found(times, statement("At 10 °C reckon with 50 min.", "Drying"))
    assert "drying.sand 50 @10" in map(brief, claims)


def test_a_note_on_all_times_governs_the_table() -> None:
    times = table(["Stage", "Time"], [["Touch dry", "25 min"]], "Drying")
    claims = found(times, statement("All times are given for 23 °C.", "Drying"))
    assert [brief(c) for c in claims] == ["drying.touch 25 @23"]


def test_evidence_of_a_cell_is_its_label_and_its_words() -> None:
    (claim,) = found(table(["Stage", "20 °C"], [["Touch dry", "25 min"]], "Drying"))
    assert claim.evidence.quote == "Touch dry … 25 min … 20 °C"
    assert claim.why is not None
    assert claim.why.cell == "touch dry / 20 °c"


def test_the_variant_tells_two_figures_apart() -> None:
    claims = found(table(["", "Filler", "Sealer"], [["Pot life", "45 min", "90 min"]], "Mixing"))
    assert {(c.low, c.text) for c in claims} == {(45, "Filler"), (90, "Sealer")}


def test_the_cup_is_filed_beside_its_seconds() -> None:
    (claim,) = found(statement("Viscosity 18-20 s DIN 4 mm.", "Mixing"))
    assert claim.text == "DIN 4 mm"


@pytest.mark.parametrize(
    ("text", "ways"),
    [
        ("gravity or airless gun", {("gravity gun", False), ("airless", False)}),
        ("not suitable for brush or roller", {("brush", True), ("roller", True)}),
        ("small parts may be brushed", {("brush", False)}),
        ("remove rust with a wire brush", set()),
    ],
)
def test_ways_of_putting_it_on(text: str, ways: set[tuple[str, bool]]) -> None:
    assert {(w.name, w.forbidden) for w in ways_in(text)} == ways
