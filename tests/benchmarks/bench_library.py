"""How fast a large library answers: fills one with generated sheets, then prints p50 and p95 of each thing asked of it.

    .venv/bin/python tests/benchmarks/bench_library.py [--sheets 10000] [--claims 50] [--folder KEPT]

The sheets are invented and filed through the facade, as the program files them. With --folder the library is kept
and used again.
"""

from __future__ import annotations

import argparse
import random
import statistics
import tempfile
import time
from collections.abc import Callable, Iterator
from pathlib import Path

from extract.claims import (
    Claim,
    Evidence,
    PageGeometry,
    PageText,
    PageWord,
    SheetHeader,
    SheetReading,
    Stance,
    Topic,
)
from extract.kinds import kinds
from store.library import Library

SEED = 7
MAKERS = 60
COMMON = (
    "the",
    "and",
    "of",
    "to",
    "coat",
    "film",
    "apply",
    "surface",
    "paint",
    "clean",
    "dry",
    "over",
    "primer",
    "must",
)
SYLLABLES = (
    "bra",
    "dor",
    "fen",
    "gul",
    "hal",
    "ion",
    "jer",
    "kas",
    "lum",
    "mer",
    "nor",
    "opa",
    "pel",
    "qui",
    "rus",
    "wol",
)
LAYOUT = PageGeometry((0.0, 0.0, 595.0, 842.0), (0.0, 0.0, 595.0, 842.0), 0)


def invented_word(chance: random.Random, syllables: int) -> str:
    return "".join(chance.choice(SYLLABLES) for _ in range(syllables))


def page(number: int, chance: random.Random, rare: list[str]) -> PageText:
    words = []
    for place in range(350):
        text = chance.choice(COMMON) if chance.random() < 0.6 else chance.choice(rare)
        x, y = 40.0 + 50 * (place % 10), 60.0 + 20 * (place // 10)
        words.append(PageWord(text, (x, y, x + 40, y + 11)))
    return PageText(number, LAYOUT, tuple(words))


def claim(place: int, chance: random.Random, ids: list[str], rare: list[str]) -> Claim:
    said = " ".join(chance.choice(COMMON) for _ in range(7)) + f" {chance.choice(rare)} {chance.choice(rare)}"
    top = 60.0 + 14 * place
    evidence = Evidence(1 + place % 3, said, ((40.0, top, 400.0, top + 11),))
    if place % 3 == 2:
        return Claim(
            Topic.OVERCOAT_WINDOW, "window", Stance.STATES, evidence, low=60, high=10080, unit="min", at_c=20.0
        )
    topic = Topic.GOES_OVER if place % 3 else Topic.TOPPED_BY
    return Claim(topic, None, chance.choice([Stance.PERMITS, Stance.FORBIDS]), evidence, object=chance.choice(ids))


def reading(number: int, claims: int, chance: random.Random, rare: list[str]) -> SheetReading:
    ids = list(kinds())
    header = SheetHeader(
        file=f"{number}.pdf",
        sha256="",
        pages=3,
        maker=f"Maker {invented_word(random.Random(number % MAKERS), 3)}",
        product=f"{invented_word(chance, 3)} {number}",
        code=f"{100_000 + number}",
        kind=chance.choice([kind for kind in ids if kind.startswith(("primer", "filler", "topcoat"))]),
        issued="2024-01-01",
        language="en",
    )
    return SheetReading(
        header,
        tuple(claim(place, chance, ids, rare) for place in range(claims)),
        tuple(page(n, chance, rare) for n in (1, 2, 3)),
        reader="bench",
    )


def fill(library: Library, sheets: int, claims: int) -> Iterator[str]:
    """File the sheets; two in three claims of each second sheet are confirmed in one step."""
    chance = random.Random(SEED)
    rare = sorted({invented_word(chance, 4) for _ in range(6000)})
    begun = time.perf_counter()
    filing: list[float] = []
    for number in range(sheets):
        read = reading(number, claims, chance, rare)
        start = time.perf_counter()
        (filed,) = library.file_sheet(b"%%PDF %d" % number, f"{number}.pdf", [read])
        filing.append(time.perf_counter() - start)
        if number % 2 == 0:
            ids = [record.id for record in library.claims(filed.sheet.id)]
            library.confirm(ids[: 2 * len(ids) // 3])
    yield f"filled with {sheets} sheets in {time.perf_counter() - begun:.0f} s"
    yield line(f"file a sheet of {claims} claims and 3 pages", filing)


def line(what: str, seconds: list[float]) -> str:
    milliseconds = sorted(1000 * s for s in seconds)
    p95 = milliseconds[min(len(milliseconds) - 1, int(len(milliseconds) * 0.95))]
    return f"{what:58} p50 {statistics.median(milliseconds):8.2f} ms   p95 {p95:8.2f} ms   n {len(seconds)}"


def timed(what: str, count: int, work: Callable[[int], object]) -> str:
    return line(what, [seconds_of(lambda turn=turn: work(turn)) for turn in range(count)])  # type: ignore[misc]


def seconds_of(work: Callable[[], object]) -> float:
    start = time.perf_counter()
    work()
    return time.perf_counter() - start


def measure(folder: Path) -> Iterator[str]:
    """Every figure as a line, for the library in the folder."""
    opening = seconds_of(lambda: Library.open(folder).close())
    yield f"{'open (quick check, sweep)':58} {1000 * opening:12.2f} ms"
    with Library.open(folder) as library:
        chance = random.Random(SEED + 1)
        products = library.products()
        sheets = library.sheets()
        progress = library.progress()
        size = (folder / "library.sqlite").stat().st_size / 1e6
        yield f"{len(sheets)} sheets, {progress.decided + progress.waiting} claims, database {size:.0f} MB"

        def pair(_: int) -> object:
            ids = [product.id for product in chance.sample(products, 2)]
            return library.rules(ids), library.proposals(ids)

        yield timed("rules and proposals of one pair of products", 300, pair)
        yield timed("claims of one sheet", 300, lambda _: library.claims(chance.choice(sheets).id))
        yield timed("page words of one sheet", 100, lambda _: library.page_texts(chance.choice(sheets).id))
        product = products[len(products) // 2]
        full = [product.name, f"{product.maker} {product.name}", "apply to the surface", "paint over primer must"]
        full += [" ".join(w.text for w in library.page_texts(sheets[0].id)[0].words[:2])]
        typed = [words[:end] for words in full for end in range(1, len(words) + 1)]
        yield timed("search, at each letter typed", len(typed), lambda turn: library.search(typed[turn]))
        slowest = max(typed, key=lambda words: seconds_of(lambda: library.search(words)))
        yield timed(f"search, slowest of them ({slowest!r})", 20, lambda _: library.search(slowest))
        waiting = [p.id for p in library.proposals([product.id for product in products[:200]])][:200]
        yield timed("confirm one claim (synced)", len(waiting), lambda turn: library.confirm([waiting[turn]]))
        yield timed("undo one step (synced)", len(waiting), lambda _: library.undo())
        yield timed("progress of the whole library", 100, lambda _: library.progress())
        yield timed("all sheets, for the list", 5, lambda _: library.sheets())
        yield timed("all products, for completion", 5, lambda _: library.products())


def lines(folder: Path | None, sheets: int, claims: int) -> Iterator[str]:
    with tempfile.TemporaryDirectory() as scratch:
        folder = folder or Path(scratch) / "library"
        if not (folder / "library.sqlite").exists():
            with Library.open(folder) as library:
                yield from fill(library, sheets, claims)
        yield from measure(folder)


def report(sheets: int = 500, claims: int = 50) -> str:
    return "\n".join(lines(None, sheets, claims))


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--sheets", type=int, default=10_000)
    parser.add_argument("--claims", type=int, default=50, help="claims on each sheet")
    parser.add_argument("--folder", type=Path, help="keep the library here, or measure the one that is here")
    given = parser.parse_args()
    for text in lines(given.folder, given.sheets, given.claims):
        print(text, flush=True)


if __name__ == "__main__":
    main()
