"""Decisions on claims and their undo history, both kept for good.

A decision row says how its claim stood before and after, so that a step can be undone and done again in any later
session. Undoing adds rows too; nothing of the history is ever changed but the state of its steps.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from datetime import UTC, datetime
from typing import Any

from sqlalchemy import Connection, func, insert, select, update

from extract.claims import Claim
from store.converting import (
    claim_columns,
    claim_query,
    claim_record,
    corrected_from_json,
    corrected_to_json,
)
from store.database import chunks
from store.errors import UnknownRecord
from store.records import ClaimRecord, ClaimStatus, DecisionKind, DecisionRecord
from store.tables import ClaimRow, DecisionRow, SheetRow, StepRow, StepState

_REVERSALS = (DecisionKind.UNDO, DecisionKind.REDO)


def records(connection: Connection, ids: Sequence[int]) -> tuple[ClaimRecord, ...]:
    """The claims as they stand, in the order asked for; those no longer shown are left out."""
    found = {
        row.id: claim_record(row)
        for part in chunks(dict.fromkeys(ids))
        for row in connection.execute(claim_query().where(ClaimRow.id.in_(part)))
    }
    return tuple(found[i] for i in dict.fromkeys(ids) if i in found)


def confirm(connection: Connection, ids: Sequence[int], who: str) -> tuple[ClaimRecord, ...]:
    """Confirm claims in one step. One that is confirmed or corrected already stays as it is."""

    def change(row: Any) -> tuple[ClaimStatus, None] | None:
        settled = row.status in (ClaimStatus.CONFIRMED, ClaimStatus.CORRECTED)
        return None if settled else (ClaimStatus.CONFIRMED, None)

    return _decide(connection, ids, DecisionKind.CONFIRM, who, change)


def reject(connection: Connection, ids: Sequence[int], who: str) -> tuple[ClaimRecord, ...]:
    def change(row: Any) -> tuple[ClaimStatus, None] | None:
        return None if row.status is ClaimStatus.REJECTED else (ClaimStatus.REJECTED, None)

    return _decide(connection, ids, DecisionKind.REJECT, who, change)


def correct(connection: Connection, claim_id: int, claim: Claim, who: str) -> tuple[ClaimRecord, ...]:
    """Put the user's reading in place of the printed one; the printed one is kept."""
    value = corrected_to_json(claim)

    def change(row: Any) -> tuple[ClaimStatus, dict[str, Any] | None] | None:
        if row.status is ClaimStatus.CORRECTED and row.corrected == value:
            return None
        return (ClaimStatus.CORRECTED, value)

    return _decide(connection, [claim_id], DecisionKind.CORRECT, who, change)


def add_claim(connection: Connection, sheet_id: int, claim: Claim, who: str) -> tuple[ClaimRecord, ...]:
    """File a claim that the user read out of the page: confirmed from the start."""
    if connection.execute(select(SheetRow.id).where(SheetRow.id == sheet_id)).first() is None:
        raise UnknownRecord(f"sheet {sheet_id}")
    now = datetime.now(UTC)
    position = connection.scalar(select(func.max(ClaimRow.position)).where(ClaimRow.sheet_id == sheet_id))
    claim_id = connection.execute(
        insert(ClaimRow)
        .values(
            sheet_id=sheet_id,
            position=0 if position is None else position + 1,
            status=ClaimStatus.CONFIRMED,
            added_by_user=True,
            withdrawn=False,
            decided_by=who,
            decided_at=now,
            **claim_columns(claim),
        )
        .returning(ClaimRow.id)
    ).scalar_one()
    step = _new_step(connection, DecisionKind.ADD, who, now)
    connection.execute(
        insert(DecisionRow).values(
            step_id=step,
            claim_id=claim_id,
            kind=DecisionKind.ADD,
            who=who,
            at=now,
            from_status=ClaimStatus.PROPOSED,
            to_status=ClaimStatus.CONFIRMED,
        )
    )
    recount(connection, [sheet_id])
    return records(connection, [claim_id])


def undo(connection: Connection, who: str) -> tuple[ClaimRecord, ...]:
    """Take back the last step; nothing where there is none. A claim whose adding is taken back is not returned."""
    step = _last(connection, StepState.DONE)
    return () if step is None else _replay(connection, step, who, back=True)


def redo(connection: Connection, who: str) -> tuple[ClaimRecord, ...]:
    """Do the step again that was taken back last; nothing where there is none."""
    step = _last(connection, StepState.UNDONE)
    return () if step is None else _replay(connection, step, who, back=False)


def can_undo(connection: Connection) -> bool:
    return _last(connection, StepState.DONE) is not None


def can_redo(connection: Connection) -> bool:
    return _last(connection, StepState.UNDONE) is not None


def history(connection: Connection, claim_id: int) -> tuple[DecisionRecord, ...]:
    """Everything that was decided on a claim, oldest first."""
    rows = connection.execute(
        select(DecisionRow.kind, DecisionRow.who, DecisionRow.at, DecisionRow.to_status, DecisionRow.to_value)
        .where(DecisionRow.claim_id == claim_id)
        .order_by(DecisionRow.id)
    )
    return tuple(
        DecisionRecord(claim_id, row.kind, row.who, row.at, row.to_status, corrected_from_json(row.to_value))
        for row in rows
    )


def recount(connection: Connection, sheet_ids: Iterable[int]) -> None:
    """Bring the counts of the sheets up to date with their claims."""
    shown = [ClaimRow.sheet_id == SheetRow.id, ClaimRow.withdrawn.is_(False)]
    proposed = ClaimRow.status == ClaimStatus.PROPOSED
    waiting = select(func.count()).where(*shown, proposed).scalar_subquery()
    decided = select(func.count()).where(*shown, ~proposed).scalar_subquery()
    for part in chunks(set(sheet_ids)):
        connection.execute(update(SheetRow).where(SheetRow.id.in_(part)).values(waiting=waiting, decided=decided))


def _decide(
    connection: Connection,
    ids: Sequence[int],
    kind: DecisionKind,
    who: str,
    change: Callable[[Any], tuple[ClaimStatus, dict[str, Any] | None] | None],
) -> tuple[ClaimRecord, ...]:
    ids = list(dict.fromkeys(ids))
    rows = [row for part in chunks(ids) for row in connection.execute(claim_query().where(ClaimRow.id.in_(part)))]
    unknown = set(ids) - {row.id for row in rows}
    if unknown:
        raise UnknownRecord(f"claims {sorted(unknown)}")
    now = datetime.now(UTC)
    decisions: list[dict[str, Any]] = []
    for row in rows:
        to = change(row)
        if to is None:
            continue
        status, value = to
        decisions.append(
            {
                "claim_id": row.id, "kind": kind, "who": who, "at": now, "from_status": row.status,
                "from_value": row.corrected, "from_by": row.decided_by, "from_at": row.decided_at,
                "to_status": status, "to_value": value,
            }
        )  # fmt: skip
        connection.execute(
            update(ClaimRow)
            .where(ClaimRow.id == row.id)
            .values(status=status, corrected=value, decided_by=who, decided_at=now)
        )
    if decisions:
        step = _new_step(connection, kind, who, now)
        connection.execute(insert(DecisionRow), [{"step_id": step, **decision} for decision in decisions])
        recount(connection, {row.sheet_id for row in rows})
    return records(connection, ids)


def _new_step(connection: Connection, kind: DecisionKind, who: str, at: datetime) -> int:
    # What was undone before can no longer be done again: the new step stands where it stood.
    connection.execute(update(StepRow).where(StepRow.state == StepState.UNDONE).values(state=StepState.DROPPED))
    values = {"kind": kind, "who": who, "at": at, "state": StepState.DONE}
    return int(connection.execute(insert(StepRow).values(values).returning(StepRow.id)).scalar_one())


def _last(connection: Connection, state: StepState) -> int | None:
    """The step that undo (DONE) or redo (UNDONE) takes next. Steps are undone from the end, so redo takes the first."""
    which = func.max(StepRow.id) if state is StepState.DONE else func.min(StepRow.id)
    return connection.scalar(select(which).where(StepRow.state == state))


def _replay(connection: Connection, step: int, who: str, *, back: bool) -> tuple[ClaimRecord, ...]:
    now = datetime.now(UTC)
    rows = connection.execute(
        select(DecisionRow.__table__)
        .where(DecisionRow.step_id == step, DecisionRow.kind.not_in(_REVERSALS))
        .order_by(DecisionRow.id)
    ).all()
    added: list[dict[str, Any]] = []
    for row in rows:
        if back:
            values = {
                "status": row.from_status, "corrected": row.from_value,
                "decided_by": row.from_by, "decided_at": row.from_at,
            }  # fmt: skip
        else:
            values = {"status": row.to_status, "corrected": row.to_value, "decided_by": row.who, "decided_at": row.at}
        if row.kind is DecisionKind.ADD:
            values["withdrawn"] = back
        connection.execute(update(ClaimRow).where(ClaimRow.id == row.claim_id).values(values))
        from_status, to_status = (row.to_status, row.from_status) if back else (row.from_status, row.to_status)
        from_value, to_value = (row.to_value, row.from_value) if back else (row.from_value, row.to_value)
        added.append(
            {
                "step_id": step, "claim_id": row.claim_id, "kind": DecisionKind.UNDO if back else DecisionKind.REDO,
                "who": who, "at": now, "from_status": from_status, "from_value": from_value,
                "to_status": to_status, "to_value": to_value,
            }
        )  # fmt: skip
    connection.execute(insert(DecisionRow), added)
    state = StepState.UNDONE if back else StepState.DONE
    connection.execute(update(StepRow).where(StepRow.id == step).values(state=state))
    ids = [row.claim_id for row in rows]
    sheet_ids: set[int] = set()
    for part in chunks(ids):
        sheet_ids.update(connection.scalars(select(ClaimRow.sheet_id).where(ClaimRow.id.in_(part))))
    recount(connection, sheet_ids)
    return records(connection, ids)
