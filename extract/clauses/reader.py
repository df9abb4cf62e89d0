"""One sentence -> which coats it permits or forbids, over or under this product.

Order of work: blank what only looks like a negation; cut the sentence into clauses; in each find the
relation (this over that, that over this), which side the other coats stand on, whether it forbids; split
off exceptions; then conditions. A clause whose subject or direction is not plain gives nothing.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from extract.claims import Condition, Topic
from extract.clauses.conditions import ConditionHit, find_conditions, tags, times_as_windows, via_of
from extract.clauses.cues import OTHER, THIS, Cues, cues, marked
from extract.clauses.verdicts import Answer, read_verdict
from extract.kinds import ancestors, is_known
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
class _Clause:
    start: int
    end: int
    joint: str
    """What parts it from the clause before: '.', ';', ':', 'but', 'nor', ',' or ''."""


_JOINTS = re.compile(
    r"(?P<but>,? but (?!not\b|never\b|also\b)|,? whereas |,? while |,? however,? )|(?P<nor>[,;]? ?\bnor(?: yet)? )"
    r"|(?P<semi>; )|(?P<colon>:(?: |$)| - (?=[a-z\ue000-\ue003]))"
    r"|(?P<stop>(?<!e\.g)(?<!i\.e)(?<!max)(?<!min)(?<!approx)(?<!hrs)(?<!\bhr)[.!?](?= |$))"
    r"|(?P<and>,? (?:and|or) (?=(?:do not|don't|never|must not|not|is not|are not|should not|may not|cannot|may be|"
    r"can be|must be|avoid) ))"
    r"|(?P<then>, then )|(?P<apart>(?<=excluded), |(?<=excepted), )"
)


_FOLLOWED = re.compile(rf"(?<={OTHER}),? (?:then |and then )?followed by[^.;:]*")
"""'Base coat, followed by lacquer' permits the base coat only."""
_IMPERATIVE = re.compile(
    rf"[{OTHER})],? ?(?:first |always |then |only |please |you (?:may |can |should |must ))?"
    r"(?:wait|allow|apply|use|spray|sand|put|do not|never|only)\b"
)
"""'On X wait 15 minutes': the words right behind the list."""
_AGAIN_OVER = re.compile(
    r"(?:,|;|\band\b|\bor\b|\bnot\b|\bnor\b|\bneither\b)\s*(?:also |not |even |and |or |with )?"
    r"(?:over|on to|onto|on|to|upon|with|under|for|e\.g\.)\b"
)
_BREAK = re.compile(
    r"\b(?:on|over|onto|upon|under|leaving|then|which|because|since|where|so that|so it|before|after|to|until|unless|"
    r"via|giving|gives|provides|provided|when|if|followed|while|without)\b"
)


def _moved(mention: Mention, by: int) -> Mention:
    return replace(mention, start=mention.start + by, end=mention.end + by)


def split_clauses(signs: str) -> list[_Clause]:
    """The clauses of a marked sentence; brackets stay with their clause."""
    out: list[_Clause] = []
    start, joint = 0, ""
    for match in _JOINTS.finditer(signs):
        if signs.count("(", 0, match.start()) > signs.count(")", 0, match.start()):
            continue
        kind = match.lastgroup or ""
        if kind == "nor" and "neither" in signs[start : match.start()]:
            continue
        if kind == "and" and not re.search(f"[{THIS}{OTHER}]", signs[match.end() :]):
            continue
        out.append(_Clause(start, match.start(), joint))
        start, joint = match.end(), kind
    out.append(_Clause(start, len(signs), joint))
    return [c for c in out if c.end > c.start]


_BAD_STATE = re.compile(
    r"\b(?:damp|wet|moist|uncured|un-?sanded|unsound|loose|flaking|peeling|fresh|freshly \w+|greasy|dirty|frozen|hot|"
    r"cold|undried|blistered|chalky|chalking|poorly \w+|insufficiently \w+|"
    r"not (?:fully |completely )?(?:cured|dry|hard)|perished|cracked|crazed|delaminating|untreated) $"
)


def in_bad_state(text: str, at: int) -> bool:
    """True where only a bad state of the thing is meant ('damp filler'): no rule on the thing itself."""
    return _BAD_STATE.search(text[:at]) is not None


class SentenceReader:
    """Reads the sentences of one sheet. own_kind is the sheet's kind: 'epoxy primer ... over steel' is this one."""

    def __init__(self, own_kind: str | None, language: str = "en") -> None:
        self._cues: Cues = cues(language)
        self._language = language
        self._own = {own_kind, *ancestors(own_kind)} if own_kind and is_known(own_kind) else set()

    def frame_of(self, folded: str, mentions: Sequence[Mention]) -> Frame | None:
        """What a lead-in or heading ('Do not use on:') says of its list; None where it says nothing."""
        text = folded.strip().rstrip(":;,.- ")
        signs = self._harmless(marked(folded, mentions))[: len(text) + (len(folded) - len(folded.lstrip()))]
        c = self._cues
        forbids = c.negation.search(signs) is not None
        only = self._closes(signs)
        topic: Topic | None = None
        if (
            re.search(rf"(?:{c.over.pattern})[^\ue000\ue001]{{0,25}}{THIS}+", signs)
            or c.cover_strong.search(signs)
            or c.accepts.search(signs)
            or re.search(rf"(?:{c.under.pattern})\W*(?:the |any )?(?:following)?\W*$", signs)
        ):
            topic = Topic.TOPPED_BY
        elif re.search(
            rf"(?:{c.over.pattern})(?: (?:the |any |all )?(?:following|properly|well|suitably|correctly|sound|clean|"
            rf"these|such)[\w ,]*)?\W*(?:{OTHER}+[^\ue000\ue001]*)?$",
            signs,
        ):
            topic = Topic.GOES_OVER
        if topic is None and not forbids and not only:
            return None
        return Frame(topic, forbids, only, pattern="lead-in")

    def read(
        self, folded: str, mentions: Sequence[Mention], given: Frame | None = None, *, listed: bool = False
    ) -> list[Found]:
        """Every coat that the sentence permits or forbids.

        given is what its lead-in or heading says; listed is True for a bullet, whose bare coats the lead-in governs.
        """
        if not mentions:
            return []
        hits = list(find_conditions(folded, mentions, self._language))
        via_spans = [(h.via.start, h.via.end) for h in hits if h.via is not None]
        signs = self._harmless(marked(folded, mentions))
        signs = self._blank(self._cues.elsewhere, signs)
        if not any(m.is_self for m in mentions):
            signs = _FOLLOWED.sub(lambda m: "\ue003" * len(m.group()), signs)
        out: list[Found] = []
        frame: Frame | None = given if given is not None and not given.plain else None
        clauses = split_clauses(signs)
        told = False
        for n, clause in enumerate(clauses):
            if clause.joint == "colon" and told:
                continue
            told = told and clause.joint not in ("stop", "semi")
            inside = [
                m
                for m in mentions
                if clause.start <= m.start < clause.end
                and (m.start, m.end) not in via_spans
                and signs[m.start] in (THIS, OTHER)
            ]
            frame = self._carried(frame, clause, given, listed=listed)
            found, said = self._clause(folded, signs, clauses, n, inside, frame, given, listed=listed, hits=hits)
            if said is not None:
                frame = said
            told = told or bool(found)
            own_hits = [h for h in hits if clause.start <= h.start < clause.end]
            same = {f.mention.object for f in found}
            tail, reach = self._tail_hits(clauses, n, hits, [m for m in mentions if m.object not in same], via_spans)
            out.extend(self._conditioned(folded, signs, clause, found, own_hits, tail, reach))
        return out

    @staticmethod
    def _carried(frame: Frame | None, clause: _Clause, given: Frame | None, *, listed: bool) -> Frame | None:
        """The frame that a clause inherits from the one before it."""
        if clause.joint in ("stop", "then", "apart"):
            return given if given is not None and not given.plain and not listed else None
        if clause.joint == "but":
            return replace(frame, forbids=False, only=False, plain=True) if frame is not None else None
        if clause.joint == "nor" and frame is not None:
            return replace(frame, forbids=True)
        return frame

    def _clause(
        self,
        folded: str,
        signs: str,
        clauses: list[_Clause],
        n: int,
        inside: list[Mention],
        carried: Frame | None,
        given: Frame | None,
        *,
        listed: bool,
        hits: list[ConditionHit],
    ) -> tuple[list[Found], Frame | None]:
        clause = clauses[n]
        text = signs[clause.start : clause.end]
        colon = n + 1 < len(clauses) and clauses[n + 1].joint == "colon"
        if colon and not any(not m.is_self or re.match(r"itself|(?:the )?same", m.words) for m in inside):
            lead = self.frame_of(folded[clause.start : clause.end], [_moved(m, -clause.start) for m in inside])
            if lead is not None:
                topic = lead.topic or (given.topic if given is not None else None)
                return [], replace(lead, topic=topic)
        again = self._cues.again.search(text)
        if again is not None and not self._negates(text):
            own = [
                m for m in inside if m.is_self and clause.start + again.start() <= m.start < clause.start + again.end()
            ]
            once_more = Frame(Topic.TOPPED_BY, pattern="one more coat of this")
            return [
                Found(m, Topic.TOPPED_BY, False, clause.start, clause.end, once_more.pattern) for m in own
            ], once_more
        if not self._negates(text) and (
            re.search(r"\binstead\b(?! of)", text) or self._cues.points.search(folded, clause.start, clause.end)
        ):
            return [], None
        relation = self._relation(text, clause.start, inside, given, listed=listed)
        said: Frame | None = None
        others: list[Mention] = []
        if relation is not None:
            said, others = relation
            if carried is not None and clause.joint == "nor":
                said = replace(said, forbids=True)
            if said.topic is not None and not others and carried is not None and carried.topic is None:
                said = replace(said, forbids=said.forbids or carried.forbids)
        elif carried is not None and not carried.plain and carried.topic is not None:
            others = self._members(text, clause.start, inside, listed=listed)
            said = carried
            if self._negates(text) and clause.joint != "colon" and not carried.forbids:
                said = replace(said, forbids=True)
        elif given is not None and given.topic is not None and inside:
            answered = self._answer(signs, clause) if colon else None
            prepared = colon and any(clause.end <= h.start < clauses[n + 1].end for h in hits)
            predicate = self._by_predicate(text, clause, inside, given, listed=listed)
            if predicate is not None:
                said, others = predicate
            elif answered is not None or (prepared and given.topic is Topic.GOES_OVER and n == 0):
                said, others = (
                    replace(given, pattern="answered"),
                    self._members(text, clause.start, inside, listed=listed),
                )
        if said is None or said.topic is None:
            return [], said
        answer = self._answer(signs, clause)
        if answer is Answer.UNKNOWN:
            return [], None
        forbids = said.forbids or answer is Answer.NO
        if answer in (Answer.YES, Answer.PARTLY):
            forbids = False
        found = [
            Found(
                m,
                said.topic,
                forbids,
                min(m.start, clause.start),
                max(m.end, clause.end),
                said.pattern,
                said.only,
                confidence=0.6 if said.tentative else 0.85,
            )
            for m in others
            if self._fits(m, said.topic) and not (forbids and in_bad_state(text, m.start - clause.start))
        ]
        return self._excepted(text, clause, found, said), said

    @staticmethod
    def _fits(mention: Mention, topic: Topic) -> bool:
        """A surface or an old finish is never put on."""
        return topic is not Topic.TOPPED_BY or not mention.object.startswith(("surface.", "finish.", "treatment."))

    def _answer(self, signs: str, clause: _Clause) -> Answer | None:
        """The short answer after 'Body filler:'."""
        if not re.match(r"\s*(?::| -) ?", signs[clause.end : clause.end + 3]):
            return None
        verdict = read_verdict(signs[clause.end + 1 :], language=self._language)
        return verdict.answer if verdict is not None else None

    def _relation(
        self, text: str, offset: int, inside: list[Mention], given: Frame | None, *, listed: bool
    ) -> tuple[Frame, list[Mention]] | None:
        """Who lies over whom in this clause, where the clause itself says so."""
        c = self._cues
        own = [m for m in inside if m.is_self]
        here = [m for m in inside if not m.is_self]
        forbids = self._negates(text)
        only = self._closes(text)

        def before(p: int) -> list[Mention]:
            return [m for m in here if m.start - offset < p]

        def after(p: int) -> list[Mention]:
            return [m for m in inside if m.start - offset >= p]

        # "overcoat (this) with that"
        for verb in (c.cover_strong, c.cover_weak):
            for match in verb.finditer(text):
                by = c.by.search(text, match.end())
                if (
                    by is None
                    or re.search(rf"{OTHER}", text[match.end() : by.start()])
                    or by.start() - match.end() > 70
                ):
                    continue
                listed_after = self._run(text, offset, by.end(), inside)
                if any(not m.is_self for m in listed_after):
                    listed_after = [m for m in listed_after if not m.is_self or m.start < listed_after[0].end]
                if not listed_after:
                    continue
                covered_this = any(
                    m.start - offset < by.start()
                    or re.search(rf"(?:{c.over.pattern})[\w ]{{0,14}}$", text[: m.start - offset])
                    for m in own
                )
                foreign = [m for m in before(match.start()) if not self._own_like(m)]
                if any(m.is_self and not m.pronoun for m in listed_after) and foreign and not covered_this:
                    return Frame(Topic.GOES_OVER, forbids, only, pattern="cover that with this"), foreign
                if (
                    foreign
                    and not covered_this
                    and not re.search(r"[,;]", text[foreign[-1].end - offset : match.start()])
                ):
                    return None
                heading = given is not None and given.topic is Topic.TOPPED_BY
                if verb is c.cover_weak and not covered_this and not heading:
                    continue
                return Frame(Topic.TOPPED_BY, forbids, only, pattern="cover this with that"), listed_after
        opening = re.match(r"\W*(?:compatible |only )?(?:with|by) ", text)
        if opening and given is not None and given.topic is Topic.TOPPED_BY and after(opening.end()):
            listed_after = self._run(text, offset, opening.end(), inside)
            return Frame(Topic.TOPPED_BY, forbids, only, pattern="with that, under a heading"), listed_after
        # "this accepts that"
        accept = c.accepts.search(text)
        if accept and any(m.start - offset < accept.start() for m in own) and after(accept.end()):
            upper = [m for m in self._run(text, offset, accept.end(), inside) if not m.is_self]
            lead = text[accept.end() : upper[0].start - offset] if upper else ""
            if (
                upper
                and re.fullmatch(r" (?:[\w-]+ ){0,3}", lead)
                and not c.over.search(text, accept.end(), upper[0].start - offset)
            ):
                return Frame(Topic.TOPPED_BY, forbids, only, pattern="this accepts that"), upper
        # "under that": this lies beneath
        for match in c.under.finditer(text):
            below = after(match.end())
            gap = text[match.end() : below[0].start - offset] if below else ""
            if not below or len(gap) > 40 or c.over.search(gap) or re.match(r" no\b", gap):
                continue
            if below[0].is_self or self._own_like(below[0]):
                uppers = [m for m in before(match.start()) if not self._own_like(m)]
                if uppers:
                    return Frame(Topic.GOES_OVER, forbids, only, pattern="that under this"), uppers
                continue
            foreign = [m for m in before(match.start()) if not self._own_like(m)]
            if foreign and not any(m.start - offset < match.start() for m in own):
                return None
            below = self._run(text, offset, match.end(), inside)
            return Frame(Topic.TOPPED_BY, forbids, only, pattern="this under that"), [m for m in below if not m.is_self]
        # "over this" / "over that"
        return self._over(text, offset, inside, forbids=forbids, only=only, listed=listed)

    def _over(
        self, text: str, offset: int, inside: list[Mention], *, forbids: bool, only: bool, listed: bool
    ) -> tuple[Frame, list[Mention]] | None:
        c = self._cues
        own = [m for m in inside if m.is_self]
        here = [m for m in inside if not m.is_self]
        for match in c.over.finditer(text):
            word = match.group()
            target = next((m for m in inside if m.start - offset >= match.end()), None)
            if target is None or c.over.search(text, match.end(), target.start - offset):
                continue
            gap = text[match.end() : target.start - offset]
            if re.match(r" (?:which|whose|what|condition|that (?:is|are|has|have)|account|how)\b", gap):
                continue
            if len(gap) > 60 or re.search(r"[;:]", gap):
                continue
            earlier = [m for m in here if m.start - offset < match.start()]
            foreign = [m for m in earlier if not self._own_like(m)]
            if target.is_self or (self._own_like(target) and foreign):
                if earlier:
                    forbids = forbids or c.reacts.match(text[target.end - offset :].lstrip()) is not None
                    closed = self._closes(text[: earlier[-1].end - offset])
                    return Frame(Topic.TOPPED_BY, forbids, closed, pattern="that over this"), earlier
                later = [m for m in here if m.start > target.end]
                verb = c.apply_verb.search(text, target.end - offset)
                if later and verb is not None and verb.start() < later[0].start - offset and "," in text:
                    return Frame(Topic.TOPPED_BY, forbids, only, pattern="over this, that"), later
                continue
            if not self._placed(text, match.start(), word, own, offset, listed=listed):
                continue
            mine = any(m.start - offset < match.start() for m in own)
            if foreign and not mine and not self._listed_apart(text, foreign, match.start(), offset):
                return None
            lower = [m for m in self._run(text, offset, match.end(), inside) if not m.is_self]
            return Frame(Topic.GOES_OVER, forbids, only, pattern="this over that"), lower
        grip = c.grips.search(text)
        if grip is not None:
            lower = [m for m in here if m.start - offset >= grip.end() and m.start - offset - grip.end() < 60]
            foreign = [m for m in here if m.start - offset < grip.start() and not self._own_like(m)]
            if lower and not foreign and re.search(r"\b(?:also|directly)\b|" + THIS, text[: grip.end()]):
                return Frame(Topic.GOES_OVER, forbids, only, pattern="this grips that"), lower
        suit = c.suits.search(text)
        if suit is not None:
            lower = [
                m
                for m in here
                if m.start - offset >= suit.end() and m.as_found().startswith(("surface.", "finish.", "treatment."))
            ]
            if (
                lower
                and lower[0].start - offset - suit.end() < 50
                and not [m for m in here if m.start - offset < suit.start() and not self._own_like(m)]
            ):
                return Frame(Topic.GOES_OVER, forbids, only, pattern="suitable for that"), lower
        return None

    def _placed(self, text: str, at: int, word: str, own: list[Mention], offset: int, *, listed: bool) -> bool:
        """Whether the preposition belongs to putting a coat there: a verb of applying, or the preposition alone."""
        lead = text[max(0, at - 70) : at]
        if re.fullmatch(
            r"\W*(?:(?:only|also|not|nor|never|or|and|directly|direct|straight|even|preferably) ?)*", text[:at]
        ):
            if re.search(r"direct|straight|not|nor|never|only", text[:at]):
                return True
            return word in ("over", "upon", "on", "onto", "on top of", "above") and (
                listed or _IMPERATIVE.search(text[at:]) is not None
            )
        verb = max(self._cues.apply_verb.finditer(lead), key=lambda m: m.end(), default=None)
        if verb is None:
            mine = any(m.start - offset < at and at - (m.end - offset) <= 2 for m in own)
            return listed and mine and word in ("over", "upon")
        between = lead[verb.end() :]
        if re.search(r"\b(?:with|by|from|at|in|for)\b", between) and word in ("to", "on", "against", "across"):
            return False
        return not (word == "to" and re.match(r"(?:use|used|work|put)", verb.group()) and "direct" not in between)

    @staticmethod
    def _listed_apart(text: str, foreign: list[Mention], at: int, offset: int) -> bool:
        """True where the coats before belong to a prepositional list of their own ('over X, and over Y')."""
        between = text[foreign[-1].end - offset : at]
        return (
            re.search(r"(?:,|;|\band\b|\bor\b|\bnot\b|\bnor\b)", between) is not None
            and re.search(r"(?:over|on|upon|onto|to) [^,;]*$", text[: foreign[0].start - offset]) is not None
        )

    def _run(self, text: str, offset: int, start: int, inside: list[Mention]) -> list[Mention]:
        """The list that begins at start: up to the word that opens another phrase."""
        out: list[Mention] = []
        edge = start
        for m in inside:
            at = m.start - offset
            if at < start:
                continue
            gap = text[edge:at]
            resumed = max(_AGAIN_OVER.finditer(gap), key=lambda g: g.end(), default=None) if out else None
            if _BREAK.search(gap if resumed is None else gap[resumed.end() :]):
                break
            out.append(m)
            edge = m.end - offset
        return out

    def _members(self, text: str, offset: int, inside: list[Mention], *, listed: bool) -> list[Mention]:
        """The coats that a list consists of; 'the primer' in a remark is none of them."""
        able = [
            m for m in inside if not m.is_self or (listed and not re.match(r"(?:the|this|our|it|a)\b(?!self)", m.words))
        ]
        return [m for m in self._run(text, offset, able[0].start - offset, inside) if m in able] if able else []

    def _own_like(self, mention: Mention) -> bool:
        """This product spoken of by its kind; 'other epoxy primers' are others."""
        return mention.object in self._own and not re.match(r"(?:other|any|all|another)\b", mention.words)

    def _by_predicate(
        self, text: str, clause: _Clause, inside: list[Mention], given: Frame, *, listed: bool
    ) -> tuple[Frame, list[Mention]] | None:
        """'X must not be used', 'X may follow', or a bare list, where the heading or lead-in sets the direction."""
        c = self._cues
        here = self._members(text, clause.start, inside, listed=listed)
        if not here:
            return None
        first = here[0].start - clause.start
        behind = text[here[-1].end - clause.start :]
        head = text[:first]
        forbids = given.forbids or self._negates(text)
        if c.forbids_behind.search(behind) or c.reacts.match(behind.lstrip(" ,")):
            return replace(given, forbids=True, tentative=True, pattern="that must not"), here
        if c.follow.search(text):
            return replace(given, tentative=False, pattern="that may follow"), here
        if re.match(r"\W*$", head) or re.match(
            r"\W*(?:(?:or|and|not|the|an?|any|old|other|cured|sound|sanded|also|all|over|on|only|minor|small|most) ?)+$",
            head,
        ):
            bare = listed or not re.search(
                r"\b(?:is|are|was|were|has|have|gives?|makes?|does|do|will|shows?)\b", behind
            )
            if listed and bare:
                return replace(given, forbids=forbids, pattern="listed"), here
            if re.search(
                r"\b(?:may|can) be (?:used|applied|overcoated|coated|covered|put|laid|painted|primed|sprayed)",
                behind,
            ):
                return replace(given, forbids=forbids, tentative=True, pattern="that may be used"), here
            if self._ends_in_answer(clause, text):
                return replace(given, forbids=forbids, pattern="answered"), here
        return None

    @staticmethod
    def _ends_in_answer(clause: _Clause, text: str) -> bool:
        return re.search(r"\b(?:suitable|compatible|recommended|permitted|allowed|approved)\W*$", text) is not None

    def _harmless(self, signs: str) -> str:
        return self._blank(self._cues.harmless, signs)

    @staticmethod
    def _blank(pattern: re.Pattern[str], signs: str) -> str:
        return pattern.sub(lambda m: "\ue003" * len(m.group()), signs)

    def _negates(self, text: str) -> bool:
        cut = self._cues.unless.search(text)
        return self._cues.negation.search(text if cut is None else text[: cut.start()] or text) is not None or (
            self._cues.forbids_behind.search(text) is not None
        )

    def _closes(self, text: str) -> bool:
        clean = self._cues.not_closing.sub(lambda m: "\ue003" * len(m.group()), text)
        return self._cues.only.search(clean) is not None

    def _excepted(self, text: str, clause: _Clause, found: list[Found], said: Frame) -> list[Found]:
        """Turn round what an 'except' takes out of the list."""
        c = self._cues
        exclusive = c.exclusive.search(text)
        if exclusive is not None:
            at = clause.start + exclusive.start()
            return [
                replace(f, forbids=not f.forbids, only=True, pattern="nothing but that")
                for f in found
                if f.mention.start >= at
            ]
        cut = c.exception.search(text)
        if cut is not None:
            at = clause.start + cut.start()
            # "No etch primers other than X" frees X from this rule and permits it no further.
            freed = said.forbids and re.match(r"other than|apart from|aside from", cut.group())
            return [
                replace(f, forbids=not f.forbids, only=False, pattern="except") if f.mention.start >= at else f
                for f in found
                if not (freed and f.mention.start >= at)
            ]
        return found

    def _tail_hits(
        self,
        clauses: list[_Clause],
        n: int,
        hits: list[ConditionHit],
        mentions: Sequence[Mention],
        via_spans: list[tuple[int, int]],
    ) -> tuple[list[ConditionHit], int]:
        """Conditions in following clauses that name no coat of their own ('...: isolate first'), and their end."""
        out: list[ConditionHit] = []
        reach = clauses[n].end
        for clause in clauses[n + 1 :]:
            if clause.joint == "stop":
                break
            if any(
                clause.start <= m.start < clause.end
                and not (m.is_self or self._own_like(m))
                and (m.start, m.end) not in via_spans
                for m in mentions
            ):
                break
            out.extend(h for h in hits if clause.start <= h.start < clause.end)
            reach = clause.end
        return out, reach

    def _conditioned(
        self,
        folded: str,
        signs: str,
        clause: _Clause,
        found: list[Found],
        own_hits: list[ConditionHit],
        tail: list[ConditionHit],
        reach: int,
    ) -> Iterator[Found]:
        text = signs[clause.start : clause.end]
        unless = self._cues.unless.search(text)
        window = [
            replace(h, start=h.start + clause.start, end=h.end + clause.start)
            for h in times_as_windows(folded[clause.start : reach])
        ]
        listed = [f.mention for f in found]
        for f in found:
            hits = [*items_hits(signs, listed, f.mention, [*own_hits, *window]), *tail]
            later = [h for h in hits if self._afterwards(signs, h)]
            hits = [h for h in hits if h not in later] if any(h not in later for h in hits) else hits
            via = via_of(hits)
            end = max([f.end, *(h.end for h in hits)])
            if f.forbids:
                freed = [h for h in hits if unless is not None and h.start >= clause.start + unless.start()]
                if via is not None and via.object != f.mention.object:
                    yield replace(
                        f,
                        forbids=False,
                        only=False,
                        conditions=tags(hits),
                        via=via,
                        end=end,
                        pattern=f.pattern + ", isolated",
                    )
                elif freed:
                    yield replace(
                        f, forbids=False, only=False, conditions=tags(freed), end=end, pattern=f.pattern + ", unless"
                    )
                else:
                    yield f
                continue
            yield from self._ways(folded, replace(f, end=end), hits, via)

    def _afterwards(self, signs: str, hit: ConditionHit) -> bool:
        """True where the condition holds only once the time is past."""
        before = signs[max(0, hit.start - 60) : hit.start + 1]
        cut = max(before.rfind("; "), before.rfind(". "))
        return self._cues.afterwards.search(before[cut + 1 :]) is not None

    @staticmethod
    def _ways(folded: str, f: Found, hits: Sequence[ConditionHit], via: Mention | None) -> Iterator[Found]:
        """'Within 72 hours, or sanded' is two permissions."""
        timed = [h for h in hits if h.condition is Condition.WITHIN_WINDOW]
        worked = [h for h in hits if h.condition is Condition.ABRADED]
        if timed and worked:
            first, second = (timed[0], worked[0]) if timed[0].start < worked[0].start else (worked[0], timed[0])
            if re.search(r"(?:, or|;? ?or) (?:after |else |if )?\W*$", folded[first.end : second.start]):
                for group in (timed, worked):
                    others = [h for h in hits if h not in timed and h not in worked]
                    yield replace(f, conditions=tags([*group, *others]), via=via, pattern=f.pattern + ", either")
                return
        yield replace(f, conditions=tags(hits), via=via)


_SEPARATOR = re.compile(r",|;|/|\band\b|\bor\b|\bover\b|\bon\b")


def items_hits(
    signs: str, listed: Sequence[Mention], mention: Mention, hits: Sequence[ConditionHit]
) -> list[ConditionHit]:
    """The conditions that a list sets on one of its members.

    Words before a member hold for it and for those joined to it; words behind one for it and the members
    before it that have none of their own; words before or behind the whole list for all.
    """
    if len(listed) < 2:
        return list(hits)
    order = sorted(listed, key=lambda m: m.start)
    index = next(i for i, m in enumerate(order) if (m.start, m.object) == (mention.start, mention.object))
    before: list[list[ConditionHit]] = [[] for _ in order]
    behind: list[list[ConditionHit]] = [[] for _ in order]
    general: list[ConditionHit] = []
    for hit in hits:
        slot = sum(m.start <= hit.start for m in order)
        if slot == 0:
            close = len(signs[hit.end : order[0].start].split()) <= 1 and not re.search(
                r"[,;]", signs[hit.end : order[0].start]
            )
            (before[0] if close else general).append(hit)
            continue
        previous = order[slot - 1]
        if hit.start < previous.end:
            (before if hit.end < previous.end else behind)[slot - 1].append(hit)
            continue
        if slot == len(order):
            behind[slot - 1].append(hit)
            continue
        parted = _SEPARATOR.search(signs[previous.end : hit.start])
        goes_on = _SEPARATOR.search(signs[hit.end : order[slot].start])
        (before[slot] if parted and not goes_on else behind[slot - 1]).append(hit)
    out = list(general)
    for i in range(index, -1, -1):
        if before[i]:
            joint = signs[order[i].end : order[index].start] if i < index else ""
            if not re.search(r";|\b(?:over|on|onto|upon)\b", joint):
                out.extend(before[i])
            break
    for i in range(index, len(order)):
        if behind[i]:
            joint = signs[order[index].end : order[i].start]
            apart = re.search(r"[,;] ?(?:and |or )?(?:over|on|onto|upon)\b", joint) is not None
            if ";" not in joint:
                out.extend(h for h in behind[i] if not apart or re.search(r"[,;]", signs[order[i].end : h.start]))
            break
    return out
