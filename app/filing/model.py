"""The lists of the place where sheets are filed, as models over frozen records."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from PySide6.QtCore import QAbstractTableModel, QModelIndex, QPersistentModelIndex, Qt

from app.filing.queue import FileState, FilingItem
from app.filing.words import cells
from app.translating import QT_TRANSLATE_NOOP, translate
from store.records import SheetRecord

Index = QModelIndex | QPersistentModelIndex
RECORD_ROLE = int(Qt.ItemDataRole.UserRole) + 1
"""The record itself of a row: a SheetRecord or a FilingItem."""


def item_words(item: FilingItem) -> str:
    """What became of a file, in a sentence."""
    match item.state:
        case FileState.WAITING:
            return translate("filing", "waiting its turn")
        case FileState.READING:
            return (
                translate("filing", "reading page {page} of {pages}").format(page=item.page, pages=item.pages)
                if item.pages
                else translate("filing", "opening")
            )
        case FileState.FILING:
            return translate("filing", "read, being filed")
        case FileState.FILED:
            return translate("filing", "filed: {waiting}").format(waiting=_waiting_words(item))
        case FileState.NEWER_ISSUE:
            product = item.filed[0].sheet.product.name
            carried = sum(f.carried for f in item.filed)
            kept = (
                translate("filing", ", {carried} confirmed before still stand").format(carried=carried)
                if carried
                else ""
            )
            return translate("filing", "newer issue of {product}: {waiting}{kept}").format(
                product=product, waiting=_waiting_words(item), kept=kept
            )
        case FileState.OLDER_ISSUE:
            return translate("filing", "older issue of {name}: kept behind the newer one").format(
                name=item.filed[0].sheet.product.name
            )
        case FileState.ALREADY_FILED:
            names = ", ".join(dict.fromkeys(s.product.name for s in _already(item)))
            return (
                translate("filing", "already filed, as {names}").format(names=names)
                if names
                else translate("filing", "already filed")
            )
        case FileState.LOCKED:
            return item.message.sentence if item.message else translate("filing", "locked with a password")
        case FileState.NOT_READ:
            return item.message.sentence if item.message else translate("filing", "could not be read")
        case FileState.CANCELLED:
            return translate("filing", "taken out, nothing filed")


def differences_words(item: FilingItem) -> str:
    """What a newer issue changed, a line each; empty where it changed nothing."""
    lines = [f"{f.sheet.product.name}: {d.words}" for f in item.filed for d in f.differences]
    return "\n".join([translate("filing", "Changed since the issue before:"), *lines]) if lines else ""


def _already(item: FilingItem) -> tuple[SheetRecord, ...]:
    return item.known or tuple(f.sheet for f in item.filed)


def _waiting_words(item: FilingItem) -> str:
    waiting = sum(f.waiting for f in item.filed)
    if not waiting:
        if any(f.sheet.scanned for f in item.filed):
            return translate("filing", "its pages are pictures without text, so nothing could be read out of them")
        return translate("filing", "nothing found to confirm")
    short = translate("filing", ", not all of it could be read") if any(f.sheet.problems for f in item.filed) else ""
    products = translate("filing", " for {len} products").format(len=len(item.filed)) if len(item.filed) > 1 else ""
    return translate("filing", "{waiting} {part} to be confirmed{products}{short}").format(
        waiting=waiting,
        part=translate("filing", "waits") if waiting == 1 else translate("filing", "wait"),
        products=products,
        short=short,
    )


class _Table(QAbstractTableModel):
    HEADS: tuple[str, ...] = ()

    def columnCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008 - Qt's own signature
        return 0 if parent.isValid() else len(self.HEADS)

    def headerData(self, section: int, orientation: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        if orientation is Qt.Orientation.Horizontal and role == Qt.ItemDataRole.DisplayRole:
            return translate("filing", self.HEADS[section]) if section < len(self.HEADS) else None
        return None


class SheetTable(_Table):
    """A row a sheet."""

    HEADS = (
        QT_TRANSLATE_NOOP("filing", "Product"),
        QT_TRANSLATE_NOOP("filing", "Maker"),
        QT_TRANSLATE_NOOP("filing", "Kind"),
        QT_TRANSLATE_NOOP("filing", "Issue"),
        QT_TRANSLATE_NOOP("filing", "To confirm"),
    )

    def __init__(self) -> None:
        super().__init__()
        self._sheets: tuple[SheetRecord, ...] = ()

    def rowCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008 - Qt's own signature
        return 0 if parent.isValid() else len(self._sheets)

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        if not index.isValid():
            return None
        sheet = self._sheets[index.row()]
        if role == RECORD_ROLE:
            return sheet
        if role in (Qt.ItemDataRole.DisplayRole, Qt.ItemDataRole.ToolTipRole):
            return cells(sheet)[index.column()]
        return None

    def set_sheets(self, sheets: Sequence[SheetRecord]) -> None:
        """Show these. Rows that only changed in place keep their place and the person's choice."""
        new = tuple(sheets)
        if [s.id for s in new] == [s.id for s in self._sheets]:
            old, self._sheets = self._sheets, new
            for row, (before, after) in enumerate(zip(old, new, strict=True)):
                if before != after:
                    self.dataChanged.emit(self.index(row, 0), self.index(row, len(self.HEADS) - 1))
            return
        self.beginResetModel()
        self._sheets = new
        self.endResetModel()

    def row_of(self, sheet_id: int) -> int | None:
        return next((row for row, sheet in enumerate(self._sheets) if sheet.id == sheet_id), None)


class FileTable(_Table):
    """A row a file of this session."""

    HEADS = (QT_TRANSLATE_NOOP("filing", "File"), QT_TRANSLATE_NOOP("filing", "What became of it"))

    def __init__(self) -> None:
        super().__init__()
        self._items: list[FilingItem] = []

    def rowCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008 - Qt's own signature
        return 0 if parent.isValid() else len(self._items)

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        if not index.isValid():
            return None
        item = self._items[index.row()]
        if role == RECORD_ROLE:
            return item
        if role == Qt.ItemDataRole.DisplayRole:
            return item.path.name if index.column() == 0 else item_words(item)
        if role == Qt.ItemDataRole.ToolTipRole:
            return str(item.path) if index.column() == 0 else (item.message.detail if item.message else None)
        return None

    def add(self, items: Sequence[FilingItem]) -> None:
        first = len(self._items)
        self.beginInsertRows(QModelIndex(), first, first + len(items) - 1)
        self._items.extend(items)
        self.endInsertRows()

    def change(self, item: FilingItem) -> None:
        """Show a file's new state; one that is not in the list yet is left alone."""
        if item.number < len(self._items):
            self._items[item.number] = item
            self.dataChanged.emit(self.index(item.number, 0), self.index(item.number, 1))
