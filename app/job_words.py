"""Panels, tins and what falls due, as a painter says them. No Qt: the command line and the window both use it."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime, timedelta, tzinfo

from app.figure_words import date_words, duration_words, number_words, range_words
from app.verdict_words import party_words
from store.job_records import ChangeKind, ChangeRecord, Component, Tin
from store.planning.due import DueItem, DueKind
from store.planning.next_steps import Step, StepKind, Timing
from store.planning.on_hand import OnHand
from store.planning.outdoors import Bare, BareState
from store.planning.shelf_life import TinState
from store.planning.tin_dates import TinDates
from store.records import Proposal, Rule

_DAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")

_STAGES: Mapping[str, str] = {
    "handle": "May be handled",
    "sand": "May be sanded",
    "hard": "Hard",
    "cure": "Fully cured",
    "return_to_service": "Back in service",
}

_COMPONENTS: Mapping[Component, str] = {
    Component.BASE: "base",
    Component.HARDENER: "hardener",
    Component.THINNER: "thinner",
}

_CHANGES: Mapping[ChangeKind, str] = {
    ChangeKind.PANEL_ADDED: "new panel {0}",
    ChangeKind.PANEL_CHANGED: "changes to {0}",
    ChangeKind.PANEL_FINISHED: "{0} finished",
    ChangeKind.PANEL_REOPENED: "{0} in work again",
    ChangeKind.PANEL_REMOVED: "{0} removed",
    ChangeKind.PANEL_RESTORED: "{0} put back",
    ChangeKind.COAT_LOGGED: "coat on {0}",
    ChangeKind.COAT_CHANGED: "changed coat on {0}",
    ChangeKind.COAT_REMOVED: "removed coat on {0}",
    ChangeKind.PREPARATION_LOGGED: "preparation of {0}",
    ChangeKind.PREPARATION_CHANGED: "changed preparation of {0}",
    ChangeKind.PREPARATION_REMOVED: "removed preparation of {0}",
    ChangeKind.PUT_OUTDOORS: "{0} put outdoors",
    ChangeKind.TAKEN_IN: "{0} taken in",
    ChangeKind.SPELL_CHANGED: "changed time outdoors of {0}",
    ChangeKind.SPELL_REMOVED: "removed time outdoors of {0}",
    ChangeKind.TIN_ADDED: "new tin of {0}",
    ChangeKind.TIN_CHANGED: "changes to a tin of {0}",
    ChangeKind.TIN_REMOVED: "removed tin of {0}",
    ChangeKind.TIN_RESTORED: "tin of {0} put back",
    ChangeKind.SHEET_REMOVED: "removed sheet of {0}",
    ChangeKind.SHEET_RESTORED: "sheet of {0} put back",
}


def change_words(change: ChangeRecord) -> str:
    """For the undo menu: 'coat on left door'."""
    return _CHANGES[change.kind].format(change.subject)


def moment_words(at: datetime, zone: tzinfo | None = None) -> str:
    """'Mon 30 March 2026, 14:05' by the clock of zone; None is this machine's."""
    local = at.astimezone(zone)
    return f"{_DAYS[local.weekday()]} {date_words(local.date().isoformat())}, {local:%H:%M}"


def span_words(span: timedelta) -> str:
    return duration_words(round(span / timedelta(minutes=1)))


def step_name(step: Step) -> str:
    """What the step is: 'Fugex 300', 'a further coat of Granat 12', 'May be sanded'."""
    if step.kind is StepKind.STAGE:
        return _STAGES[step.property or ""]
    if step.kind is StepKind.ANY or step.upper is None:
        return "the next coat"
    name = party_words(step.upper)
    return f"a further coat of {name}" if step.kind is StepKind.FURTHER else name


def step_words(step: Step, zone: tzinfo | None = None) -> str:
    """When the step may happen, in one sentence; what is unknown is said to be."""
    name = _capital(step_name(step))
    found = step.moments
    if step.kind is StepKind.STAGE:
        when = f"from {moment_words(found.earliest, zone)}" if found.earliest else f"not known: {found.no_earliest}"
        return f"{name} {when}."
    if step.kind is StepKind.FIRST:
        if found.latest is None:
            return f"{name} goes on first; {found.no_latest}."
        return f"{name} goes on first, by {moment_words(found.latest, zone)}."
    if step.timing is Timing.NEVER:
        return f"{name}: at these temperatures the sheet's earliest time lies after its latest."
    if step.timing is Timing.REOPENED:
        return f"{name}: the latest time has passed; it was abraded since, as the sheet says."
    if step.timing is Timing.PASSED and found.latest is not None:
        return f"{name}: the latest time was {moment_words(found.latest, zone)}. {past_words(step)}"
    earliest = (
        f"from {moment_words(found.earliest, zone)}" if found.earliest else f"earliest not known, {found.no_earliest}"
    )
    if found.latest is not None:
        latest = f"until {moment_words(found.latest, zone)}"
    else:
        latest = "with no latest time" if found.unlimited else f"latest not known, {found.no_latest}"
    return f"{name} {earliest}; {latest}."


def past_words(step: Step) -> str:
    """What to do once the latest has passed, and what was done."""
    if step.past is None:
        return "What to do then, the sheet doesn't say: ask the maker."
    figure = range_words(step.past.claim.low, step.past.claim.high, step.past.claim.unit)
    words = f"Abrade it first ({figure})." if figure else "Abrade it first."
    if step.since is None:
        return words
    grit = step.since.preparation.grit
    done = f"with P{grit}" if grit is not None else "with a grit that is not noted"
    return f"{words} It was abraded since, {done}: that is not what the sheet asks for."


def bare_words(bare: Bare, zone: tzinfo | None = None) -> str:
    """How long the film has stood outdoors against what its sheet allows, in one sentence."""
    if bare.product is None:
        return f"Bare metal has stood outdoors for {span_words(bare.stood)}: no coat is on."
    name = bare.product.name
    stood = f"{name} has stood bare outdoors for {span_words(bare.stood)}"
    allowed = span_words(bare.allowed) if bare.allowed is not None else ""
    if bare.state is BareState.FORBIDDEN:
        return f"{name} must not be left bare outdoors. It has stood there for {span_words(bare.stood)}."
    if bare.state is BareState.OVER:
        return f"{stood}; its sheet allows {allowed}. That is over."
    if bare.state is BareState.WITHIN:
        until = f", until {moment_words(bare.until, zone)} if it stays out" if bare.until is not None else ""
        conditions = " (on conditions: read the sentence)" if bare.conditional else ""
        return f"{stood}; its sheet allows {allowed}{until}{conditions}."
    if bare.state is BareState.UNLIMITED:
        return f"{stood}; its sheet sets no limit."
    if bare.state is BareState.NO_TIME:
        return f"{stood}; its sheet allows it but does not say for how long."
    if bare.state is BareState.UNCONFIRMED:
        return f"{stood}; what its sheet says of it is not yet confirmed."
    return f"{stood}; its sheet doesn't say how long it may."


def due_words(item: DueItem, zone: tzinfo | None = None) -> str:
    """One line of what falls due, the panel's name first."""
    where = f"{item.job}, {item.panel}" if item.job else item.panel
    if item.bare is not None:
        return f"{where}: {bare_words(item.bare, zone)}"
    if item.step is None:
        return where
    words = step_words(item.step, zone)
    if item.kind is DueKind.PRIMING_PASSED:
        words = f"{words} That has passed: prepare the surface again."
    if not item.allowed:
        words = f"{words} But the sheets do not allow it: settle that first."
    return f"{where}: {words}"


def sources_of(item: DueItem) -> tuple[Rule | Proposal, ...]:
    """The sentences that a due line rests on."""
    if item.bare is not None:
        return item.bare.sources
    if item.step is None:
        return ()
    past = (item.step.past,) if item.step.past is not None and item.step.timing is Timing.PASSED else ()
    return tuple(dict.fromkeys((*item.step.moments.sources, *past)))


def tin_words(tin: Tin, product: str) -> str:
    """'Granat 12 base, 650 ml of 1000 ml left, batch 7A, in the cellar'."""
    name = tin.name or f"{product} {_COMPONENTS[tin.component]}"
    size = f" of {number_words(tin.size)} {tin.unit.value}" if tin.size is not None else ""
    parts = [name, f"{number_words(tin.left)} {tin.unit.value}{size} left"]
    parts += [f"batch {tin.batch}" if tin.batch else "", f"in {tin.place}" if tin.place else ""]
    return ", ".join(part for part in parts if part)


def tin_dates_words(dates: TinDates) -> str:
    """'good until 1 March 2027', 'past its date ...: test or discard'; what is not known is said to be."""
    if dates.until is None:
        return f"good until: not known ({dates.why})"
    until = date_words(dates.until.isoformat())
    if dates.state is TinState.PAST:
        return f"past its date since {until}: test it or discard it"
    return f"good until {until}{': soon' if dates.state is TinState.SOON else ''} ({dates.why})"


def use_by_words(dates: TinDates) -> str:
    """The same for a column that says 'Use by': '1 March 2027, soon', 'not known: the sheet states none'."""
    if dates.until is None:
        return f"not known: {dates.why}"
    until = date_words(dates.until.isoformat())
    if dates.state is TinState.PAST:
        return f"past since {until}: test or discard"
    return f"{until}{', soon' if dates.state is TinState.SOON else ''} ({dates.why})"


def missing_words(item: OnHand) -> str:
    """'no hardener for it on the shelf'; empty where nothing is missing."""
    return (
        f"no {' and no '.join(_COMPONENTS[part] for part in item.missing)} for it on the shelf" if item.missing else ""
    )


def _capital(words: str) -> str:
    return words[:1].upper() + words[1:]
