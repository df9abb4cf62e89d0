"""Pieces that the check and the found build-ups are shown with: lines with a shape, contacts, links to sentences."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLabel, QVBoxLayout, QWidget

from app.build_up.check_page import ContactPart, Mark
from app.sentence_links import SentenceLinks
from app.sentences import Sentence
from app.theme.theme import GRID, Theme, set_look
from app.theme.verdict_shape import VerdictShape, VerdictWord
from app.translating import translate

Opens = Callable[[Sentence], None]


def wrapped(words: str, look: str = "") -> QLabel:
    label = QLabel(words)
    label.setWordWrap(True)
    label.setTextFormat(Qt.TextFormat.PlainText)
    label.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
    if look:
        set_look(label, look)
    return label


def add_topic(column: QVBoxLayout, words: str, look: str = "topic") -> None:
    column.addSpacing(GRID)
    column.addWidget(wrapped(words, look))


def add_sentences(column: QVBoxLayout, sentences: Sequence[Sentence], opens: Opens) -> None:
    """Nothing where there is none."""
    if sentences:
        links = SentenceLinks(sentences)
        links.sentence_opened.connect(opens)
        column.addWidget(links)


def mark_line(theme: Theme, mark: Mark, opens: Opens) -> QWidget:
    """A shape, what it says in a word where that is not the sentence itself, and the sentences below."""
    whole = QWidget()
    row = QHBoxLayout(whole)
    row.setContentsMargins(0, 0, 0, 0)
    row.setSpacing(GRID)
    shape = VerdictShape(theme, mark.shape, mark.word, 14)
    row.addWidget(shape, 0, Qt.AlignmentFlag.AlignTop)
    column = QVBoxLayout()
    column.setSpacing(GRID // 2)
    column.addWidget(wrapped(f"{mark.word}: {mark.words}"))
    add_sentences(column, mark.sentences, opens)
    row.addLayout(column, 1)
    return whole


def contact_card(theme: Theme, part: ContactPart, opens: Opens) -> QFrame:
    """A layer on the one below, with all that is said of it."""
    card = QFrame()
    set_look(card, "card")
    card.setAccessibleName(f"{part.title}: {part.word}")
    column = QVBoxLayout(card)
    column.setContentsMargins(2 * GRID, GRID, 2 * GRID, GRID)
    column.setSpacing(GRID // 2)
    column.addWidget(wrapped(f"{part.upper}  {part.title}", "topic"))
    column.addWidget(VerdictWord(theme, part.shape, part.word, look="lead", side=16))
    if part.says:
        column.addWidget(wrapped(part.says))
    if part.window:
        column.addWidget(wrapped(part.window, "lead"))
    if part.past:
        past = translate("build_up", "Past the latest time: {words}").format(words=part.past)
        column.addWidget(wrapped(past))
    for mark in part.conditions:
        column.addWidget(mark_line(theme, mark, opens))
    for words in part.advice:
        column.addWidget(wrapped(f"→ {words}"))
    add_sentences(column, part.sentences, opens)
    if part.before:
        add_topic(column, translate("build_up", "What the sheets ask for first"), "quiet")
        for mark in part.before:
            column.addWidget(mark_line(theme, mark, opens))
    return card
