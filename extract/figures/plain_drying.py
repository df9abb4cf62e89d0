"""Fields that say no more than drying: 'Drying | 16 h at 20 °C or 30 min at 60 °C', with no stage named."""

from __future__ import annotations

import re
import tomllib
from dataclasses import dataclass
from functools import cache
from importlib import resources

from extract.quantities import Quantity, find_quantities


@dataclass(frozen=True, slots=True)
class _Words:
    """Labels that say no more than drying, and the words that may stand about the times beside them."""

    labels: re.Pattern[str]
    harmless: re.Pattern[str]


@cache
def _words(language: str) -> _Words | None:
    """The language's [plain_drying] in figures.toml. Raises KeyError where the file has none."""
    path = resources.files("extract.vocabulary") / language / "figures.toml"
    if not path.is_file():
        return None
    data = tomllib.loads(path.read_text(encoding="utf-8"))["plain_drying"]
    return _Words(*(re.compile("|".join(data[name])) for name in ("labels", "words")))


def is_plain_drying(folded: str, head_end: int, q: Quantity, language: str) -> bool:
    """Whether a time stands beside such a label, which ends at head_end, with none but harmless words ahead of it."""
    words = _words(language)
    if words is None or not head_end or q.start < head_end:
        return False
    if words.labels.fullmatch(folded[:head_end].strip(" :")) is None:
        return False
    ahead = list(folded[head_end : q.start])
    for other in find_quantities(folded):
        for at in range(max(other.start, head_end), min(other.end, q.start)):
            ahead[at - head_end] = " "
    return all(words.harmless.fullmatch(w) for w in re.findall(r"[^\W\d_]+", "".join(ahead)))
