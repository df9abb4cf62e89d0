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
from store.planning.window_table import WindowRow, read_at
from store.records import Rule
from store.rules.answers import Answer
from store.rules.windows import USUAL_C, by_method, governing_rows

_KINDS = FindingKind


def rows_of(rules: Sequence[Rule]) -> tuple[WindowRow, ...]:
    """Windows as rows of a table, for reading at a temperature and for clocks."""
    return tuple(WindowRow(r.claim.at_c, r.claim.low, r.claim.high, r.claim.unlimited) for r in rules)


def window_rules(answer: Answer, sheets: Sheets) -> tuple[Rule, ...]:
    """The rows that govern this contact, of every temperature; the general ones where no particular one speaks."""
    sources = _sources(answer, sheets)
    return tuple(dict.fromkeys(rule for source in sources for rule in (*source.rules, *source.fallback)))


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
class _Regime:
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
        regimes = _regimes(source, at_c, hottest)
        judged = [_judged(regime, waited, index, at_c, hottest, met) for regime in regimes]
        best = min(judged, key=_nearness)
        if best is None:
            continue
        findings.append(_past_it(best, judged, past, keyed or _seen_to(past, layer)))
    return findings


_ORDER = (_KINDS.WINDOW_CONDITION, _KINDS.TIME_UNSAID, _KINDS.CONDITION_UNMET, _KINDS.WINDOW_PASSED, _KINDS.TOO_EARLY)
"""Which of several windows' findings tells how things stand; one window that is met is enough."""


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


def _regimes(source: _Source, at_c: float | None, hottest: float | None) -> list[_Regime]:
    """Windows by their conditions; an end that one lacks comes from the others, then from the general rows.

    An earliest time without a latest one is no second window: it holds for them all.
    """
    groups: dict[tuple[Condition, ...], list[Rule]] = {}
    for rule in source.rules:
        groups.setdefault(tuple(sorted(rule.claim.conditions)), []).append(rule)
    ended = {
        c: rules for c, rules in groups.items() if any(r.claim.high is not None or r.claim.unlimited for r in rules)
    }
    open_ = [rule for conditions, rules in groups.items() if conditions not in ended for rule in rules]
    chosen = ended or groups
    regimes = []
    for conditions, rules in chosen.items():
        lows = [*_with_low(rules), *_with_low(open_ if ended else ())] or _with_low(source.fallback)
        highs = _with_high(rules) or _with_high(source.fallback)
        low, no_low = _read_low(lows, at_c)
        high, no_high = _read_high(highs, hottest)
        used = tuple(dict.fromkeys((*rules, *lows, *highs)))
        regimes.append(_Regime(conditions, low, high, no_low, no_high, used))
    return regimes


def _with_low(rules: Sequence[Rule]) -> list[Rule]:
    return [rule for rule in rules if rule.claim.low is not None]


def _with_high(rules: Sequence[Rule]) -> list[Rule]:
    return [rule for rule in rules if rule.claim.high is not None or rule.claim.unlimited]


def _read_low(rules: Sequence[Rule], at_c: float | None) -> tuple[float | None, str]:
    if not rules:
        return None, ""
    at = read_at(rows_of(rules), _asked(rules, at_c))
    return at.low, at.no_low if at.low is None else ""


def _read_high(rules: Sequence[Rule], at_c: float | None) -> tuple[float | None, str]:
    """None with a reason where the table ends; None without one where there is no latest time."""
    if not rules:
        return None, ""
    at = read_at(rows_of(rules), _asked(rules, at_c))
    return at.high, "" if at.unlimited or at.high is not None else at.no_high


def _asked(rules: Sequence[Rule], at_c: float | None) -> float:
    """The temperature asked for; where there is none, the sheet's own row nearest to the usual one."""
    if at_c is not None:
        return at_c
    stated = [rule.claim.at_c for rule in rules if rule.claim.at_c is not None]
    return min(stated, key=lambda t: (abs(t - USUAL_C), t), default=USUAL_C)


def _judged(
    regime: _Regime,
    after: float,
    index: int,
    at_c: float | None,
    hottest: float | None,
    met: Callable[[Condition], Met],
) -> Finding | None:
    """None where the wait suits this window."""
    common = {"layer": index, "other": index - 1, "sources": regime.rules, "given": after, "unit": "min"}
    if regime.low is not None and after < regime.low:
        return Finding(_KINDS.TOO_EARLY, "no", allowed=regime.low, at_c=at_c, **common)  # type: ignore[arg-type]
    if regime.high is not None and after > regime.high:
        return Finding(_KINDS.WINDOW_PASSED, "no", allowed=regime.high, at_c=hottest, **common)  # type: ignore[arg-type]
    if regime.no_low or regime.no_high:
        note = "; ".join(dict.fromkeys(reason for reason in (regime.no_low, regime.no_high) if reason))
        return Finding(_KINDS.TIME_UNSAID, "silent", at_c=hottest, note=note, **common)  # type: ignore[arg-type]
    states = {condition: met(condition) for condition in regime.conditions if condition not in _OF_TIME}
    unmet = tuple(condition.value for condition, state in states.items() if state is Met.UNMET)
    if unmet:
        return Finding(_KINDS.CONDITION_UNMET, "no", conditions=unmet, **common)  # type: ignore[arg-type]
    still = tuple(condition.value for condition, state in states.items() if state is Met.OPEN)
    if still:
        return Finding(_KINDS.WINDOW_CONDITION, "yes_if", conditions=still, **common)  # type: ignore[arg-type]
    return None


_OF_TIME = frozenset({Condition.WITHIN_WINDOW})


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
