"""Sentences that are read as other sentences: questions with their answers, 'over this, never under it', asides."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace
from typing import Protocol

from extract.claims import Condition
from extract.clauses.conditions import find_conditions, tags, times_as_windows
from extract.clauses.cues import marked
from extract.clauses.frames import Found, Frame
from extract.clauses.verdicts import Answer, read_verdict
from extract.mention import THIS
from extract.terms import Mention


class Read(Protocol):
    """SentenceReader.read, by which the made sentence is read in its turn."""

    def __call__(
        self, folded: str, mentions: Sequence[Mention], given: Frame | None = None, *, listed: bool = False
    ) -> list[Found]: ...


_BOTH = re.compile(
    r"\b(?:over|above|on) (?:and|or|nor) (?:under|beneath|below)\b"
    r"|\b(?:under|beneath|below) (?:and|or|nor) (?:over|on|above)\b"
    r"|\bbefore (?:and|or) after\b|\bafter (?:and|or) before\b"
)
_POLITE = re.compile(r"^\W*(?:is it (?:ok|okay|all right|alright|possible|safe)(?: to)?|what about|how about|and|so)\b")
_NEED_ASKED = re.compile(
    r"\b(?:need(?:ed)?|have to|has to|must|necessary|required|should|worth|why|which|when|how|what)\b"
)
_ASKED = re.compile(r"[^?]*\?(?P<gap> +)(?=\S)")
_TURNED = re.compile(
    rf"\b(?P<place>over|on top of|onto|on|above|under|beneath|underneath|below)(?P<gap> (?:the |this )?{THIS}+)"
    rf"(?P<tail>,? (?:and |but )?(?:never|not) (?P<side>over|on top of|onto|on|above|under|beneath|underneath|below)"
    rf"(?: (?:the )?{THIS}+)?)\W*$"
)
_NOT_THERE = re.compile(
    r"\b(?P<place>over|on top of|on|above|under|beneath|underneath|below)(?P<tail>,? (?:and |but )?(?:never|not) "
    r"(?P<side>over|on top of|on|above|under|beneath|underneath|below),?)(?= (?:the |this )?[\ue000\ue001])"
)
_ASIDE = re.compile(r"\((?:do not|don't|never|avoid|must not)\b[^()]*\)")


def read_otherwise(
    read: Read, language: str, folded: str, mentions: Sequence[Mention], given: Frame | None, *, listed: bool
) -> list[Found] | None:
    """What the sentence says where it has to be read as others; None where it is plain."""
    both = _BOTH.search(folded)
    if both is not None:
        sides = [
            folded[: both.start()] + w.ljust(both.end() - both.start()) + folded[both.end() :]
            for w in ("over", "under")
        ]
        return [f for side in sides for f in read(side, mentions, given, listed=listed)]
    match = _ASKED.match(folded)
    if match is not None:
        return _asked(read, language, folded, mentions, given, match, listed=listed)
    match = _TURNED.search(marked(folded, mentions))
    if match is not None:
        return _turned(read, folded, mentions, given, match, listed=listed)
    match = _NOT_THERE.search(marked(folded, mentions))
    if match is not None:
        return _not_there(read, folded, mentions, given, match, listed=listed)
    match = next((m for m in _ASIDE.finditer(folded) if any(m.start() < x.start < m.end() for x in mentions)), None)
    if match is not None:
        return _beside(read, folded, mentions, given, match, listed=listed)
    return None


def _beside(
    read: Read, folded: str, mentions: Sequence[Mention], given: Frame | None, aside: re.Match[str], *, listed: bool
) -> list[Found]:
    """'Galvanised steel (do not use over zinc primer)': the bracket is a sentence of its own."""
    start, end = aside.span()
    outer = folded[:start] + " " * (end - start) + folded[end:]
    inner = " " * (start + 1) + folded[start + 1 : end - 1]
    return [
        *read(outer, [m for m in mentions if not start < m.start < end], given, listed=listed),
        *read(inner, [m for m in mentions if start < m.start < end], given),
    ]


def _asked(
    read: Read,
    language: str,
    folded: str,
    mentions: Sequence[Mention],
    given: Frame | None,
    match: re.Match[str],
    *,
    listed: bool,
) -> list[Found]:
    """'Can it go over X? Yes, once sanded.': what is asked, answered by the words behind the question mark."""
    at = match.end()
    after = [m for m in mentions if m.start >= at]
    answer = read_verdict(folded[at:], language=language)
    rest = read(" " * at + folded[at:], after, given, listed=listed)
    if _NEED_ASKED.search(folded[:at]) or answer is None or answer.answer not in (Answer.YES, Answer.NO, Answer.PARTLY):
        return rest
    question = _POLITE.sub(lambda m: " " * len(m.group()), folded[: match.start("gap") - 1]).ljust(len(folded))
    before = [m for m in mentions if m.end <= at]
    found = [f for f in read(question, before, given, listed=listed) if not f.forbids] or [
        f for f in read(question, before, given, listed=True) if not f.forbids
    ]
    if answer.answer is Answer.NO:
        return [
            replace(f, forbids=True, only=False, conditions=(), via=None, end=at + answer.end) for f in found
        ] + rest
    if any(not m.is_self for m in after) or answer.answer is Answer.PARTLY:
        return rest
    hits = [h for h in find_conditions(folded, mentions, language) if h.start >= at]
    have = tags([*hits, *(times_as_windows(folded[at:]))])
    return [
        replace(
            f,
            conditions=tuple(c for c in Condition if c in {*f.conditions, *have}),
            end=len(folded),
            pattern="asked and answered",
        )
        for f in found
    ] + rest


def _turned(
    read: Read, folded: str, mentions: Sequence[Mention], given: Frame | None, match: re.Match[str], *, listed: bool
) -> list[Found]:
    """'X goes over this, never under it' says two things."""
    first = folded[: match.start("tail")].ljust(len(folded))
    side = match.group("side")
    here, there = match.span("place")
    swapped = folded[:here] + side.ljust(there - here)
    second = (swapped + folded[len(swapped) : match.start("tail")]).ljust(len(folded))
    kept = [m for m in mentions if m.end <= match.start("tail")]
    out = read(first, kept, given, listed=listed)
    if len(swapped) == there or (len(swapped) == there + 1 and folded[there] == " "):
        out += [
            replace(f, forbids=True, only=False, conditions=(), via=None)
            for f in read(second, kept, given, listed=listed)
            if not f.forbids
        ]
    return out


def _not_there(
    read: Read, folded: str, mentions: Sequence[Mention], given: Frame | None, match: re.Match[str], *, listed: bool
) -> list[Found]:
    """'Under, not over, this primer' says two things."""
    start, end = match.span()
    first = folded[:start] + match.group("place").ljust(end - start) + folded[end:]
    second = folded[:start] + match.group("side").ljust(end - start) + folded[end:]
    denied = [
        replace(f, forbids=True, only=False, conditions=(), via=None)
        for f in read(second, mentions, given, listed=listed)
        if not f.forbids
    ]
    return [*read(first, mentions, given, listed=listed), *denied]
