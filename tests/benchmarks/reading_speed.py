"""Filing a page (read, claimed, stored) against pdfplumber's own extract_words on it, file by file.

Both ways in one process, in turn on each file, over the demo sheets and made ones that have not been read before. Wall
time counts others' use of the machine and the disk's; processor time does not.
"""

from __future__ import annotations

import statistics
import tempfile
import time
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from functools import partial
from pathlib import Path

import pdfplumber

from extract.pipeline import read_sheet
from fixtures.make_sheets import HERE
from store.library import Library
from tests.benchmarks import made_sheets

MADE = 200


@dataclass(frozen=True, slots=True)
class Spent:
    """Seconds by the clock on the wall, and of the processor (user and system)."""

    wall: float
    processor: float


@dataclass(frozen=True, slots=True)
class Timing:
    """What one file took each way, and its pages."""

    pages: int
    filing: Spent
    words: Spent


def sheets(made: int, folders: Sequence[Path] = (HERE,)) -> Iterator[tuple[str, bytes]]:
    """The PDFs of the folders, then that many made ones."""
    for folder in folders:
        for path in sorted(folder.glob("*.pdf")):
            yield path.name, path.read_bytes()
    yield from made_sheets.sheets(made)


def words_alone(path: Path) -> int:
    with pdfplumber.open(path) as document:
        for page in document.pages:
            page.extract_words()
            page.close()
        return len(document.pages)


def _file(library: Library, pdf: bytes, name: str) -> int:
    return len(library.file_sheet(pdf, name, read_sheet(pdf, name)))


def spent(work: Callable[[], int]) -> tuple[int, Spent]:
    """What the work came to, and what it took."""
    wall, processor = time.perf_counter(), time.process_time()
    answer = work()
    return answer, Spent(time.perf_counter() - wall, time.process_time() - processor)


def measure(files: Iterator[tuple[str, bytes]]) -> list[Timing]:
    """One process against one: neither way is helped by a second core."""
    timings = []
    with tempfile.TemporaryDirectory() as scratch, Library.open(Path(scratch, "library")) as library:
        path = Path(scratch, "sheet.pdf")
        for name, pdf in files:
            path.write_bytes(pdf)
            pages, words = spent(partial(words_alone, path))
            _, filing = spent(partial(_file, library, pdf, name))
            timings.append(Timing(pages, filing, words))
    return timings


def report(made: int = MADE, folders: Sequence[Path] = (HERE,)) -> str:
    measure(made_sheets.sheets(2, seed=0))  # imports and vocabulary belong to neither side
    timings = measure(sheets(made, folders))
    pages = sum(t.pages for t in timings)
    lines = [f"filing against pdfplumber's words alone, {len(timings)} files of {pages} pages"]
    for name in ("wall", "processor"):
        filing = [float(getattr(t.filing, name)) for t in timings]
        words = [float(getattr(t.words, name)) for t in timings]
        ratios = sorted(f / w for f, w in zip(filing, words, strict=True))
        lines.append(
            f"  {name:10} {1000 * sum(filing) / pages:6.1f} ms a page   words {1000 * sum(words) / pages:6.1f} ms   "
            f"ratio {sum(filing) / sum(words):.2f} (median file {statistics.median(ratios):.2f}, "
            f"worst tenth {ratios[len(ratios) * 9 // 10]:.2f})"
        )
    return "\n".join(lines)
