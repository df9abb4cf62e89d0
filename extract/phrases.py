"""The language in which phrases are written: plain words with a few signs, compiled for folded text.

never sand wet          these words in this order; a blank also stands for a hyphen, slash, quote or bracket
sand*                   any ending: sand, sanded, sanding
(leave|keep|store)      one of these, each of one or more words
[the] film              a part that may be missing
..                      up to three further words
...                     anything up to the end of the clause (which ends at . ; : ! or ?)
{object} {text} {via}   captured for the finder: a stretch of the clause
{quantity}              the same, beginning with a figure or a written number (one, half, a, ...)
^  $                    the beginning and the end of the statement
, :                     themselves
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from functools import lru_cache

CAPTURES = ("object", "quantity", "text", "via")

_SIGN = re.compile(r"\.{3}|\.{2}|\{[a-z]+\}|[()\[\]|^$,:]|[^\s()\[\]|{},:^$]+")
_GLUE = r"[\s\-/'\"()]*"
"""Between two items. It may be empty: the word limits on either side keep two words apart."""
_SHORTENED = ("max", "min", "approx", "ca", "incl", "e.g", "i.e", "hrs", "hr", "resp", "no", "nr")
"""Words whose full stop ends no clause."""
_AFTER_SHORTENED = "|".join(rf"(?<=\b{re.escape(w)})\." for w in _SHORTENED)
_IN_CLAUSE = rf"(?:[^.;:!?]|(?<=\d)[.:](?=\d)|\.(?=\d)|{_AFTER_SHORTENED})"
_GAP = _IN_CLAUSE + r"{0,160}?"
_LIMITS = {"^": r"\A", "$": r"\Z"}
_FURTHER_WORD = rf"(?:[^\s.;:!?,()]|(?<=\d)\.(?=\d)|{_AFTER_SHORTENED})+"
_FEW_WORDS = rf"(?:\s*{_FURTHER_WORD}(?:\s+{_FURTHER_WORD}){{0,2}}?)??"
"""A blank must part the words: could one word be read as three, a sentence would be tried in a million ways."""
_NUMBER_AHEAD = (
    r"(?<!\w)(?=[-+~<>]?\d|[½¼¾]|(?:an?|one|two|three|four|five|six|seven|eight|nine|ten|twelve|half|quarter|several"
    r"|the (?:hour|day|week|same)"
    r"|eine?[nmrs]?|zwei|drei|vier|halbe?[nrs]?|une?|deux|trois|quatre|una?|dos|tres|cuatro|een|twee|drie)\b)"
)
_FAR = 800
"""No clause begins further back, in characters: a text without marks is no sentence."""
_CLAUSE_END = re.compile(r"(?!" + _AFTER_SHORTENED + r")[.;:!?](?!\d)")


def compile_phrases(phrases: tuple[str, ...]) -> re.Pattern[str]:
    """One expression for several phrases of one meaning. Raises ValueError on a phrase that cannot be read."""
    compiler = _Compiler()
    return re.compile("|".join(f"(?:{compiler.phrase(p)[0]})" for p in phrases))


@dataclass(frozen=True, slots=True)
class Phrase:
    """A compiled phrase.

    needs holds keys of words of which one at least stands in every match, empty if unknown; every_need all such sets
    that are known, the most telling first.
    """

    regex: re.Pattern[str]
    needs: frozenset[str]
    every_need: tuple[frozenset[str], ...] = ()

    def may_stand_in(self, keys: frozenset[str]) -> bool:
        """False where no match is possible in a text of these word_keys()."""
        return not any(map(keys.isdisjoint, self.every_need))


def needed_by_any(phrases: tuple[str, ...]) -> frozenset[str]:
    """Keys of words of which one at least stands in every match of any of the phrases; empty if unknown."""
    needs = [_Compiler().phrase(p)[1] for p in phrases]
    return frozenset(key for need in needs for key in need[0]) if all(needs) else frozenset()


def compile_phrase(text: str) -> Phrase:
    """Raises ValueError on a phrase that cannot be read."""
    regex, needs = _Compiler().phrase(text)
    return Phrase(re.compile(regex), needs[0] if needs else frozenset(), needs)


@lru_cache(maxsize=8192)
def word_keys(folded: str) -> frozenset[str]:
    """The first four letters of every word of a text: enough to pass over most phrases without trying them."""
    return frozenset(word[:_KEY] for word in _WORD.findall(folded))


_WORD = re.compile(r"\w+")
_KEY = 4
_COMMON = frozenset(
    [
        "not",
        "neve",
        "no",
        "must",
        "may",
        "can",
        "be",
        "is",
        "are",
        "the",
        "with",
        "to",
        "of",
        "for",
        "and",
        "or",
        "do",
        "on",
        "in",
        "it",
        "a",
        "at",
        "by",
    ]
)
"""Keys of words that stand in many sentences and so rule little out."""


def _key(sign: str) -> tuple[frozenset[str], ...]:
    word = _WORD.match(sign)
    if word is None:
        return ()
    run = word.group()
    if sign[len(run) : len(run) + 1] == "*" and len(run) < _KEY:
        return ()
    return (frozenset([run[:_KEY]]),)


_Needs = tuple[frozenset[str], ...]
"""Sets of keys, of each of which one stands in every match."""


def _most_telling_first(needs: Iterable[frozenset[str]]) -> _Needs:
    return tuple(sorted(dict.fromkeys(needs), key=lambda n: (len(n & _COMMON), len(n))))


class _Compiler:
    """Turns phrases into one expression; captures get a running number, as a name may stand only once."""

    def __init__(self) -> None:
        self._captures = 0

    def phrase(self, text: str) -> tuple[str, _Needs]:
        signs = _SIGN.findall(text)
        if not signs:
            raise ValueError("an empty phrase")
        out, needs, rest = self._alternatives(signs, 0, outermost=True)
        if rest != len(signs):
            raise ValueError(f"unbalanced brackets in {text!r}")
        return out, needs

    def _alternatives(self, signs: list[str], at: int, *, outermost: bool = False) -> tuple[str, _Needs, int]:
        branches: list[str] = []
        needs: list[_Needs] = []
        while True:
            branch, need, at = self._sequence(signs, at)
            branches.append(branch)
            needs.append(need)
            if at < len(signs) and signs[at] == "|" and not outermost:
                at += 1
                continue
            if len(needs) > 1:
                one_of_each = frozenset(key for need in needs for key in (need[0] if need else ()))
                needs = [(one_of_each,)] if all(needs) else [()]
            return "|".join(branches), needs[0], at

    def _sequence(self, signs: list[str], at: int) -> tuple[str, _Needs, int]:
        parts: list[str] = []
        needs: list[frozenset[str]] = []
        while at < len(signs) and signs[at] not in ("|", ")", "]"):
            sign = signs[at]
            if sign in ("(", "["):
                inner, need, after = self._alternatives(signs, at + 1)
                closing = ")" if sign == "(" else "]"
                if after >= len(signs) or signs[after] != closing:
                    raise ValueError(f"'{sign}' without '{closing}'")
                parts.append(f"(?:{inner})" + ("?" if sign == "[" else ""))
                needs.extend(need if sign == "(" else ())
                at = after
            elif sign.startswith("{"):
                parts.append(self._capture(sign.strip("{}"), last=at + 1 == len(signs)))
            else:
                parts.append(_item(sign))
                needs.extend(_key(sign))
            at += 1
        return _GLUE.join(parts), _most_telling_first(needs), at

    def _capture(self, name: str, *, last: bool) -> str:
        if name not in CAPTURES:
            raise ValueError(f"no such capture: {{{name}}}")
        self._captures += 1
        ahead = _NUMBER_AHEAD if name == "quantity" else ""
        return f"{ahead}(?P<{name}__{self._captures}>{_IN_CLAUSE}{'{1,240}' if last else '{1,240}?'})"


def _item(sign: str) -> str:
    if sign == "...":
        return _GAP
    if sign == "..":
        return _FEW_WORDS
    if sign in _LIMITS:
        return _LIMITS[sign]
    body = r"\w*".join(re.escape(part) for part in sign.split("*"))
    before = r"(?<!\w)" if sign[0].isalnum() else ""
    after = r"(?!\w)" if sign[-1].isalnum() or sign[-1] == "*" else ""
    return before + body + after


def clause_around(folded: str, start: int, end: int) -> tuple[int, int]:
    """Limits of the clause that holds folded[start:end]: from one of . ; : ! ? to the next (not inside a number)."""
    left = max(0, start - _FAR)
    for mark in _CLAUSE_END.finditer(folded, left, start):
        left = mark.end()
    right = _CLAUSE_END.search(folded, max(start, end - 1))
    return left, right.start() if right else len(folded)
