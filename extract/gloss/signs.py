"""The signs in which words and turns of another language are written.

stahl*            any ending
(a|b) [c]         one of these; a part that may be missing
epoxid~primer     written as one word, with a hyphen or with a blank
#min.             only behind a figure
{a} {b}           in turns: a stretch that is glossed by itself; {w...} is one word, {n...} a figure with its unit
<done> <do>       in turns: a verb of words.toml in one of its forms; <done2> the same again in another branch
^ $               in turns: the beginning and the end of the clause
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Mapping
from functools import cache

_SLOT = re.compile(r"\{(\w+)\}|<(\w+)>")
_SIGN = re.compile(r"\{\w+\}|<\w+>|[()\[\]|^$]|[^\s()\[\]|{}<>^$]+")
_BRACKETS = {"(": "(?:", ")": ")", "[": "(?:", "]": ")?", "|": "|"}
_TO_THE_END = r"(?=[ .;:!?]*\Z)"
_SHORT = {"w": r"[\w\-]+", "n": r"[+\-]? ?\d[\d.,½]*(?: ?[–-] ?\d[\d.,½]*)?(?: ?(?:%|°c?|[a-zµ²/]+))?"}
"""What slots called w... and n... hold."""
_LIMITS = {"^": r"\A[ ,]*", "$": r"(?=[ ,.!:]*\Z)"}
_GLUE = "[ ,]*"
"""Between two signs. It may be empty: the limits of words keep them apart."""


def bare(folded: str) -> str:
    """Folded text without accents, letter for letter: headings in capitals often leave them out."""
    return "".join(map(_bare_letter, folded))


@cache
def _bare_letter(letter: str) -> str:
    return unicodedata.normalize("NFD", letter)[0] if letter.isalpha() else letter


def alternatives(phrase: str) -> list[str]:
    """Every plain wording of a phrase: brackets opened, '*' and '~' left in. Raises ValueError on open brackets."""
    phrase = bare(phrase)
    out, rest = _sequence(phrase, 0, "")
    if rest != len(phrase):
        raise ValueError(f"unbalanced brackets in {phrase!r}")
    return [" ".join(p.split()) for p in dict.fromkeys(out)]


def _sequence(phrase: str, at: int, closing: str) -> tuple[list[str], int]:
    done: list[str] = []
    ways = [""]
    while at < len(phrase) and phrase[at] != closing:
        sign = phrase[at]
        if sign in "([":
            inner, after = _sequence(phrase, at + 1, ")" if sign == "(" else "]")
            if after >= len(phrase):
                raise ValueError(f"{sign!r} left open in {phrase!r}")
            ways = [w + i for w in ways for i in (inner if sign == "(" else ["", *inner])]
            at = after
        elif sign == "|" and closing:
            done, ways = [*done, *ways], [""]
        elif sign in ")]":
            raise ValueError(f"{sign!r} opens nothing in {phrase!r}")
        else:
            ways = [w + sign for w in ways]
        at += 1
    return [*done, *ways], at


def word_pattern(plain: str) -> str:
    """A regular expression for one plain wording, from the beginning of a word to the end of one."""
    figure = r"(?:(?<=\d)|(?<=\d ))" if plain.startswith("#") else ""
    plain = plain.removeprefix("#")
    limited = _limited("".join(_letter(c) for c in plain), plain)
    return figure + (limited.removeprefix(r"(?<!\w)") if figure else limited)


def _letter(sign: str) -> str:
    return {"*": r"\w*", "~": r"[ -]?", " ": r"[ \-]+"}.get(sign) or re.escape(sign)


def _limited(body: str, plain: str) -> str:
    first, last = plain[0], plain[-1]
    before = r"(?<!\w)" if first.isalnum() else ""
    after = r"(?!\w)" if last.isalnum() or last == "*" else ""
    return before + body + after


def turn_pattern(phrase: str, forms: Mapping[str, str]) -> str:
    """A regular expression for a turn; slots are groups of their names, verbs groups named verb_<form>.

    A slot may be empty ('kann {a} <done> werden' reads 'kann überlackiert werden'). Raises KeyError for a form of
    verbs that the language has not.
    """
    out: list[str] = []
    signs = _SIGN.findall(bare(phrase))
    for i, sign in enumerate(signs):
        if sign not in (")", "]", "|") and out and out[-1] not in ("(?:", "|"):
            out.append(_GLUE)
        if sign in _BRACKETS:
            out.append(_BRACKETS[sign])
            continue
        slot = _SLOT.fullmatch(sign)
        if slot is None:
            out.append(_LIMITS.get(sign) or word_pattern(sign))
        elif slot.group(2):
            out.append(rf"(?<![\w\-])(?P<verb_{slot.group(2)}>{forms[slot.group(2).rstrip('0123456789')]})(?!\w)")
        else:
            # A slot at the end takes all that is left of the clause, but not its stop.
            inner = _SHORT.get(slot.group(1)[0], ".*?")
            last = i + 1 == len(signs) and inner == ".*?"
            out.append(f"(?P<{slot.group(1)}>{inner}){_TO_THE_END if last else ''}")
    return "".join(out)
