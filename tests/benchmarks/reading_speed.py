"""Filing a page (read, claimed, stored) against pdfplumber's own extract_words on it, file by file."""

from __future__ import annotations

import statistics
import tempfile
import time
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import pdfplumber

from extract.pipeline import read_sheet
from fixtures.make_sheets import HERE
from store.library import Library


@dataclass(frozen=True, slots=True)
class Timing:
    """Seconds that one file took each way, and its pages."""

    pages: int
    filing: float
    words: float


def sheets(copies: int) -> Iterator[tuple[str, bytes]]:
    """The demo sheets, then copies of each that differ by a comment, so that each is filed as a file of its own."""
    originals = [(path.name, path.read_bytes()) for path in sorted(HERE.glob("*.pdf"))]
    for number in range(copies + 1):
        for name, pdf in originals:
            yield f"{number}-{name}", pdf + (b"%% copy %d\n" % number if number else b"")


def words_alone(path: Path) -> int:
    with pdfplumber.open(path) as document:
        for page in document.pages:
            page.extract_words()
            page.close()
        return len(document.pages)


def measure(copies: int) -> list[Timing]:
    """One process against one: neither way is helped by a second core."""
    timings = []
    with tempfile.TemporaryDirectory() as scratch, Library.open(Path(scratch, "library")) as library:
        path = Path(scratch, "sheet.pdf")
        for name, pdf in sheets(copies):
            path.write_bytes(pdf)
            start = time.perf_counter()
            pages = words_alone(path)
            between = time.perf_counter()
            library.file_sheet(pdf, name, read_sheet(pdf, name))
            end = time.perf_counter()
            timings.append(Timing(pages, end - between, between - start))
    return timings


def report(copies: int = 22) -> str:
    measure(0)  # imports and caches belong to neither side
    timings = measure(copies)
    pages = sum(t.pages for t in timings)
    filing, words = sum(t.filing for t in timings), sum(t.words for t in timings)
    ratios = sorted(t.filing / t.words for t in timings)
    return (
        f"filing a page      {1000 * filing / pages:7.1f} ms   "
        f"pdfplumber's words alone {1000 * words / pages:7.1f} ms   "
        f"ratio {filing / words:.2f} (median of {len(timings)} files {statistics.median(ratios):.2f}, "
        f"worst tenth {ratios[len(ratios) * 9 // 10]:.2f})"
    )
