"""Dates and issue numbers as a sheet's head and foot print them. No date library ever guesses at a sheet's text."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cache, lru_cache
from importlib import resources
from typing import Any


@cache
def header_words() -> dict[str, Any]:
    """The tables of vocabulary/header.toml."""
    return tomllib.loads(resources.files("extract.vocabulary").joinpath("header.toml").read_text("utf-8"))


@cache
def _months() -> dict[str, int]:
    return {word: i for i, words in enumerate(header_words()["months"].values(), 1) for word in words}


@dataclass(frozen=True, slots=True)
class FoundDate:
    """A date at start..end of a folded text, ISO; ambiguous where day and month could change places."""

    start: int
    end: int
    iso: str
    swapped: str | None = None
    """The ISO date with day and month the other way round, where that is a date too."""
    full: bool = True


_YEAR = r"(?:19[89]\d|20[0-4]\d)"


def _after() -> str:
    """Words after which '11/03' is a month of a year."""
    return "|".join(map(re.escape, header_words()["words"]["month_follows"]))


@cache
def _patterns() -> tuple[tuple[str, re.Pattern[str]], ...]:
    month = "|".join(sorted((re.escape(m) for m in _months()), key=len, reverse=True))
    return (
        ("iso", re.compile(rf"(?<![\d.])({_YEAR})[-/.](\d{{1,2}})[-/.](\d{{1,2}})(?![\d])")),
        ("compact", re.compile(r"(?<!\d)(20[0-4]\d)(0[1-9]|1[0-2])([0-2]\d|3[01])(?!\d)")),
        # One sign twice: in 'Rev. 3 – 05/2023' the 3 is no day.
        *(("dmy", re.compile(
            rf"(?<![\da-z.])(\d{{1,2}}){sign}(\d{{1,2}}){sign}({_YEAR}|\d{{2}})(?![\d.]\d|\d)"
        )) for sign in (r"\s?\.\s?", "/", "-", " / ", " - ")),
        ("six", re.compile(
            r"\b(?:rev(?:ised|ision)?|date|updated?|issued?)\W{1,3}(\d{2})(\d{2})(\d{2})(?!\d|[/.-]\d)"
        )),
        ("d_month_y", re.compile(
            rf"(?<!\d)(\d{{1,2}})(?:st|nd|rd|th)?\.?[\s-](?:de\s|of\s)?({month})\.?,?[\s-](?:de\s)?({_YEAR}|'?\d{{2}})(?!\d)"
        )),
        ("month_d_y", re.compile(rf"\b({month})\.?\s(\d{{1,2}})(?:st|nd|rd|th)?,?\s({_YEAR})(?!\d)")),
        ("month_y", re.compile(rf"\b({month})\.?,?[\s/-](?:de\s)?({_YEAR})(?!\d)")),
        ("month_yy", re.compile(rf"\b({month})\.?(?:-|\s?')(\d{{2}})(?![\d/.-])")),
        ("y_month", re.compile(rf"(?<!\d)({_YEAR})\s?[,/-]?\s?\(?({month})\b")),
        ("quarter", re.compile(rf"\bq([1-4])[\s/.-]?\s?({_YEAR})(?!\d)")),
        ("y_quarter", re.compile(rf"(?<!\d)({_YEAR})[\s/.-]?\s?q([1-4])\b")),
        ("my", re.compile(rf"(?<![\d./-])(\d{{1,2}})\s?[-/.]\s?({_YEAR})(?![\d/]|[.-]\d)")),
        ("ym", re.compile(rf"(?<![\d./-])({_YEAR})[-/.](\d{{2}})(?![\d/]|[.-]\d)")),
        ("m_yy", re.compile(
            rf"(?:\b(?:{_after()})|\b(?:rev|issue|version)\W{{0,2}}\w{{1,3}})\W{{1,3}}(\d{{1,2}})/(\d{{2}})(?![\d/.-])"
        )),
        # 'Status 04.22'; 'rev. 4.22' is a number.
        ("m_yy", re.compile(
            r"\b(?:dated?|stand|status|issued|as of|printed|updated|(?:rev|issue|version|v)\W{0,2}\d{1,2}(?:\.\d)?"
            r"\s?\W)\W{1,3}(\d{2})[.-](\d{2})(?![\d/.-])"
        )),
        ("m_yy", re.compile(
            r"\b(?:version|rev|revision|issue|edition|v)\W{1,3}(?:[a-z]\W)?\d{1,3}/(\d{2})(\d{2})(?![\d/.-])"
        )),
        ("y", re.compile(rf"(?<![\d./-])({_YEAR})(?![\d/]|[.-]\d)")),
    )  # fmt: skip


@cache
def _numbered() -> re.Pattern[str]:
    """Words for a sheet that is known by its number, at the end of a text."""
    words = "|".join(map(re.escape, header_words()["words"]["numbered"]))
    return re.compile(rf"(?<![a-z])(?:{words})\s*$")


@cache
def _issue() -> re.Pattern[str]:
    """Words for an issue that is counted, at the end of a text and with no colon: 'Issue 9 June 2024'."""
    return re.compile(r"(?<![a-z])(?:issue|rev|revision|version|edition|ed)\.?(?:\s+no\.?)?\s+$")


def _counts(folded: str, m: re.Match[str]) -> bool:
    """Whether the figure before a month is the number of the sheet or of its issue, and no day.

    Makers count few issues; 'Issue 27 June' names a day, and so does a text that counts its issue elsewhere.
    """
    before = folded[: m.start()]
    if _numbered().search(before):
        return True
    counted = _issue().search(before)
    if counted is None or int(m.group(1)) > _MOST_ISSUES or m.group(1).startswith("0"):
        return False
    elsewhere = folded[: counted.start()] + folded[m.end() :]
    return _REVISION.search(elsewhere) is None and folded[m.end(1)] == " "


_MOST_ISSUES = 12
_STANDARD = re.compile(r"(?<![a-z-])(?:iso|en|din|astm|bs)[\s/-]*(?:[a-z]{1,3}[\s-]?)?\d+[\s\d:/-]*$")
"""'EN ISO 12944-2:' before a year: the year is the standard's."""


_FIGURES = re.compile(r"\d\d")


@lru_cache(maxsize=512)
def find_dates(folded: str) -> tuple[FoundDate, ...]:
    """Every date of a folded text, the fullest reading of each place; lone years last and marked not full."""
    # Every date has a year, and every year two figures on end.
    return tuple(_dates(folded)) if _FIGURES.search(folded) else ()


def _dates(folded: str) -> Iterator[FoundDate]:
    taken: list[tuple[int, int]] = []
    for name, pattern in _patterns():
        for m in pattern.finditer(folded):
            if any(m.start() < e and s < m.end() for s, e in taken):
                continue
            date = _date(name, m)
            if date is not None and name == "d_month_y" and _counts(folded, m):
                date = FoundDate(m.start(2), m.end(), f"{date.iso[:8]}01")  # 'Bulletin 31 March 2024' has a number
            if date is not None:
                taken.append((m.start(), m.end()))
                yield date


def _date(name: str, m: re.Match[str]) -> FoundDate | None:
    g = m.groups()
    months = _months()
    match name:
        case "iso" | "compact":
            return _make(m, int(g[0]), int(g[1]), int(g[2]))
        case "six":
            date = _day_month(m, g)
            return date and FoundDate(m.start(1), date.end, date.iso, date.swapped)
        case "dmy":
            return _day_month(m, g)
        case "d_month_y":
            year = int(g[2]) if len(g[2]) == 4 else 2000 + int(g[2].strip("'"))
            return _make(m, year, months[g[1]], int(g[0]))
        case "month_d_y":
            return _make(m, int(g[2]), months[g[0]], int(g[1]))
        case "month_y":
            return _make(m, int(g[1]), months[g[0]], 1)
        case "month_yy":
            return _make(m, 2000 + int(g[1]), months[g[0]], 1)
        case "m_yy":
            date = _make(m, 2000 + int(g[1]), int(g[0]), 1)
            return date and FoundDate(m.start(1), date.end, date.iso)  # the word before it says whose date it is
        case "y_month":
            return _make(m, int(g[0]), months[g[1]], 1)
        case "quarter" | "y_quarter":
            part, of = (g[0], g[1]) if name == "quarter" else (g[1], g[0])
            return _make(m, int(of), 3 * int(part) - 2, 1)
        case "my":
            return _make(m, int(g[1]), int(g[0]), 1)
        case "ym":
            return _make(m, int(g[0]), int(g[1]), 1)
        case _:
            return FoundDate(m.start(), m.end(), f"{g[0]}-01-01", full=False)


def _day_month(m: re.Match[str], parts: Sequence[str]) -> FoundDate | None:
    """'03/04/2024' and '030424': the day first, unless it cannot be one."""
    year = int(parts[2]) if len(parts[2]) == 4 else 2000 + int(parts[2])
    if len(parts[2]) == 2 and not 0 <= year - 2000 <= 45:
        return None
    first, second = int(parts[0]), int(parts[1])
    if first > 12 and second > 12:
        return None
    if second > 12:
        return _make(m, year, first, second)
    swapped = _make(m, year, first, second) if first <= 12 and first != second else None
    date = _make(m, year, second, first)
    return date and FoundDate(date.start, date.end, date.iso, swapped.iso if swapped else None)


def _make(m: re.Match[str], year: int, month: int, day: int) -> FoundDate | None:
    if not (1 <= month <= 12 and 1 <= day <= 31):
        return None
    return FoundDate(m.start(), m.end(), f"{year:04d}-{month:02d}-{day:02d}")


def issue_date(texts: Sequence[str], *, month_first: bool) -> str | None:
    """The sheet's own date from folded texts, most telling first: beside 'issue', 'rev.' and the like, else alone.

    month_first settles '03/04/2024' where no other date of the sheet does.
    """
    words = header_words()["words"]
    dated = re.compile(r"(?<![a-z])(?:" + "|".join(map(re.escape, words["dated"])) + r")(?![a-z])")
    no_date = re.compile(r"(?<![a-z])(?:" + "|".join(map(re.escape, words["not_the_date"])) + r")(?![a-z])")
    printed = re.compile(r"(?<![a-z])(?:" + "|".join(map(re.escape, words["printed"])) + r")(?![a-z])")
    best: tuple[tuple[int, str, int], FoundDate] | None = None
    found: list[FoundDate] = []
    for rank, text in enumerate(texts):
        for date in find_dates(text):
            before = text[max(0, date.start - 28) : date.start]
            against = max((m.end() for m in no_date.finditer(before)), default=0)
            own = max((m.start() for m in dated.finditer(before)), default=0)
            if _STANDARD.search(before) or against > own:
                continue
            behind = dated.search(text, date.end, date.end + 14)
            # '02.03.2024 Revision date: 15.11.2023': that word heads the next date.
            beside = dated.search(before) or (behind and not re.match(r"[a-z\s]{0,10}:", text[behind.end() :]))
            if not date.full and not beside:
                continue
            found.append(date)
            telling = 4 * bool(beside) + 2 * date.full + (printed.search(before) is None)
            # Of dates that are equally told the last is the sheet's: 'First issue 2014, revised 2022'.
            score = (telling, date.iso if beside else "", -rank)
            if best is None or score > best[0]:
                best = (score, date)
    if best is None:
        return None
    chosen = best[1]
    if chosen.swapped is None:
        return chosen.iso
    if any(d.swapped is None and d.full for d in found):
        return chosen.iso if not month_first else chosen.swapped
    return chosen.swapped if month_first else chosen.iso


_REVISION = re.compile(
    r"(?<![a-z])(?:issue|rev(?:ision)?|version|versie|versione|ver|edition|ed|ausgabe|édition|edición|uitgave|index|v)(?![a-z])"
    r"\s*(?:no|nr|number|n°)?\s*[.:#-]{0,2}\s*(?:no\.?\s*)?([a-z]?\d{1,3}(?:\.\d{1,2})?[a-z]?|[a-z]/\d{1,2}|[a-z])(?![\w°%]|[./-]\d)"
)
_BEFORE = re.compile(
    r"(?<![a-z\d])(\d{1,2})(?:st|nd|rd|th|\.|ª|e|ème)?\s+(?:issue|edition|ed|revision|ausgabe|auflage|édition|edición|uitgave)\b"
)


_AFTER = re.compile(r"(?<![a-z])(?:issued|revised|dated)\b[^;]{6,24}?,? (?:no|nr)\.?\s?(\d{1,3})(?![\w/.-]?\d)")
"""The number of an issue that stands behind its date ('Issued 2023-11-02, no. 5')."""


def revision(texts: Sequence[str]) -> str | None:
    """'7' of 'Issue 7', 'J' of 'Rev. J', '4' of 'fourth edition', '04' of 'Rev. 04'; as printed, capitals kept."""
    ordinals = header_words()["ordinals"]
    worded = re.compile(rf"\b({'|'.join(ordinals)})\s+(?:issue|edition|revision)\b")
    for text in texts:
        days = [(d.start, d.end) for d in find_dates(text)]
        if m := next((m for m in _REVISION.finditer(text) if not any(a <= m.start(1) < b for a, b in days)), None):
            return m.group(1).upper()
        if m := worded.search(text):
            return str(ordinals[m.group(1)])
        if m := _BEFORE.search(text) or _AFTER.search(text):
            return m.group(1)
    return None
