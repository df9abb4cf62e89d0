"""Build-ups by name: kept, taken up again, forgotten (and taken back), handed to a panel as its plan."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QComboBox, QLabel, QLineEdit, QPushButton, QVBoxLayout, QWidget

from app.flow import FlowLayout
from app.theme.theme import GRID, set_look
from store.build_ups import KeptBuildUp
from store.job_records import PanelRecord


class KeptBar(QWidget):
    """Signals: keeping_wanted(name); loaded(KeptBuildUp); forgetting_wanted(KeptBuildUp); taking_back_wanted(
    KeptBuildUp); planning_wanted(panel id, or None for a new panel)."""

    keeping_wanted = Signal(str)
    loaded = Signal(object)
    forgetting_wanted = Signal(object)
    taking_back_wanted = Signal(object)
    planning_wanted = Signal(object)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._kept: tuple[KeptBuildUp, ...] = ()
        self._forgotten: KeptBuildUp | None = None
        self.name = QLineEdit(self)
        self.name.setAccessibleName(self.tr("Name of the build-up"))
        self.name.setPlaceholderText(self.tr("name it to keep it"))
        self.name.setMinimumWidth(22 * GRID)
        self.keep = self._button(self.tr("Keep"), self.tr("Keep the build-up under this name"))
        self.choice = QComboBox(self)
        self.choice.setAccessibleName(self.tr("Build-ups that are kept"))
        self.choice.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        self.choice.setMinimumContentsLength(16)
        self.forget = self._button(self.tr("Forget"), self.tr("Keep the build-up of this name no longer"))
        self.back = self._button(self.tr("Take it back"), self.tr("Take back what was forgotten"))
        self.panels = QComboBox(self)
        self.panels.setAccessibleName(self.tr("Make it the plan of a panel"))
        self.panels.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        self.panels.setMinimumContentsLength(16)
        self._says = QLabel(self)
        set_look(self._says, "quiet")
        self._says.setWordWrap(True)
        row = QWidget(self)
        self._flow = FlowLayout(row, GRID)
        for widget in (self.name, self.keep, self.choice, self.forget, self.back, self.panels):
            self._flow.addWidget(widget)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(GRID // 2)
        column.addWidget(row)
        column.addWidget(self._says)
        self.name.returnPressed.connect(self._on_keep)
        self.keep.clicked.connect(self._on_keep)
        self.choice.activated.connect(self._on_chosen)
        self.forget.clicked.connect(self._on_forget)
        self.back.clicked.connect(self._on_back)
        self.panels.activated.connect(self._on_panel)
        self.name.textChanged.connect(lambda _: self._look())
        self.show_kept(())
        self.show_panels(())
        self.say("")

    @property
    def kept(self) -> tuple[KeptBuildUp, ...]:
        return self._kept

    def show_kept(self, kept: Sequence[KeptBuildUp]) -> None:
        self._kept = tuple(kept)
        self.choice.clear()
        self.choice.addItem(self.tr("take up one that is kept"))
        self.choice.addItems([one.name for one in kept])
        self.choice.setVisible(bool(kept))
        self._look()

    def show_panels(self, panels: Sequence[PanelRecord]) -> None:
        self.panels.clear()
        self.panels.addItem(self.tr("plan it for a panel"), "none")
        for record in panels:
            words = ", ".join(part for part in (record.panel.name, record.panel.job) if part)
            self.panels.addItem(words, record.id)
        self.panels.addItem(self.tr("a new panel"), None)

    def add(self, widget: QWidget) -> None:
        """Put something more at the end of the row."""
        self._flow.addWidget(widget)

    def say(self, words: str) -> None:
        self._says.setText(words)
        self._says.setVisible(bool(words))

    def _button(self, words: str, says: str) -> QPushButton:
        button = QPushButton(words, self)
        set_look(button, "deed")
        button.setAccessibleName(says)
        button.setToolTip(says)
        return button

    def _named(self) -> KeptBuildUp | None:
        name = self.name.text().strip().casefold()
        return next((one for one in self._kept if one.name.casefold() == name), None)

    def _look(self) -> None:
        self.keep.setEnabled(bool(self.name.text().strip()))
        self.forget.setVisible(self._named() is not None)
        self.back.setVisible(self._forgotten is not None)

    def _on_keep(self) -> None:
        if self.name.text().strip():
            self.keeping_wanted.emit(self.name.text().strip())

    def _on_chosen(self, index: int) -> None:
        if index > 0:
            chosen = self._kept[index - 1]
            self.name.setText(chosen.name)
            self.choice.setCurrentIndex(0)
            self.loaded.emit(chosen)

    def _on_forget(self) -> None:
        named = self._named()
        if named is not None:
            self._forgotten = named
            self.forgetting_wanted.emit(named)

    def _on_back(self) -> None:
        former, self._forgotten = self._forgotten, None
        if former is not None:
            self.taking_back_wanted.emit(former)

    def _on_panel(self, index: int) -> None:
        wanted = self.panels.itemData(index)
        self.panels.setCurrentIndex(0)
        if wanted != "none":
            self.planning_wanted.emit(wanted)
