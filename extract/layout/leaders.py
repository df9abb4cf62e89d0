"""Runs of dots and underlines that lead from a label to its value: 'Touch dry ......... 40 minutes'."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace

from extract.reading.characters import Char
from extract.reading.words import Word

_LEADING = frozenset("._·…‥")
_LEAST = 4
"""Signs in a row that lead to a value; of the wide ones half as many do."""
_WIDE = frozenset("…‥")
_RUN = re.compile(r"[._·…‥]{4}|[…‥]{2}")


def without_leaders(words: Sequence[Word]) -> tuple[list[Word], list[int]]:
    """The words of a line with the leaders between them taken out, and which of them stand behind one."""
    if _RUN.search("".join([w.text for w in words])) is None:
        return list(words), []
    signs = [(n, char) for n, word in enumerate(words) for char in word.chars]
    out: list[Word] = []
    led: list[int] = []
    part: list[Char] = []
    home = -1
    behind = False

    def close() -> None:
        nonlocal part, behind
        if part:
            if behind and out:
                led.append(len(out))
            out.append(_part(words[home], part))
            part, behind = [], False

    at = 0
    while at < len(signs):
        n, char = signs[at]
        if n != home:
            close()
            home = n
        end = at
        while end < len(signs) and signs[end][1]["text"] in _LEADING:
            end += 1
        run = [c["text"] for _, c in signs[at:end]]
        if run and (len(run) >= _LEAST or (len(run) > 1 and set(run) <= _WIDE)) and end < len(signs):
            close()
            home, behind = signs[end][0], True
            at = end
            continue
        part.append(char)
        at += 1
    close()
    return out, led


def _part(word: Word, chars: list[Char]) -> Word:
    if len(chars) == len(word.chars):
        return word
    return replace(
        word, text="".join(c["text"] for c in chars), chars=chars, x0=chars[0]["x0"], x1=max(c["x1"] for c in chars)
    )
