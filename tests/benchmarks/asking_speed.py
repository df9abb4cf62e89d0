"""One question answered in a library of 1,000 products, each with the claims of one of the demo sheets, confirmed."""

from __future__ import annotations

import json
import random
import statistics
import tempfile
import time
from pathlib import Path

from extract.claims import Claim, PageGeometry, PageText, PageWord, SheetHeader, SheetReading, claim_from_json
from fixtures.make_sheets import HERE
from store.library import Library
from store.rules.asking import ask
from store.rules.names import Unknown, resolve
from store.rules.reach import party_of

BOX = (72.0, 72.0, 300.0, 84.0)


def gold_claims() -> list[tuple[str, tuple[Claim, ...]]]:
    """Each demo sheet's kind and its claims as written down by hand."""
    found = []
    for path in sorted((HERE / "gold").glob("*.gold.json")):
        gold = json.loads(path.read_text(encoding="utf-8"))
        entries = [{**c, "confidence": 1.0, "evidence": {**c["evidence"], "boxes": [BOX]}} for c in gold["claims"]]
        found.append((gold["sheet"]["kind"], tuple(claim_from_json(entry) for entry in entries)))
    return found


def fill(library: Library, products: int) -> list[str]:
    """Files so many products and confirms all that their sheets say; gives their names."""
    golds = gold_claims()
    geometry = PageGeometry((0, 0, 595, 842), (0, 0, 595, 842), 0)
    pages = tuple(PageText(number, geometry, (PageWord("words", BOX),)) for number in (1, 2))
    names = []
    for number in range(products):
        kind, claims = golds[number % len(golds)]
        name = f"Ardle {number:04d}"
        pdf = b"%%PDF-1.7 sheet %d" % number
        header = SheetHeader(f"{name}.pdf", "", 2, maker=f"Maker {number % 40}", product=name, kind=kind)
        filed = library.file_sheet(pdf, header.file, (SheetReading(header, claims, pages),))
        library.confirm([record.id for record in library.claims(filed[0].sheet.id)])
        names.append(name)
    return names


def report(products: int = 1000, questions: int = 500) -> str:
    chance = random.Random(1)
    with tempfile.TemporaryDirectory() as scratch, Library.open(Path(scratch, "library")) as library:
        names = fill(library, products)
        times = []
        for _ in range(questions):
            lower, upper = chance.sample(names, 2)
            start = time.perf_counter()
            known = library.products()
            meant = [resolve(name, known) for name in (lower, upper)]
            parties = [party_of(meaning) for meaning in meant if not isinstance(meaning, Unknown)]
            ask(library, parties[0], parties[1], known, at_c=20)
            times.append(time.perf_counter() - start)
    times.sort()
    return (
        f"asking             {1000 * statistics.median(times):7.1f} ms   "
        f"95 of 100 within {1000 * times[len(times) * 95 // 100]:.1f} ms "
        f"({products} products, {questions} questions, names matched and products fetched each time)"
    )
