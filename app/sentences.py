"""A sentence of a sheet as it is shown anywhere: its words, whose they are, where they stand. No Qt."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from app.figure_words import page_words
from app.translating import translate
from app.verdict_words import standing_words
from app.wording import claim_words
from extract.claims import Box
from store.records import ClaimRecord, Proposal, Rule, RuleOrigin
from store.rules.answers import Citation, Standing

_SHAPES = {
    Standing.CONFIRMED: "confirmed",
    Standing.CORRECTED: "corrected",
    Standing.PROPOSED: "proposed",
    Standing.NAME_DOUBTFUL: "unconfirmed",
}


@dataclass(frozen=True, slots=True)
class Sentence:
    """quote as printed; said is what was read in it; standing in words with its shape beside."""

    claim_id: int
    sheet_id: int
    product: str
    page: int
    quote: str
    boxes: tuple[Box, ...]
    said: str
    standing: str
    shape: str
    waits: bool = False
    """Nobody has confirmed it, or it may name another product."""

    @property
    def quoted(self) -> str:
        return f"“{self.quote}”"

    @property
    def source(self) -> str:
        return f"{self.product}, {page_words(self.page)}"

    @classmethod
    def of_citation(cls, citation: Citation) -> Sentence:
        evidence, standing = citation.claim.evidence, citation.standing
        return cls(
            citation.id,
            citation.sheet.sheet_id,
            citation.sheet.product,
            evidence.page,
            evidence.quote,
            evidence.boxes,
            claim_words(citation.claim, citation.sheet.product),
            standing_words(standing),
            _SHAPES[standing],
            standing in {Standing.PROPOSED, Standing.NAME_DOUBTFUL},
        )

    @classmethod
    def of_source(cls, source: Rule | Proposal) -> Sentence:
        evidence = source.claim.evidence
        standing = Standing.PROPOSED
        if isinstance(source, Rule):
            standing = Standing.CORRECTED if source.origin is RuleOrigin.CORRECTED else Standing.CONFIRMED
        return cls(
            source.id,
            source.sheet.sheet_id,
            source.sheet.product,
            evidence.page,
            evidence.quote,
            evidence.boxes,
            claim_words(source.claim, source.sheet.product),
            standing_words(standing),
            _SHAPES[standing],
            isinstance(source, Proposal),
        )

    @classmethod
    def of_record(cls, record: ClaimRecord, product: str) -> Sentence:
        evidence, status = record.claim.evidence, record.status.value
        words = {"proposed": Standing.PROPOSED, "confirmed": Standing.CONFIRMED, "corrected": Standing.CORRECTED}
        standing = standing_words(words[status]) if status in words else translate("sentences", "rejected by you")
        return cls(
            record.id,
            record.sheet_id,
            product,
            evidence.page,
            evidence.quote,
            evidence.boxes,
            claim_words(record.claim, product),
            standing,
            status,
            status == "proposed",
        )


def one_each(sentences: Iterable[Sentence]) -> tuple[Sentence, ...]:
    """The same words on the same page once, however many claims were read in them."""
    found: dict[tuple[int, int, str], Sentence] = {}
    for sentence in sentences:
        found.setdefault((sentence.sheet_id, sentence.page, sentence.quote), sentence)
    return tuple(found.values())
