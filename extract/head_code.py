"""The product's own code: what the maker orders and files it under. A sheet's number is none."""

from __future__ import annotations

import itertools
import re
from functools import cache

from extract.dates import find_dates, header_words
from extract.document import fold
from extract.head_product import descriptive
from extract.head_texts import HeadTexts, parts_of, places_of

_NUMBER = (
    r"(\d{2,4}(?: \d{3,4}){1,3}(?!\d)|[A-Z]{1,4} \d{2,5}[A-Z]{0,2}(?!\w)|[A-Z0-9][A-Za-z0-9]*(?:[./-][A-Za-z0-9]+)*)"
)
_ALONE = re.compile(r"[A-Z]{0,4}[ -]?\d{2,5}(?:[./-]?\d{2,6})*[A-Z]{0,2}")
_FIRST = re.compile(r"(?:[A-Z]{1,3}\d{2,5}|\d{4,6})(?= [A-Z][A-Za-z-]{2,})")
"""A code before the name, as in a price list: 'E45 Rustbar', '04150 Grundolan'."""
_OF_A_SHEET = re.compile(r"(?:sheet|issue|rev|no|nr|page|tel|form|kt|tds|pds|doc|leaflet|bulletin|po box|box)[\W\d]*$")


def code_of(texts: HeadTexts, product: str | None, maker: str | None) -> str | None:
    """The code, as printed; None where the sheet gives the product none."""
    return (
        _labelled(texts)
        or _beside_the_name(texts, product)
        or _in_the_name(texts, product, maker)
        or _beside_the_kind(texts, product)
        or _numbered(texts, product)
    )


_FIGURE = re.compile(r"\d")


@cache
def _after_label() -> re.Pattern[str]:
    labels = sorted(header_words()["words"]["codes"], key=len, reverse=True)
    return re.compile(
        r"(?<![\w.])(?i:" + "|".join(re.escape(w) for w in labels) + r")(?:\.?\s*[:#]\s*|\.?\s+|\.)" + _NUMBER
    )


def _labelled(texts: HeadTexts) -> str | None:
    for text in (*texts.facts, *texts.running, *texts.titles, *texts.opening, *texts.closing):
        if _FIGURE.search(text) is None:
            continue
        for m in _after_label().finditer(text):
            number = m.group(1)
            if re.match(r"\s*(?:series|range|xx)\b", text[m.end() :]) or _is_date(number):
                continue
            if re.search(r"\d ?$", text[: m.start()]) or _ACCESSORY.match(text, m.end()):
                continue  # '1 part HB-88 activator'
            if any(c.isdigit() for c in number) and len(number) >= 3:
                return number
    return None


_ACCESSORY = re.compile(r" (?:[A-Za-z]+ )?(?:activator|hardener|reducer|thinner|catalyst|cleaner)s?\b")


def _is_date(text: str) -> bool:
    return any(d.full for d in find_dates(fold(text)))


_BRACKETED = re.compile(r"[®™]?\s*\(([a-z]{0,4}[ -]?\d{3,6}[a-z]?)\)")


def _beside_the_name(texts: HeadTexts, product: str | None) -> str | None:
    """A code alone in brackets behind the name, in the running line with it, or in the line below it."""
    if not product:
        return None
    name = fold(product)
    for text in (*texts.titles, *texts.running, *texts.opening[:6]):
        behind = (_BRACKETED.match(fold(text), at + len(name)) for at in places_of(name, fold(text)))
        if m := next((m for m in behind if m), None):
            return text[m.start(1) : m.end(1)] if len(fold(text)) == len(text) else m.group(1).upper()
    for text in (*texts.running, *texts.titles):
        parts = [p.strip() for p in re.split(r"\s*[·|•–—]\s*", text)]
        beside = [p for p in parts if re.fullmatch(r"[A-Z]{1,4}[ -]?\d{2,6}[A-Z]{0,2}|\d{1,3}(?:\.\d{3,4}){1,3}", p)]
        if beside and any(fold(product) == fold(p) for p in parts):
            return beside[0]
    lines = [part.strip() for text in texts.first_lines for part in parts_of(text)]
    for name, below in itertools.pairwise(lines):
        if fold(product) not in fold(name) or not _ALONE.fullmatch(below) or _is_date(below):
            continue
        if sum(c.isdigit() for c in below) > 2 and not re.fullmatch(r"(?:19|20)\d\d", below):
            return below
    return None


def _in_the_name(texts: HeadTexts, product: str | None, maker: str | None) -> str | None:
    found = _FIRST.match(product or "") or re.search(
        r"\b(?:[A-Z]{1,5}-\d{2,5}|[A-Z]{2,5}-[A-Z]\d{2,4}|[A-Z]{2,3} \d{3,5})[A-Z]{0,2}\b", product or ""
    )
    if found is None or not _is_named_besides(product or "", found.group(), texts, maker):
        return None
    return found.group()


def _is_named_besides(product: str, code: str, texts: HeadTexts, maker: str | None) -> bool:
    """Whether the product has a name beside the code ('CM-300 Bedrock'); a code alone is its name."""
    titles = [t for t in texts.titles if code in t]
    rest = " ".join((product, *titles)).replace(code, " ").split()
    imprint = fold(" ".join((*texts.running, *texts.opening[:2], *texts.closing)))
    own = [w for w in rest if not any(c.isdigit() for c in w) and len(w) > 2]
    return any(fold(w) not in fold(maker or "") for w in own) and bool(imprint or own)


def _beside_the_kind(texts: HeadTexts, product: str | None) -> str | None:
    """A code in the line of the head that says what the product is ('Epoxy primer  B-650  Revised: ...')."""
    for text in (*texts.running, *texts.opening[:3]):
        if not descriptive() & set(re.findall(r"[\w-]+", fold(text))):
            continue
        for m in re.finditer(r"(?<![\w./-])([A-Z]{1,4}-\d{2,5}[A-Z]{0,2})(?![\w/-]|\.\d)", text):
            stands_alone = _OF_A_SHEET.search(fold(text[: m.start()])) is None
            if _ACCESSORY.match(text, m.end()):
                continue
            if stands_alone and len(text.split()) <= 30 and (product is None or m.group(1) not in product):
                return m.group(1)
    return None


def _numbered(texts: HeadTexts, product: str | None) -> str | None:
    """A number beside 'data sheet' that the text uses for the product itself ('40.2000' where it speaks of 40.2xxx)."""
    body = fold(texts.body)
    for text in (*texts.running, *texts.titles):
        for m in re.finditer(r"(?<![\w./-])(\d{2,3}[.]\d{3,5}|\d{4,6}|[A-Z]{1,3}\d{3,6})(?![\w./-]*\d)", text):
            number = m.group(1)
            before = fold(text[: m.start()])
            if re.search(r"(?:no|nr|tel|phone|fax|rev|issue|of|since|dal|/|\d)\.?\s*$", before):
                continue
            if re.fullmatch(r"(?:19|20)\d\d", number):
                continue
            stem = fold(number)[: max(3, number.find(".") + 2)]
            if product and re.search(rf"{re.escape(fold(product))}\W{{1,4}}{re.escape(stem)}", body):
                return number
    return None
