"""Changes to the job and to which sheets are shown, each kept with the rows as they stood before and after.

Undo writes back the columns that a change touched; a row that it made is hidden, not deleted. Values are kept as
SQLite holds them, so that a change made before a migration can still be undone after it.
"""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from datetime import UTC, datetime
from typing import Any, cast

from sqlalchemy import Connection, Table, func, insert, select, update

from store.errors import UnknownRecord
from store.job_records import ChangeKind, ChangeRecord, ChangeScope
from store.job_tables import ChangeRow, CoatRow, PanelRow, PreparationRow, RowChangeRow, SpellRow, TinRow
from store.tables import Base, SheetRow, StepState

_KEPT: Mapping[str, type[Base]] = {
    row.__tablename__: row for row in (PanelRow, CoatRow, PreparationRow, SpellRow, TinRow, SheetRow)
}


class Change:
    """One step under way: rows made or changed through it are undone together."""

    def __init__(self, connection: Connection, scope: ChangeScope, kind: ChangeKind, subject: str, who: str) -> None:
        self.connection = connection
        self.now = datetime.now(UTC)
        # What was undone before can no longer be done again: the new step stands where it stood.
        connection.execute(
            update(ChangeRow)
            .where(ChangeRow.scope == scope, ChangeRow.state == StepState.UNDONE)
            .values(state=StepState.DROPPED)
        )
        values = {
            "scope": scope, "kind": kind, "subject": subject, "who": who, "at": self.now, "state": StepState.DONE,
        }  # fmt: skip
        self.id = int(connection.execute(insert(ChangeRow).values(values).returning(ChangeRow.id)).scalar_one())

    def make(self, row: type[Base], values: Mapping[str, Any]) -> int:
        """A new row; its id."""
        table = table_of(row)
        made = int(self.connection.execute(insert(table).values(**values).returning(table.c.id)).scalar_one())
        self._keep(table, made, None, {"deleted_at": None})
        return made

    def put(self, row: type[Base], row_id: int, values: Mapping[str, Any]) -> None:
        """Change a row. Raises UnknownRecord where there is none."""
        table = table_of(row)
        before = _as_held(self.connection, table.name, row_id)
        self.connection.execute(update(table).where(table.c.id == row_id).values(**values))
        after = _as_held(self.connection, table.name, row_id)
        touched = [name for name in before if before[name] != after[name]]
        if touched:
            self._keep(table, row_id, {n: before[n] for n in touched}, {n: after[n] for n in touched})

    def _keep(self, table: Table, row_id: int, before: dict[str, Any] | None, after: dict[str, Any]) -> None:
        values = {
            "change_id": self.id, "table_name": table.name, "row_id": row_id, "before": before, "after": after,
        }  # fmt: skip
        self.connection.execute(insert(RowChangeRow).values(values))


def table_of(row: type[Base]) -> Table:
    return cast(Table, row.__table__)


def undo(connection: Connection, scope: ChangeScope) -> ChangeRecord | None:
    """Take back the scope's last change; None where there is none."""
    return _replay(connection, scope, back=True)


def redo(connection: Connection, scope: ChangeScope) -> ChangeRecord | None:
    """Do the change again that was taken back last; None where there is none."""
    return _replay(connection, scope, back=False)


def next_to_undo(connection: Connection, scope: ChangeScope) -> ChangeRecord | None:
    return _last(connection, scope, StepState.DONE)


def next_to_redo(connection: Connection, scope: ChangeScope) -> ChangeRecord | None:
    return _last(connection, scope, StepState.UNDONE)


def _last(connection: Connection, scope: ChangeScope, state: StepState) -> ChangeRecord | None:
    which = func.max(ChangeRow.id) if state is StepState.DONE else func.min(ChangeRow.id)
    found = connection.scalar(select(which).where(ChangeRow.scope == scope, ChangeRow.state == state))
    if found is None:
        return None
    table = table_of(ChangeRow)
    row = connection.execute(select(table).where(table.c.id == found)).one()
    return ChangeRecord(row.id, row.scope, row.kind, row.subject, row.who, row.at)


def _replay(connection: Connection, scope: ChangeScope, *, back: bool) -> ChangeRecord | None:
    change = _last(connection, scope, StepState.DONE if back else StepState.UNDONE)
    if change is None:
        return None
    table = table_of(RowChangeRow)
    rows = connection.execute(select(table).where(table.c.change_id == change.id).order_by(table.c.id)).all()
    for row in reversed(rows) if back else rows:
        kept = table_of(_KEPT[row.table_name])
        if back and row.before is None:
            connection.execute(update(kept).where(kept.c.id == row.row_id).values(deleted_at=datetime.now(UTC)))
        else:
            _write_back(connection, kept.name, row.row_id, row.before if back else row.after)
    state = StepState.UNDONE if back else StepState.DONE
    connection.execute(update(ChangeRow).where(ChangeRow.id == change.id).values(state=state))
    return change


def _as_held(connection: Connection, table: str, row_id: int) -> dict[str, Any]:
    row = connection.exec_driver_sql(f"SELECT * FROM {table} WHERE id = ?", (row_id,)).mappings().first()  # noqa: S608
    if row is None:
        raise UnknownRecord(f"{table} {row_id}")
    return dict(row)


def _write_back(connection: Connection, table: str, row_id: int, image: Mapping[str, Any]) -> None:
    setting = ", ".join(f'"{name}" = ?' for name in image)
    values = (*image.values(), row_id)
    connection.exec_driver_sql(f"UPDATE {table} SET {setting} WHERE id = ?", values)  # noqa: S608


def rename_in_journal(connection: Connection, old: int, new: int) -> None:
    """Let the history speak of new where it spoke of old, a product that was taken in: undo must not bring it back."""
    table = table_of(RowChangeRow)
    for row in connection.execute(select(table)).all():
        before, after = _renamed(row.before, old, new), _renamed(row.after, old, new)
        if (before, after) != (row.before, row.after):
            connection.execute(update(table).where(table.c.id == row.id).values(before=before, after=after))


def rename_in_plans(connection: Connection, old: int, new: int) -> None:
    """Let every panel's plan speak of new where it spoke of old."""
    for row in connection.execute(select(PanelRow.id, PanelRow.plan)).all():
        plan = _plan_renamed(row.plan, old, new)
        if plan != row.plan:
            connection.execute(update(PanelRow).where(PanelRow.id == row.id).values(plan=plan))


def _renamed(image: dict[str, Any] | None, old: int, new: int) -> dict[str, Any] | None:
    if image is None:
        return None
    out = dict(image)
    if out.get("product_id") == old:
        out["product_id"] = new
    if "plan" in out:
        out["plan"] = json.dumps(_plan_renamed(json.loads(out["plan"]), old, new), separators=(",", ":"))
    return out


def _plan_renamed(plan: Sequence[Mapping[str, Any]], old: int, new: int) -> list[dict[str, Any]]:
    """A panel's planned layers with one product's id in place of another's."""
    return [{**layer, "product_id": new} if layer.get("product_id") == old else dict(layer) for layer in plan]
