"""What a sum comes to: the figure large, the rest of it below, and all that it rests on."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QFrame, QGridLayout, QLabel, QVBoxLayout, QWidget

from app.bench_sums.words import answer_words, figure_line, note_words
from app.figure_words import true_minus
from app.theme.theme import GRID, set_look
from app.typed_figures import figure_text
from store.sums.inputs import Worked
from store.sums.units import convert

_ALSO = {
    "µm": "mil", "mil": "µm", "m²/l": "ft²/US gal", "l": "US gal", "ml": "US fl oz", "g": "oz", "°C": "°F",
    "m²/l of mix": "ft²/US gal",
}  # fmt: skip
"""The other workshop's unit, said beside a figure."""


class AnswerCard(QFrame):
    """Shows answers, or one sentence of why there is none."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        set_look(self, "card")
        self._worked: tuple[Worked, ...] = ()
        self._large = _line(self, "large")
        self._name = _line(self, "lead")
        self._also = _line(self, "quiet")
        self._others = QGridLayout()
        self._others.setHorizontalSpacing(2 * GRID)
        self._others.setVerticalSpacing(GRID // 2)
        self._others.setColumnStretch(1, 1)
        self._notes = _line(self, "caution")
        self._refusal = _line(self, "lead")
        self._basis = QGridLayout()
        self._basis.setHorizontalSpacing(2 * GRID)
        self._basis.setVerticalSpacing(GRID // 2)
        self._basis.setColumnStretch(1, 1)
        column = QVBoxLayout(self)
        column.setContentsMargins(2 * GRID, 2 * GRID, 2 * GRID, 2 * GRID)
        column.setSpacing(GRID)
        for widget in (self._large, self._name, self._also):
            column.addWidget(widget)
        column.addLayout(self._others)
        column.addWidget(self._notes)
        column.addWidget(self._refusal)
        column.addLayout(self._basis)
        self.refuse("")

    @property
    def worked(self) -> tuple[Worked, ...]:
        return self._worked

    @property
    def refusal(self) -> str:
        return self._refusal.text()

    @property
    def large(self) -> str:
        return self._large.text()

    def show_answers(self, worked: Sequence[Worked]) -> None:
        """The first of them large."""
        self._worked = tuple(worked)
        self._refusal.clear()
        first, *others = self._worked
        self._large.setText(figure_line(first))
        self._name.setText(answer_words(first.name))
        also = _in_other_unit(first)
        self._also.setText(also)
        _clear(self._others)
        for row, one in enumerate(others):
            value = QLabel(figure_line(one), self)
            set_look(value, "topic")
            beside = _in_other_unit(one)
            name = QLabel(f"{answer_words(one.name)} ({beside})" if beside else answer_words(one.name), self)
            name.setWordWrap(True)
            self._others.addWidget(value, row, 0)
            self._others.addWidget(name, row, 1)
        notes = "\n".join(dict.fromkeys(true_minus(note_words(note)) for w in self._worked for note in w.result.notes))
        self._notes.setText(notes)
        self._write_basis()
        for widget, shown in (
            (self._large, True), (self._name, True), (self._also, bool(also)), (self._notes, bool(notes)),
            (self._refusal, False),
        ):  # fmt: skip
            widget.setVisible(shown)
        self.setAccessibleName(f"{answer_words(first.name)}: {figure_line(first)}")

    def refuse(self, words: str) -> None:
        """Show why there is no figure."""
        self._worked = ()
        _clear(self._others)
        _clear(self._basis)
        for widget in (self._large, self._name, self._also, self._notes):
            widget.hide()
        self._large.clear()
        self._refusal.setText(words)
        self._refusal.setVisible(bool(words))
        self.setAccessibleName(words or self.tr("Result"))

    def text(self) -> str:
        """All of it as lines to be pasted elsewhere; empty without a figure."""
        if not self._worked:
            return ""
        lines = [f"{answer_words(w.name)}: {figure_line(w)}" for w in self._worked]
        return "\n".join([*lines, *(f"{label}: {words}" for label, said in self._rests_on() for words in said)])

    def _rests_on(self) -> list[tuple[str, list[str]]]:
        results = [w.result for w in self._worked]
        return [
            (self.tr("Formula"), list(dict.fromkeys(true_minus(r.formula) for r in results))),
            (self.tr("Source"), list(dict.fromkeys(r.source for r in results))),
            (self.tr("Holds for"), list(dict.fromkeys(r.valid_for for r in results))),
        ]

    def _write_basis(self) -> None:
        _clear(self._basis)
        for row, (label, said) in enumerate(self._rests_on()):
            head = QLabel(label, self)
            set_look(head, "quiet")
            words = QLabel("\n".join(said), self)
            words.setWordWrap(True)
            words.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
            self._basis.addWidget(head, row, 0, Qt.AlignmentFlag.AlignTop)
            self._basis.addWidget(words, row, 1)


def _line(parent: QWidget, look: str) -> QLabel:
    label = QLabel(parent)
    label.setWordWrap(True)
    label.setTextFormat(Qt.TextFormat.PlainText)
    set_look(label, look)
    return label


def _clear(grid: QGridLayout) -> None:
    while grid.count():
        item = grid.takeAt(0)
        widget = item.widget() if item is not None else None
        if widget is not None:
            widget.hide()
            widget.deleteLater()


def _in_other_unit(worked: Worked) -> str:
    unit = worked.result.unit
    other = _ALSO.get(unit)
    if other is None or worked.name == "in-other-unit":
        return ""
    found = convert(worked.result.value, unit.removesuffix(" of mix"), other)
    return f"{figure_text(found.value, 3)} {other}"
