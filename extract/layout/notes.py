"""Footnotes: where they are printed, and the marks that call for them."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass, field

from extract.document import Passage
from extract.layout.ink import Ink
from extract.layout.marks import MARKS, is_mark, mark_key, plain_key
from extract.layout.pieces import CROSSES, TICKS, Segment

_SIGNS = "*†‡§#"
_OPENING_SIGNS = "*†‡§"
_MAY_BE_MARK = re.compile(f"[{re.escape(MARKS + _SIGNS)}]")
_OPENS = re.compile(r"^\(?(\*{1,3}|[†‡§#]{1,2}|\d{1,2}|[a-h])\)?(?=[\s\w(])")
_OPENS_PLAIN = re.compile(r"^\(?(\*{1,3}|[†‡§]{1,2}|\d{1,2}(?=\))|[a-h](?=\)))\)?\s*(?=\S)")
_OPENS_SENTENCE = re.compile(r"^(\d{1,2}|[a-h])\s+(?=[^\W\d_a-z])")
_EXPONENT_OF = re.compile(r"(?:m|cm|mm|dm|ft|in|yd|km)$")
_ATTACHED = re.compile(r"(?<=[^\W_])(\d|[a-h])\)(?=\s|$|[,.;:])|(?<=\S)\s(\d|[a-h])\)$")
_LEGEND = re.compile(r"(?:^|(?<=\s))([✓✔☑√✗✘✕✖☒×●○◐◑◯□■▲△+–—−-]|\bn/?a\b|\bx\b)\s*(?:=|:)?\s+(?=[^\W\d_])")


@dataclass(slots=True)
class Note:
    """A footnote. place is its running number among the sheet's blocks."""

    key: str
    ink: Ink
    page: int
    place: int


@dataclass(slots=True)
class Notes:
    """All footnotes of a sheet."""

    found: list[Note] = field(default_factory=list)

    def keys(self) -> frozenset[str]:
        return frozenset(n.key for n in self.found)

    def for_mark(self, key: str, page: int, place: int) -> Passage | None:
        """The note that a mark calls for: the next below it, else the nearest above on its page."""
        known = [n for n in self.found if n.key == key]
        below = [n for n in known if n.place >= place and n.page <= page + 1]
        if below:
            return below[0].ink.passage()
        above = [n for n in known if n.page == page]
        return above[-1].ink.passage() if above else None

    def take(self, ink: Ink, page: int, place: int) -> tuple[Ink, tuple[Passage, ...]]:
        """The text without its footnote marks, and the notes that they call for."""
        notes: list[Passage] = []
        spans: list[tuple[int, int]] = []
        for start, end, keys in marks_in(ink, self.keys()):
            called = [self.for_mark(key, page, place) for key in keys]
            if not any(called):
                continue
            notes.extend(note for note in called if note is not None)
            spans.append((start, end))
        for start, end in reversed(spans):
            if ink.text[:start].strip() or ink.text[end:].strip():
                ink = ink.without(start, end)
        return ink, tuple(dict.fromkeys(notes))


def marks_in(ink: Ink, known: frozenset[str]) -> list[tuple[int, int, list[str]]]:
    """Start, end and keys of each footnote mark in the text, in order; only keys that are known."""
    out: list[tuple[int, int, list[str]]] = []
    text = ink.text
    i = 0 if True in ink.raised or _MAY_BE_MARK.search(text) else len(text)
    while i < len(text):
        if ink.raised[i]:
            end = i
            while end < len(text) and (
                ink.raised[end] or (text[end] == " " and end + 1 < len(text) and ink.raised[end + 1])
            ):
                end += 1
            keys = [plain_key(k) for k in re.split(r"[\s,;)(]+", text[i:end]) if k]
            exponent = keys in (["2"], ["3"]) and _EXPONENT_OF.search(text[:i]) is not None
            if keys and not exponent and all(k in known for k in keys):
                out.append((i, end, keys))
            i = end
        elif is_mark(text[i]) and i > 0:
            key = mark_key(text[i])
            if key in known and not (key in "23" and _EXPONENT_OF.search(text[:i])):
                out.append((i, i + 1, [key]))
            i += 1
        elif text[i] in _SIGNS and (i + 1 >= len(text) or not text[i + 1].isalnum()):
            end = i
            while end < len(text) and text[end] == text[i]:
                end += 1
            if text[i:end] in known and (i > 0 or end == len(text)):
                out.append((i, end, [text[i:end]]))
            i = end
        else:
            i += 1
    if ")" not in text:
        return sorted(out)
    taken = {p for start, end, _ in out for p in range(start, end)}
    for match in _ATTACHED.finditer(text):
        key = match[1] or match[2]
        if match.start() not in taken and key in known and "(" not in text[: match.start()]:
            out.append((match.start(), match.end(), [key]))
    return sorted(out)


def called_marks(segments: Iterable[Segment]) -> frozenset[str]:
    """The raised figures and letters behind words: marks that call for a footnote, if one begins with them."""
    out: set[str] = set()
    for segment in segments:
        for word in segment.words:
            if True not in [c["raised"] for c in word.chars]:
                continue
            text = "".join(c["text"] for c in word.chars if c["raised"])
            stem = "".join(c["text"] for c in word.chars if not c["raised"])
            if text and (stem or word.raised) and not _EXPONENT_OF.search(stem):
                out.update(k for k in re.split(r"[\s,;)(]+", text) if len(k) <= 2)
    return frozenset(out)


def split_notes(ink: Ink, small: bool, called: frozenset[str] = frozenset()) -> tuple[Ink, list[tuple[str, Ink]]]:
    """A paragraph taken apart: what stands before the first footnote, then each footnote's key and text.

    called are the raised marks of the sheet: small print that opens with one of them, not raised, is its note.
    """
    starts = _note_starts(ink, small)
    opening = _OPENS_SENTENCE.match(ink.text)
    if not starts and small and opening is not None and opening[1] in called:
        starts = [(0, opening.end(), opening[1])]
    if not starts:
        return ink, []
    notes: list[tuple[str, Ink]] = []
    for n, (_, end, key) in enumerate(starts):
        stop = starts[n + 1][0] if n + 1 < len(starts) else len(ink.text)
        body = ink.part(end, stop)
        if body.text:
            notes.append((key, body))
    return ink.part(0, starts[0][0]), notes


def _note_starts(ink: Ink, small: bool) -> list[tuple[int, int, str]]:
    text = ink.text
    out: list[tuple[int, int, str]] = []
    # Without a raised character only a sign at the start, or any start of small print, opens a note.
    i = 0 if True in ink.raised or small or text[:1] in _OPENING_SIGNS else len(text)
    while i < len(text):
        opens_word = i == 0 or text[i - 1].isspace()
        if ink.raised[i] and (i == 0 or not ink.raised[i - 1]):
            end = i
            while end < len(text) and ink.raised[end]:
                end += 1
            key = plain_key(text[i:end].strip("() "))
            if opens_word and key and len(key) <= 2 and text[end:].strip() and (out or _is_note_place(text, i, small)):
                out.append((i, end, key))
            i = end
            continue
        if opens_word and text[i] in _OPENING_SIGNS and (i == 0 or (small and out)):
            match = _OPENS_PLAIN.match(text[i:])
            if match:
                out.append((i, i + match.end(), match[1]))
                i += match.end()
                continue
        if i == 0 and small:
            match = _OPENS_PLAIN.match(text)
            if match:
                out.append((0, match.end(), match[1]))
                i = match.end()
                continue
        i += 1
    return out


def _is_note_place(text: str, i: int, small: bool) -> bool:
    before = text[:i].rstrip()
    return not before or (small and before.endswith((".", "!", ";", ":", ")")))


def split_legend(ink: Ink) -> list[Ink]:
    """The explanations of signs that a legend line gives ('✓ suitable  ✗ not suitable'); empty where it is none."""
    found = list(_LEGEND.finditer(ink.text))
    if not found or found[0].start() != 0:
        return []
    signs = {m[1] for m in found}
    if not signs & (TICKS | CROSSES | set("●○◐◯□■▲△")) and len(found) < 2:
        return []
    if len(ink.text) / len(found) > 60:
        return []
    ends = [m.start() for m in found[1:]] + [len(ink.text)]
    return [ink.part(m.start(), end) for m, end in zip(found, ends, strict=True)]
