"""What the sheet says of the film on its own: water, weather, wet flatting, immersion, light, the need of a topcoat."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterator
from functools import cache
from importlib import resources
from typing import Any

from extract.claims import Claim, Condition, Stance, Topic, Why
from extract.clauses.guard import speaks_against
from extract.document import Document
from extract.finders.sayings import Saying, sayings, speaks_of_another
from extract.patterns import PatternMatch, patterns_for
from extract.phrases import Phrases, clause_around, compile_phrases
from extract.quantities import Quantity, find_quantities
from extract.sections import Sense
from extract.terms import SubjectNames, Vocabulary
from extract.units import Dimension

_ELSEWHERE = frozenset(
    {Sense.STORAGE, Sense.LEGAL, Sense.CLEANING, Sense.PACKAGING, Sense.FAULTS, Sense.SYSTEMS, Sense.MIXING}
)
"""Headings under which such words speak of tins, tools, mishaps or other products."""
_PRAISED = frozenset({Sense.ABOUT})


def find(document: Document, subject: SubjectNames, vocabulary: Vocabulary) -> Iterator[Claim]:
    """Claims of the topic exposure, at most one of each property, stance and figure."""
    best: dict[tuple[object, ...], Claim] = {}
    bound = vocabulary.bind(document, subject)
    for saying in sayings(document):
        if saying.senses and saying.senses <= _ELSEWHERE:
            continue
        for claim in _of_saying(saying, document.language, subject, bound):
            key = (claim.property, claim.stance, claim.high, claim.unlimited)
            known = best.get(key)
            if known is None or claim.confidence > known.confidence + 0.1:
                best[key] = claim
    yield from best.values()


def _of_saying(saying: Saying, language: str, subject: SubjectNames, vocabulary: Vocabulary) -> Iterator[Claim]:
    folded = _without(saying.passage.folded, _affirmed(language))
    matches: dict[tuple[str | None, Stance], list[PatternMatch]] = {}
    for spec in patterns_for(language, "exposure", folded):
        if spec.sections and not spec.sections & saying.senses:
            continue
        for match in spec.find(folded):
            start, end = clause_around(folded, match.start, match.end)
            if speaks_of_another(folded, match.start, start, vocabulary, subject.kind):
                continue
            if spec.stance is Stance.PERMITS and (
                _is_praise(saying, folded)
                or _denied(folded, start, match, language)
                or (spec.property != "wet_sanding" and _under_another(folded, start, end, language))
            ):
                continue
            matches.setdefault((spec.property, spec.stance), []).append(match)
    for (name, stance), found in matches.items():
        if stance is Stance.PERMITS and name != "outdoors" and (name, Stance.FORBIDS) in matches:
            # Both in one sentence: 'not waterproof, unlike ...'. The safer reading stands.
            continue
        found.sort(key=lambda m: -m.spec.confidence)
        claims = (_claim(saying, folded, match, language) for match in found)
        first = next((c for c in claims if c is not None), None)
        if first is not None:
            yield first


def _denied(folded: str, start: int, match: PatternMatch, language: str) -> bool:
    """True where a word before the phrase, in its own clause, speaks against it: 'Nothing so thin is waterproof'."""
    return speaks_against(folded[start : match.start], language)


def _under_another(folded: str, start: int, end: int, language: str) -> bool:
    """True where the clause speaks of the film under its topcoat: 'watertight once topcoated'."""
    words = _covered(language)
    return words is not None and words.search(folded, start, end) is not None


_VERB = re.compile(r"\b(?:is|are|forms?|gives?|makes?|keeps?|can|may|does|must|lets?|seals?|remains?|provides?)\b")


def _is_praise(saying: Saying, folded: str) -> bool:
    """A bullet without a verb in a description praises; it permits nothing."""
    return bool(saying.senses & _PRAISED) and (saying.is_bullet or not _VERB.search(folded))


def _claim(saying: Saying, folded: str, match: PatternMatch, language: str) -> Claim | None:
    spec = match.spec
    start, end = clause_around(folded, match.start, match.end)
    high: float | None = None
    unlimited = spec.text == "unlimited"
    timed = "quantity" in match.captured
    if timed:
        time = _time_at(folded, match.captured["quantity"][0])
        earliest = _earliest(language)
        if time is None or (earliest is not None and earliest.search(folded[: time.start])):
            return None
        high = min(v for v in (time.low, time.high) if v is not None)
    text = None if unlimited else spec.text
    return Claim(
        topic=Topic.EXPOSURE,
        property=spec.property,
        stance=spec.stance,
        conditions=tuple(dict.fromkeys((*spec.conditions, *_conditions(folded, start, end, language)))),
        high=high,
        unit="min" if timed or unlimited else None,
        unlimited=unlimited,
        text=text,
        evidence=saying.passage.evidence(start, end),
        confidence=spec.confidence - (0.15 if saying.senses & _PRAISED else 0.0),
        why=Why(f"exposure: {spec.name}", (), saying.cell),
    )


def _time_at(folded: str, start: int) -> Quantity | None:
    """The first time at or after start; none where another figure comes first."""
    for quantity in find_quantities(folded):
        if quantity.end > start and quantity.dimension is Dimension.TIME:
            return quantity
    return None


def _conditions(folded: str, start: int, end: int, language: str) -> Iterator[Condition]:
    for condition, regex in _wordings(language):
        if regex.search(folded, start, end):
            yield condition
    for quantity in find_quantities(folded):
        thin = quantity.dimension is Dimension.LENGTH and quantity.printed_unit in ("um", "mil")
        if thin and start <= quantity.start < end:
            yield Condition.THICKNESS_LIMITED


def _without(folded: str, phrases: tuple[str, ...]) -> str:
    """The text with these words blanked out, so that every place stays what it was."""
    for phrase in phrases:
        if phrase in folded:
            folded = folded.replace(phrase, " " * len(phrase))
    return folded


@cache
def _data(language: str) -> dict[str, Any]:
    path = resources.files("extract.vocabulary") / language / "exposure.toml"
    return tomllib.loads(path.read_text(encoding="utf-8")) if path.is_file() else {}


@cache
def _affirmed(language: str) -> tuple[str, ...]:
    return tuple(_data(language).get("affirmed", {}).get("words", ()))


@cache
def _earliest(language: str) -> Phrases | None:
    words = tuple(_data(language).get("earliest", {}).get("words", ()))
    return compile_phrases(words) if words else None


@cache
def _covered(language: str) -> Phrases | None:
    words = tuple(_data(language).get("covered", {}).get("words", ()))
    return compile_phrases(words) if words else None


@cache
def _wordings(language: str) -> tuple[tuple[Condition, Phrases], ...]:
    table = _data(language).get("conditions", {})
    return tuple((Condition(name), compile_phrases(tuple(phrases))) for name, phrases in table.items())
