"""The form in which a preparation or a time outdoors that was logged is put right."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import (
    QCheckBox,
    QGridLayout,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from app.half_typed import HalfTyped
from app.moment_fields import MomentField
from app.naming.figures import FigureField
from app.now import Now
from app.panels.entries import preparation_words
from app.shortcuts import on_key
from app.theme.text_size import limit_width
from app.theme.theme import GRID, set_look
from app.typed_moments import NotAMoment
from store.job_records import OutdoorSpell, Preparation, PreparationKind, PreparationRecord, SpellRecord


class EntryForm(QWidget):
    """Signals: preparation_kept(id, Preparation); spell_kept(id, OutdoorSpell); left()."""

    preparation_kept = Signal(int, object)
    spell_kept = Signal(int, object)
    left = Signal()

    def __init__(self, now: Now, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._record: PreparationRecord | SpellRecord | None = None
        self._head = QLabel(self)
        set_look(self._head, "head")
        self.began = MomentField(self.tr("When"), now, self)
        self.ended = MomentField(self.tr("Taken in"), now, self)
        self.still_out = QCheckBox(self.tr("it stands outdoors still"), self)
        self.grit = FigureField(
            self.tr("Grit, P grade"), "P", 12, 5000, empty_words=self.tr("not noted"), first=180, parent=self
        )
        self.note = QLineEdit(self)
        self.note.setAccessibleName(self.tr("Note"))
        self._wrong = QLabel(self)
        self._wrong.setWordWrap(True)
        set_look(self._wrong, "caution")
        self.keep_button = QPushButton(self.tr("Keep it"), self)
        set_look(self.keep_button, "primary")
        leave = QPushButton(self.tr("Leave it"), self)
        self.keep_button.clicked.connect(self.keep)
        leave.clicked.connect(self.left)
        self.still_out.toggled.connect(self.ended.setDisabled)
        self._labels = [QLabel(words, self) for words in (
            self.tr("When"), self.tr("Taken in"), "", self.tr("Grit (P)"), self.tr("Note"),
        )]  # fmt: skip
        grid = QGridLayout()
        grid.setHorizontalSpacing(2 * GRID)
        grid.setVerticalSpacing(GRID)
        self._fields: tuple[QWidget, ...] = (self.began, self.ended, self.still_out, self.grit, self.note)
        for at, (label, field) in enumerate(zip(self._labels, self._fields, strict=True)):
            grid.addWidget(label, at, 0)
            grid.addWidget(field, at, 1)
        grid.setColumnStretch(1, 1)
        deeds = QHBoxLayout()
        deeds.addWidget(self.keep_button)
        deeds.addWidget(leave)
        deeds.addStretch(1)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, GRID, 0)
        column.setSpacing(2 * GRID)
        column.addWidget(self._head)
        column.addLayout(grid)
        column.addWidget(self._wrong)
        column.addLayout(deeds)
        column.addStretch(1)
        limit_width(self, 72 * GRID)
        self.half_typed = HalfTyped(self, self.say, self.left.emit)
        on_key(self, Qt.Key.Key_Escape, self.half_typed.escape, children=True)

    def open(self, record: PreparationRecord | SpellRecord) -> None:
        self._record = record
        is_spell = isinstance(record, SpellRecord)
        self._show_rows(ended=is_spell, grit=False)
        if isinstance(record, SpellRecord):
            spell = record.spell
            self._head.setText(self.tr("Change a time outdoors"))
            self.began.set_moment(spell.began)
            if spell.ended is not None:
                self.ended.set_moment(spell.ended)
            self.still_out.setChecked(spell.ended is None)
            self.ended.setDisabled(spell.ended is None)
            self.note.setText(spell.note)
        else:
            done = record.preparation
            self._head.setText(self.tr("Change: {what}").format(what=preparation_words(done.kind)))
            self._show_rows(ended=False, grit=done.kind is PreparationKind.ABRADED)
            self.began.set_moment(done.at)
            self.grit.set_value(done.grit)
            self.note.setText(done.note)
        self.say("")
        self.began.setFocus()
        self.half_typed.begin()

    def keep(self) -> None:
        record = self._record
        self.grit.take_text()
        try:
            if isinstance(record, SpellRecord):
                ended = None if self.still_out.isChecked() else self.ended.moment
                self.spell_kept.emit(record.id, OutdoorSpell(self.began.moment, ended, self.note.text().strip()))
            elif record is not None:
                grit = round(self.grit.value) if self.grit.value is not None else None
                kind = record.preparation.kind
                grit = grit if kind is PreparationKind.ABRADED else None
                self.preparation_kept.emit(
                    record.id, Preparation(self.began.moment, kind, grit, self.note.text().strip())
                )
        except NotAMoment as fault:
            self.say(
                self.tr("“{typed}” is not a time. Type one like 14:05 or yesterday 16:30.").format(typed=fault.typed)
            )

    def say(self, words: str) -> None:
        """What is wrong; '' for nothing."""
        self._wrong.setText(words)
        self._wrong.setVisible(bool(words))

    def _show_rows(self, *, ended: bool, grit: bool) -> None:
        shown = (True, ended, ended, grit, True)
        for label, field, there in zip(self._labels, self._fields, shown, strict=True):
            label.setVisible(there)
            field.setVisible(there)
