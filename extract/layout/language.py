"""Which language a text is in, by a vote of function words."""

from __future__ import annotations

import re

from extract.layout.lexicon import lexicon

_WORD = re.compile(r"[^\W\d_]+")
_LEAST_VOTES = 3


def language_of(text: str, default: str = "en") -> str:
    """One of en, de, fr, es, nl; default where fewer than three function words speak or two languages tie."""
    votes = dict.fromkeys(lexicon().languages, 0)
    for word in _WORD.findall(text.lower()):
        for language, known in lexicon().languages.items():
            if word in known:
                votes[language] += 1
    ranked = sorted(votes.items(), key=lambda item: -item[1])
    if ranked[0][1] < _LEAST_VOTES or ranked[0][1] == ranked[1][1]:
        return default
    return ranked[0][0]
