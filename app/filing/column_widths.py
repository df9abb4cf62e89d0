"""How wide the columns of a list are: figures and dates whole, names sharing what is left."""

from __future__ import annotations

from collections.abc import Collection, Sequence

NARROWEST = 60


def left_out(wanted: Sequence[int], room: int, dispensable: Sequence[int]) -> frozenset[int]:
    """Which of the `dispensable` columns go, the first of them first, so that the others have what they want."""
    gone: list[int] = []
    for column in dispensable:
        if sum(width for at, width in enumerate(wanted) if at not in gone) <= room:
            break
        gone.append(column)
    return frozenset(gone)


def shared_widths(wanted: Sequence[int], room: int, firm: Collection[int]) -> list[int]:
    """A width in pixels for each column, `room` in all where the columns' least widths allow it.

    `wanted` is what each column needs to show its longest cell. The columns numbered in `firm` get that. The others
    get it too where there is room; where there isn't, the widest of them are cut to one width, never below
    `NARROWEST`. Room to spare is dealt out evenly among them.
    """
    loose = sorted((column for column in range(len(wanted)) if column not in firm), key=lambda c: wanted[c])
    widths = list(wanted)
    left = room - sum(wanted[column] for column in firm)
    if sum(wanted[column] for column in loose) < left:
        spare = left - sum(wanted[column] for column in loose)
        for column in loose:
            widths[column] += spare // len(loose)
        return widths
    for place, column in enumerate(loose):
        widths[column] = max(NARROWEST, min(wanted[column], left // (len(loose) - place)))
        left -= widths[column]
    return widths
