"""Colours by role, once for light and once for dark. No Qt: the command that checks contrast needs none."""

from __future__ import annotations

from collections.abc import Mapping
from enum import StrEnum


class Role(StrEnum):
    """What a colour is for. Text roles hold 4.5:1 on PAPER and on RAISED; EDGE holds 3:1 (a control's outline)."""

    PAPER = "paper"
    RAISED = "raised"
    INK = "ink"
    QUIET = "quiet"
    LINE = "line"
    EDGE = "edge"
    ACCENT = "accent"
    ON_ACCENT = "on_accent"
    LIT = "lit"
    """Behind a lit sentence, in the program's own text; INK stands on it."""
    CHOSEN = "chosen"
    """Behind the chosen row; INK and QUIET stand on it."""
    CAUTION = "caution"
    """Behind a caution band; INK stands on it."""
    YES = "yes"
    YES_IF = "yes_if"
    NO = "no"
    DISPUTED = "disputed"
    SILENT = "silent"
    UNCONFIRMED = "unconfirmed"


LIGHT: Mapping[Role, str] = {
    Role.PAPER: "#f5f2ea",
    Role.RAISED: "#fffdf8",
    Role.INK: "#1f2422",
    Role.QUIET: "#555c57",
    Role.LINE: "#d6d0c2",
    Role.EDGE: "#847f72",
    Role.ACCENT: "#0b5873",
    Role.ON_ACCENT: "#ffffff",
    Role.LIT: "#ffe38a",
    Role.CHOSEN: "#dcebf0",
    Role.CAUTION: "#fbe3c4",
    Role.YES: "#1c6638",
    Role.YES_IF: "#7a5100",
    Role.NO: "#a0211d",
    Role.DISPUTED: "#772b88",
    Role.SILENT: "#555c57",
    Role.UNCONFIRMED: "#2b5896",
}

DARK: Mapping[Role, str] = {
    Role.PAPER: "#1b1e1d",
    Role.RAISED: "#262a29",
    Role.INK: "#ece8de",
    Role.QUIET: "#b3b8b2",
    Role.LINE: "#3f4543",
    Role.EDGE: "#838a86",
    Role.ACCENT: "#86c9e3",
    Role.ON_ACCENT: "#10232b",
    Role.LIT: "#5d4c0c",
    Role.CHOSEN: "#29414b",
    Role.CAUTION: "#4f3512",
    Role.YES: "#82d39d",
    Role.YES_IF: "#e9b95f",
    Role.NO: "#ffa098",
    Role.DISPUTED: "#dfa5ec",
    Role.SILENT: "#b3b8b2",
    Role.UNCONFIRMED: "#a0c5f3",
}

PAGE_LIT = "#ffd84d"
"""Laid over the white page by multiplication, in light and dark alike: black print stays black on it."""
PAGE_LIT_EDGE = "#7a5100"

VERDICT_ROLES: Mapping[str, Role] = {
    "yes": Role.YES,
    "yes_if": Role.YES_IF,
    "no": Role.NO,
    "disputed": Role.DISPUTED,
    "silent": Role.SILENT,
    "unconfirmed": Role.UNCONFIRMED,
    "proposed": Role.UNCONFIRMED,
    "confirmed": Role.YES,
    "corrected": Role.YES_IF,
    "rejected": Role.NO,
    "own": Role.DISPUTED,
    "wait": Role.UNCONFIRMED,
}
"""The colour of each verdict and of each state of a claim. The shape comes first: see verdict_shape.py."""


def luminance(colour: str) -> float:
    """Relative luminance of '#rrggbb', 0 to 1 (WCAG 2.2, 'relative luminance')."""
    channels = (int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5))
    red, green, blue = (c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in channels)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    """Contrast ratio of two colours, 1 to 21 (WCAG 2.2, 'contrast ratio')."""
    lighter, darker = sorted((luminance(one), luminance(other)), reverse=True)
    return (lighter + 0.05) / (darker + 0.05)
