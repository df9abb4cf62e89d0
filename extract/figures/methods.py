"""Ways of putting a coating on (gun, brush, roller), and whether the words forbid them."""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from functools import cache
from importlib import resources

from extract.phrases import Phrases, clause_around, compile_phrases


@dataclass(frozen=True, slots=True)
class Way:
    """A way named at start..end of a folded text."""

    start: int
    end: int
    name: str
    forbidden: bool


@dataclass(frozen=True, slots=True)
class _Ways:
    names: tuple[tuple[str, Phrases], ...]
    forbidding: Phrases | None
    no_method: Phrases | None


@cache
def _load(language: str) -> _Ways:
    path = resources.files("extract.vocabulary") / language / "methods.toml"
    if not path.is_file():
        return _Ways((), None, None)
    data = tomllib.loads(path.read_text(encoding="utf-8"))
    return _Ways(
        tuple((row["name"], compile_phrases(tuple(row["phrases"]))) for row in data["method"]),
        compile_phrases(tuple(data["words"]["forbidding"])),
        compile_phrases(tuple(data["words"]["not_a_method"])),
    )


def ways_in(folded: str, language: str = "en") -> tuple[Way, ...]:
    """Every way that the text names, in order."""
    ways = _load(language)
    out: list[Way] = []
    for name, pattern in ways.names:
        for m in pattern.finditer(folded):
            left, right = clause_around(folded, m.start(), m.end())
            if ways.no_method is not None and ways.no_method.search(folded, left, right):
                continue
            forbidden = ways.forbidding is not None and ways.forbidding.search(folded, left, m.start()) is not None
            out.append(Way(m.start(), m.end(), name, forbidden))
    return tuple(sorted(out, key=lambda w: w.start))
