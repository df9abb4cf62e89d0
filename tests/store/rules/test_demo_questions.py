"""The demo sheets as they were read by hand: every question about them is answered as a careful person would."""

from __future__ import annotations

import json
from functools import cache
from pathlib import Path
from typing import Any

import pytest

from extract.claims import claim_from_json
from store.records import ProductRecord, Rule, SheetRef
from store.rules.names import Unknown, resolve
from store.rules.reach import party_of
from store.rules.verdicts import judge

GOLD = Path(__file__).parents[3] / "fixtures" / "gold"


@cache
def golds() -> tuple[dict[str, Any], ...]:
    return tuple(json.loads(path.read_text("utf-8")) for path in sorted(GOLD.glob("*.gold.json")))


@cache
def shelf(optional: bool) -> tuple[tuple[ProductRecord, ...], tuple[Rule, ...]]:
    """Products and confirmed rules; claims on which careful readers differ are in or out."""
    products, rules = [], []
    for number, gold in enumerate(golds(), 1):
        sheet = gold["sheet"]
        names = (sheet["product"], sheet["maker"], sheet["kind"], sheet["code"])
        products.append(ProductRecord(number, *names))
        for entry in gold["claims"]:
            if optional or not entry.get("optional"):
                whole = {**entry, "evidence": {**entry["evidence"], "boxes": [[0, 0, 1, 1]]}}
                rules.append(Rule(len(rules) + 1, claim_from_json(whole), SheetRef(number, number, *names)))
    return tuple(products), tuple(rules)


QUESTIONS = [question for gold in golds() for question in gold["questions"]]


@pytest.mark.parametrize("optional", [True, False], ids=["all claims", "undisputed claims"])
@pytest.mark.parametrize("question", QUESTIONS, ids=[f"{q['upper']} over {q['lower']}" for q in QUESTIONS])
def test_a_question_about_the_demo_sheets(question: dict[str, str], optional: bool) -> None:
    products, rules = shelf(optional)
    lower, upper = (resolve(question[side], products) for side in ("lower", "upper"))
    assert not isinstance(lower, Unknown)
    assert not isinstance(upper, Unknown)
    answer = judge(party_of(lower), party_of(upper), rules, products=products)
    assert answer.word == question["expect"], question["because"]
