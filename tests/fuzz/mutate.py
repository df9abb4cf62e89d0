"""Thousands of broken sheets through the reading process and into a library, as `tinsheet import` does it.

`python -m tests.fuzz.mutate [--count N] [--seed N] [--first N] [--keep FOLDER]`: run by hand. Ends with a summary, and
with status 1 where the program itself failed, a file was half filed, or a process was left over. A reading process
that a file takes down with it is contained, and is counted: --keep writes such files down.
"""

from __future__ import annotations

import argparse
import sys
import tempfile
import threading
import time
from collections import Counter, deque
from collections.abc import Iterator, Sequence
from concurrent.futures import Future, ThreadPoolExecutor
from dataclasses import dataclass, field
from pathlib import Path

from app.messages import message_for
from app.workers import ChildDied, ReadingChildren
from extract.claims import SheetReading
from extract.errors import ReaderFailed, ReadError
from store.library import Library
from tests.fuzz.ending import half_filed, workers
from tests.fuzz.mutations import mutant, sources

FILES_A_LIBRARY = 250
"""A new library now and then: hundreds of issues of one sheet are no library that anybody has."""
_AT_ONCE = 2


@dataclass(slots=True)
class Outcome:
    """How the files ended. faults are failures of the program itself, deaths those of reading processes."""

    ended: Counter[str] = field(default_factory=Counter)
    faults: list[str] = field(default_factory=list)
    deaths: list[str] = field(default_factory=list)
    half: list[str] = field(default_factory=list)
    left_over: int = 0
    longest: float = 0.0
    longest_name: str = ""

    @property
    def clean(self) -> bool:
        return not self.faults and not self.half and not self.left_over


@dataclass(frozen=True, slots=True)
class _Timed:
    seconds: float
    readings: tuple[SheetReading, ...] | Exception


def run(count: int, seed: int, first: int = 0, keep: Path | None = None) -> Outcome:
    """Read and file mutants first..first+count of a seed."""
    outcome = Outcome()
    originals = sources()
    with ReadingChildren() as children:
        for start in range(first, first + count, FILES_A_LIBRARY):
            numbers = range(start, min(start + FILES_A_LIBRARY, first + count))
            with tempfile.TemporaryDirectory() as scratch:
                folder = Path(scratch, "library")
                with Library.open(folder) as library:
                    for name, pdf, timed in _read(originals, seed, numbers, children):
                        _settle(outcome, library, name, pdf, timed, keep)
                outcome.half.extend(half_filed(folder))
    outcome.left_over = len(workers())
    return outcome


def _read(
    originals: Sequence[bytes], seed: int, numbers: range, children: ReadingChildren
) -> Iterator[tuple[str, bytes, _Timed]]:
    waiting: deque[tuple[str, bytes, Future[_Timed]]] = deque()
    with ThreadPoolExecutor(_AT_ONCE) as pool:
        for number in numbers:
            name, pdf = mutant(originals, seed, number)
            waiting.append((name, pdf, pool.submit(_read_one, children, name, pdf)))
            if len(waiting) > 2 * _AT_ONCE:
                done, bytes_, future = waiting.popleft()
                yield done, bytes_, future.result()
        while waiting:
            done, bytes_, future = waiting.popleft()
            yield done, bytes_, future.result()


def _read_one(children: ReadingChildren, name: str, pdf: bytes) -> _Timed:
    started = time.monotonic()
    readings: tuple[SheetReading, ...] | Exception
    try:
        readings = children(pdf, name, progress=lambda _done, _of: None, cancelled=threading.Event())
    except Exception as error:
        readings = error
    return _Timed(time.monotonic() - started, readings)


def _settle(outcome: Outcome, library: Library, name: str, pdf: bytes, timed: _Timed, keep: Path | None) -> None:
    if timed.seconds > outcome.longest:
        outcome.longest, outcome.longest_name = timed.seconds, name
    if not isinstance(timed.readings, Exception):
        try:
            library.file_sheet(pdf, name, timed.readings)
        except Exception as error:
            outcome.faults.append(f"{name}: {type(error).__name__}: {error}")
            _keep(keep, name, pdf)
        else:
            outcome.ended["filed"] += 1
        return
    error = timed.readings
    if not isinstance(error, ReadError):
        outcome.faults.append(f"{name}: {type(error).__name__}: {error}")
        _keep(keep, name, pdf)
        return
    outcome.ended[message_for(error).sentence.split(".")[0]] += 1
    if isinstance(error, ChildDied) or error.kind == ReaderFailed.kind:
        outcome.deaths.append(f"{name}: {error.fields().get('cause')}")
        _keep(keep, name, pdf)


def _keep(folder: Path | None, name: str, pdf: bytes) -> None:
    if folder is not None:
        folder.mkdir(parents=True, exist_ok=True)
        (folder / name).write_bytes(pdf)


def main(arguments: Sequence[str] | None = None) -> int:
    parser = argparse.ArgumentParser(description="Broken sheets through the program.")
    parser.add_argument("--count", type=int, default=5000)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--first", type=int, default=0)
    parser.add_argument("--keep", type=Path)
    wanted = parser.parse_args(arguments)
    started = time.monotonic()
    outcome = run(wanted.count, wanted.seed, wanted.first, wanted.keep)
    for line in (*outcome.faults, *outcome.deaths, *outcome.half):
        print(line)
    for what, count in outcome.ended.most_common():
        print(f"{count:6}  {what}")
    print(
        f"{wanted.count} mutants of seed {wanted.seed} in {time.monotonic() - started:.0f} s; longest "
        f"{outcome.longest:.1f} s ({outcome.longest_name}); crashes of the program {len(outcome.faults)}; reading "
        f"processes that died {len(outcome.deaths)}; half-filed {len(outcome.half)}; left over {outcome.left_over}"
    )
    return 0 if outcome.clean else 1


if __name__ == "__main__":
    sys.exit(main())
