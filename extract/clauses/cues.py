"""The cues of vocabulary/<language>/clauses.toml, windows.toml, window_ends.toml and
window_heads.toml, compiled once.

Mentions stand in the text to be matched as runs of two private characters, so that a cue can speak of
{this} and {other} and every offset stays that of the passage.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from importlib import resources

from extract.mention import OTHER, THIS, Mention


@dataclass(frozen=True, slots=True)
class Cues:
    """Compiled cues of one language; each pattern matches on marked() text."""

    cover_strong: re.Pattern[str]
    cover_weak: re.Pattern[str]
    by: re.Pattern[str]
    apply_verb: re.Pattern[str]
    over: re.Pattern[str]
    under: re.Pattern[str]
    suits: re.Pattern[str]
    grips: re.Pattern[str]
    grounds: re.Pattern[str]
    tops: re.Pattern[str]
    accepts: re.Pattern[str]
    follow: re.Pattern[str]
    negation: re.Pattern[str]
    harmless: re.Pattern[str]
    reason: re.Pattern[str]
    forbids_behind: re.Pattern[str]
    only: re.Pattern[str]
    not_closing: re.Pattern[str]
    exception: re.Pattern[str]
    exclusive: re.Pattern[str]
    exception_behind: re.Pattern[str]
    unless: re.Pattern[str]
    elsewhere: re.Pattern[str]
    shared: re.Pattern[str]
    ahead: re.Pattern[str]
    reacts: re.Pattern[str]
    again: re.Pattern[str]
    points: re.Pattern[str]
    fine: re.Pattern[str]
    unpaintable: re.Pattern[str]
    paintable_label: re.Pattern[str]
    afterwards: re.Pattern[str]
    window: Mapping[str, re.Pattern[str]]
    ends: Mapping[str, re.Pattern[str]]
    """Which end of a window a time is; these stand for parts of words as well."""
    heads: Mapping[str, re.Pattern[str]]
    """What a table's heads say of windows, likewise."""
    language: str


def marked(folded: str, mentions: Sequence[Mention]) -> str:
    """The text with every mention overwritten by its sign, as long as before."""
    out = list(folded)
    for m in mentions:
        out[m.start : m.end] = (THIS if m.is_self else OTHER) * (m.end - m.start)
    return "".join(out)


def _compile(words: Sequence[str]) -> re.Pattern[str]:
    ordered = sorted(words, key=len, reverse=True)
    body = "|".join(w.replace("{this}", THIS + "+").replace("{other}", OTHER + "+") for w in ordered)
    return re.compile(rf"(?:(?<![\w-])|(?=[:(]))(?:{body})(?!\w)")


@cache
def cues(language: str = "en") -> Cues:
    """The cues of a language. Raises FileNotFoundError where it has none."""
    folder = resources.files("extract.vocabulary").joinpath(language)
    raw = tomllib.loads(folder.joinpath("clauses.toml").read_text("utf-8"))
    windows = tomllib.loads(folder.joinpath("windows.toml").read_text("utf-8"))
    ends = tomllib.loads(folder.joinpath("window_ends.toml").read_text("utf-8"))
    heads = tomllib.loads(folder.joinpath("window_heads.toml").read_text("utf-8"))
    return Cues(
        cover_strong=_compile(raw["cover"]["strong"]),
        cover_weak=_compile(raw["cover"]["weak"]),
        by=_compile(raw["cover"]["by"]),
        apply_verb=_compile(raw["apply"]["verbs"]),
        over=_compile(raw["apply"]["over"]),
        under=_compile(raw["apply"]["under"]),
        suits=_compile(raw["suits"]["words"]),
        grounds=_compile(raw["named_lists"]["grounds"]),
        tops=_compile(raw["named_lists"]["tops"]),
        grips=_compile(raw["grips"]["words"]),
        accepts=_compile(raw["accepts"]["words"]),
        follow=_compile(raw["follow"]["words"]),
        negation=_compile(raw["negation"]["words"]),
        harmless=_compile(raw["negation"]["harmless"]),
        reason=re.compile("|".join(raw["negation"]["reason"])),
        forbids_behind=_compile(raw["negation"]["behind"]),
        only=_compile(raw["only"]["words"]),
        not_closing=_compile(raw["only"]["not_closing"]),
        exception=_compile(raw["exception"]["words"]),
        exclusive=_compile(raw["exception"]["exclusive"]),
        exception_behind=_compile(raw["exception"]["behind"]),
        unless=_compile(raw["exception"]["unless"]),
        elsewhere=_compile(raw["elsewhere"]["words"]),
        shared=_compile(raw["shared"]["words"]),
        ahead=_compile(raw["ahead"]["words"]),
        reacts=_compile(raw["negation"]["reacts"]),
        points=_compile(raw["points"]["words"]),
        fine=_compile(raw["fine"]["words"]),
        unpaintable=re.compile("|".join(w.replace("{this}", THIS + "+") for w in raw["unpaintable"]["words"])),
        paintable_label=re.compile(raw["unpaintable"]["label"]),
        again=_compile(raw["again"]["words"]),
        afterwards=_compile(raw["afterwards"]["words"]),
        window={name: _compile(words) for name, words in windows.items()},
        ends={name: re.compile("|".join(words)) for name, words in ends.items()},
        heads={name: re.compile("|".join(words)) for name, words in heads.items()},
        language=language,
    )
