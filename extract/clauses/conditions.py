"""Under which conditions a coat may go on, read from the words around it."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache, lru_cache
from importlib import resources
from typing import Any

from extract.claims import PRODUCT_PREFIX, Condition
from extract.clauses.cues import marked
from extract.mention import OTHER, THIS
from extract.quantities import Quantity, find_quantities
from extract.terms import Mention
from extract.units import Dimension

_LOOK_BACK = 28


@dataclass(frozen=True, slots=True)
class ConditionHit:
    """A condition and where its words stand; via is the coat that must come between, if it names one."""

    condition: Condition
    start: int
    end: int
    via: Mention | None = None


@dataclass(frozen=True, slots=True)
class _Pattern:
    tag: Condition
    words: re.Pattern[str]
    unless: re.Pattern[str] | None
    example: str
    counter_example: str


@cache
def patterns(language: str = "en") -> tuple[_Pattern, ...]:
    return tuple(
        _Pattern(
            tag=Condition(entry["tag"]),
            words=re.compile(r"(?<![\w-])(?:(?:\w+ly|well|pre|freshly)-)?(?:" + "|".join(entry["words"]) + r")(?!\w)"),
            unless=re.compile("|".join(entry["unless"])) if entry.get("unless") else None,
            example=entry["example"],
            counter_example=entry["counter_example"],
        )
        for entry in _raw(language)["condition"]
    )


@cache
def _raw(language: str) -> dict[str, Any]:
    path = resources.files("extract.vocabulary").joinpath(language, "clauses.toml")
    raw: dict[str, Any] = tomllib.loads(path.read_text("utf-8"))
    return raw


@cache
def even_so(language: str) -> re.Pattern[str]:
    """'Even if isolated': what makes no difference is no condition."""
    return re.compile("|".join(_raw(language)["even_so"]["words"]))


@cache
def _between(language: str) -> re.Pattern[str]:
    path = resources.files("extract.vocabulary").joinpath(language, "clauses.toml")
    words: list[str] = tomllib.loads(path.read_text("utf-8"))["between"]["words"]
    body = "|".join(w.replace("{this}", THIS + "+").replace("{other}", "(?:" + OTHER + "+)") for w in words)
    return re.compile(rf"(?<![\w-])(?:{body})")


def find_conditions(folded: str, mentions: Sequence[Mention], language: str = "en") -> tuple[ConditionHit, ...]:
    """Every condition of the text, in order. Times count as within_window, see times_as_windows()."""
    signs = marked(folded, mentions)
    spared = [m.span() for m in even_so(language).finditer(signs)]
    hits: list[ConditionHit] = []
    between, at = _between(language), 0
    while (match := between.search(signs, at)) is not None:
        via = next(
            (m for m in reversed(mentions) if match.start() <= m.start and m.end <= match.end() and not m.is_self), None
        )
        if via is None or via.object.startswith(("surface.", "finish.", "treatment.")):
            # 'Steel primed with epoxy': not a steel-primed surface. What is named behind it still counts.
            at = match.start() + 1
            continue
        hits.append(ConditionHit(Condition.ISOLATED, match.start(), match.end(), via))
        at = match.end()
    hits.extend(_with_grounds(signs, mentions, hits, language))
    hits.extend(
        hit
        for hit in _worded(folded, language)
        if hit.condition is not Condition.CURED or not _inside_kind(hit, mentions)
    )
    held = [h for h in hits if not any(a <= h.start < b for a, b in spared)]
    return tuple(sorted(held, key=lambda h: (h.start, h.end)))


@lru_cache(maxsize=1024)
def _worded(folded: str, language: str) -> tuple[ConditionHit, ...]:
    """The conditions that the text's own words set, whatever it mentions, sort by sort."""
    return tuple(
        ConditionHit(pattern.tag, match.start(), match.end())
        for pattern in patterns(language)
        for match in pattern.words.finditer(folded)
        if pattern.unless is None
        or not pattern.unless.search(folded[max(0, match.start() - _LOOK_BACK) : match.start()])
    )


def _with_grounds(
    signs: str, mentions: Sequence[Mention], hits: Sequence[ConditionHit], language: str
) -> list[ConditionHit]:
    """'Bare metal with etch primer only': the primer goes between."""
    body: str = _raw(language)["between"]["with_ground"]
    pattern = re.compile(body.replace("{other}", OTHER + "+"))
    out = []
    for ground in mentions:
        match = pattern.match(signs, ground.end) if ground.object.startswith("surface.") else None
        if match is None or any(h.start < match.end() and match.start() < h.end for h in hits if h.via is not None):
            continue
        via = next((m for m in mentions if match.start() < m.start < match.end()), None)
        if via is not None and via.object.startswith(("primer", "surfacer", "sealer", PRODUCT_PREFIX)):
            out.append(ConditionHit(Condition.ISOLATED, match.start(), match.end(), via))
    return out


def _inside_kind(hit: ConditionHit, mentions: Sequence[Mention]) -> bool:
    """'Acid-curing primer', 'catalyst cured': the word belongs to the kind and says nothing of its state."""
    return any(not m.is_self and m.start < hit.start and hit.end < m.end for m in mentions)


_NO_WINDOW_BEFORE = re.compile(
    r"(?:old|younger than|less than|more than|older than|pot[- ]?life|induction|flash[- ]?off|bake\w*|test\w*|"
    r"hours? of salt|stand|for the first|shake\w*)[^.;]{0,12}$"
)
_PAST = re.compile(r"\b(?:if|when|where|once|should) (?:\w+ ){0,3}(?:more|longer) than\b")
"""'If more than 8 h pass': what has to be done then is no window."""
_NO_WINDOW_AFTER = re.compile(r"^ ?(?:old\b|salt|of salt|at \d+ ?°c bake|bake|year)")


@lru_cache(maxsize=2048)
def times(folded: str) -> tuple[Quantity, ...]:
    """The times in the text that can be a time to the next coat."""
    return tuple(
        q
        for q in find_quantities(folded)
        if q.dimension is Dimension.TIME
        and q.low != 0
        and not _PAST.search(folded[max(0, q.lead - 24) : q.start])
        and not _NO_WINDOW_BEFORE.search(folded[max(0, q.lead - 24) : q.lead])
        and not _NO_WINDOW_AFTER.search(folded[q.end : q.end + 20])
    )


def times_as_windows(folded: str) -> tuple[ConditionHit, ...]:
    """A time in a sentence that permits a coat sets its window, an earliest time alone too."""
    return tuple(ConditionHit(Condition.WITHIN_WINDOW, q.lead, q.end) for q in times(folded))


def tags(hits: Sequence[ConditionHit]) -> tuple[Condition, ...]:
    """The conditions of hits, each once, in the vocabulary's order."""
    found = {h.condition for h in hits}
    return tuple(c for c in Condition if c in found)


def via_of(hits: Sequence[ConditionHit]) -> Mention | None:
    return next((h.via for h in hits if h.via is not None), None)
