"""Whether a coat goes on in its time: the sheet's window, with its conditions, against the time that has gone by.

A sheet may give several windows that differ in their conditions ('5 to 8 h as it is; to 24 h once wiped'): they are
alternatives. The latest time is read at the hottest that the surface was in the wait, the earliest at the
temperature that it had: the rule of UFGS-09971 for recoat windows.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from extract.claims import Condition, Stance, Topic
from store.planning.buildup import BuildUp, Finding, FindingKind, Layer, Met
from store.planning.buildup_sheets import Sheets
from store.records import Rule
from store.rules.answers import Answer
from store.rules.regimes import Regime, read_high, read_low, regimes
from store.rules.window_table import WindowRow, read_at
from store.rules.windows import USUAL_C, by_method, governing_rows

_KINDS = FindingKind


def window_sources(answer: Answer, sheets: Sheets) -> tuple[tuple[Regime, ...], ...]:
    """The windows that govern this contact, for each source that speaks: one of each source's is to be kept."""
    return tuple(regimes(source.rules, source.fallback) for source in _sources(answer, sheets))


@dataclass(frozen=True, slots=True)
class _Source:
    """Rows that one sheet gives, and its more general ones, which fill an end that these lack."""

    rules: tuple[Rule, ...]
    fallback: tuple[Rule, ...] = ()


def _sources(answer: Answer, sheets: Sheets) -> list[_Source]:
    rules = sheets.said(answer.lower, Topic.OVERCOAT_WINDOW)
    carrying = {citation.id for citation in answer.citations if citation.part.value == "permits"}
    contacts = [
        rule
        for party, topic in ((answer.upper, Topic.GOES_OVER), (answer.lower, Topic.TOPPED_BY))
        for rule in sheets.said(party, topic)
        if rule.id in carrying
    ]
    rows = governing_rows(answer.lower, answer.upper, rules, sheets.products, contacts)
    found = []
    if rows.particular:
        found.append(_Source(tuple(by_method(rows.particular)), tuple(by_method(rows.general)) if rows.general else ()))
    if rows.contacts:
        found.append(_Source(tuple(by_method(rows.contacts))))
    return found


@dataclass(frozen=True, slots=True)
class _Read:
    """One window with its conditions, read at the temperatures of the layer. None: the sheet does not say."""

    conditions: tuple[Condition, ...]
    low: float | None
    high: float | None
    no_low: str
    no_high: str
    rules: tuple[Rule, ...]


def time_findings(
    build_up: BuildUp,
    index: int,
    answer: Answer,
    sheets: Sheets,
    met: Callable[[Condition], Met],
    keyed: bool,
) -> list[Finding]:
    """What is wrong, or to be seen to, about the wait before layer index. keyed: a permission for the keyed film
    stands open whatever the time, so that the latest time does not bind."""
    layer = build_up.layers[index]
    waited = build_up.waited(index)
    if waited is None:
        return []
    at_c = build_up.temperature(index)
    hottest = max((t for t in (at_c, layer.hottest_c) if t is not None), default=None)
    past = governing_rows(
        answer.lower, answer.upper, sheets.said(answer.lower, Topic.OVERCOAT_WINDOW), sheets.products
    ).past
    findings = []
    for source in _sources(answer, sheets):
        windows = [_at(regime, at_c, hottest) for regime in regimes(source.rules, source.fallback)]
        judged = [_judged(window, waited, index, at_c, hottest, met) for window in windows]
        best = min(judged, key=_nearness)
        if best is None:
            continue
        findings.append(_past_it(best, judged, past, keyed or _seen_to(past, layer)))
    return findings


_ORDER = (_KINDS.WINDOW_CONDITION, _KINDS.TIME_UNSAID, _KINDS.CONDITION_UNMET, _KINDS.TOO_EARLY, _KINDS.WINDOW_PASSED)
"""Which of several windows' findings tells how things stand; one window that is met is enough. Past one window and
before another it is too early, and no sanding opens the first again."""


def _nearness(found: Finding | None) -> tuple[int, float]:
    """None is best of all; of several that are too early, the one that opens first."""
    if found is None:
        return (-1, 0.0)
    return (_ORDER.index(found.kind), found.allowed or 0.0)


def _seen_to(past: Rule | None, layer: Layer) -> bool:
    """Whether what the sheet asks past the latest time was done: sanding, and what else it words."""
    if past is None or not layer.abraded:
        return False
    graded = past.claim.low is not None or past.claim.high is not None or past.claim.text is None
    return graded or layer.cleaned is True


def _past_it(best: Finding, judged: Sequence[Finding | None], past: Rule | None, keyed: bool) -> Finding:
    """A window passed: what the sheet says to do then, and whether it was done."""
    if best.kind not in {_KINDS.WINDOW_PASSED, _KINDS.CONDITION_UNMET}:
        return best
    every = [found for found in judged if found is not None]
    sources = tuple(dict.fromkeys(rule for found in every for rule in found.sources))
    limits = [found.allowed for found in every if found.kind is _KINDS.WINDOW_PASSED and found.allowed is not None]
    allowed = max(limits) if best.kind is _KINDS.WINDOW_PASSED and limits else best.allowed
    if keyed:
        extra = (past,) if past is not None else ()
        return _with(best, _KINDS.WINDOW_KEYED, (*sources, *extra), allowed, past)
    return _with(best, best.kind, sources, allowed, past)


def _with(
    found: Finding, kind: FindingKind, sources: tuple[Rule | object, ...], allowed: float | None, past: Rule | None
) -> Finding:
    rules = tuple(source for source in sources if isinstance(source, Rule))
    return Finding(
        kind,
        "yes_if" if kind is _KINDS.WINDOW_KEYED else found.word,
        found.layer,
        found.other,
        rules,
        found.given,
        allowed,
        found.unit,
        found.at_c,
        conditions=found.conditions,
        remedy=past,
    )


def _at(regime: Regime, at_c: float | None, hottest: float | None) -> _Read:
    low, no_low = read_low(regime, _asked(regime.lows, at_c))
    high, _, no_high = read_high(regime, _asked(regime.highs, hottest))
    return _Read(regime.conditions, low, high, no_low, no_high, regime.used)


def _asked(rules: Sequence[Rule], at_c: float | None) -> float:
    """The temperature asked for; where there is none, the sheet's own row nearest to the usual one."""
    if at_c is not None:
        return at_c
    stated = [rule.claim.at_c for rule in rules if rule.claim.at_c is not None]
    return min(stated, key=lambda t: (abs(t - USUAL_C), t), default=USUAL_C)


def _judged(
    window: _Read,
    after: float,
    index: int,
    at_c: float | None,
    hottest: float | None,
    met: Callable[[Condition], Met],
) -> Finding | None:
    """None where the wait suits this window."""
    common = {"layer": index, "other": index - 1, "sources": window.rules, "given": after, "unit": "min"}
    if window.low is not None and after < window.low:
        return Finding(_KINDS.TOO_EARLY, "no", allowed=window.low, at_c=at_c, **common)  # type: ignore[arg-type]
    if window.high is not None and after > window.high:
        return Finding(_KINDS.WINDOW_PASSED, "no", allowed=window.high, at_c=hottest, **common)  # type: ignore[arg-type]
    if window.no_low or window.no_high:
        note = "; ".join(dict.fromkeys(reason for reason in (window.no_low, window.no_high) if reason))
        return Finding(_KINDS.TIME_UNSAID, "silent", at_c=hottest, note=note, **common)  # type: ignore[arg-type]
    states = {condition: met(condition) for condition in window.conditions}
    unmet = tuple(condition.value for condition, state in states.items() if state is Met.UNMET)
    if unmet:
        return Finding(_KINDS.CONDITION_UNMET, "no", conditions=unmet, **common)  # type: ignore[arg-type]
    still = tuple(condition.value for condition, state in states.items() if state is Met.OPEN)
    if still:
        return Finding(_KINDS.WINDOW_CONDITION, "yes_if", conditions=still, **common)  # type: ignore[arg-type]
    return None


def cure_finding(build_up: BuildUp, index: int, answer: Answer, sheets: Sheets) -> tuple[Met, Finding | None]:
    """Whether the layer below is cured by its own sheet when layer index goes on."""
    layer = build_up.layers[index]
    waited = build_up.waited(index)
    if layer.cured is not None or waited is None:
        state = Met.OPEN if layer.cured is None else (Met.MET if layer.cured else Met.UNMET)
        return state, None
    said = sheets.said(answer.lower, Topic.DRYING, "cure")
    rules = [rule for rule in by_method(said) if rule.claim.low is not None or rule.claim.high is not None]
    if not rules:
        return Met.OPEN, None
    at_c = build_up.temperature(index)
    rows = tuple(
        WindowRow(r.claim.at_c, r.claim.high if r.claim.high is not None else r.claim.low, None) for r in rules
    )
    needed = read_at(rows, _asked(rules, at_c)).low
    if needed is None:
        return Met.OPEN, None
    if waited >= needed:
        return Met.MET, None
    found = Finding(
        _KINDS.NOT_CURED, "no", index, index - 1, tuple(rules), waited, needed, "min", at_c
    )  # fmt: skip
    return Met.UNMET, found


def prepared_finding(build_up: BuildUp, index: int, sheets: Sheets) -> Finding | None:
    """The surface was prepared longer ago than the sheet of the coat allows."""
    layer = build_up.layers[index]
    waited = build_up.waited(index)
    if waited is None or index != 1:
        return None
    lower = build_up.layers[0].party
    rules = [
        rule
        for rule in sheets.said(layer.party, Topic.PREPARATION, "prime_within")
        if rule.claim.stance is not Stance.FORBIDS and rule.claim.high is not None and sheets.speaks_of(rule, lower)
    ]
    passed = [rule for rule in rules if rule.claim.high is not None and waited > rule.claim.high]
    if not passed:
        return None
    allowed = min(rule.claim.high for rule in passed if rule.claim.high is not None)
    return Finding(
        _KINDS.PREPARED_TOO_LONG_AGO, "no", index, 0, tuple(passed), waited, allowed, "min"
    )  # fmt: skip
