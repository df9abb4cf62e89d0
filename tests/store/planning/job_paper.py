"""Panels and sheets of an invented shelf, as plain values, for tests of what comes next."""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from datetime import UTC, datetime
from typing import Any

from extract.claims import Claim, Condition, Evidence, Stance, Topic
from store.job_records import (
    Coat,
    CoatRecord,
    Layer,
    OutdoorSpell,
    Panel,
    PanelRecord,
    Preparation,
    PreparationRecord,
    SpellRecord,
    Tin,
    TinRecord,
)
from store.records import ProductRecord, Proposal, Rule, SheetRef
from store.rules.comparison import Material

EPOXY = ProductRecord(1, "Granat 12", "Vellmark", "primer.epoxy.2k")
SURFACER = ProductRecord(2, "NK-310 Plainfield", "Norrkill", "surfacer.2k")
FILLER = ProductRecord(3, "Fugex 300", "Ostmoor", "filler.polyester")
GLOSS = ProductRecord(4, "Lumo DG", "Vellmark", "topcoat.solid.2k")
SHELF = (EPOXY, SURFACER, FILLER, GLOSS)

_numbers = itertools.count(1)


def rule(
    product: ProductRecord, topic: Topic, property_: str | None, stance: Stance = Stance.STATES, *conditions: str,
    **fields: Any,
) -> Rule:  # fmt: skip
    object_ = fields.pop("object_", None)
    evidence = Evidence(1, fields.pop("quote", f"{property_} {stance.value} {fields}"), ((50.0, 60.0, 200.0, 70.0),))
    tags = tuple(Condition(c) for c in conditions)
    made = Claim(topic, property_, stance, evidence, object=object_, conditions=tags, **fields)
    sheet = SheetRef(product.id * 10, product.id, product.name, product.maker, product.kind)
    return Rule(next(_numbers), made, sheet)


def window(product: ProductRecord, low: float | None, high: float | None, at_c: float | None = 20.0, **f: Any) -> Rule:
    return rule(product, Topic.OVERCOAT_WINDOW, "window", low=low, high=high, unit="min", at_c=at_c, **f)


def permits(lower: ProductRecord, object_: str, *conditions: str) -> Rule:
    return rule(lower, Topic.TOPPED_BY, None, Stance.PERMITS, *conditions, object_=object_)


def outdoors(product: ProductRecord, stance: Stance = Stance.PERMITS, *conditions: str, **fields: Any) -> Rule:
    return rule(product, Topic.EXPOSURE, "outdoors", stance, *conditions, **fields)


def material(*rules: Rule, proposals: Sequence[Proposal] = ()) -> Material:
    return Material(rules, tuple(proposals), (), SHELF)


def coat(at: datetime, product: ProductRecord = EPOXY, **fields: Any) -> CoatRecord:
    return CoatRecord(next(_numbers), 1, Coat(at, product.id, **fields), product.name)


def panel(
    *coats: CoatRecord,
    plan: Sequence[Layer] = (),
    preparations: Sequence[Preparation] = (),
    spells: Sequence[OutdoorSpell] = (),
    surface: str | None = "surface.steel",
    **fields: Any,
) -> PanelRecord:
    return PanelRecord(
        fields.pop("id", 1),
        Panel(fields.pop("name", "left door"), "blue estate", surface, tuple(plan)),
        datetime(2026, 1, 1, tzinfo=UTC),
        coats=tuple(sorted(coats, key=lambda c: c.coat.at)),
        preparations=tuple(PreparationRecord(next(_numbers), 1, p) for p in preparations),
        spells=tuple(SpellRecord(next(_numbers), 1, s) for s in spells),
        **fields,
    )


def tin(product: ProductRecord, left: float = 500.0, **fields: Any) -> TinRecord:
    record = Tin(product.id, left, **fields)
    return TinRecord(
        next(_numbers), record, product.name, product.maker, product.kind, datetime(2026, 1, 1, tzinfo=UTC)
    )
