"""What a job asks of a product, and which product meets it by whose sentence. Pure; words are app's."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum

from extract.claims import Stance, Topic
from store.records import ProductRecord, Proposal, Rule
from store.rules.answers import Answer, Conditional, Disputed, Permitted, Prohibited, Unconfirmed
from store.rules.comparison import Material
from store.rules.reach import Party, ProductParty
from store.rules.verdicts import judge


class NeedKind(StrEnum):
    OVER = "over"
    """It goes straight onto `other`: the metal, the old paint, the coat below."""
    UNDER = "under"
    """`other` goes straight onto it: the filler, the topcoat."""
    OUTDOORS = "outdoors"
    """It may stand outdoors without a further coat for `minutes`."""
    WATERPROOF = "waterproof"
    WET_SANDING = "wet_sanding"


@dataclass(frozen=True, slots=True)
class Need:
    """One thing that the job asks. other is set for OVER and UNDER, minutes for OUTDOORS."""

    kind: NeedKind
    other: Party | None = None
    minutes: float | None = None


class Met(StrEnum):
    MET = "met"
    MET_IF = "met_if"
    NOT_MET = "not_met"
    UNSAID = "unsaid"
    UNCONFIRMED = "unconfirmed"


@dataclass(frozen=True, slots=True)
class NeedCell:
    """Whether one product meets a need; sources are the sentences, answer is there for OVER and UNDER."""

    met: Met
    sources: tuple[Rule | Proposal, ...] = ()
    answer: Answer | None = None


@dataclass(frozen=True, slots=True)
class NeedRow:
    need: Need
    cells: tuple[NeedCell, ...]


def needs_met(
    needs: Sequence[Need], products: Sequence[ProductRecord], material: Material, at_c: float | None = None
) -> tuple[NeedRow, ...]:
    """A row for each need; cells[i] belongs to products[i]."""
    return tuple(
        NeedRow(need, tuple(need_cell(need, product, material, at_c) for product in products)) for need in needs
    )


def need_cell(need: Need, product: ProductRecord, material: Material, at_c: float | None = None) -> NeedCell:
    """Whether the product meets the need. Raises ValueError for a need that lacks its other or its minutes."""
    if need.kind in {NeedKind.OVER, NeedKind.UNDER}:
        if need.other is None:
            raise ValueError("a need about a contact names the other side")
        return _contact(need.kind, need.other, product, material, at_c)
    if need.kind is NeedKind.OUTDOORS:
        if need.minutes is None:
            raise ValueError("a need about standing outdoors names a time")
        return _outdoors(need.minutes, product, material)
    return _fact(need.kind.value, product, material)


def _contact(kind: NeedKind, other: Party, product: ProductRecord, material: Material, at_c: float | None) -> NeedCell:
    here = ProductParty(product)
    lower, upper = (other, here) if kind is NeedKind.OVER else (here, other)
    answer = judge(lower, upper, material.rules, material.proposals, material.own_rules, material.products, at_c)
    ids = {citation.id for citation in answer.citations}
    waiting = {citation.id for citation in answer.pending}
    sources: tuple[Rule | Proposal, ...] = (
        *(rule for rule in material.rules if rule.id in ids | waiting),
        *(proposal for proposal in material.proposals if proposal.id in waiting),
    )
    if isinstance(answer, Permitted):
        met = Met.MET
    elif isinstance(answer, Conditional):
        met = Met.MET_IF
    elif isinstance(answer, Prohibited | Disputed):
        met = Met.NOT_MET
    else:
        met = Met.UNCONFIRMED if isinstance(answer, Unconfirmed) else Met.UNSAID
    return NeedCell(met, sources, answer)


def _sources(property_: str, product: ProductRecord, material: Material) -> tuple[list[Rule], list[Rule | Proposal]]:
    def speaks(source: Rule | Proposal) -> bool:
        return source.claim.topic is Topic.EXPOSURE and source.claim.property == property_

    return (
        [rule for rule in material.rules_of(product) if speaks(rule)],
        [proposal for proposal in material.proposals_of(product) if speaks(proposal)],
    )


def _unsaid(waiting: Sequence[Rule | Proposal]) -> NeedCell:
    return NeedCell(Met.UNCONFIRMED, tuple(waiting)) if waiting else NeedCell(Met.UNSAID)


def _outdoors(minutes: float, product: ProductRecord, material: Material) -> NeedCell:
    """Met only where a sheet states a time that is long enough: 'may stand outdoors' with no time is no yes."""
    rules, waiting = _sources("outdoors", product, material)
    against = [
        rule
        for rule in rules
        if rule.claim.stance is Stance.FORBIDS or (rule.claim.high is not None and rule.claim.high < minutes)
    ]
    if against:
        return NeedCell(Met.NOT_MET, tuple(against))
    enough = [
        rule for rule in rules if rule.claim.unlimited or (rule.claim.high is not None and rule.claim.high >= minutes)
    ]
    if enough:
        conditional = any(rule.claim.conditions for rule in enough)
        return NeedCell(Met.MET_IF if conditional else Met.MET, tuple(enough))
    return NeedCell(Met.UNSAID, tuple(rules)) if rules else _unsaid(waiting)


def _fact(property_: str, product: ProductRecord, material: Material) -> NeedCell:
    rules, waiting = _sources(property_, product, material)
    against = [rule for rule in rules if rule.claim.stance is Stance.FORBIDS]
    if against:
        return NeedCell(Met.NOT_MET, tuple(against))
    said = [rule for rule in rules if rule.claim.stance in {Stance.PERMITS, Stance.STATES}]
    if said:
        conditional = any(rule.claim.conditions for rule in said)
        return NeedCell(Met.MET_IF if conditional else Met.MET, tuple(said))
    return _unsaid(waiting)
