"""Who lies over whom: this product over that, that over this, or neither."""

from __future__ import annotations

import re

from extract.claims import Topic
from extract.clauses.assertions import asserted
from extract.clauses.cues import Cues
from extract.clauses.frames import Frame
from extract.clauses.lists import Lists
from extract.clauses.polarity import closes, negates
from extract.clauses.stages import by_stage
from extract.mention import OTHER, THIS
from extract.speech import speech
from extract.terms import Mention


class Direction:
    """Finds the relation in a marked clause. own_kind is the kind of the sheet's own product."""

    def __init__(self, cues: Cues, lists: Lists, own_kind: str | None, language: str = "en") -> None:
        self._cues = cues
        self._lists = lists
        self._kind = own_kind
        self._language = language
        self._says = speech(language)

    def relation(
        self, text: str, offset: int, inside: list[Mention], given: Frame | None, *, listed: bool
    ) -> tuple[Frame, list[Mention]] | None:
        """Who lies over whom in this clause, where the clause itself says so."""
        forbids = negates(self._cues, text)
        only = closes(self._cues, text)
        whole = asserted(self._language, text, offset, inside, given, forbids=forbids, only=only, own_kind=self._kind)
        if whole is not None:
            return whole
        found = self._relation(text, offset, inside, given, forbids=forbids, only=only, listed=listed)
        if found is not None or listed:
            return found
        return asserted(
            self._language, text, offset, inside, given, forbids=forbids, only=only, last=True, own_kind=self._kind
        )

    def harms(self, text: str, offset: int, inside: list[Mention]) -> bool:
        """True where the clause says what harm comes of it, whatever else it advises."""
        said = asserted(self._language, text, offset, inside, None, forbids=False, only=False)
        return said is not None and said[0].forbids

    def _relation(
        self,
        text: str,
        offset: int,
        inside: list[Mention],
        given: Frame | None,
        *,
        forbids: bool,
        only: bool,
        listed: bool,
    ) -> tuple[Frame, list[Mention]] | None:
        c = self._cues
        own = [m for m in inside if m.is_self]
        here = [m for m in inside if not m.is_self]

        def before(p: int) -> list[Mention]:
            return [m for m in here if m.start - offset < p]

        def after(p: int) -> list[Mention]:
            return [m for m in inside if m.start - offset >= p]

        # "overcoat (this) with that"
        for verb in (c.cover_strong, c.cover_weak):
            for match in verb.finditer(text):
                by = c.by.search(text, match.end())
                if by is not None and self._says["made"].search(text, match.end(), by.start()):
                    continue
                if (
                    by is None
                    or re.search(rf"{OTHER}", text[match.end() : by.start()])
                    or by.start() - match.end() > 70
                ):
                    continue
                listed_after = self._lists.run(text, offset, by.end(), inside)
                if any(not m.is_self for m in listed_after):
                    listed_after = [
                        m
                        for m in listed_after
                        if not m.is_self or m.start < listed_after[0].end or self._says["itself"].match(m.words)
                    ]
                if not listed_after:
                    continue
                covered_this = any(
                    m.start - offset < by.start()
                    or re.search(rf"(?:{c.over.pattern})[\w ]{{0,14}}$", text[: m.start - offset])
                    for m in own
                )
                foreign = [m for m in before(match.start()) if not self._lists.own_like(m)]
                if any(m.is_self and not m.pronoun for m in listed_after) and foreign and not covered_this:
                    return Frame(Topic.GOES_OVER, forbids, only, pattern="cover that with this"), foreign
                if (
                    foreign
                    and not covered_this
                    and not re.search(r"[,;]", text[foreign[-1].end - offset : match.start()])
                ):
                    return None
                own_name = all(
                    m.is_self and not m.pronoun and not self._says["itself"].match(m.words) for m in listed_after
                )
                if own_name and not covered_this and (forbids or self._says["subject"].search(text[: match.start()])):
                    continue  # 'polycarbonate must not be sealed with this': the sheet's own product is what covers
                heading = given is not None and given.topic is Topic.TOPPED_BY
                opening_verb = self._says["subjectless"].match(text)
                elided = (
                    opening_verb is not None
                    and opening_verb.end() == match.start()
                    and (match.group()[:2] != "us" or self._says["together"].match(text, match.end()) is not None)
                )
                if verb is c.cover_weak and not covered_this and not heading and not elided:
                    continue
                return Frame(Topic.TOPPED_BY, forbids, only, pattern="cover this with that"), listed_after
        opening = re.match(r"\W*(?:compatible |only )?(?:with|by) ", text)
        if opening and given is not None and given.topic is Topic.TOPPED_BY and after(opening.end()):
            listed_after = self._lists.run(text, offset, opening.end(), inside)
            return Frame(Topic.TOPPED_BY, forbids, only, pattern="with that, under a heading"), listed_after
        # "this accepts that"
        accept = c.accepts.search(text)
        heads = given is not None and given.topic is Topic.TOPPED_BY
        if (
            accept
            and (
                any(m.start - offset < accept.start() for m in own)
                or (heads and self._says["elided"].fullmatch(text[: accept.start()]))
            )
            and after(accept.end())
        ):
            upper = [m for m in self._lists.run(text, offset, accept.end(), inside) if not m.is_self]
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
            if below[0].is_self or self._lists.own_like(below[0]):
                uppers = [m for m in before(match.start()) if not self._lists.own_like(m)]
                if uppers:
                    return Frame(Topic.GOES_OVER, forbids, only, pattern="that under this"), uppers
                continue
            foreign = [m for m in before(match.start()) if not self._lists.own_like(m)]
            if foreign and not any(m.start - offset < match.start() for m in own):
                return None
            below = self._lists.run(text, offset, match.end(), inside)
            return Frame(Topic.TOPPED_BY, forbids, only, pattern="this under that"), [m for m in below if not m.is_self]
        # "over this" / "over that"
        return self._over(text, offset, inside, given, forbids=forbids, only=only, listed=listed)

    def _over(
        self,
        text: str,
        offset: int,
        inside: list[Mention],
        given: Frame | None,
        *,
        forbids: bool,
        only: bool,
        listed: bool,
    ) -> tuple[Frame, list[Mention]] | None:
        c = self._cues
        own = [m for m in inside if m.is_self]
        here = [m for m in inside if not m.is_self]
        for match in c.over.finditer(text):
            word = match.group()
            if word == "to" and re.search(r"\bresistan(?:t|ce) $", text[: match.start()]):
                continue
            if word == "against" and re.search(
                r"\b(?:advis\w+|warn\w*|decid\w+|recommend\w*) $", text[: match.start()]
            ):
                continue
            target = next((m for m in inside if m.start - offset >= match.end()), None)
            if target is None or c.over.search(text, match.end(), target.start - offset):
                continue
            gap = text[match.end() : target.start - offset]
            if re.match(r" (?:which|whose|what|condition|that (?:is|are|has|have)|account|how)\b", gap):
                continue
            if len(gap) > 60 or re.search(r"[;:]|, (?:or|and) ", gap):
                continue
            earlier = [m for m in here if m.start - offset < match.start()]
            foreign = [m for m in earlier if not self._lists.own_like(m)]
            if target.is_self or (self._lists.own_like(target) and foreign):
                if earlier:
                    forbids = forbids or c.reacts.match(text[target.end - offset :].lstrip()) is not None
                    closed = closes(self._cues, text[: earlier[-1].end - offset])
                    return Frame(Topic.TOPPED_BY, forbids, closed, pattern="that over this"), earlier
                later = [m for m in here if m.start > target.end]
                verb = c.apply_verb.search(text, target.end - offset)
                if later and verb is not None and verb.start() < later[0].start - offset and "," in text:
                    return Frame(Topic.TOPPED_BY, forbids, only, pattern="over this, that"), later
                continue
            if not self._placed(text, match.start(), word, own, offset, listed=listed, given=given):
                continue
            mine = any(m.start - offset < match.start() for m in own)
            if foreign and not mine and not self._listed_apart(text, foreign, match.start(), offset):
                return None
            lower = [m for m in self._lists.run(text, offset, match.end(), inside) if not m.is_self]
            return Frame(Topic.GOES_OVER, forbids, only, pattern="this over that"), lower
        grip = c.grips.search(text)
        if grip is not None:
            lower = [m for m in here if m.start - offset >= grip.end() and m.start - offset - grip.end() < 60]
            foreign = [m for m in here if m.start - offset < grip.start() and not self._lists.own_like(m)]
            opens = not text[: grip.start()].strip()
            if lower and not foreign and (opens or re.search(r"\b(?:also|directly)\b|" + THIS, text[: grip.end()])):
                return Frame(Topic.GOES_OVER, forbids, only, pattern="this grips that"), lower
        for pattern, topic in ((c.grounds, Topic.GOES_OVER), (c.tops, Topic.TOPPED_BY)):
            match_list = pattern.search(text)
            if match_list is not None:
                lower = [m for m in self._lists.run(text, offset, match_list.end(), inside) if not m.is_self]
                told = by_stage([m.object for m in lower], self._kind) if topic is Topic.TOPPED_BY else None
                return (Frame(told or topic, forbids, only, pattern="named as suitable"), lower) if lower else None
        suit = c.suits.search(text)
        if suit is not None:
            lower = [
                m
                for m in here
                if m.start - offset >= suit.end() and m.object.startswith(("surface.", "finish.", "treatment."))
            ]
            upper = [
                m
                for m in self._lists.run(text, offset, suit.end(), inside)
                if m.object.startswith("topcoat")
                and (
                    re.search(r"coats?\b|colou?rs?\b|enamels?\b|finish", m.words)
                    or m.object.startswith("topcoat.base.")
                )
            ]
            alike = [m for m in self._lists.run(text, offset, suit.end(), inside) if not m.is_self]
            side = by_stage([m.object for m in alike], self._kind) if alike else None
            if upper and side is Topic.TOPPED_BY:
                upper = alike
            if side is Topic.GOES_OVER and not lower and suit.group().endswith(("for", "with", "to")):
                return Frame(Topic.GOES_OVER, forbids, only, pattern="suitable for that coat"), alike
            if (
                lower
                and lower[0].start - offset - suit.end() < 50
                and not [m for m in here if m.start - offset < suit.start() and not self._lists.own_like(m)]
            ):
                along = self._lists.run(text, offset, lower[0].start - offset, inside)
                grounds = [
                    m
                    for m in along
                    if m not in lower and m.object.startswith(("filler", "primer", "surfacer", "sealer"))
                ]
                listed_with = sorted([*lower, *grounds], key=lambda m: m.start)
                return Frame(Topic.GOES_OVER, forbids, only, pattern="suitable for that"), listed_with
            if given is not None and given.topic is not None and not lower:
                # Under a heading on the next coats, or on those beneath, "suitable for" speaks of these.
                able = [
                    m
                    for m in self._lists.run(text, offset, suit.end(), inside)
                    if not m.object.startswith(("surface.", "finish.", "treatment."))
                ]
                able = [m for m in able if not self._lists.own_like(m)]
                if able:
                    return Frame(given.topic, forbids, only, pattern="compatible with that"), able
            if upper and not lower and not any("topcoat" in (k or "") for k in self._lists.own):
                return Frame(Topic.TOPPED_BY, forbids, only, pattern="suitable for that coat"), upper
        return None

    def _placed(
        self, text: str, at: int, word: str, own: list[Mention], offset: int, *, listed: bool, given: Frame | None
    ) -> bool:
        """Whether the preposition belongs to putting a coat there: a verb of applying, or the preposition alone."""
        lead = text[max(0, at - 70) : at]
        if re.fullmatch(
            r"\W*(?:(?:only|also|not|nor|never|or|and|directly|direct|straight|even|preferably) ?)*", text[:at]
        ):
            if re.search(r"direct|straight|not|nor|never|only", text[:at]):
                return True
            return word in ("over", "upon", "on", "onto", "on top of", "above") and (
                listed
                or self._says["imperative"].search(text[at:]) is not None
                or (given is not None and given.topic is Topic.GOES_OVER and not self._says["full_verb"].search(text))
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
