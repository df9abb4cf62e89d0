"""Lines as a recogniser hands them over (a box and a text) -> characters with places, by the ink under them.

All work is done on the straightened picture; each character keeps its place on the page as it is.
"""

from __future__ import annotations

import math
import re
import unicodedata
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from statistics import median
from typing import Any, NamedTuple

import cv2
import numpy as np

from extract.claims import Box
from extract.reading.characters import Char, Style

_CAPITAL, _SMALL_LETTER = 0.72, 0.53
"""Heights over the baseline as shares of the type size: capitals and figures; letters without ascenders."""
_ASCENDING = re.compile(r"[A-ZÀ-Þ0-9bdfhklt/|()%°]")
_MOST_SKEW = 8.0
"""Degrees."""
_LEAST_SKEW = 0.15
_SAME_SIZE = 0.065
_GLUED = (
    re.compile(r"(?<=[a-z]{2})(?=\d)"),
    re.compile(r"(?<=\d)(?=[a-z]{3})"),
    re.compile(r"(?<=\d)(?=(?:to|or|of|at|in|by)\b)"),
    re.compile(r"(?<=°[CF])(?=[a-z])"),
)
"""Where the recogniser leaves a blank out beside figures, as it does in lines set close."""
_SHORT = 5
"""Characters."""
_SAME_BASE = 0.3
_RAISED_SIZE, _RAISED_BY = 0.6, 0.33
_BOLDER = 1.32
_BLUR = 1.2
"""Pixels that drawing and scanning add to a stroke."""
_SPACE = 0.3
"""A space's width at most, as a share of the type size: a wider gap parts columns."""

Shown = Callable[[Box], Box]
"""Pixels of the drawn page -> displayed points."""


@dataclass(frozen=True, slots=True)
class Recognised:
    """A line of the picture: its corners in pixels, clockwise from the top left, its text, and 0..1 how sure."""

    corners: tuple[tuple[float, float], ...]
    text: str
    sure: float

    @property
    def around(self) -> Box:
        xs, ys = [x for x, _ in self.corners], [y for _, y in self.corners]
        return (min(xs), min(ys), max(xs), max(ys))

    @property
    def upright(self) -> bool:
        x0, top, x1, bottom = self.around
        return len(self.text) < 3 or x1 - x0 >= bottom - top


@dataclass(slots=True)
class Picture:
    """The straightened picture in grey, its lines, and how it was turned (degrees, about its middle)."""

    grey: Any
    lines: list[Recognised]
    skew: float

    @classmethod
    def of(cls, pixels: Any, lines: Sequence[Recognised]) -> Picture:
        """pixels: height x width x 3, blue, green, red."""
        grey = cv2.cvtColor(pixels, cv2.COLOR_BGR2GRAY)
        lines = [line for line in lines if line.upright]
        skew = _skew(lines)
        if abs(skew) < _LEAST_SKEW:
            return cls(grey, lines, 0.0)
        height, width = grey.shape
        turn = cv2.getRotationMatrix2D((width / 2, height / 2), skew, 1.0)
        straight = cv2.warpAffine(grey, turn, (width, height), borderValue=255)
        turned = [
            Recognised(tuple(_turned(x, y, skew, width, height) for x, y in line.corners), line.text, line.sure)
            for line in lines
        ]
        return cls(straight, turned, skew)

    def as_it_lies(self, box: Box) -> Box:
        """A box of the straightened picture on the picture as it came."""
        if not self.skew:
            return box
        height, width = self.grey.shape
        corners = [_turned(x, y, -self.skew, width, height) for x in (box[0], box[2]) for y in (box[1], box[3])]
        xs, ys = [x for x, _ in corners], [y for _, y in corners]
        # A box that leans is wider than what it holds: keep its middle and its size.
        cx, cy = sum(xs) / 4, sum(ys) / 4
        half_x, half_y = (box[2] - box[0]) / 2, (box[3] - box[1]) / 2
        return (cx - half_x, cy - half_y, cx + half_x, cy + half_y)


def _turned(x: float, y: float, degrees: float, width: float, height: float) -> tuple[float, float]:
    """A point after the picture was turned anticlockwise by degrees about its middle."""
    c, s = math.cos(math.radians(degrees)), math.sin(math.radians(degrees))
    dx, dy = x - width / 2, y - height / 2
    return (width / 2 + c * dx + s * dy, height / 2 - s * dx + c * dy)


def _skew(lines: Sequence[Recognised]) -> float:
    """Degrees by which the lines fall to the right; 0 where they do not agree."""
    slopes = []
    for line in lines:
        (ax, ay), (bx, by) = line.corners[0], line.corners[1]
        if bx - ax > 8 * max(line.corners[3][1] - ay, 1.0):
            slopes.append(math.degrees(math.atan2(by - ay, bx - ax)))
    if len(slopes) < 3:
        return 0.0
    middle = median(slopes)
    agree = median(abs(s - middle) for s in slopes)
    return middle if abs(middle) <= _MOST_SKEW and agree < 0.5 else 0.0


class _Glyph(NamedTuple):
    """A character with its left and right edge in pixels."""

    text: str
    x0: float
    x1: float
    raised: bool


@dataclass(slots=True)
class _Line:
    """A line measured by its ink. Pixels of the straightened picture."""

    text: str
    sure: float
    box: tuple[int, int, int, int]
    mask: Any
    base: float
    size: float
    stroke: float
    bold: bool = False

    @property
    def words(self) -> list[str]:
        return self.text.split()


def characters_of(picture: Picture, shown: Shown, points: float, sizes: list[float]) -> list[Char]:
    """Characters of every line, with a blank between words.

    points: how many points a pixel is wide; sizes: the type sizes of the pages before, in points, added to.
    """
    lines = [m for line in picture.lines if (m := _measured(picture.grey, line)) is not None]
    _settle_signs(lines)
    _settle_sizes(lines, points, sizes)
    _settle_bases(lines)
    _settle_weight(lines)
    chars: list[Char] = []
    for order, line in enumerate(lines):
        style = Style("", line.size * points, line.bold, False, (0, 0, 0), 0, False)
        for text, x0, x1, raised in _placed(line):
            size = line.size * (_RAISED_SIZE if raised else 1.0)
            foot = line.base - (_RAISED_BY * line.size if raised else 0.0)
            base = shown((0.0, foot, 0.0, foot))[1]
            straight = (x0, foot - 0.78 * size, x1, foot + 0.22 * size)
            frame, box = shown(straight), shown(picture.as_it_lies(straight))
            chars.append(
                {
                    "text": text,
                    "x0": frame[0],
                    "top": frame[1],
                    "x1": frame[2],
                    "bottom": frame[3],
                    "box": box,
                    "size": size * points,
                    "base": base,
                    "bold": style.bold,
                    "style": style,
                    "order": order,
                    "raised": False,
                }
            )
    return chars


def plain(text: str) -> str:
    """The recogniser's spelling in the characters that sheets are printed in: one sign for a degree, no wide forms."""
    text = re.sub(r"°\s?(?=[℃℉])", "", text).replace("℃", "°C").replace("℉", "°F")
    text = text.translate(
        {ord("。"): ".", ord("、"): ",", ord("　"): " ", ord("一"): "–", ord("º"): "°", ord("˚"): "°"}
    )
    for glued in _GLUED:
        text = glued.sub(" ", text)
    wide = (unicodedata.normalize("NFKC", c) if "\uff01" <= c <= "\uff5e" else c for c in text)
    return " ".join("".join(wide).split())


def _settle_signs(lines: list[_Line]) -> None:
    """Where cells hold ticks, a cell with an x holds a cross, and so does the legend that explains both."""
    for line in lines:
        line.text = line.text.replace("√", "✓")
    if not any(line.text == "✓" for line in lines):
        return
    for line in lines:
        if line.text in ("x", "X", "×"):
            line.text = "✗"
        elif line.text.startswith("✓ "):
            line.text = re.sub(r"(?<= )[xX×](?= )", "✗", line.text)


def _measured(grey: Any, line: Recognised) -> _Line | None:
    height, width = grey.shape
    x0, top, x1, bottom = line.around
    box = (max(int(x0) - 2, 0), max(int(top) - 1, 0), min(int(x1) + 3, width), min(int(bottom) + 2, height))
    text = plain(line.text)
    if box[2] - box[0] < 4 or box[3] - box[1] < 4 or not text:
        return None
    mask = _ink(grey[box[1] : box[3], box[0] : box[2]])
    rows = mask.sum(axis=1).astype(float)
    if rows.max() <= 0:
        return None
    base, top_ink = _base(rows)
    tall = _CAPITAL if _ASCENDING.search(text) else _SMALL_LETTER
    size = (base - top_ink) / tall
    tallest = box[3] - box[1]
    if not 0.45 * tallest <= size <= 1.3 * tallest:
        size, base = 0.78 * tallest, 0.8 * tallest
    return _Line(text, line.sure, box, mask, box[1] + base, size, _stroke(mask))


def _ink(crop: Any) -> Any:
    """True where there is ink; light letters on dark paper are turned round; rules through the line are taken out."""
    _, light = cv2.threshold(crop, 0, 255, cv2.THRESH_BINARY + cv2.THRESH_OTSU)
    mask = light == 0
    if mask.mean() > 0.5:
        mask = ~mask
    mask = mask.copy()
    mask[mask.mean(axis=1) > 0.9, :] = False
    mask[:, mask.mean(axis=0) > 0.97] = False
    return mask


def _base(rows: Any) -> tuple[float, float]:
    """The row under the letters without descenders, and the row over the tallest."""
    inked = np.flatnonzero(rows >= max(2.0, 0.015 * rows.max()))
    if not len(inked):
        inked = np.flatnonzero(rows)
    first, last = int(inked[0]), int(inked[-1])
    start = first + max((last - first) // 2, 1)
    following = np.append(rows[1:], 0.0)
    fall = (rows - following)[start : last + 1]
    base = start + int(fall.argmax()) + 1 if len(fall) else last + 1
    return float(base), float(first)


def _stroke(mask: Any) -> float:
    """The usual width of a stroke in pixels, without the blur: the mean of the middle half of the runs of ink."""
    padded = np.pad(mask.astype(np.int8), ((0, 0), (1, 1)))
    steps = np.diff(padded, axis=1)
    runs = np.sort(np.argwhere(steps == -1)[:, 1] - np.argwhere(steps == 1)[:, 1])
    middle = runs[len(runs) // 4 : max(len(runs) * 3 // 4, 1)]
    return max(float(middle.mean()) - _BLUR, 0.0) if len(middle) else 0.0


def _settle_sizes(lines: list[_Line], points: float, known: list[float]) -> None:
    """Give lines of nearly one size the same: measured ink is never twice the same.

    known has the sizes of earlier pages in points, and takes this page's.
    """
    _correct_by_width(lines)
    worded = sorted((m for m in lines if len(m.text) >= _SHORT), key=lambda m: m.size)
    group: list[_Line] = []
    for line in [*worded, None]:
        if group and (line is None or line.size > (1 + _SAME_SIZE) * group[-1].size):
            usual = median(m.size for m in group for _ in range(max(len(m.text), 1))) * points
            size = min(known, key=lambda k: abs(k - usual), default=usual)
            if abs(size - usual) > _SAME_SIZE * usual:
                size = usual
            if size not in known:
                known.append(size)
            for member in group:
                member.size = size / points
            group = []
        if line is not None:
            group.append(line)
    if worded:
        body = median(m.size for m in worded for _ in range(len(m.text)))
        for line in lines:
            # Cells of a word or two are the least surely measured: a rule beside them counts as ink.
            if _is_sign(line.text) or (len(line.text) < _SHORT and 0.6 * body < line.size < 1.6 * body):
                line.size = body


def _correct_by_width(lines: list[_Line]) -> None:
    """Where a line's height (with what a neighbour's ink adds to it) and its width disagree, its width is right."""
    by_width = {id(m): _inked_width(m) / sum(_width(c) for c in m.text) for m in lines}
    ratios = [m.size / by_width[id(m)] for m in lines if len(m.text) >= 2 * _SHORT and by_width[id(m)] > 0]
    if not ratios:
        return
    usual = median(ratios)
    for line in lines:
        expected = usual * by_width[id(line)]
        if len(line.text) >= _SHORT and not 0.72 * line.size < expected < 1.4 * line.size:
            line.size = expected


def _inked_width(line: _Line) -> float:
    columns = np.flatnonzero(line.mask.any(axis=0))
    return float(columns[-1] - columns[0] + 1)


def _is_sign(text: str) -> bool:
    """A tick, a cross, a dash by itself: its height says nothing of the type's."""
    return len(text) == 1 and not text.isdigit()


def _settle_bases(lines: list[_Line]) -> None:
    """Give neighbours of one printed line the same baseline."""
    group: list[_Line] = []
    for line in [*sorted(lines, key=lambda m: m.base), None]:
        if group and (line is None or line.base - group[0].base > _SAME_BASE * min(line.size, group[0].size)):
            usual = median(m.base for m in group)
            for member in group:
                member.base = usual
            group = []
        if line is not None:
            group.append(line)


def _settle_weight(lines: list[_Line]) -> None:
    weights = [m.stroke / m.size for m in lines for _ in range(len(m.text))]
    if not weights:
        return
    usual = median(weights)
    for line in lines:
        line.bold = line.stroke / line.size > _BOLDER * usual


def _placed(line: _Line) -> list[_Glyph]:
    """Each character with its edges, a blank after each word but the last, and whether it stands raised."""
    out: list[_Glyph] = []
    spans = _word_spans(line)
    for n, (word, (x0, x1)) in enumerate(zip(line.words, spans, strict=True)):
        raised = _last_raised(line, word, x0, x1, first=n == 0)
        widths = [_width(c) for c in word]
        if raised:
            widths[-1] *= _RAISED_SIZE
        step = (x1 - x0) / sum(widths)
        at = x0
        for i, (char, width) in enumerate(zip(word, widths, strict=True)):
            out.append(_Glyph(char, at, at + width * step, raised and i == len(word) - 1))
            at += width * step
        if n + 1 < len(spans):
            out.append(_Glyph(" ", x1, min(spans[n + 1][0], x1 + _SPACE * line.size), False))
    return out


def _last_raised(line: _Line, word: str, x0: float, x1: float, *, first: bool) -> bool:
    """Whether a word ends in a footnote's mark, by where the ink of its last glyph ends."""
    marks = word[-1] in "123456789*" and (word[-2:-1].isalpha() or word[-2:-1] in ")." or (first and len(word) == 1))
    if not marks or (first and len(word) == 1 and len(line.words) < 2):
        return False
    columns = line.mask[:, int(x0) - line.box[0] : int(x1) - line.box[0] + 1]
    gaps = np.flatnonzero(~columns.any(axis=0))
    inner = gaps[gaps < columns.shape[1] - 2]
    glyph = columns[:, int(inner[-1]) + 1 :] if len(inner) else columns
    if glyph.shape[1] > 0.5 * line.size:
        return False
    rows = np.flatnonzero(glyph.any(axis=1))
    return len(rows) > 0 and float(rows[-1]) + line.box[1] < line.base - 0.2 * line.size


def _word_spans(line: _Line) -> list[tuple[float, float]]:
    """Left and right edge of each word: by the widest gaps in the ink, or by the letters' usual widths."""
    left = line.box[0]
    columns = np.flatnonzero(line.mask.any(axis=0))
    start, end = float(columns[0]), float(columns[-1] + 1)
    words = line.words
    usual = _usual_spans(words, start, end)
    gaps = np.diff(columns)
    wide = np.argsort(gaps)[::-1][: len(words) - 1]
    edges = sorted((float(columns[i] + 1), float(columns[i + 1])) for i in wide if gaps[i] > 0.1 * line.size)
    spans = usual
    if len(edges) == len(words) - 1:
        starts = [start, *(b for _, b in edges)]
        ends = [*(a for a, _ in edges), end]
        found = list(zip(starts, ends, strict=True))
        if all(_fits(f, word, line.size) for f, word in zip(found, words, strict=True)):
            spans = found
    return [(left + a, left + b) for a, b in spans]


def _fits(span: tuple[float, float], word: str, size: float) -> bool:
    expected = sum(_width(c) for c in word) * size
    return 0.45 * expected <= span[1] - span[0] <= 2.2 * expected


def _usual_spans(words: Sequence[str], start: float, end: float) -> list[tuple[float, float]]:
    total = sum(_width(c) for c in " ".join(words))
    step = (end - start) / total
    spans = []
    at = start
    for word in words:
        wide = sum(_width(c) for c in word) * step
        spans.append((at, at + wide))
        at += wide + _width(" ") * step
    return spans


def _width(char: str) -> float:
    """The usual width of a character as a share of the type size (from memory of common sans serifs)."""
    if char in " .,:;'|!iIjl·":
        return 0.27
    if char in 'tfr()[]{}/\\-°*"':
        return 0.34
    if char in "mwMW@%—":
        return 0.86
    return 0.68 if char.isupper() else 0.55


__all__ = ["Picture", "Recognised", "Shown", "characters_of", "plain"]
