"""The library's tables. Rows never leave store/: the facade hands out the frozen values of records.py."""

from __future__ import annotations

from datetime import datetime
from enum import StrEnum
from typing import Any

from sqlalchemy import ForeignKey, Index, Text, UniqueConstraint
from sqlalchemy.orm import DeclarativeBase, Mapped, mapped_column

from extract.claims import Method, Stance, Topic
from store.column_types import (
    ByValue,
    CompactJson,
    PackedBoxes,
    UtcTime,
    claim_key,
    key,
    moment,
    product_key,
    sheet_key,
)
from store.records import ClaimStatus, DecisionKind


class StepState(StrEnum):
    """Where a step of the undo history stands. A dropped step was undone and then overtaken by a new one."""

    DONE = "done"
    UNDONE = "undone"
    DROPPED = "dropped"


class Base(DeclarativeBase):
    type_annotation_map = {  # noqa: RUF012 - SQLAlchemy's own name for it
        str: Text,
        ClaimStatus: ByValue(ClaimStatus),
        DecisionKind: ByValue(DecisionKind),
        StepState: ByValue(StepState),
        Topic: ByValue(Topic),
        Stance: ByValue(Stance),
        Method: ByValue(Method),
    }


class MakerRow(Base):
    __tablename__ = "makers"

    id: Mapped[key]
    name: Mapped[str] = mapped_column(unique=True)


class ProductRow(Base):
    """A product as it is called now. words is what search looks through: name, maker and code."""

    __tablename__ = "products"
    __table_args__ = (Index("products_by_maker", "maker_id"), Index("products_by_kind", "kind"))

    id: Mapped[key]
    maker_id: Mapped[int] = mapped_column(ForeignKey("makers.id"))
    name: Mapped[str]
    kind: Mapped[str | None]
    code: Mapped[str | None]
    words: Mapped[str]
    set_by_user: Mapped[list[str]] = mapped_column(CompactJson)
    """Which of name, maker, kind and code the user has put right: a later sheet leaves these alone."""


class IdentityRow(Base):
    """Who a sheet said it was about: what the next issue of it is recognised by, whatever the user calls it."""

    __tablename__ = "identities"
    __table_args__ = (
        UniqueConstraint("product_id", "maker", "name", "code"),
        Index("identities_by_maker", "maker"),
        Index("identities_by_code", "code"),
    )

    id: Mapped[key]
    product_id: Mapped[product_key]
    maker: Mapped[str]
    name: Mapped[str]
    code: Mapped[str]


class FileRow(Base):
    __tablename__ = "files"

    id: Mapped[key]
    sha256: Mapped[str] = mapped_column(unique=True)
    name: Mapped[str]
    length: Mapped[int]
    filed_at: Mapped[moment]


class SheetRow(Base):
    """One product's part of a file. waiting and decided are counts, kept with every change of its claims."""

    __tablename__ = "sheets"
    __table_args__ = (
        UniqueConstraint("file_id", "product_id"),
        Index("sheets_by_product", "product_id"),
        Index("sheets_by_successor", "superseded_by"),
    )

    id: Mapped[key]
    file_id: Mapped[int] = mapped_column(ForeignKey("files.id"))
    product_id: Mapped[int] = mapped_column(ForeignKey("products.id"))
    pages: Mapped[int]
    issued: Mapped[str | None]
    revision: Mapped[str | None]
    language: Mapped[str | None]
    scanned: Mapped[bool]
    problems: Mapped[list[str]] = mapped_column(CompactJson)
    reader: Mapped[str]
    filed_at: Mapped[moment]
    superseded_by: Mapped[int | None] = mapped_column(ForeignKey("sheets.id"))
    waiting: Mapped[int]
    decided: Mapped[int]
    removed_at: Mapped[datetime | None] = mapped_column(UtcTime)
    """When the user took the sheet out of the library; it is hidden everywhere then, and can come back."""


class PageRow(Base):
    """A page of a file: its text serves every product that the file covers."""

    __tablename__ = "pages"
    __table_args__ = (UniqueConstraint("file_id", "number"),)

    id: Mapped[key]
    file_id: Mapped[int] = mapped_column(ForeignKey("files.id", ondelete="CASCADE"))
    number: Mapped[int]
    mediabox: Mapped[list[float]] = mapped_column(CompactJson)
    cropbox: Mapped[list[float]] = mapped_column(CompactJson)
    rotation: Mapped[int]
    from_picture: Mapped[bool]
    text: Mapped[str]
    boxes: Mapped[tuple[tuple[float, float, float, float], ...]] = mapped_column(PackedBoxes)


class ClaimRow(Base):
    """A claim as printed, with its evidence and what became of it. corrected holds the user's reading of it."""

    __tablename__ = "claims"
    __table_args__ = (
        Index("claims_by_sheet", "sheet_id", "status"),
        Index("claims_by_place", "sheet_id", "position"),
    )

    id: Mapped[key]
    sheet_id: Mapped[sheet_key]
    position: Mapped[int]
    topic: Mapped[Topic]
    property: Mapped[str | None]
    stance: Mapped[Stance]
    object: Mapped[str | None]
    only: Mapped[bool]
    conditions: Mapped[list[str] | None] = mapped_column(CompactJson)
    via: Mapped[str | None]
    low: Mapped[float | None]
    high: Mapped[float | None]
    unit: Mapped[str | None]
    unlimited: Mapped[bool]
    at_c: Mapped[float | None]
    method: Mapped[Method | None]
    parts: Mapped[list[float] | None] = mapped_column(CompactJson)
    basis: Mapped[str | None]
    text: Mapped[str | None]
    subject: Mapped[str | None]
    confidence: Mapped[float]
    from_picture: Mapped[bool]
    why: Mapped[list[Any] | None] = mapped_column(CompactJson)
    page: Mapped[int]
    quote: Mapped[str]
    boxes: Mapped[list[list[float]]] = mapped_column(CompactJson)
    status: Mapped[ClaimStatus]
    corrected: Mapped[dict[str, Any] | None] = mapped_column(CompactJson)
    added_by_user: Mapped[bool]
    withdrawn: Mapped[bool]
    """No longer shown: its adding was undone, or a newer reader does not find it and nobody had decided it."""
    decided_by: Mapped[str | None]
    decided_at: Mapped[datetime | None] = mapped_column(UtcTime)


class StepRow(Base):
    """One step of the undo history: everything that one key or one button decided."""

    __tablename__ = "steps"
    __table_args__ = (Index("steps_by_state", "state"),)

    id: Mapped[key]
    kind: Mapped[DecisionKind]
    who: Mapped[str]
    at: Mapped[moment]
    state: Mapped[StepState]


class DecisionRow(Base):
    """What was decided on a claim, with how it stood before and after. Only ever added to."""

    __tablename__ = "decisions"
    __table_args__ = (Index("decisions_by_claim", "claim_id"), Index("decisions_by_step", "step_id"))

    id: Mapped[key]
    step_id: Mapped[int] = mapped_column(ForeignKey("steps.id"))
    claim_id: Mapped[claim_key]
    kind: Mapped[DecisionKind]
    who: Mapped[str]
    at: Mapped[moment]
    from_status: Mapped[ClaimStatus]
    from_value: Mapped[dict[str, Any] | None] = mapped_column(CompactJson)
    from_by: Mapped[str | None]
    from_at: Mapped[datetime | None] = mapped_column(UtcTime)
    to_status: Mapped[ClaimStatus]
    to_value: Mapped[dict[str, Any] | None] = mapped_column(CompactJson)


class OwnRuleRow(Base):
    __tablename__ = "own_rules"

    id: Mapped[key]
    lower: Mapped[str]
    upper: Mapped[str]
    forbids: Mapped[bool]
    words: Mapped[str]
    source: Mapped[str]
    made_at: Mapped[moment]


class NoteRow(Base):
    __tablename__ = "notes"
    __table_args__ = (Index("notes_by_product", "product_id"),)

    id: Mapped[key]
    product_id: Mapped[product_key]
    text: Mapped[str]
    changed_at: Mapped[moment]


class QuestionRow(Base):
    __tablename__ = "questions"

    id: Mapped[key]
    lower: Mapped[str]
    upper: Mapped[str]
    at_c: Mapped[float | None]
    asked_at: Mapped[moment]
    verdict: Mapped[str]


class SettingRow(Base):
    """A setting that belongs to the library and travels with it, as JSON."""

    __tablename__ = "settings"

    name: Mapped[str] = mapped_column(primary_key=True)
    value: Mapped[Any] = mapped_column(CompactJson)
