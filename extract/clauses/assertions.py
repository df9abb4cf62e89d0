"""Whole ways of saying what lies over what, as data: vocabulary/<language>/assertions.toml."""

from __future__ import annotations

import re
import tomllib
from dataclasses import dataclass
from functools import cache
from importlib import resources

from extract.claims import Topic
from extract.clauses.frames import Frame
from extract.clauses.stages import by_stage
from extract.mention import OTHER, THIS
from extract.terms import Mention

_TAKEN_OUT = r" \(?(?:except|excepting|excluding|save for|barring|apart from|other than|with the exception of)\b"
"""What stands before the part of a list that is no part of it: exceptions.py turns it round."""
_LIST = (
    rf"(?P<list>{OTHER}+(?:(?: (?!(?:is|are|may|can|must|will|not|on|over|under|with|then|has|have|to|if|when)\b)"
    rf"[a-z-]+)?"
    rf"(?:,|;| and| or| nor|/| &|,? as well as|, and|, or|{_TAKEN_OUT})"
    rf"[^{OTHER}{THIS}.;:,]{{0,24}}?{OTHER}+)*)"
)
_CLOSE_LIST = rf"(?P<list>{OTHER}+(?:(?:,|;|,? and|,? or|/| &) ?(?:[\w-]+ )?{OTHER}+)*)"
"""A list with nothing but its members: one word at most before each."""
_GAP = rf"[^.;:{OTHER}{THIS}]{{0,40}}?"


@dataclass(frozen=True, slots=True)
class Assertion:
    """One entry: the list's relation to this product, and whether it is permitted, forbidden or as the clause reads."""

    name: str
    topic: Topic | None
    """None where the order in which coats go on tells the side."""
    forbids: bool | None
    """None where the clause's own words say it."""
    under: bool
    """True where a heading on the next coats, or this product in the clause, has to set the direction."""
    tops_only: bool
    found_only: bool
    """True where only what is found on a panel counts: surfaces, old finishes, treatments."""
    paints_only: bool
    """True where only paint counts: finishes and primers."""
    last: bool
    """True where it is tried only when nothing else says how the coats lie."""
    cues: tuple[str, ...]
    words: tuple[re.Pattern[str], ...]
    example: str
    counter_example: str


@cache
def assertions(language: str = "en") -> tuple[Assertion, ...]:
    """The assertions of a language; none where it has no such file."""
    path = resources.files("extract.vocabulary").joinpath(language, "assertions.toml")
    if not path.is_file():
        return ()
    out = []
    for raw in tomllib.loads(path.read_text("utf-8"))["assertion"]:
        stance = {"forbids": True, "permits": False, "read": None}[raw["stance"]]
        out.append(
            Assertion(
                raw["name"], None if raw["topic"] == "stage" else Topic(raw["topic"]), stance, raw.get("under", False),
                any("{tops}" in w for w in raw["words"]), any("{found}" in w or "{these}" in w for w in raw["words"]),
                any("{paints}" in w for w in raw["words"]), raw.get("last", False), tuple(raw["cues"]),
                tuple(_compile(w) for w in raw["words"]), raw["example"], raw["counter_example"],
            )
        )  # fmt: skip
    return tuple(out)


@cache
def firm(language: str = "en") -> frozenset[str]:
    """The names of the assertions that forbid by themselves; no 'before' or 'until' turns them round."""
    return frozenset(a.name for a in assertions(language) if a.forbids)


def _compile(words: str) -> re.Pattern[str]:
    for sign, body in (
        ("{list}", _LIST),
        ("{grounds}", _LIST),
        ("{tops}", _LIST),
        ("{found}", _LIST),
        ("{paints}", _LIST),
        ("{these}", _CLOSE_LIST),
        ("{this}", THIS + "+"),
        ("{g}", _GAP),
    ):
        words = words.replace(sign, body)
    return re.compile(words)


def asserted(
    language: str,
    text: str,
    offset: int,
    inside: list[Mention],
    given: Frame | None,
    *,
    forbids: bool,
    only: bool,
    last: bool = False,
    own_kind: str | None = None,
) -> tuple[Frame, list[Mention]] | None:
    """The relation of the first assertion that the marked clause holds, with the coats of its list."""
    for entry in assertions(language):
        if entry.last is not last or not any(cue in text for cue in entry.cues):
            continue
        if entry.under and not (given is not None and given.topic is entry.topic) and THIS not in text:
            continue
        for pattern in entry.words:
            spans = [m.span("list") for m in pattern.finditer(text)]
            coats = [m for m in inside if not m.is_self and any(a <= m.start - offset < b for a, b in spans)]
            if entry.tops_only:
                coats = [m for m in coats if not m.object.startswith(("surface.", "finish.", "treatment."))]
            if entry.found_only:
                coats = [m for m in coats if m.object.startswith(("surface.", "finish.", "treatment."))]
            if entry.paints_only:
                coats = [m for m in coats if m.object.startswith(("finish.", "topcoat", "primer"))]
            topic = entry.topic or by_stage([m.object for m in coats], own_kind)
            if coats and topic is not None:
                says = forbids if entry.forbids is None else entry.forbids
                return Frame(topic, says, only and not says, pattern=entry.name), coats
    return None
