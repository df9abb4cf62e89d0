"""Where sentences end. Abbreviations of the trade do not end one; a semicolon never does."""

from __future__ import annotations

import re

from extract.layout.ink import Ink
from extract.layout.lexicon import lexicon

_STOP = re.compile(r"[.!?…]+[\"'”’)\]]*(?=\s|$)")
_LAST_WORD = re.compile(r"[^\s(\[/]+$")
_LIST_MARK = re.compile(r"\(?(?:\d{1,2}|\w)?")
_BEGINS = re.compile(r"[\"'“‘(\[]*([^\W\d_]{1,2}|\d)")
_COUNTED = frozenset({"vol", "vols", "pt", "pts"})
"""'4 vol. Hobnail 3 + 1 vol. hardener': what is counted stands behind the stop."""


def split_sentences(ink: Ink) -> list[Ink]:
    """The sentences of a paragraph, in order, none empty."""
    out: list[Ink] = []
    start = 0
    for stop in _STOP.finditer(ink.text):
        if not _ends(ink.text, stop.start(), stop.end(), start):
            continue
        out.append(ink.part(start, stop.end()))
        start = stop.end()
    out.append(ink.part(start))
    return [s for s in out if s.text]


def _ends(text: str, at: int, end: int, start: int) -> bool:
    after = text[end:].lstrip()
    if not after:
        return True
    if text[at] != ".":
        return not after[0].islower()
    word = _LAST_WORD.search(text[start:at])
    last = word[0].strip("\"'“”‘’").lower() if word else ""
    if last in lexicon().never_end:
        return False
    begins = _BEGINS.match(after)
    first = begins[1] if begins else after[0]
    if last in lexicon().before_number and first[0].isdigit():
        return False
    if last in _COUNTED and text[start:at][: -len(last)].rstrip()[-1:].isnumeric():
        return False
    if last in lexicon().seldom_end:
        follower = after.split()[0].strip("\"'“‘([")
        return first[0].isupper() and (follower[1:2].islower() or follower in ("A", "I"))
    if first[0].islower():
        return False
    # 'a. 3 h', 'No 2. Wash': a lone letter or a number before the stop is a list mark, not a sentence
    return not _LIST_MARK.fullmatch(text[start:at].strip())
