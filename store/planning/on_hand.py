"""'What do I have that may go on this?': the products with tins, judged against what is underneath. Pure."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from extract.claims import Topic
from store.job_records import Component, TinRecord
from store.planning.shelf_life import TinState
from store.planning.tin_dates import TinDates, tin_dates
from store.records import ProductRecord
from store.rules.answers import Answer
from store.rules.comparison import Material
from store.rules.reach import Party, ProductParty
from store.rules.verdicts import judge

_ORDER = ("yes", "yes_if", "unconfirmed", "silent", "disputed", "no")
_STATES = (TinState.GOOD, TinState.SOON, TinState.UNKNOWN, TinState.PAST)


@dataclass(frozen=True, slots=True)
class TinOnHand:
    record: TinRecord
    dates: TinDates


@dataclass(frozen=True, slots=True)
class OnHand:
    """A product on the shelf. may is true for yes and yes_if only; missing are components with no usable tin."""

    product: ProductRecord
    answer: Answer
    tins: tuple[TinOnHand, ...]
    missing: tuple[Component, ...] = ()

    @property
    def may(self) -> bool:
        return self.answer.word in {"yes", "yes_if"}


def may_go_on(
    lower: Party, tins: Sequence[TinRecord], material: Material, today: date, at_c: float | None = None
) -> tuple[OnHand, ...]:
    """Every product of which a base tin is not empty, best first: verdict, then missing parts, then shelf life.

    material holds the rules of the products on the shelf and of lower.
    """
    by_product: dict[int, list[TinOnHand]] = {}
    for record in tins:
        if record.tin.left > 0:
            found = TinOnHand(record, tin_dates(record, material.rules, today))
            by_product.setdefault(record.tin.product_id, []).append(found)
    known: Mapping[int, ProductRecord] = {product.id: product for product in material.products}
    out = []
    for product_id, held in by_product.items():
        if product_id not in known or not any(t.record.tin.component is Component.BASE for t in held):
            continue
        product = known[product_id]
        answer = judge(
            lower,
            ProductParty(product),
            material.rules,
            material.proposals,
            material.own_rules,
            material.products,
            at_c,
        )
        out.append(OnHand(product, answer, tuple(held), _missing(product, held, material)))
    return tuple(sorted(out, key=_rank))


def _rank(item: OnHand) -> tuple[int, int, int, str]:
    bases = [t for t in item.tins if t.record.tin.component is Component.BASE]
    best = min(_STATES.index(t.dates.state) for t in bases)
    return (_ORDER.index(item.answer.word), len(item.missing), best, item.product.name.casefold())


def _missing(product: ProductRecord, held: Sequence[TinOnHand], material: Material) -> tuple[Component, ...]:
    """A hardener where the sheet's mixing ratio has a second part and no tin of it stands on the shelf."""
    mixed = any(
        rule.claim.topic is Topic.MIXING and rule.claim.property == "ratio" and len(rule.claim.parts) > 1
        for rule in material.rules_of(product)
    )
    there = {t.record.tin.component for t in held}
    return (Component.HARDENER,) if mixed and Component.HARDENER not in there else ()
