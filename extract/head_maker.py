"""Who makes the product: the company of the imprint, the foot or the letterhead, as the logo writes it."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from functools import cache, lru_cache

from extract.dates import header_words
from extract.document import fold
from extract.head_texts import HeadTexts, is_label, parts_of, without_sheet_words
from extract.sections import sense_of_text

_LEAST_NAME = 3
_LETTERHEAD_WORDS = 6
_LOGO_WORDS = 2

_CAPITAL = r"[A-ZÀ-Þ][\w'’&.-]*"
_BETWEEN = r"(?:&|and|of|de|da|do|du|la|le|van|von|der|und|et|y|e|en)"
_NAME = rf"((?:{_CAPITAL})(?:\s+(?:{_CAPITAL}|{_BETWEEN}))*?)"
_NAME_BEFORE_FORM = rf"((?:{_CAPITAL}|&)(?:\s+(?:{_CAPITAL}|{_BETWEEN})){{0,6}}?)"

_PLAIN_WORD = re.compile(r"\s(?:[Aa]s|co|[Ss]a|[Aa]g|kg|[Aa]b|spa|[Ss]l|[Ss]e|[Ee]|company|limited|inc)$")
"""Forms of companies that are words too ('Recommended use: As a primer'): so written they are words."""


def maker_of(texts: HeadTexts) -> str | None:
    """The maker's name without its legal form; None where the sheet names none."""
    named = _labelled(texts)
    if named:
        return _imprint_in([f for f in texts.facts if named in f]) or named
    imprint = _imprint_in((*texts.running, *texts.opening, *texts.closing))
    author = texts.metadata.get("author", "").strip()
    logo = _logo(texts, imprint or author)
    if logo:
        return logo
    if imprint:
        return readable_maker(imprint)
    if author and not re.search(
        r"@|\\|user|admin|unknown|anonymous|microsoft|^python|office|^\W*\w+\W*$", author, re.IGNORECASE
    ):
        return without_company_form(author)
    if author and fold(without_company_form(author)) in fold(" ".join((*texts.running, *texts.titles, texts.body))):
        return without_company_form(author)
    return (
        _addressed(texts) or _letterhead(texts) or _on_the_web(texts) or _before_the_name(texts) or _in_capitals(texts)
    )


@cache
def company_form() -> re.Pattern[str]:
    """A legal form at the end of a text."""
    return re.compile(r"(?:,?\s+(?:" + _forms() + r")\.?)+$", re.IGNORECASE)


@cache
def _forms() -> str:
    forms = sorted(header_words()["words"]["companies"], key=len, reverse=True)
    return "|".join(re.escape(f) for f in forms)


@cache
def _words(name: str) -> str:
    return "|".join(re.escape(w) for w in sorted(header_words()["words"][name], key=len, reverse=True))


def without_company_form(name: str) -> str:
    """'Merrow & Stane Ltd' -> 'Merrow & Stane'."""
    bare = company_form().sub("", name.strip(" ,.·|-(")).strip(" ,.·|-(")
    return bare or name.strip()


def readable_maker(name: str) -> str:
    """A name in capitals as people write it: 'FL BRODZISK' -> 'FL Brodzisk', 'DRY & SONS' -> 'Dry & Sons'."""
    letters = [c for c in name if c.isalpha()]
    words = name.split()
    if not letters or sum(c.isupper() for c in letters) < 0.7 * len(letters):
        return name
    return " ".join(w if len(w) < _LEAST_NAME or not _sounds(w) else _title(w) for w in words)


def _sounds(word: str) -> bool:
    """A word that can be said, not an abbreviation."""
    return word.isupper() and re.search(r"[AEIOUYÀ-Þ]", word) is not None


def _title(word: str) -> str:
    return word.lower() if word in ("AND", "OF", "DE", "DA", "VAN", "VON", "UND", "ET") else word.capitalize()


def _labelled(texts: HeadTexts) -> str | None:
    """The name after 'Manufacturer:' or 'Produced by'."""
    label = re.compile(
        rf"(?<![\w])(?i:{_words('maker_labels')})(?:\s*:\s*|(?<=(?i:by|of))\s+){_NAME}"
        r"(?=$|[,.;|·(]|\s{2,}|\s[-–—]\s)"
    )
    for text in (*texts.facts, *texts.running, *texts.opening, *texts.closing):
        for m in label.finditer(text):
            name = without_company_form(m.group(1))
            if len(name) >= _LEAST_NAME and not _is_common(name):
                return readable_maker(name)
    return None


def _is_common(name: str) -> bool:
    """Words of the trade or of data sheets only, no name."""
    if company_form().fullmatch(f" {name}"):
        return True
    words = re.findall(r"[^\W_]+", fold(name))
    known = {*header_words()["words"]["descriptive"], *header_words()["words"]["makers"]}
    return not words or fold(name) in header_words()["words"]["generic"] or all(w in known for w in words)


def _imprint_in(texts: Iterable[str]) -> str | None:
    """The company named with its legal form in a running line or at the end, as in an address."""
    strict = re.compile(_NAME_BEFORE_FORM + r"(?:\s\([A-Z][\w .]{1,15}\))?,?\s+\(?(?i:" + _forms() + r")(?![\w])\.?")
    unlabelled = re.compile(rf"^(?i:{_words('maker_labels')})\s+")
    other = re.compile(rf"(?i:{_words('not_the_maker')})\W*(?:[\w.]+\s){{0,3}}$")
    found: list[tuple[str, bool]] = []
    for text in texts:
        for m in strict.finditer(text):
            if _PLAIN_WORD.search(m.group()) or other.search(text[: m.start()]):
                continue
            name = without_company_form(unlabelled.sub("", m.group(1)))
            if len(name) >= _LEAST_NAME and not _is_common(name):
                found.append((name, m.start() == 0 and _SAYS_WHAT.match(text, m.end()) is not None))
    # 'RUBBEX AG - anti-gravel coating' may be a product's name: an imprint that goes on as an address is none.
    no_maker = {name for name, described in found if described}
    names = [name for name, _ in found if not any(_more_of(n, name) or n == name for n in no_maker)] or [
        name for name, _ in found
    ]
    if not names:
        return None
    # A logo may stand in a line of its own above the rest of the name.
    return next((n for n in names if _more_of(names[0], n)), names[0])


def _more_of(name: str, longer: str) -> bool:
    """Whether a name is another with a word or two before it, as 'Tallgate Coating Works' is of 'Coating Works'."""
    before = longer[: -len(name) - 1].split()
    whole = fold(longer).endswith(" " + fold(name)) and 1 <= len(before) <= _LOGO_WORDS
    apart = "  " in longer or is_label(" ".join(before))
    return whole and not apart and all(w.isalpha() and len(w) >= _LEAST_NAME for w in before)


_SAYS_WHAT = re.compile(r"\s+[-\u2013\u2014]\s+[a-z]")


def _logo(texts: HeadTexts, known: str) -> str | None:
    """The name as printed at the head, where it is the imprint's or the author's, or a part of it."""
    if not known:
        return None
    target = _squashed(without_company_form(known))
    best = ""
    for text in (*texts.running, *texts.titles, *texts.opening[:4]):
        head = re.split(r"\s{2,}|\s[|·•]\s", text)[0]
        words = head.split()
        if _in_two_lines(head, texts, target):
            return without_company_form(known)
        for n in range(min(len(words), 6), 0, -1):
            name = " ".join(words[:n]).strip(" ,·|")
            if len(_squashed(name)) < _LEAST_NAME + 1 or not target.startswith(_squashed(name)):
                continue
            # The first word of a title 'Hollin Primax 55' may be the product's own: a logo is a line or in capitals.
            if n == len(words):
                return _written(name, known)
            apart = name.isupper() and not head.isupper()
            if apart and len(_squashed(name)) > len(_squashed(best)):
                best = name
            break
    return _written(best, known) if best else None


def _in_two_lines(head: str, texts: HeadTexts, target: str) -> bool:
    """Whether a logo's line goes on in another of the head, the two being the whole name of the imprint."""
    first = _squashed(head)
    rest = target.removeprefix(first)
    if len(first) < _LEAST_NAME or rest == target or len(rest) < _LEAST_NAME:
        return False
    return any(_squashed(without_sheet_words(t)).startswith(rest) for t in texts.opening[:4])


@lru_cache(maxsize=2048)
def _squashed(text: str) -> str:
    return _BETWEEN_LETTERS.sub("", fold(text))


_BETWEEN_LETTERS = re.compile(r"[^a-z0-9à-ÿ]+")


def _written(best: str, known: str) -> str:
    """A name of the head in the capitals and small letters of the imprint or the author."""
    if not best.isupper():
        return best
    # A logo in capitals says nothing of the name's own capitals; the imprint does.
    words = without_company_form(known).split()
    # 'WITHYCOATINGS' may be set without the space between 'Withy' and 'Coatings'.
    names = (" ".join(words[:n]) for n in range(1, len(words) + 1))
    written = next((n for n in names if _squashed(n) == _squashed(best)), "")
    return written if _squashed(written) == _squashed(best) and not written.isupper() else readable_maker(best)


def _addressed(texts: HeadTexts) -> str | None:
    """A name before its street, its web address or after a copyright sign: an imprint without a legal form."""
    address = re.compile(
        rf"(?:^|[.;|·]\s+|\s{{2,}}){_NAME}(?:,\s+|\s+[-–—·|]\s+)(?=(?:[\w'’.-]+\s){{0,3}}(?i:{_words('streets')})\b"
        r"|\d+[a-z]?,?\s+[A-Z])"
    )
    years = r"(?:\d{4}(?:\s*[-–]\s*\d{2,4})?,?\s+)?"
    right = re.compile(
        rf"(?:©|\(c\)|(?i:copyright))\s*(?:\(c\)|©)?\s*(?:by\s+)?{years}{_NAME}"
        r"(?=$|[,.;|·•]|\s+[-–—]\s|\s+(?:19|20)\d\d\b|\s+(?i:all rights)\b)"
    )
    marks = re.compile(
        rf"(?i:\b(?:registered )?trade ?marks? (?:are owned by|of|is owned by))\s+(?:the\s+)?{_NAME}(?=$|[,.;|])"
    )
    for pattern in (right, address, marks):
        for text in (*texts.running, *texts.opening[:4], *texts.closing):
            for m in pattern.finditer(text):
                name = without_company_form(m.group(1))
                if len(name) >= _LEAST_NAME and 1 <= len(name.split()) <= _LETTERHEAD_WORDS and not _is_common(name):
                    return readable_maker(name)
    return None


def _letterhead(texts: HeadTexts) -> str | None:
    """A part of a line of the head or foot that ends in what a maker calls itself ('... Paint Works')."""
    ends = re.compile(rf"^{_NAME}\s+(?i:{_words('makers')})$")
    for part in _parts(texts):
        bare = without_sheet_words(part)
        if len(bare.split()) > _LETTERHEAD_WORDS or any(c.isdigit() for c in bare):
            continue
        if ends.match(bare) and bare.split()[-1][0].isupper() and not _is_common(bare):
            return readable_maker(bare)
    return None


def _parts(texts: HeadTexts) -> Iterator[str]:
    for text in (*texts.running, *texts.titles, *texts.opening[:6], *texts.closing):
        for part in parts_of(text):
            for piece in re.split(rf"(?i)(?<!\w)(?:{_words('generic')})(?!\w)", part):
                yield re.split(r",\s|\s+[-–]\s+", piece)[0].strip(" .,·|")


def _on_the_web(texts: HeadTexts) -> str | None:
    """The name of the head or the text that the web address is made of ('www.name-coatings.com')."""
    address = re.compile(r"(?:www\.|https?://(?:www\.)?|@)([a-z0-9-]{3,40})\.[a-z]{2,}")
    for text in (*texts.running, *texts.closing, *texts.opening):
        for m in address.finditer(fold(text)):
            squashed = m.group(1).replace("-", "")
            for part in _parts(texts):
                bare = without_company_form(without_sheet_words(part))
                if bare[:1].isalnum() and _squashed(bare) == squashed and not _is_common(bare):
                    return readable_maker(bare)
    return None


def _before_the_name(texts: HeadTexts) -> str | None:
    """A logo that stands alone at the head and again as the first word of the product's name."""
    parts = [part.strip(" .,·|") for text in (*texts.titles, *texts.first_lines[:4]) for part in parts_of(text)]
    for logo in parts:
        if len(logo) < _LEAST_NAME or any(c.isdigit() for c in logo) or len(logo.split()) > 2 or _is_common(logo):
            continue
        if sense_of_text(logo):
            continue
        if any(fold(part).startswith(fold(logo) + " ") for part in parts):
            return readable_maker(logo)
    return None


def _in_capitals(texts: HeadTexts) -> str | None:
    """A line in capitals at the very head that is no title, no word of the trade and no kind of sheet: the logo."""
    titles = {fold(t) for t in texts.titles}
    for text in (*texts.running[:2], *texts.opening[:3]):
        head = parts_of(text)[0].strip(" .,·|") if parts_of(text) else ""
        words = head.split()
        if not 1 <= len(words) <= _LETTERHEAD_WORDS or fold(head) in titles or any(c.isdigit() for c in head):
            continue
        plain = without_sheet_words(head)
        if sense_of_text(head):
            continue
        if fold(plain) != fold(head) or not head.isupper() or len(head) < 5:
            continue
        telling = [w for w in fold(head).split() if w not in header_words()["words"]["descriptive"]]
        if telling and not any(fold(head) in t for t in titles):
            return readable_maker(head)
    return None
