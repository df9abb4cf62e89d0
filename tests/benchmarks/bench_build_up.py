"""Build-ups over 300 products, each with the claims of one of the demo sheets: found, and found not to be had.

Beside each, in the same run, the time of judging the contacts of the one sequence handed out, for scale.
"""

from __future__ import annotations

import random
import statistics
import time
from collections.abc import Sequence

from store.planning.buildup import BuildUp, Layer
from store.planning.buildup_check import check
from store.planning.buildup_sheets import Sheets
from store.planning.finder import Stop, Wanted, find
from store.records import ProductRecord, Rule, SheetRef
from store.rules.reach import KindParty, ProductParty
from tests.benchmarks.asking_speed import gold_claims


def shelf(products: int) -> tuple[tuple[ProductRecord, ...], tuple[Rule, ...]]:
    """So many products and their confirmed sentences, of which each sheet leaves a few out by chance."""
    chance = random.Random(7)
    golds = gold_claims()
    made, rules = [], []
    for number in range(1, products + 1):
        kind, claims = golds[number % len(golds)]
        product = ProductRecord(number, f"Ardle {number:04d}", f"Maker {number % 40}", kind)
        sheet = SheetRef(number, number, product.name, product.maker, kind)
        made.append(product)
        for claim in claims:
            if chance.random() < 0.9:
                rules.append(Rule(len(rules) + 1, claim, sheet))
    return tuple(made), tuple(rules)


def jobs(products: Sequence[ProductRecord]) -> tuple[tuple[str, Wanted], ...]:
    steel, filler, gloss = KindParty("surface.steel"), KindParty("filler"), KindParty("topcoat.solid.2k")
    last = ProductParty(products[-1])
    return (
        ("steel to gloss", Wanted(steel, gloss)),
        ("with filler and 6 weeks out", Wanted(steel, gloss, (Stop(weeks_outdoors=6), Stop(filler)), at_c=15.0)),
        (
            "unsaid contacts too",
            Wanted(steel, gloss, (Stop(filler), Stop(KindParty("sealant.seam"))), allow_unsaid=True),
        ),
        ("nothing to be had", Wanted(KindParty("surface.copper"), last, (Stop(filler),))),
    )


def report(products: int = 300, repeats: int = 5) -> str:
    made, rules = shelf(products)
    lines = [
        f"building up         {products} products, {len(rules)} sentences, {repeats} runs each, sheets laid out anew"
    ]
    for name, wanted in jobs(made):
        found_in, checked_in, found = [], [], None
        for _ in range(repeats):
            start = time.perf_counter()
            found = find(wanted, made, Sheets(rules, products=made))
            found_in.append(time.perf_counter() - start)
            best = found.allowed[0] if found.allowed else found.nearest
            layers = best.checked.build_up.layers if best is not None else (Layer(wanted.surface), Layer(wanted.finish))
            start = time.perf_counter()
            check(BuildUp(layers, wanted.at_c), Sheets(rules, products=made))
            checked_in.append(time.perf_counter() - start)
        took, alone = statistics.median(found_in), statistics.median(checked_in)
        count = len(found.allowed) if found is not None else 0
        lines.append(
            f"  {name:28} {1000 * took:7.0f} ms   {took / alone:5.1f} times the check of one sequence, {count} found"
        )
    return "\n".join(lines)


if __name__ == "__main__":
    print(report())
