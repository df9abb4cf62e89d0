"""What a heading says in the reader's English, for whoever asks before the sheet is glossed."""

from __future__ import annotations

from functools import lru_cache

from extract.document import Passage
from extract.gloss.glossing import Glosser
from extract.gloss.sheets import READER
from extract.gloss.words import tongue


@lru_cache(maxsize=1024)
def in_english(heading: str, language: str) -> str:
    """The heading in English; as it stands where it is English already, or of a language without words."""
    known = tongue(language) if language != READER else None
    if known is None:
        return heading
    return Glosser(known).gloss(Passage(heading, (None,) * len(heading)), head=True).passage.text
