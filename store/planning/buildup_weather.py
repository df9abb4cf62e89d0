"""The build-up left open to the weather, stage by stage, and coats that must not stay without one above."""

from __future__ import annotations

from extract.claims import Stance, Topic
from extract.kinds import is_kind_of
from store.planning.buildup import WEEK, BuildUp, Finding, FindingKind
from store.planning.buildup_sheets import Sheets
from store.records import Proposal, Rule
from store.rules.answers import Word
from store.rules.reach import Party


def weather_findings(build_up: BuildUp, sheets: Sheets) -> list[Finding]:
    findings = []
    last = len(build_up.layers) - 1
    for index, layer in enumerate(build_up.layers):
        if layer.weeks_outdoors > 0:
            found = stage(build_up, index, sheets, finished=index == last and is_finish(layer.party))
            if found is not None:
                findings.append(found)
        findings += _needs_topcoat(build_up, index, sheets)
    return findings


def is_finish(party: Party) -> bool:
    """True for a coat meant to be the weather side. A base coat is not: it waits for its clear."""
    kind = party.kind
    return kind is not None and is_kind_of(kind, "topcoat") and not is_kind_of(kind, "topcoat.base")


def stage(build_up: BuildUp, index: int, sheets: Sheets, *, finished: bool = False) -> Finding | None:
    """What becomes of the job standing outdoors with layer index on top; None for a finish that sets no limit."""
    layer = build_up.layers[index]
    minutes = layer.weeks_outdoors * WEEK
    said = standing(layer.party, minutes, index, sheets)
    if said is not None:
        return said
    if finished:
        return None
    needed = sheets.said(layer.party, Topic.EXPOSURE, "topcoat_needed")
    if needed:
        return Finding(FindingKind.OUTDOORS_FORBIDDEN, "no", index, None, tuple(needed), minutes, None, "min")
    below = [lower.party for lower in build_up.layers[1 : index + 1]]
    keeps = [
        rule
        for party in below
        for rule in sheets.said(party, Topic.EXPOSURE, "waterproof")
        if rule.claim.stance is not Stance.FORBIDS
    ]
    porous = [
        rule for rule in sheets.said(layer.party, Topic.EXPOSURE, "waterproof") if rule.claim.stance is Stance.FORBIDS
    ]
    if keeps:
        kind = FindingKind.OUTDOORS_UNSAID
        return Finding(kind, "silent", index, None, (*keeps, *porous), minutes, None, "min")
    if porous:
        return Finding(FindingKind.NO_WATER_BARRIER, "no", index, None, tuple(porous), minutes, None, "min")
    waiting: tuple[Proposal, ...] = (
        *sheets.waiting(layer.party, Topic.EXPOSURE, "outdoors"),
        *sheets.waiting(layer.party, Topic.EXPOSURE, "waterproof"),
    )
    word: Word = "unconfirmed" if waiting else "silent"
    return Finding(FindingKind.NO_WATER_BARRIER, word, index, None, waiting, minutes, None, "min")


def standing(party: Party, minutes: float, index: int, sheets: Sheets) -> Finding | None:
    """What the top coat's own sheet says of standing outdoors so long; None where it gives no time that answers."""
    rules = sheets.said(party, Topic.EXPOSURE, "outdoors")
    never = [rule for rule in rules if rule.claim.stance is Stance.FORBIDS and rule.claim.high is None]
    if never:
        return Finding(FindingKind.OUTDOORS_FORBIDDEN, "no", index, None, tuple(never), minutes, None, "min")
    short = [rule for rule in rules if rule.claim.high is not None and rule.claim.high < minutes]
    if short:
        limit = min(rule.claim.high for rule in short if rule.claim.high is not None)
        return Finding(FindingKind.OUTDOORS_TOO_LONG, "no", index, None, tuple(short), minutes, limit, "min")
    enough = [rule for rule in rules if _reaches(rule, minutes)]
    if not enough:
        return None
    conditions = tuple(dict.fromkeys(condition.value for rule in enough for condition in rule.claim.conditions))
    return Finding(
        FindingKind.OUTDOORS_ALLOWED, "yes_if" if conditions else "yes", index, None, tuple(enough), minutes,
        max((rule.claim.high for rule in enough if rule.claim.high is not None), default=None), "min",
        conditions=conditions,
    )  # fmt: skip


def _reaches(rule: Rule, minutes: float) -> bool:
    claim = rule.claim
    return claim.stance is not Stance.FORBIDS and (
        claim.unlimited or (claim.high is not None and claim.high >= minutes)
    )


def _needs_topcoat(build_up: BuildUp, index: int, sheets: Sheets) -> list[Finding]:
    """'Must be overcoated': by what the sentence names if it names anything, else by any coat."""
    layer = build_up.layers[index]
    above = [upper.party for upper in build_up.layers[index + 1 :]]
    needs = sheets.said(layer.party, Topic.EXPOSURE, "topcoat_needed")
    missing = [
        rule
        for rule in needs
        if rule.claim.stance is not Stance.FORBIDS
        and not any(rule.claim.object is None or sheets.speaks_of(rule, party) for party in above)
    ]
    if not missing:
        return []
    names = tuple(dict.fromkeys(rule.claim.object for rule in missing if rule.claim.object is not None))
    return [Finding(FindingKind.TOPCOAT_MISSING, "no", index, None, tuple(missing), via=names)]
