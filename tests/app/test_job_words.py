"""What falls due in words: nothing unknown may read as leave."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest

from app.job_words import (
    bare_words,
    change_words,
    moment_words,
    past_words,
    step_words,
    stood_words,
    tin_dates_words,
    tin_words,
    use_by_words,
)  # fmt: skip
from extract.claims import Claim, Condition, Evidence, Stance, Topic
from store.job_records import (
    ChangeKind,
    ChangeRecord,
    ChangeScope,
    Preparation,
    PreparationKind,
    PreparationRecord,
    Tin,
)
from store.planning.coat_clocks import Moments
from store.planning.next_steps import STAGES, Step, StepKind, Timing
from store.planning.outdoors import Bare, BareState
from store.planning.shelf_life import TinState
from store.planning.tin_dates import TinDates
from store.records import ProductRecord, Rule, SheetRef
from store.rules.reach import ProductParty

NOON = datetime(2026, 3, 29, 12, tzinfo=UTC)
EPOXY = ProductParty(ProductRecord(1, "Granat 12", "Vellmark", "primer.epoxy.2k"))
ABRADE = Rule(
    1,
    Claim(
        Topic.OVERCOAT_WINDOW, "abrade_after", Stance.REQUIRES, Evidence(1, "Later, abrade P180.", ()), low=180.0,
        high=240.0, unit="P",
    ),
    SheetRef(1, 1, "Granat 12", "Vellmark", None),
)  # fmt: skip


def test_moments_are_by_the_clock_of_the_zone() -> None:
    assert moment_words(NOON, ZoneInfo("Europe/Berlin")) == "Sun 29 March 2026, 14:00"
    assert moment_words(NOON - timedelta(days=1), ZoneInfo("Europe/Berlin")) == "Sat 28 March 2026, 13:00"


@pytest.mark.parametrize("kind", list(ChangeKind))
def test_every_change_has_words(kind: ChangeKind) -> None:
    assert "door" in change_words(ChangeRecord(1, ChangeScope.JOB, kind, "door", "Ines", NOON))


@pytest.mark.parametrize("state", list(BareState))
def test_every_state_outdoors_has_words_and_only_a_leave_says_allows(state: BareState) -> None:
    product = None if state is BareState.BARE_METAL else EPOXY
    words = bare_words(Bare(state, product, timedelta(days=5), True, timedelta(days=56), NOON), UTC)
    assert "5 days" in words
    allows = state in {BareState.OVER, BareState.WITHIN, BareState.NO_TIME}
    assert ("its sheet allows" in words) is allows
    if state is BareState.SILENT:
        assert "doesn't say" in words


@pytest.mark.parametrize("stage", STAGES)
def test_every_stage_has_words(stage: str) -> None:
    known = Step(StepKind.STAGE, Moments(NOON), Timing.OPEN, property=stage)
    assert step_words(known, UTC).endswith("from Sun 29 March 2026, 12:00.")
    unknown = Step(StepKind.STAGE, Moments(no_earliest="no temperature is known"), Timing.UNKNOWN, property=stage)
    assert step_words(unknown, UTC).endswith("not known: no temperature is known.")


def test_a_window_says_what_it_does_not_know() -> None:
    found = Moments(NOON, None, False, "", "the sheet gives no latest time")
    words = step_words(Step(StepKind.LAYER, found, Timing.OPEN, EPOXY), UTC)
    assert words == "Granat 12 from Sun 29 March 2026, 12:00; latest not known, the sheet gives no latest time."
    without = step_words(Step(StepKind.ANY, Moments(NOON, unlimited=True), Timing.OPEN), UTC)
    assert without == "The next coat from Sun 29 March 2026, 12:00; with no latest time."


def test_each_of_several_windows_is_said_with_its_conditions() -> None:
    first = Moments(None, NOON, False, "the sheet gives no earliest time", "")
    second = Moments(NOON + timedelta(days=2), unlimited=True, conditions=(Condition.ABRADED,))
    words = step_words(Step(StepKind.LAYER, first, Timing.UNKNOWN, EPOXY, also=(second,)), UTC)
    assert words == (
        "Granat 12 earliest not known, the sheet gives no earliest time; until Sun 29 March 2026, 12:00. "
        "Or from Tue 31 March 2026, 12:00; with no latest time; once it is sanded or keyed."
    )


def test_past_the_latest_the_words_are_the_sheets() -> None:
    passed = Moments(NOON - timedelta(days=2), NOON)
    assert "the sheet doesn't say" in past_words(Step(StepKind.LAYER, passed, Timing.PASSED, EPOXY))
    assert past_words(Step(StepKind.LAYER, passed, Timing.PASSED, EPOXY, past=ABRADE)) == "Abrade it first (P180–P240)."
    wash = replace(ABRADE, claim=replace(ABRADE.claim, low=None, high=None, text="wash", conditions=(Condition.CLEAN,)))
    told = past_words(Step(StepKind.LAYER, passed, Timing.PASSED, EPOXY, past=wash))
    assert told == "Clean it first (wash), and read the sentence."
    done = PreparationRecord(1, 1, Preparation(NOON, PreparationKind.ABRADED, 80))
    wrong = past_words(Step(StepKind.LAYER, passed, Timing.PASSED, EPOXY, past=ABRADE, since=done))
    assert wrong.endswith("with P80: that is not what the sheet asks for.")


def test_tins_say_until_when_and_from_what() -> None:
    good = TinDates(date(2027, 3, 1), TinState.GOOD, "from the day it was made")
    assert tin_dates_words(good) == "good until 1 March 2027 (from the day it was made)"
    past = TinDates(date(2025, 3, 1), TinState.PAST, "from the day it was made")
    assert tin_dates_words(past) == "past its date since 1 March 2025: test it or discard it"
    unknown = TinDates(None, TinState.UNKNOWN, "no date made or bought")
    assert tin_dates_words(unknown) == "good until: not known (no date made or bought)"
    assert use_by_words(good) == "1 March 2027 (from the day it was made)"
    assert use_by_words(past) == "past since 1 March 2025: test or discard"
    assert use_by_words(unknown) == "not known: no date made or bought"


@pytest.mark.parametrize("place", ["bench", "in the cellar", "second shelf, left"])
def test_where_a_tin_stands_reads_well_however_it_is_typed(place: str) -> None:
    words = tin_words(Tin(1, 650, size=1000, batch="7A", place=place), "Granat 12")
    assert words == f"Granat 12 base, 650 ml of 1000 ml left, batch 7A, place: {place}"


def test_spans_in_words() -> None:
    assert stood_words(timedelta(minutes=90)) == "1 h 30"
