"""Dry films against the sheets: of one layer, of all coats of a product, of the whole, and of what lies above."""

from __future__ import annotations

from collections.abc import Sequence

from extract.claims import Stance, Topic
from store.planning.buildup import BuildUp, Finding, FindingKind
from store.planning.buildup_sheets import Sheets
from store.planning.reach_phrases import WHOLE_BUILD_UP, least_above, says
from store.records import Rule
from store.rules.reach import ProductParty


def film_findings(build_up: BuildUp, sheets: Sheets) -> list[Finding]:
    findings = []
    for index in range(1, len(build_up.layers)):
        findings += _of_layer(build_up, index, sheets)
        findings += _above(build_up, index, sheets)
    return [*findings, *_totals(build_up, sheets)]


def _of_layer(build_up: BuildUp, index: int, sheets: Sheets) -> list[Finding]:
    """One layer's film against the sheet's. Where the sheet gives the film of one coat and several coats, a film
    between the two is for the painter to see to."""
    layer = build_up.layers[index]
    film = layer.film_um
    if film is None:
        return []
    said = sheets.said(layer.party, Topic.FILM)
    rules = [r for r in said if r.claim.property in {"dry", "layer"} and r.claim.stance is not Stance.FORBIDS]
    coats = max((r.claim.high for r in said if r.claim.property == "coats" and r.claim.high is not None), default=1.0)
    highs = [rule.claim.high for rule in rules if rule.claim.high is not None]
    lows = [rule.claim.low for rule in rules if rule.claim.low is not None]
    if highs and film > max(highs):
        beyond = film > max(highs) * max(coats, 1.0)
        allowed = max(highs) * max(coats, 1.0) if beyond else max(highs)
        sources = tuple(rule for rule in rules if rule.claim.high is not None)
        return [
            Finding(FindingKind.FILM_THICK, "no" if beyond else "yes_if", index, None, sources, film, allowed, "um")
        ]
    if lows and film < min(lows):
        sources = tuple(rule for rule in rules if rule.claim.low is not None)
        return [Finding(FindingKind.FILM_THIN, "yes_if", index, None, sources, film, min(lows), "um")]
    return []


def _totals(build_up: BuildUp, sheets: Sheets) -> list[Finding]:
    """The greatest film of a product's coats together; of the whole build-up where the sentence says so."""
    findings = []
    seen: set[int] = set()
    for index in range(1, len(build_up.layers)):
        party = build_up.layers[index].party
        if not isinstance(party, ProductParty) or party.product.id in seen:
            continue
        seen.add(party.product.id)
        for rule in sheets.said(party, Topic.FILM, "dry_total_max"):
            limit = rule.claim.high if rule.claim.high is not None else rule.claim.low
            if limit is None:
                continue
            whole = says(rule.claim.evidence.quote, WHOLE_BUILD_UP)
            films = [
                layer.film_um
                for layer in build_up.layers
                if layer.film_um is not None and (whole or layer.party == party)
            ]
            if sum(films) > limit:
                findings.append(Finding(FindingKind.TOTAL_FILM, "no", index, None, (rule,), sum(films), limit, "um"))
    return findings


def _above(build_up: BuildUp, index: int, sheets: Sheets) -> list[Finding]:
    """'At least 100 um of topcoat above it.'"""
    party = build_up.layers[index].party
    above = build_up.layers[index + 1 :]
    findings = []
    for rule, least in _covers(sheets, index, build_up):
        of_it = [layer for layer in above if rule.claim.object is None or sheets.speaks_of(rule, layer.party)]
        if rule.claim.topic is Topic.TOPPED_BY and not of_it:
            continue
        films = [layer.film_um for layer in of_it if layer.film_um is not None]
        if sum(films) >= least:
            continue
        unsaid = len(films) < len(of_it)
        kind = FindingKind.COVER_UNSAID if unsaid else FindingKind.COVER_THIN
        given = sum(films) if films or not unsaid else None
        findings.append(Finding(kind, "yes_if" if unsaid else "no", index, None, (rule,), given, least, "um"))
    return findings if isinstance(party, ProductParty) else []


def _covers(sheets: Sheets, index: int, build_up: BuildUp) -> Sequence[tuple[Rule, float]]:
    party = build_up.layers[index].party
    found: dict[str, tuple[Rule, float]] = {}
    for topic in (Topic.TOPPED_BY, Topic.EXPOSURE, Topic.FILM):
        for rule in sheets.said(party, topic):
            claim = rule.claim
            if claim.stance is Stance.FORBIDS:
                continue
            figure = claim.low if topic is Topic.TOPPED_BY and claim.unit == "um" else None
            least = figure if figure is not None else least_above(claim.evidence.quote)
            if least is not None:
                found.setdefault(claim.evidence.quote, (rule, least))
    return tuple(found.values())
