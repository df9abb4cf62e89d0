"""The tables of the job: panels, their logs, tins, photos, and the journal that undo works from.

Nothing is deleted: deleted_at hides a row, so that it can come back by undo or by restoring it.
"""

from __future__ import annotations

from datetime import date, datetime
from typing import Any

from sqlalchemy import Dialect, ForeignKey, Index, Text
from sqlalchemy.orm import Mapped, mapped_column
from sqlalchemy.types import TypeDecorator

from store.column_types import ByValue, CompactJson, UtcTime, key, moment
from store.job_records import ChangeKind, ChangeScope, Component, PreparationKind, Unit
from store.tables import Base, StepState


class IsoDate(TypeDecorator[date]):
    """A calendar day as ISO text."""

    impl = Text
    cache_ok = True

    def process_bind_param(self, value: date | None, dialect: Dialect) -> str | None:
        return None if value is None else value.isoformat()

    def process_result_value(self, value: Any, dialect: Dialect) -> date | None:
        return None if value is None else date.fromisoformat(value)


class PanelRow(Base):
    """plan is the build-up from the metal up, one JSON object a layer."""

    __tablename__ = "panels"

    id: Mapped[key]
    name: Mapped[str]
    job: Mapped[str]
    surface: Mapped[str | None]
    plan: Mapped[list[dict[str, Any]]] = mapped_column(CompactJson)
    note: Mapped[str]
    made_at: Mapped[moment]
    finished_at: Mapped[datetime | None] = mapped_column(UtcTime)
    deleted_at: Mapped[datetime | None] = mapped_column(UtcTime)


class CoatRow(Base):
    """drawn holds [tin id, wanted, taken, opened] for each tin: what removing the coat gives back."""

    __tablename__ = "coats"
    __table_args__ = (Index("coats_by_panel", "panel_id"), Index("coats_by_product", "product_id"))

    id: Mapped[key]
    panel_id: Mapped[int] = mapped_column(ForeignKey("panels.id"))
    product_id: Mapped[int] = mapped_column(ForeignKey("products.id"))
    at: Mapped[moment]
    coats: Mapped[int]
    air_c: Mapped[float | None]
    panel_c: Mapped[float | None]
    humidity: Mapped[float | None]
    wet_um: Mapped[float | None]
    dry_um: Mapped[float | None]
    note: Mapped[str]
    photo_ids: Mapped[list[int]] = mapped_column(CompactJson)
    drawn: Mapped[list[list[Any]]] = mapped_column(CompactJson)
    deleted_at: Mapped[datetime | None] = mapped_column(UtcTime)


class PreparationRow(Base):
    __tablename__ = "preparations"
    __table_args__ = (Index("preparations_by_panel", "panel_id"),)

    id: Mapped[key]
    panel_id: Mapped[int] = mapped_column(ForeignKey("panels.id"))
    at: Mapped[moment]
    kind: Mapped[PreparationKind] = mapped_column(ByValue(PreparationKind))
    grit: Mapped[int | None]
    note: Mapped[str]
    deleted_at: Mapped[datetime | None] = mapped_column(UtcTime)


class SpellRow(Base):
    __tablename__ = "outdoor_spells"
    __table_args__ = (Index("outdoor_spells_by_panel", "panel_id"),)

    id: Mapped[key]
    panel_id: Mapped[int] = mapped_column(ForeignKey("panels.id"))
    began: Mapped[moment]
    ended: Mapped[datetime | None] = mapped_column(UtcTime)
    note: Mapped[str]
    deleted_at: Mapped[datetime | None] = mapped_column(UtcTime)


class TinRow(Base):
    """remaining and size are in unit; price is for a litre."""

    __tablename__ = "tins"
    __table_args__ = (Index("tins_by_product", "product_id"),)

    id: Mapped[key]
    product_id: Mapped[int] = mapped_column(ForeignKey("products.id"))
    component: Mapped[Component] = mapped_column(ByValue(Component))
    name: Mapped[str]
    unit: Mapped[Unit] = mapped_column(ByValue(Unit))
    size: Mapped[float | None]
    remaining: Mapped[float]
    batch: Mapped[str]
    made: Mapped[date | None] = mapped_column(IsoDate)
    bought: Mapped[date | None] = mapped_column(IsoDate)
    opened: Mapped[date | None] = mapped_column(IsoDate)
    place: Mapped[str]
    price_per_litre: Mapped[float | None]
    note: Mapped[str]
    kept_since: Mapped[moment]
    deleted_at: Mapped[datetime | None] = mapped_column(UtcTime)


class PhotoRow(Base):
    __tablename__ = "photos"

    id: Mapped[key]
    sha256: Mapped[str] = mapped_column(unique=True)
    suffix: Mapped[str]
    name: Mapped[str]
    length: Mapped[int]
    kept_at: Mapped[moment]


class ChangeRow(Base):
    """One step of the undo history of its scope."""

    __tablename__ = "changes"
    __table_args__ = (Index("changes_by_state", "scope", "state"),)

    id: Mapped[key]
    scope: Mapped[ChangeScope] = mapped_column(ByValue(ChangeScope))
    kind: Mapped[ChangeKind] = mapped_column(ByValue(ChangeKind))
    subject: Mapped[str]
    who: Mapped[str]
    at: Mapped[moment]
    state: Mapped[StepState]


class RowChangeRow(Base):
    """A row before and after a change, as SQLite holds it; before is NULL where the change made the row."""

    __tablename__ = "row_changes"
    __table_args__ = (Index("row_changes_by_change", "change_id"),)

    id: Mapped[key]
    change_id: Mapped[int] = mapped_column(ForeignKey("changes.id"))
    table_name: Mapped[str]
    row_id: Mapped[int]
    before: Mapped[dict[str, Any] | None] = mapped_column(CompactJson)
    after: Mapped[dict[str, Any]] = mapped_column(CompactJson)
