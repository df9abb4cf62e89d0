"""What else the trade calls a kind: 'mild steel' for bare steel, out of vocabulary/<language>/terms.toml."""

from __future__ import annotations

import tomllib
from functools import cache
from importlib import resources

from extract.claims import SELF
from extract.kinds import is_known
from extract.terms import Vocabulary


@cache
def trade_names(language: str = "en") -> tuple[tuple[str, str], ...]:
    """Every whole term with its kind, in the vocabulary's order; the plural forms are left out."""
    path = resources.files("extract.vocabulary").joinpath(language, "terms.toml")
    terms = tomllib.loads(path.read_text("utf-8"))["term"]
    return tuple(
        (words, term["object"]) for term in terms if is_known(term.get("object", "")) for words in term["words"]
    )


def kind_meant(words: str, language: str = "en") -> str | None:
    """The kind that the words name from their first to their last ('2-pack epoxy'); None for none or for several."""
    said = words.strip()
    mentions = Vocabulary.load(language).mentions(said)
    if len(mentions) != 1 or mentions[0].object == SELF or not is_known(mentions[0].object):
        return None
    return mentions[0].object if (mentions[0].start, mentions[0].end) == (0, len(said)) else None
