"""Build-ups, their findings, steps and times as a painter says them. No Qt: the command line and the window use it."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime, timedelta

from app.figure_words import (
    counted_words,
    duration_words,
    figure_words,
    joined,
    number_words,
    page_words,
    rough_words,
    short_day_words,
    temperature_words,
    weekday_words,
)
from app.reason_words import reason_words
from app.translating import QT_TRANSLATE_NOOP, Counting, translate
from app.verdict_words import answer_words, party_words, verdict_words
from app.wording import claim_words, conditions_joined, object_words
from extract.claims import Condition
from store.planning.buildup import BuildUp, Checked, Contact, Finding, FindingKind, Layer, Step
from store.planning.finder import FindResult, FoundBuildUp, Rank
from store.planning.timeline import Event, EventKind
from store.records import Proposal, Rule

build_up = Counting("build_up")
_K = FindingKind


def layer_words(layer: Layer) -> str:
    """'Keeper, 90 µm, after 24 h, at 15 °C, 8 weeks outdoors'."""
    parts = [party_words(layer.party)]
    if layer.film_um is not None:
        parts.append(figure_words(layer.film_um, "um"))
    if layer.after_min is not None:
        parts.append(translate("build_up", "after {time}").format(time=duration_words(layer.after_min)))
    if layer.at_c is not None:
        parts.append(translate("build_up", "at {temperature}").format(temperature=temperature_words(layer.at_c)))
    if layer.hottest_c is not None:
        parts.append(
            translate("build_up", "up to {temperature} meanwhile").format(
                temperature=temperature_words(layer.hottest_c)
            )
        )
    for done, yes, no in (
        (layer.cleaned, translate("build_up", "cleaned first"), translate("build_up", "not cleaned first")),
        (layer.abraded, translate("build_up", "sanded first"), translate("build_up", "not sanded first")),
        (layer.cured, translate("build_up", "what is below cured"), translate("build_up", "what is below not cured")),
    ):
        if done is not None:
            parts.append(yes if done else no)
    if layer.weeks_outdoors:
        parts.append(translate("build_up", "then {weeks} outdoors").format(weeks=weeks_words(layer.weeks_outdoors)))
    return ", ".join(parts)


def weeks_words(weeks: float) -> str:
    if weeks == round(weeks):
        return counted_words(round(weeks), "week")
    return translate("build_up", "{number} weeks").format(number=number_words(weeks))


def sequence_words(build_up: BuildUp) -> str:
    """'bare steel → Keeper (8 weeks outdoors) → Planor → Carriage Gloss'."""
    return " → ".join(_stop_words(layer) for layer in build_up.layers)


def _stop_words(layer: Layer) -> str:
    coat = party_words(layer.party)
    if not layer.weeks_outdoors:
        return coat
    return translate("build_up", "{coat} ({weeks} outdoors)").format(coat=coat, weeks=weeks_words(layer.weeks_outdoors))


def whole_words(checked: Checked) -> str:
    """The verdict of the whole with its reason, in a sentence or two."""
    reason = checked.reason
    why = part_sentence(reason, checked) if reason is not None else translate("build_up", "Every contact is allowed.")
    return f"{verdict_words(checked.word)}. {why}"


def part_sentence(part: Contact | Finding, checked: Checked) -> str:
    """A contact or a finding as a sentence."""
    return answer_words(part.answer) if isinstance(part, Contact) else finding_words(part, checked)


def finding_words(finding: Finding, checked: Checked) -> str:
    """What the check found, as a full sentence with both figures."""
    words = translate("build_up", _SENTENCES[finding.kind]).format_map(_said_of(finding, checked))
    if finding.kind is FindingKind.WINDOW_PASSED or (finding.kind is FindingKind.WINDOW_KEYED and finding.remedy):
        words = f"{words} {_remedy(finding)}."
    elif finding.kind is FindingKind.WINDOW_KEYED:
        keyed = translate("build_up", "Keyed as the permission asks.")
        words = f"{words} {keyed}"
    return _capital(words)


def _said_of(finding: Finding, checked: Checked) -> Mapping[str, str]:
    """How a finding's layers and figures are said, by the names that stand in _SENTENCES."""
    layers = checked.build_up.layers
    at_c, other = finding.at_c, finding.other
    conditions = conditions_joined([Condition(name) for name in finding.conditions])
    further = finding.kind is FindingKind.TOPCOAT_MISSING
    nothing_named = translate("build_up", "a further coat") if further else translate("build_up", "another coat")
    return {
        "coat": party_words(layers[finding.layer].party),
        "below": party_words(layers[other].party) if other is not None else translate("build_up", "what is below"),
        "given": "" if finding.given is None else figure_words(finding.given, finding.unit),
        "allowed": "" if finding.allowed is None else figure_words(finding.allowed, finding.unit),
        "stands": _out(finding.given),
        "may_stand": _out(finding.allowed),
        "at": "" if at_c is None else translate("build_up", " at {degrees}").format(degrees=temperature_words(at_c)),
        "via": joined([object_words(name) for name in finding.via], either=True) or nothing_named,
        "sheet": finding.sources[0].sheet.product if finding.sources else "",
        "conditions": conditions,
        "if": f", {conditions}" if conditions else "",
        "said": "; ".join(claim_words(source.claim, source.sheet.product) for source in finding.sources),
        "why": reason_words(finding.note),
    }


def _remedy(finding: Finding) -> str:
    if finding.remedy is None:
        return translate("build_up", "The sheet does not say what to do then")
    return claim_words(finding.remedy.claim, finding.remedy.sheet.product)


_SENTENCES: Mapping[FindingKind, str] = {
    _K.REACHES_THROUGH: QT_TRANSLATE_NOOP(
        "build_up", "{coat} must not go anywhere above {below}, whatever lies between: so says {sheet}'s sheet."
    ),
    _K.ISOLATED_AS_SAID: QT_TRANSLATE_NOOP("build_up", "{below} is kept apart from {coat} as {sheet}'s sheet asks."),
    _K.ISOLATED_OTHERWISE: QT_TRANSLATE_NOOP(
        "build_up", "{sheet}'s sheet wants {via} between {below} and {coat}; of another coat there it says nothing."
    ),
    _K.ONLY_WITH: QT_TRANSLATE_NOOP(
        "build_up", "{coat} belongs together with {via}, which is not where the sheet wants it."
    ),
    _K.TOO_EARLY: QT_TRANSLATE_NOOP(
        "build_up", "{coat} goes on too early: after {given}, and {below} wants {allowed}{at}."
    ),
    _K.WINDOW_PASSED: QT_TRANSLATE_NOOP(
        "build_up", "{coat} goes on too late: after {given}, and {below} wants it within {allowed}{at}."
    ),
    _K.WINDOW_KEYED: QT_TRANSLATE_NOOP(
        "build_up", "{coat} goes on past the latest time of {below}, on a keyed film as the sheet asks."
    ),
    _K.WINDOW_CONDITION: QT_TRANSLATE_NOOP("build_up", "{coat} is in time on {below}: {conditions}."),
    _K.TIME_UNSAID: QT_TRANSLATE_NOOP("build_up", "Whether {coat} is in time on {below} is not said{at}: {why}."),
    _K.NOT_CURED: QT_TRANSLATE_NOOP("build_up", "{below} is not cured after {given}: its sheet gives {allowed}{at}."),
    _K.CONDITION_UNMET: QT_TRANSLATE_NOOP(
        "build_up", "{coat} may go onto {below} only {conditions}: that is not so here."
    ),
    _K.PREPARATION_UNDONE: QT_TRANSLATE_NOOP(
        "build_up", "Before {coat} goes onto {below} its sheet asks: {said}. That is not done here."
    ),
    _K.PREPARED_TOO_LONG_AGO: QT_TRANSLATE_NOOP(
        "build_up", "{below} was made ready {given} ago; {coat} wants to be on within {allowed}: make it ready again."
    ),
    _K.TOO_COLD: QT_TRANSLATE_NOOP(
        "build_up", "{given} is too cold for {coat}: its sheet asks for at least {allowed}."
    ),
    _K.TOO_HOT: QT_TRANSLATE_NOOP("build_up", "{given} is too hot for {coat}: its sheet allows at most {allowed}."),
    _K.FILM_THICK: QT_TRANSLATE_NOOP(
        "build_up", "{given} of {coat} is thicker than the {allowed} that its sheet gives."
    ),
    _K.FILM_THIN: QT_TRANSLATE_NOOP(
        "build_up", "{given} of {coat} is thinner than the {allowed} that its sheet gives."
    ),
    _K.TOTAL_FILM: QT_TRANSLATE_NOOP(
        "build_up", "{given} in all is more than the {allowed} that {sheet}'s sheet allows."
    ),
    _K.COVER_THIN: QT_TRANSLATE_NOOP("build_up", "{coat} wants at least {allowed} above it, and has {given}."),
    _K.COVER_UNSAID: QT_TRANSLATE_NOOP(
        "build_up", "{coat} wants at least {allowed} above it: see to the films of the next coats."
    ),
    _K.TOPCOAT_MISSING: QT_TRANSLATE_NOOP(
        "build_up", "{coat} must not stay without {via} above it, and nothing such is there."
    ),
    _K.OUTDOORS_FORBIDDEN: QT_TRANSLATE_NOOP("build_up", "{coat} must not stand outdoors without a further coat."),
    _K.OUTDOORS_TOO_LONG: QT_TRANSLATE_NOOP(
        "build_up", "{coat} stands outdoors for {stands}; its sheet allows {may_stand}: a further coat is needed."
    ),
    _K.OUTDOORS_ALLOWED: QT_TRANSLATE_NOOP("build_up", "{coat} may stand outdoors for {stands}{if}."),
    _K.OUTDOORS_UNSAID: QT_TRANSLATE_NOOP(
        "build_up",
        "How long {coat} may stand outdoors is not said; it stands there for {stands}. "
        "{sheet} is said to keep water out.",
    ),
    _K.NO_WATER_BARRIER: QT_TRANSLATE_NOOP(
        "build_up",
        "The job stands outdoors for {stands} with {coat} on top, and no coat is said to keep water out.",
    ),
}


def _out(minutes: float | None) -> str:
    """Time outdoors, in whole weeks where it comes to them."""
    if minutes is None:
        return translate("build_up", "no limit")
    weeks = minutes / 10080
    return weeks_words(round(weeks)) if abs(weeks - round(weeks)) < 1e-6 else duration_words(minutes)


def step_words(step: Step, checked: Checked) -> str:
    """'Before Planor: Degrease (Planor's sheet)', with what the build-up says of it."""
    sheet = step.rule.sheet.product
    words = translate("build_up", "Before {coat}: {step} ({sheet}, {page})").format(
        coat=party_words(checked.build_up.layers[step.layer].party),
        step=claim_words(step.rule.claim, sheet),
        sheet=sheet,
        page=page_words(step.rule.claim.evidence.page),
    )
    if step.done is None:
        return words
    done = translate("build_up", "done") if step.done else translate("build_up", "not done")
    return f"{words}, {done}"


def source_words(source: Rule | Proposal) -> str:
    """The sentence with product and page."""
    return f"“{source.claim.evidence.quote}” {source.sheet.product}, {page_words(source.claim.evidence.page)}"


def rank_words(rank: Rank) -> str:
    """'3 coats, 2 conditions, at least 18 h of waiting'."""
    parts = [counted_words(rank.coats, "coat"), counted_words(rank.conditions, "condition")]
    if rank.unsaid:
        parts.insert(
            0, build_up.tr("%n points that no sheet speaks of", "%n point that no sheet speaks of", rank.unsaid)
        )
    if rank.minutes:
        parts.append(
            translate("build_up", "at least {time} of waiting").format(
                time=rough_words(timedelta(minutes=rank.minutes), up=False)
            )
        )
    if rank.untimed:
        parts.append(build_up.tr("%n waits without a stated time", "%n wait without a stated time", rank.untimed))
    return ", ".join(parts)


def result_words(result: FindResult, *, shelf: bool | None = None) -> str:
    """What was found, in a sentence; shelf says whether it was looked for there alone, None leaves that open."""
    if result.lacking and shelf is not None:
        names = joined([party_words(party) for party in result.lacking], either=True)
        if shelf:
            return translate("build_up", "The shelf has no {names}.").format(names=names)
        return translate(
            "build_up", "No sheet of a product for this is filed: {names}. File one, or name another."
        ).format(names=names)
    if result.lacking:
        return translate("build_up", "Nothing at hand is {names}: file its sheet first, or take another.").format(
            names=joined([party_words(party) for party in result.lacking])
        )
    if result.allowed:
        words = build_up.tr("%n build-ups found, best first.", "%n build-up found, best first.", len(result.allowed))
        more = translate("build_up", "There may be others: the search was cut short.")
        return f"{words} {more}" if result.cut_short else words
    if result.cut_short and result.nearest is not None:
        return translate(
            "build_up",
            "Nothing allowed was found before the search was cut short: name fewer products. The nearest build-up:",
        )
    if result.nearest is not None:
        return translate("build_up", "Nothing is allowed. The nearest build-up, and what stands in its way:")
    return translate("build_up", "Nothing is allowed, and nothing comes near.")


def found_words(found: FoundBuildUp) -> str:
    return f"{sequence_words(found.checked.build_up)} ({rank_words(found.rank)})"


_EVENTS: Mapping[EventKind, str] = {
    EventKind.PUT_ON: QT_TRANSLATE_NOOP("build_up", "put on {coat}"),
    EventKind.SANDABLE: QT_TRANSLATE_NOOP("build_up", "{coat} may be sanded"),
    EventKind.EARLIEST: QT_TRANSLATE_NOOP("build_up", "{coat} takes the next coat"),
    EventKind.LATEST: QT_TRANSLATE_NOOP("build_up", "latest next coat on {coat}"),
    EventKind.CURED: QT_TRANSLATE_NOOP("build_up", "{coat} is fully cured"),
}


def event_words(event: Event, build_up: BuildUp) -> str:
    """What happens, without its moment; why there is none where there is none."""
    coat = party_words(build_up.layers[event.layer].party)
    words = translate("build_up", _EVENTS[event.kind]).format(coat=coat)
    if event.window:
        words = translate("build_up", "{what}, window {number}").format(what=words, number=event.window + 1)
    if event.conditions:
        words = f"{words}, {conditions_joined(event.conditions)}"
    if event.unlimited:
        return _capital(translate("build_up", "{what}: no limit").format(what=words))
    return _capital(f"{words}: {reason_words(event.note)}" if event.at is None and event.note else words)


def moment_words(at: datetime) -> str:
    """'Mon 4 May 2026, 18:30'."""
    return f"{weekday_words(at)} {short_day_words(at)} {at.year}, {at:%H:%M}"


def _capital(words: str) -> str:
    return words[:1].upper() + words[1:]
