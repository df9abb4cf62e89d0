"""The characters that call for a footnote by themselves: small raised figures and figures in circles."""

from __future__ import annotations

import unicodedata

_RAISED = "¹²³⁴⁵⁶⁷⁸⁹"
_CIRCLED = "①②③④⑤⑥⑦⑧⑨⑩⑪⑫❶❷❸❹❺❻❼❽❾➀➁➂➃➄➅➆➇➈➊➋➌➍➎➏➐➑➒"


def is_mark(char: str) -> bool:
    """Whether a character is a raised or circled figure."""
    return char in _RAISED or char in _CIRCLED


def mark_key(char: str) -> str:
    """The figure that a mark shows, as plain digits ('③' -> '3')."""
    return str(int(unicodedata.numeric(char)))
