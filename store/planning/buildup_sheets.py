"""What the sheets say, laid out by product and topic, so that many contacts can be judged quickly."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from extract.claims import Topic
from store.records import OwnRule, ProductRecord, Proposal, Rule, RuleOrigin
from store.rules.answers import Answer
from store.rules.reach import Party, ProductParty, reach
from store.rules.verdicts import judge

_CONTACT = frozenset({Topic.GOES_OVER, Topic.TOPPED_BY, Topic.OVERCOAT_WINDOW, Topic.PREPARATION})
"""What a verdict reads: contacts, their windows, and the grits that put figures to their conditions."""


class Sheets:
    """Rules and proposals by product. Verdicts are judged once and kept: make another one when the library changes."""

    def __init__(
        self,
        rules: Iterable[Rule],
        proposals: Iterable[Proposal] = (),
        own_rules: Iterable[OwnRule] = (),
        products: Sequence[ProductRecord] = (),
    ) -> None:
        self.products = tuple(products)
        self.own_rules = tuple(own_rules)
        self._rules: dict[tuple[int, Topic], list[Rule]] = {}
        self._proposals: dict[tuple[int, Topic], list[Proposal]] = {}
        for rule in sorted(rules, key=lambda rule: (rule.sheet.sheet_id, rule.id)):
            if rule.origin is not RuleOrigin.OWN:
                self._rules.setdefault((rule.sheet.product_id, rule.claim.topic), []).append(rule)
        for proposal in sorted(proposals, key=lambda proposal: (proposal.sheet.sheet_id, proposal.id)):
            self._proposals.setdefault((proposal.sheet.product_id, proposal.claim.topic), []).append(proposal)
        self._answers: dict[tuple[Party, Party, float | None], Answer] = {}

    def said(self, party: Party, topic: Topic, property_: str | None = None) -> list[Rule]:
        """What the party's own sheet says of a topic, confirmed; nothing for a kind, which has no sheet."""
        if not isinstance(party, ProductParty):
            return []
        found = self._rules.get((party.product.id, topic), [])
        return found if property_ is None else [rule for rule in found if rule.claim.property == property_]

    def waiting(self, party: Party, topic: Topic, property_: str | None = None) -> list[Proposal]:
        """The same, not yet confirmed."""
        if not isinstance(party, ProductParty):
            return []
        found = self._proposals.get((party.product.id, topic), [])
        return found if property_ is None else [p for p in found if p.claim.property == property_]

    def answer(self, lower: Party, upper: Party, at_c: float | None = None) -> Answer:
        """May upper go straight onto lower? As store.rules.verdicts.judge has it."""
        key = (lower, upper, at_c)
        known = self._answers.get(key)
        if known is None:
            parties = [lower] if lower == upper else [lower, upper]
            rules = [rule for party in parties for topic in _CONTACT for rule in self.said(party, topic)]
            waiting = [p for party in parties for topic in _CONTACT for p in self.waiting(party, topic)]
            known = judge(lower, upper, rules, waiting, self.own_rules, self.products, at_c)
            self._answers[key] = known
        return known

    def speaks_of(self, source: Rule | Proposal, party: Party, *, forbidding: bool = False) -> bool:
        """True where the sentence's object certainly covers the party."""
        how = reach(source, party, self.products, forbidding=forbidding)
        return how is not None and how.certain
