"""What a lead-in, a label or a heading says of the list that it opens."""

from __future__ import annotations

import re
from collections.abc import Sequence

from extract.claims import Topic
from extract.clauses.cues import Cues, marked
from extract.clauses.frames import Frame
from extract.clauses.polarity import blank, closes, negates
from extract.mention import OTHER, THIS
from extract.sections import Sense, sense_of_text
from extract.terms import Mention

_COAT = re.compile(r"\b(?:coats?|layers?|paints?|coatings?|substrates?|supports?|topcoats?|finish(?:es)?)\b")
MAY_GO = re.compile(
    r"\b(?:can|may|will|could|must not|cannot|should not) (?:\w+ ){0,3}?(?:go|follow|be (?:put|"
    r"applied|used|laid|sprayed|shot))\b"
)


_NO_VERB = r"(?! (?:use|apply|put|spray|lay|paint|coat|keep|store|mix|handle|sand|work|get|do|be)\b)"
"""'Where to use it' has no 'to' of place."""
_KEPT = 500
"""Lead-ins whose reading is kept."""


class Leads:
    """Reads lead-ins in one language."""

    def __init__(self, cues: Cues, language: str = "en") -> None:
        self._cues = cues
        self._language = language
        self._framed: dict[tuple[str, tuple[Mention, ...]], Frame | None] = {}

    def frame_of(self, folded: str, mentions: Sequence[Mention]) -> Frame | None:
        """What a lead-in or heading ('Do not use on:') says of its list; None where it says nothing."""
        key = (folded, tuple(mentions))
        if key not in self._framed:
            if len(self._framed) >= _KEPT:
                self._framed.clear()
            self._framed[key] = self._frame(folded, mentions)
        return self._framed[key]

    def _frame(self, folded: str, mentions: Sequence[Mention]) -> Frame | None:
        text = folded.strip().rstrip(":;,.- ")
        signs = blank(self._cues.harmless, marked(folded, mentions))[: len(text) + (len(folded) - len(folded.lstrip()))]
        c = self._cues
        forbids = c.negation.search(signs) is not None
        only = closes(self._cues, signs)
        topic: Topic | None = None
        covers = c.cover_strong.search(signs) or c.cover_weak.search(signs)
        if (covers and re.search(rf"(?<!contact )(?:{c.by.pattern}) (?:the |our )?{THIS}\W*$", signs)) or re.search(
            rf"(?:{c.under.pattern}) (?:the |this |our )?{THIS}", signs
        ):
            topic = Topic.GOES_OVER
        elif (
            re.search(rf"(?:{c.over.pattern}){_NO_VERB}[^\ue000\ue001]{{0,25}}{THIS}+", signs)
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

    def opened(self, text: str, given: Frame | None) -> Frame | None:
        """'Anything solvent-borne can go right on top:' opens a list under its heading."""
        if THIS not in text and len(text.split()) <= 4:
            senses = sense_of_text(text, self._language)
            over = Sense.GOES_OVER in senses
            if over != bool(senses & {Sense.TOPPED_BY, Sense.OVERCOATING}) and _COAT.search(text):
                topic = Topic.GOES_OVER if over else Topic.TOPPED_BY
                return Frame(topic, negates(self._cues, text), closes(self._cues, text), pattern="lead-in")
        if given is None or given.topic is None or not MAY_GO.search(text):
            return None
        return Frame(
            given.topic, given.forbids or negates(self._cues, text), closes(self._cues, text), pattern="lead-in"
        )
