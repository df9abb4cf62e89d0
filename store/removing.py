"""Taking a sheet out of the library without losing it: hidden from rules, lists and search until it is restored."""

from __future__ import annotations

from sqlalchemy import Connection, select, update

from store import finding
from store.converting import sheet_query, sheet_record
from store.errors import UnknownRecord
from store.job_records import ChangeKind, ChangeRecord, ChangeScope
from store.job_tables import RowChangeRow
from store.journal import Change, redo, undo
from store.merging import settle_issues
from store.records import SheetRecord
from store.tables import FileRow, SheetRow


def remove_sheet(connection: Connection, sheet_id: int, who: str) -> None:
    """Hide a sheet. An older issue that it had taken the place of counts again, if nothing newer has."""
    sheet = finding.sheet(connection, sheet_id)
    change = Change(connection, ChangeScope.SHEETS, ChangeKind.SHEET_REMOVED, sheet.product.name, who)
    change.put(SheetRow, sheet_id, {"removed_at": change.now})
    for older in connection.scalars(select(SheetRow.id).where(SheetRow.superseded_by == sheet_id)).all():
        change.put(SheetRow, older, {"superseded_by": sheet.superseded_by})


def removed_sheets(connection: Connection) -> tuple[SheetRecord, ...]:
    """Those that were taken out, the last one first."""
    query = sheet_query(removed=True).order_by(SheetRow.removed_at.desc(), SheetRow.id.desc())
    return tuple(sheet_record(row) for row in connection.execute(query))


def restore_sheet(connection: Connection, sheet_id: int, who: str) -> SheetRecord:
    """Show a sheet again, in its place among its product's issues."""
    found = connection.execute(sheet_query(removed=True).where(SheetRow.id == sheet_id)).first()
    if found is None:
        raise UnknownRecord(f"removed sheet {sheet_id}")
    sheet = sheet_record(found)
    change = Change(connection, ChangeScope.SHEETS, ChangeKind.SHEET_RESTORED, sheet.product.name, who)
    change.put(SheetRow, sheet_id, {"removed_at": None})
    settle_issues(connection, sheet.product.id)
    return finding.sheet(connection, sheet_id)


def removed_of_file(connection: Connection, sha256: str) -> tuple[int, ...]:
    """The removed sheets of a file: filing the same bytes again brings them back."""
    rows = connection.execute(sheet_query(removed=True).where(FileRow.sha256 == sha256).order_by(SheetRow.id))
    return tuple(row.id for row in rows)


def replay(connection: Connection, *, back: bool) -> ChangeRecord | None:
    """Undo or redo the last removing or restoring; what was filed meanwhile finds its place again."""
    change = (undo if back else redo)(connection, ChangeScope.SHEETS)
    if change is not None:
        touched = select(RowChangeRow.row_id).where(RowChangeRow.change_id == change.id)
        products = connection.scalars(select(SheetRow.product_id).where(SheetRow.id.in_(touched)).distinct()).all()
        for product_id in products:
            _lift(connection, product_id)
            settle_issues(connection, product_id)
    return change


def _lift(connection: Connection, product_id: int) -> None:
    """Let no sheet of the product stand beneath a removed one."""
    rows = connection.execute(
        select(SheetRow.id, SheetRow.superseded_by, SheetRow.removed_at).where(SheetRow.product_id == product_id)
    ).all()
    above = {row.id: row.superseded_by for row in rows}
    removed = {row.id for row in rows if row.removed_at is not None}
    for row in rows:
        place = row.superseded_by
        while place is not None and place in removed:
            place = above[place]
        if place != row.superseded_by:
            connection.execute(update(SheetRow).where(SheetRow.id == row.id).values(superseded_by=place))
