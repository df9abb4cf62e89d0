from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given
from hypothesis import strategies as st
from job_paper import (
    EPOXY,
    FILLER,
    GLOSS,
    SURFACER,
    coat,
    material,
    outdoors,
    panel,
    permits,
    rule,
    window,
)

from extract.claims import Method, Stance, Topic
from store.job_records import Layer, OutdoorSpell, Preparation, PreparationKind
from store.planning.clocks import Warmth, steady
from store.planning.due import DueKind, alerts, due, due_on
from store.planning.next_steps import Step, StepKind, Timing, next_steps, progress
from store.planning.outdoors import BareState, bare_outdoors
from store.records import Proposal

NOON = datetime(2026, 3, 28, 12, tzinfo=UTC)
HOUR, DAY = timedelta(hours=1), timedelta(days=1)
PLAN = (Layer(product_id=EPOXY.id), Layer(product_id=SURFACER.id))
WINDOW = (window(EPOXY, 60, 4320), permits(EPOXY, "surfacer"))


def step_of(steps: tuple[Step, ...], kind: StepKind, property_: str | None = None) -> Step:
    (found,) = [s for s in steps if s.kind is kind and s.property == property_]
    return found


def next_layer(at: datetime, *rules: object, **fields: object) -> Step:
    made = panel(coat(NOON, panel_c=20.0), plan=PLAN, **fields)  # type: ignore[arg-type]
    return step_of(next_steps(made, material(*(rules or WINDOW)), at), StepKind.LAYER)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("after", "timing"),
    [
        (59 * timedelta(minutes=1), Timing.TOO_EARLY),
        (HOUR, Timing.OPEN),
        (3 * DAY, Timing.OPEN),
        (3 * DAY + timedelta(seconds=1), Timing.PASSED),
    ],
)
def test_the_next_planned_layer_opens_and_closes_with_the_window(after: timedelta, timing: Timing) -> None:
    step = next_layer(NOON + after)
    assert (step.moments.earliest, step.moments.latest) == (NOON + HOUR, NOON + 3 * DAY)
    assert step.timing is timing
    assert step.answer is not None
    assert step.answer.word == "yes"
    assert step.needed
    assert WINDOW[0] in step.moments.sources


def test_a_latest_time_is_elapsed_time_across_the_change_of_clocks() -> None:
    zone = ZoneInfo("Europe/Berlin")
    put_on = datetime(2026, 3, 28, 13, tzinfo=zone)
    made = panel(coat(put_on, panel_c=20.0), plan=PLAN)
    rules = material(window(EPOXY, 60, 1440), permits(EPOXY, "surfacer"))
    step = step_of(next_steps(made, rules, put_on + HOUR), StepKind.LAYER)
    assert step.moments.latest is not None
    assert step.moments.latest.astimezone(zone).hour == 14, "24 hours later the clock says one more"
    assert step.moments.latest - put_on.astimezone(UTC) == DAY


def test_a_month_is_thirty_days_whatever_the_calendar_has() -> None:
    january = datetime(2027, 1, 31, 12, tzinfo=UTC)
    made = panel(coat(january, panel_c=20.0), plan=PLAN)
    rules = material(window(EPOXY, 60, 43_200), permits(EPOXY, "surfacer"))
    step = step_of(next_steps(made, rules, january + HOUR), StepKind.LAYER)
    assert step.moments.latest == datetime(2027, 3, 2, 12, tzinfo=UTC)


def test_past_the_latest_the_sheet_says_what_to_do_and_abrading_so_opens_it_again() -> None:
    abrade = rule(EPOXY, Topic.OVERCOAT_WINDOW, "abrade_after", Stance.REQUIRES, low=180.0, high=240.0, unit="P")
    late = NOON + 4 * DAY
    step = next_layer(late, *WINDOW, abrade)
    assert (step.timing, step.past, step.since) == (Timing.PASSED, abrade, None)

    def abraded(grit: int | None, at: datetime) -> Step:
        done = (Preparation(at, PreparationKind.ABRADED, grit),)
        return next_layer(late, *WINDOW, abrade, preparations=done)

    assert abraded(220, NOON + 3 * DAY + HOUR).timing is Timing.REOPENED
    for grit in (80, 400, None):
        wrong = abraded(grit, NOON + 3 * DAY + HOUR)
        assert wrong.timing is Timing.PASSED, f"P{grit} is not what the sheet asks for"
        assert wrong.since is not None
    early = abraded(220, NOON + HOUR)
    assert (early.timing, early.since) == (Timing.PASSED, None), "abraded before the window closed"


def test_abrading_opens_nothing_where_the_sheet_does_not_say_what_to_do() -> None:
    done = (Preparation(NOON + 3 * DAY + HOUR, PreparationKind.ABRADED, 220),)
    step = next_layer(NOON + 4 * DAY, preparations=done)
    assert (step.timing, step.past) == (Timing.PASSED, None)


def test_an_unknown_earliest_is_never_open() -> None:
    for rules in ((permits(EPOXY, "surfacer"),), (window(EPOXY, None, 4320), permits(EPOXY, "surfacer"))):
        step = next_layer(NOON + DAY, *rules)
        assert step.timing is Timing.UNKNOWN
        assert step.moments.no_earliest


def test_without_any_temperature_a_table_by_temperature_tells_nothing() -> None:
    made = panel(coat(NOON), plan=PLAN)
    step = step_of(next_steps(made, material(*WINDOW), NOON + DAY), StepKind.LAYER)
    assert (step.moments.earliest, step.moments.latest, step.timing) == (None, None, Timing.UNKNOWN)
    assert step.moments.no_earliest == step.moments.no_latest == "no temperature is known"
    untold = material(window(EPOXY, 60, 4320, None), permits(EPOXY, "surfacer"))
    step = step_of(next_steps(made, untold, NOON + DAY), StepKind.LAYER)
    assert (step.moments.earliest, step.moments.latest) == (NOON + HOUR, NOON + 3 * DAY)


def test_a_cold_panel_in_a_warm_shop_waits_by_the_cold_and_ends_by_the_warm() -> None:
    rules = material(window(EPOXY, 240, 14_400, 10.0), window(EPOXY, 60, 4320, 20.0), permits(EPOXY, "surfacer"))
    made = panel(coat(NOON, panel_c=10.0), plan=PLAN)
    step = step_of(next_steps(made, rules, NOON, steady(NOON - DAY, 20.0)), StepKind.LAYER)
    assert (step.moments.earliest, step.moments.latest) == (NOON + 4 * HOUR, NOON + 3 * DAY)


def test_the_forecast_takes_over_from_the_coats_own_temperature() -> None:
    rules = material(window(EPOXY, 240, 14_400, 10.0), window(EPOXY, 60, 4320, 20.0), permits(EPOXY, "surfacer"))
    made = panel(coat(NOON, panel_c=10.0), plan=PLAN)
    warmer = (Warmth(NOON + 2 * HOUR, 20.0),)
    step = step_of(next_steps(made, rules, NOON, warmer), StepKind.LAYER)
    assert step.moments.earliest == NOON + 2.5 * HOUR, "half the wait at 10 °C, the other half at 20 °C"
    assert step.moments.latest == NOON + 3 * DAY


def test_a_forbidden_layer_is_told_so_and_is_no_leave_to_coat() -> None:
    against = rule(EPOXY, Topic.TOPPED_BY, None, Stance.FORBIDS, object_="surfacer")
    made = panel(coat(NOON, panel_c=20.0), plan=PLAN)
    (item,) = due([made], material(window(EPOXY, 60, 4320), against), NOON + 2 * HOUR)
    assert not item.allowed
    assert item.step is not None
    assert item.step.answer is not None
    assert item.step.answer.word == "no"
    assert alerts([item], NOON + 2 * HOUR, 60) == ()


def test_a_kind_in_the_plan_is_met_by_a_product_of_the_kind_and_the_same_product_may_come_twice() -> None:
    plan = (Layer(kind="primer.epoxy"), Layer(kind="filler"), Layer(product_id=EPOXY.id, coats=2))
    log = [coat(NOON), coat(NOON + DAY, FILLER), coat(NOON + 2 * DAY)]
    assert progress(plan, log[:1], material()) == (0, 1)
    assert progress(plan, log[:2], material()) == (1, 1)
    assert progress(plan, log, material()) == (2, 1)
    assert progress(plan, [coat(NOON, GLOSS)], material()) == (None, 0)


def test_a_further_coat_waits_for_the_flash_off_and_is_needed_while_the_layer_is_unfinished() -> None:
    flash = rule(EPOXY, Topic.APPLICATION, "flash_off", low=10.0, high=15.0, unit="min")
    oven = rule(EPOXY, Topic.APPLICATION, "flash_off", low=5.0, high=5.0, unit="min", method=Method.FORCE)
    made = panel(coat(NOON, panel_c=20.0), plan=(Layer(product_id=EPOXY.id, coats=2), PLAN[1]))
    steps = next_steps(made, material(*WINDOW, flash, oven), NOON)
    further, layer = step_of(steps, StepKind.FURTHER), step_of(steps, StepKind.LAYER)
    assert further.moments.earliest == NOON + timedelta(minutes=15), "the longer end, in the air"
    assert further.moments.latest == NOON + 3 * DAY
    assert (further.needed, layer.needed) == (True, False)
    assert steps[0] is further


def test_a_window_for_itself_governs_a_further_coat() -> None:
    own = window(EPOXY, 30, 600, object_="self")
    made = panel(coat(NOON, panel_c=20.0), plan=PLAN)
    flash = rule(EPOXY, Topic.APPLICATION, "flash_off", low=10.0, high=10.0, unit="min")
    further = step_of(next_steps(made, material(*WINDOW, own, flash), NOON), StepKind.FURTHER)
    assert (further.moments.earliest, further.moments.latest) == (NOON + HOUR / 2, NOON + 10 * HOUR)


def test_stages_of_drying_take_the_longer_end_and_leave_the_oven_out() -> None:
    sand = rule(EPOXY, Topic.DRYING, "sand", low=360.0, high=480.0, unit="min", at_c=20.0)
    baked = rule(EPOXY, Topic.DRYING, "sand", low=30.0, high=30.0, unit="min", at_c=60.0, method=Method.FORCE)
    cure = rule(EPOXY, Topic.DRYING, "cure", low=30.0, high=30.0, unit="min", at_c=60.0, method=Method.FORCE)
    made = panel(coat(NOON, panel_c=20.0), plan=PLAN)
    steps = next_steps(made, material(sand, baked, cure), NOON)
    assert step_of(steps, StepKind.STAGE, "sand").moments.earliest == NOON + 8 * HOUR
    assert [s.property for s in steps if s.kind is StepKind.STAGE] == ["sand"]
    cold = panel(coat(NOON, panel_c=5.0), plan=PLAN)
    stage = step_of(next_steps(cold, material(sand), NOON), StepKind.STAGE, "sand")
    assert (stage.moments.earliest, stage.timing) == (None, Timing.UNKNOWN)


def test_bare_metal_is_to_be_primed_within_what_the_primers_sheet_says() -> None:
    within = rule(EPOXY, Topic.PREPARATION, "prime_within", Stance.REQUIRES, high=240.0, unit="min")
    blasted = Preparation(NOON, PreparationKind.BLASTED)
    wiped = Preparation(NOON + 3 * HOUR, PreparationKind.DEGREASED)
    made = panel(plan=PLAN, preparations=(blasted, wiped))
    (item,) = due([made], material(within), NOON + 2 * HOUR)
    assert (item.kind, item.at) == (DueKind.PRIME_BY, NOON + 4 * HOUR)
    (item,) = due([made], material(within), NOON + 5 * HOUR)
    assert item.kind is DueKind.PRIMING_PASSED
    assert due([panel(plan=PLAN)], material(within), NOON) == ()


OUT = (OutdoorSpell(NOON + DAY),)


def stands(*rules: object, at: datetime = NOON + 8 * DAY, **fields: object) -> BareState | None:
    fields.setdefault("spells", OUT)
    bare = bare_outdoors(panel(coat(NOON), **fields), material(*rules), at)  # type: ignore[arg-type]
    return None if bare is None else bare.state


def test_each_thing_a_sheet_can_say_of_the_weather_is_told_apart() -> None:
    assert stands() is BareState.SILENT
    assert stands(outdoors(EPOXY, Stance.FORBIDS)) is BareState.FORBIDDEN
    assert stands(outdoors(EPOXY, high=10 * 1440.0, unit="min")) is BareState.WITHIN
    assert stands(outdoors(EPOXY, high=7 * 1440.0, unit="min")) is BareState.WITHIN, "to the minute is not over"
    assert stands(outdoors(EPOXY, high=7 * 1440.0 - 1, unit="min")) is BareState.OVER
    assert stands(outdoors(EPOXY, unlimited=True)) is BareState.UNLIMITED
    assert stands(outdoors(EPOXY)) is BareState.NO_TIME
    both = (outdoors(EPOXY, high=86_400.0, unit="min"), outdoors(EPOXY, Stance.FORBIDS))
    assert stands(*both) is BareState.FORBIDDEN
    limit = outdoors(EPOXY, Stance.FORBIDS, high=1440.0, unit="min")
    assert stands(limit) is BareState.OVER, "a prohibition beyond a time allows that time and no more"
    assert stands(outdoors(EPOXY, unlimited=True), outdoors(EPOXY)) is BareState.NO_TIME


def test_a_sentence_not_yet_confirmed_is_no_leave() -> None:
    waiting = outdoors(EPOXY, unlimited=True)
    asked = material(proposals=[Proposal(waiting.id, waiting.claim, waiting.sheet)])
    bare = bare_outdoors(panel(coat(NOON), spells=OUT), asked, NOON + 8 * DAY)
    assert bare is not None
    assert bare.state is BareState.UNCONFIRMED


def test_time_outdoors_counts_from_the_coat_on_over_all_spells() -> None:
    spells = (
        OutdoorSpell(NOON - 5 * DAY, NOON + DAY),
        OutdoorSpell(NOON + 2 * DAY, NOON + 3 * DAY),
        OutdoorSpell(NOON + 4 * DAY),
    )
    allowed = outdoors(EPOXY, high=5 * 1440.0, unit="min")
    bare = bare_outdoors(panel(coat(NOON), spells=spells), material(allowed), NOON + 5 * DAY)
    assert bare is not None
    assert bare.stood == 3 * DAY
    assert bare.until == NOON + 7 * DAY
    indoors = bare_outdoors(panel(coat(NOON), spells=spells[:2]), material(allowed), NOON + 5 * DAY)
    assert indoors is not None
    assert (indoors.stood, indoors.until, indoors.outdoors_now) == (2 * DAY, None, False)


def test_metal_without_a_coat_and_topcoats_in_the_weather() -> None:
    bare = bare_outdoors(panel(spells=OUT), material(), NOON + 2 * DAY)
    assert bare is not None
    assert (bare.state, bare.stood) == (BareState.BARE_METAL, DAY)
    assert bare_outdoors(panel(), material(), NOON) is None
    finished = panel(coat(NOON, GLOSS), spells=OUT)
    assert bare_outdoors(finished, material(), NOON + 2 * DAY) is None, "a topcoat is meant for it"


def test_what_is_too_late_comes_first_then_what_comes_first() -> None:
    rules = material(*WINDOW, outdoors(EPOXY, high=20 * 1440.0, unit="min"))
    now = NOON + 2 * DAY
    panels = [
        panel(coat(now - 10 * timedelta(minutes=1), panel_c=20.0), plan=PLAN, id=1, name="opens in 50 min"),
        panel(coat(now - 4 * DAY, panel_c=20.0), plan=PLAN, id=2, name="too late"),
        panel(coat(now - 2 * DAY, panel_c=20.0), plan=PLAN, id=3, name="closes in a day"),
        panel(coat(now - 9 * DAY), plan=PLAN[:1], spells=(OutdoorSpell(now - 8 * DAY),), id=4, name="outdoors"),
        panel(coat(now, SURFACER), plan=PLAN, id=5, name="all of it is on"),
        panel(coat(now - DAY), plan=PLAN, id=6, name="no temperature"),
        panel(coat(now - 4 * DAY, panel_c=20.0), plan=PLAN, id=7, name="done", finished_at=now),
    ]
    found = [(item.panel, item.kind) for item in due(panels, rules, now)]
    assert found == [
        ("too late", DueKind.WINDOW_PASSED),
        ("opens in 50 min", DueKind.WINDOW_OPENS),
        ("closes in a day", DueKind.WINDOW_CLOSES),
        ("outdoors", DueKind.OUTDOORS_ENDS),
        ("no temperature", DueKind.TIME_UNSAID),
    ]


def test_a_panel_without_a_plan_waits_for_any_coat() -> None:
    made = panel(coat(NOON, panel_c=20.0))
    (item,) = due([made], material(window(EPOXY, 60, 4320), window(EPOXY, 5, 10, object_="self")), NOON + 2 * HOUR)
    assert (item.kind, item.at) == (DueKind.WINDOW_CLOSES, NOON + 3 * DAY)
    assert item.step is not None
    assert item.step.upper is None


def test_a_silent_sheet_is_due_to_be_looked_at_while_the_panel_stands_outdoors() -> None:
    (item,) = due([panel(coat(NOON), plan=PLAN[:1], spells=OUT)], material(), NOON + 2 * DAY)
    assert item.kind is DueKind.OUTDOORS_UNSAID
    back = (OutdoorSpell(NOON + DAY, NOON + DAY + HOUR),)
    assert due([panel(coat(NOON), plan=PLAN[:1], spells=back)], material(), NOON + 2 * DAY) == ()


def keys(now: datetime, lead: float = 120, rules: tuple[object, ...] = WINDOW) -> set[str]:
    made = panel(replace(coat(NOON, panel_c=20.0), id=77), plan=PLAN)
    return {a.key for a in alerts(due([made], material(*rules), now), now, lead)}  # type: ignore[arg-type]


def test_alerts_come_once_before_the_window_closes_and_once_after() -> None:
    assert keys(NOON + 30 * timedelta(minutes=1)) == set()
    opened = keys(NOON + HOUR)
    assert len(opened) == 1
    assert keys(NOON + 2 * DAY) == set(), "opened long ago, not yet closing"
    closing = keys(NOON + 3 * DAY - 2 * HOUR)
    assert len(closing) == 1
    assert keys(NOON + 3 * DAY - timedelta(minutes=1)) == closing, "the same matter keeps its key"
    passed = keys(NOON + 3 * DAY + HOUR)
    assert passed == keys(NOON + 30 * DAY)
    assert len(opened | closing | passed) == 3
    shorter = (window(EPOXY, 60, 4319), permits(EPOXY, "surfacer"))
    assert keys(NOON + 3 * DAY - 2 * HOUR, rules=shorter) == closing, "whatever becomes of its moment"


@given(
    st.integers(0, 60 * 24 * 400),
    st.integers(1, 600),
    st.integers(600, 60 * 24 * 60),
    st.sampled_from(["Europe/Berlin", "America/New_York", "Australia/Lord_Howe", "UTC"]),
)
def test_moments_are_elapsed_minutes_in_every_zone_and_season(start: int, low: int, high: int, zone: str) -> None:
    put_on = (datetime(2026, 1, 1, tzinfo=UTC) + timedelta(minutes=start)).astimezone(ZoneInfo(zone))
    made = panel(coat(put_on, panel_c=20.0), plan=PLAN)
    rules = material(window(EPOXY, low, high), permits(EPOXY, "surfacer"))
    step = step_of(next_steps(made, rules, put_on), StepKind.LAYER)
    assert step.moments.earliest is not None
    assert step.moments.latest is not None
    assert (step.moments.earliest - put_on.astimezone(UTC)) / timedelta(minutes=1) == low
    assert (step.moments.latest - put_on.astimezone(UTC)) / timedelta(minutes=1) == high
    for minutes, timing in ((low - 1, Timing.TOO_EARLY), (low, Timing.OPEN), (high + 1, Timing.PASSED)):
        now = (put_on.astimezone(UTC) + timedelta(minutes=minutes)).astimezone(ZoneInfo(zone))
        assert step_of(next_steps(made, rules, now), StepKind.LAYER).timing is timing
        assert due_on(made, rules, now)
