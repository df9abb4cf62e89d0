"""A build-up in time as a picture's plain values: a lane a coat, marks on the axis by the clock on the wall. No Qt."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta, tzinfo

from app.figure_words import short_day_words, weekday_words
from app.reason_words import reason_words
from app.translating import translate
from app.verdict_words import party_words
from app.wording import conditions_joined
from extract.claims import Condition
from store.planning.buildup import BuildUp
from store.planning.timeline import Event, EventKind

_LEAST = timedelta(hours=2)
_HOURS = (1, 2, 3, 6, 12)
_DAY_STEPS = (1, 2, 7, 14, 28, 91, 182, 364)


@dataclass(frozen=True, slots=True)
class Opening:
    """A time in which the next coat may go on; None where an end is not known, or unlimited."""

    earliest: datetime | None
    latest: datetime | None
    unlimited: bool = False
    conditions: tuple[Condition, ...] = ()
    why: str = ""
    """Why there is no earliest, as the store gives it."""


@dataclass(frozen=True, slots=True)
class Lane:
    """One coat. put_on None: no sheet gives the moment; waits_for is then the coat that it comes onto, and why is for
    the first of such coats why that takes none at a known time. Times are aware, in any zone.
    """

    layer: int
    name: str
    put_on: datetime | None
    openings: tuple[Opening, ...] = ()
    last: bool = False
    """Nothing goes on it, so it has no next coat to wait for."""
    sandable: datetime | None = None
    cured: datetime | None = None
    waits_for: str = ""
    why: str = ""

    @property
    def moments(self) -> tuple[datetime, ...]:
        opened = (opening.earliest for opening in self.openings)
        found = (self.put_on, *opened, self.sandable, self.cured)
        return tuple(moment for moment in found if moment is not None)


@dataclass(frozen=True, slots=True)
class Chart:
    """begin and end are what is shown at first: latest times far beyond all others run out of the picture."""

    lanes: tuple[Lane, ...]
    begin: datetime
    end: datetime


@dataclass(frozen=True, slots=True)
class Tick:
    at: datetime
    words: str
    strong: bool


def chart_of(events: Sequence[Event], build_up: BuildUp) -> Chart | None:
    """None where no coat has a moment."""
    lanes: list[Lane] = []
    for index in range(1, len(build_up.layers)):
        lanes.append(_lane(index, events, build_up, lanes[-1] if lanes else None))
    moments = [moment for lane in lanes for moment in lane.moments]
    if not moments:
        return None
    begin, end = min(moments), max(moments)
    span = max(end - begin, _LEAST)
    latest = [opening.latest for lane in lanes for opening in lane.openings if opening.latest is not None]
    if latest and set(moments) == {begin}:
        # Nothing else is known: the nearest latest time is what there is to see.
        span = max(min(latest) - begin, span)
    end = max([begin + span, *(moment for moment in latest if moment <= begin + 1.5 * span)])
    return Chart(tuple(lanes), begin - (end - begin) / 40, end + (end - begin) / 12)


def _lane(index: int, events: Sequence[Event], build_up: BuildUp, below: Lane | None) -> Lane:
    own = {event.kind: event for event in events if event.layer == index}

    def at(kind: EventKind) -> datetime | None:
        return own[kind].at if kind in own else None

    return Lane(
        index,
        party_words(build_up.layers[index].party),
        at(EventKind.PUT_ON),
        tuple(_openings([event for event in events if event.layer == index])),
        index == len(build_up.layers) - 1,
        at(EventKind.SANDABLE),
        at(EventKind.CURED),
        below.name if below is not None else "",
        "; ".join(dict.fromkeys(o.why for o in below.openings if o.why)) if below is not None else "",
    )


def lane_words(lane: Lane, start: datetime, zone: tzinfo | None = None) -> str:
    """'put on Mon 08:00 · next coat Mon 16:00 – Fri 08:00 · sand from Mon 12:00'; start is where the chart begins."""
    if lane.put_on is None:
        why = reason_words(lane.why)
        if why:
            return translate("time_line", "when, nobody says: {why}. Give the time waited under Check.").format(why=why)
        return translate("time_line", "when, nobody says: it waits for {coat}").format(coat=lane.waits_for)
    parts = [translate("time_line", "put on {time}").format(time=short_words(lane.put_on, start, zone))]
    if not lane.last:
        parts.append(_next_words(lane, start, zone))
    if lane.sandable is not None:
        words = short_words(lane.sandable, start, zone)
        parts.append(translate("time_line", "sand from {time}").format(time=words))
    if lane.cured is not None:
        parts.append(translate("time_line", "cured {time}").format(time=short_words(lane.cured, start, zone)))
    return " · ".join(parts)


def _openings(events: Sequence[Event]) -> Iterator[Opening]:
    begins = {event.window: event for event in events if event.kind is EventKind.EARLIEST}
    for end in (event for event in events if event.kind is EventKind.LATEST):
        first = begins[end.window]
        yield Opening(first.at, end.at, end.unlimited, end.conditions, "" if first.at is not None else first.note)


def _next_words(lane: Lane, start: datetime, zone: tzinfo | None) -> str:
    """Every opening, the first one's name before it."""
    spans = [words for opening in lane.openings if (words := _span_words(opening, start, zone))]
    if not spans:
        why = "; ".join(dict.fromkeys(reason_words(opening.why) for opening in lane.openings if opening.why))
        return translate("time_line", "next coat: {why}").format(why=why or translate("time_line", "no time known"))
    parted = translate("time_line", ", or ")
    return translate("time_line", "next coat {spans}").format(spans=parted.join(spans))


def _span_words(opening: Opening, start: datetime, zone: tzinfo | None) -> str:
    """'Mon 16:00 – Fri 08:00'; empty where no end is known."""
    earliest = "" if opening.earliest is None else short_words(opening.earliest, start, zone)
    latest = "" if opening.latest is None else short_words(opening.latest, start, zone)
    if earliest and latest:
        words = translate("time_line", "{first} – {last}").format(first=earliest, last=latest)
    elif earliest and opening.unlimited:
        words = translate("time_line", "from {first} on, no limit").format(first=earliest)
    elif earliest:
        words = translate("time_line", "from {first}, latest not known").format(first=earliest)
    elif latest:
        why = reason_words(opening.why) or translate("time_line", "earliest not known")
        words = translate("time_line", "by {last}, but {why}").format(last=latest, why=why)
    else:
        return ""
    return f"{words}, {conditions_joined(opening.conditions)}" if opening.conditions else words


def short_words(at: datetime, start: datetime, zone: tzinfo | None = None) -> str:
    """'Mon 08:00' within six days of the start, '30 Mar 08:00' further off, by the wall's clock."""
    local = at.astimezone(UTC).astimezone(zone)
    if abs(at - start) < timedelta(days=6):
        return f"{weekday_words(local)} {local:%H:%M}"
    return f"{short_day_words(local.date())} {local:%H:%M}"


def ticks(begin: datetime, end: datetime, most: int, zone: tzinfo | None = None) -> tuple[Tick, ...]:
    """At most so many marks at whole hours or midnights of the wall's clock; hours that clocks skip are left out."""
    span = end - begin
    hours = next((step for step in _HOURS if span / timedelta(hours=step) <= most), None)
    if hours is not None:
        return _hour_ticks(begin, end, hours, zone)
    days = next((step for step in _DAY_STEPS if span / timedelta(days=step) <= most), _DAY_STEPS[-1])
    found = []
    day = begin.astimezone(UTC).astimezone(zone).date() + timedelta(days=1)
    while (at := _moment(day, 0, zone)) <= end:
        words = f"{weekday_words(day)} {day.day}" if days == 1 else short_day_words(day)
        found.append(Tick(at, words, days > 1 or day.weekday() == 0))
        day += timedelta(days=days)
    return tuple(found)


def _hour_ticks(begin: datetime, end: datetime, hours: int, zone: tzinfo | None) -> tuple[Tick, ...]:
    found = []
    day = begin.astimezone(UTC).astimezone(zone).date()
    while _moment(day, 0, zone) <= end:
        for hour in range(0, 24, hours):
            at = _moment(day, hour, zone)
            there = at.astimezone(UTC).astimezone(zone).hour == hour
            if begin <= at <= end and there:
                words = f"{weekday_words(day)} {day.day}" if hour == 0 else f"{hour:02d}:00"
                found.append(Tick(at, words, hour == 0))
        day += timedelta(days=1)
    return tuple(found)


def _moment(day: date, hour: int, zone: tzinfo | None) -> datetime:
    at = datetime.combine(day, time(hour))
    return at.astimezone() if zone is None else at.replace(tzinfo=zone)
