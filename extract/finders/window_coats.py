"""Whose window the times of a sentence are: the next coats that it names, and whether it is about this film at all."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass

from extract.claims import SELF, Topic
from extract.clauses.cues import Cues
from extract.clauses.frames import Found
from extract.clauses.guard import speaks_against
from extract.mention import Mention

_UNDERNEATH = ("surface.", "finish.", "treatment.")


@dataclass(frozen=True, slots=True)
class NextCoat:
    """A coat named at start..end, which may go on; begin is where the words that say so begin."""

    start: int
    end: int
    object: str | None
    begin: int
    words: str
    permitted: bool = False


def next_coats(
    folded: str, mentions: Sequence[Mention], found: Sequence[Found], own_kind: str | None, known: Cues
) -> tuple[list[NextCoat], bool]:
    """The coats that the sentence's times may be for, and whether it leaves no coat that it names unexplained.

    found is what the sentence reader makes of it. A coat that it does not permit counts where the words around it
    can only mean the next one ('X can be applied after 20 min', 'overcoat with X within 3 days'): a window is no
    permission, but a window for any coat must not be read out of words on one in particular.
    """
    coats = [
        NextCoat(f.mention.start, f.mention.end, f.mention.object, f.start, f.mention.words, permitted=True)
        for f in found
        if f.topic is Topic.TOPPED_BY and not f.forbids and f.via is None
    ]
    coats = [
        c
        for c in coats
        if not known.window["through"].match(folded[c.end :].lstrip(" ,")) and not _is_degree(folded, c.start)
    ]
    spoken = {f.mention.start for f in found}
    taken = [(c.start, c.end) for c in coats]
    clear = True
    for m in mentions:
        if _is_degree(folded, m.start):
            continue
        if m.start in spoken or m.is_self or m.object.startswith(_UNDERNEATH) or m.object.startswith("family."):
            continue
        listed = bool(coats) and _AND.fullmatch(folded[coats[-1].end : m.start]) is not None
        if listed or _follows(folded, m, known):
            coats.append(NextCoat(m.start, m.end, m.object, m.start, m.words))
            taken.append((m.start, m.end))
        elif not _is_own_kind(m, own_kind):
            clear = False  # but a word for this product's own kind may well be its own film
    for m in mentions:
        further = known.window["further_of"].search(folded[: m.start]) if m.is_self and not m.pronoun else None
        if further is not None:
            coats.append(NextCoat(m.start, m.end, SELF, further.start(), m.words))
    own = known.window["own"].search(folded)
    if own is not None and known.window["flash"].search(folded, folded.rfind(";", 0, own.start()) + 1, own.end()):
        own = None  # 'flash 10 min between coats; recoat within 7 days'
    if own is not None and not any(c.object == SELF or (c.start < own.end() and own.start() < c.end) for c in coats):
        coats.append(NextCoat(own.start(), own.end(), SELF, own.start(), own.group()))
    return sorted(coats, key=lambda c: c.start), clear


_AND = re.compile(r"(?:s?,| or| and| and/or|, or|, and| ?/) ?(?:an? |the |any )?")


def _is_degree(folded: str, start: int) -> bool:
    """Whether a name is a degree's letter with the figure behind it ('10 °C 24 h')."""
    return folded[max(0, start - 1) : start] in ("°", "º")


def _is_own_kind(m: Mention, own_kind: str | None) -> bool:
    """Whether the words may as well mean this product's own film."""
    if own_kind is None:
        return False
    # A surfacer's sheet calls its film the primer or the filler as well.
    loosely = own_kind.startswith("surfacer") and m.object in ("primer", "filler")
    return loosely or f"{own_kind}.".startswith(f"{m.object}.")


def _follows(folded: str, m: Mention, known: Cues) -> bool:
    """Whether the words around a coat can only mean that it is the next one."""
    left = max(folded.rfind(sign, 0, m.start) for sign in (";", ". ", "("))
    right = min((at for sign in (";", ". ", ", not ") if (at := folded.find(sign, m.end)) >= 0), default=len(folded))
    if speaks_against(_mild(folded[left + 1 : right], known)):
        return False
    before, behind = folded[left + 1 : m.start], folded[m.end : right]
    if re.fullmatch(r"top[- ]?coat", m.words.lower()) and known.window["as_verb"].match(behind.lstrip()):
        return True
    if known.window["next_before"].search(before[-40:]):
        return True
    said = known.window["next_behind"].match(behind.removeprefix("ing").removeprefix("s").lstrip(" ,:"))
    return said is not None and not known.window["onto"].search(behind[:80])


def _mild(clause: str, known: Cues) -> str:
    """The clause without the denials that only bound a time ('no later than', 'without sanding')."""
    return known.window["mild"].sub(lambda m: " " * len(m.group()), clause)


def keeps_closed(folded: str, known: Cues) -> bool:
    """Whether a span of time is one in which the film must be left alone: the reverse of a window."""
    return known.window["closed"].search(_mild(folded, known)) is not None


def is_of_another_film(
    folded: str, mentions: Sequence[Mention], permitted: Sequence[NextCoat], own_kind: str | None, known: Cues
) -> bool:
    """Whether the sentence tells when another film may be painted: an older recipe's, or another product's."""
    if known.window["elsewhere"].search(folded):
        return True
    first = next((m for m in mentions if not m.object.startswith(_UNDERNEATH)), None)
    if (
        first is None
        or first.is_self
        or first.start > 30
        or _is_own_kind(first, own_kind)
        or any(m.is_self for m in mentions if not m.pronoun)
    ):
        return False
    if any(c.permitted and c.start == first.start for c in permitted):
        return False
    return known.window["is_covered"].match(re.sub(r"^\s*\([^)]*\)", "", folded[first.end :]).lstrip(" :,")) is not None
