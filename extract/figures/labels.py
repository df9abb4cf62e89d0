"""Which words of a text name a figure ('touch dry', 'pot life'), from vocabulary/<language>/figures.toml."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from functools import cache, lru_cache
from importlib import resources
from itertools import pairwise
from typing import Any

from extract.claims import Topic
from extract.phrases import Phrases, clause_around, compile_phrases, needed_by_any, word_keys
from extract.units import Dimension


@dataclass(frozen=True, slots=True)
class FigureSpec:
    """One figure that a sheet may give. topic and property are None for a decoy, whose figures are no claim."""

    topic: Topic | None
    property: str | None
    dimension: Dimension
    labels: Phrases = field(repr=False, compare=False)
    needs_word: frozenset[str] = field(default=frozenset(), repr=False, compare=False)
    """Keys of words of which one at least stands in every label of any sort; empty if unknown."""
    short: Phrases | None = field(default=None, repr=False, compare=False)
    weak: Phrases | None = field(default=None, repr=False, compare=False)
    needs: Phrases | None = field(default=None, repr=False, compare=False)
    unless: Phrases | None = field(default=None, repr=False, compare=False)
    example: str = ""
    counter_example: str = ""

    def key(self) -> str:
        """'topic.property', or 'decoy'."""
        return f"{self.topic}.{self.property}" if self.topic else "decoy"


@dataclass(frozen=True, slots=True)
class Label:
    """A label found at start..end of a folded text."""

    start: int
    end: int
    spec: FigureSpec
    weak: bool = False


@cache
def figure_specs(language: str = "en") -> tuple[FigureSpec, ...]:
    """Every figure and decoy of a language; none where it has no file. Raises KeyError or ValueError on bad data."""
    path = resources.files("extract.vocabulary") / language / "figures.toml"
    if not path.is_file():
        return ()
    data = tomllib.loads(path.read_text(encoding="utf-8"))
    return tuple(_spec(row) for row in (*data["figure"], *data["decoy"]))


def spec_of(topic: Topic, name: str, language: str = "en") -> FigureSpec:
    """The spec of a property. Raises StopIteration where the language has none."""
    return next(s for s in figure_specs(language) if (s.topic, s.property) == (topic, name))


def _spec(row: Mapping[str, Any]) -> FigureSpec:
    def several(name: str) -> Phrases | None:
        # The longest wording first: of two that begin alike, an expression takes the first.
        return compile_phrases(tuple(sorted(row[name], key=len, reverse=True))) if row.get(name) else None

    labels = several("labels")
    if labels is None:
        raise ValueError(f"a figure without labels: {row}")
    return FigureSpec(
        topic=Topic(row["topic"]) if "topic" in row else None,
        property=row.get("property"),
        dimension=Dimension(row["dimension"]),
        labels=labels,
        needs_word=needed_by_any(tuple(p for sort in ("labels", "short", "weak") for p in row.get(sort, ()))),
        short=several("short"),
        weak=several("weak"),
        needs=several("needs"),
        unless=several("unless"),
        example=row.get("example", ""),
        counter_example=row.get("counter_example", ""),
    )


@lru_cache(maxsize=4096)
def find_labels(
    folded: str, dimensions: frozenset[Dimension], *, short: bool = False, language: str = "en"
) -> tuple[Label, ...]:
    """Labels of figures of the given dimensions, in order; one inside a longer one of the same dimension is dropped.

    short says that the text is itself a label or a head, where fewer words must do.
    """
    found: list[Label] = []
    keys = word_keys(folded)
    for spec in figure_specs(language):
        if spec.dimension not in dimensions or (spec.needs_word and spec.needs_word.isdisjoint(keys)):
            continue
        found.extend(Label(m.start(), m.end(), spec) for m in spec.labels.finditer(folded) if m.end() > m.start())
        if short and spec.short is not None:
            found.extend(Label(m.start(), m.end(), spec) for m in spec.short.finditer(folded) if m.end() > m.start())
        if spec.weak is not None:
            found.extend(
                Label(m.start(), m.end(), spec, True) for m in spec.weak.finditer(folded) if m.end() > m.start()
            )
    return tuple(sorted(_outermost(found, folded), key=lambda label: (label.start, label.end)))


def _outermost(found: Iterable[Label], folded: str) -> Iterable[Label]:
    by_length = sorted(found, key=lambda label: (label.start - label.end, label.weak))
    kept: list[Label] = []
    for label in by_length:
        inside = any(
            k.start <= label.start
            and label.end <= k.end
            and k.spec.dimension is label.spec.dimension
            # 'Flash off 10 min before baking 30 min': the baking has a time of its own.
            and not (label.weak and folded.startswith("before ", k.start))
            for k in kept
        )
        if not inside:
            kept.append(label)
    return kept


def stands(spec: FigureSpec, folded: str, start: int, end: int, context: str) -> bool:
    """Whether the words around start..end allow this figure there; context is the headings and lead, folded."""
    left, right = clause_around(folded, start, end)
    if spec.topic is Topic.DRYING:
        left, right = _item(folded, left, right, start, end)
    if spec.unless is not None and spec.unless.search(folded, left, right):
        return False
    return spec.needs is None or spec.needs.search(folded) is not None or spec.needs.search(context) is not None


_ITEM = re.compile(r"[•·∙▪|]|,(?!\d)| / |\. | [-|] | and (?:to )?(?=[a-z])")
_TIMED = re.compile(
    r"\d ?(?:s|secs?|seconds?|min\w*|m|'|hours?|hrs?|h|days?|d|weeks?|months?)\b|\b(?:hours?|days?|overnight)\b"
)


def _item(folded: str, left: int, right: int, start: int, end: int) -> tuple[int, int]:
    """Limits of the item that holds start..end where the clause is a list of times, each with its own words.

    'Dry to touch in 1 h, to recoat in 3 h and hard in 8 h': what the one is of says nothing of the others.
    """
    cuts = [left, *(m.start() for m in _ITEM.finditer(folded, left, right)), right]
    items = [(a, b) for a, b in pairwise(cuts) if _TIMED.search(folded, a, b)]
    own = [(a, b) for a, b in items if a <= start and end <= b]
    return own[0] if own and len(items) > 1 else (left, right)
