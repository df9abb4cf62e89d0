"""An answer laid out in the order in which it is read: the word, the times, the conditions, the sentences. No Qt."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from app.sentences import Sentence, one_each
from app.translating import translate
from app.verdict_words import (
    advice_words,
    answer_words,
    conditions_words,
    own_rule_words,
    part_words,
    question_words,
    silence_words,
    verdict_words,
    window_of,
)
from app.window_words import past_words, times_large, window_words
from store.records import ProductRecord
from store.rules.answers import AdviceKind, Answer, Citation, Silence, Standing, Window
from store.rules.reach import ProductParty


@dataclass(frozen=True, slots=True)
class Times:
    """The window that governs. large is the figures alone, empty where there are none to go by."""

    large: str
    words: str
    past: str
    sentences: tuple[Sentence, ...]


@dataclass(frozen=True, slots=True)
class Saying:
    """A sentence and what it does in the answer."""

    does: str
    sentence: Sentence


@dataclass(frozen=True, slots=True)
class AnswerPage:
    """Everything that an answer shows, as words. own are the user's own rules, always marked as theirs.

    named is whether all that waits does so for its product's name alone: it is confirmed, but may mean another product.
    """

    shape: str
    word: str
    question: str
    sentence: str
    times: Times | None
    conditions: tuple[str, ...]
    own: tuple[str, ...]
    says: tuple[Saying, ...]
    waiting: tuple[Sentence, ...]
    unsaid: tuple[str, ...]
    advice: tuple[str, ...]
    products: tuple[ProductRecord, ...]
    named: bool = False

    @classmethod
    def of(cls, answer: Answer, at_c: float | None = None) -> AnswerPage:
        window = window_of(answer)
        question = question_words(answer.lower, answer.upper, at_c)
        # The user's own conditions stand under their own heading, so that they are never taken for a sheet's.
        own = tuple(own_rule_words(rule) for rule in answer.own)
        named = bool(answer.pending) and all(c.standing is Standing.NAME_DOUBTFUL for c in answer.pending)
        open_name = named and answer.word == "unconfirmed"
        return cls(
            answer.word,
            translate("answer", "Not settled") if open_name else verdict_words(answer.word),
            question,
            answer_words(answer),
            _times(window) if window is not None else None,
            tuple(words for words in conditions_words(answer) if words not in own),
            own,
            tuple(Saying(part_words(c.part), Sentence.of_citation(c)) for c in answer.citations),
            one_each(Sentence.of_citation(c) for c in answer.pending),
            tuple(_unsaid(silence, answer.pending) for silence in answer.silences),
            tuple(advice_words(a) for a in answer.advice if a.kind is not AdviceKind.CONFIRM or answer.pending),
            tuple(party.product for party in (answer.lower, answer.upper) if isinstance(party, ProductParty)),
            named,
        )

    @property
    def text(self) -> str:
        """The whole answer for the clipboard."""
        return "\n".join(self._lines())

    def _lines(self) -> Iterator[str]:
        yield self.question
        yield f"{self.word}. {self.sentence}"
        if self.times is not None:
            yield self.times.words
            if self.times.past:
                yield self.times.past
        yield from _under(translate("answer", "On these conditions:"), self.conditions)
        yield from _under(translate("answer", "Your own rules:"), self.own)
        yield from _under(
            translate("answer", "The sheets say:"),
            [f"{s.sentence.quoted} {s.sentence.source} ({s.does})" for s in self.says],
        )
        yield from _under(translate("answer", "What to do:"), self.advice)
        head = (
            translate("answer", "Whose product is named?") if self.named else translate("answer", "Not yet confirmed:")
        )
        yield from _under(head, [f"{s.quoted} {s.source}" for s in self.waiting])
        yield from _under(translate("answer", "Unsaid:"), self.unsaid)


def _unsaid(silence: Silence, pending: Sequence[Citation]) -> str:
    if any(citation.sheet.product_id == silence.product_id for citation in pending):
        return translate("answer", "Nothing that you have confirmed on {name}'s sheet says it").format(
            name=silence.name
        )
    return silence_words(silence)


def _under(head: str, lines: tuple[str, ...] | list[str]) -> Iterator[str]:
    if lines:
        yield ""
        yield head
        yield from (f"- {line}" for line in lines)


def _times(window: Window) -> Times:
    large = times_large(window)
    # Where there is no latest time, what to do past it would only puzzle.
    if window.unlimited:
        window = replace(window, past=None)
    words = past_words(window)
    return Times(large, window_words(window), words, one_each(Sentence.of_source(rule) for rule in window.carried_by))
