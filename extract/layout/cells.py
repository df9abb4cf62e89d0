"""What a table's cell looks like, whatever it says."""

from __future__ import annotations

import re

_SIGN = re.compile(r"^(?:yes|no|x|o|n/?[at]\.?|ok|\W{0,4}|[+\-–—−✓✔√✗✘×●○◐•/]+)(?:\s?\d|[①-⑳]|[,.;:(*¹²³⁴].*)?$", re.I)
_FIGURE = re.compile(r"(?:[<>≤≥±~+−–-]|(?:max|min|ca|approx|from|to|up to)\b\.?)?\s*\.?\d(?!\d?[ -]?[KkPp]\b)", re.I)
_CODE = re.compile(r"[A-Z]{1,5}[ -]?\d[\dA-Z./-]*")


def is_sign(text: str) -> bool:
    """A cell that answers rather than says."""
    return bool(_SIGN.match(text.strip()))


def kind_of(text: str) -> str:
    """'sign', 'figure', 'code' (an article's number) or 'words'; '' where the cell is empty."""
    text = text.strip()
    if not text:
        return ""
    if is_sign(text):
        return "sign"
    if _FIGURE.match(text):
        return "figure"
    return "code" if _CODE.fullmatch(text) else "words"
