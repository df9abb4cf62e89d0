"""Which window governs the next coat, at a temperature.

The window of the lower product's sheet for the coat in question: one for a named product before one for its kind,
a kind before its ancestors and families, any of them before a general one. Never read beyond the table: between
two rows the longer earliest and the shorter latest time hold, for a straight line between two latest times
promises more than the film does.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from extract.claims import Method, Stance, Topic
from store.records import ProductRecord, Rule, RuleOrigin
from store.rules.answers import Reading, Window
from store.rules.reach import Party, ProductParty, Reach, reach

USUAL_C = 20.0
"""Where no temperature is asked for, the row nearest to this one is shown as it stands."""

_SAME_C = 0.5
"""Rows are printed in whole degrees of one scale: 70 degF is 21.1 degC."""


def governing_window(
    lower: Party,
    upper: Party,
    rules: Iterable[Rule],
    products: Sequence[ProductRecord],
    at_c: float | None = None,
    contacts: Sequence[Rule] = (),
) -> Window | None:
    """The window for upper on lower at at_c (degC), or None where no sheet gives one.

    rules are confirmed rules of any sheets; contacts are the permissions that carry the verdict, whose own figures
    count too. Where two sources speak, the longer earliest and the shorter latest time hold.
    """
    governing = governing_rows(lower, upper, rules, products, contacts)
    particular, general, timed_contacts = governing.particular, governing.general, governing.contacts
    if not particular and not timed_contacts:
        return None
    sources = [source for source in (particular, timed_contacts) if source]
    window = _strictest([_read(by_method(source), at_c) for source in sources])
    if general and particular and window.reading is not Reading.OUTSIDE:
        window = _filled(window, _read(by_method(general), at_c))
    return replace(window, past=governing.past)


@dataclass(frozen=True, slots=True)
class GoverningRows:
    """The window rows that have a say in a contact, of every temperature and method.

    particular are the most particular of the lower sheet, general its others, contacts the permissions that carry
    figures of their own, past what to do when the latest time has gone by.
    """

    particular: tuple[Rule, ...]
    general: tuple[Rule, ...]
    contacts: tuple[Rule, ...]
    past: Rule | None


def governing_rows(
    lower: Party,
    upper: Party,
    rules: Iterable[Rule],
    products: Sequence[ProductRecord],
    contacts: Sequence[Rule] = (),
) -> GoverningRows:
    """Which rows governing_window reads; same arguments."""
    own_sheet = [
        rule
        for rule in rules
        if isinstance(lower, ProductParty)
        and rule.sheet.product_id == lower.product.id
        and rule.origin is not RuleOrigin.OWN
        and rule.claim.topic is Topic.OVERCOAT_WINDOW
    ]
    reached = _reached(own_sheet, upper, products)
    times = [(rule, how) for rule, how in reached if rule.claim.property == "window"]
    particular = tuple(rule for rule, how in times if not any(other.beats(how) for _, other in times))
    general = tuple(rule for rule, _ in times if rule not in particular)
    timed_contacts = tuple(rule for rule in contacts if rule.claim.unit == "min" and _has_times(rule))
    return GoverningRows(particular, general, timed_contacts, _past(reached))


def _reached(rules: Iterable[Rule], upper: Party, products: Sequence[ProductRecord]) -> list[tuple[Rule, Reach]]:
    found = []
    for rule in rules:
        how = reach(rule, upper, products, forbidding=False)
        if how is not None and how.certain and rule.claim.stance is not Stance.FORBIDS:
            found.append((rule, how))
    return found


def _has_times(rule: Rule) -> bool:
    return rule.claim.low is not None or rule.claim.high is not None or rule.claim.unlimited


def by_method(rules: Sequence[Rule]) -> list[Rule]:
    """Air drying where the sheet gives it; a wet-on-wet, oven or lamp regime only where nothing else is given."""
    for methods in ((None, Method.AIR), (Method.WET_ON_WET,), (Method.FORCE,), (Method.IR,)):
        kept = [rule for rule in rules if rule.claim.method in methods]
        if kept:
            return kept
    return list(rules)


@dataclass(frozen=True, slots=True)
class _Row:
    """What the sheet says at one temperature, the stricter of doubles."""

    low: float | None
    high: float | None
    unlimited: bool
    rules: tuple[Rule, ...]


def _row(rules: Sequence[Rule]) -> _Row:
    lows = [rule.claim.low for rule in rules if rule.claim.low is not None]
    highs = [rule.claim.high for rule in rules if rule.claim.high is not None]
    unlimited = not highs and any(rule.claim.unlimited for rule in rules)
    return _Row(max(lows, default=None), min(highs, default=None), unlimited, tuple(rules))


def _read(rules: Sequence[Rule], at_c: float | None) -> Window:
    """One source's window at a temperature; rules are not empty."""
    loose = [rule for rule in rules if rule.claim.at_c is None]
    table: dict[float, list[Rule]] = {}
    for rule in rules:
        if rule.claim.at_c is not None:
            table.setdefault(rule.claim.at_c, []).append(rule)
    stated = tuple(sorted(table))
    if not stated:
        return _window(_row(loose), None, Reading.UNTEMPERED, ())
    rows = {temperature: _row(found) for temperature, found in table.items()}
    window = _from_table(rows, stated, at_c)
    if loose and window.reading is not Reading.OUTSIDE:
        window = _filled(window, _window(_row(loose), None, Reading.UNTEMPERED, ()))
    return window


def _from_table(rows: dict[float, _Row], stated: tuple[float, ...], at_c: float | None) -> Window:
    if at_c is None:
        nearest = min(stated, key=lambda temperature: (abs(temperature - USUAL_C), temperature))
        return _window(rows[nearest], nearest, Reading.STATED, stated)
    same = [temperature for temperature in stated if abs(temperature - at_c) <= _SAME_C]
    if same:
        nearest = min(same, key=lambda temperature: abs(temperature - at_c))
        return _window(rows[nearest], at_c, Reading.STATED, stated)
    below = [temperature for temperature in stated if temperature < at_c]
    above = [temperature for temperature in stated if temperature > at_c]
    if not below or not above:
        every = tuple(rule for temperature in stated for rule in rows[temperature].rules)
        return Window(None, None, False, at_c, Reading.OUTSIDE, stated, every)
    cold, hot = rows[below[-1]], rows[above[0]]
    low = max(cold.low, hot.low) if cold.low is not None and hot.low is not None else None
    between = _Row(low, _shorter(cold, hot), cold.unlimited and hot.unlimited, cold.rules + hot.rules)
    return _window(between, at_c, Reading.BETWEEN, stated)


def _shorter(cold: _Row, hot: _Row) -> float | None:
    """The shorter latest time of two rows; None where one of them says nothing of a latest time."""
    if cold.high is not None and hot.high is not None:
        return min(cold.high, hot.high)
    if cold.unlimited:
        return hot.high
    return cold.high if hot.unlimited else None


def _window(row: _Row, at_c: float | None, reading: Reading, stated: tuple[float, ...]) -> Window:
    conditions = tuple(dict.fromkeys(condition for rule in row.rules for condition in rule.claim.conditions))
    return Window(row.low, row.high, row.unlimited, at_c, reading, stated, row.rules, conditions)


def _filled(window: Window, wider: Window) -> Window:
    """window with an end that it lacks taken from a more general one of the same sheet."""
    if wider.reading is Reading.OUTSIDE:
        return window
    low = wider.low if window.low is None else window.low
    high, unlimited = window.high, window.unlimited
    if high is None and not unlimited:
        high, unlimited = wider.high, wider.unlimited
    if (low, high, unlimited) == (window.low, window.high, window.unlimited):
        return window
    citations = tuple(dict.fromkeys(window.citations + wider.citations))
    return replace(window, low=low, high=high, unlimited=unlimited, citations=citations)


def _strictest(windows: Sequence[Window]) -> Window:
    """Of two sheets that speak: the longer earliest, the shorter latest; outside one table is outside altogether."""
    if len(windows) == 1:
        return windows[0]
    first = next((w for w in windows if w.reading is Reading.OUTSIDE), windows[0])
    citations = tuple(dict.fromkeys(rule for window in windows for rule in window.citations))
    if first.reading is Reading.OUTSIDE:
        return Window(None, None, False, first.at_c, Reading.OUTSIDE, first.stated, citations)
    lows = [w.low for w in windows if w.low is not None]
    highs = [w.high for w in windows if w.high is not None]
    return Window(
        max(lows, default=None),
        min(highs, default=None),
        not highs and all(w.unlimited for w in windows),
        next((w.at_c for w in windows if w.at_c is not None), None),
        first.reading,
        first.stated,
        citations,
        tuple(dict.fromkeys(condition for w in windows for condition in w.conditions)),
    )


def _past(reached: Sequence[tuple[Rule, Reach]]) -> Rule | None:
    """What to do past the latest time, by the most particular sentence that says it."""
    said = [(rule, how) for rule, how in reached if rule.claim.property == "abrade_after"]
    return next((rule for rule, how in said if not any(other.beats(how) for _, other in said)), None)
