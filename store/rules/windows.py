"""Which windows govern the next coat, at a temperature.

The window of the lower product's sheet for the coat in question: one for a named product before one for its kind,
a kind before its ancestors and families, any of them before a general one. A sheet may give several ('within 1 h or
after 48 h'); each is kept. Never read beyond the table: between two rows the longer earliest and the shorter latest
time hold; colder than the table only its latest time, hotter only its earliest.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from extract.claims import Claim, Condition, Method, Stance, Topic
from store.records import ProductRecord, Rule, RuleOrigin
from store.rules.answers import Reading, Window
from store.rules.reach import Party, ProductParty, Reach, reach
from store.rules.regimes import Regime, read_high, read_low, regimes
from store.rules.window_table import SAME_C

USUAL_C = 20.0
"""Where no temperature is asked for, the row nearest to this one is shown as it stands."""


def governing_window(
    lower: Party,
    upper: Party,
    rules: Iterable[Rule],
    products: Sequence[ProductRecord],
    at_c: float | None = None,
    contacts: Sequence[Rule] = (),
) -> Window | None:
    """The window for upper on lower at at_c (degC), further ones in its `also`; None where no sheet gives one.

    rules are confirmed rules of any sheets; contacts are the permissions that carry the verdict, whose own figures
    count too. Where two sources speak, the longer earliest and the shorter latest time hold.
    """
    governing = governing_rows(lower, upper, rules, products, contacts)
    sources = [source for source in (governing.particular, governing.contacts) if source]
    if not sources:
        return None
    windows: list[Window] = []
    for rows in sources:
        general = by_method(governing.general) if rows is governing.particular and governing.general else ()
        said = [_read(regime, at_c) for regime in regimes(by_method(rows), general)]
        windows = _both(windows, said) if windows else said
    first, *others = _kept(windows)
    return replace(first, past=governing.past, also=tuple(replace(other, past=governing.past) for other in others))


def _both(first: Sequence[Window], second: Sequence[Window]) -> list[Window]:
    """What suits two sources: every window of the one with every window of the other."""
    return [_strictest(one, other) for one in first for other in second]


def _kept(windows: Sequence[Window]) -> list[Window]:
    """Those with a moment in them, the one with the fewest conditions first, then the earlier; one at the least."""
    open_ = [window for window in dict.fromkeys(windows) if not window.closed] or list(windows[:1])
    return sorted(open_, key=lambda window: (len(window.conditions), window.low or 0.0))


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
    """Air drying where the sheet gives it; a wet-on-wet, oven or lamp regime only where nothing else is given.

    Rows of a hot yard stand beside those of a shop in one table, and are called forced drying all the same.
    """
    for methods in ((None, Method.AIR), (Method.WET_ON_WET,), (Method.FORCE,), (Method.IR,)):
        kept = [rule for rule in rules if rule.claim.method in methods]
        if kept:
            return [rule for rule in rules if rule in kept or (None in methods and _is_of_a_hot_yard(rule.claim))]
    return list(rules)


_HOT_YARD_C = 50.0
"""Up to this temperature in degC steel stands in the sun; above it there is an oven or a lamp."""


def _is_of_a_hot_yard(claim: Claim) -> bool:
    return claim.method is Method.FORCE and claim.at_c is not None and claim.at_c <= _HOT_YARD_C


def _read(regime: Regime, at_c: float | None) -> Window:
    """One window at a temperature."""
    stated = tuple(sorted({rule.claim.at_c for rule in regime.used if rule.claim.at_c is not None}))
    if at_c is None:
        asked = min(stated, key=lambda temperature: (abs(temperature - USUAL_C), temperature), default=USUAL_C)
    else:
        asked = at_c
    low, no_low = read_low(regime, asked)
    high, unlimited, no_high = read_high(regime, asked)
    reading = _reading(stated, asked)
    return Window(
        low,
        high,
        unlimited,
        None if reading is Reading.UNTEMPERED else asked,
        reading,
        stated,
        _rows_at(regime, stated, asked, reading),
        regime.conditions,
        no_low=no_low,
        no_high=no_high,
    )


def _reading(stated: Sequence[float], at_c: float) -> Reading:
    if not stated:
        return Reading.UNTEMPERED
    if any(abs(temperature - at_c) <= SAME_C for temperature in stated):
        return Reading.STATED
    return Reading.BETWEEN if stated[0] < at_c < stated[-1] else Reading.OUTSIDE


def _rows_at(regime: Regime, stated: Sequence[float], at_c: float, reading: Reading) -> tuple[Rule, ...]:
    """The rules that a reading rests on: those of its row or its two rows, and those that name no temperature."""
    if reading in {Reading.UNTEMPERED, Reading.OUTSIDE}:
        return regime.used
    if reading is Reading.STATED:
        near = {min(stated, key=lambda temperature: abs(temperature - at_c))}
    else:
        near = {max(t for t in stated if t < at_c), min(t for t in stated if t > at_c)}
    return tuple(rule for rule in regime.used if rule.claim.at_c is None or rule.claim.at_c in near)


def _strictest(one: Window, other: Window) -> Window:
    """Of two sheets that speak: the longer earliest, the shorter latest; an end that one cannot tell is unknown."""
    windows = (one, other)
    no_low = next((w.no_low for w in windows if w.no_low), "")
    no_high = next((w.no_high for w in windows if w.no_high), "")
    lows = [w.low for w in windows if w.low is not None]
    highs = [w.high for w in windows if w.high is not None]
    by_reading = next((w for w in windows if w.reading is Reading.OUTSIDE), one)
    return Window(
        None if no_low else max(lows, default=None),
        None if no_high else min(highs, default=None),
        not highs and not no_high and all(w.unlimited for w in windows),
        next((w.at_c for w in windows if w.at_c is not None), None),
        by_reading.reading,
        by_reading.stated,
        tuple(dict.fromkeys((*one.citations, *other.citations))),
        tuple(dict.fromkeys((*one.conditions, *other.conditions))),
        no_low=no_low,
        no_high=no_high,
    )


def is_washing(past: Claim) -> bool:
    """Whether what a sheet asks past the latest time is to wash or wipe, with nothing sanded: sanding is not it."""
    return Condition.CLEAN in past.conditions and past.low is None and past.high is None


def _past(reached: Sequence[tuple[Rule, Reach]]) -> Rule | None:
    """What to do past the latest time, by the most particular sentence that says it."""
    said = [(rule, how) for rule, how in reached if rule.claim.property == "abrade_after"]
    return next((rule for rule, how in said if not any(other.beats(how) for _, other in said)), None)
