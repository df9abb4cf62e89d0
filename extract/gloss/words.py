"""What a language has for the gloss: its words, its verbs, its turns, and the words that cast doubt.

words.toml   nouns_behind = words behind which a bare verb is a noun ('ohne Schleifen');
             [[words]] with says = "bare steel", as = ["blank* stahl*"]; or a table [english] of English = [...]
turns.toml   [[turn]] with phrase = ["..."], says = "...", example = "...", becomes = "..."
"""

from __future__ import annotations

import re
import tomllib
from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from importlib import resources
from typing import Any

from extract.gloss.signs import alternatives, bare, turn_pattern, word_pattern

_KEY = 3
"""Letters by which words are looked up."""
_NUMBERING = re.compile(r"\d{1,2}(?:\.\d{1,2})*[.)]?\s+(?=[^\W\d_]{4})")
"""The number of a chapter before its heading."""


@dataclass(frozen=True, slots=True)
class Word:
    """A wording and its English. weight: how many letters of it are given."""

    pattern: str
    """Compiled when it is first tried: of some thousand words a sheet asks for few."""
    english: str
    several: bool
    weight: int


@dataclass(frozen=True, slots=True)
class Turn:
    """A way of building a clause, with its own example."""

    pattern: re.Pattern[str]
    english: str
    example: str
    becomes: str


@dataclass(frozen=True, slots=True)
class Tongue:
    """A language as the gloss knows it."""

    words: Mapping[str, tuple[Word, ...]]
    heads: tuple[tuple[re.Pattern[str], str], ...]
    turns: tuple[Turn, ...]
    forms: Mapping[str, tuple[tuple[re.Pattern[str], str], ...]]
    """A form's name, to the verbs in it and their English."""
    doubt: re.Pattern[str]
    nouns_are_capital: bool
    conditioning: re.Pattern[str]
    """Right before a noun: words behind which it may be a condition."""

    def at(self, folded: str, start: int) -> tuple[Word, int] | None:
        """The longest word that begins at start, and where it ends; of equals the one that gives more letters."""
        best: tuple[Word, int] | None = None
        for size in range(_KEY, 0, -1):
            for word in self.words.get(folded[start : start + size], ()):
                match = _compiled(word.pattern).match(folded, start)
                if match and (best is None or (match.end(), word.weight) > (best[1], best[0].weight)):
                    best = word, match.end()
        return best

    def head(self, folded: str) -> str | None:
        """What a whole heading, label or table head says, where it is known as one."""
        bare = _NUMBERING.sub("", folded.strip(" .:*?"))
        return next((english for pattern, english in self.heads if pattern.fullmatch(bare)), None)

    def verb(self, form: str, printed: str) -> str:
        return next(english for pattern, english in self.forms[form] if pattern.fullmatch(printed))


@cache
def _compiled(pattern: str) -> re.Pattern[str]:
    return re.compile(pattern)


@cache
def tongue(language: str) -> Tongue | None:
    """A language's data; None where it has none. Raises KeyError, ValueError or re.error on bad data."""
    folder = resources.files("extract.vocabulary").joinpath(language)
    if not folder.joinpath("turns.toml").is_file():
        return None
    data = tomllib.loads(folder.joinpath("words.toml").read_text("utf-8"))
    turns = tomllib.loads(folder.joinpath("turns.toml").read_text("utf-8"))
    words: defaultdict[str, list[Word]] = defaultdict(list)
    for english, phrases in _pairs(data["words"]):
        for phrase in phrases:
            for plain in alternatives(phrase):
                weight = len(plain.replace("*", ""))
                word = Word(word_pattern(plain), english, " " in plain, weight)
                words[re.split(r"[*~]", plain.removeprefix("#"))[0][:_KEY]].append(word)
    forms: defaultdict[str, list[tuple[re.Pattern[str], str]]] = defaultdict(list)
    verb_done = {verb["do"]: verb["done"] for verb in data["verb"]}
    for verb in data["verb"]:
        for form, phrases in verb["forms"].items():
            english = verb["do"] if form == "do" else verb["done"]
            for phrase in phrases:
                forms[form].append((re.compile("|".join(_inner(p) for p in alternatives(phrase))), english))
    for verb in data["verb"]:
        for form in ("done", "do"):
            for plain in (p for phrase in verb["forms"].get(form, ()) for p in alternatives(phrase)):
                word = Word(word_pattern(plain), verb[form], False, int(form == "do"))
                words[re.split(r"[*~]", plain)[0][:_KEY]].append(word)
    # 'lässt sich überlackieren': the bare form of the verb where English has its participle.
    forms["inf"] = [(p, verb_done[english]) for p, english in forms["do"]]
    nouns = "".join(rf"(?<!\b{re.escape(bare(w))} )" for w in data["nouns_behind"])
    expressions = {form: "|".join(p.pattern for p, _ in known) for form, known in forms.items()}
    expressions["do"] = f"{nouns}(?:{expressions['do']})"
    heads = [
        (re.compile("|".join(word_pattern(p) for p in alternatives(phrase))), english)
        for english, phrases in data["heads"].items()
        for phrase in phrases
    ]
    return Tongue(
        {key: tuple(known) for key, known in words.items()},
        tuple(heads),
        tuple(_turn(entry, phrase, expressions) for entry in turns["turn"] for phrase in entry["phrase"]),
        {form: tuple(known) for form, known in forms.items()},
        re.compile("|".join(word_pattern(p) for phrase in data["doubt"]["words"] for p in alternatives(phrase))),
        bool(data.get("nouns_are_capital", False)),
        re.compile("|".join(rf"\b{re.escape(bare(w))} (?:\w+ )?\Z" for w in data["conditioning"]) or r"(?!)"),
    )


def _pairs(table: Mapping[str, Any]) -> list[tuple[str, list[str]]]:
    return [(english, phrases) for group in table.values() for english, phrases in group.items()]


def _inner(plain: str) -> str:
    return word_pattern(plain).removeprefix(r"(?<!\w)").removesuffix(r"(?!\w)")


def _turn(entry: Mapping[str, Any], phrase: str, forms: Mapping[str, str]) -> Turn:
    return Turn(re.compile(turn_pattern(phrase, forms)), entry["says"], entry["example"], entry["becomes"])
