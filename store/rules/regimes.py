"""The windows that a sheet gives for one coat, taken apart: 'within 1 h, or after 48 h' are two, and so are '5 to 8 h
as it is; to 24 h once wiped'.

Run together they would be one that opens after it has closed. They are taken apart only where the sheet leaves no
other reading: where one sentence gives an end and then a beginning that lies after it, or where sentences set
different conditions. Otherwise ends that cannot both be kept stay together, and no moment suits them.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from extract.claims import Condition
from store.records import Rule
from store.rules.window_table import SAME_C, WindowAt, WindowRow, read_at


@dataclass(frozen=True, slots=True)
class Regime:
    """One window of a source. lows and highs are the rows, of every temperature, that give its two ends; rules are
    those that make the window what it is."""

    conditions: tuple[Condition, ...]
    rules: tuple[Rule, ...]
    lows: tuple[Rule, ...]
    highs: tuple[Rule, ...]

    @property
    def used(self) -> tuple[Rule, ...]:
        return tuple(dict.fromkeys((*self.rules, *self.lows, *self.highs)))


def regimes(rules: Sequence[Rule], fallback: Sequence[Rule] = ()) -> tuple[Regime, ...]:
    """The windows of one source's rows of one method, the earlier first. An end that the rules do not speak of at all
    comes from fallback.

    An earliest time without a latest one is no window of its own, unless it lies after another's end: it holds for
    all of them.
    """
    places = _places(rules)
    groups: dict[tuple[int, tuple[Condition, ...]], list[Rule]] = {}
    for rule in rules:
        groups.setdefault((places[rule.id], _conditions(rule)), []).append(rule)
    closed = {key: found for key, found in groups.items() if key[0] > 0 or _with_high(found)}
    open_ = [rule for key, found in groups.items() if key not in closed for rule in found] if closed else []
    made = []
    for (_, conditions), found in (closed or groups).items():
        lows = (*_with_low(found), *_with_low(open_)) or _with_low(fallback)
        highs = _with_high(found) or _with_high(fallback)
        made.append(Regime(conditions, tuple(found), lows, highs))
    return tuple(sorted(made, key=_begins))


def rows_of(rules: Sequence[Rule]) -> tuple[WindowRow, ...]:
    """Windows as rows of a table, for reading at a temperature and for clocks; those without a temperature only where
    no row names one."""
    rows = [WindowRow(r.claim.at_c, r.claim.low, r.claim.high, r.claim.unlimited) for r in rules]
    return tuple([row for row in rows if row.at_c is not None] or rows)


def read_low(regime: Regime, at_c: float) -> tuple[float | None, str]:
    """The earliest time at degC, or None and why the table does not give it; no reason where no row speaks of one."""
    if not regime.lows:
        return None, ""
    at = _read(regime.lows, at_c)
    return at.low, at.no_low


def read_high(regime: Regime, at_c: float) -> tuple[float | None, bool, str]:
    """The same for the latest time, and whether there is said to be none."""
    if not regime.highs:
        return None, False, ""
    at = _read(regime.highs, at_c)
    return at.high, at.unlimited, at.no_high


def _read(rules: Sequence[Rule], at_c: float) -> WindowAt:
    return read_at(rows_of(rules), at_c)


def _conditions(rule: Rule) -> tuple[Condition, ...]:
    """Those that the window sets; that it is to be kept within goes without saying."""
    return tuple(sorted(set(rule.claim.conditions) - {Condition.WITHIN_WINDOW}))


def _with_low(rules: Sequence[Rule]) -> tuple[Rule, ...]:
    return tuple(rule for rule in rules if rule.claim.low is not None)


def _with_high(rules: Sequence[Rule]) -> tuple[Rule, ...]:
    return tuple(rule for rule in rules if rule.claim.high is not None or rule.claim.unlimited)


def _begins(regime: Regime) -> tuple[float, float]:
    """Where a window stands among the others: by the shortest of its earliest times, then by its end."""
    lows = [rule.claim.low for rule in regime.lows if rule.claim.low is not None]
    highs = [rule.claim.high for rule in regime.highs if rule.claim.high is not None]
    return min(lows, default=0.0), min(highs, default=float("inf"))


def _places(rules: Sequence[Rule]) -> dict[int, int]:
    """By id: 0 for rows of a first window, 1 for those of one that opens after it has closed, and so on."""
    places = {rule.id: 0 for rule in rules}
    for rule in sorted(_with_low(rules), key=lambda rule: rule.claim.low or 0.0):
        before = [places[other.id] + 1 for other in rules if other is not rule and _closes_before(other, rule)]
        places[rule.id] = max(before, default=0)
    return places


def _closes_before(other: Rule, rule: Rule) -> bool:
    end, begin = other.claim.high, rule.claim.low
    if end is None or begin is None or not _same_row(other, rule):
        return False
    if _conditions(other) != _conditions(rule):
        return end <= begin
    return end < begin and _one_sentence(other, rule)


def _same_row(one: Rule, other: Rule) -> bool:
    if one.sheet.sheet_id != other.sheet.sheet_id or one.claim.object != other.claim.object:
        return False
    a, b = one.claim.at_c, other.claim.at_c
    return a == b if a is None or b is None else abs(a - b) <= SAME_C


def _one_sentence(one: Rule, other: Rule) -> bool:
    a, b = one.claim.evidence, other.claim.evidence
    words, others = " ".join(a.quote.split()), " ".join(b.quote.split())
    return a.page == b.page and (words in others or others in words)
