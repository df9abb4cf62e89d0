"""Which of a file's readings is of which filed sheet. No Qt."""

from __future__ import annotations

from collections.abc import Sequence

from rapidfuzz import fuzz, utils

from extract.claims import SheetReading
from store.records import SheetRecord

LEAST_ALIKE = 80.0
"""Of 100: how alike a product's name as filed and as read again must be, where a file covers several."""


def by_file(sheets: Sequence[SheetRecord]) -> tuple[tuple[SheetRecord, ...], ...]:
    """The sheets of each file together, in the order of the first of them: a file is read once."""
    found: dict[str, list[SheetRecord]] = {}
    for sheet in sheets:
        found.setdefault(sheet.sha256, []).append(sheet)
    return tuple(tuple(group) for group in found.values())


def paired(
    sheets: Sequence[SheetRecord], readings: Sequence[SheetReading]
) -> tuple[tuple[SheetRecord, SheetReading], ...]:
    """Each sheet of one file with what was read of its product; a sheet that no reading is of is left out.

    A newer reader may call the product better, so where there is one of each they belong together.
    """
    if len(sheets) == len(readings) == 1:
        return ((sheets[0], readings[0]),)
    ranked = sorted(
        (
            (_alike(sheet, reading), -s, -r)
            for s, sheet in enumerate(sheets)
            for r, reading in enumerate(readings)
        ),
        reverse=True,
    )  # fmt: skip
    found: dict[int, int] = {}
    for alike, s, r in ranked:
        if alike >= LEAST_ALIKE and -s not in found and -r not in found.values():
            found[-s] = -r
    return tuple((sheets[s], readings[r]) for s, r in sorted(found.items()))


def _alike(sheet: SheetRecord, reading: SheetReading) -> float:
    read = reading.header.product or ""
    return float(fuzz.token_sort_ratio(sheet.product.name, read, processor=utils.default_process))
