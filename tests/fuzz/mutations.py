"""Sheets broken on purpose, the same for the same seed: what a bad disk, a bad writer or malice does to a PDF."""

from __future__ import annotations

import io
import random
import re
from collections.abc import Callable, Sequence
from pathlib import Path

import pikepdf

FIXTURES = Path(__file__).resolve().parents[2] / "fixtures"
_OBJECT = re.compile(rb"\d+ 0 obj\b.*?endobj", re.S)
_STREAM = re.compile(rb"stream\r?\n(.*?)endstream", re.S)
_NUMBER = re.compile(rb"(?<![\w.])-?\d+(?:\.\d+)?(?![\w.])")
_REFERENCE = re.compile(rb"(\d+) 0 R")
_TREE = re.compile(rb"/(?:Kids|Count|Parent|Pages|Type|MediaBox|CropBox|Rotate|Contents|Resources)\b[^/>]*")
_NAME = re.compile(rb"/[A-Za-z][A-Za-z0-9]*")
_BLOWN_UP = (b"0", b"-1", b"65536", b"2147483647", b"-2147483648", b"4294967296", b"1e9", b"0.0000001", b"999999999999")

Mutation = Callable[[bytearray, random.Random], None]


def sources() -> list[bytes]:
    """The demo sheets as they are, and again with every stream laid open so that a change reaches the text itself."""
    found = []
    for path in sorted([*FIXTURES.glob("*.pdf"), *FIXTURES.glob("reading/*.pdf")]):
        pdf = path.read_bytes()
        found.append(pdf)
        out = io.BytesIO()
        with pikepdf.open(io.BytesIO(pdf)) as document:
            document.save(
                out,
                stream_decode_level=pikepdf.StreamDecodeLevel.generalized,
                compress_streams=False,
                object_stream_mode=pikepdf.ObjectStreamMode.disable,
            )
        found.append(out.getvalue())
    return found


def flip_bytes(pdf: bytearray, chance: random.Random) -> None:
    for _ in range(chance.choice((1, 3, 10, 60, 400))):
        pdf[chance.randrange(len(pdf))] = chance.randrange(256)


def truncate(pdf: bytearray, chance: random.Random) -> None:
    del pdf[chance.randrange(1, len(pdf)) :]


def cut_out(pdf: bytearray, chance: random.Random) -> None:
    start = chance.randrange(len(pdf))
    del pdf[start : start + chance.choice((1, 20, 500, 5000))]


def repeat_part(pdf: bytearray, chance: random.Random) -> None:
    start = chance.randrange(len(pdf))
    part = bytes(pdf[start : start + chance.choice((10, 200, 3000))])
    at = chance.randrange(len(pdf))
    pdf[at:at] = part * chance.choice((1, 2, 50))


def swap_objects(pdf: bytearray, chance: random.Random) -> None:
    """Two objects take each other's numbers."""
    spans = [m.span() for m in _OBJECT.finditer(pdf)]
    if len(spans) < 2:
        return flip_bytes(pdf, chance)
    (a, b), (c, d) = sorted(chance.sample(spans, 2))
    first, second = bytes(pdf[a:b]), bytes(pdf[c:d])
    head_a, _, rest_a = first.partition(b"obj")
    head_c, _, rest_c = second.partition(b"obj")
    pdf[c:d] = head_c + b"obj" + rest_a
    pdf[a:b] = head_a + b"obj" + rest_c
    return None


def redirect(pdf: bytearray, chance: random.Random) -> None:
    """References lead elsewhere: to another object, to themselves, to nothing."""
    spans = [m.span(1) for m in _REFERENCE.finditer(pdf)]
    for start, end in sorted(chance.sample(spans, min(len(spans), chance.choice((1, 2, 8)))), reverse=True):
        pdf[start:end] = str(chance.randrange(40)).encode()


def spoil_stream(pdf: bytearray, chance: random.Random) -> None:
    spans = [m.span(1) for m in _STREAM.finditer(pdf)]
    if not spans:
        return flip_bytes(pdf, chance)
    start, end = chance.choice(spans)
    for _ in range(chance.choice((1, 5, 50))):
        if end > start:
            pdf[chance.randrange(start, end)] = chance.randrange(256)
    return None


def blow_up_numbers(pdf: bytearray, chance: random.Random) -> None:
    spans = [m.span() for m in _NUMBER.finditer(pdf)]
    for start, end in sorted(chance.sample(spans, min(len(spans), chance.choice((1, 3, 20)))), reverse=True):
        pdf[start:end] = chance.choice(_BLOWN_UP)


def edit_page_tree(pdf: bytearray, chance: random.Random) -> None:
    spans = [m.span() for m in _TREE.finditer(pdf)]
    if not spans:
        return flip_bytes(pdf, chance)
    start, end = chance.choice(spans)
    other = chance.choice(spans)
    pdf[start:end] = chance.choice((b"", bytes(pdf[other[0] : other[1]]), bytes(pdf[start:end]) * 2, b"/Kids [2 0 R] "))
    return None


def swap_names(pdf: bytearray, chance: random.Random) -> None:
    spans = [m.span() for m in _NAME.finditer(pdf)]
    if len(spans) < 2:
        return flip_bytes(pdf, chance)
    (a, b), (c, d) = sorted(chance.sample(spans, 2))
    pdf[c:d], pdf[a:b] = pdf[a:b], pdf[c:d]
    return None


MUTATIONS: Sequence[Mutation] = (
    flip_bytes,
    truncate,
    cut_out,
    repeat_part,
    swap_objects,
    redirect,
    spoil_stream,
    blow_up_numbers,
    edit_page_tree,
    swap_names,
)


def mutant(originals: Sequence[bytes], seed: int, number: int) -> tuple[str, bytes]:
    """The number-th mutant of a seed: a name that tells how it was made, and its bytes."""
    chance = random.Random(f"{seed}/{number}")
    source = chance.randrange(len(originals))
    pdf = bytearray(originals[source])
    names = []
    for mutate in chance.choices(MUTATIONS, k=chance.choice((1, 1, 1, 2, 4))):
        if pdf:
            mutate(pdf, chance)
            names.append(mutate.__name__)
    if bytes(pdf) == originals[source]:
        # A mutation may happen to change nothing, as where two equal pieces change places.
        flip_bytes(pdf, chance)
        names.append(flip_bytes.__name__)
    return f"{number}-{source}-{'+'.join(names)}.pdf", bytes(pdf)
