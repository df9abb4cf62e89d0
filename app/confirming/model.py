"""The claims of one sheet as a list that changes row by row: a decision never reloads it."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Any

from PySide6.QtCore import QAbstractListModel, QModelIndex, QPersistentModelIndex, Qt

from app.confirming.order import Head, Row, in_order, status_words
from app.wording import claim_words, topic_words
from store.records import ClaimRecord, ClaimStatus

Index = QModelIndex | QPersistentModelIndex
ROW_ROLE = int(Qt.ItemDataRole.UserRole) + 1
"""The Head or ClaimRecord of a row."""


class ClaimList(QAbstractListModel):
    """Heads (not selectable) and claims."""

    def __init__(self) -> None:
        super().__init__()
        self._rows: tuple[Row, ...] = ()
        self._places: dict[int, int] = {}
        self.product = ""

    @property
    def rows(self) -> Sequence[Row]:
        return self._rows

    def claims(self) -> tuple[ClaimRecord, ...]:
        return tuple(row for row in self._rows if isinstance(row, ClaimRecord))

    def record(self, row: int) -> ClaimRecord | None:
        """The claim of a row; None for a head or no row."""
        found = self._rows[row] if 0 <= row < len(self._rows) else None
        return found if isinstance(found, ClaimRecord) else None

    def row_of(self, claim_id: int) -> int | None:
        return self._places.get(claim_id)

    def waiting(self) -> int:
        return sum(c.status is ClaimStatus.PROPOSED for c in self.claims())

    def show_claims(self, claims: Sequence[ClaimRecord], product: str) -> None:
        """Show a sheet's claims from the start; product is what their sentences call it."""
        self.beginResetModel()
        self.product = product
        self._set(in_order(claims))
        self.endResetModel()

    def take(self, records: Iterable[ClaimRecord]) -> None:
        """Put changed records in their places. New ones, and ones that changed topic, are put in by a fresh order."""
        records = tuple(records)
        moved = [r for r in records if not self._stays(r)]
        rows = list(self._rows)
        for record in records:
            at = self._places.get(record.id)
            if at is not None and record not in moved:
                rows[at] = record
                self._rows = tuple(rows)
                index = self.index(at)
                self.dataChanged.emit(index, index)
        if moved:
            ids = {r.id for r in moved}
            kept = [c for c in self.claims() if c.id not in ids]
            self.beginResetModel()
            self._set(in_order([*kept, *moved]))
            self.endResetModel()

    def _stays(self, record: ClaimRecord) -> bool:
        at = self._places.get(record.id)
        known = self.record(at) if at is not None else None
        return known is not None and known.claim.topic is record.claim.topic

    def _set(self, rows: tuple[Row, ...]) -> None:
        self._rows = rows
        self._places = {row.id: at for at, row in enumerate(rows) if isinstance(row, ClaimRecord)}

    def rowCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008 - Qt's own signature
        return 0 if parent.isValid() else len(self._rows)

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        if not index.isValid():
            return None
        row = self._rows[index.row()]
        if role == ROW_ROLE:
            return row
        if role == Qt.ItemDataRole.DisplayRole:
            return topic_words(row.topic) if isinstance(row, Head) else claim_words(row.claim, self.product)
        if role == Qt.ItemDataRole.AccessibleTextRole and isinstance(row, ClaimRecord):
            return f"{claim_words(row.claim, self.product)}. {status_words(row)}. “{row.claim.evidence.quote}”"
        return None

    def flags(self, index: Index) -> Qt.ItemFlag:
        if not index.isValid() or isinstance(self._rows[index.row()], Head):
            return Qt.ItemFlag.NoItemFlags
        return Qt.ItemFlag.ItemIsEnabled | Qt.ItemFlag.ItemIsSelectable | Qt.ItemFlag.ItemNeverHasChildren
