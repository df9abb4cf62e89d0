"""Characters -> lines of words. pdfplumber's word finder splits; what it is fed are single printed lines."""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from operator import itemgetter
from statistics import median
from typing import Any

from pdfplumber.utils.text import WordExtractor

from extract.claims import Box
from extract.reading.characters import Char, Style, frame_box

_RAISED_BY = 0.15
"""Share of the line's size that a small character's baseline must lie off to count as raised."""
_SMALL = 0.85
_TOUCH = 0.45
"""Share of the size: how near a raised piece stands to what it belongs to."""
_WORD_GAP = 0.16
"""Share of the size: a wider gap divides words where no space is printed."""

_finder: Any = WordExtractor(x_tolerance_ratio=_WORD_GAP, y_tolerance=1000, use_text_flow=True)


@dataclass(slots=True)
class Word:
    """A printed word. box is as displayed; for turned text (angle != 0) x0, top, x1, bottom are in its own frame."""

    text: str
    chars: list[Char]
    x0: float
    top: float
    x1: float
    bottom: float
    size: float
    base: float
    bold: bool
    italic: bool
    color: tuple[int, int, int]
    angle: int = 0
    raised: bool = False
    """All of it stands above the baseline: a footnote mark, an exponent."""
    tracking: float = 0.0
    """The gap between its letters where it is set with wide gaps."""

    @property
    def box(self) -> Box:
        lefts, tops, rights, bottoms = zip(*[c["box"] for c in self.chars], strict=True)
        return (min(lefts), min(tops), max(rights), max(bottoms))


@dataclass(slots=True)
class PrintedLine:
    """Words of one baseline across the page, left to right (columns not yet told apart)."""

    words: list[Word]
    base: float
    size: float
    angle: int = 0


@dataclass(slots=True)
class _Run:
    chars: list[Char]
    x0: float
    x1: float
    base: float
    size: float
    order: int
    pale: bool = False


def find_lines(chars: Sequence[Char], width: float, height: float) -> list[PrintedLine]:
    """The printed lines of a page, top to bottom; those of turned text after the upright ones.

    width and height are those of the displayed page. Characters printed twice or lying hidden under
    others are left out.
    """
    by_angle: dict[int, list[Char]] = {}
    for char in _visible(chars):
        style: Style = char["style"]
        by_angle.setdefault(style.angle or 0, []).append(char)
    lines: list[PrintedLine] = []
    for angle in sorted(by_angle):
        turned = by_angle[angle]
        if angle:
            for char in turned:
                char["x0"], char["top"], char["x1"], char["bottom"] = frame_box(char["box"], angle, width, height)
        for runs in _cluster(_runs(turned)):
            line = _line(runs, angle)
            if line is not None:
                lines.append(line)
    _join_short_heads(lines)
    return lines


def _visible(chars: Sequence[Char]) -> Iterable[Char]:
    """Without invisible text, unless all of it is: a picture with a layer of recognised words."""
    hidden = sum(1 for c in chars if c["style"].invisible)
    if not hidden or hidden > 0.8 * len(chars):
        return chars
    return [c for c in chars if not c["style"].invisible]


def _runs(chars: Sequence[Char]) -> list[_Run]:
    runs: list[_Run] = []
    current: _Run | None = None
    for char in chars:
        size, base, x0 = char["size"], char["base"], char["x0"]
        if (
            current is not None
            and (base == current.base or abs(base - current.base) <= 0.05 * size)
            and (size == current.size or abs(size - current.size) <= 0.05 * size)
            and -0.4 * size <= x0 - current.x1 <= 0.8 * size
        ):
            current.chars.append(char)
            current.x1 = max(current.x1, char["x1"])
        else:
            current = _Run([char], x0, char["x1"], base, size, char["order"])
            current.pale = min(char["style"].color) >= 250
            runs.append(current)
    return runs


def _cluster(runs: list[_Run]) -> list[list[_Run]]:
    """Runs of one line each. Small raised or lowered runs join the line that they touch."""
    runs = [r for r in runs if not r.chars[0]["text"].isspace() or any(not c["text"].isspace() for c in r.chars)]
    ordered = sorted(runs, key=lambda r: (r.base, r.x0))
    groups: list[list[_Run]] = []
    for run in ordered:
        home = None
        for group in reversed(groups[-4:]):
            first = group[0]
            if abs(run.base - first.base) <= 0.2 * max(first.size, run.size):
                home = group
                break
        if home is None:
            groups.append([run])
        else:
            home.append(run)
    groups = _join_raised(groups)
    return [_without_overprints(group) for group in groups]


def _join_raised(groups: list[list[_Run]]) -> list[list[_Run]]:
    """Move each small run that touches a larger one of a neighbouring baseline into that one's group."""
    for i, group in enumerate(groups):
        for run in list(group):
            home = _larger_neighbour(run, groups, i)
            if home is not None:
                group.remove(run)
                for char in run.chars:
                    char["raised"] = True
                home.append(run)
    return [g for g in groups if g]


def _larger_neighbour(run: _Run, groups: list[list[_Run]], at: int) -> list[_Run] | None:
    if len(run.chars) > 6:
        return None
    for j in range(max(at - 3, 0), min(at + 4, len(groups))):
        if j == at:
            continue
        for other in groups[j]:
            if run.size > _SMALL * other.size:
                continue
            off = other.base - run.base
            if not (_RAISED_BY * other.size * 0.5 < off < 0.75 * other.size or -0.35 * other.size < off < 0):
                continue
            gap = max(run.x0 - other.x1, other.x0 - run.x1)
            if gap <= _TOUCH * other.size:
                return groups[j]
    return None


def _without_overprints(group: list[_Run]) -> list[_Run]:
    """Leave out what is printed twice in one place (false bold) and what lies hidden under later text."""
    if len(group) < 2:
        return group
    kept: list[_Run] = []
    for run in sorted(group, key=lambda r: r.x0):
        clash = None
        for other in reversed(kept[-3:]):
            overlap = min(run.x1, other.x1) - max(run.x0, other.x0)
            if overlap > 0.5 * min(run.x1 - run.x0, other.x1 - other.x0) and overlap > 0.3 * run.size:
                clash = other
                break
        if clash is None:
            kept.append(run)
            continue
        same = _letters(run) == _letters(clash)
        loser = min((run, clash), key=lambda r: (not r.pale, len(r.chars) >= 3 or not same, r.order))
        if same:
            for char in run.chars + clash.chars:
                char["bold"] = True
        if loser is clash:
            kept[kept.index(clash)] = run
    return kept


def _letters(run: _Run) -> str:
    return "".join(c["text"] for c in run.chars if not c["text"].isspace())


_from_left = itemgetter("x0", "x1")


def _line(runs: list[_Run], angle: int) -> PrintedLine | None:
    largest = max(runs, key=lambda r: (r.x1 - r.x0) * (0.5 if r.chars[0]["raised"] else 1))
    base, size = largest.base, largest.size
    tallest = max(run.size for run in runs)
    for run in runs:
        if run.size <= _SMALL * tallest and any(_stands_above(run, other) for other in runs):
            for char in run.chars:
                char["raised"] = True
    chars = _without_stray_blanks(sorted([c for r in runs for c in r.chars], key=_from_left))
    words = [_word(found, angle) for found in _finder.iter_chars_to_words(chars, "ltr")]
    words = _respaced([w for w in words if w.text], chars)
    if not words:
        return None
    return PrintedLine(_join_spaced_out(words), base, size, angle)


def _stands_above(run: _Run, other: _Run) -> bool:
    """Whether run is a small raised piece beside other."""
    if run.size > _SMALL * other.size or other.base - run.base <= _RAISED_BY * other.size:
        return False
    return max(run.x0 - other.x1, other.x0 - run.x1) <= _TOUCH * other.size


def _without_stray_blanks(chars: list[Char]) -> list[Char]:
    """Drop blanks that lie over letters standing close together."""
    out: list[Char] = []
    edge = None
    blanks: list[Char] = []
    for char in chars:
        if char["text"].isspace():
            blanks.append(char)
            continue
        if blanks:
            if edge is not None and char["x0"] - edge > 0.06 * char["size"]:
                out.append(blanks[0])
            blanks.clear()
        out.append(char)
        if edge is None or char["x1"] > edge:
            edge = char["x1"]
    return out


def _word(chars: list[Char], angle: int) -> Word:
    first = chars[0]
    style: Style = first["style"]
    raised = [c["raised"] for c in chars]
    plain = [c for c in chars if not c["raised"]] if True in raised else chars
    sizes = [c["size"] for c in plain or chars]
    tallest = (plain or chars)[sizes.index(max(sizes))]
    return Word(
        text="".join([c["text"] for c in chars]),
        chars=chars,
        x0=first["x0"],
        top=min([c["top"] for c in chars]),
        x1=max([c["x1"] for c in chars]),
        bottom=max([c["bottom"] for c in chars]),
        size=tallest["size"],
        base=tallest["base"],
        bold=bool(tallest["bold"]),
        italic=style.italic,
        color=style.color,
        angle=angle,
        raised=not plain,
    )


_SMALL_CAPITALS = 0.36
"""Share of the size by which small capitals may be smaller than the capital before them."""
_WIDEST_TRACKING = 1.6
"""Share of the size: single letters further apart are signs in a table's cells."""
_TRACKED = 0.09
"""Share of the size: letters that stand this far apart on the whole are set with wide gaps."""


def _respaced(words: list[Word], chars: Sequence[Char]) -> list[Word]:
    """Words of letter-spaced type whose kerning broke them unevenly ('P R E PA R AT ION'), parted anew.

    They are parted at printed blanks where there are any, else where a gap is wider than the letters' own.
    """
    if len([w for w in words if len(w.text) <= 2]) < 3:
        return words
    out: list[Word] = []
    i = 0
    while i < len(words):
        j = i + 1
        while j < len(words) and _goes_with(words[j - 1], words[j]):
            j += 1
        run = words[i:j]
        broken = sum(1 for w in run if len(w.text) <= 2 and w.text.isalpha())
        if len(run) >= 4 and broken >= 3 and any(len(w.text) > 1 for w in run):
            out.extend(_parted(run, chars) or run)
        else:
            out.extend(run)
        i = j
    return out


def _goes_with(left: Word, right: Word) -> bool:
    size = max(left.size, right.size)
    same = abs(left.size - right.size) < _SMALL_CAPITALS * size and left.bold == right.bold
    return same and right.x0 - left.x1 < 0.9 * size


def _parted(run: list[Word], chars: Sequence[Char]) -> list[Word] | None:
    letters = [c for w in run for c in w.chars]
    if sum(c["text"].isalpha() for c in letters) < 0.8 * len(letters):
        return None
    size = median(c["size"] for c in letters)
    gaps = [b["x0"] - a["x1"] for a, b in itertools.pairwise(letters)]
    usual = median(gaps)
    if usual < _TRACKED * size:
        return None
    blanks = sorted(
        (c["x0"] + c["x1"]) / 2
        for c in chars
        if c["text"].isspace() and letters[0]["x1"] <= (c["x0"] + c["x1"]) / 2 <= letters[-1]["x0"]
    )
    if len(blanks) > 0.4 * len(gaps):
        blanks = []
    parts: list[list[Char]] = [[letters[0]]]
    for gap, a, b in zip(gaps, letters, letters[1:], strict=False):
        blank = any(a["x1"] - 0.5 <= x <= b["x0"] + 0.5 for x in blanks)
        if blank or (not blanks and gap > usual + 0.15 * size):
            parts.append([])
        parts[-1].append(b)
    out = []
    for part in parts:
        word = _word(part, run[0].angle)
        word.tracking = max(usual, 0.0)
        out.append(word)
    return out


def _unevenness(values: list[float]) -> float:
    usual = median(values)
    return median(abs(v - usual) for v in values) / max(usual, 0.1)


def _spells_words(singles: Sequence[Word]) -> bool:
    """Whether single characters on a line are words set wide ('E P 3 0 0'), not signs or figures in columns."""
    letters = sum(w.text.isalpha() for w in singles)
    least = 0.6 if len(singles) >= 8 else 0.8
    if letters < least * len(singles) or len({w.text.lower() for w in singles}) < 3:
        return False
    gaps = [b.x0 - a.x1 for a, b in itertools.pairwise(singles)]
    return median(gaps) < _WIDEST_TRACKING * singles[0].size and max(gaps) < 3 * _WIDEST_TRACKING * singles[0].size


def _join_spaced_out(words: list[Word]) -> list[Word]:
    """Join a heading set with wide gaps between its letters ('E p o x y') into its words."""
    out: list[Word] = []
    i = 0
    while i < len(words):
        j = i
        while j < len(words) and _is_single(words[j], inside=j > i):
            j += 1
        singles = words[i:j]
        if len(singles) < 4 or not _spells_words(singles):
            out.extend(words[i : max(j, i + 1)])
            i = max(j, i + 1)
            continue
        gaps = [b.x0 - a.x1 for a, b in itertools.pairwise(singles)]
        steps = [b.x0 - a.x0 for a, b in itertools.pairwise(singles)]
        measure = min((gaps, steps), key=_unevenness)  # letters at even gaps, or at even steps
        usual = median(measure)
        parts: list[list[Char]] = [list(singles[0].chars)]
        for wide, word in zip(measure, singles[1:], strict=True):
            if wide > 1.45 * usual and wide > usual + 0.12 * word.size:
                parts.append([])
            parts[-1].extend(word.chars)
        for part in parts:
            joined = _word(part, words[i].angle)
            joined.tracking = max(median(gaps), 0.0)
            out.append(joined)
        i = j
    return out


def _is_single(word: Word, *, inside: bool) -> bool:
    return len(word.text) == 1 and (word.text.isalnum() or (inside and word.text in "°&"))


def _join_short_heads(lines: Sequence[PrintedLine]) -> None:
    """Join lines of two or three capitals ('U S E') that are set as wide as spaced-out words in the same type."""
    wide = {(round(w.size, 1), w.bold): w.tracking for line in lines for w in line.words if w.tracking > 0}
    for line in lines:
        words = line.words
        usual = wide.get((round(line.size, 1), words[0].bold), 0.0)
        if len(words) not in (2, 3) or not usual or not all(len(w.text) == 1 and w.text.isupper() for w in words):
            continue
        if all(abs(b.x0 - a.x1 - usual) <= 0.3 * line.size for a, b in itertools.pairwise(words)):
            line.words = [_word([c for w in words for c in w.chars], line.angle)]
            line.words[0].tracking = usual
