"""How long a tin is good for, from the confirmed sentences of its product's sheet. Pure."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from extract.claims import Topic
from store.job_records import Component, TinRecord
from store.planning.shelf_life import TinState, state, use_by
from store.records import Rule

_NAMES: dict[Component, re.Pattern[str]] = {
    Component.HARDENER: re.compile(r"\b(hardener|activator|catalyst|curing agent|härter|(component|part) b)\b", re.I),
    Component.THINNER: re.compile(r"\b(thinners?|reducer|verdünner|verdünnung)\b", re.I),
    Component.BASE: re.compile(r"\b(base|binder|paint|filler|stammlack|(component|part) a)\b", re.I),
}
_OPENED = re.compile(r"\b(once|after|when|since|if) open(ed|ing)?\b|^\s*opened\b|\bpart[- ]used\b", re.I)


@dataclass(frozen=True, slots=True)
class TinDates:
    """until is the last good day, None where it is not known; why says from what it counts, or what is missing."""

    until: date | None
    state: TinState
    why: str
    sources: tuple[Rule, ...] = ()


def tin_dates(record: TinRecord, rules: Sequence[Rule], today: date, warn_days: int = 30) -> TinDates:
    """When the tin's life ends. rules may be of any sheets; where several times are said the shortest holds."""
    said = [rule for rule in rules if _is_shelf_life(rule, record)]
    own = [rule for rule in said if _names(rule, record)] or [
        rule for rule in said if _component(rule) is record.tin.component
    ]
    # A time with no component named is for the product itself; a thinner is another product in all but name.
    general = [rule for rule in said if _component(rule) is None and record.tin.component is not Component.THINNER]
    closed = [rule for rule in own if not _is_opened(rule)] or [rule for rule in general if not _is_opened(rule)]
    opened = [rule for rule in own if _is_opened(rule)] or [rule for rule in general if _is_opened(rule)]
    tin = record.tin
    dates = use_by(
        made=tin.made,
        bought=tin.bought,
        opened=tin.opened,
        life_months=_shortest(closed),
        opened_months=_shortest(opened),
    )
    # Only a life once opened is said, and the tin has not been opened yet or nobody noted when.
    why = "no day of opening" if dates.until is None and opened and not closed else dates.why
    return TinDates(dates.until, state(dates.until, today, warn_days), why, (*closed, *opened))


def warnings(
    tins: Sequence[TinRecord], rules: Sequence[Rule], today: date, warn_days: int = 30
) -> tuple[tuple[TinRecord, TinDates], ...]:
    """The tins with anything in them that are past their date or will be within warn_days, the oldest date first."""
    dated = [(record, tin_dates(record, rules, today, warn_days)) for record in tins if record.tin.left > 0]
    due = [(record, dates) for record, dates in dated if dates.state in {TinState.PAST, TinState.SOON}]
    return tuple(sorted(due, key=lambda pair: (pair[1].until or date.max, pair[0].id)))


def _is_shelf_life(rule: Rule, record: TinRecord) -> bool:
    claim = rule.claim
    return (
        rule.sheet.product_id == record.tin.product_id
        and claim.topic is Topic.STORAGE
        and claim.property == "shelf_life"
        and (claim.low is not None or claim.high is not None)
    )


def _names(rule: Rule, record: TinRecord) -> bool:
    """Whether the sentence names this very tin's contents ('12 months for CM-451')."""
    name = record.tin.name.strip()
    words = f"{rule.claim.text or ''} {rule.claim.evidence.quote}"
    return bool(name) and re.search(rf"(?<!\w){re.escape(name)}(?!\w)", words, re.I) is not None


def _component(rule: Rule) -> Component | None:
    """Which component the sentence is about: as its variant says, else where its words name just one."""
    if rule.claim.text:
        return next((component for component, pattern in _NAMES.items() if pattern.search(rule.claim.text)), None)
    named = [component for component, pattern in _NAMES.items() if pattern.search(rule.claim.evidence.quote)]
    return named[0] if len(named) == 1 else None


def _is_opened(rule: Rule) -> bool:
    return _OPENED.search(rule.claim.text or "") is not None


def _shortest(rules: Sequence[Rule]) -> float | None:
    months = [end for rule in rules for end in (rule.claim.low, rule.claim.high) if end is not None]
    return min(months, default=None)
