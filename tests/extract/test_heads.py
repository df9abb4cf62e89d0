"""Heads and feet of whole pages, drawn as makers set them, and what is read out of them (cases/heads.toml)."""

from __future__ import annotations

import tomllib
from importlib import resources
from io import BytesIO
from pathlib import Path
from typing import Any

import pytest
from reportlab.lib.utils import simpleSplit
from reportlab.pdfgen.canvas import Canvas

from extract import layout
from extract.head_kind import LineReader, head_wordings
from extract.header import read_header
from extract.reading.pages import open_sheet
from extract.terms import Vocabulary

CASES = tomllib.loads((Path(__file__).parent / "cases" / "heads.toml").read_text("utf-8"))["head"]

_WIDTH, _HEIGHT = 595.0, 842.0
_MARGIN = 48.0


TURNS = tomllib.loads(resources.files("extract.vocabulary").joinpath("en", "head.toml").read_text("utf-8"))["described"]


def _line(canvas: Canvas, spec: str, top: float) -> float:
    """Draws 'size placing | words' below top and gives the next line's top; '+' after the placing keeps the line."""
    placing, words = spec.split(" | ", 1)
    size, where = placing.split()
    height = float(size)
    canvas.setFont("Helvetica-Bold" if height >= 12 else "Helvetica", height)
    base = _HEIGHT - top - (0 if "+" in where else 1.25 * height)
    match where[0]:
        case "r":
            canvas.drawRightString(_WIDTH - _MARGIN, base, words)
        case "c":
            canvas.drawCentredString(_WIDTH / 2, base, words)
        case _:
            canvas.drawString(_MARGIN, base, words)
    return _HEIGHT - base


def drawn(case: dict[str, Any]) -> bytes:
    """The page of a case: its head, a paragraph under a heading, and its foot."""
    out = BytesIO()
    canvas = Canvas(out, pagesize=(_WIDTH, _HEIGHT), invariant=1)
    top = 36.0
    for spec in case["top"]:
        top = _line(canvas, spec, top + (0 if "+" in spec.split(" | ")[0] else 4))
    canvas.setFont("Helvetica-Bold", 10)
    top += 26
    canvas.drawString(_MARGIN, _HEIGHT - top, "Description")
    canvas.setFont("Helvetica", 9.5)
    for line in simpleSplit(" ".join(case["text"]), "Helvetica", 9.5, _WIDTH - 2 * _MARGIN):
        top += 13
        canvas.drawString(_MARGIN, _HEIGHT - top, line)
    top = _HEIGHT - 40 - 12 * len(case.get("foot", ()))
    for spec in case.get("foot", ()):
        top = _line(canvas, spec, top)
    canvas.save()
    return out.getvalue()


def test_the_cases_are_told_apart() -> None:
    assert len({case["name"] for case in CASES}) == len(CASES) >= 40


@pytest.mark.parametrize("case", CASES, ids=[c["name"] for c in CASES])
def test_a_head_as_printed(case: dict[str, Any]) -> None:
    document = layout.build(open_sheet(drawn(case), None, None))
    header, _ = read_header(document, "sheet.pdf", "0" * 64, 1, Vocabulary.load("en"))
    got = {field: getattr(header, field) or "" for field in case["expect"]}
    assert got == case["expect"]


@pytest.mark.parametrize("turn", TURNS, ids=[t["kind"] for t in TURNS])
def test_a_turn_that_names_the_kind(turn: dict[str, Any]) -> None:
    reader = LineReader(Vocabulary.load("en"), head_wordings("en"))
    assert (reader.kind_in(turn["example"]) or "").startswith(turn["kind"])
    if "counter" in turn:
        assert not (reader.kind_in(turn["counter"]) or "").startswith(turn["kind"])
