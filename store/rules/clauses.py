"""The conditions of the permissions that carry a yes_if, each with the figure that the same sheet puts to it."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from extract.claims import Claim, Condition, Topic
from store.records import ProductRecord, Rule
from store.rules.answers import Clause, Term
from store.rules.reach import Party, reach


def clauses_of(
    permissions: Sequence[Rule],
    lower: Party,
    upper: Party,
    rules: Iterable[Rule],
    products: Sequence[ProductRecord],
) -> tuple[Clause, ...]:
    """One clause for each sentence that sets conditions.

    Two permissions for the same object out of one sentence are alternatives ('within 72 h, or sanded'); whatever
    stands in different sentences must all be met.
    """
    rules = tuple(rules)
    sentences: dict[tuple[int, str | None, str], list[Rule]] = {}
    for rule in permissions:
        claim = rule.claim
        sentences.setdefault((rule.sheet.sheet_id, claim.object, claim.evidence.quote), []).append(rule)
    clauses: list[Clause] = []
    for found in sentences.values():
        ways = tuple(
            dict.fromkeys(_terms(rule, lower, upper, rules, products) for rule in found if rule.claim.conditions)
        )
        if ways:
            clause = Clause(found[0].sheet, ways)
            if clause not in clauses:
                clauses.append(clause)
    return tuple(clauses)


def _terms(
    rule: Rule, lower: Party, upper: Party, rules: Sequence[Rule], products: Sequence[ProductRecord]
) -> tuple[Term, ...]:
    return tuple(
        Term(condition, rule.claim.via, _detail(condition, rule, lower, upper, rules, products))
        for condition in rule.claim.conditions
    )


def _detail(
    condition: Condition,
    permission: Rule,
    lower: Party,
    upper: Party,
    rules: Sequence[Rule],
    products: Sequence[ProductRecord],
) -> Claim | None:
    """Which grit: the upper sheet's sanding of the lower one, or the lower sheet's of its own film."""
    if condition is not Condition.ABRADED:
        return None
    goes_over = permission.claim.topic is Topic.GOES_OVER
    name, party = ("abrade", lower) if goes_over else ("own_film", upper)
    found = []
    for rule in rules:
        claim = rule.claim
        if rule.sheet.sheet_id != permission.sheet.sheet_id or claim.topic is not Topic.PREPARATION:
            continue
        if claim.property != name or (claim.low is None and claim.high is None and not claim.text):
            continue
        how = reach(rule, party, products, forbidding=False)
        if how is not None and how.certain:
            found.append((rule, how))
    best = [rule for rule, how in found if not any(other.beats(how) for _, other in found)]
    return best[0].claim if best else None
