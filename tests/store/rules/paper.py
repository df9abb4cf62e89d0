"""Rules made from a few words, for tests of reasoning: an invented shelf and the sheets that speak of it."""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from datetime import UTC, datetime
from typing import Any

from extract.claims import Claim, Condition, Evidence, Stance, Topic
from store.records import OwnRule, ProductRecord, Proposal, Rule, RuleOrigin, SheetRef
from store.rules.answers import Answer
from store.rules.names import Unknown, resolve
from store.rules.reach import Party, party_of
from store.rules.verdicts import judge

EPOXY = ProductRecord(1, "Granat 12", "Vellmark", "primer.epoxy.2k", "V-1200")
ETCH = ProductRecord(2, "Zahn E", "Vellmark", "primer.etch.1k")
FILLER = ProductRecord(3, "Fugex 300", "Ostmoor", "filler.polyester")
GLASS = ProductRecord(4, "Fugex Glas", "Ostmoor", "filler.glass")
GLOSS = ProductRecord(5, "Lumo DG", "Vellmark", "topcoat.solid.2k")
SURFACER = ProductRecord(6, "NK-310 Plainfield", "Norrkill", "surfacer.2k", "NK-310")
MYSTERY = ProductRecord(7, "Oddment", "Norrkill", None)
SHELF = (EPOXY, ETCH, FILLER, GLASS, GLOSS, SURFACER, MYSTERY)

_numbers = itertools.count(1)


def sheet_of(product: ProductRecord) -> SheetRef:
    return SheetRef(product.id * 10, product.id, product.name, product.maker, product.kind, product.code)


def claim(topic: Topic, object_: str | None, stance: Stance, *conditions: str, quote: str = "", **fields: Any) -> Claim:
    words = quote or f"{stance.value} {topic.value} {object_} {' '.join(conditions)}"
    evidence = Evidence(1, words, ((50.0, 60.0, 200.0, 70.0),))
    property_ = fields.pop("property_", None)
    return Claim(
        topic, property_, stance, evidence, object=object_, conditions=tuple(Condition(c) for c in conditions), **fields
    )


def over(product: ProductRecord, object_: str | None, *conditions: str, **fields: Any) -> Rule:
    """This product's sheet permits putting it onto object_."""
    return rule(product, claim(Topic.GOES_OVER, object_, Stance.PERMITS, *conditions, **fields))


def not_over(product: ProductRecord, object_: str | None, *conditions: str, **fields: Any) -> Rule:
    return rule(product, claim(Topic.GOES_OVER, object_, Stance.FORBIDS, *conditions, **fields))


def topped(product: ProductRecord, object_: str | None, *conditions: str, **fields: Any) -> Rule:
    """This product's sheet permits putting object_ onto it."""
    return rule(product, claim(Topic.TOPPED_BY, object_, Stance.PERMITS, *conditions, **fields))


def not_topped(product: ProductRecord, object_: str | None, **fields: Any) -> Rule:
    return rule(product, claim(Topic.TOPPED_BY, object_, Stance.FORBIDS, **fields))


def window(product: ProductRecord, object_: str | None, low: float | None, high: float | None, **fields: Any) -> Rule:
    """A window in minutes on this product's sheet."""
    made = claim(
        Topic.OVERCOAT_WINDOW, object_, Stance.STATES, property_="window", low=low, high=high, unit="min", **fields
    )
    return rule(product, made)


def rule(product: ProductRecord, made: Claim, origin: RuleOrigin = RuleOrigin.SHEET) -> Rule:
    return Rule(next(_numbers), made, sheet_of(product), origin)


def proposed(made: Rule) -> Proposal:
    """The same sentence before anybody confirmed it."""
    return Proposal(made.id, made.claim, made.sheet)


def own(lower: str, upper: str, *, forbids: bool, words: str = "by the book") -> OwnRule:
    return OwnRule(next(_numbers), lower, upper, forbids, words, "own experience", datetime(2024, 3, 1, tzinfo=UTC))


def party(text: str) -> Party:
    meaning = resolve(text, SHELF)
    assert not isinstance(meaning, Unknown), text
    return party_of(meaning)


def ask(lower: str, upper: str, rules: Sequence[Rule], **more: Any) -> Answer:
    """The answer about two things by their names, SHELF being the whole library."""
    return judge(party(lower), party(upper), rules, products=more.pop("products", SHELF), **more)
