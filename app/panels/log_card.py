"""One entry of a panel's log, with its photos, and the ways to put it right."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import QSize, Qt, QUrl, Signal
from PySide6.QtGui import QDesktopServices, QIcon, QImageReader, QPixmap
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLabel, QPushButton, QVBoxLayout, QWidget

from app.panels.entries import LogEntry
from app.theme.theme import GRID, set_look

_THUMB = QSize(96, 72)


class LogCard(QFrame):
    """Signals: change_wanted(record); remove_wanted(record)."""

    change_wanted = Signal(object)
    remove_wanted = Signal(object)

    def __init__(self, entry: LogEntry, photo: Callable[[int], Path | None], parent: QWidget | None = None) -> None:
        super().__init__(parent)
        set_look(self, "card")
        self.entry = entry
        self.setAccessibleName(", ".join((entry.what, entry.when, *entry.details)))
        what = QLabel(entry.what, self)
        what.setWordWrap(True)
        when = QLabel(entry.when, self)
        set_look(when, "quiet")
        change = QPushButton(self.tr("Change"), self)
        remove = QPushButton(self.tr("Remove"), self)
        for button, words in ((change, self.tr("Change")), (remove, self.tr("Remove"))):
            set_look(button, "link")
            button.setAccessibleName(f"{words}: {entry.what}, {entry.when}")
        change.clicked.connect(lambda: self.change_wanted.emit(entry.record))
        remove.clicked.connect(lambda: self.remove_wanted.emit(entry.record))
        self.change_button, self.remove_button = change, remove
        head = QHBoxLayout()
        head.setSpacing(GRID)
        head.addWidget(what, 1)
        head.addWidget(change)
        head.addWidget(remove)
        column = QVBoxLayout(self)
        column.setContentsMargins(2 * GRID, GRID // 2, GRID, GRID)
        column.setSpacing(GRID // 2)
        column.addLayout(head)
        column.addWidget(when)
        for words in entry.details:
            label = QLabel(words, self)
            label.setWordWrap(True)
            column.addWidget(label)
        if entry.photo_ids:
            row = QHBoxLayout()
            for photo_id in entry.photo_ids:
                row.addWidget(self._photo(photo(photo_id)))
            row.addStretch(1)
            column.addLayout(row)

    def _photo(self, path: Path | None) -> QPushButton:
        button = QPushButton(self)
        if path is None:
            button.setText(self.tr("photo is missing"))
            button.setEnabled(False)
            return button
        reader = QImageReader(str(path))
        reader.setAutoTransform(True)
        size = reader.size()
        if size.isValid():
            # Scaled while it is read: a camera's picture is never held whole.
            reader.setScaledSize(size.scaled(_THUMB * 2, Qt.AspectRatioMode.KeepAspectRatio))
        image = reader.read()
        if image.isNull():
            button.setText(self.tr("Open the photo"))
        else:
            button.setIcon(QIcon(QPixmap.fromImage(image)))
            button.setIconSize(_THUMB)
        button.setAccessibleName(self.tr("Open the photo"))
        button.clicked.connect(lambda: QDesktopServices.openUrl(QUrl.fromLocalFile(str(path))))
        return button
