"""What a sheet calls its product, and the shorter names that its text may use for it."""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import cache, lru_cache
from pathlib import PurePath

from extract.dates import find_dates, header_words
from extract.document import fold
from extract.head_maker import company_form
from extract.head_texts import HeadTexts, is_label, parts_of, places_of, times_standing, without_sheet_words
from extract.names import readable
from extract.sections import sense_of_text

_NO_TITLE = (
    r"\.(?:docx?|indd|pdf|odt|qxd|xlsx?|html?|svg|tex|typ|pages|fodt|rtf|txt|cdr|ai|pub)\b"
    r"|^\(?(?:untitled|anonymous|unspecified|unnamed|none)|^microsoft|^document\s?\d*$|^\W*$"
)
"""What a program writes into a PDF's title when nobody has given it one."""

_SHEET_NUMBER = re.compile(r"[A-Za-z]{1,4}[- ]?\d{1,4}[A-Za-z]?")
_MOST_WORDS = 7
_LONG = 6
"""Words of a title that are seldom one name."""
_COMPANY = re.compile(r"(?i:\b(?:gmbh|ltd|limited|inc|llc|s\.?r\.?l|s\.?p\.?a|b\.?v|n\.v|a/s|sp\. z o\.o|pty|plc)\b)")
_CODED = re.compile(
    r"(?i),?\s*\(?(?:art|item|code|ref|index|kod)\b\.?(?:[ -]?(?:no|nr)\b)?\.?[: ]*[\w.-]*\d[\w.-]*\)?$"
)
"""The code with its label behind a name."""
_LARGE = 0.7
"""Times the largest type: a line that is smaller is no title, whatever the text around it."""
_SMALL_TITLE = 3
"""From which rank on a title counts least."""
_SHORT_LINE = 2
"""Words."""
_TAIL = re.compile(r"^([^,]+), [a-z-]+(?: [a-z-]+)?$")
"""'Wax NT, transparent': what stands behind a comma in small letters is no part of the name."""
_HEAD_LINES = 6
"""Printed lines of a head at most."""
_FIRST_LINES = 5
"""Printed lines among which a heading may be the name."""
_BRACKETED = re.compile(r"\s*\(([A-Z]{0,4}[ -]?\d{2,6}[A-Z]?)\)$")


def product_of(texts: HeadTexts, maker: str | None, file_name: str) -> str | None:
    """The product's name; the file's where the sheet has none."""
    labelled = _labelled(texts)
    if labelled is not None:
        return _as_in_text(labelled, texts)
    candidates: dict[str, float] = {}
    title = without_sheet_words(texts.metadata.get("title", ""))
    largest = max(texts.title_sizes, default=0.0)
    for place, text in enumerate(texts.titles):
        large = not texts.title_sizes or texts.title_sizes[place] >= _LARGE * largest
        rank = place if large else _SMALL_TITLE
        for part in parts_of(text):
            name = _bare(part, maker)
            if name:
                candidates.setdefault(name, 6.0 - 1.5 * min(rank, _SMALL_TITLE))
    if title and not re.search(_NO_TITLE, title, re.IGNORECASE):
        # A file's title that is a number alone ('TD-55') is the sheet's, unless the head prints it as a name.
        numbered = _SHEET_NUMBER.fullmatch(title) is not None and _bare(title, maker) not in candidates
        candidates.setdefault(_bare(title, maker), -4.0 if numbered else 4.0)
    below = {*texts.first_lines} - {*texts.head_lines[:_HEAD_LINES]}
    opening = [t for t in texts.opening[:8] if t not in below]  # what stands in a table's cells is no name
    for text in (*texts.running, *opening, *texts.head_lines[:3]):
        before = "name"
        parts = parts_of(text)
        for n, part in enumerate(parts):
            if _COMPANY.search(part):
                break  # what follows the imprint is its address
            name = _bare(part, maker)
            if n + 1 < len(parts) and _SHEET_NUMBER.fullmatch(name) and _follows_sheet_words(part, name):
                before = part
                continue  # 'Leaflet TL 7 – Rustbar': the sheet's number goes before the name
            said = part.rstrip().endswith(".") and len(name.split()) > 2
            if name and len(name.split()) <= 5 and not said:
                told = _follows_sheet_words(part, name) or not without_sheet_words(before)
                candidates[name] = max(candidates.get(name, 0.0), 2.5 if told else 1.0)
            before = part
    titled = [f" {fold(bare)} " for t in texts.titles if (bare := without_sheet_words(t))]
    for name in _subjects(texts):
        known = any(f" {fold(name)} " in t or fold(name).endswith(t.rstrip()) for t in titled)
        if not known and " product " not in name:
            candidates.setdefault(name, 3.5)
    for text in texts.stacked:
        name = _bare(text, maker)
        if name and _is_one_name(text, name, texts):
            candidates[name] = 6.5
    candidates = _without_the_logo(candidates, texts, maker)
    scored = [
        (score + _merit(name, texts, maker, title, file_name), -i, name)
        for i, (name, score) in enumerate(candidates.items())
        if name
    ]
    if not scored:
        return _from_file_name(file_name)
    if (shared := shared_name(texts)) is not None:
        return readable(shared)
    score, _, best = max(scored)
    joined = [name for text in texts.stacked if _is_one_name(text, name := _bare(text, maker), texts)]
    best = _whole(best, [*joined, *(_bare(part, maker) for text in texts.titles for part in parts_of(text))])
    best = _without_kind(best, texts)
    return _as_in_text(best, texts) if score > 0 else _from_file_name(file_name)


def _subjects(texts: HeadTexts) -> Iterator[str]:
    """What the first sentences say to be something: 'Wax NT is a ...'."""
    for sentence in texts.body.split("\n")[:_FIRST_SENTENCES]:
        m = _NAMED.match(sentence)
        words = m.group(1).split() if m and not _ACCESSORY.match(sentence[m.end() :]) else []
        if words and len(words) <= _MOST_WORDS and set(fold(" ".join(words)).split()) - descriptive():
            yield " ".join(words)


def _is_one_name(text: str, name: str, texts: HeadTexts) -> bool:
    """Whether two lines of a title are one name: the text calls the product so, or the second is a word or two."""
    if re.search(rf"(?<!\w){re.escape(fold(name))}(?!\w)", fold("\n".join((texts.body, *texts.running)))):
        return True
    second = next((t for t in texts.titles if text.endswith(" " + t)), "")
    return 1 <= len(second.split()) <= _SHORT_LINE and not set(re.split(r"[\s/-]", fold(second))) & descriptive()


def _without_kind(best: str, texts: HeadTexts) -> str:
    """A numbered name without the kind behind it, where the text calls the product so and never by both."""
    words = best.split()
    count = len(words)
    while count > 1 and set(re.split(r"[-/]", fold(words[count - 1]))) <= {*descriptive(), "self", "etching"}:
        count -= 1
    short = " ".join(words[:count])
    said = fold("\n".join((texts.body, *texts.running)))
    alone = re.findall(rf"(?<!\w){re.escape(fold(short))}(?!\w)", said)
    named = count < len(words) and any(c.isdigit() for c in short) and re.search(r"[^\W\d]{4}", short)
    return short if named and alone and fold(best) not in fold(texts.body) else best


def _whole(best: str, names: list[str]) -> str:
    """The longer name of the head that begins with the best one ('Keybite Etch' for 'Keybite')."""
    for name in names:
        more = fold(name)[len(best) :].split() if fold(name).startswith(fold(best) + " ") else []
        if len(more) == 1 or (len(more) == 2 and not set(more) & descriptive()):
            return name
    return best


def _follows_sheet_words(part: str, name: str) -> bool:
    """'Technical data sheet FOG 45': what is left after the words for a sheet is its product."""
    return len(name) < len(part.strip()) and fold(part.strip(" -–—:·|,./")).endswith(fold(name))


@lru_cache(maxsize=2048)
def _bare(text: str, maker: str | None) -> str:
    """A candidate without the words for a sheet, the code in brackets, and the maker's own name before it."""
    text = re.sub(r"^(?:All )?(?:[Aa]bout|ABOUT|Introducing)\s+", "", text)
    name = _TAIL.sub(r"\1", _BRACKETED.sub("", _CODED.sub("", without_sheet_words(text)))).lstrip("#")
    words = name.split()
    owner = fold(maker or "").split()
    possessive = bool(words) and re.search(r"['’]s?$", words[0]) is not None
    count = 1 if possessive else len(owner)
    first, rest = " ".join(words[:count]), " ".join(words[count:])
    # 'KELDRIN Ferrolock 5' is a logo before a name, 'Keldrin Ferrolock 5' a name.
    apart = possessive or (first.isupper() and len(first) > 3 and any(c.islower() for c in rest))
    named = bool(owner) and fold(re.sub(r"['’]s?$", "", first)).split() == owner[:count]
    return rest.lstrip("#") if rest and apart and named else name


def _labelled(texts: HeadTexts) -> str | None:
    """The name after 'Product name:'."""
    labels = "|".join(re.escape(w) for w in sorted(header_words()["words"]["product_labels"], key=len, reverse=True))
    pattern = re.compile(
        rf"(?<!\w)(?i:{labels})\s*:\s*([A-ZÀ-Þ0-9](?:[^:;|]|(?<=\d):(?=\d))*?)\s*(?=$|[;|]|\s{{2,}}|\s[-–—·]\s)"
    )
    for text in (*texts.facts, *texts.running, *texts.titles, *texts.opening[:10]):
        m = pattern.match(text.strip())
        if m is None or len(m.group(1).split()) > _MOST_WORDS or m.group(1).endswith("."):
            continue
        name = _BRACKETED.sub("", m.group(1))
        if not set(fold(name).split()) <= set(header_words()["words"]["descriptive"]):
            return name
    return None


@cache
def descriptive() -> frozenset[str]:
    """Words that say what sort of paint it is, and name none."""
    return frozenset(header_words()["words"]["descriptive"]) - {
        "the",
        "a",
        "for",
        "and",
        "of",
        "in",
        "/",
        "&",
        "product",
    }


def shared_name(texts: HeadTexts) -> str | None:
    """The name that two products in one title share ('FASTFILL GLASS · FASTFILL ALU')."""
    variants = _variants(texts)
    if not variants:
        return None
    words = [v.split() for v in variants]
    shared = [w[0] for w in zip(*words, strict=False) if len({fold(x) for x in w}) == 1]
    return " ".join(shared) or None


def _variants(texts: HeadTexts) -> list[str]:
    """The products of the first title that names several."""
    return next((names for title in texts.titles if (names := variants_of(title))), [])


_IN_BRACKETS = re.compile(r"\([^)]*\)")
_NEXT_NAME = re.compile(r"\s+[|·•/&+–—]\s+|,\s+|\sand\s")


def variants_of(title: str) -> list[str]:
    """The products that a title names by a first word that they share; none where it names one product."""
    parts = [_IN_BRACKETS.sub("", p).split() for p in _NEXT_NAME.split(title)]
    if parts and len(parts[0]) == 2:
        # 'KORVO 10 / 20': the root carries over.
        parts = [[parts[0][0], *p] if len(p) == 1 and p[0].isdigit() and parts[0][1].isdigit() else p for p in parts]
    named = [p for p in parts if 2 <= len(p) <= 4]
    first = {fold(p[0]) for p in named}
    whole = {fold(" ".join(p)) for p in named}
    if len(parts) == len(named) == len(whole) >= 2 and len(first) == 1 and not first & descriptive():
        return [" ".join(p) for p in named]
    return []


def _merit(name: str, texts: HeadTexts, maker: str | None, title: str, file_name: str) -> float:
    folded = fold(name)
    words = folded.split()
    merit = 0.0
    body, opened = _said(texts.body)
    times = times_standing(folded, body)
    first = times_standing(words[0], body) if words else 0
    merit += min(times, 6) * 1.2 + min(first, 4) * 0.3
    if any(_opens_sentence(body, at) and _IS.match(body, at + len(folded)) for at in places_of(folded, body)):
        merit += 2.0
    if title and (folded in fold(title) or fold(title) in folded):
        merit += 3.0
    squashed, stem = re.sub(r"[^a-z0-9]", "", folded), re.sub(r"[^a-z0-9]", "", fold(PurePath(file_name).stem))
    if len(squashed) > 3 and (squashed in stem or stem in squashed):
        merit += 2.5
    if any(c.isdigit() for c in folded):
        merit += 1.0
    if any(folded.startswith(subject + " ") and len(subject) > _LEAST_SUBJECT for subject in opened):
        merit += 1.5
    if folded in texts.headings and not _is_headline(name, texts):
        merit -= 6.0
    if maker and _is_maker(folded, words, fold(maker)):
        merit -= 8.0
    if len(words) > _LONG or re.search(r"[.?]$|\s.*!$|[;:,]$|[;,]", name):
        merit -= 5.0
    if re.search(r"[.!?]\s", name):
        merit -= 5.0
    if folded in header_words()["words"]["surfaces"] or is_label(name) or _INSTRUCTION.match(name):
        merit -= 8.0
    owner = fold(maker or "")
    if owner and re.match(rf"{re.escape(owner)} \w{{2}}", folded) and not _is_maker(folded, words, owner):
        merit += 2.0
    if any(date.full for date in find_dates(folded)):
        merit -= 8.0
    # 'RUBBEX AG may be overpainted': what the text does things with is no company, where the maker is another.
    spoken = times >= _SPOKEN_OF and bool(maker) and words[0] not in fold(maker or "")
    if (company_form().search(name) and not spoken) or _NO_NAME.search(folded):
        merit -= 8.0
    if not re.search(r"[a-z]", folded) or len(folded) < 3 or len(folded) > 60:
        merit -= 8.0
    if words and set(words) <= set(header_words()["words"]["descriptive"]):
        merit -= 6.0
    return merit


@lru_cache(maxsize=4)
def _said(body: str) -> tuple[str, tuple[str, ...]]:
    """The text folded, and what its sentences say to be something."""
    folded = "\n".join(fold(line) for line in body.split("\n"))
    return folded, tuple(m.group(1) for m in _SUBJECT.finditer(folded))


def _opens_sentence(body: str, at: int) -> bool:
    before = body[:at].rstrip()
    return at == 0 or before.endswith(".") or "\n" in body[len(before) : at]


_IS = re.compile(r"[®™]?\s+(?:is|are)\s")
_NAMED = re.compile(
    r"((?!(?:The|This|These|It|Our|An?|All|Each|There|What|Which|Description|Product)\b)[A-Z0-9][^.:;,\n]{2,40}?)[®™]?\s+"
    r"(?:is|are)\s+(?:an?|the|our)\s"
)
_ACCESSORY = re.compile(r"(?:[\w-]+ ){0,3}?(?:cleaner|thinner|hardener|degreaser|reducer|activator|remover|wipe)\b")
"""What goes with the product: 'KP 2 is a cleaner'."""
_FIRST_SENTENCES = 12
_NO_NAME = re.compile(
    r"@|www\.|\d{4,5} \d{3}"
    r"|\b(?:department|service|hotline|help\s?line)\b|\b(?:is|are) (?:an?|the)\b|\btel\b|page \d|\d/\d|^\d+$|:\s"
    r"|\b(?:rev|issue|date|doc|no|nr|version|since|seit|depuis|founded)\b(?!\. \d{1,3} [a-z])"
)
"""What stands beside names: pages, dates, addresses, labels; 'No. 7 Red Oxide' is a name."""
_INSTRUCTION = re.compile(
    r"[a-z]+ (?:.*\b)?P\d{2,4}\b"
    r"|(?i:degrease|sand|abrade|clean|wipe|blast|wash|scuff|remove)\b (?:with|down|off|to|lightly|P\d)"
)
"""'sand P320', 'Degrease with KP 2'"""
_SUBJECT = re.compile(r"(?:^|[.\n]\s*)([^.\n]{2,40}?)[®™]?\s+(?:is|are)\s+(?:an?|the|our)\s")
"""What a sentence says to be something ('Wax NT is a ...')."""
_LEAST_SUBJECT = 3
_SPOKEN_OF = 2
"""Times."""
_LONG_HEADLINE = 4
"""Words: 'Surface preparation' heads a section, 'Marlan Surface Primer SP 1K' is a name."""


def _is_headline(name: str, texts: HeadTexts) -> bool:
    """Whether a heading is a title, or stands in the first lines and is the subject of no section."""
    if any(fold(name) == fold(t) for t in texts.titles):
        return True
    first = {fold(_bare(part, None)) for line in texts.first_lines[:_FIRST_LINES] for part in parts_of(line)}
    return fold(name) in first and (len(name.split()) >= _LONG_HEADLINE or not sense_of_text(name))


def _without_the_logo(candidates: dict[str, float], texts: HeadTexts, maker: str | None) -> dict[str, float]:
    """Without the maker's own name where the head has another title: a logo in big type is no product."""
    if not maker:
        return candidates
    owner = fold(maker)
    others = [name for name in candidates if not _is_maker(fold(name), fold(name).split(), owner)]
    titled = {fold(_bare(part, maker)) for text in texts.titles for part in parts_of(text)}
    named = [name for name in others if fold(name) in titled and not set(fold(name).split()) <= descriptive()]
    return {name: candidates[name] for name in others} if named else candidates


def _is_maker(folded: str, words: list[str], maker: str) -> bool:
    rest = set(words[1:])
    return folded in maker or (maker in folded and len(words) - len(maker.split()) < 1) or (
        words[:1] == maker.split()[:1] and rest <= set(header_words()["words"]["makers"])
    )  # fmt: skip


def _as_in_text(name: str, texts: HeadTexts) -> str:
    """The name as the text writes it where the title has it in capitals ('SEAMSPARK', the text's 'SeamSpark')."""
    written = [readable(w) for w in name.split()]
    for i, word in enumerate(name.split()):
        if not (word.isupper() and word.replace("-", "").isalpha() and len(word) > 3):
            continue
        spelt = [m.group() for m in re.finditer(rf"(?<!\w){re.escape(word)}(?!\w)", texts.body, re.IGNORECASE)]
        mixed = [s for s in spelt if not s.isupper() and not s.islower()]
        if mixed:
            written[i] = max(dict.fromkeys(mixed), key=mixed.count)
        elif fold(word) in descriptive():
            written[i] = word.title()
    return " ".join(written)


def _from_file_name(file_name: str) -> str | None:
    stem = re.sub(r"[_]+", " ", PurePath(file_name).stem)
    return without_sheet_words(stem) or None


def aliases_of(texts: HeadTexts, product: str | None, maker: str | None, beside: str = "") -> tuple[str, ...]:
    """The shorter and other names by which the text may call the product; beside is its name among several."""
    if not product:
        return ()
    out: dict[str, None] = {}
    for variant in [v for v in _variants(texts) if not beside or fold(v) == fold(beside)]:
        rest = variant.split()[len((shared_name(texts) or "").split()) :]
        out.update(dict.fromkeys((variant, *([" ".join(rest)] if len(" ".join(rest)) > 2 else []))))
    code = re.match(r"([A-Z]{1,5}-?\d{2,4}[A-Z]{0,2})\b\s*(.*)", product)
    if code and code.group(2):
        out.update(dict.fromkeys((code.group(1), code.group(2))))
    words = product.split()
    body = fold(texts.body)
    owner = fold(maker or "").split()
    if len(words) > 1 and owner and fold(words[0]) == owner[0] and len(words[1]) > 2:
        out[" ".join(words[1:])] = None  # 'Hollin Primax 55' is 'Primax 55' in the text
        words = words[1:]
    spoken = len(words[0]) > 3 and re.search(rf"(?<!\w){re.escape(fold(words[0]))}(?!\w)", body) is not None
    if not beside and len(words) > 1 and spoken:
        out[words[0]] = None
    return tuple(name for name in out if name != product)
