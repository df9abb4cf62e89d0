"""Filing what was read: which product it is, which issue, and what was decided before that still stands."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import UTC, datetime
from pathlib import PurePath
from typing import Any

from sqlalchemy import Connection, bindparam, delete, insert, select, update

from extract.claims import Claim, SheetReading
from store.carrying import carry_over
from store.column_types import words_to_text
from store.converting import claim_columns, claim_query, claim_record, printed_claim, sheet_query, sheet_record
from store.deciding import recount
from store.differences import claim_key, differences, match
from store.errors import UnknownRecord
from store.identity import find_product, identity_of, maker_id, new_product, recognise, remember, search_words
from store.issues import compare_issues, same_language
from store.records import ClaimRecord, ClaimStatus, Filed, FilingOutcome, SheetDifference, SheetRecord
from store.tables import ClaimRow, DecisionRow, FileRow, MakerRow, PageRow, ProductRow, SheetRow


@dataclass(frozen=True, slots=True)
class _Place:
    """Where a sheet goes among the product's other sheets: what it displaces, or what it stands beneath."""

    outcome: FilingOutcome
    displaces: tuple[SheetRecord, ...] = ()
    beneath: SheetRecord | None = None


# Built once: to build a statement costs more than to run it.
_FILE = select(FileRow.id).where(FileRow.sha256 == bindparam("sha256"))
_NEW_FILE = insert(FileRow).returning(FileRow.id)
_NEW_SHEET = insert(SheetRow).returning(SheetRow.id)
_NEW_CLAIMS = insert(ClaimRow)
_READ_AGAIN = update(ClaimRow).where(ClaimRow.id == bindparam("read_again"))
_NEW_PAGES = insert(PageRow)
_SHEET = sheet_query().where(SheetRow.id == bindparam("sheet_id"))


def file_sheets(
    connection: Connection, sha256: str, length: int, file_name: str, readings: Sequence[SheetReading]
) -> tuple[Filed, ...]:
    """File every product's reading of one new file. The caller has made sure that the file is new."""
    now = datetime.now(UTC)
    values = {"sha256": sha256, "name": file_name, "length": length, "filed_at": now}
    file_id = int(connection.execute(_NEW_FILE, values).scalar_one())
    _insert_pages(connection, file_id, readings)
    filed: list[Filed] = []
    used: list[int] = []
    for reading in readings:
        product_id, is_new = _product_for(connection, reading, used)
        used.append(product_id)
        filed.append(_file_one(connection, file_id, product_id, reading, now, is_new=is_new))
    return tuple(filed)


def holds_file(connection: Connection, sha256: str) -> bool:
    """Whether the file was filed before, its sheets removed or not."""
    return connection.scalar(_FILE, {"sha256": sha256}) is not None


def sheets_of_file(connection: Connection, sha256: str) -> tuple[SheetRecord, ...]:
    rows = connection.execute(sheet_query().where(FileRow.sha256 == sha256).order_by(SheetRow.id))
    return tuple(sheet_record(row) for row in rows)


def already_filed(sheets: Sequence[SheetRecord]) -> tuple[Filed, ...]:
    return tuple(Filed(FilingOutcome.ALREADY_FILED, sheet, waiting=sheet.waiting) for sheet in sheets)


def reread(connection: Connection, sheet_id: int, reading: SheetReading) -> Filed:
    """Take in what a newer reader makes of a filed sheet.

    Claims that say the same in the same words keep their decisions. One that is no longer found stays if it was
    decided, as its sentence still stands on the page, and goes if it was not. New ones wait to be decided.
    """
    _sheet(connection, sheet_id)
    rows = connection.execute(claim_query().where(ClaimRow.sheet_id == sheet_id).order_by(ClaimRow.position)).all()
    read = [row for row in rows if not row.added_by_user]
    before = [printed_claim(row) for row in read]
    matched = match(before, reading.claims)
    if matched.same:
        # The words are the same; the place on the page and the reader's certainty may be told better now.
        told = [
            {"read_again": read[old].id, "position": new, **claim_columns(reading.claims[new])}
            for old, new in matched.same
        ]
        connection.execute(_READ_AGAIN, told)
    undecided = [read[i].id for i in matched.gone if read[i].status is ClaimStatus.PROPOSED]
    _drop_undecided(connection, undecided)
    added = {claim_key(printed_claim(row)) for row in rows if row.added_by_user}
    fresh = [(i, reading.claims[i]) for i in matched.new if claim_key(reading.claims[i]) not in added]
    _insert_claims(connection, sheet_id, fresh)
    file_id = connection.scalar(select(SheetRow.file_id).where(SheetRow.id == sheet_id))
    if file_id is not None:
        numbers = [page.number for page in reading.pages]
        connection.execute(delete(PageRow).where(PageRow.file_id == file_id, PageRow.number.in_(numbers)))
        _insert_pages(connection, file_id, [reading])
    connection.execute(
        update(SheetRow)
        .where(SheetRow.id == sheet_id)
        .values(problems=list(reading.problems), reader=reading.reader, scanned=reading.header.scanned)
    )
    recount(connection, [sheet_id])
    if _sheet(connection, sheet_id).superseded_by is None:
        _update_product(connection, _sheet(connection, sheet_id).product.id, reading)
    sheet = _sheet(connection, sheet_id)
    carried = sum(1 for old, _ in matched.same if read[old].status is not ClaimStatus.PROPOSED)
    return Filed(
        FilingOutcome.ALREADY_FILED,
        sheet,
        waiting=sheet.waiting,
        carried=carried,
        differences=differences(before, reading.claims),
    )


def _file_one(
    connection: Connection, file_id: int, product_id: int, reading: SheetReading, now: datetime, *, is_new: bool
) -> Filed:
    """is_new says that the product was made for this sheet: it has no other, and is called as the sheet says."""
    place = _Place(FilingOutcome.FILED) if is_new else _place_among(connection, product_id, reading)
    sheet_id = _insert_sheet(connection, file_id, product_id, reading, now)
    _insert_claims(connection, sheet_id, list(enumerate(reading.claims)))
    carried = 0
    changed: tuple[SheetDifference, ...] = ()
    if place.displaces:
        ids = [sheet.id for sheet in place.displaces]
        connection.execute(update(SheetRow).where(SheetRow.id.in_(ids)).values(superseded_by=sheet_id))
        for old in ids:
            carried += carry_over(connection, old, sheet_id, reading.pages)
        newest = ids[-1]
        changed = differences(_held_claims(connection, newest), _held_claims(connection, sheet_id))
        recount(connection, [sheet_id])
    elif place.beneath is not None:
        _slip_beneath(connection, sheet_id, place.beneath, reading)
    if not is_new and place.outcome is not FilingOutcome.OLDER_ISSUE:
        _update_product(connection, product_id, reading)
    sheet = _sheet(connection, sheet_id)
    return Filed(place.outcome, sheet, waiting=sheet.waiting, carried=carried, differences=changed)


def _product_for(connection: Connection, reading: SheetReading, used: Sequence[int]) -> tuple[int, bool]:
    """The product that the reading is about, and whether it was made for it."""
    header = reading.header
    identity = identity_of(header)
    product_id = find_product(connection, identity, apart_from=used)
    if product_id is not None:
        remember(connection, product_id, identity)
        return product_id, False
    name = header.product or PurePath(header.file).stem
    product_id = new_product(connection, name, header.maker or "", header.kind, header.code)
    recognise(connection, product_id, identity)
    return product_id, True


def _update_product(connection: Connection, product_id: int, reading: SheetReading) -> None:
    """Let the current issue say what the product is, except where the user has put it right."""
    header = reading.header
    row = connection.execute(
        select(ProductRow.name, ProductRow.kind, ProductRow.code, ProductRow.set_by_user, MakerRow.name.label("maker"))
        .join_from(ProductRow, MakerRow, MakerRow.id == ProductRow.maker_id)
        .where(ProductRow.id == product_id)
    ).one()
    told = {"kind": header.kind, "code": header.code}
    if not row.maker:
        told["maker"] = header.maker  # Name and maker keep the spelling that the user has got to know.
    now = {"name": row.name, "maker": row.maker, "kind": row.kind, "code": row.code}
    now |= {field: value for field, value in told.items() if value and field not in row.set_by_user}
    connection.execute(
        update(ProductRow)
        .where(ProductRow.id == product_id)
        .values(
            name=now["name"],
            maker_id=maker_id(connection, now["maker"]),
            kind=now["kind"],
            code=now["code"],
            words=search_words(now["name"], now["maker"], now["code"], now["kind"]),
        )
    )


def _place_among(connection: Connection, product_id: int, reading: SheetReading) -> _Place:
    """Compare with the product's current sheets in the same language.

    Where nothing tells which is later, both stay current: a prohibition on either still counts then.
    """
    header = reading.header
    rows = connection.execute(
        sheet_query().where(SheetRow.product_id == product_id, SheetRow.superseded_by.is_(None)).order_by(SheetRow.id)
    )
    rivals = [sheet for sheet in map(sheet_record, rows) if same_language(sheet, header)]
    displaced: list[SheetRecord] = []
    for sheet in rivals:
        order = compare_issues(header, sheet)
        if order == -1:
            return _Place(FilingOutcome.OLDER_ISSUE, beneath=sheet)
        if order == 1 or _same_words(connection, sheet, reading):
            displaced.append(sheet)
    if displaced:
        return _Place(FilingOutcome.NEWER_ISSUE, displaces=tuple(displaced))
    return _Place(FilingOutcome.FILED)


def _same_words(connection: Connection, sheet: SheetRecord, reading: SheetReading) -> bool:
    """The same sheet saved anew: other bytes, every claim the same."""
    read = [record.printed for record in _shown_claims(connection, sheet.id) if not record.added_by_user]
    matched = match(read, reading.claims)
    return bool(read) and not matched.gone and not matched.new


def _slip_beneath(connection: Connection, sheet_id: int, newest: SheetRecord, reading: SheetReading) -> None:
    """Put an older issue into the chain under the nearest newer one."""
    above = newest
    while True:
        row = connection.execute(
            sheet_query()
            .where(SheetRow.superseded_by == above.id, SheetRow.id != sheet_id)
            .order_by(SheetRow.id.desc())
        ).first()
        below = sheet_record(row) if row is not None else None
        if below is None or compare_issues(reading.header, below) != -1:
            break
        above = below
    if below is not None and compare_issues(reading.header, below) == 1:
        connection.execute(update(SheetRow).where(SheetRow.id == below.id).values(superseded_by=sheet_id))
    connection.execute(update(SheetRow).where(SheetRow.id == sheet_id).values(superseded_by=above.id))


def _insert_sheet(connection: Connection, file_id: int, product_id: int, reading: SheetReading, now: datetime) -> int:
    header = reading.header
    values = {
        "file_id": file_id,
        "product_id": product_id,
        "pages": header.pages,
        "issued": header.issued,
        "revision": header.revision,
        "language": header.language,
        "scanned": header.scanned,
        "problems": list(reading.problems),
        "reader": reading.reader,
        "filed_at": now,
        "waiting": len(reading.claims),
        "decided": 0,
    }
    return int(connection.execute(_NEW_SHEET, values).scalar_one())


def _insert_claims(connection: Connection, sheet_id: int, claims: Sequence[tuple[int, Claim]]) -> None:
    if not claims:
        return
    common: dict[str, Any] = {
        "sheet_id": sheet_id,
        "status": ClaimStatus.PROPOSED,
        "added_by_user": False,
        "withdrawn": False,
    }
    connection.execute(_NEW_CLAIMS, [{**common, "position": place, **claim_columns(claim)} for place, claim in claims])


def _insert_pages(connection: Connection, file_id: int, readings: Sequence[SheetReading]) -> None:
    pages = {page.number: page for reading in reversed(readings) for page in reading.pages}
    if not pages:
        return
    connection.execute(
        _NEW_PAGES,
        [
            {
                "file_id": file_id,
                "number": page.number,
                "mediabox": list(page.geometry.mediabox),
                "cropbox": list(page.geometry.cropbox),
                "rotation": page.geometry.rotation,
                "from_picture": page.from_picture,
                "text": words_to_text(page.words),
                "boxes": [word.box for word in page.words],
            }
            for _, page in sorted(pages.items())
        ],
    )


def _drop_undecided(connection: Connection, ids: Sequence[int]) -> None:
    """Claims nobody decided go; one that was decided once and undone is only hidden, for the sake of its history."""
    for claim_id in ids:
        decided = connection.execute(select(DecisionRow.id).where(DecisionRow.claim_id == claim_id)).first()
        if decided is None:
            connection.execute(delete(ClaimRow).where(ClaimRow.id == claim_id))
        else:
            connection.execute(update(ClaimRow).where(ClaimRow.id == claim_id).values(withdrawn=True))


def _shown_claims(connection: Connection, sheet_id: int) -> list[ClaimRecord]:
    rows = connection.execute(claim_query().where(ClaimRow.sheet_id == sheet_id).order_by(ClaimRow.position))
    return [claim_record(row) for row in rows]


def _held_claims(connection: Connection, sheet_id: int) -> list[Claim]:
    """What the sheet says as far as the user has not rejected it: a misreading that is gone is no news."""
    return [r.claim for r in _shown_claims(connection, sheet_id) if r.status is not ClaimStatus.REJECTED]


def _sheet(connection: Connection, sheet_id: int) -> SheetRecord:
    row = connection.execute(_SHEET, {"sheet_id": sheet_id}).first()
    if row is None:
        raise UnknownRecord(f"sheet {sheet_id}")
    return sheet_record(row)


def with_name(reading: SheetReading, file_name: str, sha256: str) -> SheetReading:
    """The reading under the name that the user knows the file by and the hash of the bytes in hand."""
    return replace(reading, header=replace(reading.header, file=file_name, sha256=sha256))
