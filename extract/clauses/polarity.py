"""Whether words forbid, and whether they close a list."""

from __future__ import annotations

import re
from functools import lru_cache

from extract.clauses.cues import Cues, cues


def blank(pattern: re.Pattern[str], signs: str) -> str:
    """The text with every match overwritten, as long as before."""
    return pattern.sub(_blanked, signs)


def _blanked(match: re.Match[str]) -> str:
    return "\ue003" * len(match.group())


def negates(c: Cues, text: str) -> bool:
    """True where a marked text forbids; what stands behind 'unless', 'until' or 'because' does not count."""
    return _negates(c.language, text)


@lru_cache(maxsize=4096)
def _negates(language: str, text: str) -> bool:
    c = cues(language)
    text = c.reason.sub("", blank(c.exception, text)) or text
    cut = c.unless.search(text)
    return c.negation.search(text if cut is None else text[: cut.start()] or text) is not None or (
        c.forbids_behind.search(text) is not None
    )


def closes(c: Cues, text: str) -> bool:
    """True where 'only' closes the list: not 'only after', 'only small'."""
    clean = c.not_closing.sub(lambda m: "\ue003" * len(m.group()), text)
    return c.only.search(clean) is not None
