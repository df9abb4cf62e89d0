"""Justified lines: blanks that are stretched until they are as wide as the gap between columns."""

from __future__ import annotations

from collections.abc import Sequence

from extract.reading.words import Word

_EVEN_BLANKS = 3
"""Blanks of one width that make a line a justified one."""


def evenly_spaced(words: Sequence[Word]) -> set[int]:
    """Words (by place) before which stands the blank of a justified line, which may be as wide as a column's gap.

    The blanks of such a line are all alike, whatever the words; what stands in columns has gaps that make up for the
    widths of its words.
    """
    out: set[int] = set()
    run: list[int] = []
    for i in range(1, len(words) + 1):
        gap = words[i].x0 - words[i - 1].x1 if i < len(words) else None
        before = words[run[-1]].x0 - words[run[-1] - 1].x1 if run else None
        if gap is not None and gap > 0 and (before is None or abs(gap - before) <= 0.03 * words[i].size):
            run.append(i)
            continue
        if len(run) >= _EVEN_BLANKS:
            held = words[run[0] - 1 : run[-1] + 1]
            # The word before the first blank may be a label's; cells that are all alike stand evenly in columns too.
            widths = [w.x1 - w.x0 for w in held[1:]]
            wordy = sum(w.text.strip(".,;:()").isalpha() for w in held)
            if max(widths) - min(widths) > words[run[0]].size and 2 * wordy > len(held):
                out.update(run)
        run = [i] if gap is not None and gap > 0 else []
    return out
