"""Readings as the reader would hand them over, made from sentences: each stands on the page it is quoted from."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from extract.claims import (
    Box,
    Claim,
    Evidence,
    PageGeometry,
    PageText,
    PageWord,
    SheetHeader,
    SheetReading,
    Stance,
    Topic,
    Why,
)

A4: Box = (0.0, 0.0, 595.0, 842.0)


def words_of(sentences: Sequence[str]) -> tuple[PageWord, ...]:
    """One sentence a line, every letter five points wide."""
    words: list[PageWord] = []
    for line, sentence in enumerate(sentences):
        x, top = 50.0, 60.0 + 14 * line
        for text in sentence.split():
            words.append(PageWord(text, (x, top, x + 5.0 * len(text), top + 10)))
            x += 5.0 * len(text) + 5
    return tuple(words)


def evidence(quote: str, line: int = 0, page: int = 1) -> Evidence:
    top = 60.0 + 14 * line
    return Evidence(page, quote, ((50.0, top, 50.0 + 5.0 * len(quote), top + 10),))


def over(kind: str, quote: str, *, stance: Stance = Stance.PERMITS, line: int = 0) -> Claim:
    why = Why("goes over", (kind,))
    return Claim(Topic.GOES_OVER, None, stance, evidence(quote, line), object=kind, confidence=0.93, why=why)


def window(low: float | None, high: float | None, quote: str, *, at_c: float | None = 20.0, line: int = 0) -> Claim:
    return Claim(
        Topic.OVERCOAT_WINDOW, "window", Stance.STATES, evidence(quote, line), low=low, high=high, unit="min", at_c=at_c
    )


def reading(
    claims: Sequence[Claim] = (),
    *,
    product: str | None = "Granat 12",
    maker: str | None = "Vellmark",
    code: str | None = None,
    issued: str | None = "2023-04-01",
    revision: str | None = None,
    language: str | None = "en",
    kind: str | None = "primer.epoxy.2k",
    more_words: Sequence[str] = (),
    reader: str = "1",
    file: str = "granat.pdf",
) -> SheetReading:
    """A one-page reading whose page holds every claim's sentence and more_words, a line each."""
    sentences = [*dict.fromkeys(claim.evidence.quote for claim in claims), *more_words]
    lines = {sentence: line for line, sentence in enumerate(sentences)}
    placed = tuple(
        replace(claim, evidence=evidence(claim.evidence.quote, lines[claim.evidence.quote])) for claim in claims
    )
    header = SheetHeader(
        file=file, sha256="", pages=1, maker=maker, product=product, code=code, kind=kind, issued=issued,
        revision=revision, language=language,
    )  # fmt: skip
    page = PageText(1, PageGeometry(A4, A4, 0), words_of(sentences))
    return SheetReading(header, placed, (page,), (), reader)


STEEL = over("surface.steel", "Apply to clean bare steel")
ETCH_NO = over("primer.etch", "Do not apply over acid etch primers", stance=Stance.FORBIDS)
SEVEN_DAYS = window(60, 10080, "Overcoat from 1 h to 7 days at 20 °C")
FIVE_DAYS = window(60, 7200, "Overcoat from 1 h to 5 days at 20 °C")
THREE = (STEEL, ETCH_NO, SEVEN_DAYS)
