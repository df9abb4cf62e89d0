"""What a heading speaks of: 'WHAT WILL IT GO ON?', 'Supports and preparation', a table's corner, a label.

The wordings are data (vocabulary/<language>/headings.toml). A heading may have several senses, and none.
"""

from __future__ import annotations

import re
import tomllib
from dataclasses import dataclass
from enum import StrEnum
from functools import cache, lru_cache
from importlib import resources

from rapidfuzz import fuzz, process

from extract.document import Passage, Section, fold
from extract.phrases import Phrase, compile_phrase, word_keys


class Sense(StrEnum):
    GOES_OVER = "goes_over"
    TOPPED_BY = "topped_by"
    PREPARATION = "preparation"
    MIXING = "mixing"
    APPLICATION = "application"
    FILM = "film"
    DRYING = "drying"
    OVERCOATING = "overcoating"
    OWN_FILM = "own_film"
    """Working the product's own dry film: flatting, sanding, polishing."""
    EXPOSURE = "exposure"
    STORAGE = "storage"
    SAFETY = "safety"
    ABOUT = "about"
    PACKAGING = "packaging"
    CLEANING = "cleaning"
    LEGAL = "legal"
    FAULTS = "faults"
    QUESTIONS = "questions"
    SYSTEMS = "systems"
    """Worked examples of whole build-ups."""
    FORBIDS = "forbids"
    """The heading itself says no ('Do not use on'); it comes beside the sense of what follows."""


@dataclass(frozen=True, slots=True)
class _Wordings:
    phrases: tuple[tuple[Sense, Phrase], ...]
    unkeyed: tuple[int, ...]
    keyed: dict[str, list[int]]
    """Numbers of the phrases in which no certain word stands; and, by the key of a word, of those that may need it."""
    plain: dict[str, Sense]
    """Wordings of plain words only, for headings with a slip of the pen in them."""


_SIGNS = set("()[]|{}*^$")
_SPACED = re.compile(r"(?<!\w)(?:\w ){2,}\w(?!\w)")
_NUMBERING = re.compile(r"^\s*(?:\d+(?:\.\d+)*[.)]?|[a-z][.)])\s+")
_BRACKETED = re.compile(r"\([^()]*\)?")
_MOST = 0.5
_SLIP = 88.0
"""Least likeness, of 100, at which a misspelt heading is taken for a known one: one letter in about eight."""


def _wordings(language: str) -> _Wordings:
    path = resources.files("extract.vocabulary") / language / "headings.toml"
    if not path.is_file():
        return _Wordings((), (), {}, {})
    phrases: list[tuple[Sense, Phrase]] = []
    plain: dict[str, Sense] = {}
    for name, table in tomllib.loads(path.read_text(encoding="utf-8")).items():
        for phrase in table["phrases"]:
            phrases.append((Sense(name), compile_phrase(phrase)))
            if not _SIGNS & set(phrase) and ".." not in phrase:
                plain.setdefault(phrase, Sense(name))
    keyed: dict[str, list[int]] = {}
    for number, (_, known) in enumerate(phrases):
        for key in known.needs:
            keyed.setdefault(key, []).append(number)
    unkeyed = tuple(number for number, (_, known) in enumerate(phrases) if not known.needs)
    return _Wordings(tuple(phrases), unkeyed, keyed, plain)


_load = cache(_wordings)


def _plain_heading(text: str) -> str:
    folded = _SPACED.sub(lambda m: m.group().replace(" ", ""), fold(text).strip())
    return _NUMBERING.sub("", folded).strip(" .:?!*•-")


def sense_of_text(text: str, language: str = "en") -> frozenset[Sense]:
    """Senses of one heading, corner, column head or label.

    Every known wording that stands in it counts, except inside a longer one ('surface preparation' is
    preparation, not a surface). Where none stands in it, the nearest wording counts if digits and
    negations are the same and the spelling differs by a slip.
    """
    return _read(text, language)[0]


@lru_cache(maxsize=4096)
def _read(text: str, language: str) -> tuple[frozenset[Sense], float]:
    """The senses, and which part of the heading the known wordings make up."""
    heading = _plain_heading(text)
    if not heading:
        return frozenset(), 0.0
    bare = _BRACKETED.sub(" ", heading).strip()
    if bare and bare != heading:
        outside = _read(bare, language)
        return outside if outside[0] else _read(heading.replace("(", " ").replace(")", " "), language)
    wordings = _load(language)
    keys = word_keys(heading)
    near = sorted({*wordings.unkeyed, *(number for key in keys for number in wordings.keyed.get(key, ()))})
    found = [
        (m.start(), m.end(), sense)
        for sense, phrase in (wordings.phrases[number] for number in near)
        if phrase.may_stand_in(keys)
        for m in phrase.regex.finditer(heading)
    ]
    forbids = any(sense is Sense.FORBIDS for _, _, sense in found)
    kept: list[tuple[int, int, Sense]] = []
    for start, end, sense in sorted(found, key=lambda f: (f[0] - f[1], f[0])):
        if sense is Sense.FORBIDS:
            continue
        if all(end <= s or start >= e or (start, end) == (s, e) for s, e, _ in kept):
            kept.append((start, end, sense))
    senses = {sense for _, _, sense in kept}
    if not senses and not forbids:
        senses = _nearest(heading, wordings)
    covered = sum(end - start for start, end, _ in kept) if kept else len(heading)
    return frozenset(senses | ({Sense.FORBIDS} if forbids else set())), covered / len(heading)


def _nearest(heading: str, wordings: _Wordings) -> set[Sense]:
    if len(heading) < 5 or re.search(r"\d", heading) or re.search(r"\b(?:not?|never|without|un\w+)\b", heading):
        return set()
    best = process.extractOne(heading, wordings.plain.keys(), scorer=fuzz.ratio, score_cutoff=_SLIP)
    return set() if best is None else {wordings.plain[best[0]]}


_ARTICLE = re.compile(r"[A-Z]{2,6}[ -]?\d{2,}\w*\s")
"""A product's number opens a sheet's title, not a section's."""


def sense_of(section: Section | Passage, language: str = "en") -> frozenset[Sense]:
    """Senses of the innermost heading that has any; of a passage, its own.

    A heading further out counts only where known wordings make up most of it: a sheet's title may hold one by chance
    ('Two-component primer').
    """
    if isinstance(section, Passage):
        return sense_of_text(section.text, language)
    for depth, heading in enumerate(reversed(section.headings)):
        senses, covered = _read(heading.text, language)
        innermost = depth == 0 and not (len(section.headings) == 1 and _ARTICLE.match(heading.text))
        if senses and (innermost or covered >= _MOST):
            # 'Cleaning' in the chapter on the surface is none of the gun.
            outer = (_read(h.text, language)[0] for h in section.headings[: len(section.headings) - 1 - depth])
            if senses == {Sense.CLEANING} and any(Sense.PREPARATION in o for o in outer):
                return frozenset({Sense.PREPARATION})
            return senses
    return frozenset()
