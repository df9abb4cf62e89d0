"""`tinsheet extract`: one PDF in, what it says out; no library and no window."""

from __future__ import annotations

import argparse
import json
from collections.abc import Sequence
from typing import Any

from app.command_line.reading import read_file
from app.wording import claim_words, topic_words
from extract.claims import FORMAT, Claim, SheetHeader, SheetReading, Topic, claim_to_json


def run(arguments: argparse.Namespace) -> int:
    readings = read_file(arguments.file, arguments.password)
    if arguments.json:
        print(json.dumps(document(readings, why=arguments.why), ensure_ascii=False, indent=1))
    else:
        print(text(readings, why=arguments.why))
    return 0


def document(readings: Sequence[SheetReading], *, why: bool = False) -> dict[str, Any]:
    """One tinsheet-claims/1 document; where the PDF covers several products, each claim names its own."""
    several = len(readings) > 1
    claims = []
    for reading in readings:
        for claim in reading.claims:
            entry = claim_to_json(claim, why=why)
            if several:
                entry["subject"] = claim.subject or reading.header.product
            claims.append(entry)
    out: dict[str, Any] = {"format": FORMAT, "sheet": _header(readings[0].header), "claims": claims}
    if several:
        out["sheets"] = [_header(reading.header) for reading in readings]
    problems = list(dict.fromkeys(problem for reading in readings for problem in reading.problems))
    if problems:
        out["problems"] = problems
    return out


def _header(header: SheetHeader) -> dict[str, Any]:
    return {
        "file": header.file,
        "sha256": header.sha256,
        "pages": header.pages,
        "maker": header.maker,
        "product": header.product,
        "code": header.code,
        "kind": header.kind,
        "issued": header.issued,
        "revision": header.revision,
        "language": header.language,
        "scanned": header.scanned,
    }


def text(readings: Sequence[SheetReading], *, why: bool = False) -> str:
    """The same for reading: a heading for each product and topic, under each claim its sentence and page."""
    lines: list[str] = []
    for reading in readings:
        lines += _title(reading.header)
        lines += [f"! {problem}" for problem in reading.problems]
        for topic in Topic:
            claims = [claim for claim in reading.claims if claim.topic is topic]
            if claims:
                lines += ["", topic_words(topic)]
                for claim in claims:
                    lines += _entry(claim, reading.header.product or "this product", why)
        if not reading.claims:
            lines += ["", "Nothing could be read out of this sheet."]
        lines.append("")
    return "\n".join(lines).rstrip()


def _title(header: SheetHeader) -> list[str]:
    from app.wording import date_words, kind_words  # noqa: PLC0415 - only the text needs them

    name = header.product or "Product not named"
    title = f"{name}, {header.maker}" if header.maker else name
    facts = [
        kind_words(header.kind) if header.kind else "",
        f"issued {date_words(header.issued)}" if header.issued else "",
        f"revision {header.revision}" if header.revision else "",
        f"{header.pages} page{'' if header.pages == 1 else 's'}",
        "read from a picture" if header.scanned else "",
    ]
    return [title, ", ".join(fact for fact in facts if fact), header.file]


def _entry(claim: Claim, product: str, why: bool) -> list[str]:
    doubt = "" if claim.confidence >= 0.5 else "  (doubtful)"
    lines = [f"  {claim_words(claim, product)}{doubt}", f"      “{claim.evidence.quote}” p. {claim.evidence.page}"]
    if why and claim.why is not None:
        cell = f"; cell {claim.why.cell}" if claim.why.cell else ""
        terms = f"; terms {', '.join(claim.why.terms)}" if claim.why.terms else ""
        lines.append(f"      read by {claim.why.pattern}{terms}{cell}; confidence {claim.confidence:.2f}")
    return lines
