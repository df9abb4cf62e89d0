"""Prints the README's figures: `python -m tests.benchmarks.run [reading] [asking] [build-up] ...`, or all of them.

Both sides of a ratio are taken in turn in one run, for times on a shared machine mean little by themselves.
"""

from __future__ import annotations

import sys

from tests.benchmarks import asking_speed, bench_build_up, bench_library, reading_speed, reliability, window_speed

REPORTS = {
    "reading": reading_speed.report,
    "reliability": reliability.report,
    "asking": asking_speed.report,
    "build-up": bench_build_up.report,
    "library": bench_library.report,
    "window": window_speed.report,
}


def main(names: list[str]) -> int:
    unknown = set(names) - set(REPORTS)
    if unknown:
        print(f"unknown: {', '.join(sorted(unknown))}; there are {', '.join(REPORTS)}", file=sys.stderr)
        return 2
    for name in names or REPORTS:
        print(REPORTS[name](), flush=True)
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
