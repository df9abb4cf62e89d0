"""Build-ups, their findings, steps and times as a painter says them. No Qt: the command line and the window use it."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import datetime

from app.figure_words import counted_words, duration_words, figure_words, joined, number_words, temperature_words
from app.verdict_words import answer_words, party_words, verdict_words
from app.wording import claim_words, conditions_joined, object_words
from extract.claims import Condition
from store.planning.buildup import BuildUp, Checked, Contact, Finding, FindingKind, Layer, Step
from store.planning.finder import FindResult, FoundBuildUp, Rank
from store.planning.timeline import Event, EventKind
from store.records import Proposal, Rule

_K = FindingKind


def layer_words(layer: Layer) -> str:
    """'Keeper, 90 µm, after 24 h, at 15 °C, 8 weeks outdoors'."""
    parts = [party_words(layer.party)]
    if layer.film_um is not None:
        parts.append(figure_words(layer.film_um, "um"))
    if layer.after_min is not None:
        parts.append(f"after {duration_words(layer.after_min)}")
    if layer.at_c is not None:
        parts.append(f"at {temperature_words(layer.at_c)}")
    if layer.hottest_c is not None:
        parts.append(f"up to {temperature_words(layer.hottest_c)} meanwhile")
    for done, yes, no in (
        (layer.cleaned, "cleaned first", "not cleaned first"),
        (layer.abraded, "sanded first", "not sanded first"),
        (layer.cured, "what is below cured", "what is below not cured"),
    ):
        if done is not None:
            parts.append(yes if done else no)
    if layer.weeks_outdoors:
        parts.append(f"then {weeks_words(layer.weeks_outdoors)} outdoors")
    return ", ".join(parts)


def weeks_words(weeks: float) -> str:
    return f"{number_words(weeks)} week{'' if weeks == 1 else 's'}"


def sequence_words(build_up: BuildUp) -> str:
    """'bare steel → Keeper (8 weeks outdoors) → Planor → Carriage Gloss'."""
    return " → ".join(_stop_words(layer) for layer in build_up.layers)


def _stop_words(layer: Layer) -> str:
    outdoors = f" ({weeks_words(layer.weeks_outdoors)} outdoors)" if layer.weeks_outdoors else ""
    return f"{party_words(layer.party)}{outdoors}"


def whole_words(checked: Checked) -> str:
    """The verdict of the whole with its reason, in a sentence or two."""
    word = verdict_words(checked.word)
    reason = checked.reason
    return f"{word}. {part_sentence(reason, checked)}" if reason is not None else f"{word}. Every contact is allowed."


def part_sentence(part: Contact | Finding, checked: Checked) -> str:
    """A contact or a finding as a sentence."""
    return answer_words(part.answer) if isinstance(part, Contact) else finding_words(part, checked)


def finding_words(finding: Finding, checked: Checked) -> str:
    """What the check found, as a full sentence with both figures."""
    return _capital(_SENTENCES[finding.kind](finding, _Names(finding, checked)))


class _Names:
    """How a finding's layers and figures are said."""

    def __init__(self, finding: Finding, checked: Checked) -> None:
        layers = checked.build_up.layers
        self.coat = party_words(layers[finding.layer].party)
        self.below = party_words(layers[finding.other].party) if finding.other is not None else "what is below"
        self.given = "" if finding.given is None else figure_words(finding.given, finding.unit)
        self.allowed = "" if finding.allowed is None else figure_words(finding.allowed, finding.unit)
        self.at = "" if finding.at_c is None else f" at {temperature_words(finding.at_c)}"
        self.via = joined([object_words(name) for name in finding.via], "or") or "another coat"
        self.sheet = finding.sources[0].sheet.product if finding.sources else ""
        self.conditions = conditions_joined([Condition(name) for name in finding.conditions])
        self.last = finding.layer == len(layers) - 1


def _remedy(finding: Finding) -> str:
    if finding.remedy is None:
        return "The sheet does not say what to do then"
    return claim_words(finding.remedy.claim, finding.remedy.sheet.product)


_SENTENCES: Mapping[FindingKind, Callable[[Finding, _Names], str]] = {
    _K.REACHES_THROUGH: lambda f, n: (
        f"{n.coat} must not go anywhere above {n.below}, whatever lies between: so says {n.sheet}'s sheet."
    ),
    _K.ISOLATED_AS_SAID: lambda f, n: f"{n.below} is kept apart from {n.coat} as {n.sheet}'s sheet asks.",
    _K.ISOLATED_OTHERWISE: lambda f, n: (
        f"{n.sheet}'s sheet wants {n.via} between {n.below} and {n.coat}; of another coat there it says nothing."
    ),
    _K.ONLY_WITH: lambda f, n: f"{n.coat} belongs together with {n.via}, which is not where the sheet wants it.",
    _K.TOO_EARLY: lambda f, n: f"{n.coat} goes on too early: after {n.given}, and {n.below} wants {n.allowed}{n.at}.",
    _K.WINDOW_PASSED: lambda f, n: (
        f"{n.coat} goes on too late: after {n.given}, and {n.below} wants it within {n.allowed}{n.at}. {_remedy(f)}."
    ),
    _K.WINDOW_KEYED: lambda f, n: (
        f"{n.coat} goes on past the latest time of {n.below}, on a keyed film as the sheet asks. "
        f"{_remedy(f) if f.remedy is not None else 'Keyed as the permission asks'}."
    ),
    _K.WINDOW_CONDITION: lambda f, n: f"{n.coat} is in time on {n.below}: {n.conditions}.",
    _K.TIME_UNSAID: lambda f, n: f"Whether {n.coat} is in time on {n.below} is not said{n.at}: {f.note}.",
    _K.NOT_CURED: lambda f, n: f"{n.below} is not cured after {n.given}: its sheet gives {n.allowed}{n.at}.",
    _K.CONDITION_UNMET: lambda f, n: f"{n.coat} may go onto {n.below} only {n.conditions}: that is not so here.",
    _K.PREPARATION_UNDONE: lambda f, n: (
        f"Before {n.coat} goes onto {n.below} its sheet asks: {_said(f.sources)}. That is not done here."
    ),
    _K.PREPARED_TOO_LONG_AGO: lambda f, n: (
        f"{n.below} was made ready {n.given} ago; {n.coat} wants to be on within {n.allowed}: make it ready again."
    ),
    _K.TOO_COLD: lambda f, n: f"{n.given} is too cold for {n.coat}: its sheet asks for at least {n.allowed}.",
    _K.TOO_HOT: lambda f, n: f"{n.given} is too hot for {n.coat}: its sheet allows at most {n.allowed}.",
    _K.FILM_THICK: lambda f, n: f"{n.given} of {n.coat} is thicker than the {n.allowed} that its sheet gives.",
    _K.FILM_THIN: lambda f, n: f"{n.given} of {n.coat} is thinner than the {n.allowed} that its sheet gives.",
    _K.TOTAL_FILM: lambda f, n: f"{n.given} in all is more than the {n.allowed} that {n.sheet}'s sheet allows.",
    _K.COVER_THIN: lambda f, n: f"{n.coat} wants at least {n.allowed} above it, and has {n.given}.",
    _K.COVER_UNSAID: lambda f, n: f"{n.coat} wants at least {n.allowed} above it: see to the films of the next coats.",
    _K.TOPCOAT_MISSING: lambda f, n: (
        f"{n.coat} must not stay without {n.via if f.via else 'a further coat'} above it, and nothing such is there."
    ),
    _K.OUTDOORS_FORBIDDEN: lambda f, n: f"{n.coat} must not stand outdoors without a further coat.",
    _K.OUTDOORS_TOO_LONG: lambda f, n: (
        f"{n.coat} stands outdoors for {_out(f.given)}; its sheet allows {_out(f.allowed)}: a further coat is needed."
    ),
    _K.OUTDOORS_ALLOWED: lambda f, n: (
        f"{n.coat} may stand outdoors for {_out(f.given)}{f', {n.conditions}' if n.conditions else ''}."
    ),
    _K.OUTDOORS_UNSAID: lambda f, n: (
        f"How long {n.coat} may stand outdoors is not said; it stands there for {_out(f.given)}. "
        f"{n.sheet} is said to keep water out."
    ),
    _K.NO_WATER_BARRIER: lambda f, n: (
        f"The job stands outdoors for {_out(f.given)} with {n.coat} on top, and no coat is said to keep water out."
    ),
}  # fmt: skip


def _out(minutes: float | None) -> str:
    """Time outdoors, in whole weeks where it comes to them."""
    if minutes is None:
        return "no limit"
    weeks = minutes / 10080
    return weeks_words(round(weeks)) if abs(weeks - round(weeks)) < 1e-6 else duration_words(minutes)


def _said(sources: tuple[Rule | Proposal, ...]) -> str:
    return "; ".join(claim_words(source.claim, source.sheet.product) for source in sources)


def step_words(step: Step, checked: Checked) -> str:
    """'Before Planor: Degrease (Planor's sheet)', with what the build-up says of it."""
    coat = party_words(checked.build_up.layers[step.layer].party)
    done = {None: "", True: ", done", False: ", not done"}[step.done]
    sheet = step.rule.sheet.product
    return f"Before {coat}: {claim_words(step.rule.claim, sheet)} ({sheet}, p. {step.rule.claim.evidence.page}){done}"


def source_words(source: Rule | Proposal) -> str:
    """The sentence with product and page."""
    return f"“{source.claim.evidence.quote}” {source.sheet.product}, p. {source.claim.evidence.page}"


def rank_words(rank: Rank) -> str:
    """'3 coats, 2 conditions, at least 18 h of waiting'."""
    parts = [counted_words(rank.coats, "coat"), counted_words(rank.conditions, "condition")]
    if rank.unsaid:
        parts.insert(0, f"{counted_words(rank.unsaid, 'point')} that no sheet speaks of")
    if rank.minutes:
        parts.append(f"at least {duration_words(rank.minutes)} of waiting")
    if rank.untimed:
        parts.append(f"{counted_words(rank.untimed, 'wait')} without a stated time")
    return ", ".join(parts)


def result_words(result: FindResult) -> str:
    """What was found, in a sentence."""
    if result.lacking:
        names = joined([party_words(party) for party in result.lacking])
        return f"Nothing at hand is {names}: file its sheet first, or take another."
    if result.allowed:
        more = " There may be others: the search was cut short." if result.cut_short else ""
        return f"{counted_words(len(result.allowed), 'build-up')} found, best first.{more}"
    if result.cut_short and result.nearest is not None:
        return "Nothing allowed was found before the search was cut short: name fewer products. The nearest build-up:"
    if result.nearest is not None:
        return "Nothing is allowed. The nearest build-up, and what stands in its way:"
    return "Nothing is allowed, and nothing comes near."


def found_words(found: FoundBuildUp) -> str:
    return f"{sequence_words(found.checked.build_up)} ({rank_words(found.rank)})"


_EVENTS: Mapping[EventKind, str] = {
    EventKind.PUT_ON: "put on {coat}",
    EventKind.SANDABLE: "{coat} may be sanded",
    EventKind.EARLIEST: "{coat} takes the next coat",
    EventKind.LATEST: "latest next coat on {coat}",
    EventKind.CURED: "{coat} is fully cured",
}


def event_words(event: Event, build_up: BuildUp) -> str:
    """What happens, without its moment; why there is none where there is none."""
    words = _EVENTS[event.kind].format(coat=party_words(build_up.layers[event.layer].party))
    if event.unlimited:
        return _capital(f"{words}: no limit")
    return _capital(f"{words}: {event.note}" if event.at is None and event.note else words)


def moment_words(at: datetime) -> str:
    """'Mon 4 May 2026, 18:30'."""
    return f"{at:%a} {at.day} {at:%b %Y, %H:%M}"


def _capital(words: str) -> str:
    return words[:1].upper() + words[1:]
