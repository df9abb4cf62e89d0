"""A build-up checked against the sheets: every contact, what reaches further, times, films, weather, preparation.

The verdict of the whole is the worst of its parts. Nothing here softens a contact's verdict: a finding can only make
the whole worse, or say what was seen to.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from extract.claims import Condition, Stance, Topic
from store.planning.buildup import BADNESS, BuildUp, Checked, Contact, Finding, FindingKind, Layer, Met, worst
from store.planning.buildup_film import film_findings
from store.planning.buildup_sheets import Sheets
from store.planning.buildup_steps import cautions_of, steps_of, undone
from store.planning.buildup_times import cure_finding, prepared_finding, time_findings
from store.planning.buildup_weather import weather_findings
from store.planning.reach_through import reach_findings
from store.rules.answers import Clause, Conditional, Term
from store.rules.reach import Party


def check(build_up: BuildUp, sheets: Sheets) -> Checked:
    """What the sheets say of the build-up. Raises ValueError where there is no layer on another."""
    if len(build_up.layers) < 2:
        raise ValueError("a build-up has two layers at least")
    contacts: list[Contact] = []
    findings: list[Finding] = []
    for index in range(1, len(build_up.layers)):
        contact, found = contact_at(build_up, index, sheets)
        contacts.append(contact)
        findings += found
        of_the_day = day_findings(build_up.layers[index].party, build_up.temperature(index), sheets)
        findings += [replace(found, layer=index) for found in of_the_day]
        prepared = prepared_finding(build_up, index, sheets)
        findings += [prepared] if prepared is not None else []
    steps = steps_of(build_up, sheets)
    findings += [
        *reach_findings(build_up, sheets),
        *film_findings(build_up, sheets),
        *weather_findings(build_up, sheets),
        *undone(steps),
    ]
    findings = sorted(dict.fromkeys(findings), key=lambda found: (-BADNESS[found.word], found.layer, found.kind.value))
    word = worst((*(contact.word for contact in contacts), *(found.word for found in findings)))
    return Checked(build_up, word, tuple(contacts), tuple(findings), steps, cautions_of(build_up, sheets))


def contact_at(build_up: BuildUp, index: int, sheets: Sheets) -> tuple[Contact, list[Finding]]:
    """Layer index on the one below, and what its time, its conditions and the cure below come to."""
    layer, below = build_up.layers[index], build_up.layers[index - 1]
    answer = sheets.answer(below.party, layer.party, build_up.temperature(index))
    clauses = answer.clauses if isinstance(answer, Conditional) else ()
    cured, uncured = cure_finding(build_up, index, answer, sheets)
    met = _met_by(layer, cured)
    keyed = any(_keyed(way) for clause in clauses for way in clause.ways) and layer.abraded is True
    findings = time_findings(build_up, index, answer, sheets, met, keyed)
    timed = _state_of_time(build_up.waited(index), findings)
    met_in_time = _met_by(layer, cured, timed)
    states = tuple(_clause_state(clause, met_in_time) for clause in clauses)
    for clause, state in zip(clauses, states, strict=True):
        if state is not Met.UNMET:
            continue
        unmet = _unmet(clause, met_in_time)
        if uncured is not None and Condition.CURED in unmet:
            findings.append(uncured)
        if unmet - {Condition.WITHIN_WINDOW} - ({Condition.CURED} if uncured is not None else set()):
            sources = tuple(
                rule
                for topic, party in ((Topic.GOES_OVER, layer.party), (Topic.TOPPED_BY, below.party))
                for rule in sheets.said(party, topic)
                if any(rule.id == citation.id for citation in answer.citations)
                and rule.sheet.sheet_id == clause.sheet.sheet_id
                and unmet & set(rule.claim.conditions)
            )
            words = tuple(sorted(condition.value for condition in unmet))
            findings.append(
                Finding(FindingKind.CONDITION_UNMET, "no", index, index - 1, sources, clause=clause, conditions=words)
            )
    return Contact(index, answer, states), findings


def _keyed(way: tuple[Term, ...]) -> bool:
    """A way that the film need only be keyed for, whatever the time."""
    conditions = {term.condition for term in way}
    return Condition.ABRADED in conditions and Condition.WITHIN_WINDOW not in conditions


def _met_by(layer: Layer, cured: Met, timed: Met = Met.OPEN) -> Callable[[Condition], Met]:
    def met(condition: Condition) -> Met:
        if condition is Condition.CLEAN:
            return _told(layer.cleaned)
        if condition is Condition.ABRADED:
            return _told(layer.abraded)
        if condition is Condition.CURED:
            return cured
        return timed if condition is Condition.WITHIN_WINDOW else Met.OPEN

    return met


def _told(done: bool | None) -> Met:
    if done is None:
        return Met.OPEN
    return Met.MET if done else Met.UNMET


def _state_of_time(waited: float | None, findings: list[Finding]) -> Met:
    if waited is None:
        return Met.OPEN
    kinds = {found.kind for found in findings}
    if kinds & {FindingKind.TOO_EARLY, FindingKind.WINDOW_PASSED, FindingKind.WINDOW_KEYED}:
        return Met.UNMET
    return Met.OPEN if FindingKind.TIME_UNSAID in kinds else Met.MET


def _clause_state(clause: Clause, met: Callable[[Condition], Met]) -> Met:
    """Met where one way is met whole; unmet where every way has a term that is not."""
    ways = [_way_state(tuple(term.condition for term in way), met) for way in clause.ways]
    if Met.MET in ways:
        return Met.MET
    return Met.UNMET if all(way is Met.UNMET for way in ways) else Met.OPEN


def _way_state(conditions: tuple[Condition, ...], met: Callable[[Condition], Met]) -> Met:
    states = {met(condition) for condition in conditions}
    if Met.UNMET in states:
        return Met.UNMET
    return Met.OPEN if Met.OPEN in states else Met.MET


def _unmet(clause: Clause, met: Callable[[Condition], Met]) -> set[Condition]:
    return {term.condition for way in clause.ways for term in way if met(term.condition) is Met.UNMET}


def day_findings(party: Party, at_c: float | None, sheets: Sheets) -> list[Finding]:
    """Too cold or too hot to put it on, by its own sheet; layer is 0, for the caller to set."""
    if at_c is None:
        return []
    rules = [
        rule
        for property_ in ("surface_temp", "air_temp")
        for rule in sheets.said(party, Topic.APPLICATION, property_)
        if rule.claim.stance is not Stance.FORBIDS and rule.claim.object is None
    ]
    cold = [rule for rule in rules if rule.claim.low is not None and at_c < rule.claim.low - _READING]
    hot = [rule for rule in rules if rule.claim.high is not None and at_c > rule.claim.high + _READING]
    findings = []
    if cold:
        limit = max(rule.claim.low for rule in cold if rule.claim.low is not None)
        findings.append(Finding(FindingKind.TOO_COLD, "no", 0, None, tuple(cold), at_c, limit, "degC"))
    if hot:
        limit = min(rule.claim.high for rule in hot if rule.claim.high is not None)
        findings.append(Finding(FindingKind.TOO_HOT, "no", 0, None, tuple(hot), at_c, limit, "degC"))
    return findings


_READING = 0.5
"""64 degF is 17.8 degC, thermometers show whole degrees."""
