"""Memory of one reading process over many sheets: `python -m tests.benchmarks.bench_worker_memory [SHEETS]` (1,000).

One child is kept for all of them, far past its usual share, and asked every hundred sheets how much it holds. Ends with
status 1 where it grew by more than a tenth after the first hundred.
"""

from __future__ import annotations

import sys
import threading
from collections.abc import Iterator
from pathlib import Path

from app.workers import Child, ReadingChildren

FIXTURES = Path(__file__).resolve().parents[2] / "fixtures"
EVERY = 100
MEBIBYTE = 2**20


def sheets(count: int) -> Iterator[bytes]:
    """The demo sheets in turn, each time as another file."""
    originals = [path.read_bytes() for path in sorted(FIXTURES.rglob("*.pdf"))]
    for number in range(count):
        yield originals[number % len(originals)] + b"%% copy %d\n" % number


def measure(count: int) -> list[int]:
    """Bytes that the one child held after each hundredth sheet."""
    held = []
    stop = threading.Event()
    with ReadingChildren(most_files=count + 1) as read:
        for number, pdf in enumerate(sheets(count), 1):
            read(pdf, f"{number}.pdf", progress=lambda _page, _pages: None, cancelled=stop)
            if number % EVERY == 0:
                (child,) = Child.living()
                held.append(child.memory)
    return held


def main(arguments: list[str]) -> int:
    held = measure(int(arguments[0]) if arguments else 1000)
    print("MiB after each hundred sheets: " + ", ".join(f"{h / MEBIBYTE:.0f}" for h in held))
    growth = held[-1] / held[0] - 1
    print(f"growth after the first hundred: {100 * growth:.1f} %")
    return 0 if growth <= 0.1 else 1


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
