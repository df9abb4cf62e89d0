"""Which words a person can see: painted ones, as they are painted, and those that tooltips and screen readers say."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from html import unescape

from PySide6.QtCore import (
    QAbstractItemModel,
    QAbstractListModel,
    QAbstractTableModel,
    QBuffer,
    QByteArray,
    QIODevice,
    QModelIndex,
    QPoint,
    QRect,
    Qt,
)
from PySide6.QtGui import QAction, QColor, QPainter
from PySide6.QtSvg import QSvgGenerator
from PySide6.QtWidgets import (
    QAbstractButton,
    QAbstractItemView,
    QAbstractSpinBox,
    QComboBox,
    QHeaderView,
    QLabel,
    QLineEdit,
    QMainWindow,
    QPlainTextEdit,
    QTabBar,
    QTextEdit,
    QWidget,
)

_GROUP_OR_TEXT = re.compile(
    r'<g [^>]*transform="matrix\((?P<matrix>[^)]*)\)"|<text (?P<told>[^>]*)>(?P<words>.*?)</text>', re.DOTALL
)
_TAG = re.compile(r"<[^>]*>")
_ROWS = 60
"""Rows of a list that are looked at: the others say the same of other things."""


@dataclass(frozen=True, slots=True)
class PaintedText:
    """One run of letters: where its base line begins, in pixels of the widget, how large, and in which colour."""

    words: str
    colour: QColor
    left: float
    base: float
    size: float

    @property
    def box(self) -> QRect:
        """About the line that its letters stand in, with some ground above and below them."""
        width = min(0.5 * self.size * len(self.words), 400.0)
        return QRect(round(self.left), round(self.base - 1.1 * self.size), round(width), round(1.5 * self.size))


def painted_texts(widget: QWidget) -> Iterator[PaintedText]:
    """What stands on the widget and all in it, run by run, delegates and pictures too."""
    held = QByteArray()
    buffer = QBuffer(held)
    buffer.open(QIODevice.OpenModeFlag.WriteOnly)
    generator = QSvgGenerator()
    generator.setOutputDevice(buffer)
    generator.setSize(widget.size())
    painter = QPainter(generator)
    widget.render(painter, QPoint())
    painter.end()
    moved = (1.0, 0.0, 0.0, 1.0, 0.0, 0.0)
    for found in _GROUP_OR_TEXT.finditer(bytes(held.data()).decode("utf-8")):
        if found["matrix"] is not None:
            moved = tuple(float(part) for part in found["matrix"].split(","))  # type: ignore[assignment]
            continue
        told = found["told"]
        x, y = float(_told(told, "x")), float(_told(told, "y"))
        colour = QColor(_told(told, "fill"))
        colour.setAlphaF(float(_told(told, "fill-opacity")))
        words = unescape(_TAG.sub("", found["words"]))
        size = float(_told(told, "font-size")) * moved[3]
        yield PaintedText(words, colour, moved[0] * x + moved[2] * y + moved[4], moved[3] * y + moved[5], size)


def painted_words(widget: QWidget) -> Iterator[str]:
    return (text.words for text in painted_texts(widget))


def _told(attributes: str, name: str) -> str:
    found = re.search(rf'(?:^|\s){name}="([^"]*)"', attributes)
    assert found is not None, attributes
    return found[1]


def said_words(inside: QWidget) -> Iterator[str]:
    """What is said beside: whole texts, tooltips, names for screen readers, menus, and lists beyond their edge."""
    for widget in (inside, *inside.findChildren(QWidget)):
        if not widget.isVisible():
            continue
        yield from (widget.toolTip(), widget.accessibleName(), widget.accessibleDescription(), widget.statusTip())
        yield from _own_words(widget)
        for action in widget.actions():
            yield from _of_action(action)
    if isinstance(inside, QMainWindow):
        for action in inside.findChildren(QAction):
            yield from _of_action(action)


def _of_action(action: QAction) -> Iterator[str]:
    if action.isVisible():
        yield from (action.text(), action.toolTip(), action.whatsThis())


def _own_words(widget: QWidget) -> Iterator[str]:
    if isinstance(widget, (QLabel, QAbstractButton)):
        yield plain(widget.text())
    elif isinstance(widget, QLineEdit):
        yield from (widget.text(), widget.placeholderText())
    elif isinstance(widget, (QTextEdit, QPlainTextEdit)):
        yield from (widget.toPlainText(), widget.placeholderText())
    elif isinstance(widget, QAbstractSpinBox):
        yield from (widget.text(), widget.specialValueText())
    elif isinstance(widget, QComboBox):
        yield from (widget.itemText(row) for row in range(widget.count()))
        yield widget.placeholderText()
    elif isinstance(widget, QTabBar):
        yield from (widget.tabText(at) for at in range(widget.count()))
    elif isinstance(widget, QAbstractItemView) and not isinstance(widget, QHeaderView) and widget.model() is not None:
        yield from _of_model(widget.model(), QModelIndex())


_ROLES = (
    Qt.ItemDataRole.DisplayRole,
    Qt.ItemDataRole.ToolTipRole,
    Qt.ItemDataRole.AccessibleTextRole,
    Qt.ItemDataRole.AccessibleDescriptionRole,
)


def _of_model(model: QAbstractItemModel, parent: QModelIndex) -> Iterator[str]:
    # A list's own columnCount is not for others.
    columns = range(1 if isinstance(model, QAbstractListModel) else model.columnCount(parent))
    heads = [(column, Qt.Orientation.Horizontal) for column in columns]
    heads += [(row, Qt.Orientation.Vertical) for row in range(min(model.rowCount(parent), _ROWS))]
    for at, way in heads:
        for role in _ROLES:
            words = model.headerData(at, way, role)
            if isinstance(words, str):
                yield words
    for row in range(min(model.rowCount(parent), _ROWS)):
        for column in columns:
            index = model.index(row, column, parent)
            for role in _ROLES:
                words = index.data(role)
                if isinstance(words, str):
                    yield words
            if not isinstance(model, (QAbstractListModel, QAbstractTableModel)) and model.hasChildren(index):
                yield from _of_model(model, index)


def plain(words: str) -> str:
    """Rich text without its tags."""
    return unescape(_TAG.sub(" ", words)) if _TAG.search(words) else words
