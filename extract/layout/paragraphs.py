"""Lines of a region -> paragraphs, and what each is: heading, list item, small print or text."""

from __future__ import annotations

import itertools
import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from enum import StrEnum
from statistics import median

from extract.layout.ink import Ink, ink_of_line, join_lines
from extract.layout.order import Region
from extract.layout.pieces import CROSSES, DASHES, ITEM_NUMBER, TICKS, Segment

_NUMBERED = re.compile(r"^(\d{1,2}(?:\.\d{1,2})*)[.)]?\s+[^\W\d_a-zäöüéèñß]")
_SHORTENED = re.compile(r"(?<![A-Z])(?:[A-Z]\.){2,}$")
"""'R.H.', 'D.F.T.': a stop that ends no sentence."""
_SENTENCE_END = re.compile(r"[.!?:;…]['\"”’)\]]*$")
_LONGEST_LIST_HEAD = 6
"""Words, the sign among them."""


class ParagraphKind(StrEnum):
    TEXT = "text"
    HEADING = "heading"
    BULLET = "bullet"
    CAPTION = "caption"
    """Short figures that stand together, a line each: an icon's caption."""


@dataclass(slots=True)
class Line:
    """A printed line within its column."""

    words: list[Segment]
    number: int

    @property
    def first(self) -> Segment:
        return self.words[0]

    @property
    def page(self) -> int:
        return self.first.page

    @property
    def x0(self) -> float:
        return self.first.x0

    @property
    def x1(self) -> float:
        return self.words[-1].x1

    @property
    def base(self) -> float:
        return self.first.base

    @property
    def size(self) -> float:
        return max(self.words, key=lambda s: len(s.text)).size

    @property
    def bold(self) -> bool:
        return all(s.bold for s in self.words)

    @property
    def text(self) -> str:
        return " ".join(s.text for s in self.words)

    @property
    def bullet(self) -> str:
        return self.first.bullet

    @property
    def text_x0(self) -> float:
        """Where the text of a list item begins."""
        words = [w for s in self.words for w in s.words]
        return words[1].x0 if self.bullet and not self.first.dotted and len(words) > 1 else self.x0

    def ink(self) -> Ink:
        return ink_of_line([w for s in self.words for w in s.words], self.page, self.number)


HeadingStyle = tuple[float, int, bool, bool]
"""Of a heading: its size, its place (2 in a filled bar, 1 hung in the margin, 0 elsewhere), capitals, bold."""


@dataclass(slots=True)
class Paragraph:
    kind: ParagraphKind
    lines: list[Line]
    mark: str = ""
    indent: float = 0.0
    hangs: bool = False
    """Of a numbered list item: what goes on below is set in from the number."""
    label: Paragraph | None = None
    """The short bold line over it that names it, in a box of figures."""
    boxed: bool = False
    scope: int = 0
    """The table that it is a part of where its rows or columns are read as texts under heads; 0 elsewhere."""
    ends_region: bool = False
    narrow: bool = False
    style: HeadingStyle = (0.0, 0, False, False)

    @property
    def page(self) -> int:
        return self.lines[0].page

    @property
    def size(self) -> float:
        return max(line.size for line in self.lines)

    @property
    def bold(self) -> bool:
        return all(line.bold for line in self.lines)

    @property
    def text(self) -> str:
        return " ".join(line.text for line in self.lines)

    def ink(self, known: frozenset[str], by: str = " ") -> Ink:
        """The whole text; the mark of a list item left out."""
        ink = join_lines((line.ink() for line in self.lines), known, by)
        if self.kind is ParagraphKind.BULLET and ink.text.startswith(self.mark):
            ink = ink.part(len(self.mark))
        return ink


@dataclass(slots=True)
class Style:
    """What is usual on a sheet: the size and colour of its running text."""

    size: float
    color: tuple[int, int, int] = (0, 0, 0)
    colors: frozenset[tuple[int, int, int]] = field(default_factory=frozenset)


def lines_of(segments: Iterable[Segment]) -> list[Line]:
    """Segments of one column gathered into printed lines. Their glyphs carry the line's number."""
    lines: list[Line] = []
    for segment in segments:
        last = lines[-1] if lines else None
        if (
            last is not None
            and last.page == segment.page
            and not segment.angle
            and abs(last.base - segment.base) <= 0.3 * max(segment.size, last.first.size)
            and segment.x0 >= last.x1 - 1
            and not last.first.barred
        ):
            segment.line = last.number
            last.words.append(segment)
        else:
            lines.append(Line([segment], segment.line))
    return lines


def paragraphs_of(region: Region, segments: Sequence[Segment], style: Style) -> list[Paragraph]:
    """The paragraphs of consecutive segments of a region, classified."""
    lines = lines_of(segments)
    if not lines:
        return []
    leading = _leading(lines)
    right = max(line.x1 for line in lines)
    marks = _list_marks(lines)
    hangs = _hang(lines)
    groups: list[Paragraph] = []
    for line in lines:
        mark = _mark_of(line, marks)
        last = groups[-1] if groups else None
        if mark:
            groups.append(Paragraph(ParagraphKind.BULLET, [line], mark, line.x0, hangs))
        elif last is not None and not _begins_new(last, line, leading, right):
            last.lines.append(line)
        else:
            groups.append(Paragraph(ParagraphKind.TEXT, [line], indent=line.x0))
    _head_lists(groups)
    for n, paragraph in enumerate(groups):
        paragraph.boxed = region.boxed
        if paragraph.kind is ParagraphKind.TEXT and _is_heading(paragraph, groups, n, style):
            paragraph.kind = ParagraphKind.HEADING
            paragraph.style = heading_style(paragraph)
    return groups


def _head_lists(groups: Sequence[Paragraph]) -> None:
    """A bold line with a sign (a tick, a cross) over a list with signs of its own is that list's heading."""
    for paragraph, below in itertools.pairwise(groups):
        told = paragraph.kind is ParagraphKind.BULLET and paragraph.bold and not paragraph.text.endswith(".")
        listed = below.kind is ParagraphKind.BULLET and below.mark != paragraph.mark and not below.bold
        if told and listed and len(paragraph.lines) == 1 and len(paragraph.text.split()) <= _LONGEST_LIST_HEAD:
            paragraph.kind, paragraph.mark = ParagraphKind.HEADING, ""
            paragraph.style = heading_style(paragraph)


def _leading(lines: Sequence[Line]) -> float:
    """The usual step between lines, as a share of the size."""
    steps = [
        (b.base - a.base) / b.size
        for a, b in itertools.pairwise(lines)
        if a.page == b.page and 0.9 * b.size < b.base - a.base < 1.7 * b.size and abs(a.size - b.size) < 0.3
    ]
    if not steps:
        return 1.3
    steps.sort()
    return steps[len(steps) // 4] if len(steps) > 3 else median(steps[: max(1, len(steps))])


def _list_marks(lines: Sequence[Line]) -> set[tuple[str, int]]:
    """Dashes, stars and letters that open several lines at one indent: list marks, not text."""
    seen: dict[tuple[str, int], int] = {}
    for line in lines:
        if line.bullet in DASHES:
            key = (line.bullet, round(line.x0 / 3))
            seen[key] = seen.get(key, 0) + 1
    return {key for key, times in seen.items() if times >= 2 or key[0] in "-–—*"}


def _mark_of(line: Line, marks: set[tuple[str, int]]) -> str:
    bullet = line.bullet
    words = [w.text for s in line.words for w in s.words]
    if bullet and len(words) > 2 and words[0] == bullet and words[1] in TICKS | CROSSES:
        return f"{bullet} {words[1]}"  # a bullet before the tick that tells
    if bullet and bullet not in DASHES:
        signs = {w.text for segment in line.words for w in segment.words if w.text in TICKS | CROSSES}
        return bullet if len(signs) < 2 else ""  # several signs on a line: a legend
    if bullet and (bullet, round(line.x0 / 3)) in marks:
        return bullet
    first = line.first.words[0].text
    printed = [w for s in line.words for w in s.words]
    if len(printed) > 2 and ITEM_NUMBER.match(first) and not line.bold and not printed[0].raised:
        return first
    return ""


def _begins_new(last: Paragraph, line: Line, leading: float, right: float) -> bool:
    above = last.lines[-1]
    if line.page != above.page or line.first.barred or above.first.barred:
        return not (line.first.barred and above.first.barred and line.page == above.page)
    step = line.base - above.base
    if abs(line.size - above.size) > 0.06 * max(line.size, above.size):
        return True
    introduced = above.text.rstrip().endswith(":") and line.text[:1].islower() and not (line.bold or above.bold)
    if introduced and 0 < step <= (leading * 1.5 + 0.3) * line.size and last.kind is ParagraphKind.TEXT:
        return False
    if step <= 0 or step > (leading * 1.16 + 0.12) * line.size:
        return True
    if last.kind is ParagraphKind.BULLET:
        if _stands_out(last, line) and (last.hangs or (_fits_above(above, line, right) and line.text[:1].isupper())):
            return True
        start = last.lines[0].text_x0
        if line.x0 >= start - 3:
            return _fits_above(above, line, right) and _SENTENCE_END.search(above.text) is not None
        return not (line.x0 >= last.indent - 1 and line.text[:1].islower() and not _fits_above(above, line, right))
    if line.bold != above.bold and (line.bold or _is_short_bold(last)):
        return True
    if line.first.color != above.first.color and line.bold and above.bold:
        return True
    if line.x0 > last.lines[0].x0 + 0.9 * line.size and len(last.lines) > 1 and abs(above.x0 - last.lines[0].x0) < 1:
        return True
    unfinished = not _SENTENCE_END.search(above.text)
    if unfinished and (line.text[:1].islower() or line.text[:1] in "×°%±/≤≥"):
        return False
    if line.text[:1].isdigit() and unfinished and above.x1 - above.x0 > 0.75 * (right - last.lines[0].x0):
        return False
    return _fits_above(above, line, right) and not _centred(above, line)


def _hang(lines: Sequence[Line]) -> bool:
    """Whether what goes on below a numbered item begins under its text and not under its number."""
    return any(
        len(words := above.words[0].words) > 1
        and ITEM_NUMBER.match(words[0].text) is not None
        and abs(below.x0 - words[1].x0) <= 3
        and below.text[:1].islower()
        for above, below in itertools.pairwise(lines)
    )


def _stands_out(item: Paragraph, line: Line) -> bool:
    """Whether a line begins under the number of a list item, left of where its text begins."""
    words = item.lines[0].words[0].words
    numbered = len(words) > 1 and ITEM_NUMBER.match(words[0].text) is not None
    return numbered and line.x0 < words[1].x0 - 3


def _is_short_bold(paragraph: Paragraph) -> bool:
    return paragraph.bold and not paragraph.lines[-1].text.endswith(",")


def _fits_above(above: Line, line: Line, right: float) -> bool:
    """Whether the line's first word would have fitted on the line above: then that one was ended on purpose."""
    word = line.first.words[0]
    return above.x1 + 0.3 * line.size + (word.x1 - word.x0) < right - 0.6 * line.size


def _centred(above: Line, line: Line) -> bool:
    return abs((above.x0 + above.x1) - (line.x0 + line.x1)) < 2 and abs(above.x0 - line.x0) > 3


def _is_heading(paragraph: Paragraph, around: Sequence[Paragraph], at: int, style: Style) -> bool:
    text = paragraph.text
    first = paragraph.lines[0].first
    words = text.split()
    if first.barred:
        return True
    if len(paragraph.lines) > 2 or len(words) > 14 or not any(c.isalpha() for c in text):
        return False
    if text.endswith((".", ",", ";")) and not _NUMBERED.match(text) and not _SHORTENED.search(text):
        return False
    if paragraph.size >= 1.12 * style.size and len(words) <= 12:
        return True
    if paragraph.size < 0.9 * style.size:
        return False
    letters = [c for c in text if c.isalpha()]
    caps = len(letters) >= 4 and sum(c.isupper() for c in letters) >= 0.9 * len(letters)
    if text.endswith(":"):
        return caps and paragraph.bold
    follows = around[at + 1] if at + 1 < len(around) else None
    if paragraph.bold and len(words) <= 10:
        return follows is None or not follows.bold or follows.size < paragraph.size or len(paragraph.lines) == 1
    coloured = first.color not in style.colors and first.color != style.color
    if coloured and len(words) <= 10:
        return True
    if caps and len(words) <= 8 and len(letters) >= 5:
        return True
    numbered = bool(_NUMBERED.match(text)) and next(c for c in text if c.isalpha()).isupper()
    return numbered and len(words) <= 7 and len(paragraph.lines) == 1 and "." not in text[3:]


def heading_style(paragraph: Paragraph) -> HeadingStyle:
    """What ranks a heading among others."""
    letters = [c for c in paragraph.text if c.isalpha()]
    caps = bool(letters) and sum(c.isupper() for c in letters) >= 0.9 * len(letters)
    first = paragraph.lines[0].first
    place = (2 if first.reach is not None else 1) if first.barred else 0
    return (round(paragraph.size * 2) / 2, place, caps, paragraph.bold)


def usual_style(segments: Iterable[Segment]) -> Style:
    """The size and colours that most characters of the sheet have."""
    sizes: dict[float, int] = {}
    colors: dict[tuple[int, int, int], int] = {}
    for segment in segments:
        length = len(segment.text)
        if not segment.bold and not segment.angle:
            sizes[round(segment.size, 1)] = sizes.get(round(segment.size, 1), 0) + length
            colors[segment.color] = colors.get(segment.color, 0) + length
    if not sizes:
        return Style(10.0)
    total = sum(colors.values())
    common = frozenset(c for c, n in colors.items() if n > 0.06 * total)
    return Style(max(sizes, key=lambda s: sizes[s]), max(colors, key=lambda c: colors[c]), common)
