"""Panels and parts in work: the planned build-up, and the log of everything done to them.

Every function is one change of the job's undo history. Removing hides; what a removed coat took goes back into its
tins, while removing a whole panel leaves the tins alone, since the paint is used.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from datetime import UTC, datetime
from typing import Any, TypeVar

from sqlalchemy import Connection, select

from extract.kinds import is_known
from store import finding, photos
from store.errors import UnknownRecord, WrongEntry
from store.job_records import (
    ChangeKind,
    ChangeScope,
    Coat,
    CoatRecord,
    Drawn,
    Layer,
    OutdoorSpell,
    Panel,
    PanelRecord,
    Preparation,
    PreparationKind,
    PreparationRecord,
    SpellRecord,
    TinTake,
)
from store.job_tables import CoatRow, PanelRow, PreparationRow, SpellRow
from store.journal import Change, table_of
from store.shelf import draw, give_back
from store.tables import Base, ProductRow

T = TypeVar("T")

MOST_PLAUSIBLE_C = 120.0
LEAST_PLAUSIBLE_C = -50.0


def panels(connection: Connection, *, finished: bool = False, removed: bool = False) -> tuple[PanelRecord, ...]:
    """Those in work by job and name; with finished those that are done too; removed ones only if asked for."""
    query = select(table_of(PanelRow)).where(
        PanelRow.deleted_at.is_not(None) if removed else PanelRow.deleted_at.is_(None)
    )
    if not finished:
        query = query.where(PanelRow.finished_at.is_(None))
    rows = connection.execute(query).all()
    records = [_with_log(connection, row) for row in rows]
    return tuple(sorted(records, key=lambda p: (p.panel.job.casefold(), p.panel.name.casefold(), p.id)))


def panel(connection: Connection, panel_id: int) -> PanelRecord:
    """Also one that was removed."""
    row = connection.execute(select(table_of(PanelRow)).where(PanelRow.id == panel_id)).first()
    if row is None:
        raise UnknownRecord(f"panel {panel_id}")
    return _with_log(connection, row)


def add_panel(connection: Connection, values: Panel, who: str) -> PanelRecord:
    columns = _panel_columns(connection, values)
    change = Change(connection, ChangeScope.JOB, ChangeKind.PANEL_ADDED, values.name, who)
    return panel(connection, change.make(PanelRow, {**columns, "made_at": change.now}))


def change_panel(connection: Connection, panel_id: int, values: Panel, who: str) -> PanelRecord:
    return _put_panel(connection, panel_id, ChangeKind.PANEL_CHANGED, _panel_columns(connection, values), who)


def finish_panel(connection: Connection, panel_id: int, who: str) -> PanelRecord:
    return _put_panel(connection, panel_id, ChangeKind.PANEL_FINISHED, {"finished_at": datetime.now(UTC)}, who)


def reopen_panel(connection: Connection, panel_id: int, who: str) -> PanelRecord:
    return _put_panel(connection, panel_id, ChangeKind.PANEL_REOPENED, {"finished_at": None}, who)


def remove_panel(connection: Connection, panel_id: int, who: str) -> None:
    _put_panel(connection, panel_id, ChangeKind.PANEL_REMOVED, {"deleted_at": datetime.now(UTC)}, who)


def restore_panel(connection: Connection, panel_id: int, who: str) -> PanelRecord:
    return _put_panel(connection, panel_id, ChangeKind.PANEL_RESTORED, {"deleted_at": None}, who)


def log_coat(connection: Connection, panel_id: int, values: Coat, who: str) -> PanelRecord:
    """Log a coat and take from the tins what it used."""
    columns = _coat_columns(connection, values)
    change = _on_panel(connection, panel_id, ChangeKind.COAT_LOGGED, who)
    drawn = draw(change, values.takes, values.at)
    change.make(CoatRow, {**columns, "panel_id": panel_id, "drawn": _drawn_json(drawn)})
    return panel(connection, panel_id)


def change_coat(connection: Connection, coat_id: int, values: Coat, who: str) -> PanelRecord:
    """Put an entry right; its tins get back what it took before and give what it takes now."""
    row = _entry(connection, CoatRow, coat_id, "coat")
    columns = _coat_columns(connection, values)
    change = _on_panel(connection, row.panel_id, ChangeKind.COAT_CHANGED, who)
    give_back(change, _drawn(row.drawn))
    drawn = draw(change, values.takes, values.at)
    change.put(CoatRow, coat_id, {**columns, "drawn": _drawn_json(drawn)})
    return panel(connection, row.panel_id)


def remove_coat(connection: Connection, coat_id: int, who: str) -> PanelRecord:
    row = _entry(connection, CoatRow, coat_id, "coat")
    change = _on_panel(connection, row.panel_id, ChangeKind.COAT_REMOVED, who)
    give_back(change, _drawn(row.drawn))
    change.put(CoatRow, coat_id, {"deleted_at": change.now})
    return panel(connection, row.panel_id)


def log_preparation(connection: Connection, panel_id: int, values: Preparation, who: str) -> PanelRecord:
    columns = _preparation_columns(values)
    change = _on_panel(connection, panel_id, ChangeKind.PREPARATION_LOGGED, who)
    change.make(PreparationRow, {**columns, "panel_id": panel_id})
    return panel(connection, panel_id)


def change_preparation(connection: Connection, preparation_id: int, values: Preparation, who: str) -> PanelRecord:
    columns = _preparation_columns(values)
    return _put_entry(connection, PreparationRow, preparation_id, ChangeKind.PREPARATION_CHANGED, columns, who)


def remove_preparation(connection: Connection, preparation_id: int, who: str) -> PanelRecord:
    gone = {"deleted_at": datetime.now(UTC)}
    return _put_entry(connection, PreparationRow, preparation_id, ChangeKind.PREPARATION_REMOVED, gone, who)


def put_outdoors(connection: Connection, panel_id: int, values: OutdoorSpell, who: str) -> PanelRecord:
    """The panel stands outdoors from a time on, until taken in or, where values say so, until its end.

    Raises WrongEntry where the spell runs into another one.
    """
    _check_spell(panel(connection, panel_id), values, None)
    change = _on_panel(connection, panel_id, ChangeKind.PUT_OUTDOORS, who)
    change.make(SpellRow, {**_spell_columns(values), "panel_id": panel_id})
    return panel(connection, panel_id)


def take_in(connection: Connection, panel_id: int, at: datetime, who: str) -> PanelRecord:
    """The panel is indoors again. Raises WrongEntry where it did not stand outdoors."""
    record = panel(connection, panel_id)
    if record.outdoors is None:
        raise WrongEntry("ended", "the panel does not stand outdoors")
    began = record.outdoors.spell.began
    if _aware(at, "ended") < began:
        raise WrongEntry("ended", "it was taken in before it was put out")
    return _put_entry(connection, SpellRow, record.outdoors.id, ChangeKind.TAKEN_IN, {"ended": at}, who)


def change_spell(connection: Connection, spell_id: int, values: OutdoorSpell, who: str) -> PanelRecord:
    row = _entry(connection, SpellRow, spell_id, "spell outdoors")
    _check_spell(panel(connection, row.panel_id), values, spell_id)
    return _put_entry(connection, SpellRow, spell_id, ChangeKind.SPELL_CHANGED, _spell_columns(values), who)


def remove_spell(connection: Connection, spell_id: int, who: str) -> PanelRecord:
    gone = {"deleted_at": datetime.now(UTC)}
    return _put_entry(connection, SpellRow, spell_id, ChangeKind.SPELL_REMOVED, gone, who)


def _on_panel(connection: Connection, panel_id: int, kind: ChangeKind, who: str) -> Change:
    name = connection.scalar(select(PanelRow.name).where(PanelRow.id == panel_id))
    if name is None:
        raise UnknownRecord(f"panel {panel_id}")
    return Change(connection, ChangeScope.JOB, kind, name, who)


def _put_panel(
    connection: Connection, panel_id: int, kind: ChangeKind, columns: dict[str, Any], who: str
) -> PanelRecord:
    _on_panel(connection, panel_id, kind, who).put(PanelRow, panel_id, columns)
    return panel(connection, panel_id)


def _put_entry(
    connection: Connection, table: type[Base], entry_id: int, kind: ChangeKind, columns: dict[str, Any], who: str
) -> PanelRecord:
    row = _entry(connection, table, entry_id, table.__tablename__)
    _on_panel(connection, row.panel_id, kind, who).put(table, entry_id, columns)
    return panel(connection, row.panel_id)


def _entry(connection: Connection, kind: type[Base], entry_id: int, what: str) -> Any:
    table = table_of(kind)
    row = connection.execute(select(table).where(table.c.id == entry_id, table.c.deleted_at.is_(None))).first()
    if row is None:
        raise UnknownRecord(f"{what} {entry_id}")
    return row


def _with_log(connection: Connection, row: Any) -> PanelRecord:
    values = Panel(row.name, row.job, row.surface, tuple(_layer(layer) for layer in row.plan), row.note)
    on = select(CoatRow.product_id).where(CoatRow.panel_id == row.id)
    found = connection.execute(select(ProductRow.id, ProductRow.name).where(ProductRow.id.in_(on)))
    names = {product.id: product.name for product in found}
    coats = _log(connection, CoatRow, row.id, "at", lambda r: _coat_record(r, names[r.product_id]))
    preparations = _log(
        connection,
        PreparationRow,
        row.id,
        "at",
        lambda r: PreparationRecord(r.id, r.panel_id, Preparation(r.at, r.kind, r.grit, r.note)),
    )
    spells = _log(
        connection,
        SpellRow,
        row.id,
        "began",
        lambda r: SpellRecord(r.id, r.panel_id, OutdoorSpell(r.began, r.ended, r.note)),
    )
    return PanelRecord(row.id, values, row.made_at, row.finished_at, tuple(coats), tuple(preparations), tuple(spells))


def _log(connection: Connection, kind: type[Base], panel_id: int, by: str, record: Callable[[Any], T]) -> Sequence[T]:
    table = table_of(kind)
    rows = connection.execute(
        select(table)
        .where(table.c.panel_id == panel_id, table.c.deleted_at.is_(None))
        .order_by(table.c[by], table.c.id)
    ).all()
    return [record(row) for row in rows]


def _coat_record(row: Any, product: str) -> CoatRecord:
    drawn = tuple(_drawn(row.drawn))
    coat = Coat(
        at=row.at,
        product_id=row.product_id,
        coats=row.coats,
        takes=tuple(TinTake(part.tin_id, part.wanted) for part in drawn),
        air_c=row.air_c,
        panel_c=row.panel_c,
        humidity=row.humidity,
        wet_um=row.wet_um,
        dry_um=row.dry_um,
        note=row.note,
        photo_ids=tuple(row.photo_ids),
    )
    return CoatRecord(row.id, row.panel_id, coat, product, drawn)


def _drawn(parts: Sequence[Sequence[Any]]) -> list[Drawn]:
    return [Drawn(int(tin), float(wanted), float(taken), bool(opened)) for tin, wanted, taken, opened in parts]


def _drawn_json(drawn: Sequence[Drawn]) -> list[list[Any]]:
    return [[part.tin_id, part.wanted, part.taken, part.opened] for part in drawn]


def _layer(data: dict[str, Any]) -> Layer:
    return Layer(data.get("product_id"), data.get("kind"), data.get("coats"), data.get("dry_um"), data.get("note", ""))


def _panel_columns(connection: Connection, values: Panel) -> dict[str, Any]:
    if not values.name.strip():
        raise WrongEntry("name", "a panel needs a name")
    if values.surface is not None and not is_known(values.surface):
        raise WrongEntry("surface", f"{values.surface} is no surface that the program knows")
    plan = []
    for layer in values.plan:
        if layer.product_id is not None:
            finding.product(connection, layer.product_id)
        elif layer.kind is None or not is_known(layer.kind):
            raise WrongEntry("plan", "each layer is a product or a kind")
        said = {
            "product_id": layer.product_id, "kind": layer.kind, "coats": layer.coats, "dry_um": layer.dry_um,
            "note": layer.note,
        }  # fmt: skip
        plan.append({name: value for name, value in said.items() if value not in (None, "")})
    return {
        "name": values.name.strip(),
        "job": values.job.strip(),
        "surface": values.surface,
        "plan": plan,
        "note": values.note,
    }


def _coat_columns(connection: Connection, values: Coat) -> dict[str, Any]:
    finding.product(connection, values.product_id)
    _aware(values.at, "at")
    if values.coats < 1:
        raise WrongEntry("coats", "at least one coat was put on")
    _between("air_c", values.air_c, LEAST_PLAUSIBLE_C, MOST_PLAUSIBLE_C, "the air temperature")
    _between("panel_c", values.panel_c, LEAST_PLAUSIBLE_C, MOST_PLAUSIBLE_C, "the panel's temperature")
    _between("humidity", values.humidity, 0, 100, "the humidity")
    _between("wet_um", values.wet_um, 0, 100_000, "the wet film")
    _between("dry_um", values.dry_um, 0, 100_000, "the dry film")
    for photo_id in values.photo_ids:
        photos.photo(connection, photo_id)
    return {
        "product_id": values.product_id,
        "at": values.at,
        "coats": values.coats,
        "air_c": values.air_c,
        "panel_c": values.panel_c,
        "humidity": values.humidity,
        "wet_um": values.wet_um,
        "dry_um": values.dry_um,
        "note": values.note,
        "photo_ids": list(values.photo_ids),
    }


def _preparation_columns(values: Preparation) -> dict[str, Any]:
    _aware(values.at, "at")
    if values.grit is not None and (values.kind is not PreparationKind.ABRADED or values.grit <= 0):
        raise WrongEntry("grit", "a grit goes with abrading, and is above nothing")
    return {"at": values.at, "kind": values.kind, "grit": values.grit, "note": values.note}


def _spell_columns(values: OutdoorSpell) -> dict[str, Any]:
    return {"began": values.began, "ended": values.ended, "note": values.note}


def _check_spell(record: PanelRecord, values: OutdoorSpell, but: int | None) -> None:
    began = _aware(values.began, "began")
    ended = None if values.ended is None else _aware(values.ended, "ended")
    if ended is not None and ended < began:
        raise WrongEntry("ended", "it was taken in before it was put out")
    for other in record.spells:
        runs_on = other.spell.ended is None or other.spell.ended > began
        if other.id != but and runs_on and (ended is None or other.spell.began < ended):
            raise WrongEntry("began", "the panel stood outdoors then already")


def _aware(at: datetime, field: str) -> datetime:
    if at.tzinfo is None:
        raise WrongEntry(field, "a time needs its time zone")
    return at.astimezone(UTC)  # Two times of one zone compare by the wall clock, which is wrong when clocks change.


def _between(field: str, value: float | None, low: float, high: float, what: str) -> None:
    if value is not None and not (math.isfinite(value) and low <= value <= high):
        raise WrongEntry(field, f"{what} lies outside {low:g} to {high:g}")
