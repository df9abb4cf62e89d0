"""Which language a text is in, by a vote of function words."""

from __future__ import annotations

import re
from collections import Counter

from extract.layout.lexicon import lexicon

_WORD = re.compile(r"[^\W\d_]+")
_LEAST_WORDS = 3
_MOST_OF_ONE = 20
"""A word that fills a table ('no') counts no more often."""


def language_of(text: str, default: str = "en") -> str:
    """One of en, de, fr, es, nl; default where fewer than three different function words speak or two languages tie."""
    words = Counter(_WORD.findall(text.lower()))
    votes: dict[str, tuple[int, int]] = {}
    for language, known in lexicon().languages.items():
        spoken = [words[word] for word in known if word in words]
        votes[language] = (sum(min(n, _MOST_OF_ONE) for n in spoken), len(spoken))
    ranked = sorted(votes.items(), key=lambda item: item[1], reverse=True)
    if ranked[0][1][1] < _LEAST_WORDS or ranked[0][1] == ranked[1][1]:
        return default
    return ranked[0][0]
