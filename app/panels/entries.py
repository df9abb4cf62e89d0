"""The log of a panel as entries, the newest first. No Qt."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime, tzinfo

from app.figure_words import counted_words, number_words, temperature_words
from app.job_words import component_words, moment_words, stood_words
from app.translating import QT_TRANSLATE_NOOP, translate
from store.job_records import (
    CoatRecord,
    PanelRecord,
    PreparationKind,
    PreparationRecord,
    SpellRecord,
    TinRecord,
)

Logged = CoatRecord | PreparationRecord | SpellRecord

_KINDS: Mapping[PreparationKind, str] = {
    PreparationKind.ABRADED: QT_TRANSLATE_NOOP("panels", "Abraded"),
    PreparationKind.BLASTED: QT_TRANSLATE_NOOP("panels", "Blasted"),
    PreparationKind.DERUSTED: QT_TRANSLATE_NOOP("panels", "Derusted"),
    PreparationKind.DEGREASED: QT_TRANSLATE_NOOP("panels", "Degreased"),
}


@dataclass(frozen=True, slots=True)
class LogEntry:
    at: datetime
    when: str
    what: str
    details: tuple[str, ...]
    record: Logged

    @property
    def photo_ids(self) -> tuple[int, ...]:
        return self.record.coat.photo_ids if isinstance(self.record, CoatRecord) else ()


def preparation_words(kind: PreparationKind) -> str:
    return translate("panels", _KINDS[kind])


def entries_of(
    panel: PanelRecord, tins: tuple[TinRecord, ...] = (), zone: tzinfo | None = None
) -> tuple[LogEntry, ...]:
    """Coats, preparations and times outdoors by their moment, the last first."""
    found = [
        *(_coat(record, tins, zone) for record in panel.coats),
        *(_preparation(record, zone) for record in panel.preparations),
        *(_spell(record, zone) for record in panel.spells),
    ]
    return tuple(sorted(found, key=lambda entry: entry.at, reverse=True))


def _coat(record: CoatRecord, tins: tuple[TinRecord, ...], zone: tzinfo | None) -> LogEntry:
    coat = record.coat
    weather = [
        translate("panels", "air {figure}").format(figure=temperature_words(coat.air_c))
        if coat.air_c is not None
        else "",
        translate("panels", "panel {figure}").format(figure=temperature_words(coat.panel_c))
        if coat.panel_c is not None
        else "",
        translate("panels", "humidity {figure} %").format(figure=number_words(coat.humidity))
        if coat.humidity is not None
        else "",
        translate("panels", "wet film {figure} µm").format(figure=number_words(coat.wet_um))
        if coat.wet_um is not None
        else "",
        translate("panels", "dry film {figure} µm").format(figure=number_words(coat.dry_um))
        if coat.dry_um is not None
        else "",
    ]
    by_id = {tin.id: tin for tin in tins}
    details = [", ".join(part for part in weather if part)]
    for drawn in record.drawn:
        tin = by_id.get(drawn.tin_id)
        unit = tin.tin.unit.value if tin is not None else ""
        gone = translate("panels", "a tin gone")
        component = (tin.tin.name or component_words(tin.tin.component)) if tin is not None else gone
        batch = translate("panels", ", batch {batch}").format(batch=tin.tin.batch) if tin and tin.tin.batch else ""
        words = translate("panels", "{amount} {unit} of {tin}{batch}").format(
            amount=number_words(drawn.wanted), unit=unit, tin=component, batch=batch
        )
        if drawn.taken < drawn.wanted:
            words += translate("panels", " (the tin had {taken} {unit} by the books)").format(
                taken=number_words(drawn.taken), unit=unit
            )
        details.append(words)
    details.append(coat.note)
    what = f"{record.product}, {counted_words(coat.coats, 'coat')}"
    return LogEntry(coat.at, moment_words(coat.at, zone), what, tuple(d for d in details if d), record)


def _preparation(record: PreparationRecord, zone: tzinfo | None) -> LogEntry:
    done = record.preparation
    what = preparation_words(done.kind)
    if done.grit is not None:
        what = f"{what}, P{done.grit}"
    elif done.kind is PreparationKind.ABRADED:
        unknown = translate("panels", "grit not noted")
        what = f"{what}, {unknown}"
    return LogEntry(done.at, moment_words(done.at, zone), what, (done.note,) if done.note else (), record)


def _spell(record: SpellRecord, zone: tzinfo | None) -> LogEntry:
    spell = record.spell
    details = [spell.note] if spell.note else []
    if spell.ended is None:
        what = translate("panels", "Put outdoors; it stands there still")
    else:
        what = translate("panels", "Outdoors for {span}").format(span=stood_words(spell.ended - spell.began))
        details.insert(0, translate("panels", "taken in {moment}").format(moment=moment_words(spell.ended, zone)))
    return LogEntry(spell.began, moment_words(spell.began, zone), what, tuple(details), record)
