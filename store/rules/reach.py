"""What a claim's object speaks of, and how particularly.

A named product is more particular than its kind, a kind than its ancestors, ancestors and families than 'anything'.
Of two ancestors the nearer is more particular; an ancestor and a family cannot be told apart.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import IntEnum

from extract.claims import PRODUCT_PREFIX, SELF
from extract.kinds import Sort, ancestors, covers, families_of, is_known, sort_of
from store.records import ProductRecord, Proposal, Rule, RuleOrigin
from store.rules.names import Certainty, KindName, meant_by


@dataclass(frozen=True, slots=True)
class ProductParty:
    """A product that the question names."""

    product: ProductRecord

    @property
    def kind(self) -> str | None:
        """The vocabulary id of what it is; None where its sheet did not say or says what no vocabulary holds."""
        kind = self.product.kind
        return kind if kind is not None and is_known(kind) else None

    @property
    def name(self) -> str:
        return self.product.name


@dataclass(frozen=True, slots=True)
class KindParty:
    """A kind that the question names: no sheet is its own."""

    kind: str

    @property
    def name(self) -> str:
        return self.kind


Party = ProductParty | KindParty


def party_of(meaning: ProductRecord | KindName) -> Party:
    return KindParty(meaning.kind) if isinstance(meaning, KindName) else ProductParty(meaning)


class Level(IntEnum):
    NAMED = 0
    KIND = 1
    WIDER = 2
    ANYTHING = 3


@dataclass(frozen=True, slots=True)
class Reach:
    """How an object came to speak of a party. depth counts steps up the tree, None for a family."""

    level: Level
    depth: int | None = 0
    certain: bool = True

    def beats(self, other: Reach) -> bool:
        """True where this is strictly more particular."""
        if self.level != other.level:
            return self.level < other.level
        if self.level is not Level.WIDER or self.depth is None or other.depth is None:
            return False
        return self.depth < other.depth


def reach(
    source: Rule | Proposal, party: Party, products: Sequence[ProductRecord], *, forbidding: bool
) -> Reach | None:
    """How a claim speaks of party; None where it does not. products is the whole library, to read names against.

    forbidding widens a kind to what a prohibition covers by nature (glass filler under polyester filler).
    """
    object_ = source.claim.object
    if object_ is None:
        return Reach(Level.ANYTHING)
    if object_ == SELF:
        itself = isinstance(party, ProductParty) and party.product.id == source.sheet.product_id
        return Reach(Level.NAMED) if itself else None
    if object_.startswith(PRODUCT_PREFIX):
        return _reach_by_name(object_.removeprefix(PRODUCT_PREFIX), source, party, products)
    kind = party.kind
    if kind is None or not is_known(object_) or not covers(object_, kind, forbidding=forbidding):
        return None
    if object_ == kind:
        return Reach(Level.KIND)
    up = ancestors(kind)
    if object_ in up:
        return Reach(Level.WIDER, up.index(object_) + 1)
    if object_ in families_of(kind):
        return Reach(Level.WIDER, None)
    # Forbidden by nature: it stands between the kind and its parents.
    return Reach(Level.WIDER, 0)


def _reach_by_name(name: str, source: Rule | Proposal, party: Party, products: Sequence[ProductRecord]) -> Reach | None:
    if not isinstance(party, ProductParty):
        return None
    # A name that the user put right themself is the name they meant.
    settled = isinstance(source, Rule) and source.origin is RuleOrigin.CORRECTED
    certainty = meant_by(name, source.sheet, party.product, products, settled=settled)
    if certainty is Certainty.NONE:
        return None
    return Reach(Level.NAMED, certain=certainty is Certainty.CERTAIN)


def sort_of_object(object_: str | None) -> Sort | None:
    """Which of the two sorts an object belongs to: what is found, or what is put on. None for 'anything'."""
    if object_ is None:
        return None
    if object_ == SELF or object_.startswith(PRODUCT_PREFIX):
        return "put_on"
    return sort_of(object_) if is_known(object_) else None


def sort_of_party(party: Party) -> Sort:
    """The sort of what is asked about; a product of unknown kind is something put on."""
    return sort_of(party.kind) if party.kind is not None else "put_on"
