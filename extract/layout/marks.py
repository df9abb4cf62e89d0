"""The characters that call for a footnote by themselves: small raised figures and figures in circles."""

from __future__ import annotations

import unicodedata

_RAISED = "¹²³⁴⁵⁶⁷⁸⁹"
_CIRCLED = "①②③④⑤⑥⑦⑧⑨⑩⑪⑫❶❷❸❹❺❻❼❽❾➀➁➂➃➄➅➆➇➈➊➋➌➍➎➏➐➑➒"


MARKS = _RAISED + _CIRCLED


def is_mark(char: str) -> bool:
    """Whether a character is a raised or circled figure."""
    return char in MARKS


def mark_key(char: str) -> str:
    """The figure that a mark shows, as plain digits ('③' -> '3')."""
    return str(int(unicodedata.numeric(char)))


def plain_key(key: str) -> str:
    """A mark's key as its note is filed: raised and circled figures as plain digits."""
    return mark_key(key) if len(key) == 1 and is_mark(key) else key
