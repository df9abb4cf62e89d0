"""What the sentences over a list of grounds set on its members: 'bare metal only', 'abrade as shown below'."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace

from extract.claims import Claim, Condition, Stance, Topic
from extract.clauses.conditions import find_conditions, tags
from extract.clauses.cues import cues
from extract.clauses.verdicts import Answer, read_verdict
from extract.document import Block, Passage, Statement, StatementKind
from extract.terms import Vocabulary

_STOP = re.compile(r"[^\W_]\.\s+(?=[A-Z])")
_SET_AHEAD = (Condition.CLEAN, Condition.ABRADED, Condition.CURED, Condition.SOUND, Condition.TESTED)
_SLIGHT = frozenset({Condition.CLEAN, Condition.SOUND})
_LONGEST_ANSWER, _LONGEST_NAME = 4, 8
"""Words of a line."""
_METAL = "surface.steel"
"""What 'bare metal' is filed under where no metal is named."""
_METALS = (_METAL, "surface.zinc", "surface.stainless", "surface.aluminium", "surface.copper")


def set_ahead(block: Block, vocabulary: Vocabulary) -> tuple[Condition, ...]:
    """The conditions that a sentence sets on the list that it points at, empty where it points at none."""
    if not isinstance(block, Statement) or block.kind is not StatementKind.SENTENCE:
        return ()
    folded = block.passage.folded
    if cues(vocabulary.language).ahead.search(folded) is None:
        return ()
    hits = [h for h in find_conditions(folded, vocabulary.mentions(block.passage.text)) if h.via is None]
    return tuple(c for c in tags(hits) if c in _SET_AHEAD)


def is_listed(block: Block) -> bool:
    """Whether a block is, or holds, members of a list."""
    return not isinstance(block, Statement) or block.kind is not StatementKind.SENTENCE


def goes_on(block: Statement, before: Statement | None) -> bool:
    """Whether a sentence goes on with what the label before it names: 'Stainless steel | P180. Make a test panel.'"""
    if before is None or block.label is None or before.label is None:
        return False
    return block.paragraph == before.paragraph and block.label.text == before.label.text


def set_on_label(said: Passage, vocabulary: Vocabulary) -> tuple[Condition, ...]:
    """The conditions that such a sentence sets on its label's ground; none where it speaks of a ground of its own."""
    mentions = vocabulary.mentions(said.text)
    if any(not m.is_self for m in mentions):
        return ()
    return tuple(c for c in tags(find_conditions(said.folded, mentions)) if c in _SET_AHEAD)


def told_further(block: Statement, vocabulary: Vocabulary) -> tuple[Condition, ...]:
    """As set_on_label, of the sentences behind the first in a field's value."""
    stop = _STOP.search(block.passage.text) if block.kind is StatementKind.FIELD else None
    if stop is None:
        return ()
    return set_on_label(block.passage.part(stop.end(), len(block.passage.text)), vocabulary)


def said_of_list(block: Block, before: Answer | None, language: str) -> Answer | None:
    """What a line alone answers for the names below it ('Not suitable'); before is what the last such line said.

    A line told at length ends what was said.
    """
    if not isinstance(block, Statement) or block.kind is not StatementKind.SENTENCE or block.label is not None:
        return before
    text = block.passage.text.strip(" :.")
    verdict = read_verdict(text, language=language) if len(text.split()) <= _LONGEST_ANSWER else None
    if verdict is not None and verdict.end >= len(text) and verdict.answer in (Answer.YES, Answer.NO):
        return verdict.answer
    return before if len(text.split()) <= _LONGEST_NAME else None


def refused(claims: Sequence[Claim]) -> list[Claim]:
    """The claims of names that stand under 'Not suitable': what they would permit is forbidden."""
    return [
        replace(c, stance=Stance.FORBIDS, conditions=(), via=None, only=False) if c.stance is Stance.PERMITS else c
        for c in claims
    ]


def given(claims: Sequence[Claim], conditions: Sequence[Condition]) -> list[Claim]:
    """The claims with conditions added to what this product may go over."""
    if not conditions:
        return list(claims)
    return [
        replace(c, conditions=tuple(k for k in Condition if k in {*c.conditions, *conditions}))
        if c.topic is Topic.GOES_OVER and c.stance is Stance.PERMITS
        else c
        for c in claims
    ]


def closed(section: Sequence[Claim]) -> list[Claim]:
    """A section's claims, where it opens with 'bare metal only' and then names the metals, each with what it needs.

    Each metal is then one of the only grounds; the leave in general falls where its own row sets more.
    """
    at = next((n for n, c in enumerate(section) if _is_general(c)), None)
    if at is None:
        return list(section)
    out: list[Claim] = []
    general = section[at]
    rows = [c for c in section[at + 1 :] if _permits_metal(c)]
    for n, claim in enumerate(section):
        if claim is general and any(c.object == _METAL and set(c.conditions) - _SLIGHT for c in rows):
            continue
        out.append(replace(claim, only=True) if n > at and _permits_metal(claim) else claim)
    return out


def _is_general(claim: Claim) -> bool:
    return claim.only and claim.object == _METAL and _permits_metal(claim) and not set(claim.conditions) - _SLIGHT


def _permits_metal(claim: Claim) -> bool:
    return (
        claim.topic is Topic.GOES_OVER and claim.stance is Stance.PERMITS and (claim.object or "").startswith(_METALS)
    )
