"""Rules that look past the next coat: forbidden anywhere below, isolated by a certain coat, only with certain others.

A plain prohibition is for the direct contact only. One whose sentence says so ('even if isolated', 'anywhere beneath')
holds whatever lies between; the sentences that say so are told by reach_phrases.toml. CARC over lacquer that an alkyd
covers is the case that it is for (TB 43-0242 par. 5-2).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from extract.claims import Condition, Stance, Topic
from store.planning.buildup import BuildUp, Finding, FindingKind
from store.planning.buildup_sheets import Sheets
from store.planning.reach_phrases import ANYWHERE_BELOW, PART_OF_SYSTEM, says
from store.records import Proposal, Rule
from store.rules.answers import Word
from store.rules.reach import Party, Reach, reach, sort_of_object


def reach_findings(build_up: BuildUp, sheets: Sheets) -> list[Finding]:
    """Findings of every pair of layers that do not touch, and of every layer tied to others."""
    parties = [layer.party for layer in build_up.layers]
    findings = []
    for upper in range(2, len(parties)):
        for lower in range(upper - 1):
            found = through(parties, lower, upper, sheets)
            if found is not None:
                findings.append(found)
    for index in range(1, len(parties)):
        findings += _tied(parties, index, sheets)
    return findings


def through(parties: Sequence[Party], lower: int, upper: int, sheets: Sheets) -> Finding | None:
    """What the sheets say of two layers that do not touch; None where they say nothing that reaches so far."""
    forbidding = _forbidding(parties[lower], parties[upper], sheets)
    if forbidding:
        certain = tuple(source for source in forbidding if isinstance(source, Rule))
        word: Word = "no" if certain else "unconfirmed"
        return Finding(FindingKind.REACHES_THROUGH, word, upper, lower, certain or tuple(forbidding))
    return _isolation(parties, lower, upper, sheets)


def _forbidding(lower: Party, upper: Party, sheets: Sheets) -> list[Rule | Proposal]:
    """The sentences that forbid upper anywhere above lower; not those that a more particular permission outdoes."""
    found: list[Rule | Proposal] = []
    for party, other, topic in ((upper, lower, Topic.GOES_OVER), (lower, upper, Topic.TOPPED_BY)):
        said: list[tuple[Rule | Proposal, Reach]] = []
        sources: list[Rule | Proposal] = [*sheets.said(party, topic), *sheets.waiting(party, topic)]
        for source in sources:
            if source.claim.stance is Stance.STATES:
                continue
            how = reach(source, other, sheets.products, forbidding=source.claim.stance is Stance.FORBIDS)
            if how is not None and how.certain:
                said.append((source, how))
        for source, how in said:
            if source.claim.stance is not Stance.FORBIDS or not says(source.claim.evidence.quote, ANYWHERE_BELOW):
                continue
            outdone = any(
                isinstance(other_source, Rule) and other_source.claim.stance is not Stance.FORBIDS and near.beats(how)
                for other_source, near in said
            )
            if not outdone:
                found.append(source)
    return found


def _isolation(parties: Sequence[Party], lower: int, upper: int, sheets: Sheets) -> Finding | None:
    """A permission with another coat between: is the one between the coat that the sheet asks for?"""
    asked: list[Rule] = []
    for party, other, topic in (
        (parties[upper], parties[lower], Topic.GOES_OVER),
        (parties[lower], parties[upper], Topic.TOPPED_BY),
    ):
        asked += [
            rule
            for rule in sheets.said(party, topic)
            if rule.claim.stance is Stance.PERMITS
            and Condition.ISOLATED in rule.claim.conditions
            and sheets.speaks_of(rule, other)
        ]
    if not asked:
        return None
    between = parties[lower + 1 : upper]
    vias = tuple(dict.fromkeys(rule.claim.via for rule in asked if rule.claim.via is not None))
    fits = [
        rule for rule in asked if rule.claim.via is None or any(_is(rule, rule.claim.via, p, sheets) for p in between)
    ]
    if fits:
        return Finding(FindingKind.ISOLATED_AS_SAID, "yes", upper, lower, tuple(fits), via=vias)
    return Finding(FindingKind.ISOLATED_OTHERWISE, "silent", upper, lower, tuple(asked), via=vias)


def _is(rule: Rule, name: str, party: Party, sheets: Sheets) -> bool:
    """True where a coat that a sentence names by the way is the party."""
    return sheets.speaks_of(_about(rule, name), party)


def _about(rule: Rule, name: str) -> Rule:
    return replace(rule, claim=replace(rule.claim, object=name))


def _tied(parties: Sequence[Party], index: int, sheets: Sheets) -> list[Finding]:
    """'Only as part of ...', 'must be put over ...', 'must be coated with ...': is what the sheet names there?"""
    party = parties[index]
    findings = []
    for topic, others in ((Topic.GOES_OVER, parties[:index]), (Topic.TOPPED_BY, parties[index + 1 :])):
        sentences: dict[str, list[Rule]] = {}
        for rule in sheets.said(party, topic):
            claim = rule.claim
            tied = claim.stance is Stance.REQUIRES or (
                claim.stance is Stance.PERMITS and says(claim.evidence.quote, PART_OF_SYSTEM)
            )
            if tied and claim.object is not None:
                sentences.setdefault(claim.evidence.quote, []).append(rule)
        for rules in sentences.values():
            if any(sheets.speaks_of(rule, other) for rule in rules for other in others):
                continue
            if topic is Topic.GOES_OVER and not _about_coats(rules):
                continue
            names = tuple(dict.fromkeys(rule.claim.object for rule in rules if rule.claim.object is not None))
            missing = topic is Topic.TOPPED_BY and not others
            kind = FindingKind.TOPCOAT_MISSING if missing else FindingKind.ONLY_WITH
            findings.append(Finding(kind, "no", index, None, tuple(rules), via=names))
    return findings


def _about_coats(rules: Sequence[Rule]) -> bool:
    """False where the sentence names surfaces: what lies straight below is judged as a contact."""
    return any(sort_of_object(rule.claim.object) == "put_on" for rule in rules)
