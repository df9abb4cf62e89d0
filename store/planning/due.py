"""What falls due across the panels in work, the most urgent first, and what to alert the painter to. Pure.

Only what the plan waits for falls due: windows that close, times that are reached, metal that waits for its primer,
primer that stands in the weather.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from enum import StrEnum

from store.job_records import PanelRecord
from store.planning.clocks import Warmth
from store.planning.next_steps import Step, StepKind, Timing, next_steps
from store.planning.outdoors import Bare, BareState, bare_outdoors
from store.rules.comparison import Material


class DueKind(StrEnum):
    WINDOW_PASSED = "window_passed"
    PRIMING_PASSED = "priming_passed"
    OUTDOORS_FORBIDDEN = "outdoors_forbidden"
    OUTDOORS_OVER = "outdoors_over"
    BARE_METAL_OUTDOORS = "bare_metal_outdoors"
    WINDOW_NEVER = "window_never"
    WINDOW_CLOSES = "window_closes"
    PRIME_BY = "prime_by"
    OUTDOORS_ENDS = "outdoors_ends"
    WINDOW_OPENS = "window_opens"
    MAY_NOW = "may_now"
    """The time has come and no latest is known or none exists, or the film was made ready again."""
    OUTDOORS_UNSAID = "outdoors_unsaid"
    """It stands outdoors and the sheet does not say for how long it may."""
    TIME_UNSAID = "time_unsaid"
    """The next coat's earliest time is not known."""


_OVERDUE = frozenset(
    {
        DueKind.WINDOW_PASSED,
        DueKind.PRIMING_PASSED,
        DueKind.OUTDOORS_FORBIDDEN,
        DueKind.OUTDOORS_OVER,
        DueKind.BARE_METAL_OUTDOORS,
        DueKind.WINDOW_NEVER,
    }
)
_DEADLINES = frozenset({DueKind.WINDOW_CLOSES, DueKind.PRIME_BY, DueKind.OUTDOORS_ENDS})
_JUST_OPENED = timedelta(hours=12)
_NO_LEAVE = frozenset({"no", "disputed"})


@dataclass(frozen=True, slots=True)
class DueItem:
    """One thing that is due on a panel. at is in UTC, None where it has no moment; step or bare carries the sentences.

    allowed is False where a sheet forbids the planned coat: the time then counts for nothing until that is settled.
    key stays the same for one matter on one coat, whatever the forecast does to its moment.
    """

    panel_id: int
    panel: str
    job: str
    kind: DueKind
    key: str
    at: datetime | None = None
    step: Step | None = None
    bare: Bare | None = None
    allowed: bool = True

    @property
    def overdue(self) -> bool:
        return self.kind in _OVERDUE


@dataclass(frozen=True, slots=True)
class Alert:
    """Something to tell the painter once: show it unless its key was shown before."""

    key: str
    item: DueItem


def due(
    panels: Sequence[PanelRecord], material: Material, now: datetime, forecast: Sequence[Warmth] = ()
) -> tuple[DueItem, ...]:
    """Everything due on the panels in work, most urgent first: what is too late, then by time, then what has none."""
    items = [item for panel in panels if panel.finished_at is None for item in due_on(panel, material, now, forecast)]
    return tuple(sorted(items, key=_urgency))


def due_on(
    panel: PanelRecord, material: Material, now: datetime, forecast: Sequence[Warmth] = ()
) -> tuple[DueItem, ...]:
    """The same for one panel, finished or not."""
    now = now.astimezone(UTC)
    items = [
        item for step in next_steps(panel, material, now, forecast) if step.needed and (item := _of_step(panel, step))
    ]
    bare = bare_outdoors(panel, material, now)
    if bare is not None and (found := _of_bare(panel, bare)) is not None:
        items.append(found)
    return tuple(sorted(items, key=_urgency))


def alerts(items: Sequence[DueItem], now: datetime, lead_minutes: float) -> tuple[Alert, ...]:
    """What to tell now: deadlines nearer than lead_minutes, what is too late, and windows that have just opened."""
    lead = timedelta(minutes=lead_minutes)
    found = []
    for item in items:
        near = item.at is not None and item.at - lead <= now
        if item.overdue or (item.kind in _DEADLINES and near):
            found.append(Alert(item.key, item))
        elif item.allowed and item.step is not None and _just_opened(item.step, now):
            found.append(Alert(f"{item.key}/opened", item))
    return tuple(found)


def _just_opened(step: Step, now: datetime) -> bool:
    earliest = step.moments.earliest
    return step.timing is Timing.OPEN and earliest is not None and timedelta() <= now - earliest <= _JUST_OPENED


def _of_step(panel: PanelRecord, step: Step) -> DueItem | None:
    at = step.moments
    if step.kind is StepKind.FIRST:
        if at.latest is None:
            return None
        kind = DueKind.PRIMING_PASSED if step.timing is Timing.PASSED else DueKind.PRIME_BY
        return _item(panel, kind, at.latest, step=step)
    if step.timing is Timing.PASSED:
        return _item(panel, DueKind.WINDOW_PASSED, at.latest, step=step)
    if step.timing is Timing.NEVER:
        return _item(panel, DueKind.WINDOW_NEVER, at.latest, step=step)
    if step.timing is Timing.TOO_EARLY:
        return _item(panel, DueKind.WINDOW_OPENS, at.earliest, step=step)
    if step.timing is Timing.REOPENED:
        return _item(panel, DueKind.MAY_NOW, None, step=step)
    if at.latest is not None:
        return _item(panel, DueKind.WINDOW_CLOSES, at.latest, step=step)
    if step.timing is Timing.OPEN:
        return _item(panel, DueKind.MAY_NOW, at.earliest, step=step)
    return _item(panel, DueKind.TIME_UNSAID, None, step=step)


def _of_bare(panel: PanelRecord, bare: Bare) -> DueItem | None:
    if bare.state is BareState.OVER:
        return _item(panel, DueKind.OUTDOORS_OVER, bare.until, bare=bare)
    if not bare.outdoors_now:
        return None
    if bare.state is BareState.FORBIDDEN:
        return _item(panel, DueKind.OUTDOORS_FORBIDDEN, None, bare=bare)
    if bare.state is BareState.BARE_METAL:
        return _item(panel, DueKind.BARE_METAL_OUTDOORS, None, bare=bare)
    if bare.state is BareState.WITHIN:
        return _item(panel, DueKind.OUTDOORS_ENDS, bare.until, bare=bare)
    if bare.state is BareState.UNLIMITED:
        return None
    return _item(panel, DueKind.OUTDOORS_UNSAID, None, bare=bare)


def _item(
    panel: PanelRecord, kind: DueKind, at: datetime | None, *, step: Step | None = None, bare: Bare | None = None
) -> DueItem:
    coat = panel.coats[-1].id if panel.coats else 0
    preparation = panel.preparations[-1].id if panel.preparations and not coat else 0
    spell = panel.spells[-1].id if panel.spells else 0
    what = f"{step.kind.value}{step.layer}" if step is not None else f"outdoors{spell}"
    if step is not None and step.window:
        # The end of a second window is another matter than that of the first.
        what = f"{what}.{step.window}"
    key = f"{panel.id}/{kind.value}/{what}/{coat}/{preparation}"
    allowed = step is None or step.answer is None or step.answer.word not in _NO_LEAVE
    return DueItem(panel.id, panel.panel.name, panel.panel.job, kind, key, at, step, bare, allowed)


_LAST = datetime.max.replace(tzinfo=UTC)
_BY_RANK = {DueKind.MAY_NOW: 2, DueKind.OUTDOORS_UNSAID: 3, DueKind.TIME_UNSAID: 4}


def _urgency(item: DueItem) -> tuple[int, datetime, str, int]:
    rank = 0 if item.overdue else _BY_RANK.get(item.kind, 1)
    return (rank, item.at or _LAST, item.panel.casefold(), item.panel_id)
