"""From a coat in the log and the sheets' rows to moments: the careful reading of temperature and of several sources.

A coat's own temperature holds until the forecast says otherwise. Where the shop's figure differs from what was
measured on the panel, the earliest time runs on the colder of the two and the latest on the warmer.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, datetime

from extract.claims import Condition, Method
from store.job_records import Coat
from store.planning.clocks import Warmth, clock, steady
from store.records import Rule
from store.rules.regimes import Regime, rows_of
from store.rules.window_table import WindowRow

NO_TEMPERATURE = "no temperature is known"
_ANY_C = 20.0
_FORCED_C = 40.0


@dataclass(frozen=True, slots=True)
class Moments:
    """Earliest and latest in UTC; None with a reason, or unlimited. sources are the sentences that were read,
    conditions those that the window itself sets."""

    earliest: datetime | None = None
    latest: datetime | None = None
    unlimited: bool = False
    no_earliest: str = "the sheet gives no earliest time"
    no_latest: str = "the sheet gives no latest time"
    sources: tuple[Rule, ...] = ()
    conditions: tuple[Condition, ...] = ()

    @property
    def never(self) -> bool:
        """True where the earliest lies after the latest."""
        return self.earliest is not None and self.latest is not None and self.earliest > self.latest


@dataclass(frozen=True, slots=True)
class Weather:
    """Temperatures from a coat on: cold for the earliest time, hot for the latest; empty where none is known."""

    start: datetime
    cold: tuple[Warmth, ...]
    hot: tuple[Warmth, ...]


def weather_of(coat: Coat, forecast: Sequence[Warmth]) -> Weather:
    """forecast is the shop's: one figure (clocks.steady) or a few rows; empty where nothing is known."""
    start = coat.at.astimezone(UTC)
    measured = coat.panel_c if coat.panel_c is not None else coat.air_c
    before = [w for w in forecast if w.since.astimezone(UTC) <= start]
    later = tuple(Warmth(w.since.astimezone(UTC), w.temperature) for w in forecast if w not in before)
    shop = max(before, key=lambda w: w.since.astimezone(UTC)).temperature if before else None
    known = [t for t in (measured, shop) if t is not None]
    if not known:
        return Weather(start, later, later)
    return Weather(start, (Warmth(start, min(known)), *later), (Warmth(start, max(known)), *later))


def windows_in(sources: Sequence[Sequence[Regime]], weather: Weather) -> tuple[Moments, ...]:
    """When a coat may go on, each source allowing it in one of its windows: the earlier first, one at the least.

    Windows that no moment suits are left out where another is left.
    """
    found: list[Moments] = []
    for source in sources:
        told = [moments(regime, weather) for regime in source]
        found = [strictest((one, other)) for one in found for other in told] if found else told
    open_ = [one for one in dict.fromkeys(found) if not one.never] or found[:1] or [Moments()]
    return tuple(sorted(open_, key=_begins))


_FIRST, _LAST = datetime.min.replace(tzinfo=UTC), datetime.max.replace(tzinfo=UTC)


def _begins(found: Moments) -> tuple[datetime, datetime]:
    return found.earliest or _FIRST, found.latest or _LAST


def moments(regime: Regime, weather: Weather) -> Moments:
    """The moments of one window."""
    earliest, no_earliest = None, "the sheet gives no earliest time"
    if regime.lows:
        lows = rows_of(regime.lows)
        warmths = _warmths(lows, weather.start, weather.cold)
        if warmths:
            found = clock(lows, weather.start, warmths)
            earliest, no_earliest = found.earliest, found.no_earliest
        else:
            no_earliest = NO_TEMPERATURE
    latest, unlimited, no_latest = None, False, "the sheet gives no latest time"
    if regime.highs:
        highs = rows_of(regime.highs)
        warmths = _warmths(highs, weather.start, weather.hot)
        if warmths:
            found = clock(highs, weather.start, warmths)
            latest, unlimited, no_latest = found.latest, found.unlimited, found.no_latest
        else:
            no_latest = NO_TEMPERATURE
    return Moments(earliest, latest, unlimited, no_earliest, no_latest, regime.used, regime.conditions)


def strictest(parts: Sequence[Moments]) -> Moments:
    """Of sources that all count: the later earliest, the earlier latest; an end that one cannot tell is unknown."""
    if not parts:
        return Moments()
    low_unread = next((p for p in parts if p.earliest is None and gives(p.sources, low=True)), None)
    high_unread = next((p for p in parts if p.latest is None and not p.unlimited and gives(p.sources, low=False)), None)
    lows = [p.earliest for p in parts if p.earliest is not None]
    highs = [p.latest for p in parts if p.latest is not None]
    return Moments(
        max(lows) if lows and low_unread is None else None,
        min(highs) if highs and high_unread is None else None,
        not highs and high_unread is None and any(p.unlimited for p in parts),
        (low_unread or parts[0]).no_earliest,
        (high_unread or parts[0]).no_latest,
        tuple(dict.fromkeys(rule for p in parts for rule in p.sources)),
        tuple(dict.fromkeys(condition for p in parts for condition in p.conditions)),
    )


def gives(rules: Sequence[Rule], *, low: bool) -> bool:
    """Whether the sentences give that end at all, at whatever temperature."""
    if low:
        return any(rule.claim.low is not None for rule in rules)
    return any(rule.claim.high is not None or rule.claim.unlimited for rule in rules)


def stage(rules: Sequence[Rule], weather: Weather) -> Moments | None:
    """When a drying stage or a flash-off in the air is reached: the longer end of what is said. None where unsaid."""
    aired = [
        rule
        for rule in rules
        if rule.claim.method in {None, Method.AIR}
        and (rule.claim.at_c is None or rule.claim.at_c < _FORCED_C)
        and (rule.claim.low is not None or rule.claim.high is not None)
    ]
    if not aired:
        return None
    rows = [WindowRow(r.claim.at_c, r.claim.high if r.claim.high is not None else r.claim.low, None) for r in aired]
    told = [row for row in rows if row.at_c is not None] or rows
    warmths = _warmths(told, weather.start, weather.cold)
    if not warmths:
        return Moments(no_earliest=NO_TEMPERATURE, sources=tuple(aired))
    found = clock(told, weather.start, warmths)
    return Moments(found.earliest, no_earliest=found.no_earliest, sources=tuple(aired))


def _warmths(rows: Sequence[WindowRow], start: datetime, known: Sequence[Warmth]) -> Sequence[Warmth]:
    if known or any(row.at_c is not None for row in rows):
        return known
    return steady(start, _ANY_C)  # No row names a temperature, so any will do.
