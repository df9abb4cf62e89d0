"""What a page is laid out from: segments of lines, tables found, boxes with text of their own."""

from __future__ import annotations

import itertools
import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, replace

from extract.claims import Box
from extract.document import union
from extract.layout.ink import Ink, ink_of_line
from extract.layout.justified import evenly_spaced
from extract.layout.leaders import without_leaders
from extract.reading.pages import Page
from extract.reading.words import PrintedLine, Word

BULLETS = frozenset("•●○◦▪■□❑◆❖➢➔→⇨✓✔✗✘✕✖☑☒×‣∙·►▶⬤❏❍")
DASHES = frozenset({"-", "–", "—", "*", "+", "o", "x", "X"})
"""Signs that open a list item only where a word follows after a gap."""
_DOTS = frozenset("•·∙◦▪‣")
ITEM_NUMBER = re.compile(r"^(?:\d{1,2}[.)]|[a-z]\)|\(\w\))$")
_SIGN_REACH = 4.0
"""Times the size: how far before its text a bullet stands."""
_LEAST_ITEM = 4
"""Words of a list item beside which other parts stand on its line."""
TICKS = frozenset("✓✔☑√")
CROSSES = frozenset("✗✘✕✖☒×")


@dataclass(slots=True)
class Segment:
    """A stretch of one printed line without a wide gap. line is its number in the document, once given."""

    words: list[Word]
    page: int
    x0: float
    top: float
    x1: float
    bottom: float
    base: float
    size: float
    line: int = 0
    angle: int = 0
    barred: bool = False
    """A heading by its place: in a filled bar of its own, or hanging in the margin beside its text."""
    reach: tuple[float, float] | None = None
    """The bar's left and right edge: how far a heading spans."""
    dotted: bool = False
    """A drawn dot, not a character, opens a list item here."""
    led: bool = False
    """A run of dots or an underline led to it from what stands left of it."""
    text: str = field(init=False, compare=False)
    bold: bool = field(init=False, compare=False)

    def __post_init__(self) -> None:
        words = self.words  # never changed: another stretch of words is another segment
        self.text = " ".join([w.text for w in words])
        self.bold = any(w.bold for w in words) and all(w.bold for w in words if any(map(str.isalnum, w.text)))

    @property
    def box(self) -> Box:
        return (self.x0, self.top, self.x1, self.bottom)

    @property
    def ink_top(self) -> float:
        """Top of the small letters' reach, free of the font's own leading."""
        return self.top if self.angle else self.base - 0.72 * self.size

    @property
    def ink_bottom(self) -> float:
        return self.bottom if self.angle else self.base + 0.12 * self.size

    @property
    def italic(self) -> bool:
        return all(w.italic for w in self.words)

    @property
    def color(self) -> tuple[int, int, int]:
        return max(self.words, key=lambda w: len(w.text)).color

    @property
    def bullet(self) -> str:
        """The sign that opens a list item here, else ''."""
        first = self.words[0].text
        if self.dotted:
            return first if first in TICKS | CROSSES and len(self.words) > 1 else "•"
        if first == "×" and len(self.words) > 1 and self.words[1].text[:1].isdigit():
            return ""  # a measure broken at a line's end, 10 × 10 cm
        if len(first) == 1 and (first in BULLETS or (first in DASHES and len(self.words) > 1)):
            return first
        if first[0] in BULLETS and first[0] not in "×→·" and len(first) > 1 and first[1].isalpha():
            return first[0]
        return ""

    def ink(self) -> Ink:
        return ink_of_line(self.words, self.page, self.line)


@dataclass(slots=True)
class GridCell:
    """A cell over rows row to row_end and columns column to column_end (ends not included)."""

    row: int
    row_end: int
    column: int
    column_end: int
    segments: list[Segment] = field(default_factory=list)
    fill: tuple[int, int, int] | None = None

    @property
    def empty(self) -> bool:
        return not self.segments


@dataclass(slots=True)
class Grid:
    """A table as printed: cells over rows and columns. ruled says that lines, not gaps, made it."""

    page: int
    box: Box
    rows: int
    columns: int
    cells: list[GridCell]
    ruled: bool
    edges: tuple[float, ...] = ()
    """Left edges of the columns and the right edge of the last."""
    head_rows: int = 0
    """How many rows a rule of their own parts as heads from the rest; 0 where none does."""
    boxed: bool = False
    """It stands in a drawn box with a flow of its own."""
    scope: int = 0
    """As a Paragraph's."""

    @property
    def ink_top(self) -> float:
        return self.box[1]

    @property
    def ink_bottom(self) -> float:
        return self.box[3]

    @property
    def x0(self) -> float:
        return self.box[0]

    @property
    def x1(self) -> float:
        return self.box[2]

    def at(self, row: int, column: int) -> GridCell | None:
        for cell in self.cells:
            if cell.row <= row < cell.row_end and cell.column <= column < cell.column_end:
                return cell
        return None

    def row_cells(self, row: int) -> list[GridCell]:
        return [c for c in self.cells if c.row <= row < c.row_end]


@dataclass(slots=True)
class Boxed:
    """A drawn box with a text flow of its own (a sidebar, a warning)."""

    page: int
    box: Box
    content: list[Element]

    @property
    def ink_top(self) -> float:
        return self.box[1]

    @property
    def ink_bottom(self) -> float:
        return self.box[3]

    @property
    def x0(self) -> float:
        return self.box[0]

    @property
    def x1(self) -> float:
        return self.box[2]


Element = Segment | Grid | Boxed


def segments_of(page: Page, lines: Iterable[PrintedLine]) -> list[Segment]:
    """The lines cut at wide gaps. A bullet stays with the text that it opens."""
    out: list[Segment] = []
    uprights = [r for r in page.marks.rules if not r.level]
    for line in lines:
        first = len(out)
        start = 0
        words, led = (line.words, []) if line.angle else without_leaders(line.words)
        middle = line.base - 0.3 * line.size
        rules = [] if line.angle else [r.x0 for r in uprights if r.top <= middle <= r.bottom]
        even = evenly_spaced(words)
        for i in range(1, len(words)):
            gap = words[i].x0 - words[i - 1].x1
            narrow = max(
                0.95 * max(words[i].size, words[i - 1].size), 4 * min(words[i].tracking, words[i - 1].tracking)
            )
            if (gap <= narrow or i in even) and i not in led and not _crosses_rule(words[i - 1], words[i], rules):
                continue
            opens = i == start + 1 and i not in led and _opens_item(words[start], words[i])
            if opens and not _crosses_rule(words[i - 1], words[i], rules):
                continue
            out.append(_segment(words[start:i], page, line, start in led))
            start = i
        out.append(_segment(words[start:], page, line, start in led))
        if len(out) - first > 1 and _numbers_item(out[first:]):
            out[first : first + 2] = [merged(out[first], out[first + 1])]
    out = _with_lone_signs(out)
    for segment in out:
        if not segment.angle and page.marks.dots:
            segment.dotted = _has_dot(segment, page.marks.dots)
    return out


def _with_lone_signs(segments: list[Segment]) -> list[Segment]:
    """Segments with each bullet that stands off its line, in a type of its own, put before the text that it opens."""
    lone = [s for s in segments if not s.angle and len(s.words) == 1 and s.text in _DOTS]
    taken: set[int] = set()
    opened: dict[int, Segment] = {}
    for sign in lone:
        beside = [
            s
            for s in segments
            if not s.angle
            and s.text not in BULLETS
            and abs(s.base - sign.base) <= 0.5 * s.size
            and 0 < s.x0 - sign.x1 < _SIGN_REACH * s.size
        ]
        text = min(beside, key=lambda s: s.x0, default=None)
        if text is None or id(text) in opened:
            continue
        if abs(text.base - sign.base) < 0.02 * text.size and abs(text.size - sign.size) < 0.02 * text.size:
            continue  # of the line's own type: a table's sign
        taken.add(id(sign))
        opened[id(text)] = merged(sign, text)
        opened[id(text)].base, opened[id(text)].size, opened[id(text)].line = text.base, text.size, text.line
    return [opened.get(id(s), s) for s in segments if id(s) not in taken]


def _numbers_item(parts: Sequence[Segment]) -> bool:
    """Whether a line's first part is the number of the list item that the second one is."""
    number, text = parts[0], parts[1]
    if len(number.words) > 1 or not ITEM_NUMBER.match(number.text) or text.x0 - number.x1 > 5.0 * text.size:
        return False
    return number.angle == 0 and not text.led and (len(parts) == 2 or len(text.words) >= _LEAST_ITEM)


def _opens_item(sign: Word, word: Word) -> bool:
    """Whether a sign that stands alone opens the item that begins with word: signs side by side are a table's."""
    if len(sign.text) != 1 or sign.text not in BULLETS | DASHES:
        return False
    if len(word.text) == 1 and word.text in BULLETS | DASHES:
        return False
    reach = 2.5 if sign.text.isalpha() else 5.0
    return word.x0 - sign.x1 < reach * word.size


def _has_dot(segment: Segment, dots: Sequence[Box]) -> bool:
    for x0, top, x1, bottom in dots:
        beside = 1.0 <= segment.x0 - x1 <= 2.2 * segment.size and x1 - x0 < 0.75 * segment.size
        if beside and segment.base - 0.75 * segment.size <= (top + bottom) / 2 <= segment.base:
            return True
    return False


def split_signs(rows: Iterable[list[Segment]], left: float) -> list[list[Segment]]:
    """Rows of a table in which a tick or cross stands apart from the cell to its right.

    Elsewhere such a sign opens a list item; so does one at the table's left edge.
    """
    out: list[list[Segment]] = []
    for row in rows:
        parts: list[Segment] = []
        for segment in row:
            words = segment.words
            if segment.x0 < left + 30:
                parts.append(segment)
                continue
            lone = len(words) > 1 and words[0].text in TICKS | CROSSES | {"●", "○", "•", "–", "-"}
            if lone and words[1].x0 - words[0].x1 > 0.95 * words[1].size:
                parts.extend((part_of(segment, words[:1]), part_of(segment, words[1:])))
            else:
                parts.append(segment)
        out.append(parts)
    return out


def merged(left: Segment, right: Segment) -> Segment:
    """One segment of two of a line; its number is that of the left one."""
    return replace(
        left,
        words=[*left.words, *right.words],
        x1=max(left.x1, right.x1),
        top=min(left.top, right.top),
        bottom=max(left.bottom, right.bottom),
    )


def part_of(segment: Segment, words: list[Word]) -> Segment:
    """A segment of some of its words."""
    top, bottom = min(w.top for w in words), max(w.bottom for w in words)
    x0, x1 = words[0].x0, max(w.x1 for w in words)
    return replace(segment, words=words, x0=x0, x1=x1, top=top, bottom=bottom, base=words[0].base, size=words[0].size)


def _crosses_rule(left: Word, right: Word, rules: Sequence[float]) -> bool:
    """Whether one of the upright rules at these places stands between two words of a line."""
    if not rules or right.x0 - left.x1 < 2:
        return False
    return any(left.x1 - 0.5 <= x <= right.x0 + 0.5 for x in rules)


def _segment(words: Sequence[Word], page: Page, line: PrintedLine, led: bool) -> Segment:
    if line.angle:
        box = words[0].box
        for word in words[1:]:
            box = union(box, word.box)
    else:
        box = (words[0].x0, min(w.top for w in words), max(w.x1 for w in words), max(w.bottom for w in words))
    plain = [w for w in words if not w.raised] or list(words)
    longest = max(plain, key=lambda w: len(w.text))
    base = longest.base if not line.angle else box[3]
    size = max(plain, key=lambda w: (len(w.text) > 1, w.size)).size
    return Segment(list(words), page.number, box[0], box[1], box[2], box[3], base, size, angle=line.angle, led=led)


def extent(element: Element) -> tuple[float, float]:
    """How far an element reaches from left to right, a heading's bar included."""
    if isinstance(element, Segment) and element.reach is not None:
        return element.reach
    return element.x0, element.x1


def bounds(elements: Iterable[Element]) -> Box:
    """The box around elements, by their ink. Raises ValueError where there are none."""
    items = list(elements)
    return (
        min(e.x0 for e in items),
        min(e.ink_top for e in items),
        max(e.x1 for e in items),
        max(e.ink_bottom for e in items),
    )


def inside(segment: Segment, box: Box, slack: float = 1.0) -> bool:
    """Whether the middle of a segment lies in box."""
    # Asked of every segment for every cell, so it looks no further than it must.
    if not box[0] - slack <= (segment.x0 + segment.x1) / 2 <= box[2] + slack:
        return False
    return box[1] - slack <= (segment.ink_top + segment.ink_bottom) / 2 <= box[3] + slack


def strips(elements: Sequence[Element]) -> list[list[Element]]:
    """Elements grouped into bands that no level cut can divide, top to bottom."""
    ordered = sorted(elements, key=lambda e: (e.ink_top, e.x0))
    out: list[list[Element]] = []
    reach = float("-inf")
    for element in ordered:
        if out and element.ink_top < reach - 0.5:
            out[-1].append(element)
        else:
            out.append([element])
        reach = max(reach, element.ink_bottom) if len(out[-1]) > 1 else element.ink_bottom
    return out


def gaps_between(intervals: Iterable[tuple[float, float]], least: float) -> list[tuple[float, float]]:
    """The gaps of at least that width between intervals."""
    ordered = sorted(intervals)
    merged: list[list[float]] = []
    for x0, x1 in ordered:
        if merged and x0 <= merged[-1][1]:
            merged[-1][1] = max(merged[-1][1], x1)
        else:
            merged.append([x0, x1])
    return [(a[1], b[0]) for a, b in itertools.pairwise(merged) if b[0] - a[1] >= least]
