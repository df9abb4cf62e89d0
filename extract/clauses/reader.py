"""One sentence -> which coats it permits or forbids, over or under this product.

Order of work: blank what only looks like a negation; cut the sentence into clauses; in each find the
relation (this over that, that over this), which side the other coats stand on, whether it forbids; split
off exceptions; then conditions. A clause whose subject or direction is not plain gives nothing.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace
from functools import lru_cache

from extract.claims import Condition, Topic
from extract.clauses.assertions import firm
from extract.clauses.conditions import ConditionHit, even_so, find_conditions, tags, times
from extract.clauses.cues import Cues, cues, marked
from extract.clauses.direction import Direction
from extract.clauses.exceptions import excepted
from extract.clauses.frames import Clause, Found, Frame, in_bad_state, moved, split_clauses
from extract.clauses.leads import MAY_GO, Leads
from extract.clauses.lists import Lists
from extract.clauses.polarity import blank, negates
from extract.clauses.predicates import Predicates, holds
from extract.clauses.scope import conditioned, tail_hits
from extract.clauses.stages import by_stage
from extract.clauses.turning import read_otherwise
from extract.clauses.verdicts import Answer, read_verdict
from extract.mention import OTHER, THIS
from extract.terms import Mention

_NOT_NEEDED = re.compile(
    r"\b(?:not |un)(?:absolutely |strictly )?(?:necessary|essential)\b|\bno need (?:to|for)\b"
    r"|(?:\b(?:do|does) not|\b(?:do|does)n't) (?:\w+ )?(?:need|require)\b"
)
"""What need not be done is neither permitted nor forbidden."""
_UNKNOWN = re.compile(
    r"\b(?:have|has)(?:n't| not)(?: yet| been)* (?:tested|tried|examined)|"
    r"\bnot (?:yet )?(?:been )?(?:tested|tried)\b|\bno experience"
    r"|\b(?:cannot|can't|not going to) (?:say|tell)"
    r"|\b(?:on|at) (?:(?:your|their|one's|the|own|user's|users'|painter's|applicator's) ){1,3}(?:risk|responsibility)\b"
)
_OWN_VERB = re.compile(r"\b(?:goes|go|comes|must|should|use|needs|wants|put|apply|spray|follows?|is|are|first)\b")
_FOLLOWED = re.compile(rf"(?<={OTHER}),? (?:then |and then )?followed by[^.;:]*")
"""'Base coat, followed by lacquer' permits the base coat only."""


def _with_alternatives(folded: str, mentions: Sequence[Mention], spans: list[tuple[int, int]]) -> list[tuple[int, int]]:
    """The coats that go between, with those named beside them ('first A or B')."""
    out = list(spans)
    for m in sorted(mentions, key=lambda m: m.start):
        joined = any(
            re.fullmatch(
                r",? ?(?:or|and|/) ?(?:an? |the |with |in )?" + (r"(?:[\w-]+ ){0,2}" if m.is_product else ""),
                folded[end : m.start],
            )
            for _, end in out
        )
        if joined and not m.object.startswith(("surface.", "finish.")):
            out.append((m.start, m.end))
    return out


def _list_end(signs: str, mention: Mention, others: Sequence[Mention]) -> int:
    """The end of the list that a coat stands in, so that 'which are damp' behind it holds for all of it."""
    end = mention.end
    for m in sorted(others, key=lambda o: o.start):
        if m.start >= end and re.fullmatch(r" ?(?:,|/|;|,? and|,? or|,? nor) ?(?:any |the )?", signs[end : m.start]):
            end = m.end
    return end


_DONE_WITHOUT = re.compile(
    r"\bwithout (?:an? |any |the |prior |previous |additional |separate |extra |use of |using |applying )*(?:[\w-]+ )?$"
)
"""'Adheres without primer to steel': what is done without is no coat of the list."""
_PLUS = re.compile(r" ?(?:\+|->|→|>) ?(?:an? |any |all )?")
_IN_CASE = re.compile(
    r" (?:must|should|has to|needs to|is to) be (?:used|applied|chosen|taken)(?: instead)? (?:if|when|where|wherever)\b"
)
"""'EP 20 must be used if filler is to follow': another product for another job."""
_NEXT = re.compile(r"(?:prime|seal|isolate|coat|finish|cover) (?:\w+ )?(?:with|by|using)\b")
_TAKE = re.compile(r"\b(?:use|take|employ|choose|select|recommend|go for|try|buy)(?: [\w-]+){0,3} $")
_WITHOUT = re.compile(
    rf"^\W*without (?:an? |any |the |use of |using )?{OTHER}+(?: (?:between|beneath|underneath|below|first))?(?=:)"
)
"""'Without primer: steel, zinc': the primer is none of the list."""
_BEFORE_ALL = re.compile(
    rf"\W*(?:with|after|over|on top of) (?:an? |the |our |one coat of )?(?P<coat>{OTHER}+)"
    r"(?: (?:between|beneath|underneath|below|first))?: "
)
"""'With Primer P: steel, zinc': the primer goes between."""
_KEPT = 500
"""Sentences whose reading is kept."""


def _holds_for_list(lead: str) -> bool:
    """Whether what stands before a colon sets its conditions on the coats behind it: it names none of its own."""
    return OTHER not in lead or MAY_GO.search(lead) is not None


class SentenceReader:
    """Reads the sentences of one sheet. own_kind is the sheet's kind: 'epoxy primer ... over steel' is this one."""

    def __init__(self, own_kind: str | None, language: str = "en") -> None:
        self.own_kind = own_kind
        self._cues: Cues = cues(language)
        self._language = language
        self._known: dict[tuple[str, tuple[Mention, ...], Frame | None, bool], list[Found]] = {}
        self._lists = Lists(own_kind, language)
        self._direction = Direction(self._cues, self._lists, own_kind, language)
        self._leads = Leads(self._cues, language)
        self.frame_of = self._leads.frame_of
        self._predicates = Predicates(self._cues, self._lists, language)

    @staticmethod
    @lru_cache(maxsize=8)
    def shared(own_kind: str | None, language: str = "en") -> SentenceReader:
        """One reader for all the finders of a sheet, so that each sentence is read once."""
        return SentenceReader(own_kind, language)

    def read(
        self, folded: str, mentions: Sequence[Mention], given: Frame | None = None, *, listed: bool = False
    ) -> list[Found]:
        """Every coat that the sentence permits or forbids.

        given is what its lead-in or heading says; listed is True for a bullet, whose bare coats the lead-in governs.
        """
        if not mentions:
            return []
        key = (folded, tuple(mentions), given, listed)
        known = self._known.get(key)
        if known is None:
            if len(self._known) >= _KEPT:
                self._known.clear()
            known = self._known[key] = self._read(folded, mentions, given, listed=listed)
        return list(known)

    def _read(self, folded: str, mentions: Sequence[Mention], given: Frame | None, *, listed: bool) -> list[Found]:
        otherwise = read_otherwise(self.read, self._language, folded, mentions, given, listed=listed)
        if otherwise is not None:
            return otherwise
        hits = list(find_conditions(folded, mentions, self._language))
        if given is not None and given.topic is Topic.TOPPED_BY and not listed and _NEXT.match(folded):
            # "Prime with X", where the sheet speaks of what comes next, is no more than that.
            hits = [h for h in hits if h.via is None or h.start > 1]
        via_spans = _with_alternatives(folded, mentions, [(h.via.start, h.via.end) for h in hits if h.via is not None])
        signs = blank(self._cues.harmless, marked(folded, mentions))
        signs = blank(even_so(self._language), blank(self._cues.elsewhere, signs))
        if not any(m.is_self for m in mentions):
            signs = _FOLLOWED.sub(lambda m: "\ue003" * len(m.group()), signs)
        signs = _WITHOUT.sub(lambda m: "\ue003" * len(m.group()), signs)
        under = _BEFORE_ALL.match(signs)
        if under is not None and not (given is not None and given.topic is Topic.TOPPED_BY):
            via = next(m for m in mentions if m.start >= under.start("coat"))
            hits.append(ConditionHit(Condition.ISOLATED, under.end(), under.end(), via))
            via_spans.append((via.start, via.end))
            opening = under.end() - 2
            signs, folded = "\ue003" * opening + signs[opening:], " " * opening + folded[opening:]
        out: list[Found] = []
        frame: Frame | None = given if given is not None and not given.plain else None
        clauses = split_clauses(signs)
        told = False
        for n, clause in enumerate(clauses):
            if clause.joint == "colon" and told:
                spelled = self._spelled_out(signs, clause, mentions, out)
                if spelled:
                    out = spelled
                continue
            told = told and clause.joint not in ("stop", "semi")
            inside = [
                m
                for m in mentions
                if clause.start <= m.start < clause.end
                and (m.start, m.end) not in via_spans
                and signs[m.start] in (THIS, OTHER)
                and not _DONE_WITHOUT.search(folded, clause.start, m.start)
            ]
            frame = self._carried(frame, clause, given, listed=listed)
            found, said = self._clause(
                folded, signs, clauses, n, inside, frame, given, listed=listed, hits=hits, mentions=mentions
            )
            if said is not None:
                frame = said
            told = told or bool(found)
            if clause.joint == "turn":
                found = [replace(f, start=min(f.start, clauses[n - 1].start)) for f in found]
            own_hits = [h for h in hits if clause.start <= h.start < clause.end]
            if (
                clause.joint == "colon"
                and n
                and not listed
                and _holds_for_list(signs[clauses[n - 1].start : clauses[n - 1].end])
            ):
                own_hits += [h for h in hits if clauses[n - 1].start <= h.start < clauses[n - 1].end and h.via is None]
            same = {f.mention.object for f in found}
            if found and self._points_away(folded, clauses, n, mentions, hits):
                continue
            tail, reach = tail_hits(
                clauses, n, hits, [m for m in mentions if m.object not in same], via_spans, self._lists.own_like
            )
            out.extend(conditioned(self._cues, folded, signs, clause, found, own_hits, tail, reach, self._language))
        return self._shared(signs, clauses, hits, out)

    def _shared(
        self, signs: str, clauses: Sequence[Clause], hits: Sequence[ConditionHit], found: list[Found]
    ) -> list[Found]:
        """'The surface must be sanded; suitable are steel and zinc': what holds for every ground of the sentence."""
        found = [f for f in found if not self._goes_on_that(signs, f, found)]
        common: set[Condition] = set()
        for clause in clauses:
            text = signs[clause.start : clause.end]
            if OTHER not in text and self._cues.shared.search(text) and not negates(self._cues, text):
                common |= set(tags([h for h in hits if clause.start <= h.start < clause.end and h.via is None]))
        if not common:
            return found
        return [
            replace(f, conditions=tuple(c for c in Condition if c in {*f.conditions, *common}))
            if f.topic is Topic.GOES_OVER and not f.forbids
            else f
            for f in found
        ]

    @staticmethod
    def _goes_on_that(signs: str, f: Found, found: Sequence[Found]) -> bool:
        """'Surfacer + topcoat': the topcoat goes on the surfacer."""
        if f.topic is not Topic.TOPPED_BY or f.forbids:
            return False
        return any(
            o.mention.end < f.mention.start
            and _PLUS.fullmatch(signs[o.mention.end : f.mention.start])
            and by_stage([f.mention.object], o.mention.object) is Topic.TOPPED_BY
            for o in found
        )

    def _spelled_out(
        self, signs: str, clause: Clause, mentions: Sequence[Mention], said: Sequence[Found]
    ) -> list[Found]:
        """'For bare metal and nothing else: steel, aluminium': the list says which metals are meant."""
        if len(said) != 1 or not re.fullmatch(r"(?:bare )?metals?", said[0].mention.words):
            return []
        text = signs[clause.start : clause.end]
        inside = [m for m in mentions if clause.start <= m.start < clause.end]
        named = self._lists.members(text, clause.start, inside, listed=True)
        opens = bool(named) and len(text[: named[0].start - clause.start].split()) <= 2
        if not opens or not all(m.object.startswith("surface.") for m in named):
            return []
        return [replace(said[0], mention=m, end=clause.end) for m in named]

    @staticmethod
    def _points_away(
        folded: str, clauses: list[Clause], n: int, mentions: Sequence[Mention], hits: Sequence[ConditionHit]
    ) -> bool:
        """'Galvanised steel: use X': the words behind the colon give the surface to another coat."""
        if n + 1 >= len(clauses) or clauses[n + 1].joint != "colon":
            return False
        here, behind = clauses[n], clauses[n + 1]
        surface = any(
            here.start <= m.start < here.end and m.object.startswith(("surface.", "finish.")) for m in mentions
        )
        named = [m for m in mentions if behind.start <= m.start < behind.end and m.is_product]
        via_ends = [(h.start, h.end) for h in hits if h.via is not None]
        kept = set(_with_alternatives(folded, mentions, via_ends))
        return surface and bool(named) and not any((m.start, m.end) in kept or h.via == m for h in hits for m in named)

    @staticmethod
    def _only_heads(inside: Sequence[Mention], behind: Clause, mentions: Sequence[Mention]) -> bool:
        """'Clear coat: Zahn 2K only' speaks of the product that it names, and of no clear coat at large."""
        coats = [m for m in inside if not m.object.startswith(("surface.", "finish.", "treatment."))]
        named = any(m.is_product and behind.start <= m.start < behind.end for m in mentions)
        return named and bool(coats) and len(coats) == len(inside)

    @staticmethod
    def _for_another(text: str, offset: int, inside: Sequence[Mention]) -> bool:
        """'For use on iron take X': the surface is given to another product."""
        if any(m.is_self for m in inside):
            return False
        found = [m for m in inside if m.object.startswith(("surface.", "finish."))]
        return any(
            m.is_product and _TAKE.search(text[: m.start - offset]) is not None and any(f.end <= m.start for f in found)
            for m in inside
        )

    @staticmethod
    def _carried(frame: Frame | None, clause: Clause, given: Frame | None, *, listed: bool) -> Frame | None:
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
        clauses: list[Clause],
        n: int,
        inside: list[Mention],
        carried: Frame | None,
        given: Frame | None,
        *,
        listed: bool,
        hits: list[ConditionHit],
        mentions: Sequence[Mention],
    ) -> tuple[list[Found], Frame | None]:
        clause = clauses[n]
        text = signs[clause.start : clause.end]
        colon = n + 1 < len(clauses) and clauses[n + 1].joint == "colon"
        if colon and not any(not m.is_self or re.match(r"itself|(?:the )?same", m.words) for m in inside):
            lead = self._leads.opened(text, given) or self.frame_of(
                folded[clause.start : clause.end], [moved(m, -clause.start) for m in inside]
            )
            if lead is not None:
                topic = lead.topic or (given.topic if given is not None else None)
                return [], replace(lead, topic=topic)
        again = self._cues.again.search(text)
        if again is not None and not negates(self._cues, text):
            own = [
                m for m in inside if m.is_self and clause.start + again.start() <= m.start < clause.start + again.end()
            ]
            once_more = Frame(Topic.TOPPED_BY, pattern="one more coat of this")
            return [
                Found(m, Topic.TOPPED_BY, False, clause.start, clause.end, once_more.pattern) for m in own
            ], once_more
        if _UNKNOWN.search(folded, clause.start, clause.end):
            return [], None
        if _NOT_NEEDED.search(folded, clause.start, clause.end) and "before applying" not in text:
            return [], None
        if not negates(self._cues, text) and (
            (re.search(r"\binstead\b(?! of)", text) and not self._direction.harms(text, clause.start, inside))
            or self._cues.points.search(folded, clause.start, clause.end)
        ):
            return [], None
        if self._for_another(text, clause.start, inside):
            return [], None
        if any(m.is_product and _IN_CASE.match(folded, m.end) for m in inside):
            return [], None
        if listed and clause.joint == "then":
            return [], None  # 'Surfacer, then topcoat' permits the surfacer only
        turn = clause.joint == "turn"
        relation = self._direction.relation(text, clause.start, inside, given, listed=listed or turn)
        said: Frame | None = None
        others: list[Mention] = []
        if relation is not None:
            said, others = relation
            if carried is not None and (clause.joint == "nor" or (clause.joint == "too" and carried.forbids)):
                said = replace(said, forbids=True)
            if said.topic is not None and not others and carried is not None and carried.topic is None:
                said = replace(said, forbids=said.forbids or carried.forbids)
        elif clause.joint == "turn" or (
            clause.joint == "semi" and not listed and carried is not None and carried.forbids and _OWN_VERB.search(text)
        ):
            return [], carried
        elif carried is not None and not carried.plain and carried.topic is not None:
            if colon and self._only_heads(inside, clauses[n + 1], mentions):
                return [], carried
            others = self._lists.members(text, clause.start, inside, listed=listed)
            said = carried
            if others and holds(text[: others[0].start - clause.start], self._language) is False:
                said = replace(said, forbids=True)
            opens = clause.joint == "colon" and re.match(r"\W*(?:never|not|no)\b", text) is None
            if negates(self._cues, text) and not opens and not carried.forbids:
                said = replace(said, forbids=True)
        elif (
            (given := given or (carried if carried is not None and carried.plain else None)) and given.topic and inside
        ):
            answered = self._answer(signs, clause) if colon else None
            timed = colon and given.topic is Topic.TOPPED_BY and bool(times(folded[clause.end : clauses[n + 1].end]))
            prepared = timed or (colon and any(clause.end <= h.start < clauses[n + 1].end for h in hits))
            series = len(clauses) > 1 and all(c.joint in ("", "semi") for c in clauses)
            prepared_here = any(clause.start <= h.start < clause.end for h in hits)
            predicate = self._predicates.read(
                text, clause, inside, given, listed=listed, colon=colon, prepared=prepared_here, series=series
            )
            if predicate is not None:
                said, others = predicate
            elif answered is not None or (
                prepared and (timed or given.topic is Topic.GOES_OVER) and (n == 0 or clause.joint in ("semi", "stop"))
            ):
                said, others = (
                    replace(given, pattern="answered"),
                    self._lists.members(text, clause.start, inside, listed=listed),
                )
        if said is None or said.topic is None:
            return [], said
        if said.pattern in firm(self._language):
            found = [
                Found(
                    m,
                    said.topic,
                    True,
                    min(m.start, clause.start),
                    max(m.end, clause.end),
                    said.pattern,
                    confidence=0.85,
                )
                for m in others
                if self._fits(m, said.topic)
            ]
            return found, given
        answer = self._answer(signs, clause)
        if answer is Answer.UNKNOWN:
            return [], None
        forbids = said.forbids or answer is Answer.NO
        own = [m for m in inside if m.is_self or (m not in others and self._lists.own_like(m))]
        if forbids and any(in_bad_state(text, m.start - clause.start) for m in own):
            return [], said  # 'No filler over uncured primer' says nothing of the cured one
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
            if self._fits(m, said.topic)
            and not (forbids and in_bad_state(text, m.start - clause.start, _list_end(signs, m, others) - clause.start))
        ]
        return excepted(self._cues, text, clause, found, said), said

    @staticmethod
    def _fits(mention: Mention, topic: Topic) -> bool:
        """A surface or an old finish is never put on."""
        return topic is not Topic.TOPPED_BY or not mention.object.startswith(("surface.", "finish.", "treatment."))

    def _answer(self, signs: str, clause: Clause) -> Answer | None:
        """The short answer after 'Body filler:'."""
        joint = re.match(r"\s*(?::| -) ?", signs[clause.end : clause.end + 3])
        if joint is None:
            return None
        verdict = read_verdict(signs[clause.end + joint.end() :], language=self._language)
        return verdict.answer if verdict is not None else None
