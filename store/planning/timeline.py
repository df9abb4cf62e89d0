"""A build-up as times of day: when each coat goes on, may be sanded, is cured, and when the next is due.

A coat goes on when the layers say (after_min), else at the earliest moment that the sheet below allows. Where no sheet
gives that moment the line ends there: the coats above have no time, and the event says why.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from enum import StrEnum

from extract.claims import Condition, Topic
from store.planning.buildup import BuildUp
from store.planning.buildup_sheets import Sheets
from store.planning.buildup_times import window_sources
from store.planning.clocks import Warmth, clock
from store.planning.coat_clocks import Moments, Weather, windows_in
from store.records import Rule
from store.rules.window_table import WindowRow
from store.rules.windows import by_method


class EventKind(StrEnum):
    PUT_ON = "put_on"
    SANDABLE = "sandable"
    EARLIEST = "earliest"
    """The next coat may go on from here."""
    LATEST = "latest"
    CURED = "cured"


@dataclass(frozen=True, slots=True)
class Event:
    """One moment of a layer. at is None where it is not known (note says why) or where there is no end (unlimited).

    A sheet may give several windows for the next coat: window counts them from 0, conditions are the window's own.
    """

    kind: EventKind
    layer: int
    at: datetime | None
    sources: tuple[Rule, ...] = ()
    unlimited: bool = False
    note: str = ""
    window: int = 0
    conditions: tuple[Condition, ...] = ()


NO_EARLIEST = "no sheet gives an earliest time for the coat above"


def timeline(build_up: BuildUp, sheets: Sheets, start: datetime, forecast: Sequence[Warmth]) -> tuple[Event, ...]:
    """Events from the first coat, put on at start (aware), layer by layer. Raises ValueError without a zone."""
    events: list[Event] = []
    now: datetime | None = start
    last = len(build_up.layers) - 1
    for index in range(1, len(build_up.layers)):
        if now is None:
            events.append(Event(EventKind.PUT_ON, index, None, note=NO_EARLIEST))
            continue
        events.append(Event(EventKind.PUT_ON, index, now))
        events += _dried(build_up, index, sheets, now, forecast)
        if index < last:
            window, earliest = _next(build_up, index, sheets, now, forecast)
            events += window
            after = build_up.waited(index + 1)
            now = earliest if after is None else now + timedelta(minutes=after)
    return tuple(events)


def _next(
    build_up: BuildUp, index: int, sheets: Sheets, now: datetime, forecast: Sequence[Warmth]
) -> tuple[list[Event], datetime | None]:
    """Earliest and latest for the coat above layer index, in every window, and when it goes on.

    That is the opening of the first window that sets the fewest conditions; one whose opening is not known is passed.
    """
    lower, upper = build_up.layers[index], build_up.layers[index + 1]
    answer = sheets.answer(lower.party, upper.party, build_up.temperature(index + 1))
    weather = Weather(now, tuple(forecast), tuple(forecast))
    windows = windows_in(window_sources(answer, sheets), weather)
    events = [event for place, told in enumerate(windows) for event in _ends(index, place, told)]
    known = [(len(told.conditions), told.earliest) for told in windows if told.earliest is not None]
    return events, min(known)[1] if known else None


def _ends(index: int, place: int, told: Moments) -> tuple[Event, Event]:
    first = Event(EventKind.EARLIEST, index, told.earliest, told.sources, note=told.no_earliest, window=place)
    end = Event(EventKind.LATEST, index, told.latest, told.sources, told.unlimited, told.no_latest, window=place)
    return replace(first, conditions=told.conditions), replace(end, conditions=told.conditions)


def _dried(build_up: BuildUp, index: int, sheets: Sheets, now: datetime, forecast: Sequence[Warmth]) -> list[Event]:
    """Sandable and cured, where the coat's own sheet gives the times: the longer end of a range."""
    events = []
    for property_, kind in (("sand", EventKind.SANDABLE), ("cure", EventKind.CURED)):
        said = [
            rule
            for rule in sheets.said(build_up.layers[index].party, Topic.DRYING, property_)
            if rule.claim.low is not None or rule.claim.high is not None
        ]
        rules = tuple(by_method(said)) if said else ()
        if rules:
            rows = [
                WindowRow(r.claim.at_c, r.claim.high if r.claim.high is not None else r.claim.low, None) for r in rules
            ]
            told = clock(rows, now, forecast)
            events.append(Event(kind, index, told.earliest, rules, note=told.no_earliest))
    return events
