"""The headings that govern what is being read, and when each of them ceases to."""

from __future__ import annotations

from dataclasses import dataclass

from extract.document import Passage, Section
from extract.layout.paragraphs import Paragraph, ParagraphKind
from extract.layout.pieces import Grid

_BACK = 60.0
"""Points: what begins so far left of a heading, and of the text under it, stands in no column of its."""
_UNDER_BAR = 30.0
"""Points between the words in a bar and the first ones of the box beneath it."""
_FLUSH = 14.0
"""Points between the left edges of a heading and of the text under it."""


@dataclass(slots=True)
class _Heading:
    level: int
    passage: Passage
    page: int
    x0: float
    bottom: float
    own: float | None = None
    """Where the first thing under it begins."""
    bar: tuple[float, float] | None = None
    """The left and right edge of the filled bar that it stands in."""


class Trail:
    """The headings over the item at hand, outermost first.

    settle() hands back a heading that said all by itself: the next one replaced it, or its box or table ended,
    with nothing under it.
    """

    def __init__(self) -> None:
        self._entries: list[_Heading] = []
        self._outer: list[_Heading] | None = None
        self._fresh_box = False
        self._scope = 0
        self._before_scope: list[_Heading] = []
        self._waiting: tuple[int, int] | None = None
        """Level of the last heading, and how many blocks there were when it came."""

    @property
    def section(self) -> Section:
        return Section(tuple(entry.passage for entry in self._entries))

    def ends(self, item: Paragraph | Grid, title: float) -> bool:
        """Whether a box or a table read as texts ends, or a box begins, with this item; no box ends a title's reach.

        title is the least size of a title.
        """
        boxed = item.boxed != (self._outer is not None) and not (item.boxed and isinstance(item, Grid))
        if item.boxed and self._entries and self._entries[-1].passage.size >= title:
            boxed = False
        if item.boxed and self._is_capped(item):
            boxed = False
        return boxed or (item.scope != self._scope and self._scope > 0)

    def move_to(self, item: Paragraph | Grid, title: float) -> None:
        """Leave the boxes and tables that end here, enter those that begin, and pass by headings of other columns.

        A title, of that size or more, that stands in the first box governs what comes after it as well.
        """
        if item.scope != self._scope and self._scope:
            self._entries, self._scope = self._before_scope, 0
        if item.boxed and self._outer is None:
            self._outer = list(self._entries)
            self._fresh_box = not self._is_capped(item)
        elif not item.boxed and self._outer is not None:
            titles = [e for e in self._entries if e.passage.size >= title] if not self._outer else []
            self._entries, self._outer = self._outer or titles, None
        if item.scope != self._scope:
            self._before_scope, self._scope = list(self._entries), item.scope
        page, x0, top = _place(item)
        self._entries = [e for e in self._entries if not _stands_aside(e, page, x0, top)]
        if isinstance(item, Paragraph) and item.kind is ParagraphKind.HEADING:
            return
        for entry in self._entries:
            if entry.own is None:
                entry.own = x0

    def _is_capped(self, item: Paragraph | Grid) -> bool:
        """Whether the last heading is a bar that closes the top of the box in which an item comes first."""
        last = self._entries[-1] if self._entries else None
        page, x0, top = _place(item)
        if last is None or last.bar is None or last.own is not None or page != last.page:
            return False
        return last.bar[0] - 2 <= x0 <= last.bar[1] and 0 < top - last.bottom < _UNDER_BAR

    def settle(self, level: int, said: int) -> Passage | None:
        """Take out the last heading if one of this level replaces it and no block came since; said counts blocks."""
        if self._waiting is None or not self._entries:
            return None
        above, before = self._waiting
        self._waiting = None
        return self._entries.pop().passage if level <= above and said == before else None

    def leave_section(self, title: float) -> None:
        """A box with a heading of its own stands beside the section: only headings of at least that size stay."""
        if self._fresh_box:
            self._entries = [e for e in self._entries if e.passage.size >= title]
            self._fresh_box = False

    def say(self) -> None:
        """Something is said: a heading that comes now is no longer the first thing in its box."""
        self._fresh_box = False

    def close(self, level: int) -> None:
        """End the sections under headings of that rank and beneath: what comes has a head like theirs."""
        while self._entries and self._entries[-1].level >= level:
            self._entries.pop()

    def push(self, item: Paragraph, level: int, passage: Passage, said: int) -> None:
        """A heading of that rank, lower for higher ones, replaces those of its rank and beneath."""
        self.close(level)
        page, x0, _ = _place(item)
        self._entries.append(_Heading(level, passage, page, x0, item.lines[-1].base, bar=item.lines[0].first.reach))
        self._waiting = (level, said)


def _place(item: Paragraph | Grid) -> tuple[int, float, float]:
    """Page, left edge and top of an item."""
    if isinstance(item, Grid):
        return item.page, item.x0, item.ink_top
    return item.page, min(line.x0 for line in item.lines), item.lines[0].base - item.lines[0].size


def _stands_aside(heading: _Heading, page: int, x0: float, top: float) -> bool:
    """Whether an item lies below a heading of its page but left of that heading's column.

    A heading that is centred over its text, rather than flush with it, has no column of its own.
    """
    if heading.own is None or page != heading.page or abs(heading.own - heading.x0) > _FLUSH:
        return False
    return top > heading.bottom and x0 < min(heading.own, heading.x0) - _BACK
