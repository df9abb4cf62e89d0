"""Printed text while it is being laid out: characters with their glyphs, and which are raised or bold."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field

from extract.claims import Box
from extract.document import Glyph, Passage
from extract.layout.lexicon import lexicon
from extract.reading.words import Word

_ENDS_IN_HYPHEN = re.compile(r"([^\W_]+)[-‐]$")
_BEGINS = re.compile(r"[^\W_]+")
_COMPOUND = re.compile(r"[^\W\d_]+(?:[-‐][^\W\d_]+)+|[^\W\d_]+")


@dataclass(slots=True)
class Ink:
    """text[i] was printed at origins[i] (None: a joining space), raised[i] above the line, bold[i] in bold."""

    text: str = ""
    origins: list[Glyph | None] = field(default_factory=list)
    raised: list[bool] = field(default_factory=list)
    bold: list[bool] = field(default_factory=list)
    size: float = 0.0

    def __len__(self) -> int:
        return len(self.text)

    def part(self, start: int, end: int | None = None) -> Ink:
        """text[start:end], blanks at both ends left out."""
        end = len(self.text) if end is None else end
        while start < end and self.text[start].isspace():
            start += 1
        while end > start and self.text[end - 1].isspace():
            end -= 1
        return Ink(
            self.text[start:end], self.origins[start:end], self.raised[start:end], self.bold[start:end], self.size
        )

    def without(self, start: int, end: int) -> Ink:
        """All but text[start:end]."""
        return Ink(
            self.text[:start] + self.text[end:],
            self.origins[:start] + self.origins[end:],
            self.raised[:start] + self.raised[end:],
            self.bold[:start] + self.bold[end:],
            self.size,
        ).part(0)

    def passage(self) -> Passage:
        letters = [b for b, c in zip(self.bold, self.text, strict=True) if not c.isspace()]
        return Passage(self.text, tuple(self.origins), bool(letters) and all(letters), round(self.size, 2))


_glyph: Callable[[type[Glyph], tuple[int, int, Box]], Glyph] = tuple.__new__
"""A glyph is made for every character of a sheet: without the call in Python that a named tuple costs, half as dear."""


def ink_of_line(words: Sequence[Word], page: int, line: int) -> Ink:
    """One printed line. A raised 0 or o before C or F becomes the degree sign that it stands for."""
    ink = Ink(size=max((w.size for w in words), default=0.0))
    parts: list[str] = []
    for n, word in enumerate(words):
        if n:
            parts.append(" ")
            ink.origins.append(None)
            ink.raised.append(False)
            ink.bold.append(words[n - 1].bold and word.bold)
        chars = word.chars
        parts.extend([c["text"] for c in chars])
        ink.origins.extend([_glyph(Glyph, (page, line, c["box"])) for c in chars])
        ink.raised.extend([c["raised"] for c in chars])
        ink.bold.extend([c["bold"] for c in chars])
    ink.text = "".join(parts)
    if True not in ink.raised:
        return ink
    for i, char_text in enumerate(ink.text):
        if ink.raised[i] and char_text in "0oO°º" and _stands_before_scale(ink, i):
            ink.text = ink.text[:i] + "°" + ink.text[i + 1 :]
            ink.raised[i] = False
    return ink


def _stands_before_scale(ink: Ink, i: int) -> bool:
    after = ink.text[i + 1 :].lstrip()
    before = ink.text[:i].rstrip()
    return after[:1] in ("C", "F") and not after[1:2].isalpha() and (not before or before[-1].isdigit())


def join_lines(lines: Iterable[Ink], known: frozenset[str] = frozenset(), by: str = " ") -> Ink:
    """One text of several lines; a word divided at a line's end is joined.

    known holds the sheet's words, lower case, hyphened ones too: they decide whether a hyphen is the word's own.
    """
    out = Ink()
    for line in lines:
        if not line.text:
            continue
        if not out.text:
            out = Ink(line.text, list(line.origins), list(line.raised), list(line.bold), line.size)
            continue
        out.size = max(out.size, line.size)
        joint = _joint(out.text, line.text, known)
        if joint < 0:
            out.text = out.text[:joint]
            del out.origins[joint:], out.raised[joint:], out.bold[joint:]
        elif joint > 0:
            out.text += by
            for _ in by:
                out.origins.append(None)
                out.raised.append(False)
                out.bold.append(out.bold[-1] and line.bold[0])
        out.text += line.text
        out.origins.extend(line.origins)
        out.raised.extend(line.raised)
        out.bold.extend(line.bold)
    if "\u00ad" in out.text:
        keep = [i for i, c in enumerate(out.text) if c != "\u00ad"]
        out = Ink(
            "".join(out.text[i] for i in keep),
            [out.origins[i] for i in keep],
            [out.raised[i] for i in keep],
            [out.bold[i] for i in keep],
            out.size,
        )
    return out


def _joint(above: str, below: str, known: frozenset[str]) -> int:
    """1: a space joins. 0: nothing (a hyphen of the word's own). -1: the hyphen goes."""
    if above.endswith("\u00ad"):
        return -1
    found = _ENDS_IN_HYPHEN.search(above)
    if found is None:
        if above.endswith(("/", "–")) and not above.endswith((" /", " –")) and below[:1].isalnum():
            return 0
        return 1
    start = _BEGINS.match(below)
    if start is None:
        return 1
    left, right = found[1].lower(), start[0].lower()
    if left + right in known and found[1].isupper() == start[0].isupper():
        return -1
    if not start[0][0].islower() or not left[-1:].isalpha():
        return 0
    if left + right in known:
        return -1
    words = lexicon()
    if f"{left}-{right}" in known or left in words.keep_after or right in words.keep_before:
        return 0
    if left in known and right in known and len(left) > 2 and len(right) > 2:
        return 0
    return -1


def words_known(lines: Iterable[str]) -> frozenset[str]:
    """The words of a sheet that stand whole within a line, hyphened ones as such too."""
    known: set[str] = set()
    for line in lines:
        found = list(_COMPOUND.finditer(line))
        for n, match in enumerate(found):
            at_edge = (n == 0 and match.start() == 0) or line[match.end() :].strip() in ("-", "‐")
            if not at_edge or not line.rstrip().endswith(("-", "‐")):
                known.add(match[0].lower().replace("‐", "-"))
    return frozenset(known)
