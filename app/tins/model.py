"""The tins as a table."""

from __future__ import annotations

import csv
import io
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from PySide6.QtCore import QAbstractTableModel, QModelIndex, QPersistentModelIndex, QRectF, Qt
from PySide6.QtGui import QIcon, QPainter, QPixmap

from app.figure_words import date_words, number_words
from app.job_words import component_words, use_by_words
from app.theme.theme import Theme
from app.theme.verdict_shape import paint_shape, shape_colour
from app.translating import QT_TRANSLATE_NOOP, translate
from store.job_records import Tin, TinRecord
from store.planning.shelf_life import TinState
from store.planning.tin_dates import TinDates

Index = QModelIndex | QPersistentModelIndex
SHAPES = {
    TinState.GOOD: "yes", TinState.SOON: "yes_if", TinState.PAST: "no", TinState.UNKNOWN: "silent",
}  # fmt: skip
USE_BY = 3


@dataclass(frozen=True, slots=True)
class ShownTin:
    record: TinRecord
    dates: TinDates


def heads() -> tuple[str, ...]:
    return tuple(
        translate("shelf", words)
        for words in (
            QT_TRANSLATE_NOOP("shelf", "Product"),
            QT_TRANSLATE_NOOP("shelf", "Part"),
            QT_TRANSLATE_NOOP("shelf", "Left"),
            QT_TRANSLATE_NOOP("shelf", "Use by"),
            QT_TRANSLATE_NOOP("shelf", "Batch"),
            QT_TRANSLATE_NOOP("shelf", "Place"),
            QT_TRANSLATE_NOOP("shelf", "Opened"),
            QT_TRANSLATE_NOOP("shelf", "Made"),
            QT_TRANSLATE_NOOP("shelf", "Bought"),
            QT_TRANSLATE_NOOP("shelf", "Price a litre"),
        )
    )


def cells(shown: ShownTin) -> tuple[str, ...]:
    """One row in words; what is not noted is empty, what a sheet does not say is said to be."""
    tin = shown.record.tin
    component = tin.name or component_words(tin.component)
    price = number_words(tin.price_per_litre) if tin.price_per_litre is not None else ""
    return (
        shown.record.product, component, left_words(tin), use_by_words(shown.dates), tin.batch, tin.place,
        _day(tin.opened), _day(tin.made), _day(tin.bought), price,
    )  # fmt: skip


def left_words(tin: Tin) -> str:
    size = f" / {number_words(tin.size)}" if tin.size is not None else ""
    return f"{number_words(tin.left)}{size} {tin.unit.value}"


def csv_text(tins: Sequence[ShownTin]) -> str:
    """For spreadsheets; a cell that one would take for a formula is marked as text."""
    out = io.StringIO()
    writer = csv.writer(out)
    writer.writerow(heads())
    for tin in tins:
        writer.writerow([f"'{cell}" if cell[:1] in {"=", "+", "-", "@", "\t"} else cell for cell in cells(tin)])
    return out.getvalue()


def _day(day: object) -> str:
    return date_words(day.isoformat()) if day is not None else ""  # type: ignore[attr-defined]


class TinsTable(QAbstractTableModel):
    """A row a tin; the use-by column has a shape before its words."""

    def __init__(self, theme: Theme) -> None:
        super().__init__()
        self._theme = theme
        self.tins: tuple[ShownTin, ...] = ()
        self._cells: tuple[tuple[str, ...], ...] = ()

    def show_tins(self, tins: Sequence[ShownTin]) -> None:
        self.beginResetModel()
        self.tins = tuple(tins)
        self._cells = tuple(cells(tin) for tin in tins)
        self.endResetModel()

    def rowCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008 - Qt's own signature
        return 0 if parent.isValid() else len(self.tins)

    def columnCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008 - Qt's own signature
        return 0 if parent.isValid() else len(heads())

    def headerData(self, section: int, orientation: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        if role == Qt.ItemDataRole.DisplayRole and orientation is Qt.Orientation.Horizontal:
            return heads()[section]
        return None

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        if not index.isValid():
            return None
        if role in (Qt.ItemDataRole.DisplayRole, Qt.ItemDataRole.ToolTipRole, Qt.ItemDataRole.AccessibleTextRole):
            return self._cells[index.row()][index.column()]
        if role == Qt.ItemDataRole.DecorationRole and index.column() == USE_BY:
            return self._mark(SHAPES[self.tins[index.row()].dates.state])
        return None

    def _mark(self, shape: str) -> QIcon:
        picture = QPixmap(48, 48)
        picture.fill(Qt.GlobalColor.transparent)
        painter = QPainter(picture)
        paint_shape(painter, shape, QRectF(2, 2, 44, 44), shape_colour(self._theme, shape))
        painter.end()
        return QIcon(picture)
