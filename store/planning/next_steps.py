"""What may happen next to a panel, and when: the next planned layer, a further coat, sanding, curing. Pure.

All moments are in UTC. A verdict and a time are two things: a step may be allowed and not yet due, or due and not
allowed; both are given, each with its sentences.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import UTC, datetime, timedelta
from enum import StrEnum

from extract.claims import SELF, Claim, Topic
from extract.kinds import covers
from store.job_records import CoatRecord, Layer, PanelRecord, PreparationKind, PreparationRecord
from store.planning.clocks import Warmth
from store.planning.coat_clocks import Moments, Weather, gives, stage, weather_of, windows_in
from store.records import ProductRecord, Rule
from store.rules.answers import Answer, Part
from store.rules.comparison import Material
from store.rules.reach import KindParty, Party, ProductParty, reach
from store.rules.regimes import regimes
from store.rules.verdicts import judge
from store.rules.windows import by_method, governing_rows, is_washing

STAGES = ("handle", "sand", "hard", "cure", "return_to_service")
_BARING = frozenset({PreparationKind.ABRADED, PreparationKind.BLASTED, PreparationKind.DERUSTED})


class StepKind(StrEnum):
    FIRST = "first"
    """The first planned layer onto the bare surface."""
    LAYER = "layer"
    """The next planned layer."""
    FURTHER = "further"
    """A further coat of the same product."""
    ANY = "any"
    """Any next coat, where nothing is planned: what the sheet says of every one."""
    STAGE = "stage"
    """A stage of drying (`property`): may be handled, sanded, is hard, cured, back in service."""


class Timing(StrEnum):
    TOO_EARLY = "too_early"
    OPEN = "open"
    PASSED = "passed"
    REOPENED = "reopened"
    """The latest has passed, and the film was abraded since, as the sheet says."""
    NEVER = "never"
    """The earliest lies after the latest at these temperatures."""
    UNKNOWN = "unknown"
    """The earliest is not known, or at this temperature the latest is not: never to be taken for 'open'."""


@dataclass(frozen=True, slots=True)
class Step:
    """One thing that may come next.

    upper, answer and layer (place in the plan, from 0) are there for coats; property for stages. past says what to do
    once the latest has passed (None: the sheet doesn't say); since is the abrading logged after the latest time.
    needed is True for what the plan waits for: only that falls due. Where the sheet gives several windows, moments is
    the one that counts now, the window-th of them; also are the others that have not passed, the earlier first.
    """

    kind: StepKind
    moments: Moments
    timing: Timing
    upper: Party | None = None
    answer: Answer | None = None
    layer: int | None = None
    property: str | None = None
    past: Rule | None = None
    since: PreparationRecord | None = None
    needed: bool = False
    window: int = 0
    also: tuple[Moments, ...] = ()


def step_sources(step: Step) -> tuple[Rule, ...]:
    """The sentences of all windows of a step."""
    return tuple(dict.fromkeys(rule for found in (step.moments, *step.also) for rule in found.sources))


def next_steps(
    panel: PanelRecord, material: Material, now: datetime, forecast: Sequence[Warmth] = ()
) -> tuple[Step, ...]:
    """Every step that may come next, what the plan waits for first. now and the forecast are aware.

    material holds the rules of the products on the panel and in its plan, and the whole library's products.
    """
    done = [record for record in panel.coats if record.coat.at <= now]
    if not done:
        first = _first(panel, material, now)
        return (first,) if first is not None else ()
    top = done[-1]
    lower = party_of_product(top.coat.product_id, top.product, material)
    weather = weather_of(top.coat, forecast)
    place, count = progress(panel.panel.plan, done, material)
    steps: list[Step] = []
    unfinished = place is not None and count < (panel.panel.plan[place].coats or 1)
    following = 0 if place is None else place + 1
    further = _further(panel, lower, place, material, weather, now, needed=unfinished)
    if unfinished:
        steps.append(further)
    if following < len(panel.panel.plan):
        steps.append(_layer(panel, lower, following, material, weather, now, needed=not unfinished))
    elif not panel.panel.plan:
        steps.append(_any(panel, lower, material, weather, now))
    if not unfinished:
        steps.append(further)
    steps += _stages(lower, material, weather, now)
    return tuple(steps)


def party_of_product(product_id: int, name: str, material: Material) -> ProductParty:
    known = next((p for p in material.products if p.id == product_id), None)
    return ProductParty(known or ProductRecord(product_id, name, "", None, has_sheet=False))


def progress(plan: Sequence[Layer], coats: Sequence[CoatRecord], material: Material) -> tuple[int | None, int]:
    """How far the plan has come: the place of the layer that the last planned coat belongs to, and its coats so far.

    Coats that are in no layer further on are left aside; None where none of the plan has been put on.
    """
    place: int | None = None
    count = 0
    for record in coats:
        start = 0 if place is None else place
        at = next((i for i in range(start, len(plan)) if _meets(plan[i], record, material)), None)
        if at is None:
            continue
        count = count + record.coat.coats if at == place else record.coat.coats
        place = at
    return place, count


def _meets(layer: Layer, record: CoatRecord, material: Material) -> bool:
    if layer.product_id is not None:
        return layer.product_id == record.coat.product_id
    kind = party_of_product(record.coat.product_id, record.product, material).kind
    return layer.kind is not None and kind is not None and (kind == layer.kind or covers(layer.kind, kind))


def _upper(layer: Layer, material: Material) -> Party:
    if layer.product_id is not None:
        return party_of_product(layer.product_id, "", material)
    return KindParty(layer.kind or "")


def _judged(lower: Party, upper: Party, material: Material) -> Answer:
    return judge(lower, upper, material.rules, material.proposals, material.own_rules, material.products)


def _first(panel: PanelRecord, material: Material, now: datetime) -> Step | None:
    plan = panel.panel.plan
    if not plan:
        return None
    upper = _upper(plan[0], material)
    lower = KindParty(panel.panel.surface) if panel.panel.surface else None
    answer = _judged(lower, upper, material) if lower is not None else None
    bared = [p for p in panel.preparations if p.preparation.kind in _BARING and p.preparation.at <= now]
    found = Moments(no_earliest="", no_latest="the sheet gives no longest wait after preparing")
    if bared and isinstance(upper, ProductParty):
        rules = [
            rule
            for rule in material.rules_of(upper.product)
            if _is(rule.claim, Topic.PREPARATION, "prime_within")
            and (lower is None or reach(rule, lower, material.products, forbidding=False) is not None)
        ]
        waits = [end for rule in rules if (end := _end(rule.claim)) is not None]
        start = bared[-1].preparation.at.astimezone(UTC)
        if waits:
            found = Moments(start, start + timedelta(minutes=min(waits)), False, "", "", tuple(rules))
    timing = Timing.PASSED if found.latest is not None and now > found.latest else Timing.OPEN
    return Step(StepKind.FIRST, found, timing, upper, answer, 0, needed=True)


def _layer(
    panel: PanelRecord, lower: ProductParty, place: int, material: Material, weather: Weather, now: datetime,
    *, needed: bool,
) -> Step:  # fmt: skip
    upper = _upper(panel.panel.plan[place], material)
    answer = _judged(lower, upper, material)
    windows, past = _contact(lower, upper, answer, material, weather)
    step = _now(StepKind.LAYER, windows, past, panel, now)
    return replace(step, upper=upper, answer=answer, layer=place, needed=needed)


def _further(
    panel: PanelRecord, lower: ProductParty, place: int | None, material: Material, weather: Weather, now: datetime,
    *, needed: bool,
) -> Step:  # fmt: skip
    answer = _judged(lower, lower, material)
    windows, past = _contact(lower, lower, answer, material, weather)
    own = [rule for found in windows for rule in found.sources if (rule.claim.object or "") == SELF]
    if not own:
        # Between coats of its own the sheet's flash-off is what counts, where it gives one: in the first window.
        off = stage(
            [r for r in material.rules_of(lower.product) if _is(r.claim, Topic.APPLICATION, "flash_off")], weather
        )
        if off is not None:
            sources = tuple(dict.fromkeys(off.sources + windows[0].sources))
            first = replace(windows[0], earliest=off.earliest, no_earliest=off.no_earliest, sources=sources)
            windows = (first, *windows[1:])
    step = _now(StepKind.FURTHER, windows, past, panel, now)
    return replace(step, upper=lower, answer=answer, layer=place, needed=needed)


def _any(panel: PanelRecord, lower: ProductParty, material: Material, weather: Weather, now: datetime) -> Step:
    rules = [
        rule
        for rule in material.rules_of(lower.product)
        if rule.claim.topic is Topic.OVERCOAT_WINDOW and rule.claim.object is None
    ]
    said = by_method([rule for rule in rules if rule.claim.property == "window"])
    past = next((rule for rule in rules if rule.claim.property == "abrade_after"), None)
    windows = windows_in([regimes(said)] if said else [], weather)
    return replace(_now(StepKind.ANY, windows, past, panel, now), needed=True)


def _contact(
    lower: ProductParty, upper: Party, answer: Answer, material: Material, weather: Weather
) -> tuple[tuple[Moments, ...], Rule | None]:
    permitting = {c.id for c in answer.citations if c.part is Part.PERMITS}
    contacts = [rule for rule in material.rules if rule.id in permitting]
    governing = governing_rows(lower, upper, material.rules, material.products, contacts)
    general = by_method(governing.general) if governing.general else ()
    sources = []
    if governing.particular:
        sources.append(regimes(by_method(governing.particular), general))
    if governing.contacts:
        sources.append(regimes(by_method(governing.contacts)))
    return windows_in(sources, weather), governing.past


def _now(kind: StepKind, windows: Sequence[Moments], past: Rule | None, panel: PanelRecord, now: datetime) -> Step:
    """The step as it stands now: in the window that is open, else the one that closes or opens next."""
    stands = [_stands(found, now) for found in windows]
    ahead = [place for place, timing in enumerate(stands) if timing not in {Timing.PASSED, Timing.NEVER}]
    if ahead:
        place = min(ahead, key=lambda place: _first_to_look_at(windows[place], stands[place]))
        timing, since = stands[place], None
    else:
        place = max(range(len(windows)), key=lambda place: windows[place].latest or now)
        timing, since = _past(windows[place], past, panel, now) if Timing.PASSED in stands else (Timing.NEVER, None)
    others = tuple(windows[other] for other in ahead if other != place)
    return Step(kind, windows[place], timing, past=past, since=since, window=place, also=others)


def _first_to_look_at(found: Moments, timing: Timing) -> tuple[bool, int, datetime, datetime]:
    far = datetime.max.replace(tzinfo=UTC)
    return timing is not Timing.OPEN, len(found.conditions), found.latest or far, found.earliest or far


def _stands(found: Moments, now: datetime) -> Timing:
    if found.never:
        return Timing.NEVER
    if found.latest is not None and now > found.latest:
        return Timing.PASSED
    if found.earliest is None:
        return Timing.UNKNOWN
    if now < found.earliest:
        return Timing.TOO_EARLY
    # The sheet sets an end, but not for so warm a shop: it lies sooner than the ends that it gives.
    unread = found.latest is None and not found.unlimited and gives(found.sources, low=False)
    return Timing.UNKNOWN if unread else Timing.OPEN


def _past(
    found: Moments, past: Rule | None, panel: PanelRecord, now: datetime
) -> tuple[Timing, PreparationRecord | None]:
    """Past the last window: whether it was abraded since, as the sheet says."""
    since = _abraded_since(panel, found.latest, now) if found.latest is not None else None
    if since is not None and past is not None and _grit_fits(since, past):
        return Timing.REOPENED, since
    return Timing.PASSED, since


def _abraded_since(panel: PanelRecord, latest: datetime, now: datetime) -> PreparationRecord | None:
    found = [
        p
        for p in panel.preparations
        if p.preparation.kind is PreparationKind.ABRADED and latest <= p.preparation.at <= now
    ]
    return found[-1] if found else None


def _grit_fits(since: PreparationRecord, past: Rule) -> bool:
    """Whether the paper used is what the sheet asks for; a grit not noted fits only where the sheet names none."""
    if is_washing(past.claim):
        return False
    low, high = past.claim.low, past.claim.high
    if low is None and high is None:
        return True
    grit = since.preparation.grit
    return grit is not None and (low is None or grit >= low) and (high is None or grit <= high)


def _stages(lower: ProductParty, material: Material, weather: Weather, now: datetime) -> list[Step]:
    steps = []
    for name in STAGES:
        found = stage([r for r in material.rules_of(lower.product) if _is(r.claim, Topic.DRYING, name)], weather)
        if found is None:
            continue
        timing = Timing.UNKNOWN
        if found.earliest is not None:
            timing = Timing.TOO_EARLY if now < found.earliest else Timing.OPEN
        steps.append(Step(StepKind.STAGE, found, timing, property=name))
    return steps


def _is(claim: Claim, topic: Topic, property_: str) -> bool:
    return claim.topic is topic and claim.property == property_


def _end(claim: Claim) -> float | None:
    return claim.high if claim.high is not None else claim.low
