"""The comparison as a table: a column for what a row is about, then one a product."""

from __future__ import annotations

from typing import Any

from PySide6.QtCore import QAbstractTableModel, QModelIndex, QPersistentModelIndex, Qt

from app.comparing.lines import Line, Lines, ShownCell
from app.translating import translate

Index = QModelIndex | QPersistentModelIndex
CELL_ROLE = int(Qt.ItemDataRole.UserRole) + 1
"""The ShownCell of a product's column."""
LINE_ROLE = CELL_ROLE + 1
"""The Line of the row."""
_NOTHING = Lines((), (), None)


class ComparisonTable(QAbstractTableModel):
    """Shows Lines; headings of topics are rows that cannot be chosen."""

    def __init__(self) -> None:
        super().__init__()
        self._lines = _NOTHING

    @property
    def lines(self) -> Lines:
        return self._lines

    def set_lines(self, lines: Lines) -> None:
        self.beginResetModel()
        self._lines = lines
        self.endResetModel()

    def clear(self) -> None:
        self.set_lines(_NOTHING)

    def line(self, row: int) -> Line:
        return self._lines.lines[row]

    def rowCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008 - Qt's own signature
        return 0 if parent.isValid() else len(self._lines.lines)

    def columnCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008 - Qt's own signature
        return 0 if parent.isValid() or not self._lines.products else 1 + len(self._lines.products)

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        if not index.isValid():
            return None
        line = self._lines.lines[index.row()]
        if role == LINE_ROLE:
            return line
        cell = self._cell(line, index.column())
        if role == CELL_ROLE:
            return cell
        if role == Qt.ItemDataRole.DisplayRole:
            if index.column() == 0:
                return line.marked_head
            return cell.said if cell is not None else ""
        if role == Qt.ItemDataRole.AccessibleTextRole:
            return self._said(line, cell, index.column())
        return None

    def flags(self, index: Index) -> Qt.ItemFlag:
        if not index.isValid() or self._lines.lines[index.row()].is_heading:
            return Qt.ItemFlag.NoItemFlags
        return Qt.ItemFlag.ItemIsEnabled | Qt.ItemFlag.ItemIsSelectable | Qt.ItemFlag.ItemNeverHasChildren

    def headerData(self, section: int, orientation: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        if orientation is not Qt.Orientation.Horizontal or not 0 < section <= len(self._lines.products):
            return None
        product = self._lines.products[section - 1]
        if role == Qt.ItemDataRole.DisplayRole:
            return product.name
        if role == Qt.ItemDataRole.TextAlignmentRole:
            left = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter
            return left.value | Qt.TextFlag.TextWordWrap.value
        if role == Qt.ItemDataRole.ToolTipRole:
            return f"{product.name}\n{product.maker}"
        return None

    def _cell(self, line: Line, column: int) -> ShownCell | None:
        return line.cells[column - 1] if 0 < column <= len(line.cells) else None

    def _said(self, line: Line, cell: ShownCell | None, column: int) -> str:
        if cell is None:
            differ = translate("comparison", "the sheets differ")
            return f"{line.head}, {differ}" if line.differs else line.head
        parts = [f"{self._lines.products[column - 1].name}, {line.head}", cell.said.replace("\n", ", ")]
        return ": ".join(parts)
