"""Cautions that the sheet prints: isocyanates, air-fed masks, professionals only, fire, chromate, lead.

What a sheet says to be absent ('free of', 'contains no', 'lead-free') is no claim.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cache
from importlib import resources

from extract.claims import Claim, Topic, Why
from extract.document import Document, Table
from extract.figures.strangers import components_of, is_only_for_another, is_subject_another
from extract.finders.sayings import sayings
from extract.patterns import PatternMatch, patterns_for
from extract.phrases import Phrases, clause_around, compile_phrases
from extract.sections import Sense
from extract.terms import Mention, SubjectNames, Vocabulary

_DENIABLE = frozenset({"isocyanate", "chromate", "lead", "flammable", "air_fed"})
_LISTED = frozenset({"isocyanate", "chromate", "lead"})
"""Things that stand in lists, so that a denial reaches over the commas ('no lead, chromate or isocyanate')."""
_ITEM = re.compile(
    r"\b(?:poly|di)?-?isocyanates?|\bhdi\b|\bchrom\w+|\bhexavalent|\bchrome\b|\blead\b|\b(?:in)?flammable"
    r"|\b(?:air|breathing|respirator\w*|mask|hood)\b"
)


_OPENING = 10
"""Characters that may stand before a product's name at the head of a sentence."""
_NEAR = 8
"""Words before a thing among which a denial is sought where no verb opens a stretch ('free from lead and ...')."""
_FAR = 6
"""The same, before the verb ('neither the base nor the hardener contains ...')."""


@dataclass(frozen=True, slots=True)
class _Denial:
    before: Phrases
    after: Phrases
    afresh: Phrases
    affirmed: Phrases


def find(document: Document, subject: SubjectNames, vocabulary: Vocabulary) -> Iterator[Claim]:
    """Claims of the topic safety, one of each property: the surest, and of equals the first under a safety heading."""
    bound = vocabulary.bind(document, subject)
    every = list(sayings(document))
    heads = [c.passage for b in document.blocks if isinstance(b, Table) for stack in b.heads for c in stack]
    own = components_of((*(s.passage for s in every), *heads), bound) | {
        m.object
        for s in every
        if Sense.MIXING in s.senses
        for m in bound.mentions(s.passage.text)
        if m.is_product  # what is mixed in is part of it
    }
    best: dict[str, tuple[float, Claim]] = {}
    denial = _denial(document.language)
    for saying in every:
        folded = saying.passage.folded
        mentions = bound.mentions(saying.passage.text)
        another = is_subject_another(folded, mentions) or _is_headed_by_another(folded, mentions)
        strange = another and not any(m.object in own for m in mentions)
        if strange or is_only_for_another(folded, mentions):
            continue
        for spec in patterns_for(document.language, "safety", folded):
            for match in spec.find(folded):
                name = spec.property or ""
                if denial is not None and name in _DENIABLE and _denied(folded, match, denial):
                    continue
                start, end = clause_around(folded, match.start, match.end)
                at_home = Sense.SAFETY in saying.senses
                claim = Claim(
                    topic=Topic.SAFETY,
                    property=name,
                    stance=spec.stance,
                    evidence=saying.passage.evidence(start, end),
                    text=spec.text,
                    confidence=spec.confidence if at_home else spec.confidence - 0.05,
                    why=Why(f"safety: {spec.name}", (), saying.cell),
                )
                rank = claim.confidence
                if name not in best or rank > best[name][0]:
                    best[name] = (rank, claim)
                break
    for _, claim in best.values():
        yield claim


def _is_headed_by_another(folded: str, mentions: Sequence[Mention]) -> bool:
    """'Clear C 9: hardener contains isocyanate'"""
    first = next((m for m in mentions if not m.pronoun), None)
    if first is None or first.is_self or not first.is_product:
        return False
    return first.start <= _OPENING and folded[first.end :].lstrip().startswith(":")


def _denied(folded: str, match: PatternMatch, denial: _Denial) -> bool:
    """Whether the thing that the phrase names is said to be absent or not needed."""
    clause_start, clause_end = clause_around(folded, match.start, match.end)
    items = list(_ITEM.finditer(folded, match.start, match.end))
    item_start, item_end = items[-1].span() if items else (match.start, match.end)
    if denial.affirmed.search(folded, clause_start, item_end):
        return False
    if denial.after.match(folded[item_end:].lstrip(" -")):
        return True
    if match.spec.property == "air_fed" and denial.after.search(folded, item_end, clause_end):
        return True
    start = max(clause_start, _words_back(folded, item_start, _NEAR))
    if match.spec.property not in _LISTED:
        start = max(start, folded.rfind(",", clause_start, match.start) + 1)
    for opening in denial.afresh.finditer(folded, clause_start, item_start):
        comma = folded.rfind(",", clause_start, opening.start())
        start = max(comma + 1, clause_start, _words_back(folded, opening.start(), _FAR))
    return denial.before.search(folded, start, item_start) is not None


def _words_back(folded: str, at: int, words: int) -> int:
    """Where the given number of words before folded[at:] begin."""
    starts = [m.start() for m in re.finditer(r"\S+", folded[:at])]
    return starts[-words] if len(starts) >= words else 0


@cache
def _denial(language: str) -> _Denial | None:
    path = resources.files("extract.vocabulary") / language / "safety.toml"
    if not path.is_file():
        return None
    table = tomllib.loads(path.read_text(encoding="utf-8"))["denial"]
    return _Denial(**{name: compile_phrases(tuple(phrases)) for name, phrases in table.items()})
