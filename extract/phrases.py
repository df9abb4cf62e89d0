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
import sys
from collections.abc import Iterable, Iterator, Sequence
from functools import lru_cache
from itertools import groupby

CAPTURES = ("object", "quantity", "text", "via")

_SIGN = re.compile(r"\.{3}|\.{2}|\{[a-z]+\}|[()\[\]|^$,:]|[^\s()\[\]|{},:^$]+")
_GLUE = r"[\s\-/'\"()]*"
"""Between two items. It may be empty: the word limits on either side keep two words apart."""
_SHORTENED = ("max", "min", "approx", "ca", "incl", "e.g", "i.e", "hrs", "hr", "resp", "no", "nr")
"""Words whose full stop ends no clause."""
_SHORTENED_BY_LENGTH = ("|".join(map(re.escape, same)) for _, same in groupby(sorted(_SHORTENED, key=len), len))
_AFTER_SHORTENED = "|".join(rf"(?<=\b(?:{same}))\." for same in _SHORTENED_BY_LENGTH)
"""A look behind is for words of one length."""
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
_CLAUSE_END = re.compile(r"[.;:!?](?!\d)" + "".join(rf"(?<!\b{re.escape(w)}\.)" for w in _SHORTENED))


class Phrase:
    """A phrase, with what can be told without trying it. It is compiled when it is first tried: most never are.

    needs holds keys of words of which one at least stands in every match, empty if unknown; every_need all such sets
    that are known, the most telling first; in_order the same sets in the order in which their words stand.
    """

    __slots__ = ("_body", "_regex", "every_need", "in_order", "needs")

    def __init__(self, text: str) -> None:
        """Raises ValueError on a phrase that cannot be read."""
        self._body, self.in_order = _Compiler().phrase(text)
        self.every_need = _most_telling_first(self.in_order)
        self.needs: frozenset[str] = self.every_need[0] if self.every_need else frozenset()
        self._regex: re.Pattern[str] | None = None

    @property
    def regex(self) -> re.Pattern[str]:
        if self._regex is None:
            self._regex = re.compile(self._body)
        return self._regex

    def may_stand_in(self, keys: frozenset[str]) -> bool:
        """False where no match is possible in a text of these word_keys()."""
        return not any(map(keys.isdisjoint, self.every_need))

    def may_stand_along(self, keys: Sequence[str]) -> bool:
        """False where no match is possible in a text whose words have these keys_along()."""
        left = iter(keys)
        return all(any(key in need for key in left) for need in self.in_order)


class Phrases:
    """Several phrases of one meaning as one expression, tried only where the words stand that a match needs."""

    __slots__ = ("_always", "_by_key", "_each", "_keys", "_texts", "_whole")

    def __init__(self, phrases: tuple[str, ...]) -> None:
        """Raises ValueError on a phrase that cannot be read."""
        self._texts = phrases
        self._each = tuple(Phrase(p) for p in phrases)
        self._whole: re.Pattern[str] | None = None
        self._always = not all(p.needs for p in self._each)
        self._by_key: dict[str, list[int]] = {}
        for number, phrase in enumerate(self._each):
            for key in phrase.needs:
                self._by_key.setdefault(key, []).append(number)
        self._keys = frozenset(self._by_key)

    @property
    def needs(self) -> frozenset[str]:
        """Keys of words of which one at least stands in every match of any of the phrases; empty if unknown."""
        return frozenset() if self._always else self._keys

    @property
    def regex(self) -> re.Pattern[str]:
        """One expression for all the phrases."""
        if self._whole is None:
            compiler = _Compiler()
            self._whole = re.compile("|".join(f"(?:{compiler.phrase(text)[0]})" for text in self._texts))
        return self._whole

    def search(self, folded: str, start: int = 0, end: int = sys.maxsize) -> re.Match[str] | None:
        return _first(self._likely(folded), folded, start, end)

    def match(self, folded: str, start: int = 0, end: int = sys.maxsize) -> re.Match[str] | None:
        found = (regex.match(folded, start, end) for regex in self._likely(folded))
        return next((m for m in found if m is not None), None)

    def fullmatch(self, folded: str, start: int = 0, end: int = sys.maxsize) -> re.Match[str] | None:
        found = (regex.fullmatch(folded, start, end) for regex in self._likely(folded))
        return next((m for m in found if m is not None), None)

    def finditer(self, folded: str, start: int = 0, end: int = sys.maxsize) -> Iterator[re.Match[str]]:
        likely = self._likely(folded)
        return likely[0].finditer(folded, start, end) if len(likely) == 1 else _in_turn(likely, folded, start, end)

    def _likely(self, folded: str) -> Sequence[re.Pattern[str]]:
        """The expressions that find what stands in the text: those of the few phrases that may, else the whole one."""
        if self._always:
            return (self.regex,)
        keys = word_keys(folded)
        shared = self._keys & keys
        if not shared:
            return ()
        numbers = sorted({number for key in shared for number in self._by_key[key]})
        likely = [phrase for phrase in map(self._each.__getitem__, numbers) if phrase.may_stand_in(keys)]
        return [phrase.regex for phrase in likely] if len(likely) <= _FEW else (self.regex,)


_FEW = 8
"""Phrases: to try more one by one takes longer than to try the expression for all."""


def _first(regexes: Sequence[re.Pattern[str]], folded: str, start: int, end: int) -> re.Match[str] | None:
    """The match that begins first; of several, that of the expression named first, as in one expression for all."""
    best: re.Match[str] | None = None
    for regex in regexes:
        found = regex.search(folded, start, end)
        if found is not None and (best is None or found.start() < best.start()):
            best = found
    return best


def _in_turn(regexes: Sequence[re.Pattern[str]], folded: str, start: int, end: int) -> Iterator[re.Match[str]]:
    """Every match without overlaps, in order. No phrase matches nothing, so that each begins behind the last."""
    while (match := _first(regexes, folded, start, end)) is not None:
        yield match
        start = match.end()


def compile_phrases(phrases: tuple[str, ...]) -> Phrases:
    """One expression for several phrases of one meaning. Raises ValueError on a phrase that cannot be read."""
    return Phrases(phrases)


def compile_phrase(text: str) -> Phrase:
    """Raises ValueError on a phrase that cannot be read."""
    return Phrase(text)


def needed_by_any(phrases: tuple[str, ...]) -> frozenset[str]:
    """Keys of words of which one at least stands in every match of any of the phrases; empty if unknown."""
    return Phrases(phrases).needs


@lru_cache(maxsize=8192)
def keys_along(folded: str) -> tuple[str, ...]:
    """The first four letters of every word of a text, in order; before a number's, the sign of one."""
    words = _WORD.findall(folded)
    keys: list[str] = []
    for n, word in enumerate(words):
        key = word[:_KEY]
        article = key == "the" and words[n + 1 : n + 2] and words[n + 1] in _AFTER_ARTICLE
        if article or key in _NUMBERS or _FIGURE.match(key):
            keys.append(_NUMBER)
        keys.append(key)
    return tuple(keys)


@lru_cache(maxsize=8192)
def word_keys(folded: str) -> frozenset[str]:
    """The same without order: enough to pass over most phrases without trying them."""
    return frozenset(keys_along(folded))


_WORD = re.compile(r"\w+")
_KEY = 4
_NUMBER = "#"
"""Stands in keys_along() for what _NUMBER_AHEAD sees."""
_FIGURE = re.compile(r"[\d½¼¾]")
_NUMBERS = frozenset({
    "a", "an", "one", "two", "thre", "four", "five", "six", "seve", "eigh", "nine", "ten", "twel", "half", "quar",
    "ein", "eine", "einm", "einn", "einr", "eins", "zwei", "drei", "vier", "halb",
    "un", "une", "una", "deux", "troi", "quat", "dos", "tres", "cuat", "een", "twee",
})  # fmt: skip
"""Keys of the words that _NUMBER_AHEAD takes for numbers."""
_AFTER_ARTICLE = frozenset(("hour", "day", "week", "same"))
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
        _NUMBER,
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
"""Sets of keys, of each of which one stands in every match, in the order of the words."""


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
                one_of_each = frozenset(key for need in needs for key in (_most_telling_first(need)[0] if need else ()))
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
                needs.extend([frozenset([_NUMBER])] if sign == "{quantity}" else ())
            else:
                parts.append(_item(sign))
                needs.extend(_key(sign))
            at += 1
        return _GLUE.join(parts), tuple(needs), at

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
