"""'Within 1 h or after 48 h' through the whole job: check, time line, panels, what falls due."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st
from job_paper import EPOXY, GLOSS, SHELF, SURFACER, coat, material, panel, permits, rule, window

from extract.claims import Condition, Stance, Topic
from store.job_records import Layer as PlannedLayer
from store.job_records import PanelRecord, Preparation, PreparationKind
from store.planning.buildup import BuildUp, FindingKind, Layer
from store.planning.buildup_check import check
from store.planning.buildup_sheets import Sheets
from store.planning.clocks import Warmth, steady
from store.planning.due import DueItem, DueKind, alerts, due
from store.planning.next_steps import Step, StepKind, Timing, next_steps
from store.planning.timeline import EventKind, timeline
from store.records import Rule
from store.rules.reach import KindParty, ProductParty

NOON = datetime(2026, 3, 28, 12, tzinfo=UTC)
MINUTE, HOUR = timedelta(minutes=1), timedelta(hours=1)
TWO = "Recoat within 1 h or after 48 h at 20 °C."
FIRST = window(EPOXY, None, 60, quote=TWO)
SECOND = window(EPOXY, 2880, None, quote=TWO)
ABRADE = rule(EPOXY, Topic.OVERCOAT_WINDOW, "abrade_after", Stance.REQUIRES, low=320.0, high=400.0, unit="P")
LEAVE = permits(EPOXY, "surfacer")
RULES = (FIRST, SECOND, LEAVE)
PLAN = (PlannedLayer(product_id=EPOXY.id), PlannedLayer(product_id=SURFACER.id))


def stack(**facts: object) -> BuildUp:
    upper = Layer(ProductParty(SURFACER), **facts)  # type: ignore[arg-type]
    return BuildUp((Layer(KindParty("surface.steel")), Layer(ProductParty(EPOXY)), upper))


def findings(rules: tuple[Rule, ...], **facts: object) -> list[tuple[FindingKind, str, float | None]]:
    found = check(stack(at_c=20.0, **facts), Sheets(rules, (), (), SHELF)).findings
    return [(one.kind, one.word, one.allowed) for one in found if one.layer == 2]


def step(at: datetime, *rules: Rule, **fields: object) -> Step:
    made = panel(coat(NOON, panel_c=20.0), plan=PLAN, **fields)  # type: ignore[arg-type]
    (found,) = [s for s in next_steps(made, material(*(rules or RULES)), at) if s.kind is StepKind.LAYER]
    return found


@pytest.mark.parametrize("abraded", [None, True])
@pytest.mark.parametrize("hours", [1.5, 5.0, 47.0])
def test_between_the_two_it_is_too_early_and_no_sanding_helps(hours: float, abraded: bool | None) -> None:
    found = findings((*RULES, ABRADE), after_min=hours * 60, abraded=abraded)
    assert found == [(FindingKind.TOO_EARLY, "no", 2880.0)]


@pytest.mark.parametrize("hours", [0.5, 1.0, 48.0, 500.0])
def test_within_the_first_and_after_the_second_nothing_is_wrong(hours: float) -> None:
    assert findings(RULES, after_min=hours * 60) == []


def test_the_time_line_shows_both_and_goes_on_with_the_one_whose_opening_is_known() -> None:
    events = timeline(stack(), Sheets(RULES, (), (), SHELF), NOON, steady(NOON, 20.0))
    ends = {(e.window, e.kind): e.at for e in events if e.layer == 1 and e.kind is not EventKind.PUT_ON}
    assert ends == {
        (0, EventKind.EARLIEST): None, (0, EventKind.LATEST): NOON + HOUR,
        (1, EventKind.EARLIEST): NOON + 48 * HOUR, (1, EventKind.LATEST): None,
    }  # fmt: skip
    assert [e.at for e in events if e.layer == 2 and e.kind is EventKind.PUT_ON] == [NOON + 48 * HOUR]


def test_the_time_line_takes_the_plain_window_before_one_on_a_condition() -> None:
    plain = window(EPOXY, 480, 2880)
    keyed = rule(
        EPOXY, Topic.OVERCOAT_WINDOW, "window", Stance.STATES, "abraded", low=240.0, high=5760.0, unit="min", at_c=20.0
    )
    events = timeline(stack(), Sheets((plain, keyed, LEAVE), (), (), SHELF), NOON, steady(NOON, 20.0))
    assert [e.at for e in events if e.layer == 2 and e.kind is EventKind.PUT_ON] == [NOON + 8 * HOUR]
    assert {e.conditions for e in events if e.kind is EventKind.EARLIEST} == {(), (Condition.ABRADED,)}


def test_a_panel_looks_at_the_window_that_counts_now() -> None:
    early = step(NOON + 30 * MINUTE)
    assert (early.timing, early.moments.latest, early.window) == (Timing.UNKNOWN, NOON + HOUR, 0)
    assert [one.earliest for one in early.also] == [NOON + 48 * HOUR]
    between = step(NOON + 5 * HOUR)
    assert (between.timing, between.moments.earliest, between.window) == (Timing.TOO_EARLY, NOON + 48 * HOUR, 1)
    assert between.also == ()
    assert step(NOON + 50 * HOUR).timing is Timing.OPEN


def test_abrading_between_the_two_opens_nothing() -> None:
    done = (Preparation(NOON + 2 * HOUR, PreparationKind.ABRADED, 320),)
    found = step(NOON + 5 * HOUR, *RULES, ABRADE, preparations=done)
    assert found.timing is Timing.TOO_EARLY


def test_past_the_last_of_several_the_sheets_abrading_opens_it_again() -> None:
    quote = "Within 1 h, or between 48 and 72 h."
    rules = (window(EPOXY, None, 60, quote=quote), window(EPOXY, 2880, 4320, quote=quote), LEAVE, ABRADE)
    late = NOON + 80 * HOUR
    passed = step(late, *rules)
    assert (passed.timing, passed.moments.latest) == (Timing.PASSED, NOON + 72 * HOUR)
    done = (Preparation(NOON + 75 * HOUR, PreparationKind.ABRADED, 320),)
    assert step(late, *rules, preparations=done).timing is Timing.REOPENED
    early = (Preparation(NOON + 5 * HOUR, PreparationKind.ABRADED, 320),)
    assert step(late, *rules, preparations=early).timing is Timing.PASSED


def test_washing_asked_for_past_the_latest_is_not_done_by_sanding() -> None:
    wash = rule(
        EPOXY, Topic.OVERCOAT_WINDOW, "abrade_after", Stance.REQUIRES, "clean", text="wash",
        quote="After 7 days wash the film, then a thin coat first.",
    )  # fmt: skip
    done = (Preparation(NOON + 8 * 24 * HOUR, PreparationKind.ABRADED, 320),)
    found = step(NOON + 9 * 24 * HOUR, window(EPOXY, 60, 10_080), LEAVE, wash, preparations=done)
    assert (found.timing, found.past) == (Timing.PASSED, wash)


def test_a_window_on_a_condition_carries_it() -> None:
    wiped = rule(
        EPOXY, Topic.OVERCOAT_WINDOW, "window", Stance.STATES, "clean", low=480.0, high=1440.0, unit="min", at_c=20.0
    )
    rules = (window(EPOXY, 300, 480), wiped, LEAVE)
    assert step(NOON + 6 * HOUR, *rules).moments.conditions == ()
    late = step(NOON + 10 * HOUR, *rules)
    assert (late.timing, late.moments.conditions) == (Timing.OPEN, (Condition.CLEAN,))


def of_layer(made: PanelRecord, at: datetime, *rules: Rule) -> DueItem:
    (found,) = [i for i in due([made], material(*rules), at) if i.step is not None and i.step.kind is StepKind.LAYER]
    return found


def test_each_window_falls_due_and_is_told_of_once() -> None:
    quote = "Within 1 h, or between 48 and 72 h."
    rules = (window(EPOXY, None, 60, quote=quote), window(EPOXY, 2880, 4320, quote=quote), LEAVE)
    made, told = panel(coat(NOON, panel_c=20.0), plan=PLAN), []
    for after in (0.5, 5, 50, 71.5, 80):
        now = NOON + after * HOUR
        item = of_layer(made, now, *rules)
        told.append((item.kind, item.at, [alert.key for alert in alerts([item], now, 60)]))
    assert [(kind, at) for kind, at, _ in told] == [
        (DueKind.WINDOW_CLOSES, NOON + HOUR),
        (DueKind.WINDOW_OPENS, NOON + 48 * HOUR),
        (DueKind.WINDOW_CLOSES, NOON + 72 * HOUR),
        (DueKind.WINDOW_CLOSES, NOON + 72 * HOUR),
        (DueKind.WINDOW_PASSED, NOON + 72 * HOUR),
    ]
    keys = [key for _, _, found in told for key in found]
    assert len(keys) == len(set(keys)) == 4, "the first closes, the second opens, closes, and has passed"


def test_too_warm_for_the_sheets_latest_time_is_no_leave() -> None:
    rules = material(window(EPOXY, 60, 1440), LEAVE)
    made = panel(coat(NOON, panel_c=30.0), plan=PLAN)
    (found,) = [s for s in next_steps(made, rules, NOON + 30 * HOUR) if s.kind is StepKind.LAYER]
    assert found.moments.earliest == NOON + HOUR
    assert found.timing is Timing.UNKNOWN


@given(
    st.integers(1, 3000), st.integers(1, 3000), st.integers(1, 3000), st.integers(0, 9000),
    st.sampled_from([15.0, 20.0, 26.0]),
)  # fmt: skip
def test_no_clock_opens_between_the_two(end: int, gap: int, length: int, asked: int, panel_c: float) -> None:
    quote = "Within the one, or between the others."
    rules = (
        window(EPOXY, 0, end, quote=quote),
        window(EPOXY, end + gap, end + gap + length, quote=quote),
        LEAVE,
    )
    made = panel(coat(NOON, panel_c=panel_c), plan=PLAN)
    now = NOON + asked * MINUTE
    (found,) = [s for s in next_steps(made, material(*rules), now) if s.kind is StepKind.LAYER]
    suits = asked <= end or end + gap <= asked <= end + gap + length
    if not suits:
        assert found.timing is not Timing.OPEN
    elif panel_c == 20.0:
        assert found.timing is Timing.OPEN


def test_a_hot_spell_shuts_the_second_window_as_it_would_a_single_one() -> None:
    quote = "10 min to 1 h, or 2 to 3 days"
    rows = [
        window(EPOXY, low, high, at_c=at_c, quote=f"{quote} at {at_c}")
        for at_c, spans in ((20.0, ((10, 60), (2880, 4320))), (30.0, ((5, 30), (1440, 2160))))
        for low, high in spans
    ]
    forecast = (Warmth(NOON, 20.0), Warmth(NOON + 40 * HOUR, 30.0))
    events = timeline(stack(), Sheets((*rows, LEAVE), (), (), (EPOXY, SURFACER, GLOSS)), NOON, forecast)
    latest = {e.window: e.at for e in events if e.layer == 1 and e.kind is EventKind.LATEST}
    # The hotter row's 36 h have gone by when it turns hot: the window shuts there.
    assert latest == {0: NOON + HOUR}


def test_a_window_that_never_opens_is_left_out_where_another_does() -> None:
    quote = "10 min to 1 h, or after 2 days"
    rules = (window(EPOXY, 10, 60, quote=quote), window(EPOXY, 2880, None, quote=quote), LEAVE)
    events = timeline(stack(), Sheets(rules, (), (), SHELF), NOON, steady(NOON, 20.0))
    assert [e.at for e in events if e.layer == 2 and e.kind is EventKind.PUT_ON] == [NOON + 10 * MINUTE]
