"""Numbers as sheets print them: decimals with comma or point, fractions, thousands, words."""

from __future__ import annotations

import re
from functools import lru_cache

from extract.units import Dimension, units

_FRACTIONS = {"½": 0.5, "¼": 0.25, "¾": 0.75, "⅓": 1 / 3, "⅔": 2 / 3, "⅛": 0.125, "⅜": 0.375}
_UNITS_WORDS = {
    "one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "seven": 7, "eight": 8, "nine": 9, "ten": 10,
    "eleven": 11, "twelve": 12, "thirteen": 13, "fourteen": 14, "fifteen": 15, "sixteen": 16, "seventeen": 17,
    "eighteen": 18, "nineteen": 19, "single": 1, "double": 2,
}  # fmt: skip
_TENS_WORDS = {
    "twenty": 20, "thirty": 30, "forty": 40, "fifty": 50, "sixty": 60, "seventy": 70, "eighty": 80, "ninety": 90,
    "hundred": 100,
}  # fmt: skip
_ONES = "|".join(sorted(_UNITS_WORDS, key=len, reverse=True))
_TENS = "|".join(_TENS_WORDS)
_WORD_NUMBER = rf"(?:{_TENS})(?:[- ](?:one|two|three|four|five|six|seven|eight|nine))?|a couple of|{_ONES}"
_DIGITS = (
    r"\d{1,3}(?:[.,]\d{3})+(?!\d)"
    r"|\d{1,2} (?:000|500)(?!\d)"
    r"|\d+[ -]?[½¼¾⅓⅔⅛⅜]|[½¼¾⅓⅔⅛⅜]"
    r"|\d+[ -]1/[248]\b|\d+[ -]3/[48]\b|(?<![\d/])(?:1/[2348]|[23]/[348])(?![\d/])"
    r"|\d+[.,]\d+|(?<![\d.])\.\d+|\d+"
)
_NOT_COMPOUND = r"(?!-(?!(?:minute|hour|day|week|month|year)))"
"""'two-pack' counts nothing; 'a two-hour wait' does."""
NUMBER = (
    rf"(?:(?P<sign>[+-])(?=[\d.,½¼¾]))?(?P<digits>{_DIGITS})|\b(?P<word>{_WORD_NUMBER})\b{_NOT_COMPOUND}"
    r"|(?P<article>\ban?)\b"
)
"""An expression with the groups sign, digits, word and article, one of the last three set."""


@lru_cache(maxsize=2048)
def number_value(number: str, unit: str | None) -> float:
    """What a matched number is worth; unit (an id) decides what a point or comma before three digits means."""
    number = number.strip()
    if number in _UNITS_WORDS:
        return float(_UNITS_WORDS[number])
    if number == "a couple of":
        return 2.0
    head = re.match(rf"({_TENS})(?:[- ](\w+))?$", number)
    if head:
        return float(_TENS_WORDS[head.group(1)] + _UNITS_WORDS.get(head.group(2) or "", 0))
    mixed = re.match(r"(\d*)[ -]?([½¼¾⅓⅔⅛⅜])$", number)
    if mixed:
        return float(mixed.group(1) or 0) + _FRACTIONS[mixed.group(2)]
    slashed = re.match(r"(?:(\d+)[ -])?(\d)/(\d)$", number)
    if slashed:
        return float(slashed.group(1) or 0) + int(slashed.group(2)) / int(slashed.group(3))
    if re.fullmatch(r"\d{1,3}(?:[.,]\d{3})+", number):
        return _grouped(number, unit)
    return float(number.replace(" ", "").replace(",", "."))


_DECIMAL_DIMENSIONS = {Dimension.DENSITY, Dimension.VOLUME, Dimension.MASS, Dimension.COVERAGE,
                       Dimension.MASS_PER_AREA, Dimension.PERCENT}  # fmt: skip


def _grouped(number: str, unit: str | None) -> float:
    """'1.500' or '2,000': thousands, unless that is absurd for the unit (0.013 in, 1,350 kg/l, 1.400 mm)."""
    marks = re.findall(r"[.,]", number)
    plain = number.replace(".", "").replace(",", "")
    if len(marks) > 1:
        return float(plain)
    decimal = float(number.replace(",", "."))
    dimension = units()[unit].dimension if unit else None
    if number.startswith("0") or unit in {"in", "mm", "mil"} or dimension in _DECIMAL_DIMENSIONS:
        return decimal
    return float(plain)
