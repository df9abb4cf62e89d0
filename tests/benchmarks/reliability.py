"""How far a claim's confidence is to be believed: of the claims shown in each band, how many are right.

`python -m tests.benchmarks.reliability [NAME ...]` leaves out the sheets whose file begins with one of the names. Right
is what agrees with the gold claims beside the sheet, as in tests/extract/scoring.py.
"""

from __future__ import annotations

import json
import sys
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

from extract.claims import claim_to_json
from extract.pipeline import read_sheet
from fixtures.make_sheets import HERE
from tests.extract.scoring import NO_FIGURE, matches

BANDS = ((0.0, 0.7), (0.7, 0.8), (0.8, 0.9), (0.9, 1.01))
"""Lower end outside, upper end inside, but for the last: 'above 0.9' is the last one."""

_OFTEN = 10
"""Of fewer claims a share says nothing."""


@dataclass(frozen=True, slots=True)
class Shown:
    """One claim that a sheet's gold has something to say about. way is how it was found, without the particulars."""

    sheet: str
    confidence: float
    way: str
    right: bool
    words: str


def gold_sheets(left_out: Sequence[str] = ()) -> Iterator[tuple[Path, Path]]:
    """PDFs with their gold claims: the demo sheets and those in other makers' voices."""
    for folder in (HERE, HERE / "reading"):
        for pdf in sorted(folder.glob("*.pdf")):
            beside, below = pdf.with_suffix(".gold.json"), folder / "gold" / f"{pdf.stem}.gold.json"
            gold = beside if beside.exists() else below
            if gold.exists() and not pdf.name.startswith(tuple(left_out)):
                yield pdf, gold


def shown(left_out: Sequence[str] = ()) -> Iterator[Shown]:
    for pdf, gold_file in gold_sheets(left_out):
        golds = json.loads(gold_file.read_text(encoding="utf-8"))["claims"]
        for reading in read_sheet(pdf.read_bytes(), pdf.name):
            for claim in reading.claims:
                said = claim_to_json(claim)
                agree = [g for g in golds if matches(g, said)]
                if (said["topic"], said["property"]) in NO_FIGURE or (agree and all(g.get("optional") for g in agree)):
                    continue
                pattern = claim.why.pattern.split(":")[0] if claim.why else "?"
                way = f"{claim.topic.value}, {pattern}{', in a cell' if claim.why and claim.why.cell else ''}"
                yield Shown(pdf.stem, claim.confidence, way, bool(agree), claim.evidence.quote[:80])


def table(claims: Sequence[Shown]) -> str:
    lines = ["confidence      claims   right   share"]
    for low, high in BANDS:
        inside = [c for c in claims if low < c.confidence <= high]
        right = sum(c.right for c in inside)
        share = f"{right / len(inside):.3f}" if inside else "-"
        lines.append(f"{low:.1f} to {min(high, 1):.1f}     {len(inside):7} {right:7}   {share:>5}")
    return "\n".join(lines)


def by_way(claims: Sequence[Shown]) -> str:
    """The share right of each way of finding that was used ten times or more, least sure first."""
    ways: dict[str, list[bool]] = {}
    for claim in claims:
        ways.setdefault(claim.way, []).append(claim.right)
    often = sorted((sum(right) / len(right), len(right), way) for way, right in ways.items() if len(right) >= _OFTEN)
    return "\n".join(f"{share:.3f} of {count:4}  {way}" for share, count, way in often)


def report(left_out: Sequence[str] = ()) -> str:
    return table(list(shown(left_out)))


def main(left_out: Sequence[str]) -> int:
    claims = list(shown(left_out))
    print(table(claims), by_way(claims), sep="\n\n")
    for claim in claims:
        if claim.confidence > 0.9 and not claim.right:
            print(f"wrong at {claim.confidence:.2f}: {claim.sheet}: {claim.way}: {claim.words!r}")
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
