"""Two products that turn out to be one, once the user has put right what a header said."""

from __future__ import annotations

from sqlalchemy import Connection, delete, select, update

from store import finding
from store.carrying import carry_over
from store.converting import sheet_query, sheet_record
from store.deciding import recount
from store.identity import Identity, folded, folded_code, folded_maker, remember, search_words
from store.issues import compare_issues, same_language
from store.job_tables import CoatRow, TinRow
from store.journal import rename_in_journal, rename_in_plans
from store.records import ProductRecord, SheetRecord
from store.tables import IdentityRow, NoteRow, ProductRow, SheetRow


def take_in_doubles(connection: Connection, product_id: int) -> None:
    """Let a product take in every other one of the same name, maker and code, and put the issues in their order.

    Only an exact agreement counts, since the user has typed these names. Two products that one file covers stay two.
    """
    kept = finding.product(connection, product_id)
    for other in finding.products(connection):
        if other.id != product_id and _is_same(kept, other) and not _share_a_file(connection, product_id, other.id):
            _take_in(connection, kept, other)
            kept = finding.product(connection, product_id)
    settle_issues(connection, product_id)


def settle_issues(connection: Connection, product_id: int) -> None:
    """Put each current sheet that has a later issue beside it beneath the nearest one, decisions carried over."""
    rows = connection.execute(sheet_query().where(SheetRow.product_id == product_id, SheetRow.superseded_by.is_(None)))
    current = sorted(map(sheet_record, rows), key=lambda s: (s.issued or "", s.id))
    for sheet in current:
        later = [s for s in current if same_language(s, sheet) and compare_issues(s, sheet) == 1]
        if later:
            _put_beneath(connection, sheet, later[0])


def _put_beneath(connection: Connection, sheet: SheetRecord, later: SheetRecord) -> None:
    connection.execute(update(SheetRow).where(SheetRow.id == sheet.id).values(superseded_by=later.id))
    carry_over(connection, sheet.id, later.id, finding.page_texts(connection, later.id))
    recount(connection, [later.id])


def _is_same(a: ProductRecord, b: ProductRecord) -> bool:
    codes = {folded_code(a.code), folded_code(b.code)} - {""}
    names_agree = folded(a.name) == folded(b.name) and folded_maker(a.maker) == folded_maker(b.maker)
    return names_agree and len(codes) < 2


def _share_a_file(connection: Connection, a: int, b: int) -> bool:
    files = select(SheetRow.file_id).where(SheetRow.product_id == a)
    return (
        connection.execute(
            select(SheetRow.id).where(SheetRow.product_id == b, SheetRow.file_id.in_(files)).limit(1)
        ).first()
        is not None
    )


def _take_in(connection: Connection, kept: ProductRecord, other: ProductRecord) -> None:
    for table in (SheetRow, NoteRow, TinRow, CoatRow):
        connection.execute(update(table).where(table.product_id == other.id).values(product_id=kept.id))
    rename_in_plans(connection, other.id, kept.id)
    rename_in_journal(connection, other.id, kept.id)
    known = connection.execute(
        select(IdentityRow.maker, IdentityRow.name, IdentityRow.code).where(IdentityRow.product_id == other.id)
    ).all()
    for row in known:
        remember(connection, kept.id, Identity(row.maker, row.name, row.code))
    set_by_user = {
        field
        for fields in connection.scalars(select(ProductRow.set_by_user).where(ProductRow.id.in_((kept.id, other.id))))
        for field in fields
    }
    kind, code = kept.kind or other.kind, kept.code or other.code
    connection.execute(
        update(ProductRow)
        .where(ProductRow.id == kept.id)
        .values(
            kind=kind,
            code=code,
            set_by_user=sorted(set_by_user),
            words=search_words(kept.name, kept.maker, code, kind),
        )
    )
    connection.execute(delete(IdentityRow).where(IdentityRow.product_id == other.id))
    connection.execute(delete(ProductRow).where(ProductRow.id == other.id))
