"""Who lies over whom: this product over that, that over this, or neither."""

from __future__ import annotations

import re
from dataclasses import replace

from extract.claims import Topic
from extract.clauses.assertions import asserted
from extract.clauses.cues import OTHER, THIS, Cues
from extract.clauses.frames import Clause, Frame
from extract.clauses.polarity import closes, negates
from extract.clauses.stages import by_stage
from extract.kinds import ancestors, families_of, is_known
from extract.terms import Mention

_IMPERATIVE = re.compile(
    rf"[{OTHER})],? ?(?:first |always |then |only |please |you (?:may |can |should |must ))?"
    r"(?:wait|allow|apply|use|spray|sand|put|do not|never|only|first|make|test|try|scuff|abrade|"
    r"degrease|shoot|lay|brush)\b"
)
"""'On X wait 15 minutes': the words right behind the list."""
_REMOVED = re.compile(r"\b(?:removed|stripped|taken off|ground off|blasted off)\b")
_VERBS = re.compile(
    r"\b(?:is|are|was|were|be|been|has|have|had|can|may|must|should|shall|will|would|do|does|did|"
    r"needs?|require\w*|apply|use|"
    r"used|remove\w*|gives?|makes?|shows?|see|keep|adhesion|excellent|protect\w*|for|as|system|prior|before)\b"
)
"""Where none of these stands, a sentence is a list of things."""
_PREPARED = re.compile(
    r"\b(?:sanded|abraded|cured|hardened|degreased|cleaned|keyed|scuffed|sound|matted|flatted|p ?\d{2,4})\b"
)
_MADE = re.compile(
    r"\b(?:produced|made|based|formulated|manufactured|blended|supplied|modified|reinforced|filled|pigmented)\b"
)
_FULL_VERB = re.compile(
    r"\b(?:is|are|was|were|be|been|has|have|had|can|may|must|should|shall|will|would|do|does|did|"
    r"needs?|requires?|require|need|apply|use|"
    r"remove|gives?|makes?|shows?|see|keep|protects?|contains?|allow|wait|spray|mix|degrease|"
    r"clean|sand|abrade|wash|wipe|"
    r"store|ensure|observe|adhesion|resistance|gloss|properties|colou?rs?|hiding|coverage|litres?|tins?|kg|system|"
    r"before|thinner|hardener|request|consult|ask|refer|contact|check|test|order|read|avoid|"
    r"please|thin|dilute|mixed|follow|use[ds]?)\b"
)
_EXCLUDED = re.compile(
    r"\W*(?:also |equally |likewise |strictly |absolutely )?(?:excluded|prohibited|forbidden|unsuitable|inadmissible|"
    r"to be avoided|not (?:suitable|recommended|admitted|permitted|allowed|possible|apt|released)|avoid)\b"
    r"(?: (?:are|is|for|on|over|with|equally|also|likewise|as well|all|any|the|old|every)\b)*\W*$"
)
_ALONE = re.compile(rf"\W*(?:any |all |every |the )?{OTHER}+,? ?(?:only|too|as well|also)\W*")
_ALL_OF_IT = re.compile(
    r"\W*(?:(?:any|all|every|most|the|our|other|good|high|quality|usual|common|commercial|brand|of|types|kinds) ?)*"
    rf"{OTHER}+\W*"
)
"""A sentence that is the name of a coat and nothing else."""
_NEEDS_TIME = re.compile(
    r" (?:\([^()]*\) )?(?:only )?(?:(?:needs?|requires?|takes?|wants?|must wait|should wait|after|from|in) )?"
    r"(?:at least |a minimum of |min\.? |about |not less than )?\d+[.,]?\d*(?: ?- ?\d+)? ?(?:h|"
    r"hours?|hrs?|min\w*|days?|d|weeks?|')(?!\w)"
)
_SHORT_ANSWER = re.compile(
    r",? ?(?:- )?(?:(?P<no>no|never|not at all|not|nope)|yes|fine|ok|okay|of course|certainly|always|by all means|"
    r"(?:is|are|will be) (?P<notat>not )?(?:all right|fine|ok|okay|welcome|good|possible|acceptable|suitable|permitted|"
    r"allowed|approved|recommended)|will do(?: well| fine| nicely)?)"
    r"(?: (?:too|as well|also|ever|please|thanks|indeed))?(?:\W*$| (?=if|when|once|after|provided|as long))"
)
_ITSELF = re.compile(r"itself|(?:the )?same product")
_AGAIN_OVER = re.compile(
    r"(?:,|;|\band\b|\bor\b|\bnot\b|\bnor\b|\bneither\b|\bas well as\b)\s*"
    r"(?:also |not |never |but not |but never |even |and |or |with )?"
    r"(?:over|on to|onto|on|to|upon|with|under|for|e\.g\.)\b"
    r"|(?:,|\band\b|\bor\b) (?:after|from|within) [^,;]{1,25}? (?:with|by)\b"
)
_BREAK = re.compile(
    r"\b(?:on|over|onto|upon|under|leaving|then|which|because|since|where|so that|so it|before|after|to|until|unless|"
    r"via|giving|gives|provides|provided|when|if|followed|while|without)\b"
)


_ELIDED = re.compile(r"\W*(?:(?:also|readily|does|do|will|can|may|should|not|never|only|even|easily) ?)*")
"""What may stand before a verb whose subject, this product, is left out."""
_SUBJECTLESS = re.compile(r"\W*(?:can|may|must|should|to) (?:then |also |only |not )?be (?:directly )?")
_TOGETHER = re.compile(r" in conjunction ")
_ORDER = re.compile(
    r"\W*(?:then |next |now |finally |do not |don't |never )?(?:apply|spray|use|shoot|put on|lay|brush on)"
    r"(?: (?:an?|the|one|two|any|all|our|next|\d|thin|full|light|wet|first|coats? of|of|suitable|chosen|\d ?- ?\d))*"
    r"\W*"
)
_GOES_ON_ANOTHER = re.compile(
    rf"\W*(?:\w+ )?(?:belongs?|goes?|comes?|sits?|lies?|is (?:put|laid|run|applied))\b(?: \w+){{0,2}}?"
    rf" (?:on top of|over|onto|on|above|upon)\b[^,;{THIS}]*{OTHER}"
)
"""'Sealer belongs on top of the surfacer': on another coat, which says nothing of this one."""
_ORDER_GOES_ON = re.compile(
    r" ?(?:[,.]|$|after\b|when\b|once\b|within\b|as soon as\b|wet[- ]on[- ]wet|directly\b|straight\b)"
)
"""'Apply topcoats after sanding', under a heading on the next coats."""
_OPENING = re.compile(
    r"^\W*(?:(?:provided|providing|if|as long as|so long as|once|when|where|after)\b[^,;:\ue001]*, "
    r"|(?:with the exception of|except(?:ing)?(?: for)?|apart from|other than|excluding) $)"
)
"""A condition or an exception that stands before the coats which it speaks of."""
_BRACKETED = re.compile(r"\([^()]*\)")
"""What a list says of one of its members by the way."""


_STATE = re.compile(
    r",? (?:(?:that|which) (?:(?:has|have) been|has|have|is|are)"
    r"|(?:if|once|when|provided)(?: (?:it|they|these) (?:has|have|is|are)(?: been)?)?) "
    r"(?:(?:already|been|first|fully|well|properly|thoroughly|completely|previously|lightly|freshly) )*"
    r"(?:sanded|abraded|cured|hardened|degreased|cleaned|keyed|scuffed|flatted|matted|dried|dry|hard|sound|clean|intact|"
    r"wiped|isolated|in (?:a )?(?:good|sound|perfect)|firmly|well)"
    r"\b[^;:]*?(?=,? (?:is|are|may|can|must|should|will|has|have)\b|[;:]|$)"
)
"""'... which have been cured and sanded P320': how the things of a list have to be."""


_FOR = re.compile(r"\W*for (?:the |all |any |use on )*")
_GRIP = re.compile(
    r"\W*(?:(?:very|is|are) )*(?:excellent|good|perfect|outstanding|direct|directly|reliable"
    r"|(?P<bad>poor|insufficient|no|bad|weak|none|inadequate|unreliable|limited)) (?:adhesion )?(?:on|to|over)\W*"
)
"""'Adhesion: excellent on ...'."""


def holds(head: str) -> bool | None:
    """Whether the words before a list say that the coat holds there; None where they say neither."""
    grip = _GRIP.fullmatch(head)
    return None if grip is None else grip.group("bad") is None


class Direction:
    """Finds the relation in a marked clause. own_kind is the kind of the sheet's own product."""

    def __init__(self, cues: Cues, own_kind: str | None, language: str = "en") -> None:
        self._cues = cues
        self._language = language
        self._kind = own_kind
        known = own_kind is not None and is_known(own_kind)
        self._own = {own_kind, *ancestors(own_kind), *families_of(own_kind)} if own_kind and known else set()

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
                if by is not None and _MADE.search(text, match.end(), by.start()):
                    continue
                if (
                    by is None
                    or re.search(rf"{OTHER}", text[match.end() : by.start()])
                    or by.start() - match.end() > 70
                ):
                    continue
                listed_after = self.run(text, offset, by.end(), inside)
                if any(not m.is_self for m in listed_after):
                    listed_after = [
                        m
                        for m in listed_after
                        if not m.is_self or m.start < listed_after[0].end or _ITSELF.match(m.words)
                    ]
                if not listed_after:
                    continue
                covered_this = any(
                    m.start - offset < by.start()
                    or re.search(rf"(?:{c.over.pattern})[\w ]{{0,14}}$", text[: m.start - offset])
                    for m in own
                )
                foreign = [m for m in before(match.start()) if not self.own_like(m)]
                if any(m.is_self and not m.pronoun for m in listed_after) and foreign and not covered_this:
                    return Frame(Topic.GOES_OVER, forbids, only, pattern="cover that with this"), foreign
                if (
                    foreign
                    and not covered_this
                    and not re.search(r"[,;]", text[foreign[-1].end - offset : match.start()])
                ):
                    return None
                heading = given is not None and given.topic is Topic.TOPPED_BY
                opening_verb = _SUBJECTLESS.match(text)
                elided = (
                    opening_verb is not None
                    and opening_verb.end() == match.start()
                    and (match.group()[:2] != "us" or _TOGETHER.match(text, match.end()) is not None)
                )
                if verb is c.cover_weak and not covered_this and not heading and not elided:
                    continue
                return Frame(Topic.TOPPED_BY, forbids, only, pattern="cover this with that"), listed_after
        opening = re.match(r"\W*(?:compatible |only )?(?:with|by) ", text)
        if opening and given is not None and given.topic is Topic.TOPPED_BY and after(opening.end()):
            listed_after = self.run(text, offset, opening.end(), inside)
            return Frame(Topic.TOPPED_BY, forbids, only, pattern="with that, under a heading"), listed_after
        # "this accepts that"
        accept = c.accepts.search(text)
        heads = given is not None and given.topic is Topic.TOPPED_BY
        if (
            accept
            and (
                any(m.start - offset < accept.start() for m in own)
                or (heads and _ELIDED.fullmatch(text[: accept.start()]))
            )
            and after(accept.end())
        ):
            upper = [m for m in self.run(text, offset, accept.end(), inside) if not m.is_self]
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
            if below[0].is_self or self.own_like(below[0]):
                uppers = [m for m in before(match.start()) if not self.own_like(m)]
                if uppers:
                    return Frame(Topic.GOES_OVER, forbids, only, pattern="that under this"), uppers
                continue
            foreign = [m for m in before(match.start()) if not self.own_like(m)]
            if foreign and not any(m.start - offset < match.start() for m in own):
                return None
            below = self.run(text, offset, match.end(), inside)
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
            foreign = [m for m in earlier if not self.own_like(m)]
            if target.is_self or (self.own_like(target) and foreign):
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
            lower = [m for m in self.run(text, offset, match.end(), inside) if not m.is_self]
            return Frame(Topic.GOES_OVER, forbids, only, pattern="this over that"), lower
        grip = c.grips.search(text)
        if grip is not None:
            lower = [m for m in here if m.start - offset >= grip.end() and m.start - offset - grip.end() < 60]
            foreign = [m for m in here if m.start - offset < grip.start() and not self.own_like(m)]
            opens = not text[: grip.start()].strip()
            if lower and not foreign and (opens or re.search(r"\b(?:also|directly)\b|" + THIS, text[: grip.end()])):
                return Frame(Topic.GOES_OVER, forbids, only, pattern="this grips that"), lower
        for pattern, topic in ((c.grounds, Topic.GOES_OVER), (c.tops, Topic.TOPPED_BY)):
            match_list = pattern.search(text)
            if match_list is not None:
                lower = [m for m in self.run(text, offset, match_list.end(), inside) if not m.is_self]
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
                for m in self.run(text, offset, suit.end(), inside)
                if m.object.startswith("topcoat")
                and (
                    re.search(r"coats?\b|colou?rs?\b|enamels?\b|finish", m.words)
                    or m.object.startswith("topcoat.base.")
                )
            ]
            alike = [m for m in self.run(text, offset, suit.end(), inside) if not m.is_self]
            side = by_stage([m.object for m in alike], self._kind) if alike else None
            if upper and side is Topic.TOPPED_BY:
                upper = alike
            if side is Topic.GOES_OVER and not lower and suit.group().endswith(("for", "with", "to")):
                return Frame(Topic.GOES_OVER, forbids, only, pattern="suitable for that coat"), alike
            if (
                lower
                and lower[0].start - offset - suit.end() < 50
                and not [m for m in here if m.start - offset < suit.start() and not self.own_like(m)]
            ):
                along = self.run(text, offset, lower[0].start - offset, inside)
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
                    for m in self.run(text, offset, suit.end(), inside)
                    if not m.object.startswith(("surface.", "finish.", "treatment."))
                ]
                able = [m for m in able if not self.own_like(m)]
                if able:
                    return Frame(given.topic, forbids, only, pattern="compatible with that"), able
            if upper and not lower and not any("topcoat" in (k or "") for k in self._own):
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
                or _IMPERATIVE.search(text[at:]) is not None
                or (given is not None and given.topic is Topic.GOES_OVER and not _FULL_VERB.search(text))
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

    def run(self, text: str, offset: int, start: int, inside: list[Mention]) -> list[Mention]:
        """The list that begins at start: up to the word that opens another phrase."""
        out: list[Mention] = []
        edge = start
        for m in inside:
            at = m.start - offset
            if at < start:
                continue
            gap = _BRACKETED.sub("", text[edge:at])
            resumed = max(_AGAIN_OVER.finditer(gap), key=lambda g: g.end(), default=None) if out else None
            if _BREAK.search(gap if resumed is None else gap[resumed.end() :]):
                break
            out.append(m)
            edge = m.end - offset
        return out

    def members(self, text: str, offset: int, inside: list[Mention], *, listed: bool) -> list[Mention]:
        """The coats that a list consists of; 'the primer' in a remark is none of them."""
        able = [
            m for m in inside if not m.is_self or (listed and not re.match(r"(?:the|this|our|it|a)\b(?!self)", m.words))
        ]
        if len(able) > 1 and self.own_like(able[0]) and text.startswith(" for ", able[0].end - offset):
            # "Filler for steel and aluminium": what this product is, and what for.
            able = able[1:]
        return [m for m in self.run(text, offset, able[0].start - offset, inside) if m in able] if able else []

    def own_like(self, mention: Mention) -> bool:
        """This product spoken of by its kind; 'other epoxy primers' are others."""
        return mention.object in self._own and not re.match(r"(?:other|any|all|another)\b", mention.words)

    def by_predicate(
        self,
        text: str,
        clause: Clause,
        inside: list[Mention],
        given: Frame,
        *,
        listed: bool,
        colon: bool,
        prepared: bool = False,
        series: bool = False,
    ) -> tuple[Frame, list[Mention]] | None:
        """'X must not be used', 'X may follow', or a bare list, where the heading or lead-in sets the direction."""
        c = self._cues
        here = self.members(text, clause.start, inside, listed=listed)
        if not here:
            return None
        first = here[0].start - clause.start
        head = _OPENING.sub("", text[:first])
        text = text[:first] + _STATE.sub(lambda m: "\ue003" * len(m.group()), text[first:])
        behind = text[here[-1].end - clause.start :].lstrip("\ue003")
        forbids = given.forbids or negates(self._cues, text)
        if _REMOVED.search(behind):
            # Rust and old filler come off before any coat; of a finish or a primer it says that none may go on it.
            coats = [m for m in here if m.as_found().startswith(("finish.", "topcoat", "primer"))]
            return (
                (replace(given, forbids=True, tentative=True, pattern="that must come off"), coats) if coats else None
            )
        if _GOES_ON_ANOTHER.match(behind):
            return None
        if c.forbids_behind.search(behind) or c.reacts.match(behind.lstrip(" ,")):
            return replace(given, forbids=True, tentative=True, pattern="that must not"), here
        denied = re.match(r"\W*(?:not|never|no)\b", head) is not None and len(head.split()) < 4
        if (
            listed
            and not given.forbids
            and re.fullmatch(r"\W*(?:no|not|never)(?: (?:on|over|for|with|any|to|onto))*\W*", head)
        ):
            return replace(given, forbids=True, pattern="excluded"), here
        if denied and not listed and not _FULL_VERB.search(text):
            return replace(given, forbids=True, pattern="excluded"), here
        if not listed and _ALL_OF_IT.fullmatch(text) and (len(here[0].words.split()) > 1 or head.strip()):
            return replace(given, forbids=given.forbids, tentative=True, pattern="named under its heading"), here
        if _ALONE.fullmatch(text) and len(here) == 1:
            only = closes(c, text) or given.only
            return replace(
                given, forbids=given.forbids, only=only, tentative=True, pattern="named under its heading"
            ), here
        if listed and (held := holds(head)) is not None:
            return replace(given, forbids=given.forbids or not held, pattern="listed"), here
        if _EXCLUDED.match(head):
            return replace(given, forbids=True, pattern="excluded"), here
        if given.topic is Topic.TOPPED_BY and _NEEDS_TIME.match(behind) and not negates(c, text):
            return replace(given, tentative=False, pattern="that needs its time"), here
        if c.follow.search(text):
            return replace(given, tentative=False, pattern="that may follow"), here
        if given.topic is Topic.TOPPED_BY and not listed and _ORDER.fullmatch(head) and _ORDER_GOES_ON.match(behind):
            return replace(given, forbids=forbids, tentative=True, pattern="the order to put that on"), here
        short = _SHORT_ANSWER.match(behind)
        if short is not None and not head.strip():
            return replace(
                given, forbids=(short.group("no") or short.group("notat")) is not None, pattern="answered"
            ), here
        if (
            not listed
            and not _FULL_VERB.search(text)
            and (prepared or series or len(here) > 1)
            and len(head.split()) < 7
        ):
            via = prepared and given.topic is Topic.TOPPED_BY
            if via or series or len(here) > 1 or _PREPARED.search(text):
                said = given.forbids or negates(self._cues, text)
                return replace(given, forbids=said, tentative=True, pattern="named under its heading"), here
        if re.match(r"\W*$", head) or re.match(
            r"\W*(?:(?:or|and|not|for|the|an?|any|old|other|cured|sound|sanded|also|all|over|on|only|minor|small) ?)+$",
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
                if re.search(
                    rf"\b(?:over|on|onto|on top of|under|beneath|below|with|by)\b[^,;]*[{OTHER}{THIS}]", behind
                ):
                    return None
                return replace(given, forbids=forbids, tentative=True, pattern="that may be used"), here
            things = (
                len(here) > 1
                or _PREPARED.search(text) is not None
                or (_FOR.fullmatch(head) is not None and re.search(r"\w", behind) is None)
            )
            if given.topic is Topic.GOES_OVER and things and not (colon or forbids or _VERBS.search(text)):
                return replace(given, forbids=forbids, tentative=True, pattern="named under its heading"), here
            if self._ends_in_answer(clause, text):
                return replace(given, forbids=forbids, pattern="answered"), here
        return None

    @staticmethod
    def _ends_in_answer(clause: Clause, text: str) -> bool:
        return (
            re.search(r"\b(?:suitable|compatible|recommended|permitted|allowed|approved)[^\w\ue000\ue001]*$", text)
            is not None
        )
