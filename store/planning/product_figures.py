"""What a product's own sheets say of mixing, film and cautions, gathered for the sums that need it.

Only confirmed rules give figures. What still waits to be confirmed is counted, so that a person is told why a field
stays empty although the sheet has words for it.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from extract.claims import Claim, Stance, Topic
from store.records import ProductRecord, Proposal, Rule

_USUAL_C = 20.0

WANTED: Mapping[str, Topic] = {
    "ratio": Topic.MIXING,
    "thinner": Topic.MIXING,
    "pot_life": Topic.MIXING,
    "volume_solids": Topic.FILM,
    "dry": Topic.FILM,
    "wet": Topic.FILM,
    "coats": Topic.FILM,
    "dew_margin": Topic.APPLICATION,
}
"""Properties that are gathered, with the topic that each stands under."""


@dataclass(frozen=True, slots=True)
class Stated:
    """A confirmed figure or ratio with the rule that it rests on."""

    rule: Rule

    @property
    def claim(self) -> Claim:
        return self.rule.claim

    @property
    def careful(self) -> float | None:
        """The end of the range that does no harm where it is taken without thinking; None for a ratio.

        Solids, thinner and pot life: the low end. Film, coats and the margin over the dew point: the high end, for
        too little paint is found out with the gun in the hand.
        """
        claim = self.claim
        if claim.property == "thinner" and claim.stance is Stance.FORBIDS:
            return 0.0
        low, high = claim.low, claim.high
        if claim.property in {"dry", "wet", "coats", "dew_margin"}:
            return high if high is not None else low
        return low if low is not None else high


@dataclass(frozen=True, slots=True)
class ProductFigures:
    """stated: property to its figures, the usual one first; waiting: how many sentences on it nobody has confirmed."""

    product: ProductRecord
    stated: Mapping[str, tuple[Stated, ...]]
    waiting: Mapping[str, int]
    cautions: tuple[Rule, ...] = ()
    cautions_waiting: tuple[Proposal, ...] = ()

    def first(self, name: str) -> Stated | None:
        found = self.stated.get(name, ())
        return found[0] if found else None


def product_figures(
    product: ProductRecord, rules: Iterable[Rule], proposals: Iterable[Proposal] = ()
) -> ProductFigures:
    """The product's own figures; what other products' sheets say is left out."""
    own = [rule for rule in rules if rule.sheet.product_id == product.id]
    open_ = [proposal for proposal in proposals if proposal.sheet.product_id == product.id]
    stated: dict[str, tuple[Stated, ...]] = {}
    waiting: dict[str, int] = {}
    for name, topic in WANTED.items():
        found = [Stated(rule) for rule in own if _tells(rule.claim, name, topic)]
        if found:
            stated[name] = _distinct(sorted(found, key=_unusual))
        count = sum(_tells(proposal.claim, name, topic) for proposal in open_)
        if count:
            waiting[name] = count
    return ProductFigures(
        product,
        stated,
        waiting,
        tuple(rule for rule in own if rule.claim.topic is Topic.SAFETY),
        tuple(proposal for proposal in open_ if proposal.claim.topic is Topic.SAFETY),
    )


def _tells(claim: Claim, name: str, topic: Topic) -> bool:
    if claim.topic is not topic or claim.property != name:
        return False
    if name == "ratio":
        return len(claim.parts) >= 2
    if claim.stance is Stance.FORBIDS:
        return name == "thinner"
    return claim.low is not None or claim.high is not None


def _unusual(stated: Stated) -> tuple[bool, float, bool]:
    """Sorts what holds as it stands before what holds for one case only, and 20 degC before other temperatures."""
    claim = stated.claim
    special = claim.object is not None or claim.method is not None
    return (special, abs((claim.at_c if claim.at_c is not None else _USUAL_C) - _USUAL_C), bool(claim.text))


def _distinct(found: Iterable[Stated]) -> tuple[Stated, ...]:
    kept: dict[tuple[object, ...], Stated] = {}
    for stated in found:
        c = stated.claim
        key = (c.low, c.high, c.parts, c.basis, c.text, c.object, c.at_c, c.method, c.stance)
        kept.setdefault(key, stated)
    return tuple(kept.values())
