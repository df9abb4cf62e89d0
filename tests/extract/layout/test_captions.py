"""Columns of centred lines under pictures are captions, one each; tables of centred figures stay tables."""

from __future__ import annotations

from extract.layout.aligned import _are_captions
from extract.layout.columns import Band
from extract.layout.pieces import Segment
from extract.reading.words import Word


def segment(text: str, middle: float, base: float) -> Segment:
    half = 2.5 * len(text)
    x0, x1, top, bottom = middle - half, middle + half, base - 8, base + 2
    word = Word(text, [], x0, top, x1, bottom, 10, base, False, False, (0, 0, 0))
    return Segment([word], 1, x0, top, x1, bottom, base, 10)


def bands(rows: list[list[Segment]]) -> list[Band]:
    return [Band(min(s.x0 for s in c), max(s.x1 for s in c)) for c in zip(*rows, strict=True)]


def test_lines_centred_in_every_column_are_captions() -> None:
    rows = [
        [segment("4:1 by volume", 100, 100), segment("18-22 s", 250, 100), segment("1.4 mm", 400, 100)],
        [segment("H 40", 100, 112), segment("DIN 4, 20 °C", 250, 112), segment("2.0 to 2.5 bar", 400, 112)],
    ]
    assert _are_captions(rows, bands(rows))


def test_labels_set_flush_left_make_a_table() -> None:
    def label(text: str, base: float) -> Segment:
        return segment(text, 50 + 2.5 * len(text), base)

    rows = [
        [label("Dust dry", 100), segment("20 min", 250, 100), segment("-", 400, 100)],
        [label("Through dry", 112), segment("7 d", 250, 112), segment("40 min", 400, 112)],
    ]
    assert not _are_captions(rows, bands(rows))
