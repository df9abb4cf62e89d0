"""words.toml, loaded once."""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from functools import cache
from importlib import resources


@dataclass(frozen=True, slots=True)
class Lexicon:
    languages: dict[str, frozenset[str]]
    never_end: frozenset[str]
    seldom_end: frozenset[str]
    before_number: frozenset[str]
    keep_after: frozenset[str]
    keep_before: frozenset[str]
    points_below: tuple[str, ...]
    verbs: frozenset[str]
    heads: frozenset[str]
    opposed_no: frozenset[str]
    opposed_short: frozenset[str]
    limits: frozenset[str]


@cache
def lexicon() -> Lexicon:
    """The layout's words by language."""
    data = tomllib.loads(resources.files("extract.layout").joinpath("words.toml").read_text("utf-8"))
    return Lexicon(
        languages={k: frozenset(v) for k, v in data["languages"].items()},
        never_end=frozenset(data["sentences"]["never"]),
        seldom_end=frozenset(data["sentences"]["seldom"]),
        before_number=frozenset(data["sentences"]["before_number"]),
        keep_after=frozenset(data["hyphens"]["keep_after"]),
        keep_before=frozenset(data["hyphens"]["keep_before"]),
        verbs=frozenset(data["labels"]["verbs"]),
        heads=frozenset(data["heads"]["words"]),
        opposed_no=frozenset(data["opposed"]["no"]),
        opposed_short=frozenset(data["opposed"]["short"]),
        limits=frozenset(data["limits"]["words"]),
        points_below=tuple(data["leads"]["points_below"]),
    )
