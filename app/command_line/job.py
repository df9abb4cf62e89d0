"""`tinsheet panels` and `tinsheet due`: the panels in work, and what falls due on them."""

from __future__ import annotations

import argparse
import json
from collections.abc import Sequence
from datetime import UTC, datetime
from typing import Any

from app.command_line.libraries import opened
from app.job_words import bare_words, due_words, moment_words, sources_of, step_words
from store.job_records import PanelRecord
from store.planning.clocks import Warmth, steady
from store.planning.coat_clocks import Moments
from store.planning.due import DueItem, due
from store.planning.fetching import material_of, products_of
from store.planning.next_steps import next_steps, step_sources
from store.planning.outdoors import bare_outdoors
from store.records import Proposal, Rule
from store.rules.comparison import Material


def run(arguments: argparse.Namespace) -> int:
    now = datetime.now(UTC)
    # A shop's steady figure holds for every coat, whenever it was put on.
    forecast = () if arguments.at_c is None else steady(datetime.min.replace(tzinfo=UTC), arguments.at_c)
    with opened(arguments, read_only=True) as library:
        panels = library.panels(finished=arguments.command == "panels" and arguments.finished)
        material = material_of(library, products_of(panels))
    if arguments.command == "due":
        return _due(due(panels, material, now, forecast), as_json=arguments.json)
    return _panels(panels, material, now, forecast, as_json=arguments.json)


def _due(items: Sequence[DueItem], *, as_json: bool) -> int:
    if as_json:
        print(json.dumps([due_json(item) for item in items], ensure_ascii=False, indent=1))
        return 0
    for item in items:
        print(f"{'! ' if item.overdue else '  '}{due_words(item)}")
        for source in sources_of(item):
            print(f"      {source_words(source)}")
    if not items:
        print("Nothing falls due on the panels in work.")
    return 0


def _moments_json(found: Moments) -> dict[str, Any]:
    return {
        "earliest": found.earliest.isoformat() if found.earliest is not None else None,
        "latest": found.latest.isoformat() if found.latest is not None else None,
        "conditions": [condition.value for condition in found.conditions],
    }


def due_json(item: DueItem) -> dict[str, Any]:
    """One due line for scripts, with the sentences that it rests on."""
    return {
        "panel": item.panel,
        "job": item.job,
        "kind": item.kind.value,
        "overdue": item.overdue,
        "at": item.at.isoformat() if item.at is not None else None,
        "allowed": item.allowed,
        "verdict": item.step.answer.word if item.step is not None and item.step.answer is not None else None,
        "words": due_words(item),
        "key": item.key,
        "reasons": [source_json(source) for source in sources_of(item)],
    }


def source_json(source: Rule | Proposal) -> dict[str, Any]:
    evidence = source.claim.evidence
    return {
        "sheet": source.sheet.product,
        "page": evidence.page,
        "quote": evidence.quote,
        "boxes": [list(box) for box in evidence.boxes],
        "status": "confirmed" if isinstance(source, Rule) else "proposed",
    }


def source_words(source: Rule | Proposal) -> str:
    waiting = " (not yet confirmed)" if isinstance(source, Proposal) else ""
    return f"“{source.claim.evidence.quote}” {source.sheet.product}, p. {source.claim.evidence.page}{waiting}"


def _panels(
    panels: Sequence[PanelRecord], material: Material, now: datetime, forecast: Sequence[Warmth], *, as_json: bool
) -> int:
    if as_json:
        print(json.dumps([panel_json(p, material, now, forecast) for p in panels], ensure_ascii=False, indent=1))
        return 0
    for panel in panels:
        print(f"{panel.panel.job + ', ' if panel.panel.job else ''}{panel.panel.name}")
        for record in panel.coats:
            print(f"  {moment_words(record.coat.at)}  {record.product}, {record.coat.coats} ×")
        for step in next_steps(panel, material, now, forecast):
            print(f"  {step_words(step)}")
        bare = bare_outdoors(panel, material, now)
        if bare is not None:
            print(f"  {bare_words(bare)}")
    if not panels:
        print("No panel is in work. Add one in the window, under Panels.")
    return 0


def panel_json(panel: PanelRecord, material: Material, now: datetime, forecast: Sequence[Warmth]) -> dict[str, Any]:
    """A panel with its log, its next steps and how its film stands outdoors."""
    bare = bare_outdoors(panel, material, now)
    return {
        "id": panel.id,
        "name": panel.panel.name,
        "job": panel.panel.job,
        "surface": panel.panel.surface,
        "finished_at": panel.finished_at.isoformat() if panel.finished_at is not None else None,
        "coats": [
            {
                "at": record.coat.at.isoformat(),
                "product": record.product,
                "coats": record.coat.coats,
                "air_c": record.coat.air_c,
                "panel_c": record.coat.panel_c,
                "humidity": record.coat.humidity,
                "wet_um": record.coat.wet_um,
                "dry_um": record.coat.dry_um,
                "note": record.coat.note,
            }
            for record in panel.coats
        ],
        "next": [
            {
                "kind": step.kind.value,
                "verdict": step.answer.word if step.answer is not None else None,
                "timing": step.timing.value,
                **_moments_json(step.moments),
                "words": step_words(step),
                "also": [_moments_json(found) for found in step.also],
                "reasons": [source_json(source) for source in step_sources(step)],
            }
            for step in next_steps(panel, material, now, forecast)
        ],
        "outdoors": None
        if bare is None
        else {
            "state": bare.state.value,
            "stood_minutes": round(bare.stood.total_seconds() / 60),
            "words": bare_words(bare),
            "reasons": [source_json(source) for source in bare.sources],
        },
    }
