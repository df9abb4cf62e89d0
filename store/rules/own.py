"""The user's own rules: they may tighten an answer, never loosen it."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from extract.kinds import covers
from store.records import OwnRule, ProductRecord
from store.rules.names import Unknown, resolve
from store.rules.reach import Party, ProductParty, party_of


def applying(
    lower: Party, upper: Party, own_rules: Iterable[OwnRule], products: Sequence[ProductRecord]
) -> tuple[OwnRule, ...]:
    """Those of the user's rules that speak of this contact, or of kinds that the two belong to."""
    return tuple(
        rule
        for rule in sorted(own_rules, key=lambda rule: rule.id)
        if _meant(rule.lower, lower, products) and _meant(rule.upper, upper, products)
    )


def _meant(text: str, party: Party, products: Sequence[ProductRecord]) -> bool:
    meaning = resolve(text, products)
    if isinstance(meaning, Unknown):
        return False
    wanted = party_of(meaning)
    if isinstance(wanted, ProductParty):
        return isinstance(party, ProductParty) and party.product.id == wanted.product.id
    return party.kind is not None and covers(wanted.kind, party.kind, forbidding=True)
