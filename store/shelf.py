"""Tins on the shelf: what is left in them, and what coats take from them and give back.

What is left is never below nothing: a coat that took more than the books say leaves the tin empty, and keeps both
what was wanted and what was taken, so that giving back restores the books exactly.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from datetime import date, datetime
from typing import Any

from sqlalchemy import Connection, Select, select

from store import finding
from store.errors import UnknownRecord, WrongEntry
from store.job_records import ChangeKind, ChangeScope, Drawn, Tin, TinRecord, TinTake
from store.job_tables import TinRow
from store.journal import Change
from store.tables import MakerRow, ProductRow

_EXACT = 6
"""Decimals that amounts are kept to: far below a drop, and taking and giving back cancel out."""


def tins(connection: Connection, *, removed: bool = False) -> tuple[TinRecord, ...]:
    """By product, then component, the tin that is open before the rest; or those that were removed."""
    which = TinRow.deleted_at.is_not(None) if removed else TinRow.deleted_at.is_(None)
    found = [_record(row) for row in connection.execute(_query().where(which))]
    return tuple(
        sorted(found, key=lambda t: (t.product.casefold(), t.tin.component.value, t.tin.opened or date.max, t.id))
    )


def tin(connection: Connection, tin_id: int) -> TinRecord:
    """Also one that was removed."""
    row = connection.execute(_query().where(TinRow.id == tin_id)).first()
    if row is None:
        raise UnknownRecord(f"tin {tin_id}")
    return _record(row)


def add_tin(connection: Connection, values: Tin, who: str) -> TinRecord:
    product = finding.product(connection, values.product_id)
    _check(values)
    change = Change(connection, ChangeScope.JOB, ChangeKind.TIN_ADDED, product.name, who)
    return tin(connection, change.make(TinRow, {**_columns(values), "kept_since": change.now}))


def change_tin(connection: Connection, tin_id: int, values: Tin, who: str) -> TinRecord:
    tin(connection, tin_id)
    product = finding.product(connection, values.product_id)
    _check(values)
    change = Change(connection, ChangeScope.JOB, ChangeKind.TIN_CHANGED, product.name, who)
    change.put(TinRow, tin_id, _columns(values))
    return tin(connection, tin_id)


def remove_tin(connection: Connection, tin_id: int, who: str) -> None:
    change = Change(connection, ChangeScope.JOB, ChangeKind.TIN_REMOVED, tin(connection, tin_id).product, who)
    change.put(TinRow, tin_id, {"deleted_at": change.now})


def restore_tin(connection: Connection, tin_id: int, who: str) -> TinRecord:
    change = Change(connection, ChangeScope.JOB, ChangeKind.TIN_RESTORED, tin(connection, tin_id).product, who)
    change.put(TinRow, tin_id, {"deleted_at": None})
    return tin(connection, tin_id)


def draw(change: Change, takes: Sequence[TinTake], at: datetime) -> list[Drawn]:
    """Take from tins what a coat used; a tin's first use opens it on the day of the coat, as the coat's zone has it."""
    drawn = []
    for take in takes:
        if not math.isfinite(take.amount) or take.amount < 0:
            raise WrongEntry("amount", "an amount taken from a tin cannot be below nothing")
        held = tin(change.connection, take.tin_id).tin
        taken = min(take.amount, held.left)
        opens = held.opened is None and take.amount > 0
        values: dict[str, Any] = {"remaining": round(held.left - taken, _EXACT)}
        if opens:
            values["opened"] = at.date()
        change.put(TinRow, take.tin_id, values)
        drawn.append(Drawn(take.tin_id, take.amount, taken, opens))
    return drawn


def give_back(change: Change, drawn: Sequence[Drawn]) -> None:
    """Put back what draw took, never above the tin's size."""
    for part in drawn:
        held = tin(change.connection, part.tin_id).tin
        left = round(held.left + part.taken, _EXACT)
        values: dict[str, Any] = {"remaining": left if held.size is None else min(left, held.size)}
        if part.opened:
            values["opened"] = None
        change.put(TinRow, part.tin_id, values)


def _query() -> Select[*tuple[Any, ...]]:
    return (
        select(
            *TinRow.__table__.columns,
            ProductRow.name.label("product"),
            ProductRow.kind.label("kind"),
            MakerRow.name.label("maker"),
        )
        .join_from(TinRow, ProductRow, ProductRow.id == TinRow.product_id)
        .join(MakerRow, MakerRow.id == ProductRow.maker_id)
    )


def _record(row: Any) -> TinRecord:
    values = Tin(
        product_id=row.product_id,
        left=row.remaining,
        component=row.component,
        name=row.name,
        unit=row.unit,
        size=row.size,
        batch=row.batch,
        made=row.made,
        bought=row.bought,
        opened=row.opened,
        place=row.place,
        price_per_litre=row.price_per_litre,
        note=row.note,
    )
    return TinRecord(row.id, values, row.product, row.maker, row.kind, row.kept_since)


def _columns(values: Tin) -> dict[str, Any]:
    return {
        "product_id": values.product_id,
        "component": values.component,
        "name": values.name.strip(),
        "unit": values.unit,
        "size": values.size,
        "remaining": round(values.left, _EXACT),
        "batch": values.batch.strip(),
        "made": values.made,
        "bought": values.bought,
        "opened": values.opened,
        "place": values.place.strip(),
        "price_per_litre": values.price_per_litre,
        "note": values.note,
    }


def _check(values: Tin) -> None:
    if not math.isfinite(values.left) or values.left < 0:
        raise WrongEntry("left", "what is left in a tin cannot be below nothing")
    if values.size is not None and not (math.isfinite(values.size) and values.size > 0):
        raise WrongEntry("size", "a tin's size must be above nothing")
    if values.size is not None and values.left > values.size:
        raise WrongEntry("left", "more is left than the tin holds")
    if values.price_per_litre is not None and not (
        math.isfinite(values.price_per_litre) and values.price_per_litre >= 0
    ):
        raise WrongEntry("price_per_litre", "a price cannot be below nothing")
    if values.made is not None and values.opened is not None and values.opened < values.made:
        raise WrongEntry("opened", "the tin was opened before it was made")
