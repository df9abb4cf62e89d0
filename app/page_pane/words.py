"""Choosing words on a page: from one word to another in reading order, and what that comes to as evidence."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from extract.claims import Box, Evidence, PageText, PageWord


@dataclass(frozen=True, slots=True)
class WordRange:
    """Words start..end (both included) of a page, by their place in PageText.words."""

    page: int
    start: int
    end: int

    @property
    def first(self) -> int:
        return min(self.start, self.end)

    @property
    def last(self) -> int:
        return max(self.start, self.end)


def word_at(words: Sequence[PageWord], x: float, y: float) -> int | None:
    """The word whose box holds the point, else the nearest on the same height, else the nearest of all."""
    if not words:
        return None
    return min(range(len(words)), key=lambda i: _distance(words[i].box, x, y))


def _distance(box: Box, x: float, y: float) -> float:
    dx = max(box[0] - x, 0.0, x - box[2])
    dy = max(box[1] - y, 0.0, y - box[3])
    # A point between two lines belongs to the line it is nearer to before it belongs to a nearer word.
    return dx + 8 * dy


def same_line(one: Box, other: Box) -> bool:
    """Whether two words stand on one printed line: they share more than half of the lower one's height."""
    shared = min(one[3], other[3]) - max(one[1], other[1])
    return shared > 0.5 * min(one[3] - one[1], other[3] - other[1])


def step_line(words: Sequence[PageWord], at: int, down: bool) -> int:
    """The word nearest below (or above) word `at` on the next line; `at` where there is none."""
    box = words[at].box
    middle = (box[0] + box[2]) / 2
    beyond = [
        i
        for i, w in enumerate(words)
        if not same_line(w.box, box) and ((w.box[1] > box[1]) if down else (w.box[1] < box[1]))
    ]
    if not beyond:
        return at
    return min(
        beyond, key=lambda i: 8 * abs(words[i].box[1] - box[1]) + abs((words[i].box[0] + words[i].box[2]) / 2 - middle)
    )


def evidence_of_words(page: PageText, chosen: WordRange) -> Evidence:
    """The chosen words as evidence: one box a printed line. Raises ValueError where the range holds no word."""
    words = page.words[chosen.first : chosen.last + 1]
    if not words:
        raise ValueError("no word chosen")
    boxes: list[Box] = []
    for word in words:
        if boxes and same_line(boxes[-1], word.box) and word.box[0] >= boxes[-1][0]:
            last = boxes[-1]
            boxes[-1] = (
                min(last[0], word.box[0]),
                min(last[1], word.box[1]),
                max(last[2], word.box[2]),
                max(last[3], word.box[3]),
            )
        else:
            boxes.append(word.box)
    return Evidence(page=page.number, quote=" ".join(w.text for w in words), boxes=tuple(boxes))
