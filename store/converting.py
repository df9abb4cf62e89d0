"""Rows to the frozen values of claims.py and records.py, and back."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from sqlalchemy import Row, Select, select

from extract.claims import Box, Claim, Condition, Evidence, Why, claim_from_json, claim_to_json
from store.records import ClaimRecord, ClaimStatus, ProductRecord, SheetRecord, SheetRef
from store.tables import ClaimRow, FileRow, MakerRow, ProductRow, SheetRow

CLAIM = ClaimRow.__table__
_CLAIM_COLUMNS = tuple(c for c in CLAIM.columns if c.name != "withdrawn")

_SHEET_COLUMNS = (
    SheetRow.id, SheetRow.pages, SheetRow.issued, SheetRow.revision, SheetRow.language, SheetRow.scanned,
    SheetRow.filed_at, SheetRow.superseded_by, SheetRow.problems, SheetRow.waiting, SheetRow.decided,
    SheetRow.product_id, FileRow.name.label("file_name"), FileRow.sha256, ProductRow.name.label("product"),
    ProductRow.kind, ProductRow.code, MakerRow.name.label("maker"),
)  # fmt: skip


def claim_query() -> Select[*tuple[Any, ...]]:
    """Claims that are shown, as claim_record wants them."""
    return select(*_CLAIM_COLUMNS).where(ClaimRow.withdrawn.is_(False))


def sheet_query(*, removed: bool = False) -> Select[*tuple[Any, ...]]:
    """Sheets with product, maker and file, as sheet_record and sheet_ref want them; removed ones only if asked for."""
    return (
        select(*_SHEET_COLUMNS)
        .join_from(SheetRow, FileRow, FileRow.id == SheetRow.file_id)
        .join(ProductRow, ProductRow.id == SheetRow.product_id)
        .join(MakerRow, MakerRow.id == ProductRow.maker_id)
        .where(SheetRow.removed_at.is_not(None) if removed else SheetRow.removed_at.is_(None))
    )


def claim_columns(claim: Claim) -> dict[str, Any]:
    """The columns that hold a claim as printed."""
    evidence, why = claim.evidence, claim.why
    return {
        "topic": claim.topic,
        "property": claim.property,
        "stance": claim.stance,
        "object": claim.object,
        "only": claim.only,
        "conditions": [c.value for c in claim.conditions] or None,
        "via": claim.via,
        "low": claim.low,
        "high": claim.high,
        "unit": claim.unit,
        "unlimited": claim.unlimited,
        "at_c": claim.at_c,
        "method": claim.method,
        "parts": list(claim.parts) or None,
        "basis": claim.basis,
        "text": claim.text,
        "subject": claim.subject,
        "confidence": claim.confidence,
        "from_picture": claim.from_picture,
        "why": [why.pattern, list(why.terms), why.cell] if why else None,
        "page": evidence.page,
        "quote": evidence.quote,
        "boxes": [list(box) for box in evidence.boxes],
    }


def printed_claim(row: Row[Any]) -> Claim:
    why = row.why
    return Claim(
        topic=row.topic,
        property=row.property,
        stance=row.stance,
        evidence=Evidence(row.page, row.quote, boxes_of(row.boxes)),
        object=row.object,
        only=row.only,
        conditions=tuple(Condition(c) for c in row.conditions or ()),
        via=row.via,
        low=row.low,
        high=row.high,
        unit=row.unit,
        unlimited=row.unlimited,
        at_c=row.at_c,
        method=row.method,
        parts=tuple(row.parts or ()),
        basis=row.basis,
        text=row.text,
        subject=row.subject,
        confidence=row.confidence,
        from_picture=row.from_picture,
        why=Why(why[0], tuple(why[1]), why[2]) if why else None,
    )


def boxes_of(values: Any) -> tuple[Box, ...]:
    return tuple((float(b[0]), float(b[1]), float(b[2]), float(b[3])) for b in values)


def corrected_to_json(claim: Claim | None) -> dict[str, Any] | None:
    return None if claim is None else claim_to_json(claim, why=True)


def corrected_from_json(value: Mapping[str, Any] | None) -> Claim | None:
    return None if value is None else claim_from_json(value)


def claim_record(row: Row[Any]) -> ClaimRecord:
    printed = printed_claim(row)
    corrected = corrected_from_json(row.corrected) if row.status is ClaimStatus.CORRECTED else None
    return ClaimRecord(
        id=row.id,
        sheet_id=row.sheet_id,
        claim=corrected or printed,
        printed=printed,
        status=row.status,
        decided_by=row.decided_by,
        decided_at=row.decided_at,
        added_by_user=row.added_by_user,
    )


def sheet_record(row: Row[Any]) -> SheetRecord:
    return SheetRecord(
        id=row.id,
        product=ProductRecord(row.product_id, row.product, row.maker, row.kind, row.code),
        file_name=row.file_name,
        sha256=row.sha256,
        pages=row.pages,
        issued=row.issued,
        revision=row.revision,
        language=row.language,
        scanned=row.scanned,
        filed_at=row.filed_at,
        superseded_by=row.superseded_by,
        problems=tuple(row.problems),
        waiting=row.waiting,
        decided=row.decided,
    )


def sheet_ref(row: Row[Any]) -> SheetRef:
    return SheetRef(
        sheet_id=row.id,
        product_id=row.product_id,
        product=row.product,
        maker=row.maker,
        kind=row.kind,
        code=row.code,
        issued=row.issued,
        file_name=row.file_name,
    )
