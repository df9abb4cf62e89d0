"""Panels, tins and what falls due, as a painter says them. No Qt: the command line and the window both use it."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime, timedelta, tzinfo

from app.figure_words import (
    date_words,
    duration_words,
    joined,
    number_words,
    range_words,
    rough_words,
    weekday_words,
)
from app.reason_words import reason_words
from app.translating import QT_TRANSLATE_NOOP, translate
from app.verdict_words import party_words
from app.wording import conditions_joined
from store.job_records import ChangeKind, ChangeRecord, Component, Tin
from store.planning.coat_clocks import Moments
from store.planning.due import DueItem, DueKind
from store.planning.next_steps import Step, StepKind, Timing, step_sources
from store.planning.on_hand import OnHand
from store.planning.outdoors import Bare, BareState
from store.planning.shelf_life import TinState
from store.planning.tin_dates import TinDates
from store.records import Proposal, Rule
from store.rules.windows import is_washing

_STAGES: Mapping[str, str] = {
    "handle": QT_TRANSLATE_NOOP("job", "May be handled"),
    "sand": QT_TRANSLATE_NOOP("job", "May be sanded"),
    "hard": QT_TRANSLATE_NOOP("job", "Hard"),
    "cure": QT_TRANSLATE_NOOP("job", "Fully cured"),
    "return_to_service": QT_TRANSLATE_NOOP("job", "Back in service"),
}

_COMPONENTS: Mapping[Component, str] = {
    Component.BASE: QT_TRANSLATE_NOOP("job", "base"),
    Component.HARDENER: QT_TRANSLATE_NOOP("job", "hardener"),
    Component.THINNER: QT_TRANSLATE_NOOP("job", "thinner"),
}

_CHANGES: Mapping[ChangeKind, str] = {
    ChangeKind.PANEL_ADDED: QT_TRANSLATE_NOOP("job", "new panel {subject}"),
    ChangeKind.PANEL_CHANGED: QT_TRANSLATE_NOOP("job", "changes to {subject}"),
    ChangeKind.PANEL_FINISHED: QT_TRANSLATE_NOOP("job", "{subject} finished"),
    ChangeKind.PANEL_REOPENED: QT_TRANSLATE_NOOP("job", "{subject} in work again"),
    ChangeKind.PANEL_REMOVED: QT_TRANSLATE_NOOP("job", "{subject} removed"),
    ChangeKind.PANEL_RESTORED: QT_TRANSLATE_NOOP("job", "{subject} put back"),
    ChangeKind.COAT_LOGGED: QT_TRANSLATE_NOOP("job", "coat on {subject}"),
    ChangeKind.COAT_CHANGED: QT_TRANSLATE_NOOP("job", "changed coat on {subject}"),
    ChangeKind.COAT_REMOVED: QT_TRANSLATE_NOOP("job", "removed coat on {subject}"),
    ChangeKind.PREPARATION_LOGGED: QT_TRANSLATE_NOOP("job", "preparation of {subject}"),
    ChangeKind.PREPARATION_CHANGED: QT_TRANSLATE_NOOP("job", "changed preparation of {subject}"),
    ChangeKind.PREPARATION_REMOVED: QT_TRANSLATE_NOOP("job", "removed preparation of {subject}"),
    ChangeKind.PUT_OUTDOORS: QT_TRANSLATE_NOOP("job", "{subject} put outdoors"),
    ChangeKind.TAKEN_IN: QT_TRANSLATE_NOOP("job", "{subject} taken in"),
    ChangeKind.SPELL_CHANGED: QT_TRANSLATE_NOOP("job", "changed time outdoors of {subject}"),
    ChangeKind.SPELL_REMOVED: QT_TRANSLATE_NOOP("job", "removed time outdoors of {subject}"),
    ChangeKind.TIN_ADDED: QT_TRANSLATE_NOOP("job", "new tin of {subject}"),
    ChangeKind.TIN_CHANGED: QT_TRANSLATE_NOOP("job", "changes to a tin of {subject}"),
    ChangeKind.TIN_REMOVED: QT_TRANSLATE_NOOP("job", "removed tin of {subject}"),
    ChangeKind.TIN_RESTORED: QT_TRANSLATE_NOOP("job", "tin of {subject} put back"),
    ChangeKind.SHEET_REMOVED: QT_TRANSLATE_NOOP("job", "removed sheet of {subject}"),
    ChangeKind.SHEET_RESTORED: QT_TRANSLATE_NOOP("job", "sheet of {subject} put back"),
}


def change_words(change: ChangeRecord) -> str:
    """For the undo menu: 'coat on left door'."""
    return translate("job", _CHANGES[change.kind]).format(subject=change.subject)


def moment_words(at: datetime, zone: tzinfo | None = None) -> str:
    """'Mon 30 March 2026, 14:05' by the clock of zone; None is this machine's."""
    local = at.astimezone(zone)
    return f"{weekday_words(local)} {date_words(local.date().isoformat())}, {local:%H:%M}"


def stood_words(stood: timedelta) -> str:
    """How long it stood, never less than it did."""
    return rough_words(stood, up=True)


def _allowed_words(allowed: timedelta) -> str:
    """A time that a sheet gives, as it stands there."""
    return duration_words(round(allowed / timedelta(minutes=1)))


def step_name(step: Step) -> str:
    """What the step is: 'Fugex 300', 'a further coat of Granat 12', 'May be sanded'."""
    if step.kind is StepKind.STAGE:
        return translate("job", _STAGES[step.property or ""])
    if step.kind is StepKind.ANY or step.upper is None:
        return translate("job", "the next coat")
    name = party_words(step.upper)
    if step.kind is StepKind.FURTHER:
        return translate("job", "a further coat of {name}").format(name=name)
    return name


def step_words(step: Step, zone: tzinfo | None = None) -> str:
    """When the step may happen, in one sentence; what is unknown is said to be."""
    name = _capital(step_name(step))
    found = step.moments
    earliest = moment_words(found.earliest, zone) if found.earliest is not None else ""
    latest = moment_words(found.latest, zone) if found.latest is not None else ""
    if step.kind is StepKind.STAGE:
        if earliest:
            return translate("job", "{name} from {moment}.").format(name=name, moment=earliest)
        why = reason_words(found.no_earliest)
        return translate("job", "{name} not known: {why}.").format(name=name, why=why)
    if step.kind is StepKind.FIRST:
        if not latest:
            why = reason_words(found.no_latest)
            return translate("job", "{name} goes on first; {why}.").format(name=name, why=why)
        return translate("job", "{name} goes on first, by {moment}.").format(name=name, moment=latest)
    if step.timing is Timing.NEVER:
        return translate(
            "job", "{name}: at these temperatures the sheet's earliest time lies after its latest."
        ).format(name=name)
    if step.timing is Timing.REOPENED:
        return translate("job", "{name}: the latest time has passed; it was abraded since, as the sheet says.").format(
            name=name
        )
    if step.timing is Timing.PASSED and latest:
        words = translate("job", "{name}: the latest time was {moment}.").format(name=name, moment=latest)
        return f"{words} {past_words(step)}"
    words = f"{name} {_span(found, zone)}"
    for other in step.also:
        words = translate("job", "{one}. Or {other}").format(one=words, other=_span(other, zone))
    return f"{words}."


def _span(found: Moments, zone: tzinfo | None) -> str:
    """'from Mon 4 May 2026, 16:00; until Fri 8 May 2026, 08:00', with the window's own conditions."""
    if found.earliest is not None:
        begin = translate("job", "from {moment}").format(moment=moment_words(found.earliest, zone))
    else:
        begin = translate("job", "earliest not known, {why}").format(why=reason_words(found.no_earliest))
    if found.latest is not None:
        end = translate("job", "until {moment}").format(moment=moment_words(found.latest, zone))
    elif found.unlimited:
        end = translate("job", "with no latest time")
    else:
        end = translate("job", "latest not known, {why}").format(why=reason_words(found.no_latest))
    return "; ".join([begin, end, *([conditions_joined(found.conditions)] if found.conditions else [])])


def past_words(step: Step) -> str:
    """What to do once the latest has passed, and what was done."""
    if step.past is None:
        return translate("job", "What to do then, the sheet doesn't say: ask the maker.")
    figure = range_words(step.past.claim.low, step.past.claim.high, step.past.claim.unit)
    if is_washing(step.past.claim):
        how = step.past.claim.text or translate("job", "as the sheet says")
        return translate("job", "Clean it first ({how}), and read the sentence.").format(how=how)
    if figure:
        words = translate("job", "Abrade it first ({figure}).").format(figure=figure)
    else:
        words = translate("job", "Abrade it first.")
    if step.since is None:
        return words
    grit = step.since.preparation.grit
    if grit is not None:
        done = translate("job", "It was abraded since, with P{grit}: that is not what the sheet asks for.")
    else:
        done = translate(
            "job", "It was abraded since, with a grit that is not noted: that is not what the sheet asks for."
        )
    return f"{words} {done.format(grit=grit)}"


def bare_words(bare: Bare, zone: tzinfo | None = None) -> str:
    """How long the film has stood outdoors against what its sheet allows, in one sentence."""
    span = stood_words(bare.stood)
    if bare.product is None:
        return translate("job", "Bare metal has stood outdoors for {span}: no coat is on.").format(span=span)
    allowed = _allowed_words(bare.allowed) if bare.allowed is not None else ""
    words = translate("job", _BARE.get(bare.state, _BARE[BareState.SILENT])).format(
        name=bare.product.name, span=span, allowed=allowed
    )
    if bare.state is not BareState.WITHIN:
        return words
    if bare.until is not None:
        until = translate("job", "until {moment} if it stays out").format(moment=moment_words(bare.until, zone))
        words = f"{words}, {until}"
    if bare.conditional:
        conditions = translate("job", "(on conditions: read the sentence)")
        words = f"{words} {conditions}"
    return f"{words}."


_BARE: Mapping[BareState, str] = {
    BareState.FORBIDDEN: QT_TRANSLATE_NOOP(
        "job", "{name} must not be left bare outdoors. It has stood there for {span}."
    ),
    BareState.OVER: QT_TRANSLATE_NOOP(
        "job", "{name} has stood bare outdoors for {span}; its sheet allows {allowed}. That is over."
    ),
    BareState.WITHIN: QT_TRANSLATE_NOOP("job", "{name} has stood bare outdoors for {span}; its sheet allows {allowed}"),
    BareState.UNLIMITED: QT_TRANSLATE_NOOP(
        "job", "{name} has stood bare outdoors for {span}; its sheet sets no limit."
    ),
    BareState.NO_TIME: QT_TRANSLATE_NOOP(
        "job", "{name} has stood bare outdoors for {span}; its sheet allows it but does not say for how long."
    ),
    BareState.UNCONFIRMED: QT_TRANSLATE_NOOP(
        "job", "{name} has stood bare outdoors for {span}; what its sheet says of it is not yet confirmed."
    ),
    BareState.SILENT: QT_TRANSLATE_NOOP(
        "job", "{name} has stood bare outdoors for {span}; its sheet doesn't say how long it may."
    ),
}


def due_words(item: DueItem, zone: tzinfo | None = None) -> str:
    """One line of what falls due, the panel's name first."""
    where = f"{item.job}, {item.panel}" if item.job else item.panel
    if item.bare is not None:
        return f"{where}: {bare_words(item.bare, zone)}"
    if item.step is None:
        return where
    words = step_words(item.step, zone)
    if item.kind is DueKind.PRIMING_PASSED:
        passed = translate("job", "That has passed: prepare the surface again.")
        words = f"{words} {passed}"
    if not item.allowed:
        forbidden = translate("job", "But the sheets do not allow it: settle that first.")
        words = f"{words} {forbidden}"
    return f"{where}: {words}"


def sources_of(item: DueItem) -> tuple[Rule | Proposal, ...]:
    """The sentences that a due line rests on."""
    if item.bare is not None:
        return item.bare.sources
    if item.step is None:
        return ()
    past = (item.step.past,) if item.step.past is not None and item.step.timing is Timing.PASSED else ()
    return tuple(dict.fromkeys((*step_sources(item.step), *past)))


def component_words(component: Component) -> str:
    """'hardener'."""
    return translate("job", _COMPONENTS[component])


def tin_words(tin: Tin, product: str) -> str:
    """'Granat 12 base, 650 ml of 1000 ml left, batch 7A, in the cellar'."""
    left, unit = number_words(tin.left), tin.unit.value
    if tin.size is None:
        amount = translate("job", "{left} {unit} left").format(left=left, unit=unit)
    else:
        amount = translate("job", "{left} {unit} of {size} {unit} left").format(
            left=left, unit=unit, size=number_words(tin.size)
        )
    parts = [tin.name or f"{product} {component_words(tin.component)}", amount]
    if tin.batch:
        parts.append(translate("job", "batch {batch}").format(batch=tin.batch))
    if tin.place:
        # Whatever is typed ("bench", "in the cellar") has no one preposition.
        parts.append(translate("job", "place: {place}").format(place=tin.place))
    return ", ".join(parts)


def tin_dates_words(dates: TinDates) -> str:
    """'good until 1 March 2027', 'past its date ...: test or discard'; what is not known is said to be."""
    if dates.until is None:
        return translate("job", "good until: not known ({why})").format(why=reason_words(dates.why))
    until = date_words(dates.until.isoformat())
    if dates.state is TinState.PAST:
        return translate("job", "past its date since {date}: test it or discard it").format(date=until)
    if dates.state is TinState.SOON:
        words = translate("job", "good until {date}: soon ({why})")
    else:
        words = translate("job", "good until {date} ({why})")
    return words.format(date=until, why=reason_words(dates.why))


def use_by_words(dates: TinDates) -> str:
    """The same for a column that says 'Use by': '1 March 2027, soon', 'not known: the sheet states none'."""
    if dates.until is None:
        return translate("job", "not known: {why}").format(why=reason_words(dates.why))
    until = date_words(dates.until.isoformat())
    if dates.state is TinState.PAST:
        return translate("job", "past since {date}: test or discard").format(date=until)
    words = translate("job", "{date}, soon ({why})") if dates.state is TinState.SOON else "{date} ({why})"
    return words.format(date=until, why=reason_words(dates.why))


def missing_words(item: OnHand) -> str:
    """'no hardener for it on the shelf'; empty where nothing is missing."""
    if not item.missing:
        return ""
    parts = joined([component_words(part) for part in item.missing], either=True)
    return translate("job", "no {parts} for it on the shelf").format(parts=parts)


def _capital(words: str) -> str:
    return words[:1].upper() + words[1:]
