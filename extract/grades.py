"""Grades of blast-cleaning under the names that the standards give them."""

from __future__ import annotations

import re

_SAME: tuple[tuple[str, tuple[str, ...]], ...] = (
    ("Sa 1", ("sspc-sp7", "nace4")),
    ("Sa 2", ("sspc-sp6", "nace3")),
    ("Sa 2½", ("sspc-sp10", "nace2")),
    ("Sa 3", ("sspc-sp5", "nace1")),
    ("St 2", ("sspc-sp2",)),
    ("St 3", ("sspc-sp3",)),
)
"""ISO 8501-1 beside SSPC and NACE (merged in 2021, numbers kept): near, not equal."""

_WORDS = (("near white", "Sa 2½"), ("white metal", "Sa 3"), ("commercial blast", "Sa 2"))
"""The written names of SSPC-SP 10, 5 and 6."""

_ISO = re.compile(r"\b(sa|st)\s?([123])(?:\s?(?:½|[.,]5|[- ]?1/2))?", re.IGNORECASE)
_HALF = re.compile(r"½|[.,]5|1/2")
_SSPC = re.compile(r"\bsspc[- ]?(?:sp)?[- ]?(\d{1,2})\b", re.IGNORECASE)
_NACE = re.compile(r"\bnace\s?(?:no\.?|#)?\s?(\d)\b", re.IGNORECASE)


def iso_blast_grade(printed: str) -> str | None:
    """The ISO 8501-1 grade nearest to a printed grade ('SSPC-SP 10' -> 'Sa 2½'); None for one without its like."""
    iso = _ISO.search(printed)
    if iso is not None:
        half = "½" if _HALF.search(iso.group()) else ""
        return f"{iso.group(1).capitalize()} {iso.group(2)}{half}"
    for words, grade in _WORDS:
        if words in printed.casefold().replace("-", " "):
            return grade
    sspc, nace = _SSPC.search(printed), _NACE.search(printed)
    name = f"sspc-sp{sspc.group(1)}" if sspc else f"nace{nace.group(1)}" if nace else ""
    return next((grade for grade, others in _SAME if name in others), None)
