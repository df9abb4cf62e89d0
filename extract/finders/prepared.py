"""What a text's sanding, degreasing and the rest is to be done to: the objects of preparation claims."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass

from extract.claims import SELF
from extract.document import Passage
from extract.figures.strangers import is_about_another
from extract.finders.preparing import Action, wordings
from extract.phrases import clause_around
from extract.terms import Mention, Vocabulary

TO_BRIGHT = "back to bright metal"
"""Name of the pattern that speaks of grinding down to metal."""
OWN_FILM: tuple[str | None, ...] = ("own film",)
"""In place of objects: what is sanded is this product's own film."""


@dataclass(frozen=True, slots=True)
class Place:
    """Where a text stands: what is prepared there where the text does not say, and the cells to quote."""

    objects: tuple[str, ...] = ()
    quoted: tuple[Passage, ...] = ()
    cell: str = ""
    own: bool = False
    """True where the text is about this product's own film; objects are then the next coats."""
    denied: bool = False
    """True in a row or bullet that forbids the object: sanding it would permit nothing."""
    variant: str = ""
    listed: bool = False
    """True in a bullet of a list of surfaces, where the words may stand in any order."""
    certain: float = 0.0


class Prepared:
    """Finds the objects by the terms of one sheet's vocabulary."""

    def __init__(self, language: str, vocabulary: Vocabulary) -> None:
        self._language = language
        self._vocabulary = vocabulary

    def is_about_another(self, passage: Passage) -> bool:
        """Whether the sentence tells what to do with another product."""
        return is_about_another(passage, self._vocabulary)

    def mentions(self, passage: Passage) -> list[Mention]:
        """What the text names, but for pronouns, dirt, and coats that come later or serve as a means."""
        folded = passage.folded
        words = wordings(self._language)
        out: list[Mention] = []
        for mention in self._vocabulary.mentions(passage.text):
            before = folded[max(0, mention.start - _NEAR) : mention.start]
            if (
                mention.pronoun
                or _generic(mention, folded)
                or (mention.is_product and _CLEANER.search(mention.words))
                or (words and words.later.search(before) and not words.but.search(before))
            ):
                continue
            out.append(mention)
        return out

    def objects(self, passage: Passage, *, label: bool = False) -> tuple[str, ...]:
        """The ids named, each once; of a row's label without what it leaves out ('GRP (not PP, PE)')."""
        if not label:
            return tuple(dict.fromkeys(m.as_found() for m in self.mentions(passage)))
        folded = passage.folded
        found = [m for m in self._vocabulary.mentions(passage.text) if not m.pronoun]
        return tuple(
            dict.fromkeys(
                m.as_found() for m in found if not _LEFT_OUT.search(folded[max(0, m.start - _NEAR) : m.start])
            )
        )

    def of(self, action: Action, passage: Passage, mentions: list[Mention], place: Place) -> tuple[str | None, ...]:
        """What a sentence says the action is done to: what it names before the action, else any surface."""
        folded = passage.folded
        words = wordings(self._language)
        start = sentence_start(folded, action.start)
        if action.property in ("test_patch", "rinse", "neutralise"):
            start = 0
        here = sentence_start(folded, action.start)
        if action.property == "test_patch" and any(here <= m.start < action.end and not m.is_self for m in mentions):
            start = here  # 'steel after blasting; old alkyd, after a test patch': each part of the list has its own
        named = [m for m in mentions if not m.is_self and not _generic(m, folded) and start <= m.start]
        before = [m for m in named if m.start < action.end and not (m.is_product and m.start >= action.start)]
        if action.name == TO_BRIGHT:
            # 'Back to bright steel' names the aim.
            before = [m for m in before if m.end < action.end - 1]
        if not before and (place.listed or action.property == "test_patch"):
            _, clause_end = clause_around(folded, action.start, action.end)
            before = [m for m in named if action.end <= m.start < clause_end and not m.is_product]
        if not before and action.property in ("blast", "derust"):
            # 'Sweep blast galvanised steel', 'sweep blasting is advised for galvanised steel'
            before = [
                m for m in named if m.start >= action.end and _STRAIGHT_ON.fullmatch(folded[action.end : m.start])
            ]
        if words and action.property in ("degrease", "derust"):
            last = max((m.end for m in before), default=start)
            if words.general.search(folded, last, action.start):
                before = []
        if before:
            return _particular(_after_stop(folded, before, action), action)
        if words and action.property in ("rinse", "neutralise") and words.treated.search(folded):
            return ("treatment.converter",)
        return place.objects or (None,)

    def groups(
        self, passage: Passage, grades: list[Action], mentions: list[Mention], place: Place, *, in_cell: bool
    ) -> Iterator[tuple[list[Action], tuple[str | None, ...]]]:
        """The grades of a text in groups, each with what is to be sanded so."""
        folded = passage.folded
        mentions = [m for m in mentions if not _EXCEPTED.search(folded[max(0, m.start - _NEAR) : m.start])]
        if in_cell:
            if grades:
                yield grades, place.objects or (None,)
            return
        groups: list[tuple[list[Action], tuple[str | None, ...]]] = []
        since = 0
        words = wordings(self._language)
        for n, action in enumerate(grades):
            clause_start, _ = clause_around(folded, action.start, action.end)
            if words and words.past.search(folded, max(clause_start, action.start - _NEAR), action.start) and groups:
                since = action.end
                continue  # 'within 3 days; past that, P400' belongs to the window
            _, clause_end = clause_around(folded, action.start, action.end)
            before = _after_stop(folded, [m for m in mentions if since <= m.start and m.end <= action.start], action)
            here = sentence_start(folded, action.start)
            own = [m for m in before if m.start >= here]
            if own or (words and words.beneath.search(folded, here, action.end)):
                before = own  # a sentence that says what is sanded does not mean what an earlier one named
            until = grades[n + 1].start if n + 1 < len(grades) else clause_end
            if not before and (ahead := self._ahead(folded, action.end, until, mentions)):
                before = ahead
                since = ahead[-1].end
            elif not before and groups:
                # 'P180, finishing P240': the same thing, finer.
                groups[-1][0].append(action)
                since = action.end
                continue
            else:
                since = action.end
            groups.append(([action], self._named(before, place)))
        yield from groups

    @staticmethod
    def _ahead(folded: str, start: int, until: int, mentions: list[Mention]) -> list[Mention]:
        """'P180 for steel', 'P320 on aluminium and GRP': what follows the grade."""
        following = [m for m in mentions if start <= m.start < until]
        if not following or not _FOLLOWS.fullmatch(folded[start : following[0].start]):
            return []
        return following

    @staticmethod
    def _named(mentions: list[Mention], place: Place) -> tuple[str | None, ...]:
        if not mentions:
            return place.objects or (None,)
        if place.own or (mentions[-1].is_self and len(mentions) > 1):
            # 'A surfacer, over this primer sanded P320': its own film.
            return OWN_FILM
        found = tuple(dict.fromkeys(m.as_found() for m in mentions if not m.is_self))
        # In a list of what it goes over, the product itself is an old coat of it.
        return found or ((SELF,) if place.listed else OWN_FILM)


_CLEANER = re.compile(r"\b(?:cleaner|degreaser|pre-?clean|remover|wipe|thinner|reducer)\b", re.IGNORECASE)
"""In a product's name: a means of cleaning, which nobody degreases."""
_NEAR = 80
"""Characters before a name among which the words that govern it are sought."""
_STRAIGHT_ON = re.compile(
    r"[\s,]{0,3}|\s*(?:(?:is|are|should be|must be)\s+)?(?:recommended|advis(?:ed|able)|required|preferred|necessary|"
    r"used)?\s*(?:for|on|of)\s+(?:all |the |any )?"
)
"""What may stand between blasting and what is blasted."""
_DIRT_WORD = re.compile(r"residue|silicone", re.IGNORECASE)
_WIPES = re.compile(r"\s*(?:(?:&|and|/) ?grease|remover)")
_NO_OBJECTS = frozenset({"wash", "acid", "soluble", "water soluble", "water-soluble"})
"""Words that are coats elsewhere, and here what is washed and what with."""
_WASHED = re.compile(r"wash\w* (?:old |the )?paint")
"""'Wash painted surfaces' is no wash primer."""
_DIRT = frozenset({"surface.steel.rusted", "surface.steel.millscale"})
_FOLLOWS = re.compile(
    r"\s*(?:dry|wet|grit|paper)?[\s,(]*(?:for|on|over|in the case of)\s+(?:the |all |bare |old )*|\s*\)\s*"
)
_LEFT_OUT = re.compile(r"\b(?:not|except(?: for)?|excluding|other than|but not|no)\b[^.;:)]*$")
"""'GRP (not PP, PE)': what stands behind is no object of the row."""
_EXCEPTED = re.compile(
    r"\b(?:except(?: for)?|excluding|apart from|other than|with the exception of|but not|not|without)"
    r"\s+(?:[\w-]+\s+){0,2}$"
)
_SENTENCE_END = re.compile(r"[.;!?](?!\d)(?=\s)")


def sentence_start(folded: str, at: int) -> int:
    """Where the sentence of folded[at:] begins; 'Steel: degrease' is one."""
    ends = [m.end() for m in _SENTENCE_END.finditer(folded, 0, at)]
    return ends[-1] if ends else 0


def _after_stop(folded: str, mentions: list[Mention], action: Action) -> list[Mention]:
    """Of the things named before an action those behind the last semicolon, where any stand there."""
    stop = folded.rfind(";", 0, action.start)
    return [m for m in mentions if m.start > stop] or mentions


def _particular(mentions: list[Mention], action: Action) -> tuple[str, ...]:
    """The objects named, each once; 'steel is to be blasted' names steel, not steel that is blasted already."""
    objects = list(dict.fromkeys(m.as_found() for m in mentions))
    if action.property in ("blast", "profile") and "surface.steel" in objects:
        objects = [o for o in objects if o != "surface.steel.blasted"]
    if action.property == "derust" and action.loose:
        objects = ["surface.steel.rusted" if o == "surface.steel" else o for o in objects]
    return tuple(dict.fromkeys(objects))


def _generic(mention: Mention, folded: str) -> bool:
    """'The metal' and 'rust' in 'the metal must be free of rust' name no particular surface."""
    words = mention.words.strip()
    if mention.object == "finish.bitumen" and (_DIRT_WORD.search(words) or _WIPES.match(folded, mention.end)):
        return True  # 'silicone residues' are dirt, and 'Wax & Grease Remover' takes wax off
    if words.lower() in _NO_OBJECTS or _WASHED.match(words.lower()):
        return True
    rust = mention.object in _DIRT and not re.search(r"rusted|rusty|steel|metal|panel", words)
    return rust or words in ("metal", "metals", "the metal", "panel", "panels")
