"""Coats of which a clause says something, where a heading or a lead-in tells on which side they lie."""

from __future__ import annotations

import re
from dataclasses import replace

from extract.claims import Topic
from extract.clauses.cues import Cues
from extract.clauses.frames import Clause, Frame
from extract.clauses.lists import Lists
from extract.clauses.polarity import closes, negates
from extract.mention import OTHER, THIS
from extract.speech import speech
from extract.terms import Mention


def holds(head: str, language: str = "en") -> bool | None:
    """Whether the words before a list say that the coat holds there; None where they say neither."""
    grip = speech(language)["grip"].fullmatch(head)
    return None if grip is None else grip.group("bad") is None


class Predicates:
    """Reads 'X must not be used', 'X may follow' and bare lists."""

    def __init__(self, cues: Cues, lists: Lists, language: str = "en") -> None:
        self._cues = cues
        self._lists = lists
        self._language = language
        self._says = speech(language)

    def read(
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
        here = self._lists.members(text, clause.start, inside, listed=listed)
        if not here:
            return None
        first = here[0].start - clause.start
        head = self._says["opening"].sub("", text[:first])
        text = text[:first] + self._says["state"].sub(lambda m: "\ue003" * len(m.group()), text[first:])
        behind = text[here[-1].end - clause.start :].lstrip("\ue003")
        forbids = given.forbids or negates(self._cues, text)
        if self._says["removed"].search(behind):
            # Rust and old filler come off before any coat; of a finish or a primer it says that none may go on it.
            coats = [m for m in here if m.as_found().startswith(("finish.", "topcoat", "primer"))]
            return (
                (replace(given, forbids=True, tentative=True, pattern="that must come off"), coats) if coats else None
            )
        if self._says["goes_on_another"].match(behind):
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
        if denied and not listed and not self._says["full_verb"].search(text):
            return replace(given, forbids=True, pattern="excluded"), here
        if not listed and self._says["all_of_it"].fullmatch(text) and (len(here[0].words.split()) > 1 or head.strip()):
            return replace(given, forbids=given.forbids, tentative=True, pattern="named under its heading"), here
        if self._says["alone"].fullmatch(text) and len(here) == 1:
            only = closes(c, text) or given.only
            return replace(
                given, forbids=given.forbids, only=only, tentative=True, pattern="named under its heading"
            ), here
        if listed and (held := holds(head, self._language)) is not None:
            return replace(given, forbids=given.forbids or not held, pattern="listed"), here
        if self._says["excluded"].match(head):
            return replace(given, forbids=True, pattern="excluded"), here
        if given.topic is Topic.TOPPED_BY and self._says["needs_time"].match(behind) and not negates(c, text):
            return replace(given, tentative=False, pattern="that needs its time"), here
        if c.follow.search(text):
            return replace(given, tentative=False, pattern="that may follow"), here
        if (
            given.topic is Topic.TOPPED_BY
            and not listed
            and self._says["order"].fullmatch(head)
            and self._says["order_goes_on"].match(behind)
        ):
            return replace(given, forbids=forbids, tentative=True, pattern="the order to put that on"), here
        short = self._says["short_answer"].match(behind)
        if short is not None and not head.strip():
            return replace(
                given, forbids=(short.group("no") or short.group("notat")) is not None, pattern="answered"
            ), here
        if (
            not listed
            and not self._says["full_verb"].search(text)
            and (prepared or series or len(here) > 1)
            and len(head.split()) < 7
        ):
            via = prepared and given.topic is Topic.TOPPED_BY
            if via or series or len(here) > 1 or self._says["prepared"].search(text):
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
                or self._says["prepared"].search(text) is not None
                or (self._says["for"].fullmatch(head) is not None and re.search(r"\w", behind) is None)
            )
            if given.topic is Topic.GOES_OVER and things and not (colon or forbids or self._says["verbs"].search(text)):
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
