"""Everything that the panels' place shows at a moment, worked out off the main thread. No widget in it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

from app.due_list.words import Short, bare_short, due_short, step_short
from app.panels.held import Held, PanelNow, panel_now
from store.errors import PhotoMissing
from store.job_records import PanelRecord
from store.planning.clocks import Warmth
from store.planning.due import DueItem
from store.records import ProductRecord
from store.rules.reach import ProductParty

if TYPE_CHECKING:
    from store.library import Library


@dataclass(frozen=True, slots=True)
class Seen:
    """Everything that the place shows at a moment, worked out off the main thread."""

    held: Held
    now: datetime
    due: tuple[DueItem, ...]
    lines: dict[int, tuple[Short | None, Short | None]]
    """By panel: what is due next on it, and how it stands outdoors."""
    panel: PanelNow | None
    photos: dict[int, Path]


def see(library: Library, held: Held, wanted: int | None, now: datetime, forecast: Sequence[Warmth]) -> Seen:
    """What there is to show of what was read, with the panel `wanted` in front; none where there is no such panel."""
    due = held.due(now, forecast)
    lines = {record.id: _line(record, held, due, now, forecast) for record in held.panels}
    record = held.panel(wanted)
    panel = panel_now(record, held, now, forecast) if record is not None else None
    photos = _photos(library, record) if record is not None else {}
    return Seen(held, now, due, lines, panel, photos)


def panel_name(panel: PanelRecord) -> str:
    return f"{panel.panel.job}, {panel.panel.name}" if panel.panel.job else panel.panel.name


def waited_for(panel: PanelNow) -> ProductRecord | None:
    """The product of the step that the plan waits for; None where it is a kind, or nothing is planned."""
    step = next((step for step in panel.steps if step.needed), None)
    return step.upper.product if step is not None and isinstance(step.upper, ProductParty) else None


def _line(
    record: PanelRecord, held: Held, due: Sequence[DueItem], now: datetime, forecast: Sequence[Warmth]
) -> tuple[Short | None, Short | None]:
    if record.finished_at is not None:
        return None, None
    found = panel_now(record, held, now, forecast)
    first = next((item for item in due if item.panel_id == record.id and item.bare is None), None)
    bare = bare_short(found.bare, now) if found.bare is not None and found.bare.stood else None
    if first is not None:
        return due_short(first, now), bare
    step = next((step for step in found.steps if step.needed), None)
    return (step_short(step, now) if step is not None else None), bare


def _photos(library: Library, record: PanelRecord) -> dict[int, Path]:
    """Where the photos lie, without those that somebody took away."""
    found = {}
    for photo_id in {photo for coat in record.coats for photo in coat.coat.photo_ids}:
        try:
            found[photo_id] = library.photo_path(photo_id)
        except PhotoMissing:
            continue
    return found
