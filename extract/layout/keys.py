"""The lines under a table that explain its signs ('o yes  x no') and its notes' marks ('1) only indoors')."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import reduce

from extract.layout.ink import Ink
from extract.layout.marks import is_mark, mark_key, plain_key
from extract.layout.pieces import CROSSES, TICKS, Grid, Segment, merged

_SIGN = re.compile(r"[^\w\s]{1,2}|[xXoO+]|n/?[a-z]", re.I)
_SHORTEST_SIGNS = 4
"""Characters that a table's sign has at most."""
_CLOSED_MARK = re.compile(r"(?<=\S)\s?\(?([1-9]|[a-h*†‡§])\)$")
_STARRED = ("*", "†", "‡", "§")
_STARS = re.compile(r"(?<=[\w)✓✔✗✘√×●○])([*†‡§]{1,3})$")
_NOTE_MARK = re.compile(r"\(?([1-9][0-9]?|[a-h*†‡§]{1,2})\)")
_AFTER_SIGN = re.compile(r"\s*[=:]\s*|\s+")
_PARTED_BY = " ,;.)|·"
_ROUND = frozenset("●○◐◑◯□■▲△◒◓")
_LONGEST_BEFORE = 30
"""Characters: what may stand before a key's first sign (the first sign's own words, where the sign itself is lost)."""
_NEAR = 3.2
"""Times the size: how far beneath a table its key may stand."""


@dataclass(frozen=True, slots=True)
class Key:
    """signs explain the table's signs, notes carry the keys of marks; before is the text in front of them."""

    before: Ink
    signs: tuple[Ink, ...]
    notes: tuple[tuple[str, Ink], ...]


@dataclass(frozen=True, slots=True)
class Signs:
    """What stands in a table's cells: its signs, lower case, and the keys of the marks behind its words."""

    signs: frozenset[str]
    marks: frozenset[str]


def signs_of(grid: Grid) -> Signs:
    """The signs and marks in a grid's cells."""
    signs: set[str] = set()
    marks: set[str] = set()
    for cell in grid.cells:
        words = [w for s in cell.segments for w in s.words]
        if not words:
            continue
        text = " ".join(w.text for w in words)
        stem = text.rstrip()
        while len(stem) > 1 and is_mark(stem[-1]):
            marks.add(mark_key(stem[-1]))
            stem = stem[:-1].rstrip(" ,")
        found = _CLOSED_MARK.search(stem) if stem.endswith(")") else None
        if found and "(" not in stem[: found.start()]:
            marks.add(found[1])
            stem = stem[: found.start()].rstrip()
        starred = _STARS.search(stem) if stem.endswith(_STARRED) else None
        if starred:
            marks.add(starred[1])
            stem = stem[: starred.start()].rstrip()
        raised = "".join(c["text"] for w in words for c in w.chars if c["raised"]).strip("() ")
        if 0 < len(raised) <= 2:
            marks.add(plain_key(raised))
        if 0 < len(stem) <= _SHORTEST_SIGNS and _SIGN.fullmatch(stem):
            signs.add(stem.lower())
    return Signs(frozenset(signs), frozenset(marks))


def read_key(ink: Ink, table: Signs) -> Key | None:
    """A paragraph under a table taken apart into what it explains; None where it explains nothing."""
    starts = _sign_starts(ink, table.signs)
    at_signs = {at for at, _ in starts}
    marks = [m for m in _mark_starts(ink, table.marks) if m[0] not in at_signs]
    if not _explains(ink, starts, marks):
        return None
    places = sorted([(at, at, "") for at, _ in starts] + marks)
    signs: list[Ink] = []
    notes: list[tuple[str, Ink]] = []
    for n, (_, body, key) in enumerate(places):
        end = places[n + 1][0] if n + 1 < len(places) else len(ink.text)
        part = ink.part(body, end)
        if not key:
            signs.append(part)
        elif part.text:
            notes.append((key, part))
    return Key(ink.part(0, places[0][0]), tuple(signs), tuple(notes))


def _explains(ink: Ink, starts: Sequence[tuple[int, str]], marks: Sequence[tuple[int, int, str]]) -> bool:
    if not starts and not marks:
        return False
    first = min([at for at, _ in starts] + [at for at, _, _ in marks])
    if first > _LONGEST_BEFORE and not (marks and first == marks[0][0]):
        return False
    return bool(marks) or len({sign for _, sign in starts}) >= 2 or "=" in ink.text[: 2 + len(starts[0][1]) + 2]


def _sign_starts(ink: Ink, signs: frozenset[str]) -> list[tuple[int, str]]:
    """Where one of the table's signs stands before words, each parted from what is before it."""
    known = signs | TICKS | CROSSES | _ROUND
    out: list[tuple[int, str]] = []
    low = ink.text.lower()
    for at in range(len(low)):
        if at and low[at - 1] not in _PARTED_BY:
            continue
        sign = next((s for s in sorted(known, key=len, reverse=True) if low.startswith(s, at)), None)
        if sign is None:
            continue
        gap = _AFTER_SIGN.match(low, at + len(sign))
        direct = sign in TICKS | CROSSES | _ROUND
        if gap is None and not direct:
            continue
        rest = low[gap.end() if gap else at + len(sign) :]
        if rest[:1].isalpha() and rest[1:2].isalpha():
            out.append((at, sign))
    several = len({sign for _, sign in out}) > 1
    if out and out[0][0] > (_LONGEST_BEFORE if several else 0):
        return []
    explained = bool(out) and "=" in ink.text[: out[0][0] + len(out[0][1]) + 2]
    return out if several or explained or (out and len(ink.text) < 120) else []


def _mark_starts(ink: Ink, marks: frozenset[str]) -> list[tuple[int, int, str]]:
    """Start, start of the note's words and key of each note whose mark the table's cells carry."""
    text = ink.text
    out: list[tuple[int, int, str]] = []
    for at, char in enumerate(text):
        if at and not text[at - 1].isspace():
            continue
        if is_mark(char) and mark_key(char) in marks:
            out.append((at, at + 1, mark_key(char)))
            continue
        found = _NOTE_MARK.match(text, at)
        if found and found[1] in marks and text[found.end() : found.end() + 1] in ("", " "):
            out.append((at, found.end(), found[1]))
        elif (starred := re.match(r"[*†‡§]{1,3}", text[at:])) and starred[0] in marks:
            out.append((at, at + starred.end(), starred[0]))
        elif ink.raised[at]:
            end = at
            while end < len(text) and ink.raised[end]:
                end += 1
            key = plain_key(text[at:end].strip("() "))
            if key in marks:
                out.append((at, end, key))
    return out


def join_keys(grids: Iterable[Grid], segments: list[Segment]) -> list[Segment]:
    """Segments with those of one line made one where they are a table's key set apart by wide gaps."""
    out = segments
    for grid in grids:
        signs = signs_of(grid)
        known = signs.signs | TICKS | CROSSES | _ROUND
        below = [
            s
            for s in out
            if not s.angle
            and grid.box[3] - 2 < s.base < grid.box[3] + _NEAR * s.size
            and s.x1 > grid.box[0]
            and s.x0 < grid.box[2]
        ]
        bases = sorted({round(s.base, 1) for s in below})
        for base in bases:
            line = sorted((s for s in below if abs(s.base - base) < 0.5), key=lambda s: s.x0)
            if len(line) < 2 or not _opens_key(line[0], known, signs.marks):
                continue
            whole = reduce(merged, line)
            out = [s for s in out if not any(s is part for part in line)] + [whole]
    return out


def _opens_key(segment: Segment, signs: frozenset[str], marks: frozenset[str]) -> bool:
    first = segment.words[0].text
    found = _NOTE_MARK.fullmatch(first)
    if (found and found[1] in marks) or (is_mark(first[0]) and mark_key(first[0]) in marks):
        return True
    return first.lower().rstrip("=:") in signs or first[0] in TICKS | CROSSES | _ROUND
