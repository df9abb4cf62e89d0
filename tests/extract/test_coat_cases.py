"""Statements in, claims out: every case of cases/coats/*.toml, read as on a sheet of the kind named.

A claim is written "goes_over permits surface.steel if abraded clean", "topped_by forbids filler",
"window self 30..480 @20", "abrade_after - P320..P320"; "only" and "via X" stand at the end.
"""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any

import pytest

from extract.claims import Claim
from extract.document import StatementKind
from extract.finders import coats, windows
from extract.terms import SubjectNames, Vocabulary
from tests.extract.build import document, statement

FOLDER = Path(__file__).parent / "cases" / "coats"
NAMED = statement("Kelpstone 55 HS and Marlgrit 20 are made by us, as is BX-40 Sandrake; see Tallowfin Base, at 20 °C.")


def cases() -> list[Any]:
    out = []
    for path in sorted(FOLDER.glob("*.toml")):
        for n, case in enumerate(tomllib.loads(path.read_text("utf-8"))["case"]):
            out.append(pytest.param(case, id=f"{path.stem}-{n}"))
    return out


def written(claim: Claim) -> str:
    if claim.topic.value == "overcoat_window":
        words = ["window" if claim.property == "window" else str(claim.property), claim.object or "-"]
        if claim.property == "window":
            ends = ["" if v is None else f"{v:g}" for v in (claim.low, claim.high)]
            words.append("..".join(ends) + ("unlimited" if claim.unlimited else ""))
        else:
            words.append(f"P{claim.low:g}..P{claim.high:g}" if claim.low is not None else claim.text or "-")
        if claim.at_c is not None:
            words.append(f"@{claim.at_c:g}")
    else:
        words = [claim.topic.value, claim.stance.value, claim.object or "-"]
    if claim.conditions:
        words += ["if", *(c.value for c in claim.conditions)]
    if claim.only:
        words.append("only")
    if claim.via:
        words += ["via", claim.via]
    return " ".join(words)


def read(case: dict[str, Any]) -> list[str]:
    subject = SubjectNames(case.get("name", "Hobnail 3"), kind=case.get("kind", "primer.epoxy.2k"))
    block = statement(
        case["says"],
        case.get("under", ()),
        kind=StatementKind(case.get("as", "sentence")),
        lead=case.get("lead"),
        label=case.get("label"),
        notes=case.get("notes", ()),
        mark=case.get("mark", ""),
    )
    tail = [NAMED, statement("Grey colour, aluminium.")]
    sheet = document(block, *tail)
    vocabulary = Vocabulary.load("en").bind(sheet, subject)
    found = [*coats.find(sheet, subject, vocabulary), *windows.find(sheet, subject, vocabulary)]
    return sorted({written(c) for c in found})


@pytest.mark.parametrize("case", cases())
def test_case(case: dict[str, Any]) -> None:
    assert read(case) == sorted(case["claims"]), case["says"]
