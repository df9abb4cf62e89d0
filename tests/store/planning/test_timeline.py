"""A build-up in time: each coat at its earliest moment, by the sheets' tables and the day's temperatures."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from typing import Any
from zoneinfo import ZoneInfo

import pytest
from paper import EPOXY, SHELF, SURFACER, claim, over, party, rule, topped, window

from extract.claims import Stance, Topic
from store.planning.buildup import BuildUp, Layer
from store.planning.buildup_sheets import Sheets
from store.planning.clocks import Warmth, steady
from store.planning.timeline import NO_EARLIEST, Event, EventKind, timeline
from store.records import Rule

START = datetime(2026, 5, 4, 8, 0, tzinfo=UTC)
HOUR = timedelta(hours=1)
NAMES = ("surface.steel", "Granat 12", "NK-310 Plainfield", "Lumo DG")
RULES = (
    over(EPOXY, "surface.steel"),
    topped(EPOXY, "surfacer"),
    topped(SURFACER, "topcoat"),
    window(EPOXY, "surfacer", 960.0, 10080.0, at_c=10.0),
    window(EPOXY, "surfacer", 480.0, 5760.0, at_c=20.0),
)


def dried(product: Any, property_: str, minutes: float, at_c: float = 20.0) -> Rule:
    fields: dict[str, Any] = {"property_": property_, "low": minutes, "high": minutes, "unit": "min", "at_c": at_c}
    return rule(product, claim(Topic.DRYING, None, Stance.STATES, **fields))


def line(
    rules: tuple[Rule, ...], *, start: datetime = START, forecast: tuple[Warmth, ...] = (), **facts: Any
) -> tuple[Event, ...]:
    layers = [Layer(party(name)) for name in NAMES]
    if facts:
        layers[2] = Layer(party(NAMES[2]), **facts)
    return timeline(BuildUp(tuple(layers)), Sheets(rules, products=SHELF), start, forecast or steady(start, 20.0))


def moments(events: tuple[Event, ...], kind: EventKind) -> dict[int, datetime | None]:
    return {event.layer: event.at for event in events if event.kind is kind}


def test_each_coat_goes_on_at_the_earliest_moment_and_the_line_ends_where_no_sheet_gives_one() -> None:
    events = line(RULES)
    assert moments(events, EventKind.PUT_ON) == {1: START, 2: START + 8 * HOUR, 3: None}
    assert moments(events, EventKind.LATEST)[1] == START + 96 * HOUR
    last = events[-1]
    assert (last.kind, last.layer, last.note) == (EventKind.PUT_ON, 3, NO_EARLIEST)


def test_every_moment_of_a_sheet_brings_its_sentences() -> None:
    events = [event for event in line(RULES) if event.kind in {EventKind.EARLIEST, EventKind.LATEST}]
    assert {source for event in events for source in event.sources} == set(RULES[3:])


def test_a_cold_night_counts_at_its_own_pace() -> None:
    night = (Warmth(START, 20.0), Warmth(START + 4 * HOUR, 10.0))
    assert moments(line(RULES, forecast=night), EventKind.EARLIEST)[1] == START + 4 * HOUR + 8 * HOUR


def test_a_coat_whose_time_is_said_goes_on_then() -> None:
    assert moments(line(RULES, after_min=2880.0), EventKind.PUT_ON)[2] == START + 48 * HOUR


def test_sanding_and_cure_stand_on_the_line() -> None:
    events = line((*RULES, dried(EPOXY, "sand", 720.0), dried(EPOXY, "cure", 10080.0), dried(SURFACER, "sand", 180.0)))
    assert moments(events, EventKind.SANDABLE) == {1: START + 12 * HOUR, 2: START + 8 * HOUR + 3 * HOUR}
    assert moments(events, EventKind.CURED) == {1: START + 168 * HOUR}


def test_an_hour_that_the_clocks_skip_is_no_drying_time() -> None:
    zone = ZoneInfo("Europe/Berlin")
    start = datetime(2026, 3, 28, 22, 0, tzinfo=zone)
    put_on = moments(line(RULES, start=start), EventKind.PUT_ON)[2]
    assert put_on is not None
    assert put_on.astimezone(UTC) - start.astimezone(UTC) == 8 * HOUR
    assert (put_on.day, put_on.hour) == (29, 7)


def test_a_start_without_a_zone_is_refused() -> None:
    with pytest.raises(ValueError, match="time zone"):
        line(RULES, start=datetime(2026, 5, 4, 8, 0), forecast=steady(START, 20.0))  # noqa: DTZ001
