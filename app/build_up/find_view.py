"""The build-ups found, best first, each with why and its sentences; where there is none, what stands in the way."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QFrame, QPushButton, QScrollArea, QVBoxLayout, QWidget

from app.build_up.check_page import Mark, contact_part, sentences_of
from app.build_up.parts import add_topic, contact_card, mark_line, wrapped
from app.buildup_words import part_sentence, rank_words, result_words, sequence_words
from app.theme.text_size import limit_width
from app.theme.theme import GRID, Theme, set_look
from app.theme.verdict_shape import VerdictWord
from app.verdict_words import verdict_words
from store.planning.buildup import BuildUp
from store.planning.finder import FindResult, FoundBuildUp

_READABLE = 104 * GRID


@dataclass(frozen=True, slots=True)
class FoundIn:
    """What was found on the shelf, or in all filed sheets; None where there is nothing to look in."""

    shelf: bool
    result: FindResult | None


class FindView(QScrollArea):
    """Signals: sentence_opened(Sentence); opening_wanted(BuildUp) into the check."""

    sentence_opened = Signal(object)
    opening_wanted = Signal(object)

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._theme = theme
        self.parts: tuple[FoundIn, ...] = ()
        self.openers: tuple[QPushButton, ...] = ()
        self.setWidgetResizable(True)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setAccessibleName(self.tr("Build-ups found"))

    def show_results(self, parts: Sequence[FoundIn]) -> None:
        """Each part under its heading where there are several; what the shelf allows already is not said twice."""
        self.parts = tuple(parts)
        self.openers = ()
        whole = QWidget()
        limit_width(whole, _READABLE)
        column = QVBoxLayout(whole)
        column.setContentsMargins(0, 0, GRID, 2 * GRID)
        column.setSpacing(2 * GRID)
        before: set[BuildUp] = set()
        said = [self._part(column, part, before, heading=len(self.parts) > 1) for part in self.parts]
        column.addStretch(1)
        self.setWidget(whole)
        self.setAccessibleName(self.tr("Build-ups found: {words}").format(words=" ".join(said)))
        self.verticalScrollBar().setValue(0)

    def _part(self, column: QVBoxLayout, part: FoundIn, before: set[BuildUp], *, heading: bool) -> str:
        """before are those that stand there already; the sentence that says what was found."""
        if heading:
            shelf, apart = self.tr("Out of what is on the shelf"), self.tr("Apart from that: out of all filed sheets")
            add_topic(column, shelf if part.shelf else apart)
        result = part.result
        if result is None:
            says = self.tr("No tin with paint in it is on the shelf.")
            column.addWidget(wrapped(says, "lead"))
            return says
        new = tuple(found for found in result.allowed if found.checked.build_up not in before)
        if result.allowed and not new:
            says = self.tr("All filed sheets allow no others.")
        else:
            says = result_words(replace(result, allowed=new), shelf=part.shelf)
        column.addWidget(wrapped(says, "lead"))
        for number, found in enumerate(new, 1):
            column.addWidget(self._found(number, found))
        if result.nearest is not None:
            column.addWidget(self._nearest(result.nearest))
        before |= {found.checked.build_up for found in new}
        return says

    def _found(self, number: int, found: FoundBuildUp) -> QFrame:
        card, column = self._card(f"{number}.  {sequence_words(found.checked.build_up)}", found)
        for contact in found.checked.contacts:
            column.addWidget(contact_card(self._theme, contact_part(contact, found.checked), self.sentence_opened.emit))
        return card

    def _nearest(self, found: FoundBuildUp) -> QFrame:
        card, column = self._card(sequence_words(found.checked.build_up), found)
        add_topic(column, self.tr("What stands in its way"))
        for part in found.in_the_way:
            words = part_sentence(part, found.checked)
            mark = Mark(part.word, verdict_words(part.word), words, sentences_of(part))
            column.addWidget(mark_line(self._theme, mark, self.sentence_opened.emit))
        return card

    def _card(self, title: str, found: FoundBuildUp) -> tuple[QFrame, QVBoxLayout]:
        card = QFrame()
        set_look(card, "card")
        card.setAccessibleName(title)
        column = QVBoxLayout(card)
        column.setContentsMargins(2 * GRID, 2 * GRID, 2 * GRID, 2 * GRID)
        column.setSpacing(GRID)
        column.addWidget(wrapped(title, "topic"))
        checked = found.checked
        column.addWidget(VerdictWord(self._theme, checked.word, verdict_words(checked.word), look="lead", side=16))
        column.addWidget(wrapped(rank_words(found.rank), "quiet"))
        opener = QPushButton(self.tr("Open it in the check"))
        opener.setAccessibleName(self.tr("Open {title} in the check").format(title=title))
        opener.clicked.connect(self._opener(found))
        column.addWidget(opener, 0, Qt.AlignmentFlag.AlignLeft)
        self.openers = (*self.openers, opener)
        return card, column

    def _opener(self, found: FoundBuildUp) -> Callable[[], None]:
        return lambda: self.opening_wanted.emit(found.checked.build_up)
