"""goes_over out of chapters on preparation, which tell by the way what a coat may go over.

'Bare steel. Degrease, sand with P120 and prime' is leave to put the product there, so prepared. It is weaker than what
a sheet says where it speaks of its grounds, and yields to it.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cache
from importlib import resources

from extract.claims import Claim, Condition, Stance, Topic, Why
from extract.clauses.conditions import find_conditions, tags, via_of
from extract.clauses.cues import marked
from extract.clauses.frames import in_bad_state
from extract.clauses.guard import withheld
from extract.document import Document, Passage, Statement, fold
from extract.mention import OTHER, THIS
from extract.sections import Sense, sense_of, sense_of_text
from extract.terms import Mention, Vocabulary

_NO_GROUND = r"(?!(?:with|using|by|from|to|of|in|on|for|until|before|after|and|the same)\b)"
_JOINT = r"(?:,|/|;|,? and|,? or|,? &|,? as well as) ?(?:[\w-]+ ){0,2}?"
_HEAD = rf"(?:{_NO_GROUND}[\w'-]+ ){{0,3}}?(?P<ground>{OTHER}+(?:{_JOINT}{OTHER}+)*)"
_START = rf"^[^\w{OTHER}{THIS}]*"
_STATE = rf"[^.:;{OTHER}{THIS}]{{0,60}}?"
_WORKED = frozenset({Condition.ABRADED, Condition.CURED})
_OTHER_SENSES = frozenset({Sense.OWN_FILM, Sense.OVERCOATING, Sense.TOPPED_BY, Sense.GOES_OVER, Sense.MIXING})


@dataclass(frozen=True, slots=True)
class _Words:
    led: re.Pattern[str]
    ordered: re.Pattern[str]
    removed: re.Pattern[str]
    stripped: re.Pattern[str]
    against: re.Pattern[str]
    prime: re.Pattern[str]
    applied: re.Pattern[str]
    means: re.Pattern[str]
    blasted: re.Pattern[str]
    before: re.Pattern[str]


@cache
def _words(language: str) -> _Words | None:
    path = resources.files("extract.vocabulary").joinpath(language, "grounds.toml")
    if not path.is_file():
        return None
    raw: dict[str, list[str]] = tomllib.loads(path.read_text("utf-8"))

    def either(name: str) -> str:
        return "|".join(sorted(raw[name], key=len, reverse=True))

    verbs = either("verbs")
    ground = _HEAD.replace("(?P<ground>", "(?:")
    return _Words(
        led=re.compile(rf"{_START}{_HEAD}{_STATE}(?P<turn>{either('turn')})(?P<rest>.*)$"),
        ordered=re.compile(
            rf"{_START}(?:{verbs})(?:(?:,|,? and|,? then|,? or) (?:\w+ )?(?:{verbs}))* (?:and (?:degrease|clean) )?"
            rf"(?:all |any |the |every )*{_HEAD}(?P<rest>.*)$"
        ),
        removed=re.compile(either("removed").replace("{ground}", ground)),
        stripped=re.compile(either("stripped").replace("{ground}", ground)),
        against=re.compile(rf"\b(?:{either('against')})\b"),
        prime=re.compile(rf"\b(?:{either('prime')})"),
        applied=re.compile(rf"\b(?:{either('applied')}) (?:(?:an?|the|our|one coat of) )?(?:[\w-]+ )?$"),
        means=re.compile(rf"\b(?:{either('cleaning')})\b[^.;,]*\b(?:with|using|by) (?:the |our )?$"),
        before=re.compile(rf"\b(?:{either('before')})\b"),
        blasted=re.compile(rf"\b(?:{either('blasted')})\b"),
    )


@dataclass(frozen=True, slots=True)
class _Unit:
    """A ground with what is to be done to it, in one sentence or under a label."""

    passage: Passage
    grounds: tuple[Mention, ...]
    told: str
    mentions: tuple[Mention, ...]
    """Of the whole passage."""
    start: int
    """Where in it the instruction begins."""


def claims(document: Document, vocabulary: Vocabulary, known: Iterable[Claim]) -> Iterator[Claim]:
    """What the chapters on preparation permit or forbid of what the rest of the sheet, known, says nothing of."""
    words = _words(vocabulary.language)
    told = [c for c in known if c.topic is Topic.GOES_OVER]
    if words is None or any(c.only for c in told):
        return
    out: dict[tuple[str, Stance], Claim] = {}
    refused: set[str] = set()
    for block in document.blocks:
        if not isinstance(block, Statement) or not _on_preparation(block, words, vocabulary):
            continue
        for claim in _removed(block, words, vocabulary, document.scanned):
            out.setdefault((claim.object or "", claim.stance), claim)
        unit = _unit(block, words, vocabulary)
        if unit is None:
            continue
        if words.against.search(unit.told) and not any(m.is_self for m in unit.mentions):
            refused.update(m.as_found() for m in unit.grounds)
            continue
        for claim in _permitted(unit, words, vocabulary, document.scanned):
            out.setdefault((claim.object or "", claim.stance), claim)
    for claim in out.values():
        if claim.stance is Stance.PERMITS and (
            claim.object in refused or any(c.stance is Stance.FORBIDS and _akin(c, claim) for c in out.values())
        ):
            continue
        if not any(_akin(t, claim) and (t.object == claim.object or _binds(t)) for t in told):
            yield claim


def _binds(claim: Claim) -> bool:
    return claim.stance is Stance.FORBIDS or Condition.ISOLATED in claim.conditions


def _akin(a: Claim, b: Claim) -> bool:
    one, two = a.object or "", b.object or ""
    return one == two or one.startswith(f"{two}.") or two.startswith(f"{one}.")


def _on_preparation(block: Statement, words: _Words, vocabulary: Vocabulary) -> bool:
    senses = sense_of(block.section, vocabulary.language)
    if not senses & _OTHER_SENSES and words.before.search(block.passage.folded):
        return True
    if block.label is not None and block.label.text == block.section.title.text:
        # 'Surface preparation > Panel steel': the innermost heading is the ground itself.
        around = block.section.headings[-2:-1]
        senses = frozenset().union(*(sense_of_text(h.text, vocabulary.language) for h in around))
    return Sense.PREPARATION in senses and not senses & _OTHER_SENSES


def _unit(block: Statement, words: _Words, vocabulary: Vocabulary) -> _Unit | None:
    text = block.passage.text
    mentions = vocabulary.mentions(text)
    signs = marked(fold(text), mentions)
    for pattern in (words.led, words.ordered):
        match = pattern.match(signs)
        if match is not None:
            # 'Old paint: sound alkyd coatings should be sanded' is about the alkyd.
            inner = pattern.match(" " * match.start("rest") + signs[match.start("rest") :])
            match = inner or match
            here = tuple(m for m in mentions if match.start("ground") <= m.start < match.end("ground"))
            return _Unit(block.passage, here, fold(text), mentions, match.start("rest"))
    label = block.label
    if label is not None and label.text.strip() != text.strip():
        named = vocabulary.mentions(label.text)
        bare = re.fullmatch(rf"{_START}{_HEAD}{_STATE}[^\w]*", marked(label.folded, named))
        if bare is not None and not any(m.is_self for m in named):
            return _Unit(block.passage, named, fold(text), mentions, 0)
    return None


def _permitted(unit: _Unit, words: _Words, vocabulary: Vocabulary, scanned: bool) -> Iterator[Claim]:
    language = vocabulary.language
    hits = list(find_conditions(unit.told, unit.mentions, language))
    via = via_of(hits)
    have = set(tags(hits))
    own = vocabulary.own_kind or ""
    behind = [m for m in unit.mentions if m.start >= unit.start and not m.is_self and m not in unit.grounds]
    means = [m for m in behind if words.means.search(unit.told[: m.start])]
    coats = [m for m in behind if m not in means and not m.object.startswith(("surface.", "finish.", "treatment."))]
    object_via = via.object if via is not None else None
    if via is None and coats:
        if len(coats) > 1 or not words.applied.search(unit.told[: coats[0].start]):
            return
        object_via = coats[0].object
        have.add(Condition.ISOLATED)
    elif via is None and words.prime.search(unit.told[unit.start :]) and not own.startswith("primer"):
        if not own.startswith("topcoat"):
            return
        object_via = "primer"
        have.add(Condition.ISOLATED)
    blasted = words.blasted.search(unit.told) is not None
    for mention in unit.grounds:
        object_ = mention.as_found()
        if blasted and object_ in ("surface.steel", "surface.steel.blasted"):
            object_ = "surface.steel.blasted"
        elif not have & (_WORKED | {Condition.ISOLATED}):
            continue
        alone = f"{own}.".startswith(f"{object_}.") and len(unit.grounds) == 1
        if mention.is_self or alone or object_ in (object_via, "surface.steel.rusted", "surface.steel.millscale"):
            continue
        direct = Condition.ISOLATED not in have
        if direct and object_.startswith("surface.") and not own.startswith(_ON_BARE):
            continue
        if not in_bad_state(unit.told, mention.start) and not _withheld(unit, mention, have, language):
            yield _claim(unit.passage, mention, object_, Stance.PERMITS, have, object_via, scanned)


def _withheld(unit: _Unit, mention: Mention, have: set[Condition], language: str) -> bool:
    inside = mention in unit.mentions
    span = (mention.start, mention.end) if inside else (0, 0)
    others = [m.start for m in unit.mentions if not m.is_self and m.start >= span[1]]
    return withheld(unit.told, span, others, conditions=bool(have & _WORKED), language=language) is not None


_ON_BARE = ("primer", "surfacer", "filler", "sealer", "sealant")
"""What may stand on a bare surface: of a colour coat the sheet has to say so in so many words."""


def _removed(block: Statement, words: _Words, vocabulary: Vocabulary, scanned: bool) -> Iterator[Claim]:
    """'Remove one-pack enamels completely': nothing goes over what has to come off."""
    mentions = vocabulary.mentions(block.passage.text)
    signs = marked(block.passage.folded, mentions)
    for pattern, sorts in ((words.removed, ("finish.", "topcoat", "primer")), (words.stripped, ("finish.old.soft",))):
        spans = [m.span() for m in pattern.finditer(signs)]
        for mention in mentions:
            object_ = mention.as_found()
            inside = any(a <= mention.start < b for a, b in spans)
            coat = object_.startswith(sorts) and not mention.is_self
            if inside and coat and not in_bad_state(block.passage.folded, mention.start):
                yield _claim(block.passage, mention, object_, Stance.FORBIDS, set(), None, scanned)


def _claim(
    passage: Passage,
    mention: Mention,
    object_: str,
    stance: Stance,
    have: set[Condition],
    via: str | None,
    scanned: bool,
) -> Claim:
    return Claim(
        topic=Topic.GOES_OVER,
        property=None,
        stance=stance,
        evidence=passage.evidence(),
        object=object_,
        conditions=tuple(c for c in Condition if c in have),
        via=via,
        confidence=0.6,
        from_picture=scanned,
        why=Why("told with how to prepare it", (mention.words,)),
    )
