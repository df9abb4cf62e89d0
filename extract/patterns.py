"""Phrases as data: what a sheet says in many words, written so that a painter could read and extend it.

Phrases are matched on ``Passage.folded`` (lower case, plain dashes and quotes), so a match gives quote and
boxes at once. The signs of a phrase are explained in
extract/phrases.py. They live in ``vocabulary/<language>/*.toml`` as ``[[pattern]]`` tables:

    [[pattern]]
    name = "never sand wet"
    topic = "exposure"
    property = "wet_sanding"
    stance = "forbids"
    phrase = ["(never|do not) ... (sand*|flat*) .. wet"]
    unless = ["..."]               # phrases that void the match when they stand in the same clause
    conditions = ["cured"]         # set on the claim
    sections = ["exposure"]        # only under headings of this sense (see sections.py); left out: anywhere
    confidence = 0.9
    example = ["Never sand wet."]            # every phrase needs one that it matches
    counter_example = ["Never sand it dry."]
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from functools import cache
from importlib import resources
from typing import Any

from extract.claims import PROPERTIES, Condition, Stance, Topic
from extract.phrases import Phrase, Phrases, clause_around, compile_phrase, compile_phrases, keys_along, word_keys

__all__ = [
    "PatternError",
    "PatternMatch",
    "PatternSpec",
    "clause_around",
    "compile_phrases",
    "load_patterns",
    "patterns_for",
    "read_patterns",
]


class PatternError(ValueError):
    """A pattern's data is wrong. source is the file, name the pattern's."""

    def __init__(self, source: str, name: str, fault: str) -> None:
        super().__init__(f"{source}: pattern {name!r}: {fault}")
        self.source, self.name, self.fault = source, name, fault


@dataclass(frozen=True, slots=True)
class PatternMatch:
    """A phrase found in folded text: where, and the stretches that it captured (name -> start, end)."""

    spec: PatternSpec
    start: int
    end: int
    captured: Mapping[str, tuple[int, int]]


@dataclass(frozen=True, slots=True)
class PatternSpec:
    """One way of saying one thing, with its own example and counter-example. See the module's head."""

    name: str
    topic: Topic
    property: str | None
    stance: Stance
    phrases: tuple[str, ...]
    compiled: tuple[Phrase, ...] = field(repr=False, compare=False)
    examples: tuple[str, ...]
    counter_examples: tuple[str, ...]
    needs: frozenset[str] = field(default=frozenset(), repr=False, compare=False)
    """Keys of words of which one at least stands in every match of any phrase; empty if unknown."""
    unless_phrases: tuple[str, ...] = ()
    unless: Phrases | None = field(default=None, repr=False, compare=False)
    object: str | None = None
    conditions: tuple[Condition, ...] = ()
    text: str | None = None
    sections: frozenset[str] = frozenset()
    confidence: float = 0.8

    def find(self, folded: str) -> Iterator[PatternMatch]:
        """Every place where one of the phrases stands, unless a voiding phrase stands in the same clause."""
        keys = word_keys(folded)
        if self.needs and self.needs.isdisjoint(keys):
            return
        likely = [p for p in self.compiled if p.may_stand_in(keys)]
        if not likely:
            return
        along = keys_along(folded)
        found = [m for p in likely if p.may_stand_along(along) for m in p.regex.finditer(folded)]
        if not found:
            return
        reached = -1
        for match in sorted(found, key=lambda m: (m.start(), -m.end())):
            if match.start() < reached:
                continue
            if self.unless is not None:
                start, end = clause_around(folded, match.start(), match.end())
                if self.unless.search(folded, start, end):
                    continue
            reached = match.end()
            captured = {
                name.split("__")[0]: match.span(name) for name, value in match.groupdict().items() if value is not None
            }
            yield PatternMatch(self, match.start(), match.end(), captured)


def _several(value: Any) -> tuple[str, ...]:
    return (value,) if isinstance(value, str) else tuple(value)


def read_patterns(text: str, source: str) -> tuple[PatternSpec, ...]:
    """The patterns of one TOML text. Raises PatternError where one is not as the module's head says."""
    specs: list[PatternSpec] = []
    for table in tomllib.loads(text).get("pattern", ()):
        name = str(table.get("name", ""))
        try:
            spec = _spec(table)
        except (KeyError, ValueError, re.error) as error:
            raise PatternError(source, name, str(error)) from error
        if spec.property is not None and spec.property not in PROPERTIES[spec.topic]:
            raise PatternError(source, name, f"{spec.topic} has no property {spec.property!r}")
        specs.append(spec)
    return tuple(specs)


def _spec(table: Mapping[str, Any]) -> PatternSpec:
    phrases = _several(table["phrase"])
    unless = _several(table.get("unless", ()))
    compiled = tuple(compile_phrase(p) for p in phrases)
    telling = all(p.needs for p in compiled)
    return PatternSpec(
        name=table["name"],
        topic=Topic(table["topic"]),
        property=table.get("property"),
        stance=Stance(table["stance"]),
        phrases=phrases,
        compiled=compiled,
        needs=frozenset(key for p in compiled for key in p.needs) if telling else frozenset(),
        examples=_several(table["example"]),
        counter_examples=_several(table["counter_example"]),
        unless_phrases=unless,
        unless=compile_phrases(unless) if unless else None,
        object=table.get("object"),
        conditions=tuple(Condition(c) for c in table.get("conditions", ())),
        text=table.get("text"),
        sections=frozenset(table.get("sections", ())),
        confidence=float(table.get("confidence", 0.8)),
    )


def patterns_for(language: str, name: str, folded: str) -> list[PatternSpec]:
    """Those of load_patterns() that may stand in a text at all, in their order."""
    always, by_key = _index(language, name)
    wanted = set(always)
    keys, along = word_keys(folded), keys_along(folded)
    for key in keys:
        for number, phrase in by_key.get(key, ()):
            if number not in wanted and phrase.may_stand_in(keys) and phrase.may_stand_along(along):
                wanted.add(number)
    specs = load_patterns(language, name)
    return [specs[n] for n in sorted(wanted)]


@cache
def _index(language: str, name: str) -> tuple[frozenset[int], Mapping[str, tuple[tuple[int, Phrase], ...]]]:
    """Numbers of the patterns that need no certain word; and, by the key of a word, the phrases that may need it."""
    by_key: dict[str, list[tuple[int, Phrase]]] = {}
    always: set[int] = set()
    for number, spec in enumerate(load_patterns(language, name)):
        for phrase in spec.compiled:
            if not phrase.needs:
                always.add(number)
            for key in phrase.needs:
                by_key.setdefault(key, []).append((number, phrase))
    return frozenset(always), {key: tuple(phrases) for key, phrases in by_key.items()}


@cache
def load_patterns(language: str, name: str) -> tuple[PatternSpec, ...]:
    """The patterns of vocabulary/<language>/<name>.toml; none where the language has no such file."""
    path = resources.files("extract.vocabulary") / language / f"{name}.toml"
    if not path.is_file():
        return ()
    return read_patterns(path.read_text(encoding="utf-8"), f"{language}/{name}.toml")
