"""The list beside the panels' pages: what falls due, the panels in work, the finished ones. No widget in it."""

from __future__ import annotations

from app.grouped_list import Entry, Group
from app.panels.seen import Seen, panel_name
from app.translating import translate
from store.job_records import PanelRecord

DUE = "due"
"""The payload of the entry for what falls due; a panel's is its id."""


def groups_of(seen: Seen) -> tuple[Group, ...]:
    in_work = tuple(_entry(panel, seen) for panel in seen.held.in_work)
    finished = tuple(
        Entry(panel_name(panel), "", panel.id, "confirmed", translate("panels", "finished"))
        for panel in seen.held.panels
        if panel.finished_at is not None
    )
    return (
        Group("", (_due_entry(seen),)),
        Group(translate("panels", "In work"), in_work),
        Group(translate("panels", "Finished"), finished),
    )


def _due_entry(seen: Seen) -> Entry:
    count = len(seen.due)
    late = sum(item.overdue for item in seen.due)
    if late:
        beside = translate("panels", "{count} things, {late} too late").format(count=count, late=late)
    else:
        words = translate("panels", "{count} things").format(count=count)
        beside = words if count else translate("panels", "nothing now")
    return Entry(translate("panels", "What falls due"), beside, DUE, "no" if late else "wait" if count else "yes")


def _entry(panel: PanelRecord, seen: Seen) -> Entry:
    due, bare = seen.lines[panel.id]
    words = [due.said if due is not None else translate("panels", "nothing planned next")]
    if bare is not None:
        words.append(bare.said)
    worst = next((short for short in (due, bare) if short is not None and short.shape == "no"), due or bare)
    return Entry(panel_name(panel), "\n".join(words), panel.id, worst.shape if worst else "", "")
