"""Keys that work in one widget and nowhere else."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeySequence, QShortcut
from PySide6.QtWidgets import QWidget


def on_key(widget: QWidget, key: Qt.Key, does: Callable[[], object], *, children: bool = False) -> QShortcut:
    """Call `does` when the key is pressed while the widget (or, with children, anything in it) has the focus."""
    made = QShortcut(QKeySequence(key), widget)
    # Set apart from the constructor: given there by keyword, it is not taken.
    made.setContext(Qt.ShortcutContext.WidgetWithChildrenShortcut if children else Qt.ShortcutContext.WidgetShortcut)
    made.activated.connect(does)
    return made
