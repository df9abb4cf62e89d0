"""Whether a sentence reaches further than to the next coat; the phrases are data in reach_phrases.toml."""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from functools import cache, lru_cache
from importlib import resources

from extract.document import fold
from extract.phrases import Phrases, compile_phrases
from extract.quantities import find_quantities

ANYWHERE_BELOW = "anywhere_below"
WHOLE_BUILD_UP = "whole_build_up"
LEAST_ABOVE = "least_above"
PART_OF_SYSTEM = "part_of_system"


@dataclass(frozen=True, slots=True)
class Meaning:
    """One meaning with its phrases, and sentences that it must and must not match."""

    name: str
    regex: Phrases
    examples: tuple[str, ...]
    counter_examples: tuple[str, ...]


@cache
def meanings() -> dict[str, Meaning]:
    """Every meaning by its name. Raises ValueError on a phrase that cannot be read."""
    raw = tomllib.loads(resources.files("store.planning").joinpath("reach_phrases.toml").read_text("utf-8"))
    return {
        entry["name"]: Meaning(
            entry["name"],
            compile_phrases(tuple(entry["phrase"])),
            tuple(entry["example"]),
            tuple(entry["counter_example"]),
        )
        for entry in raw["meaning"]
    }


@lru_cache(maxsize=65536)
def says(quote: str, meaning: str) -> bool:
    """True where the sentence has the meaning."""
    return meanings()[meaning].regex.search(fold(quote)) is not None


@lru_cache(maxsize=4096)
def least_above(quote: str) -> float | None:
    """The least film in um that the sentence wants above the product; None where it wants none."""
    folded = fold(quote)
    found = meanings()[LEAST_ABOVE].regex.search(folded)
    if found is None:
        return None
    for quantity in find_quantities(folded):
        if quantity.unit == "um" and quantity.low is not None and found.start() <= quantity.end <= found.end() + 20:
            return quantity.low
    return None
