"""What to do meanwhile: the advice that goes with an answer, as plain values (app/wording.py has the words)."""

from __future__ import annotations

from store.records import OwnRule
from store.rules.answers import Advice, AdviceKind, Citation, Part, Silence, Standing, Word
from store.rules.reach import KindParty, Party


def advice_for(
    word: Word,
    lower: Party,
    upper: Party,
    citations: tuple[Citation, ...],
    silences: tuple[Silence, ...],
    pending: tuple[Citation, ...],
    own: tuple[OwnRule, ...],
    *,
    exceptions: tuple[Citation, ...] = (),
    broad: tuple[Citation, ...] = (),
) -> tuple[Advice, ...]:
    """Most useful first."""
    advice: list[Advice] = []
    advice += [
        Advice(AdviceKind.PUT_BETWEEN, via=citation.claim.via, citation=citation)
        for citation in citations
        if citation.part is Part.ISOLATES
    ]
    if word == "disputed":
        advice.append(Advice(AdviceKind.SETTLE))
    if word == "no":
        closing = next((citation for citation in citations if citation.part is Part.CLOSES), None)
        if closing is not None:
            advice.append(Advice(AdviceKind.CLOSED_LIST, citation=closing))
    advice += [Advice(AdviceKind.EXCEPTION, citation=citation) for citation in exceptions]
    advice += [Advice(AdviceKind.BROAD, name=party_kind(lower), citation=citation) for citation in broad[:1]]
    advice += _on_pending(word, pending)
    if word in {"silent", "unconfirmed"}:
        advice += _on_silence(word, lower, upper, silences)
    return tuple(dict.fromkeys(advice))


def party_kind(party: Party) -> str:
    """The party's kind by its id, empty where it is not known."""
    return party.kind or ""


def _on_pending(word: Word, pending: tuple[Citation, ...]) -> list[Advice]:
    doubtful = next((citation for citation in pending if citation.standing is Standing.NAME_DOUBTFUL), None)
    advice = []
    if doubtful is not None:
        advice.append(Advice(AdviceKind.SETTLE_NAME, citation=doubtful))
    if word == "unconfirmed" and any(citation.standing is Standing.PROPOSED for citation in pending):
        advice.append(Advice(AdviceKind.CONFIRM))
    if word in {"yes", "yes_if"}:
        against = next((citation for citation in pending if citation.part is not Part.PERMITS), None)
        if against is not None:
            advice.append(Advice(AdviceKind.PENDING_AGAINST, citation=against))
    return advice


def _on_silence(word: Word, lower: Party, upper: Party, silences: tuple[Silence, ...]) -> list[Advice]:
    if isinstance(lower, KindParty) and isinstance(upper, KindParty):
        return [Advice(AdviceKind.NAME_A_PRODUCT)]
    advice = [Advice(AdviceKind.NO_SHEET, name=silence.name) for silence in silences if not silence.has_sheet]
    for party in (lower, upper):
        if not isinstance(party, KindParty) and party.kind is None:
            advice.append(Advice(AdviceKind.NO_KIND, name=party.name))
    if word == "silent":
        advice.append(Advice(AdviceKind.SILENT))
    return advice
