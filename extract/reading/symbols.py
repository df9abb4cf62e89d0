"""Characters that a font's own encoding hides: bullets, ticks and crosses of symbol fonts, ligatures, control codes."""

from __future__ import annotations

BULLET = "•"

LIGATURES = {
    "ﬀ": "ff",
    "ﬁ": "fi",
    "ﬂ": "fl",
    "ﬃ": "ffi",
    "ﬄ": "ffl",
    "ﬅ": "st",
    "ﬆ": "st",
    "℃": "°C",
    "℉": "°F",
}
"""One printed glyph, several characters of text."""

_WINGDINGS = {
    0x6C: "●", 0x6E: "■", 0x6F: "□", 0x71: "❑", 0x75: "◆", 0x76: "❖", 0x77: "◆", 0x9F: "•", 0xA7: "▪", 0xA8: "□",
    0xB7: "•", 0xD8: "➢", 0xDF: "←", 0xE0: "→", 0xE8: "➔", 0xF0: "⇨", 0xFB: "✗", 0xFC: "✓", 0xFD: "☒", 0xFE: "☑",
}  # fmt: skip
"""Wingdings by code (Microsoft's chart of the font); PDF writers put them at U+F0xx or leave the bare code."""

_SYMBOL = {0xB7: "•", 0xB0: "°", 0xB1: "±", 0xA3: "≤", 0xB3: "≥", 0xB4: "×", 0x6D: "µ", 0xAE: "→", 0xA5: "∞", 0x2D: "−"}
"""Symbol by code (Adobe's Symbol encoding)."""

_DINGBATS = {
    0x33: "✓",
    0x34: "✔",
    0x35: "✕",
    0x36: "✖",
    0x37: "✗",
    0x38: "✘",
    0x6C: "●",
    0x6D: "❍",
    0x6E: "■",
    0x6F: "❏",
}
"""ZapfDingbats by code (Adobe's encoding), for fonts that carry no map of their own."""

_TABLES = (("wingdings", _WINGDINGS), ("zapfdingbats", _DINGBATS), ("symbol", _SYMBOL))
_HYPHENS = {0x02: "-", 0xFFFE: "-", 0x00AD: "\u00ad"}
"""PDFium marks a hyphen at a line's end with U+0002 or U+FFFE."""
_LOST = frozenset({0x00, 0x7F, 0x95, 0x81, 0x8F, 0x9D})
"""What is left of a bullet whose font carries no map to Unicode."""


def code_table(font_name: str) -> dict[int, str] | None:
    """The table of a symbol font, by its name; None for any other font."""
    name = font_name.lower().replace(" ", "").replace("-", "")
    for part, table in _TABLES:
        if part in name:
            return table
    return None


def decoded(code: int, table: dict[int, str] | None) -> str:
    """The text of a character code as PDFium gives it, '' where it prints nothing that can be read."""
    if table is not None and (code < 0x100 or 0xF000 <= code <= 0xF0FF):
        known = table.get(code & 0xFF)
        if known is not None:
            return known
    if 0xF000 <= code <= 0xF0FF:
        return _WINGDINGS.get(code & 0xFF) or _SYMBOL.get(code & 0xFF) or BULLET
    if code in _HYPHENS:
        return _HYPHENS[code]
    if code in _LOST:
        return BULLET
    if code < 0x20 or 0xD800 <= code <= 0xDFFF or code > 0x10FFFF:
        return ""
    return chr(code)
