"""Permissions that a sentence only seems to give: an idle word, or something near it that speaks against it."""

from __future__ import annotations

import re
from collections.abc import Sequence

from extract.claims import Topic
from extract.clauses.frames import Found, Frame
from extract.clauses.guard import speaks_against, withheld
from extract.document import Statement, StatementKind
from extract.sections import Sense
from extract.terms import Mention

_PRIMED_BEHIND = re.compile(
    r",? \(?(?:well |suitably |properly |previously |first )?(?:pre-?)?(?:primed|undercoated)\b"
)
"""'Steel, primed': the primer is what is met."""
_WITH_PRIMER = re.compile(r"\W*(?:with|after|upon|over|on top of) (?:(?!out\b)[^:,.;]){2,40}: ")
"""'With primer P: aluminium, steel': what stands behind the colon is not met directly."""

_ELSEWHERE = re.compile(
    r"\W*(?:for|with|on|over) [^,;:.]{2,60}, ?(?:please )?(?:see|contact|consult|ask|refer|call|use|take|choose|read|"
    r"(?:an)?other|we (?:recommend|advise|offer|have))\b"
)
"""'For zinc, see W-12': the sheet sends the reader away."""

_SEALED = "first sealed with another"
"""The assertion that gives leave only over the coat that it names."""
_ACCOUNTED = ("isolated", "unless", "nothing but that", "except", "either")
"""Patterns that read a negation for what it grants."""


def spoken_against(
    found: Found, block: Statement, folded: str, mentions: Sequence[Mention], *, marked: bool, language: str
) -> bool:
    """True for a permission beside which the guard finds a word against it."""
    if not found.forbids and found.pattern.startswith(_SEALED) and found.via is None:
        return True
    if found.forbids or found.pattern.endswith(_ACCOUNTED):
        return False
    words = folded[max(0, found.mention.start - 12) : found.mention.end]
    surface = found.topic is Topic.GOES_OVER and found.mention.object.startswith("surface.") and found.via is None
    if surface and re.search(r"(?<!\w)(?<!un-)(?:pre-?)?(?:primed|undercoated)\b[^,.;]*$", words):
        return True
    if surface and _PRIMED_BEHIND.match(folded, found.mention.end):
        return True
    if surface and _WITH_PRIMER.match(folded):
        return True
    elsewhere = _ELSEWHERE.match(folded) if found.via is None else None
    if elsewhere is not None and found.mention.end <= elsewhere.end():
        return True
    if block.lead is not None and not marked and speaks_against(block.lead.folded.rsplit(". ", 1)[-1], language):
        return True
    others = [m.start for m in mentions if not m.is_self and m.start >= found.mention.end]
    span = (found.mention.start, found.mention.end)
    given = bool(found.conditions)
    return withheld(folded, span, others, conditions=given, only=found.only, language=language) is not None


_MODAL = re.compile(
    r"\b(?:may|can|could|must|should|shall|will (?:go|take|cover)|apply|use|suitable|recommend\w*|approved|compatible|"
    r"permitted|allowed|"
    r"(?:is|are|be) (?:\w+ )?(?:applied|used|put|sprayed|laid)|over-?coat\w*|re-?coat\w*|top-?coat\w*|cover\w*)\b"
    r"|^\W*(?:used|applied)\b|\b(?:shoot|spray|lay|put|brush|roll|knife|spread|go|admits?|"
    r"follows?|accepts?|takes?|receives?|tolerates?|repaint\w*|overpaint\w*|fine|ok|okay|shot|wait|"
    r"putting|applying|spraying|holds?|adheres?)\b"
    r"|\bfor (?:direct )?(?:application|use)\b|\bgoes?\b"
    r"|^\W*(?:over|on|upon)\b.*?,? (?:first|always|make|test|try|scuff|sand|degrease|abrade)\b"
    r"|\bonly (?:after|with|if|when|once)\b|\bgoes (?:\w+ )?(?:over|on|onto|under)\b"
)


_MUST = re.compile(
    r"\b(?:must|always|has to|have to|needs? to|is to|are to)\b[^.;]{0,30}"
    r"\b(?:cover|overcoat|over-?paint|top-?coat|finish|seal|protect|paint)(?:ed)? (?:over )?(?:with|by)\b"
    r"|\b(?:must|has to|have to|is to|needs to)(?: always)? be followed by\b"
)
"""A finish that must follow: which one the sheet says elsewhere."""
_ARTICLES = 2
"""Words between 'must be covered with' and the finish."""
_HOLDS_TOPS = re.compile(
    r"\b(?:adhesion|bond|grip|key|hold) (?:to|for|of|with|on) (?:the |all |any |most |our |following )*$"
)
"""'Good adhesion to the finish coats' is said of what comes later, not of old paint."""
_MEANT = re.compile(
    r"\b(?:intended|meant|designed|supposed|needs?|has|have|must|ought|required|expected)(?: always)?(?: to)? "
    r"(?:be given|receive|take|accept) (?:an? |its |the )?(?:[\w-]+ ){0,2}$"
)
"""'Intended to receive a finish coat' tells that one is needed, not that any will do."""
_TOLD = re.compile(r"\b(?:was|were|had|came|has come|have come|went|gave|showed|turned)\b")
"""A story of what was done once grants nothing."""
_NEEDED = re.compile(r"\b(?:is|are|be) (?:\w+ )?(?:needed|required|necessary|obligatory|mandatory|indispensable)\b")


def must_follow(found: Found, folded: str) -> bool:
    """'It is not UV-proof and must be covered with a topcoat': what must follow is not what is denied."""
    if found.topic is not Topic.TOPPED_BY or not found.forbids:
        return False
    match = next((m for m in _MUST.finditer(folded) if m.end() <= found.mention.start), None)
    return (
        match is not None
        and len(folded[match.end() : found.mention.start].split()) <= _ARTICLES
        and "not" not in match.group()
    )


def idle(found: Found, block: Statement, senses: frozenset[Sense], folded: str, given: Frame | None) -> bool:
    """True for a permission that the sentence only seems to give: a question, a note to a table, a description."""
    if _TOLD.search(folded) and _MODAL.search(folded) is None:
        return True
    if found.mention.object == "topcoat" and found.topic is Topic.TOPPED_BY and _MUST.search(folded):
        return True
    if found.topic is Topic.TOPPED_BY and found.via is None and _NEEDED.search(folded[found.start : found.end]):
        return True
    if (
        found.topic is Topic.GOES_OVER
        and found.mention.object == "topcoat"
        and (_HOLDS_TOPS.search(folded, 0, found.mention.start))
    ):
        return True
    if found.pattern == "this accepts that" and _MEANT.search(folded, 0, found.mention.start):
        return True
    if found.pattern == "this accepts that" and senses & {Sense.ABOUT} and not found.conditions:
        return True
    if folded.rstrip().endswith("?") or (block.mark and block.kind is StatementKind.SENTENCE):
        return True
    headed = given is not None and given.topic is found.topic
    if not headed and not senses & {Sense.GOES_OVER, Sense.TOPPED_BY, Sense.OVERCOATING}:
        plain = "over that" not in found.pattern and "over this" not in found.pattern and "under" not in found.pattern
        return found.confidence < 0.8 or (not plain and _MODAL.search(folded[_from(found, folded) : found.end]) is None)
    return False


def _from(found: Found, folded: str) -> int:
    """Where the words begin that say it: '...; on red oxide' goes on with the verb of the clause before."""
    goes_on = re.match(r"(?:and |or )?(?:on|over|onto|upon)\b", folded[found.start :])
    return folded.rfind(". ", 0, found.start) + 1 if goes_on else found.start
