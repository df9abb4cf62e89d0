"""What a short answer says: a table's cell, or the words after 'Body filler:'."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum
from functools import cache
from importlib import resources

from extract.document import fold


class Answer(StrEnum):
    YES = "yes"
    NO = "no"
    PARTLY = "partly"
    """Yes, under a condition that the words themselves name."""
    INDIRECT = "indirect"
    UNKNOWN = "unknown"


@dataclass(frozen=True, slots=True)
class Verdict:
    """The answer and where its words end, so that what follows can be read for conditions."""

    answer: Answer
    end: int


@cache
def _answers(language: str) -> tuple[tuple[Answer, re.Pattern[str]], ...]:
    path = resources.files("extract.vocabulary").joinpath(language, "clauses.toml")
    raw = tomllib.loads(path.read_text("utf-8"))["verdict"]
    order = (
        (Answer.INDIRECT, "indirect"), (Answer.PARTLY, "partly"), (Answer.NO, "no"), (Answer.YES, "yes"),
        (Answer.UNKNOWN, "unknown"),
    )  # fmt: skip
    out = []
    for answer, name in order:
        words = sorted((_escaped(w) for w in raw[name]), key=len, reverse=True)
        out.append((answer, re.compile("|".join(words))))
    return tuple(out)


def _escaped(word: str) -> str:
    """A sign stands for itself, with a note's mark behind it or not; words end at a word's limit."""
    return re.escape(word) if re.fullmatch(r"[^\w\s]+", word) else rf"(?:{word})(?!\w)(?![^\S ])"


_GOES_ON = re.compile(
    r"\s*(?:[,.;:(\-!]|$)|\s*[\d*†‡a-d¹²³)]{1,2}$"
    r"|\s+(?:after|if|when|once|within|only|sand|with|on|over|but|provided|p\d|not to|the|directly|-)"
)
_LAST_MARK = re.compile(r"(?<=[a-z])[1-9*†‡¹²³⁴]$")
_NOTE_MARK = re.compile(r"[\d*†‡a-d¹²³⁴)]{0,3}$")


def read_verdict(text: str, signs: Sequence[tuple[str, Answer]] = (), language: str = "en") -> Verdict | None:
    """The answer that the text begins with, None where it begins with none.

    signs are the legend's own meanings of signs ('x' = suitable), which come before any usual meaning.
    An answer has to stand alone or be followed by a comma, a stop, a dash, a bracket or a condition.
    """
    folded = _LAST_MARK.sub(" ", fold(text).strip()).rstrip()
    offset = len(text) - len(text.lstrip())
    for sign, answer in signs:
        if folded == sign or (folded.startswith(sign) and _NOTE_MARK.fullmatch(folded[len(sign) :])):
            return Verdict(answer, offset + len(sign))
    if not folded:
        return Verdict(Answer.UNKNOWN, 0)
    best: Verdict | None = None
    longest = -1
    for answer, pattern in _answers(language):
        match = pattern.match(folded)
        if match is None or match.end() <= longest:
            continue
        rest = folded[match.end() :]
        if rest and not _GOES_ON.match(rest) and len(match.group()) > 1:
            continue
        if rest and len(match.group()) == 1 and match.group().isalnum() and rest[0] not in " ,.;:(":
            continue
        if rest and match.group() in ("-", "x", "o", "n", "y") and rest.strip() and not _NOTE_MARK.fullmatch(rest):
            continue
        best, longest = Verdict(answer, offset + match.end()), match.end()
    return best


_LEGEND = re.compile(
    r"(✓|✔|☑|✗|✘|✕|☒|●|○|•|√|\+\+|\+|--|-|(?<!\w)x(?!\w)|(?<!\w)o(?!\w)|(?<!\w)[ynsr](?!\w)|~)"
    r"\s*(?:=|:|-|\s)\s*([a-z][a-z ']{1,40})"
)


def read_legend(lines: Sequence[str], language: str = "en") -> tuple[tuple[str, Answer], ...]:
    """The signs that a table's legend explains: '✓ suitable ✗ not suitable - no experience'."""
    out: dict[str, Answer] = {}
    for line in lines:
        folded = fold(line)
        for match in _LEGEND.finditer(folded):
            words = match.group(2).strip(" ,.")
            verdict = read_verdict(words, language=language) or _loose(words)
            if verdict is not None:
                out.setdefault(match.group(1), verdict.answer)
    return tuple(out.items())


def _loose(words: str) -> Verdict | None:
    if re.match(r"(?:not|un|no )\s?\w*(?:suit|recomm|permit|possib|compat|allow|apt|fit\b|released|admit)", words):
        return Verdict(Answer.NO, 0)
    if re.match(
        r"(?:well |very |fully |highly |is )?(?:suit|recomm|permit|possib|compat|allow|approved|"
        r"appl(?:ies|icable)|apt|fit\b|released)",
        words,
    ):
        return Verdict(Answer.YES, 0)
    if re.match(r"(?:no experience|not tested|not appl|ask|on request|unknown)", words):
        return Verdict(Answer.UNKNOWN, 0)
    if re.match(r"(?:with|condition|limited|partly|after|subject)", words):
        return Verdict(Answer.PARTLY, 0)
    return None
