"""Phrases as data: what a sheet says in many words, written so that a painter could read and extend it.

A phrase is plain lower-case words with a few signs:

    never sand wet          these words in this order; a blank also stands for a hyphen, slash, quote or bracket
    sand*                   any ending: sand, sanded, sanding
    (leave|keep|store)      one of these, each of one or more words
    [the] film              a part that may be missing
    ..                      up to three further words
    ...                     anything up to the end of the clause (which ends at . ; : ! or ?)
    {object} {text} {via}   captured for the finder: a stretch of the clause
    {quantity}              the same, beginning with a figure or a written number (one, half, a, ...)
    ^  $                    the beginning and the end of the statement
    , :                     themselves

Phrases are matched on ``Passage.folded`` (lower case, plain dashes and quotes), so a match gives quote and
boxes at once. They live in ``vocabulary/<language>/*.toml`` as ``[[pattern]]`` tables:

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

CAPTURES = ("object", "quantity", "text", "via")

_SIGN = re.compile(r"\.{3}|\.{2}|\{[a-z]+\}|[()\[\]|^$,:]|[^\s()\[\]|{},:^$]+")
_GLUE = r"[\s\-/'\"()]*"
"""Between two items. It may be empty: the word limits on either side keep two words apart."""
_SHORTENED = ("max", "min", "approx", "ca", "incl", "e.g", "i.e", "hrs", "hr", "resp", "no", "nr")
"""Words whose full stop ends no clause."""
_AFTER_SHORTENED = "|".join(rf"(?<=\b{re.escape(w)})\." for w in _SHORTENED)
_IN_CLAUSE = rf"(?:[^.;:!?]|(?<=\d)[.:](?=\d)|\.(?=\d)|{_AFTER_SHORTENED})"
_GAP = _IN_CLAUSE + r"{0,160}?"
_LIMITS = {"^": r"\A", "$": r"\Z"}
_FEW_WORDS = rf"(?:\s*(?:[^\s.;:!?,()]|(?<=\d)\.(?=\d)|{_AFTER_SHORTENED})+){{0,3}}?"
_NUMBER_AHEAD = (
    r"(?<!\w)(?=[-+~<>]?\d|[½¼¾]|(?:an?|one|two|three|four|five|six|seven|eight|nine|ten|twelve|half|quarter|several|the (?:hour|day|week|same)"
    r"|eine?[nmrs]?|zwei|drei|vier|halbe?[nrs]?|une?|deux|trois|quatre|una?|dos|tres|cuatro|een|twee|drie)\b)"
)
_CLAUSE_END = re.compile(r"(?!" + _AFTER_SHORTENED + r")[.;:!?](?!\d)")


class PatternError(ValueError):
    """A pattern's data is wrong. source is the file, name the pattern's."""

    def __init__(self, source: str, name: str, fault: str) -> None:
        super().__init__(f"{source}: pattern {name!r}: {fault}")
        self.source, self.name, self.fault = source, name, fault


def compile_phrases(phrases: tuple[str, ...]) -> re.Pattern[str]:
    """One expression for several phrases of one meaning. Raises ValueError on a phrase that cannot be read."""
    compiler = _Compiler()
    return re.compile("|".join(f"(?:{compiler.phrase(p)})" for p in phrases))


class _Compiler:
    """Turns phrases into one expression; captures get a running number, as a name may stand only once."""

    def __init__(self) -> None:
        self._captures = 0

    def phrase(self, text: str) -> str:
        signs = _SIGN.findall(text)
        if not signs:
            raise ValueError("an empty phrase")
        out, rest = self._alternatives(signs, 0, outermost=True)
        if rest != len(signs):
            raise ValueError(f"unbalanced brackets in {text!r}")
        return out

    def _alternatives(self, signs: list[str], at: int, *, outermost: bool = False) -> tuple[str, int]:
        branches: list[str] = []
        while True:
            branch, at = self._sequence(signs, at)
            branches.append(branch)
            if at < len(signs) and signs[at] == "|" and not outermost:
                at += 1
                continue
            return "|".join(branches), at

    def _sequence(self, signs: list[str], at: int) -> tuple[str, int]:
        parts: list[str] = []
        while at < len(signs) and signs[at] not in ("|", ")", "]"):
            sign = signs[at]
            if sign in ("(", "["):
                inner, after = self._alternatives(signs, at + 1)
                closing = ")" if sign == "(" else "]"
                if after >= len(signs) or signs[after] != closing:
                    raise ValueError(f"'{sign}' without '{closing}'")
                parts.append(f"(?:{inner})" + ("?" if sign == "[" else ""))
                at = after
            elif sign.startswith("{"):
                parts.append(self._capture(sign.strip("{}"), last=at + 1 == len(signs)))
            else:
                parts.append(_item(sign))
            at += 1
        return _GLUE.join(parts), at

    def _capture(self, name: str, *, last: bool) -> str:
        if name not in CAPTURES:
            raise ValueError(f"no such capture: {{{name}}}")
        self._captures += 1
        ahead = _NUMBER_AHEAD if name == "quantity" else ""
        return f"{ahead}(?P<{name}__{self._captures}>{_IN_CLAUSE}{'{1,240}' if last else '{1,240}?'})"


def _item(sign: str) -> str:
    if sign == "...":
        return _GAP
    if sign == "..":
        return _FEW_WORDS
    if sign in _LIMITS:
        return _LIMITS[sign]
    body = r"\w*".join(re.escape(part) for part in sign.split("*"))
    before = r"(?<!\w)" if sign[0].isalnum() else ""
    after = r"(?!\w)" if sign[-1].isalnum() or sign[-1] == "*" else ""
    return before + body + after


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
    examples: tuple[str, ...]
    counter_examples: tuple[str, ...]
    regex: re.Pattern[str] = field(repr=False, compare=False)
    unless_phrases: tuple[str, ...] = ()
    unless: re.Pattern[str] | None = field(default=None, repr=False, compare=False)
    object: str | None = None
    conditions: tuple[Condition, ...] = ()
    text: str | None = None
    sections: frozenset[str] = frozenset()
    confidence: float = 0.8

    def find(self, folded: str) -> Iterator[PatternMatch]:
        """Every place where one of the phrases stands, unless a voiding phrase stands in the same clause."""
        for match in self.regex.finditer(folded):
            if self.unless is not None:
                start, end = clause_around(folded, match.start(), match.end())
                if self.unless.search(folded, start, end):
                    continue
            captured = {
                name.split("__")[0]: match.span(name) for name, value in match.groupdict().items() if value is not None
            }
            yield PatternMatch(self, match.start(), match.end(), captured)


def clause_around(folded: str, start: int, end: int) -> tuple[int, int]:
    """Limits of the clause that holds folded[start:end]: from one of . ; : ! ? to the next (not inside a number)."""
    left = 0
    for mark in _CLAUSE_END.finditer(folded, 0, start):
        left = mark.end()
    right = _CLAUSE_END.search(folded, max(start, end - 1))
    return left, right.start() if right else len(folded)


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
    return PatternSpec(
        name=table["name"],
        topic=Topic(table["topic"]),
        property=table.get("property"),
        stance=Stance(table["stance"]),
        phrases=phrases,
        examples=_several(table["example"]),
        counter_examples=_several(table["counter_example"]),
        regex=compile_phrases(phrases),
        unless_phrases=unless,
        unless=compile_phrases(unless) if unless else None,
        object=table.get("object"),
        conditions=tuple(Condition(c) for c in table.get("conditions", ())),
        text=table.get("text"),
        sections=frozenset(table.get("sections", ())),
        confidence=float(table.get("confidence", 0.8)),
    )


@cache
def load_patterns(language: str, name: str) -> tuple[PatternSpec, ...]:
    """The patterns of vocabulary/<language>/<name>.toml; none where the language has no such file."""
    path = resources.files("extract.vocabulary") / language / f"{name}.toml"
    if not path.is_file():
        return ()
    return read_patterns(path.read_text(encoding="utf-8"), f"{language}/{name}.toml")
