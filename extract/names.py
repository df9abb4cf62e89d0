"""The names of products on a sheet: its own in all its forms, and the others that it speaks of.

A name is recognised by its print (a code, a capitalised word with a number or short capitals after it) and then
known on the whole sheet, in its short forms too.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Set
from dataclasses import dataclass

from extract.document import Document, Statement, fold


@dataclass(frozen=True, slots=True)
class SubjectNames:
    """What the sheet's own product is called. kind is a vocabulary id or None where the sheet does not say."""

    name: str
    aliases: tuple[str, ...] = ()
    kind: str | None = None
    code: str | None = None
    root: str = ""
    """A first word that other products of the sheet share: no name by itself."""


# Capitalised words that open a phrase with a number but name no coating are data: [names] in terms.toml.

_TAIL = r"(?![12]K\b)(?:\d{1,4}(?!\.\d)[A-Z]{0,2}(?:-[A-Z]{1,2})?|[A-Z]{1,3}\d{0,3}|\d{1,2}[A-Z]{1,2})"
_CODE = re.compile(r"\b[A-Z]{1,5}-\d{1,4}[A-Z]{0,2}\b(?: [A-Z][a-z]*[A-Za-z]+(?=[\s,.;:)®]|$)){0,2}")
_NUMBERED = re.compile(
    r"\b[A-Z][A-Za-zÀ-ÿ]+(?: [A-Z][A-Za-zÀ-ÿ]+){0,1}®?"
    rf"(?:[ -]{_TAIL}(?![\w²³°½%\"'/.]*[°%µ])(?![\w½])"
    r"(?! ?(?:h|hours?|hrs?|min\w*|days?|weeks?|months?|years?|coats?|layers?|grit|mils?|mm|µm|microns?|k?g|ml|l|"
    r"lit\w+|bar|psi|cm|parts?|times|per)\b))+"
    r"(?: (?:[A-Z][a-z]+)(?=[\s,.;:)]|$))?"
)
_CAPS_NUMBER = re.compile(r"(?<!Rev\. )(?<!Rev )\b[A-Z]{1,4} \d{2,4}\b(?![ ]?(?:°|%|µ)|/\d)")
_LISTED = re.compile(
    r"([A-Z][a-z]{3,}(?: [A-Z][a-z]{3,})?),? \(?"
    r"(?:within|sanded|after|cured|abraded|hard|unsanded|flatted|keyed|wet|fully)\b"
)
"""A name of plain words, told by its place at the head of a list's line: 'Keeper, within 24 hours'."""
_SPOKEN = re.compile(
    r"\b(?:our|with|over|under|onto|on|by|of|use|using|first|then|primers?|surfacers?|fillers?|lacquers?|stucco|put|apply|and|or|"
    r"coat of|via|before|after)(?:,)? ([A-Z][a-z]{4,}|[A-Z]{5,})\b(?! [A-Z][a-z])"
)
"""A word in capitals after words that go before a coat: 'use our Etchwell', 'first TREBIPLAST'."""
_PHRASED = re.compile(
    r"(?:\b(?:[Oo]ur|see|like|put|[Ww]ith|[Uu]se|using|of|on|[Oo]ver|under|onto|first|by|then|[Aa]pply|or|and) "
    r"|^(?=[A-Z]\S+ [A-Z]\S+ [A-Z][a-z]+,? [a-z]+ [a-z]))"
    r"((?:[A-Z][a-z]+(?:['\u2019]s|-[A-Z][a-z]+)? (?:& )?|[A-Z]{2,6} ){1,3}(?:Varnish|Epoxy|Black|Paint|Gloss|Urethane|"
    r"Primer|Sealer|Filler|Surfacer|Clear|Coat|Basecoat|Etch|Lacquer|Enamel|Putty|Stopper|"
    r"Promoter|Finish|Topcoat|Undercoat|Base|Glaze|Wash|Cote|Seal|Guard|Prime|Build|Shield|Colour|Color)"
    r"(?: [A-Z](?![\w-]))?)(?!\w)"
)
"""A name that ends in what the thing is: 'put Gulch Flex Primer on first'."""
_AND_OTHER = re.compile(
    r"(?:^|[;:.(] |\b(?:or|to|by|and|over|with|onto|use) )((?:[A-Z][a-z]{3,}|[A-Z]{4,})(?: [A-Z][a-z]+)?),? (?:and|or) "
    r"(?:any |all )?(?:other|another|similar|equivalent) (?=[a-z\d])"
)
"""'Hobnail Grip and other two-pack fillers': what stands beside others of a kind is one of it by name."""
_CAMEL = re.compile(r"\b[A-Z][a-z]+[A-Z][a-z]+\w*\b")
_ELLIPSIS = re.compile(
    r"(?:, ?| and | or | & |/| / )(\d{2,4}(?: [A-Z]{1,3})?)(?=[,;.)\s]|$)(?! ?(?:°|%|µ|min|h\b|hours?|days?))"
)
_ACCESSORY = re.compile(
    r"(?:thinner|hardener|activator|reducer|catalyst|diluent|additive|cleaner|panel wipe|degreaser|remover|gun wash|"
    r"wipe|cup)s?$"
)


_COATS = re.compile(
    r"(?:varnish|epoxy|black|white|grey|paint|gloss|urethane|polyurethane|primer|sealer|filler|surfacer|clear|clearcoat|"
    r"coat|basecoat|etch|lacquer|enamel|putty|stopper|promoter|finish|topcoat|undercoat|base|glaze|wash|plastic|acrylic|"
    r"polyester|zinc|alkyd|universal|direct|solvent|water|fast|slow|medium)\b"
)
"""Words that tell what a thing is, and stand on a sheet for any of its kind."""


class ProductNames:
    """Finds names in a text. own maps to None, others to their readable full name."""

    def __init__(self, own: Iterable[str], others: Iterable[str]) -> None:
        self._full: dict[str, str | None] = {}
        for name in others:
            self._full.setdefault(_key(name), readable(name))
        for name in own:
            self._full[_key(name)] = None
        self._short_others(list(self._full.items()))

        self._pattern = self._compile()

    def _short_others(self, items: list[tuple[str, str | None]]) -> None:
        """'CM-300' and 'Bedrock' for 'CM-300 Bedrock', unless two products share the short form."""
        shorts: Counter[str] = Counter()
        meant: dict[str, str | None] = {}
        for key, full in items:
            match = re.fullmatch(r"([a-z]{1,5}-\d{1,4}[a-z]{0,2}) ([a-z]{4,}.*)", key)
            for short in match.groups() if match else ():
                if _COATS.match(short):
                    continue  # 'Epoxy' is no name, though 'CP-15 Epoxy' is one
                shorts[short] += 1
                meant[short] = full
        for short, count in shorts.items():
            if count == 1 or self._full.get(short, "") is not None:
                self._full[short] = meant[short]

    def _compile(self) -> re.Pattern[str] | None:
        if not self._full:
            return None
        forms = sorted(self._full, key=len, reverse=True)
        body = "|".join(re.escape(f).replace(r"\ ", r"[ \-]?").replace(r"\-", r"[ \-]?") for f in forms)
        return re.compile(rf"(?<![\w-])(?:{body})(?:®|™)?(?!\w|-\w)", re.IGNORECASE)

    @property
    def others(self) -> tuple[str, ...]:
        return tuple(dict.fromkeys(full for full in self._full.values() if full is not None))

    def find(self, text: str) -> Iterator[tuple[int, int, str | None]]:
        """(start, end, full name or None for the sheet's own) of each name, in order."""
        if self._pattern is None:
            return
        for match in self._pattern.finditer(text):
            key = _key(match.group())
            full = self._full.get(key, self._full.get(_squash(key), ""))
            if full == "":
                full = next((v for k, v in self._full.items() if _squash(k) == _squash(key)), "")
            if full == "":
                continue
            start, end = match.span()
            if full is None and self._runs_on(text, end, match.group()):
                continue
            yield start, end, full
            if full is not None:
                yield from self._elliptic(text, end, full)

    @staticmethod
    def _runs_on(text: str, end: int, form: str) -> bool:
        """The sheet's own short form with more name after it is another product ('Planor Fine')."""
        if " " in form or "-" in form or any(c.isdigit() for c in form):
            return False
        return re.match(r" (?:[A-Z][a-z]{2,}|\d{2,4})\b", text[end : end + 14]) is not None and not form.isupper()

    @staticmethod
    def _elliptic(text: str, end: int, full: str) -> Iterator[tuple[int, int, str]]:
        """'KELPSTONE 40, 55 HS': the root carries over to the next number."""
        root = re.match(r"([A-Za-zÀ-ÿ]+) \d", full)
        if root is None:
            return
        while (match := _ELLIPSIS.match(text, end)) is not None:
            yield match.start(1), match.end(1), readable(f"{root.group(1)} {match.group(1)}")
            end = match.end()

    @staticmethod
    def collect(
        texts: Iterable[str],
        subject: SubjectNames,
        is_word: Callable[[str], bool],
        no_name: Set[str],
        is_head: Callable[[str], bool] | None = None,
    ) -> ProductNames:
        """Every product name on the sheet.

        is_word tells whether a lower-case word is a term of the trade, is_head whether it names a kind by itself.
        """
        listed = list(texts)
        whole = " ".join(listed)
        lowered = set(re.findall(r"\b[a-z][a-zà-ÿ]+\b", whole))
        alone = not subject.root  # beside others of its family even 'Alu' may be a name
        own = tuple(
            n for n in own_forms(subject) if n == subject.name or not (alone and _is_plain(n, lowered, is_word))
        )
        own_keys = {_key(n) for n in own}
        others: dict[str, None] = {}
        for text in listed:
            for pattern in (_CODE, _NUMBERED, _CAPS_NUMBER):
                for match in pattern.finditer(text):
                    name = _trim(match.group(), lowered, is_word, no_name, is_head or is_word)
                    if (
                        name
                        and _key(name) not in own_keys
                        and not _ACCESSORY.search(fold(text[: match.start()]).rstrip())
                    ):
                        others.setdefault(name, None)
        firsts = {n.split()[0] for n in (*others, subject.name) if n}
        roots = [r for r in firsts if len(r) > 3 and r[0].isupper() and fold(r) not in lowered]
        if roots:
            branded = re.compile(rf"\b(?:{'|'.join(map(re.escape, sorted(roots)))}) [A-Z][a-z]+\b")
            for match in (m for t in listed for m in branded.finditer(t)):
                name = match.group()
                second = fold(name.split()[1])
                if _key(name) not in own_keys and (not is_word(second) or second == "spray"):
                    others.setdefault(name, None)
        if subject.root:
            rooted = re.compile(rf"\b(?i:{re.escape(subject.root)})[ -](?:[A-Z]\w*|\d+[A-Z]*)(?![\w-])")
            for match in (m for t in listed for m in rooted.finditer(t)):
                if _key(match.group()) not in own_keys:
                    others.setdefault(match.group(), None)
        for text in listed:
            single = _LISTED.match(text)
            if single is not None:
                word = fold(single.group(1).split()[0])
                if (
                    word not in lowered
                    and not re.search(r"(?:able|ible|ing|ed|ly)$", word)
                    and not is_word(word)
                    and word not in no_name
                ):
                    others.setdefault(single.group(1), None)
        for text in listed:
            for match in _PHRASED.finditer(text):
                name = match.group(1)
                known = all(is_word(w) or w in no_name or len(w) < 3 for w in re.split(r"[^\w]+", fold(name)))
                strange = [
                    w for w in name.split() if len(w) > 1 and w.isupper() and w not in subject.name.upper().split()
                ]
                known = known or bool(strange)
                if not known and _key(name) not in own_keys and fold(name.split()[0]) not in lowered:
                    others.setdefault(name, None)
        for match in (m for t in listed for m in _AND_OTHER.finditer(t)):
            words = [fold(w) for w in match.group(1).split()]
            if (
                not any(is_word(w) or w in no_name or w in lowered for w in words[:1])
                and _key(match.group(1)) not in own_keys
            ):
                others.setdefault(match.group(1), None)
        for name in _spoken(listed, subject, lowered, is_word, no_name):
            if _key(name) not in own_keys and not any(
                re.search(rf"\b{re.escape(_key(name))}\b", _key(o)) for o in others
            ):
                others.setdefault(name, None)
        for match in _CAMEL.finditer(whole):
            key = _key(match.group())
            if key not in own_keys and not any(key in _key(o) for o in others):
                others.setdefault(match.group(), None)
        kept = [
            n for n in others if not any(_key(n) == k for k in own_keys) and not _is_brand(n, whole, is_head or is_word)
        ]
        return ProductNames(own, kept)


_LONG_WORD = re.compile(r"\b(?:[A-Z][a-z]{4,}|[A-Z]{5,})\b")


def _spoken(
    texts: list[str], subject: SubjectNames, lowered: Set[str], is_word: Callable[[str], bool], no_name: Set[str]
) -> Iterator[str]:
    """Names of one plain word, told by a root that they share with this product's, or by what is said before them.

    A word counts that is printed in small letters nowhere on the sheet and is no term of the trade.
    """
    root = fold(re.split(r"[ \-\d]", subject.name)[0]) if subject.name else ""
    stem = root[: max(5, len(root) * 2 // 3)] if len(root) >= 6 else None
    counted: Counter[str] = Counter()
    spoken: set[str] = set()
    for text in texts:
        if not any(c.islower() for c in text):
            continue
        for match in _LONG_WORD.finditer(text):
            counted[match.group()] += 1
        spoken.update(m.group(1) for m in _SPOKEN.finditer(text))
    for word in counted:
        folded = fold(word)
        singular = folded.removesuffix("s")
        if folded in lowered or folded in no_name or is_word(folded) or is_word(singular) or singular in lowered:
            continue
        if folded == root or folded in fold(subject.name).split():
            continue
        kin = stem is not None and folded.startswith(stem)
        if kin or (word in spoken and (counted[word] > 1 or _ours(texts, word))):
            yield word


def _is_brand(name: str, whole: str, is_head: Callable[[str], bool]) -> bool:
    """'Zentrok 2K topcoats, Zentrok base coats': a single word before kinds in the plural is their maker's."""
    if " " in name or any(c.isdigit() or c == "-" for c in name):
        return False
    for match in re.finditer(rf"\b{re.escape(name)}®?((?: (?:[a-z-]+|[12]K|[A-Z]{{2}})\b){{1,3}})", whole):
        words = match.group(1).split()
        if any(w == "coats" or (w.endswith("s") and is_head(w.removesuffix("s"))) for w in words):
            return True
    return False


def _ours(texts: list[str], word: str) -> bool:
    return any(re.search(rf"\b(?:[Oo]ur|[Ff]irst) {word}\b", t) for t in texts)


def _is_plain(name: str, lowered: Set[str], is_word: Callable[[str], bool]) -> bool:
    """Whether a form is a word of the trade or of the sheet's own text: 'zinc' is not the product 'Zinc 90 Spray'."""
    return name.isalpha() and (is_word(fold(name)) or fold(name) in lowered)


_CODED_START = re.compile(r"(?P<code>[A-Z]{1,5}[ -]?\d{1,4}[A-Z]{0,2}) (?=[A-Z])")
_CODED_END = re.compile(r" (?P<code>[A-Z]{1,5}[ -]?\d{2,4}[A-Z]{0,2})$")

_SERIES = re.compile(r" (?P<code>\d{3,4})(?: Series\b|$)")
"""'5200 Series' of 'Hobnail 5200', with that word behind it or not."""


def own_forms(subject: SubjectNames) -> tuple[str, ...]:
    """The names by which a sheet may call its own product: full, code, and the telling word alone."""
    forms: dict[str, None] = {}
    for name in (subject.name, *subject.aliases, *((subject.code,) if subject.code else ())):
        if not name or not name.strip():
            continue
        forms.setdefault(name.strip(), None)
        words = name.split()
        coded = _CODED_END.search(name) or _CODED_START.match(name)
        if coded is not None and len(words) > 2:
            forms.setdefault(coded.group("code"), None)  # 'CW 40' of 'CW 40 Cavity Wax'
        series = _SERIES.search(name)
        if series is not None:
            forms.setdefault(f"{series.group('code')} Series", None)
        if len(words) > 1:
            for word in words:
                bare = word.strip("®™,.")
                if fold(bare) == fold(subject.root):
                    continue
                telling = len(bare) >= 4 and (not bare.isdigit())
                if telling and (
                    any(c.isdigit() for c in bare)
                    or words.index(word) == 0
                    or re.fullmatch(_CAMEL, bare)
                    or len(words) == 2
                ):
                    forms.setdefault(bare, None)
    return tuple(forms)


def _trim(
    name: str, lowered: Set[str], is_word: Callable[[str], bool], no_name: Set[str], is_head: Callable[[str], bool]
) -> str:
    """The name without words that are no part of one; '' where nothing is left that names a product."""
    words = name.replace("®", "").split()
    while words and _opens_no_name(words[0], lowered, is_word, no_name):
        words = words[1:]
    coded = bool(words) and "-" in words[0] and any(c.isdigit() for c in words[0])
    printed = words
    while len(words) > 1 and words[-1].isalpha() and len(words[-1]) > 2 and words[-1] != "UHS":
        last = fold(words[-1])
        # After a code a common word may be a name ('CM-12 Anchor Wash'), but what the thing is is none ('Primer').
        if not (
            is_head(last) or last in no_name
            if coded
            else is_word(last) or last in no_name or (len(last) > 3 and last in lowered)
        ):
            break
        words = words[:-1]
    if coded and len(printed) > 2 and all(is_word(fold(w)) or is_head(fold(w)) for w in printed[1:]):
        words = printed  # 'CP-15 Epoxy Primer': what is left of it would be half of a kind
    if not words or not words[0][0].isupper():
        return ""
    joined = " ".join(words)
    if re.fullmatch(r"P\d{1,4}|[A-Z]\d?|\d+|[A-Z]{2,}", joined):
        return ""
    told = coded and any(is_head(fold(w)) for w in printed[1:])  # 'PP-1 Plastic Primer' is no plastic
    if fold(words[0].split("-")[0]) in no_name and not told:
        return ""
    if not any(c.isdigit() for c in joined) and len(words) < 2:
        return ""
    return joined


def _opens_no_name(word: str, lowered: Set[str], is_word: Callable[[str], bool], no_name: Set[str]) -> bool:
    folded = fold(word)
    if folded in no_name:
        return True
    plain = word[1:].islower() or (word.isupper() and word.isalpha() and len(word) > 3)
    return plain and (folded in lowered or is_word(folded))


def readable(name: str) -> str:
    """As printed, but no long word in capitals: 'KELPSTONE 55 HS' -> 'Kelpstone 55 HS'."""
    return " ".join(
        w.capitalize() if w.isupper() and w.isalpha() and len(w) >= 5 else w for w in name.replace("®", "").split()
    )


def _key(name: str) -> str:
    return " ".join(fold(name.replace("®", "").replace("™", "")).split())


def _squash(name: str) -> str:
    return name.replace(" ", "").replace("-", "")


def document_texts(document: Document) -> list[str]:
    """Every printed text of the document, block by block."""
    out: list[str] = []
    for block in document.blocks:
        if isinstance(block, Statement):
            for passage in (block.lead, block.label, block.passage):
                if passage is not None:
                    out.append(passage.text)
            continue
        out.extend(p.text for p in (block.corner, block.title, block.lead, *block.legend, *block.notes) if p)
        out.extend(cell.text for stack in block.heads for cell in stack)
        for row in block.rows:
            out.extend((row.label.text, *(cell.text for cell in row.cells)))
    return out
