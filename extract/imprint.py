"""The maker's imprint in a sheet's text: it names streets and companies, and says nothing of paint."""

from __future__ import annotations

import re
from dataclasses import replace
from functools import cache

from extract.dates import header_words
from extract.document import Document, Statement

_MOST_WORDS = 30
_PLAIN = frozenset({"as", "co", "sa", "ag", "kg", "ab", "spa", "sl", "se", "company", "limited", "inc", "e.u", "s.c"})
"""Forms that are words too: they count in capitals alone."""
_ADDRESS = re.compile(r"\b\d{4,6}\b|\bwww\.|@|\b(?:tel|phone|fax)\b|\b[A-Z]{1,2}\d{1,2} ?\d[A-Z]{2}\b", re.IGNORECASE)
_PARTS = re.compile(r"\s[·•|–—-]\s|,\s")
_SAYS = re.compile(
    r"\b(?:is|are|may|must|can|should|be|do|not|use|apply|over|with|before|after|within)\b", re.IGNORECASE
)


def without_imprint(document: Document) -> Document:
    """The document without the sentences that are a company's name and address."""
    blocks = tuple(b for b in document.blocks if not (isinstance(b, Statement) and is_imprint(b.passage.text)))
    return document if len(blocks) == len(document.blocks) else replace(document, blocks=blocks)


def is_imprint(text: str) -> bool:
    """Whether a text is a company with its legal form among the parts of an address, and says nothing."""
    if len(text.split()) > _MOST_WORDS or _SAYS.search(text) or _form().search(text) is None:
        return False
    return _ADDRESS.search(text) is not None and len(_PARTS.findall(text)) >= 1


@cache
def _form() -> re.Pattern[str]:
    forms = sorted(header_words()["words"]["companies"], key=len, reverse=True)
    loose = "|".join(re.escape(f) for f in forms if f not in _PLAIN)
    strict = "|".join(re.escape(f.upper()) for f in forms if f in _PLAIN)
    return re.compile(rf"[A-ZÀ-Þ][\w'’&.-]*,? (?:(?i:{loose})|{strict})(?![\w])")
