"""The values that a sentence is taken apart into: clauses, frames, and the coats found in them."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace

from extract.claims import Condition, Topic
from extract.mention import OTHER, THIS
from extract.terms import Mention


@dataclass(frozen=True, slots=True)
class Frame:
    """What a clause, a lead-in or a heading says of the coats that are listed under it."""

    topic: Topic | None
    forbids: bool = False
    only: bool = False
    plain: bool = False
    """True where it only sets a direction (a heading), and grants nothing to a list by itself."""
    pattern: str = ""
    tentative: bool = False
    """A direction taken from the heading alone."""


@dataclass(frozen=True, slots=True)
class Found:
    """One coat that a sentence speaks of, with the span of the words that say it."""

    mention: Mention
    topic: Topic
    forbids: bool
    start: int
    end: int
    pattern: str
    only: bool = False
    conditions: tuple[Condition, ...] = ()
    via: Mention | None = None
    confidence: float = 0.8


@dataclass(frozen=True, slots=True)
class Clause:
    start: int
    end: int
    joint: str
    """What parts it from the clause before: '.', ';', ':', 'but', 'nor', ',' or ''."""


_JOINTS = re.compile(
    r"(?P<but>,? but (?!not\b|never\b|also\b)|,? whereas |,? while |,? however,? |"
    r",? and (?=only (?:with|by|over|on|under) [^.;:]*\ue001))|(?P<nor>[,;]? ?\bnor(?: yet)? |"
    r", (?:but |and |whereas )?(?=[^,;:.]*\ue001[^,;:.\ue000]* (?:is|are|may|can|do|does|will)(?: not|n't)\W*$))"
    r"|(?P<semi>; )|(?P<colon>:(?: |$)(?! *(?:neither|never|not|no|only)\b[^.;:\ue001]*\ue000)|"
    r" - (?=[a-z\ue000-\ue003]))"
    r"|(?P<stop>(?<!e\.g)(?<!i\.e)(?<!max)(?<!min)(?<!approx)(?<!hrs)(?<!\bhr)[.!?](?= |$))"
    r"|(?P<and>,? (?:and|or) (?=(?:do not|don't|never|must not|not|is not|are not|should not|may not|cannot|may be|"
    r"can be|must be|avoid) ))"
    r"|(?P<own>,? and (?=(?:in (?:all|any|every) cases?,? |always )?(?:the )?\ue000+ "
    r"(?:must|should|may|can|is|are|will|does|has|goes)\b))"
    r"|(?P<turn>,? and (?=(?:also )?(?:over|on top of|under|beneath|underneath) [^.;:]*\ue001))"
    r"|(?P<too>,? (?:or|and) (?=as (?:an? |the )?(?:[\w-]+ ){0,2}?(?:primer|base|undercoat|ground)(?: coat)? "
    r"(?:for|under|beneath) [^.;:]*\ue001))"
    r"|(?P<then>, then )|(?P<apart>(?<=excluded), |(?<=excepted), )"
)


def moved(mention: Mention, by: int) -> Mention:
    """The mention with its offsets shifted, for a part of the text."""
    return replace(mention, start=mention.start + by, end=mention.end + by)


_COVERS = re.compile(r"(?:[\w']+ ){1,3}(?:top|over|re)[- ]?coat(?:ed)?\b")
_OVER = re.compile(r"\b(?:over|on top of)\b")
_UNDER = re.compile(r"\b(?:under|beneath|underneath)\b")


def _other_side(before: str, behind: str) -> bool:
    """'For use under X and over Y' turns from one side of the coat to the other."""
    word = behind.split(maxsplit=1)[0]
    if word == "also":
        word = behind.split()[1]
    under = _UNDER.match(word) is not None
    here, there = (_UNDER, _OVER) if under else (_OVER, _UNDER)
    return there.search(before) is not None and here.search(before) is None


def split_clauses(signs: str) -> list[Clause]:
    """The clauses of a marked sentence; brackets stay with their clause."""
    out: list[Clause] = []
    start, joint = 0, ""
    for match in _JOINTS.finditer(signs):
        if signs.count("(", 0, match.start()) > signs.count(")", 0, match.start()):
            continue
        kind = match.lastgroup or ""
        if kind == "nor" and "neither" in signs[start : match.start()]:
            continue
        if kind == "turn" and not _other_side(signs[start : match.start()], signs[match.end() :]):
            continue
        told = re.search(f"[{THIS}{OTHER}]", signs[match.end() :]) or _COVERS.match(signs, match.end())
        if kind == "and" and not told:
            continue
        out.append(Clause(start, match.start(), joint))
        start, joint = match.end(), kind
    out.append(Clause(start, len(signs), joint))
    return [c for c in out if c.end > c.start]


_BAD_STATE = re.compile(
    r"\b(?:damp|wet|moist|uncured|un-?sanded|unsound|loose|flaking|peeling|fresh|freshly \w+|greasy|dirty|frozen|hot|"
    r"soft|cold|undried|blistered|chalky|chalking|poorly \w+|insufficiently \w+|"
    r"not (?:fully |completely )?(?:cured|dry|hard)|perished|cracked|crazed|delaminating|untreated) $"
)


_BAD_STATE_BEHIND = re.compile(
    r",? (?:that|which|if|when|whose|where)\b(?: \w+)?(?: (?:has|have|is|are|was|were|had|been|not|already|still))+ "
    r"(?:\w+ ){0,2}?(?:wet|damp|not (?:fully |yet )?(?:cured|dr\w+|hard\w*|sanded|prepared|"
    r"cleaned|degreased)|uncured|unsanded|soft|loose|fresh|contaminated|sanded through|chalk\w*|flak\w*|"
    r"dirty|too)\b"
    r"|,? (?:(?:that|which) (?:is|are) )?in (?:a )?(?:poor|bad|doubtful) (?:condition|state|order)\b"
    r"|,? (?:that|which) (?:has|have|is|are) not (?:yet |been |fully |first |properly ){0,3}"
    r"(?!seal|follow|cover|over-?coat|isolat|prim|top-?coat|coat)\w+ed\b"
)


_NOUN_BEHIND = re.compile(
    r"^ (?:finish(?:es)?|paints?|coatings?|surfaces?|films?|layers?|substrates?|areas?|parts?)(?= )"
)
_WORKED_BEHIND = re.compile(
    r",? (?:that|which) (?:has|have|is|are)(?: already| previously| once)?(?: been)? "
    r"(?:sanded|abraded|flatted|scuffed|polished|cured|hardened|stoved|baked)(?! through)\b"
)


def state_meant(text: str, end: int) -> int:
    """The end of 'that have been sanded' right behind a list, or 0: where that is forbidden, it is in that state."""
    match = _WORKED_BEHIND.match(text[end:])
    return end + match.end() if match is not None else 0


def in_bad_state(text: str, at: int, end: int | None = None) -> bool:
    """True where only a bad state of the thing is meant ('damp filler'): no rule on the thing itself."""
    behind = end is not None and _BAD_STATE_BEHIND.match(_NOUN_BEHIND.sub("", text[end:])) is not None
    return behind or _BAD_STATE.search(text[:at]) is not None
