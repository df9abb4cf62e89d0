"""Sentence-level cases: a statement in, the claims out, written as data in tests/extract/cases/.

A case holds text (a sentence, or a list of rows for a table), what it stands under, and the claims as briefs:
'property stance [object] [figures] [(text)] [if conditions]', as brief() writes them.
"""

from __future__ import annotations

import tomllib
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

from extract.claims import Claim
from extract.document import Block, Document, StatementKind
from extract.terms import SubjectNames, Vocabulary
from tests.extract.build import document, statement, table

FOLDER = Path(__file__).parent.parent / "cases"

Finder = Callable[[Document, SubjectNames, Vocabulary], Iterator[Claim]]


def load(name: str) -> list[dict[str, Any]]:
    cases: list[dict[str, Any]] = tomllib.loads((FOLDER / f"{name}.toml").read_text(encoding="utf-8"))["case"]
    return cases


def name_of(case: dict[str, Any]) -> str:
    text = case.get("text") or case["rows"][0][0]
    return str(text)[:70]


def blocks_of(case: dict[str, Any]) -> list[Block]:
    under = case.get("under", ())
    blocks: list[Block] = []
    for at, before in enumerate(case.get("before", ())):
        kind = StatementKind.BULLET if before.startswith("* ") else StatementKind.SENTENCE
        blocks.append(statement(before.removeprefix("* "), under, kind=kind, paragraph=at))
    if "rows" in case:
        blocks.append(
            table(
                case["heads"],
                case["rows"],
                under,
                notes=case.get("notes", ()),
                row_notes={int(k): v for k, v in case.get("row_notes", {}).items()},
            )
        )
    if "text" in case:
        blocks.append(
            statement(
                case["text"],
                under,
                kind=StatementKind(case.get("kind", "sentence")),
                lead=case.get("lead"),
                label=case.get("label"),
                notes=case.get("notes", ()) if "rows" not in case else (),
                mark=case.get("mark", ""),
                paragraph=len(blocks),
            )
        )
    return blocks


def brief(claim: Claim) -> str:
    parts = [claim.property or "-", claim.stance.value]
    if claim.object:
        parts.append(claim.object)
    if claim.unlimited:
        parts.append("unlimited")
    elif claim.low is not None or claim.high is not None:
        low = "" if claim.low is None else f"{claim.low:g}"
        high = "" if claim.high is None else f"{claim.high:g}"
        parts.append(low if low == high else f"{low}..{high}")
    if claim.text:
        parts.append(f"({claim.text})")
    if claim.conditions:
        parts.append("if " + ",".join(sorted(c.value for c in claim.conditions)))
    return " ".join(parts)


def read(case: dict[str, Any], finder: Finder) -> list[str]:
    subject = SubjectNames(case.get("product", "Testol 100"), (), case.get("own", "primer.epoxy.2k"))
    found = list(finder(document(*blocks_of(case)), subject, Vocabulary.load("en")))
    for claim in found:
        assert claim.evidence.quote and claim.evidence.boxes
        assert claim.why is not None
        assert 0 < claim.confidence < 1
    return sorted(brief(c) for c in found)
