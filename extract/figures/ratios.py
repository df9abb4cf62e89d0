"""Mixing ratios as printed: '4 : 1 by volume', '100 to 2 by weight', '5 parts to 1', and by which measure."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass

from extract.numbers import number_value

_N = r"(?:\d{1,4}(?:[.,]\d{1,2})?\s?[½¼¾]?|[½¼¾])"
_COLON = re.compile(
    rf"(?<![\d:.,/°])({_N})((?:\s?[:]\s?{_N}){{1,3}})"
    r"(?![\d:%°]|[.,]\d|\s?(?:%|(?:h|hrs?|am|pm|°)\b)|\s?-\s?\d+\s?%)"
)
_NAME = r"(?:[^\d:;.,]|(?<=comp)\.|(?<=vol)\.|(?<=wt)\.|(?<=no)\.)"
"""A character of a component's name between two figures."""
_PLUS = re.compile(rf"(?<![\d.,+])({_N})\s?\+\s?({_N})(?:\s?\+\s?({_N}))?(?!\s?(?:%|mm|°|h\b|min|µm|kg|l\b|-))")
_WITH_NAMES = re.compile(
    rf"(?<![\d.,])({_N})\s*(?:parts?|volumes?|vol\.?|pts?\.?)\s*(?:\([^)]*\)|{_NAME}{{0,45}}?)\s*"
    rf"(?:into|to|:|and|with|plus|\+|/|,)\s*({_N})\s*(?:parts?|volumes?|vol\.?|pts?\.?)"
    rf"(?:[^\d:;.,]{{0,45}}?(?:to|:|and|with|plus|\+|,)\s*({_N})\s*(?:parts?|volumes?|vol\.?|pts?\.?))?"
)
_GRAMS = re.compile(
    rf"(?<![\d.,])({_N})\s?(?:g|gr|grams?)\b[^.;\d]{{0,25}}?(?:\+|\bto\b|\band\b|\bwith\b|:)\s*({_N})"
    rf"(?:\s?-\s?{_N})?\s?(?:g|gr|grams?)\b"
)
_NAMES_FIRST = re.compile(
    rf"(?<![\d.,])({_N})\s*(?:parts?|pbw|pbv)\b[^.;\d]{{0,30}}\b(?:hardener|catalyst|activator|paste)\D{{0,12}}?({_N})"
    rf"(?:\s?-\s?{_N})?\s*(?:parts?|pbw|pbv)\b"
)
_PARTS_TO = re.compile(
    rf"(?<![\d.,])(?P<one>{_N})\s*(?:parts?|volumes?|measures?)\s(?:{_NAME}{{0,30}}?\s)?to\s(?P<two>{_N})"
    r"(?!\s*(?:%|°|parts?|volumes?|mm|µm|h\b|min|l\b|bar|-|\d))"
)
_IN_EQUAL_PARTS = re.compile(r"\bequal (?:parts|volumes|quantities|amounts|measures)\b")
_TWO_PARTS = re.compile(r"\b(?:hardener|activator|catalyst|part b|acid|components?|both)\b|\ba and b\b")
_THINNED_WITH = re.compile(r"\b(?:thinner|solvent|water)\b")
_TO = re.compile(
    rf"(?<![\d.,])({_N})\s*(?:to|/|in)\s*({_N})(?:\s*(?:to|/)\s*({_N}))?(?=\s*(?:by|mix|ratio|vol|w/?w|v/?v|parts|with|hardener|\W*$))"
)
_VOLUME = re.compile(
    r"\bp\.? ?b\.? ?v\b|\bparts by vol|\bvol(?:ume|umes|umen|\.)?\b|\bv\s?/\s?v\b|\bby measure\b|\bpbv\b"
)
_WEIGHT = re.compile(r"\bp\.? ?b\.? ?w\b|\bweight\b|\bwt\.?\b|\bw\s?/\s?w\b|\bby mass\b|\bpbw\b|\bgram")
_MIXING = re.compile(
    r"\bmix\w*|\bratio\b|hardener|catal|activator|thinner|reducer|component|\bpart[s ]|\bby (?:vol|weight|wt)|dilu|"
    r"convert|"
    r"harter|comp\.|\bbase\b"
)
_BASIS_BEHIND = re.compile(
    r"[\s,]*\(?\s*(?:parts?\s+)?(?:(?:by|in)\s+)?(?:volume|vol\.?|weight|wt\.?|v/v|w/w|pbw|pbv|mass)(?![a-z])(?!\W*\d)"
)
_NAMED = re.compile(rf"(?<![\d.,])({_N})\s+(?:[a-z][\w-]*\s*){{1,3}}:\s*({_N})\s+(?:[a-z][\w-]*)")
_BRACKETED = re.compile(
    rf"\(({_N})\s*(?:parts?|vol(?:ume)?s?\.?|pbw|pbv|pts?\.?)[^()]{{0,12}}\)[^()]{{0,40}}"
    rf"\(({_N})\s*(?:parts?|vol(?:ume)?s?\.?|pbw|pbv|pts?\.?)[^()]{{0,12}}\)"
)
_PERCENT = re.compile(
    rf"(?<![\d.,-])({_N})(?:\s?(?:-|to)\s?{_N})?\s?(?:%|per cent)\s*(?:by (?:weight|volume)\s*)?"
    r"(?:of\s+)?(?:the\s+)?(?:[a-z][\w-]*\s){0,2}?"
    r"(?:hardener|catalyst|peroxide|mekp|activator|hardener paste|paste)\b"
)
_WORDS = {"one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "eight": 8, "ten": 10}
_EQUAL = re.compile(
    rf"\b({'|'.join(_WORDS)})\s+(?:to|by|and)\s+({'|'.join(_WORDS)})"
    r"(?=\W*$|[\s,.;]+(?:by|in|with|mix|parts|volume|weight|ratio))"
)
_WORDED = re.compile(
    rf"\b({'|'.join(_WORDS)}|\d{{1,3}})\s+(?:parts?|volumes?|measures?)\b[^:;.]{{0,60}}?"
    r"\b(?:to|and|with|for)\s+(?:every\s+|each\s+)?"
    rf"({'|'.join(_WORDS)}|\d{{1,3}})\s+(?:parts?|volumes?|measures?)\b"
    rf"(?:[^:;.]{{0,40}}?\b(?:to|and|with|for)\s+({'|'.join(_WORDS)}|\d{{1,3}})\s+(?:parts?|volumes?|measures?)\b)?"
)
_DOSE = re.compile(
    rf"\b(?:hardener|catalyst|peroxide|mekp|activator|paste)\b[^.;\d%()]{{0,25}}?({_N})"
    rf"(?:\s?(?:-|to)\s?{_N})?\s?(?:%|per cent)"
    r"(?!\s*(?:solids|isocyanate|peroxide|of the|(?:of )?(?:\w+ )?(?:thinner|reducer|diluent|solvent)))"
)


_PATTERNS = (
    _COLON, _GRAMS, _NAMES_FIRST, _WITH_NAMES, _PARTS_TO, _IN_EQUAL_PARTS, _TO, _WORDED, _EQUAL, _NAMED, _BRACKETED,
    _PERCENT, _DOSE, _PLUS,
)  # fmt: skip
"""In the order in which they are tried: an earlier one keeps its place from the later."""


@dataclass(frozen=True, slots=True)
class Ratio:
    """parts in the order printed, found at start..end; basis is 'volume', 'weight' or None where the text is silent."""

    start: int
    end: int
    parts: tuple[float, ...]
    basis: str | None


def basis_of(folded: str) -> str | None:
    """By volume or by weight; None where the text names neither, or both."""
    volume, weight = bool(_VOLUME.search(folded)), bool(_WEIGHT.search(folded))
    if volume == weight:
        return None
    return "volume" if volume else "weight"


def part_value(text: str) -> float | None:
    """One printed part: '4', '½', '1½', '0,5'. None where it is no number."""
    text = text.strip()
    if not re.fullmatch(_N, text):
        return None
    return number_value(re.sub(r"\s", "", text), None)


def find_ratios(folded: str, context: str = "") -> Iterator[Ratio]:
    """Ratios in a sentence or a cell that speaks of mixing, itself or by its context (label, heading)."""
    if not _MIXING.search(folded) and not _MIXING.search(context):
        return
    taken: list[tuple[int, int]] = []
    for pattern in _PATTERNS:
        for m in pattern.finditer(folded):
            if pattern is _PLUS and not re.search(r"ratio|mix", folded[: m.start()] + context):
                continue
            if any(m.start() < e and s < m.end() for s, e in taken):
                continue
            if pattern is _IN_EQUAL_PARTS and (not _TWO_PARTS.search(folded) or _THINNED_WITH.search(folded)):
                continue
            parts = _parts(m, pattern)
            if parts is None or not _plausible(parts):
                continue
            if pattern in (_PERCENT, _DOSE) and re.search(
                r"contain|content|less than|more than|over|under|wrong", folded
            ):
                continue
            if re.search(r"dilut\w*\s*$", folded[: m.start()]) and "water" in folded:
                continue
            if re.search(r"#\s?$|\bcup\s*$", folded[: m.start()]) or re.match(r"\d+:\s", m.group()):
                continue  # 'Zahn #2: 30 s'
            if re.search(r"\b(?:gloss|scale|map|iso|din|en|astm|page|tel|no)\.?\s*$", folded[: m.start()]):
                continue
            if len(parts) == 2 and pattern in (_WORDED, _WITH_NAMES) and _is_turned_round(folded, m):
                parts = parts[::-1]
            taken.append((m.start(), m.end()))
            basis = "weight" if pattern is _GRAMS else _basis_near(folded, m.start(), m.end()) or basis_of(context)
            yield Ratio(m.start(), m.end(), parts, basis)


_OTHER_PART = r"hardener|catal|activator|curing|comp(?:onent|\.)? b|part b|thinner"
_OWN_PART = r"base|primer|paint|filler|resin|enamel|surfacer|comp(?:onent|\.)? a|part a|lacquer|clear"


def _is_turned_round(folded: str, m: re.Match[str]) -> bool:
    """'One part of hardener to four parts of primer': the base goes first in a ratio."""
    behind = folded[m.end() : m.end() + 30]
    if re.search(r"\binto\b", m.group()):
        return True  # 'one part of X into five of paint'
    return bool(re.search(_OTHER_PART, m.group())) and bool(re.match(rf"[^.;\d]*\b(?:{_OWN_PART})", behind))


def _basis_near(folded: str, start: int, end: int) -> str | None:
    behind = _BASIS_BEHIND.match(folded, end)
    if behind:
        return basis_of(behind.group())
    for reach in (14, 40):
        before = basis_of(folded[max(0, start - reach) : start])
        if before:
            return before
    return basis_of(folded)


def _parts(m: re.Match[str], pattern: re.Pattern[str]) -> tuple[float, ...] | None:
    if pattern is _COLON:
        texts = [m.group(1), *re.findall(_N, m.group(2))]
    elif pattern is _IN_EQUAL_PARTS:
        return (1.0, 1.0)
    elif pattern in (_WORDED, _EQUAL):
        return tuple(float(_WORDS.get(g) or part_value(g) or 0) for g in m.groups() if g)
    elif pattern in (_PERCENT, _DOSE):
        percent = part_value(m.group(1))
        return None if percent is None or percent > 60 else (100.0, percent)
    else:
        texts = [g for g in m.groups() if g]
    values = [part_value(t) for t in texts]
    return tuple(v for v in values if v is not None) if all(v is not None for v in values) else None


def _plausible(parts: tuple[float, ...]) -> bool:
    return 2 <= len(parts) <= 4 and all(0 < p <= 1000 for p in parts) and max(parts) / min(parts) <= 400
