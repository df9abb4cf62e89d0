"""What a sheet says of itself: maker, product, code, kind, date, revision, and the product's names."""

from __future__ import annotations

import re
from pathlib import PurePath

from extract.claims import SheetHeader
from extract.dates import find_dates, header_words, issue_date, revision
from extract.document import Document, fold
from extract.head_kind import kind_of
from extract.head_texts import HeadTexts, parts_of, texts_of
from extract.names import readable
from extract.terms import SubjectNames, Vocabulary


def read_header(
    document: Document, file_name: str, sha256: str, pages: int, vocabulary: Vocabulary
) -> tuple[SheetHeader, SubjectNames]:
    """The header of a sheet of one product, and the names by which the sheet calls it."""
    texts = texts_of(document)
    maker = _maker(texts)
    product = _product(texts, maker, file_name)
    code = _code(texts, product)
    kind = kind_of(texts, product, vocabulary)
    heads = [fold(t) for t in (*texts.running, *texts.titles, *texts.opening)]
    american = _is_american(fold(texts.body))
    header = SheetHeader(
        file=file_name,
        sha256=sha256,
        pages=pages,
        maker=maker,
        product=product,
        code=code,
        kind=kind,
        issued=issue_date(heads, month_first=american),
        revision=revision(heads),
        language=document.language,
        scanned=document.scanned,
    )
    return header, SubjectNames(name=product or "", aliases=_aliases(texts, product, kind), kind=kind, code=code)


# --- maker -----------------------------------------------------------------------------------------------------


def _company() -> re.Pattern[str]:
    forms = sorted(header_words()["words"]["companies"], key=len, reverse=True)
    return re.compile(r"(?:,?\s+(?:" + "|".join(re.escape(f) for f in forms) + r")\.?)+$", re.IGNORECASE)


_NAME_BEFORE_FORM = r"((?:[A-ZÀ-Þ][\w'’&.-]*|&|and|of|de|und|et)(?:\s+(?:[A-ZÀ-Þ][\w'’&.-]*|&|and|of|de|und|et)){0,5})"


def without_company_form(name: str) -> str:
    """'Merrow & Stane Ltd' -> 'Merrow & Stane'."""
    bare = _company().sub("", name.strip(" ,.·|-")).strip(" ,.·|-")
    return bare or name.strip()


def _maker(texts: HeadTexts) -> str | None:
    imprint = _imprint(texts)
    author = texts.metadata.get("author", "").strip()
    logo = _logo(texts, imprint or author)
    if logo:
        return logo
    if imprint:
        return imprint
    if author and not re.search(r"@|\\|user|admin|unknown|anonymous|microsoft|^\w+$", author, re.IGNORECASE):
        return without_company_form(author)
    if author and fold(without_company_form(author)) in fold(" ".join((*texts.running, *texts.titles, texts.body))):
        return without_company_form(author)
    return _letterhead(texts)


_LETTERHEAD_WORDS = 6


def _letterhead(texts: HeadTexts) -> str | None:
    """A line in capitals at the very head that is no title, no word of the trade and no kind of sheet: the logo."""
    titles = {fold(t) for t in texts.titles}
    for text in (*texts.running[:2], *texts.opening[:3]):
        head = parts_of(text)[0].strip(" .,·|") if parts_of(text) else ""
        words = head.split()
        if not 1 <= len(words) <= _LETTERHEAD_WORDS or fold(head) in titles or any(c.isdigit() for c in head):
            continue
        plain = _stripped(head)
        if fold(plain) != fold(head) or not head.isupper() or len(head) < 5:
            continue
        telling = [w for w in fold(head).split() if w not in header_words()["words"]["descriptive"]]
        if telling and not any(fold(head) in t for t in titles):
            return readable(head)
    return None


def _imprint(texts: HeadTexts) -> str | None:
    """The company named with its legal form in a running line or at the end, as in an address."""
    forms = sorted(header_words()["words"]["companies"], key=len, reverse=True)
    pattern = re.compile(
        _NAME_BEFORE_FORM + r",?\s+(?:" + "|".join(re.escape(f) for f in forms) + r")\b\.?", re.IGNORECASE
    )
    strict = re.compile(_NAME_BEFORE_FORM + r",?\s+(?i:" + "|".join(re.escape(f) for f in forms) + r")(?![\w])\.?")
    for text in (*texts.running, *texts.opening, *texts.closing):
        m = next((m for m in strict.finditer(text) if not _PLAIN_WORD.search(m.group())), None)
        if m and pattern.search(text):
            name = without_company_form(m.group(1))
            if len(name) > 2 and fold(name) not in header_words()["words"]["generic"]:
                return name
    return None


_PLAIN_WORD = re.compile(r"\s(?:as|co|sa|ag|kg|ab|spa|sl|company|limited|inc)$")
"""Forms of companies that are words too: in small letters they are words."""


def _logo(texts: HeadTexts, known: str) -> str | None:
    """The name as printed at the head, where it is the imprint's or the author's, or a part of it."""
    if not known:
        return None
    target = re.sub(r"[^a-z0-9]", "", fold(without_company_form(known)))
    best = ""
    for text in (*texts.running, *texts.titles, *texts.opening[:4]):
        head = re.split(r"\s{2,}|\s[|·]\s", text)[0]
        words = head.split()
        for n in range(min(len(words), 6), 0, -1):
            name = " ".join(words[:n]).strip(" ,·|")
            squashed = re.sub(r"[^a-z0-9]", "", fold(name))
            if len(squashed) < 4 or not target.startswith(squashed):
                continue
            # 'Hollin' of a title 'Hollin Primax 55' is a part of the name: a line that is the name goes before it.
            if n == len(words):
                return _written(name, known)
            if len(squashed) > len(re.sub(r"[^a-z0-9]", "", fold(best))):
                best = name
            break
    return _written(best, known) if best else None


def _written(best: str, known: str) -> str:
    """A name of the head in the capitals and small letters of the imprint or the author."""
    if not best.isupper():
        return best
    # A logo in capitals says nothing of the name's own capitals; the imprint does.
    written = " ".join(without_company_form(known).split()[: len(best.split())])
    same = re.sub(r"[^a-z0-9]", "", fold(written)) == re.sub(r"[^a-z0-9]", "", fold(best))
    return written if same and not written.isupper() else readable(best)


# --- product ------------------------------------------------------------------------------------------------------


_NO_TITLE = (
    r"\.(?:docx?|indd|pdf|odt|qxd|xlsx?|html?|svg|tex|typ|pages|fodt|rtf|txt|cdr|ai|pub)\b"
    r"|^untitled|^microsoft|^document\s?\d*$|^\W*$"
)
"""What a program writes into a PDF's title when nobody has given it one."""


def _product(texts: HeadTexts, maker: str | None, file_name: str) -> str | None:
    candidates: dict[str, float] = {}
    title = _stripped(texts.metadata.get("title", ""))
    for rank, text in enumerate(texts.titles):
        for part in parts_of(text):
            name = _stripped(part)
            if name:
                candidates.setdefault(name, 6.0 - 1.5 * min(rank, 3))
    if title and not re.search(_NO_TITLE, title, re.IGNORECASE):
        candidates.setdefault(title, 4.0)
    for text in (*texts.running, *texts.opening[:3]):
        for part in parts_of(text):
            name = _stripped(part)
            if name and len(name.split()) <= 5:
                candidates.setdefault(name, 1.0)
    scored = [
        (score + _merit(name, texts, maker, title, file_name), -i, name)
        for i, (name, score) in enumerate(candidates.items())
    ]
    if not scored:
        return _from_file_name(file_name)
    if (shared := _shared_name(texts)) is not None:
        return readable(shared)
    score, _, best = max(scored)
    return readable(best) if score > 0 else _from_file_name(file_name)


def _descriptive() -> set[str]:
    """Words that say what sort of paint it is, and name none."""
    return set(header_words()["words"]["descriptive"]) - {"the", "a", "for", "and", "of", "in", "/", "&", "product"}


def _shared_name(texts: HeadTexts) -> str | None:
    """The name that two products in one title share ('FASTFILL GLASS · FASTFILL ALU')."""
    variants = _variants(texts)
    if not variants:
        return None
    words = [v.split() for v in variants]
    shared = [w[0] for w in zip(*words, strict=False) if len({fold(x) for x in w}) == 1]
    return " ".join(shared) or None


def _variants(texts: HeadTexts) -> list[str]:
    """The products that one title names by a name that they share; none where it names one product."""
    for title in texts.titles:
        parts = [re.sub(r"\([^)]*\)", "", p).split() for p in re.split(r"\s+[|·•/&+–—]\s+|,\s+|\sand\s", title)]
        named = [p for p in parts if 2 <= len(p) <= 4]
        first = {fold(p[0]) for p in named}
        whole = {fold(" ".join(p)) for p in named}
        if len(parts) == len(named) == len(whole) >= 2 and len(first) == 1 and not first & _descriptive():
            return [" ".join(p) for p in named]
    return []


def _stripped(text: str) -> str:
    """The text without the words for 'data sheet', marks and numbers of the sheet."""
    out = " ".join(text.replace("®", "").replace("™", "").split())
    out = _unspaced(out)
    for generic in sorted(header_words()["words"]["generic"], key=len, reverse=True):
        out = re.sub(rf"(?i)(?<!\w){re.escape(generic)}(?!\w)(?:\s*(?:no|nr)\.?\s*\d+)?", " ", out)
    return " ".join(out.split()).strip(" -–—:·|,./")


def _unspaced(text: str) -> str:
    """Letter-spaced words closed up: 'G N E I S  2 2' -> 'GNEIS 22'."""
    return re.sub(r"(?<!\S)(?:\S ){3,}\S(?!\S)", lambda m: m.group().replace(" ", ""), text)


def _merit(name: str, texts: HeadTexts, maker: str | None, title: str, file_name: str) -> float:
    folded = fold(name)
    words = folded.split()
    merit = 0.0
    body = fold(texts.body)
    times = len(re.findall(rf"(?<!\w){re.escape(folded)}(?!\w)", body))
    first = len(re.findall(rf"(?<!\w){re.escape(words[0])}(?!\w)", body)) if words else 0
    merit += min(times, 6) * 1.2 + min(first, 4) * 0.3
    if title and (folded in fold(title) or fold(title) in folded):
        merit += 3.0
    squashed, stem = re.sub(r"[^a-z0-9]", "", folded), re.sub(r"[^a-z0-9]", "", fold(PurePath(file_name).stem))
    if len(squashed) > 3 and (squashed in stem or stem in squashed):
        merit += 2.5
    if any(c.isdigit() for c in folded):
        merit += 1.0
    if maker and (folded in fold(maker) or (fold(maker) == words[0] and set(words[1:]) <= _descriptive())):
        merit -= 8.0
    if len(words) > 6 or re.search(r"[.!?]$|[;:,]", name):
        merit -= 5.0
    if _company().search(name) or re.search(r"@|www\.|\btel\b|page \d|\d/\d|\b(?:rev|issue|date)\b", folded):
        merit -= 8.0
    if not re.search(r"[a-z]", folded) or len(folded) < 3 or len(folded) > 60:
        merit -= 8.0
    if words and set(words) <= set(header_words()["words"]["descriptive"]):
        merit -= 6.0
    return merit


def _from_file_name(file_name: str) -> str | None:
    stem = re.sub(r"[_]+", " ", PurePath(file_name).stem)
    name = _stripped(stem)
    return name or None


def _aliases(texts: HeadTexts, product: str | None, kind: str | None) -> tuple[str, ...]:
    if not product:
        return ()
    out: dict[str, None] = {}
    for variant in _variants(texts):
        rest = variant.split()[len((_shared_name(texts) or "").split()) :]
        out.update(dict.fromkeys((variant, *([" ".join(rest)] if len(" ".join(rest)) > 2 else []))))
    code = re.match(r"([A-Z]{1,5}-?\d{2,4}[A-Z]{0,2})\b\s*(.*)", product)
    if code and code.group(2):
        out.update(dict.fromkeys((code.group(1), code.group(2))))
    words = product.split()
    body = fold(texts.body)
    maker = fold(_maker(texts) or "").split()
    if len(words) > 1 and maker and fold(words[0]) == maker[0] and len(words[1]) > 2:
        out[" ".join(words[1:])] = None  # 'Hollin Primax 55' is 'Primax 55' in the text
        words = words[1:]
    if len(words) > 1 and len(words[0]) > 3 and re.search(rf"(?<!\w){re.escape(fold(words[0]))}(?!\w)", body):
        out[words[0]] = None
    return tuple(name for name in out if name != product)


# --- code -----------------------------------------------------------------------------------------------------------


def _code(texts: HeadTexts, product: str | None) -> str | None:
    labels = sorted(header_words()["words"]["codes"], key=len, reverse=True)
    labelled = re.compile(
        r"(?<![\w.])(?i:"
        + "|".join(re.escape(w) for w in labels)
        + r")\.?\s*[:#]?\s*([A-Z0-9][A-Za-z0-9]*(?:[./-][A-Za-z0-9]+)*)"
    )
    for text in (*texts.running, *texts.titles, *texts.opening, *texts.closing):
        for m in labelled.finditer(text):
            number = m.group(1)
            if re.match(r"\s*(?:series|range|xx)\b", text[m.end() :]) or find_date_in(number):
                continue
            if any(c.isdigit() for c in number) and len(number) >= 3:
                return number
    for text in texts.running:
        parts = [p.strip() for p in re.split(r"\s*[·|•–—]\s*", text)]
        beside = [p for p in parts if re.fullmatch(r"[A-Z]{1,4}[ -]?\d{2,6}[A-Z]{0,2}", p)]
        if beside and product and any(fold(product) == fold(p) for p in parts):
            return beside[0]
    in_name = re.search(r"\b(?:[A-Z]{1,5}-\d{2,5}|[A-Z]{2,3} \d{3,5})[A-Z]{0,2}\b", product or "")
    if in_name is not None and _is_named_besides(product or "", in_name.group(), texts):
        return in_name.group()
    return _beside_thekind_of(texts, product) or _numbered(texts, product)


def find_date_in(text: str) -> bool:
    """Whether a number is a date."""
    return any(d.full for d in find_dates(fold(text)))


def _is_named_besides(product: str, code: str, texts: HeadTexts) -> bool:
    """Whether the product has a name beside the code ('CM-300 Bedrock'); a code alone is its name."""
    titles = [t for t in texts.titles if code in t]
    rest = " ".join((product, *titles)).replace(code, " ").split()
    imprint = fold(" ".join((*texts.running, *texts.opening[:2], *texts.closing)))
    own = [w for w in rest if not any(c.isdigit() for c in w) and len(w) > 2]
    maker = _maker(texts)
    return any(fold(w) not in fold(maker or "") for w in own) and bool(imprint or own)


def _beside_thekind_of(texts: HeadTexts, product: str | None) -> str | None:
    """A code in the line of the head that says what the product is ('Epoxy primer  B-650  Revised: ...')."""
    for text in (*texts.running, *texts.opening[:3]):
        if not _descriptive() & set(re.findall(r"[\w-]+", fold(text))):
            continue
        for m in re.finditer(r"(?<![\w./-])([A-Z]{1,4}-\d{2,5}[A-Z]{0,2})(?![\w/-]|\.\d)", text):
            before = fold(text[: m.start()])
            stands_alone = re.search(r"(?:sheet|issue|rev|no|nr|page|tel|form|kt|tds|pds)\W*$", before) is None
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


def _is_american(body: str) -> bool:
    """Whether the sheet measures the American way, which decides '03/04/2024'."""
    us = len(re.findall(r"°\s?f\b|\bpsi\b|\bmils?\b|\bgal(?:lon)?s?\b|\bcolor\b|\bu\.?s\.?a?\b", body))
    metric = len(re.findall(r"°\s?c\b|\bbar\b|\bµm\b|\blitres?\b|\bcolour\b", body))
    return us > metric
