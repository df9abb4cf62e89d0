"""The Tab key goes as one reads: through the layouts in their order, whatever was made first or came later."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise
from typing import cast

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QGridLayout, QLayout, QScrollArea, QSplitter, QStackedWidget, QWidget


def put_in_order(inside: QWidget) -> None:
    """Let Tab visit what lies within a widget in the order of its layouts. What lies outside keeps its place."""
    # Without a look at Qt's own chain: a walk along nextInFocusChain() left PySide with widgets freed twice later.
    for one, other in pairwise(widget for widget in _in_order(inside) if _takes_tab(widget)):
        QWidget.setTabOrder(one, other)


def _takes_tab(widget: QWidget) -> bool:
    return bool(widget.focusPolicy() & Qt.FocusPolicy.TabFocus) and widget.focusProxy() is None


def _in_order(widget: QWidget) -> Iterator[QWidget]:
    """Every widget beneath, as the layouts hold them; those that stand in no layout last."""
    seen: set[QWidget] = set()
    for child in (*_laid_out(widget), *_children(widget)):
        if child not in seen:
            seen.add(child)
            yield child
            for below in _in_order(child):
                if below not in seen:
                    seen.add(below)
                    yield below


def _laid_out(widget: QWidget) -> Iterator[QWidget]:
    if isinstance(widget, (QSplitter, QStackedWidget)):
        yield from (page for at in range(widget.count()) if (page := widget.widget(at)) is not None)
    elif isinstance(widget, QScrollArea) and (content := widget.widget()) is not None:
        yield content
    layout = widget.layout()
    if layout is not None:
        yield from _of_layout(layout)


def _of_layout(layout: QLayout) -> Iterator[QWidget]:
    for at in _places(layout):
        item = layout.itemAt(at)
        if item is None:
            continue
        if (widget := item.widget()) is not None:
            yield widget
        elif (inner := item.layout()) is not None:
            yield from _of_layout(inner)


def _places(layout: QLayout) -> list[int]:
    """The items of a layout as they are read; what stands beside several rows comes after the last of them."""
    places = list(range(layout.count()))
    if isinstance(layout, QGridLayout):
        read = {}
        for at in places:
            row, column, rows, _ = cast("tuple[int, int, int, int]", layout.getItemPosition(at))
            read[at] = (row + rows - 1, column)
        places.sort(key=read.__getitem__)
    return places


def _children(widget: QWidget) -> Iterator[QWidget]:
    yield from (child for child in widget.children() if isinstance(child, QWidget) and not child.isWindow())
