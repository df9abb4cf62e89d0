"""Looking things up: products, sheets, pages, claims, and the rules and proposals that answers are made from."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from sqlalchemy import ColumnElement, Connection, Select, func, or_, select

from extract.claims import PageGeometry, PageText
from store.column_types import words_from_text
from store.converting import claim_query, claim_record, sheet_query, sheet_record, sheet_ref
from store.database import chunks
from store.errors import UnknownRecord
from store.job_tables import CoatRow, TinRow
from store.records import (
    ClaimRecord,
    ClaimStatus,
    ProductRecord,
    Progress,
    Proposal,
    Rule,
    RuleOrigin,
    SheetRecord,
    SheetRef,
)
from store.tables import Base, ClaimRow, MakerRow, NoteRow, PageRow, ProductRow, SheetRow

_SETTLED = (ClaimStatus.CONFIRMED, ClaimStatus.CORRECTED)


def makers(connection: Connection) -> tuple[str, ...]:
    """Makers that a product is by, in alphabetical order."""
    of_products = select(ProductRow.maker_id).where(has_a_place())
    names = connection.scalars(select(MakerRow.name).where(MakerRow.id.in_(of_products)))
    return tuple(sorted(names, key=str.casefold))


def products(connection: Connection) -> tuple[ProductRecord, ...]:
    """Every product but those whose sheets were all taken out and of which nothing else is kept."""
    found = [_product(row) for row in connection.execute(_product_query().where(has_a_place()))]
    return tuple(sorted(found, key=lambda p: (p.name.casefold(), p.maker.casefold(), p.id)))


def product(connection: Connection, product_id: int) -> ProductRecord:
    row = connection.execute(_product_query().where(ProductRow.id == product_id)).first()
    if row is None:
        raise UnknownRecord(f"product {product_id}")
    return _product(row)


def sheets(connection: Connection, *, include_superseded: bool) -> tuple[SheetRecord, ...]:
    query = sheet_query().order_by(SheetRow.id)
    if not include_superseded:
        query = query.where(SheetRow.superseded_by.is_(None))
    return tuple(sheet_record(row) for row in connection.execute(query))


def sheets_of_product(connection: Connection, product_id: int) -> tuple[SheetRecord, ...]:
    """Every issue of a product's sheets, current ones first, then the later issues before the earlier."""
    rows = connection.execute(sheet_query().where(SheetRow.product_id == product_id))
    found = sorted(map(sheet_record, rows), key=lambda s: (s.issued or "", s.id), reverse=True)
    return tuple(sorted(found, key=lambda s: s.superseded_by is not None))


def sheet(connection: Connection, sheet_id: int) -> SheetRecord:
    row = connection.execute(sheet_query().where(SheetRow.id == sheet_id)).first()
    if row is None:
        raise UnknownRecord(f"sheet {sheet_id}")
    return sheet_record(row)


def reader_of(connection: Connection, sheet_id: int) -> str:
    """The version of the reader that last read the sheet."""
    found = connection.scalar(select(SheetRow.reader).where(SheetRow.id == sheet_id))
    if found is None:
        raise UnknownRecord(f"sheet {sheet_id}")
    return found


def read_by_others(connection: Connection, reader: str) -> tuple[SheetRecord, ...]:
    """Current sheets that another version of the reader read last, in the order of filing."""
    query = sheet_query().where(SheetRow.reader != reader, SheetRow.superseded_by.is_(None)).order_by(SheetRow.id)
    return tuple(sheet_record(row) for row in connection.execute(query))


def page_texts(connection: Connection, sheet_id: int) -> tuple[PageText, ...]:
    """The pages of the sheet's file, with their words in reading order."""
    file_id = connection.scalar(select(SheetRow.file_id).where(SheetRow.id == sheet_id))
    if file_id is None:
        raise UnknownRecord(f"sheet {sheet_id}")
    rows = connection.execute(select(PageRow.__table__).where(PageRow.file_id == file_id).order_by(PageRow.number))
    return tuple(
        PageText(
            number=row.number,
            geometry=PageGeometry(_box(row.mediabox), _box(row.cropbox), row.rotation),
            words=words_from_text(row.text, row.boxes),
            from_picture=row.from_picture,
        )
        for row in rows
    )


def claims(connection: Connection, sheet_id: int) -> tuple[ClaimRecord, ...]:
    """The sheet's claims in the order they stand on the page; the user's own last."""
    rows = connection.execute(
        claim_query().where(ClaimRow.sheet_id == sheet_id).order_by(ClaimRow.position, ClaimRow.id)
    ).all()
    if not rows:
        sheet(connection, sheet_id)
    return tuple(claim_record(row) for row in rows)


def claim(connection: Connection, claim_id: int) -> ClaimRecord:
    row = connection.execute(claim_query().where(ClaimRow.id == claim_id)).first()
    if row is None:
        raise UnknownRecord(f"claim {claim_id}")
    return claim_record(row)


def progress(connection: Connection, sheet_id: int | None) -> Progress:
    """Of one sheet, or of every current one."""
    sums = select(func.sum(SheetRow.decided), func.sum(SheetRow.waiting))
    which = SheetRow.superseded_by.is_(None) if sheet_id is None else SheetRow.id == sheet_id
    decided, waiting = connection.execute(sums.where(which, SheetRow.removed_at.is_(None))).one()
    return Progress(decided=decided or 0, waiting=waiting or 0)


def rules(
    connection: Connection, product_ids: Sequence[int] | None, kinds: Sequence[str] | None = None
) -> tuple[Rule, ...]:
    """Rules of current issues: of the products asked for and of all products of the kinds asked for; else all."""
    return tuple(
        Rule(row.id, claim_record(row).claim, ref, _origin(row))
        for row, ref in _claims_of(connection, ClaimRow.status.in_(_SETTLED), product_ids, kinds)
    )


def proposals(
    connection: Connection, product_ids: Sequence[int] | None, kinds: Sequence[str] | None = None
) -> tuple[Proposal, ...]:
    """Claims of current issues that nobody has decided yet."""
    return tuple(
        Proposal(row.id, claim_record(row).claim, ref)
        for row, ref in _claims_of(connection, ClaimRow.status == ClaimStatus.PROPOSED, product_ids, kinds)
    )


def _claims_of(
    connection: Connection,
    which: ColumnElement[bool],
    product_ids: Sequence[int] | None,
    kinds: Sequence[str] | None,
) -> list[tuple[Any, SheetRef]]:
    query = sheet_query().where(SheetRow.superseded_by.is_(None)).order_by(SheetRow.id)
    if product_ids is not None or kinds is not None:
        wanted = [SheetRow.product_id.in_(part) for part in chunks(product_ids or ())]
        if kinds:
            wanted.append(ProductRow.kind.in_(kinds))
        if not wanted:
            return []
        query = query.where(or_(*wanted))
    refs = {row.id: sheet_ref(row) for row in connection.execute(query)}
    return [
        (row, refs[row.sheet_id])
        for part in chunks(refs)
        for row in connection.execute(
            claim_query()
            .where(ClaimRow.sheet_id.in_(part), which)
            .order_by(ClaimRow.sheet_id, ClaimRow.position, ClaimRow.id)
        )
    ]


def _origin(row: Any) -> RuleOrigin:
    return RuleOrigin.CORRECTED if row.status is ClaimStatus.CORRECTED or row.added_by_user else RuleOrigin.SHEET


def _product_query() -> Select[*tuple[Any, ...]]:
    shown = (SheetRow.product_id == ProductRow.id, SheetRow.removed_at.is_(None))
    has_sheet = select(SheetRow.id).where(*shown).exists()
    return select(
        ProductRow.id,
        ProductRow.name,
        ProductRow.kind,
        ProductRow.code,
        MakerRow.name.label("maker"),
        has_sheet.label("has_sheet"),
    ).join_from(ProductRow, MakerRow, MakerRow.id == ProductRow.maker_id)


def has_a_place() -> ColumnElement[bool]:
    """A product that has a sheet shown, never had one, or of which a tin, a coat or a note is kept."""

    def some(row: type[Base], *which: ColumnElement[bool]) -> ColumnElement[bool]:
        table = row.__table__
        return select(table.c.id).where(table.c.product_id == ProductRow.id, *which).exists()

    return or_(
        ~some(SheetRow, SheetRow.removed_at.is_not(None)),
        some(SheetRow, SheetRow.removed_at.is_(None)),
        some(TinRow, TinRow.deleted_at.is_(None)),
        some(CoatRow, CoatRow.deleted_at.is_(None)),
        some(NoteRow),
    )


def _product(row: Any) -> ProductRecord:
    return ProductRecord(row.id, row.name, row.maker, row.kind, row.code, bool(row.has_sheet))


def _box(values: Sequence[float]) -> tuple[float, float, float, float]:
    x0, y0, x1, y1 = values
    return (x0, y0, x1, y1)
