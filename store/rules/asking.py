"""One question put to a library: fetches what concerns the two and has it judged."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Protocol

from store.records import OwnRule, ProductRecord, Proposal, Rule
from store.rules.answers import Answer
from store.rules.reach import Party, ProductParty
from store.rules.verdicts import judge


class Source(Protocol):
    """What a question needs of a library; store.library.Library has it."""

    def rules(self, product_ids: Sequence[int] | None = None) -> tuple[Rule, ...]: ...

    def proposals(self, product_ids: Sequence[int] | None = None) -> tuple[Proposal, ...]: ...

    def own_rules(self) -> tuple[OwnRule, ...]: ...

    def products(self) -> tuple[ProductRecord, ...]: ...


def ask(
    source: Source,
    lower: Party,
    upper: Party,
    products: Sequence[ProductRecord] | None = None,
    *,
    at_c: float | None = None,
) -> Answer:
    """May upper go straight onto lower, by what the library holds now? products saves fetching them again.

    Raises what the source raises.
    """
    ids = sorted({party.product.id for party in (lower, upper) if isinstance(party, ProductParty)})
    return judge(
        lower,
        upper,
        source.rules(ids) if ids else (),
        source.proposals(ids) if ids else (),
        source.own_rules(),
        source.products() if products is None else products,
        at_c,
    )
