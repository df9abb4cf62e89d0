"""Reading with one process against two, and with a child for each file against kept ones.

`python -m tests.benchmarks.bench_two_processes [SHEETS]` (100). Reading alone, without a library: what is read by two
is filed by one. The runs are taken in turn, twice; the better of each counts, for others may use the machine.
"""

from __future__ import annotations

import sys
import threading
import time
from concurrent.futures import ThreadPoolExecutor

from app.workers import ReadingChildren
from tests.benchmarks.bench_worker_memory import sheets


def seconds(count: int, at_once: int, files_a_child: int) -> float:
    stop = threading.Event()
    with ReadingChildren(most_files=files_a_child) as read, ThreadPoolExecutor(at_once) as pool:
        started = time.perf_counter()
        for readings in pool.map(
            lambda pdf: read(pdf, "sheet.pdf", progress=lambda _page, _pages: None, cancelled=stop), sheets(count)
        ):
            if not readings:
                raise RuntimeError("a sheet was not read")
        return time.perf_counter() - started


def main(arguments: list[str]) -> int:
    count = int(arguments[0]) if arguments else 100
    ways = {"one, kept": (1, 25), "two, kept": (2, 25), "one, fresh": (1, 1), "two, fresh": (2, 1)}
    best = {name: min(seconds(count, *way) for _ in range(2)) for name, way in ways.items()}
    for name, taken in best.items():
        print(f"{name:12} {taken:6.1f} s  {1000 * taken / count:5.0f} ms a sheet")
    print(f"two against one: {best['one, kept'] / best['two, kept']:.2f}")
    print(f"kept against fresh, one at a time: {best['one, fresh'] / best['one, kept']:.2f}")
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
