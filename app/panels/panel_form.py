"""The form for a panel or part: its name, its job, what it is made of, and the build-up that is planned for it."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import (
    QComboBox,
    QGridLayout,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QPlainTextEdit,
    QPushButton,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

from app.half_typed import HalfTyped
from app.naming.book import NameBook
from app.panels.plan_editor import PlanEditor
from app.shortcuts import on_key
from app.theme.text_size import fix_height, limit_width
from app.theme.theme import GRID, set_look
from app.wording import kind_words
from extract.kinds import kinds
from store.job_records import Panel, PanelRecord

_WIDTH = 88 * GRID
_GROUNDS = ("surface.", "finish.", "treatment.")


class PanelForm(QScrollArea):
    """Signals: kept(Panel) with the record's id in `record`; left()."""

    kept = Signal(object)
    left = Signal()

    def __init__(self, book: NameBook, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.record: PanelRecord | None = None
        self.setWidgetResizable(True)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self._head = QLabel(self)
        set_look(self._head, "head")
        self.name_field = QLineEdit(self)
        self.name_field.setPlaceholderText(self.tr("left front door"))
        self.job = QLineEdit(self)
        self.job.setPlaceholderText(self.tr("the vehicle or whose it is"))
        self.surface = QComboBox(self)
        self.surface.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        self.surface.setMinimumContentsLength(12)
        self.surface.addItem(self.tr("not named yet"), None)
        for kind in kinds():
            if kind.startswith(_GROUNDS):
                self.surface.addItem(kind_words(kind), kind)
        self.plan = PlanEditor(book, self)
        self.note = QPlainTextEdit(self)
        self.note.setTabChangesFocus(True)
        fix_height(self.note, 9 * GRID)
        self._wrong = QLabel(self)
        self._wrong.setWordWrap(True)
        set_look(self._wrong, "caution")
        self._wrong.hide()
        self.keep_button = QPushButton(self.tr("Keep the panel"), self)
        set_look(self.keep_button, "primary")
        self.leave_button = QPushButton(self.tr("Leave it"), self)
        self.keep_button.clicked.connect(self.keep)
        self.leave_button.clicked.connect(self.left)
        self.surface.currentIndexChanged.connect(lambda: self.plan.show_surface(self.surface.currentData()))
        self._lay_out()
        self.half_typed = HalfTyped(self, self.say, self.left.emit, lambda: self.plan.plan)
        on_key(self, Qt.Key.Key_Escape, self.half_typed.escape, children=True)
        self.name_field.returnPressed.connect(self.job.setFocus)
        self.job.returnPressed.connect(self.surface.setFocus)

    def open(self, record: PanelRecord | None) -> None:
        """None for a new one."""
        self.record = record
        panel = record.panel if record is not None else Panel("")
        self._head.setText(self.tr("A new panel") if record is None else self.tr("Change the panel"))
        self.name_field.setText(panel.name)
        self.job.setText(panel.job)
        self.surface.setCurrentIndex(max(self.surface.findData(panel.surface), 0))
        self.plan.show_surface(panel.surface)
        self.plan.set_plan(panel.plan)
        self.note.setPlainText(panel.note)
        self.say("")
        self.name_field.setFocus()
        self.verticalScrollBar().setValue(0)
        self.half_typed.begin()

    def keep(self) -> None:
        if not self.name_field.text().strip():
            self.say(self.tr("Give the panel a name, so that it is found again: “left front door”."))
            self.name_field.setFocus()
            return
        self.kept.emit(
            Panel(
                self.name_field.text().strip(),
                self.job.text().strip(),
                self.surface.currentData(),
                self.plan.plan,
                self.note.toPlainText().strip(),
            )
        )

    def say(self, words: str) -> None:
        """What is wrong; '' for nothing."""
        self._wrong.setText(words)
        self._wrong.setVisible(bool(words))

    def _lay_out(self) -> None:
        whole = QWidget()
        limit_width(whole, _WIDTH)
        grid = QGridLayout()
        grid.setHorizontalSpacing(2 * GRID)
        grid.setVerticalSpacing(GRID)
        rows: tuple[tuple[str, QWidget], ...] = (
            (self.tr("Panel or part"), self.name_field),
            (self.tr("Job"), self.job),
            (self.tr("Surface"), self.surface),
            (self.tr("Build-up"), self.plan),
            (self.tr("Note"), self.note),
        )
        for at, (words, field) in enumerate(rows):
            label = QLabel(words, whole)
            label.setBuddy(field)
            if not field.accessibleName():
                field.setAccessibleName(words)
            set_look(label, "beside")
            grid.addWidget(label, at, 0, Qt.AlignmentFlag.AlignTop)
            grid.addWidget(field, at, 1)
        grid.setColumnStretch(1, 1)
        deeds = QHBoxLayout()
        deeds.setSpacing(GRID)
        deeds.addWidget(self.keep_button)
        deeds.addWidget(self.leave_button)
        deeds.addStretch(1)
        column = QVBoxLayout(whole)
        column.setContentsMargins(0, 0, GRID, 2 * GRID)
        column.setSpacing(2 * GRID)
        column.addWidget(self._head)
        column.addLayout(grid)
        column.addWidget(self._wrong)
        column.addLayout(deeds)
        column.addStretch(1)
        self.setWidget(whole)
