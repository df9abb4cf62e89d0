"""Names as people and sheets write them: which product, or which kind, is meant.

Code numbers weigh most: two names that both carry digits mean the same product only where the digit groups are
equal, so that 'EX 4711' never joins 'EX 4712'. A sheet's mention of a product counts as certain only where nothing
else could be meant; whatever is doubtful is for the user to settle (by correcting the claim's object) and never
carries a yes.
"""

from __future__ import annotations

import re
import tomllib
import unicodedata
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from enum import IntEnum, StrEnum
from functools import lru_cache
from importlib import resources

from rapidfuzz import fuzz, process

from extract.claims import PRODUCT_PREFIX, SELF
from extract.kind_words import kind_meant, trade_names
from extract.kinds import is_known, kinds
from store.records import ProductRecord, SheetRef

_WORDS = tomllib.loads(resources.files("store.rules").joinpath("name_words.toml").read_text("utf-8"))
_GENERIC = frozenset(_WORDS["generic"])
_RANGE = frozenset(_WORDS["range"])
_OTHER_TIN = frozenset(_WORDS["other_tin"])
_FIRM = frozenset(_WORDS["firm"])
_TYPO = 88.0
_NEAR = 65.0
_TOKEN = re.compile(r"[^\W\d_]+|\d+")


class Likeness(IntEnum):
    """How near a written name comes to a product's, from not at all."""

    NONE = 0
    RELATED = 1
    """A range, a variant or a slip of the pen: perhaps this product."""
    SHORT = 2
    """The code alone, or the name without its code."""
    SAME = 3


class Certainty(StrEnum):
    CERTAIN = "certain"
    DOUBTFUL = "doubtful"
    NONE = "none"


@dataclass(frozen=True, slots=True)
class KindName:
    """What the asker meant is a kind of thing, by its vocabulary id."""

    kind: str


@dataclass(frozen=True, slots=True)
class Unknown:
    """Neither a product of the library nor a kind; nearest are names that may have been meant, best first."""

    text: str
    nearest: tuple[str, ...]
    several: bool = False
    """Whether each of the nearest is of this very name, so that only the maker tells which."""


@dataclass(frozen=True, slots=True)
class Suggestion:
    """A completion: what to show, what it is beside (maker or 'kind'), and what it means."""

    text: str
    beside: str
    meaning: ProductRecord | KindName
    other_name: str = ""
    """What the trade calls a kind besides, where that is what was typed: 'mild steel'."""


KindLabels = Mapping[str, tuple[str, str]]
"""How kinds are called in the language of the window, one and several, by id."""
NO_LABELS: KindLabels = {}


@lru_cache(maxsize=65536)
def tokens(name: str) -> tuple[str, ...]:
    """Letter groups and digit groups, lower case, accents off: 'CM-300 Bedrock®' -> ('cm', '300', 'bedrock')."""
    plain = unicodedata.normalize("NFKD", name)
    plain = "".join(c for c in plain if not unicodedata.combining(c))
    return tuple(_TOKEN.findall(plain.casefold()))


def _split(parts: Sequence[str]) -> tuple[frozenset[str], frozenset[str]]:
    numbers = frozenset(part for part in parts if part.isdigit())
    return frozenset(parts) - numbers, numbers


@lru_cache(maxsize=65536)
def _whole(name: str, code: str, maker: str) -> str:
    """All that a product is called, as tokens with a space before and after each: for looking words up quickly."""
    return f" {' '.join(tokens(f'{name} {code} {maker}'))} "


def _candidates(written: str, products: Sequence[ProductRecord]) -> list[ProductRecord]:
    """The products that could be like the name at all: its digits are theirs, or a word of it, or nearly."""
    said = tokens(written)
    numbers = [f" {part} " for part in said if part.isdigit()]
    wholes = [_whole(product.name, product.code or "", product.maker) for product in products]
    if numbers:
        return [p for p, whole in zip(products, wholes, strict=True) if all(number in whole for number in numbers)]
    words = [f" {part} " for part in said if part not in _GENERIC]
    close = process.extract(" ".join(said), wholes, scorer=fuzz.WRatio, score_cutoff=_NEAR, limit=20)
    places = {place for _, _, place in close}
    places |= {place for place, whole in enumerate(wholes) if any(word in whole for word in words)}
    return [products[place] for place in sorted(places)]


def likeness(written: str, product: ProductRecord) -> Likeness:
    """How well a written name fits a product's name and code. Blind to makers and to other products."""
    return _likeness(written, product.name, product.code or "", product.maker)


@lru_cache(maxsize=65536)
def _likeness(written: str, name: str, code: str, maker: str) -> Likeness:
    said, own, coded = _without_maker(tokens(written), maker), tokens(name), tokens(code)
    if not said or not own:
        return Likeness.NONE
    said_words, said_numbers = _split(said)
    own_words, own_numbers = _split(own)
    if (said_words & _OTHER_TIN) != (own_words & _OTHER_TIN):
        return Likeness.NONE
    if "".join(said) == "".join(own):
        return Likeness.SAME
    if coded and said == coded and len("".join(coded)) >= 3:
        return Likeness.SHORT
    whole_words, whole_numbers = own_words | _split(coded)[0], own_numbers | _split(coded)[1]
    if said_numbers:
        if said_numbers not in (own_numbers, whole_numbers, _split(coded)[1]):
            return Likeness.NONE
        return _with_numbers(said, said_words, own_words, whole_words)
    return _without_numbers(said_words, own, own_words, coded)


def _with_numbers(
    said: Sequence[str], said_words: frozenset[str], own_words: frozenset[str], whole_words: frozenset[str]
) -> Likeness:
    """Both carry the same digits: what do the letters say?"""
    if said_words & _RANGE:
        return Likeness.RELATED
    missing, extra = own_words - said_words - _GENERIC, said_words - whole_words - _GENERIC
    if not extra and not missing:
        return Likeness.SAME
    if not extra and said_words & whole_words:
        # 'Kelpstone 55' for 'Kelpstone 55 HS': a short suffix names a variant, not the same tin.
        return Likeness.RELATED if any(len(word) <= 3 for word in missing) else Likeness.SHORT
    if extra and said_words & whole_words - _GENERIC:
        return Likeness.RELATED
    slip = fuzz.ratio(" ".join(sorted(said_words)), " ".join(sorted(own_words)))
    return Likeness.RELATED if slip >= _TYPO else Likeness.NONE


def _without_numbers(
    said_words: frozenset[str], own: Sequence[str], own_words: frozenset[str], coded: Sequence[str]
) -> Likeness:
    """The written name carries no digits."""
    said = said_words - _RANGE - _GENERIC
    if not said:
        return Likeness.NONE
    proper = own_words - _GENERIC
    ranged = bool(said_words & _RANGE)
    rest = [part for part in own if part not in said_words and part not in _GENERIC]
    if said <= proper and not ranged:
        if not rest:
            return Likeness.SAME
        if tuple(rest) == tuple(coded) or _looks_like_code(rest):
            return Likeness.SHORT
        return Likeness.RELATED
    if said <= proper or "".join(sorted(said)) == "".join(sorted(proper)):
        return Likeness.RELATED
    if any(part.isdigit() for part in own):
        return Likeness.NONE
    return Likeness.RELATED if fuzz.ratio(" ".join(sorted(said)), " ".join(sorted(proper))) >= _TYPO else Likeness.NONE


def _looks_like_code(parts: Sequence[str]) -> bool:
    """Letters and digits together, such as ('tr', '740'); a bare number after a name is its size in a range."""
    letters = [part for part in parts if not part.isdigit()]
    return bool(letters) and len(letters) < len(parts) and all(len(part) <= 4 for part in letters)


def _without_maker(said: tuple[str, ...], maker: str) -> tuple[str, ...]:
    words = set(tokens(maker)) - _FIRM
    kept = tuple(part for part in said if part not in words)
    return kept if words and kept else said


def same_maker(one: str, other: str) -> bool | None:
    """Whether two makers' names mean one firm; None where either is unknown."""
    first, second = set(tokens(one)) - _FIRM, set(tokens(other)) - _FIRM
    if not first or not second:
        return None
    if first <= second or second <= first:
        return True
    return fuzz.ratio(" ".join(sorted(first)), " ".join(sorted(second))) >= _TYPO


def meant_by(
    written: str,
    sheet: SheetRef,
    product: ProductRecord,
    products: Sequence[ProductRecord],
    *,
    settled: bool = False,
) -> Certainty:
    """Whether a product named on a sheet is this product of the library.

    A sheet names its own maker's products, unless it says another maker's name or a name that is hardly anybody
    else's ('Granat 12'). products is the whole library: where several could be meant, none is certain. settled is
    for a name that the user has put right: whole names are then certain whoever makes them, and a name with words of
    its own, another maker's before all, is another's.
    """
    near = likeness(written, product)
    if near is Likeness.NONE:
        return Certainty.NONE
    made_here = same_maker(sheet.maker, product.maker)
    said = set(tokens(written))
    if near is Likeness.RELATED:
        own = set(tokens(f"{product.name} {product.code or ''} {product.maker}"))
        strange = said - own - _GENERIC - _FIRM
        others = set(tokens(sheet.maker)) - _FIRM
        if strange and not said & _RANGE and (settled or (made_here is False and others and others <= said)):
            return Certainty.NONE
        return Certainty.DOUBTFUL
    says_maker = bool(said & (set(tokens(product.maker)) - _FIRM - set(tokens(product.name))))
    plain_enough = says_maker or (near is Likeness.SAME and (settled or _hardly_shared(written)))
    if not plain_enough and (made_here is False or (made_here is None and not _split(tokens(written))[1])):
        return Certainty.DOUBTFUL
    for other in _candidates(written, products):
        if other.id == product.id or likeness(written, other) < near:
            continue
        if says_maker and same_maker(product.maker, other.maker) is False:
            continue
        if made_here and same_maker(sheet.maker, other.maker) is False:
            continue
        return Certainty.DOUBTFUL
    return Certainty.CERTAIN


def _hardly_shared(written: str) -> bool:
    """True for a proper word with a number: two makers do not come upon 'Granat 12' both."""
    words, numbers = _split(tokens(written))
    return bool(numbers) and any(len(word) >= 4 for word in words - _GENERIC)


def resolve(
    text: str, products: Sequence[ProductRecord], called: KindLabels = NO_LABELS
) -> ProductRecord | KindName | Unknown:
    """What an asker meant: a product (an optional 'product:' before it) or a kind, by id or by its words.

    A kind goes by its label, in English and as called has it, and by whatever else the trade calls it.
    """
    stripped = text.strip()
    named_product = stripped.startswith(PRODUCT_PREFIX)
    wanted = stripped.removeprefix(PRODUCT_PREFIX).strip()
    if not named_product and is_known(wanted) and wanted != SELF:
        return KindName(wanted)
    exact = _exactly(wanted, products)
    if exact is not None:
        return exact
    found: dict[Likeness, list[ProductRecord]] = {}
    for product in _candidates(wanted, products):
        near = likeness(wanted, product)
        if near is not Likeness.NONE:
            found.setdefault(near, []).append(product)
    if len(found.get(Likeness.SAME, ())) == 1:
        return found[Likeness.SAME][0]
    kind = None if named_product else kind_called(wanted, called)
    if kind is not None and not found.get(Likeness.SAME):
        return KindName(kind)
    for near in (Likeness.SAME, Likeness.SHORT, Likeness.RELATED):
        candidates = found.get(near, [])
        if len(candidates) == 1:
            return candidates[0]
        if candidates:
            return Unknown(text, tuple(full_name(product) for product in candidates[:5]))
    return Unknown(
        text, tuple(s.text for s in complete(wanted, products, 5, kinds_too=not named_product, called=called))
    )


def _exactly(wanted: str, products: Sequence[ProductRecord]) -> ProductRecord | None:
    """The one product of exactly this name: the usual question, answered without weighing every other name.

    Where makers share a name, it is the name with the maker before it, as the nearest names are offered.
    """
    plain = run_together(wanted)
    same = [product for product in products if run_together(product.name) == plain]
    if not same:
        same = [product for product in products if run_together(full_name(product)) == plain]
    return same[0] if len(same) == 1 else None


@lru_cache(maxsize=65536)
def run_together(name: str) -> str:
    return "".join(tokens(name))


def full_name(product: ProductRecord) -> str:
    return f"{product.maker} {product.name}".strip()


def kind_called(words: str, called: KindLabels) -> str | None:
    """By the label in either language, else by what the trade calls it."""
    said = " ".join(tokens(words))
    for kind in kinds().values():
        labels = (kind.label, kind.plural, *called.get(kind.id, ()))
        if kind.id != SELF and said in {" ".join(tokens(label)) for label in labels}:
            return kind.id
    return kind_meant(words)


def complete(
    typed: str,
    products: Sequence[ProductRecord],
    limit: int = 10,
    *,
    kinds_too: bool = True,
    called: KindLabels = NO_LABELS,
) -> tuple[Suggestion, ...]:
    """Completions, best first: beginnings of words before mere likeness, products before kinds before other names.

    called has the labels of kinds, one and several, in the language of the window; English is understood besides.
    """
    wanted = tokens(typed.removeprefix(PRODUCT_PREFIX))
    if not wanted:
        return ()
    offered = [Suggestion(product.name, product.maker, product) for product in products]
    wholes = [_whole(product.name, product.code or "", product.maker) for product in products]
    if kinds_too:
        for kind in kinds().values():
            if kind.id != SELF:
                labels = called.get(kind.id, (kind.label, kind.plural))
                offered.append(Suggestion(labels[0], "kind", KindName(kind.id)))
                wholes.append(_whole(" ".join(labels), f"{kind.label} {kind.plural}", ""))
    begun = [f" {word}" for word in wanted]
    scores = {
        place: _begun_score(wanted, whole) for place, whole in enumerate(wholes) if all(w in whole for w in begun)
    }
    others = _other_names(typed, begun, called) if kinds_too else ()
    if len(scores) + len(others) < limit:
        near = process.extract(" ".join(wanted), wholes, scorer=fuzz.WRatio, score_cutoff=_NEAR, limit=2 * limit)
        scores = {place: score for _, score, place in near} | scores
    shared = {place: sum(f" {word} " in wholes[place] for word in wanted) for place in scores}

    def rank(place: int) -> tuple[float, float, bool, str]:
        # Of mere likenesses the one with more of the words typed: letters alike are mostly chance.
        return (
            -shared[place] if scores[place] < _BEGUN else 0.0,
            -scores[place],
            place >= len(products),
            offered[place].text,
        )

    ranked = sorted(scores, key=rank)
    certain = [offered[place] for place in ranked if scores[place] >= _BEGUN]
    doubtful = [offered[place] for place in ranked if scores[place] < _BEGUN]
    return _one_each((*certain, *others, *doubtful))[:limit]


def _other_names(typed: str, begun: Sequence[str], called: KindLabels) -> tuple[Suggestion, ...]:
    """Kinds by other names of the trade that begin with what is typed, first the one that is typed out."""
    whole = kind_meant(typed)
    found = [(typed.strip(), whole)] if whole is not None else []
    found += sorted(
        ((words, kind) for words, kind in trade_names() if all(w in _whole(words, "", "") for w in begun)),
        key=lambda one: len(one[0]),
    )
    return tuple(
        Suggestion(called[kind][0] if kind in called else kinds()[kind].label, "kind", KindName(kind), words)
        for words, kind in found
    )


def _one_each(suggestions: Iterable[Suggestion]) -> tuple[Suggestion, ...]:
    """The first of those that mean the same."""
    first: dict[object, Suggestion] = {}
    for one in suggestions:
        key = one.meaning if isinstance(one.meaning, KindName) else one.meaning.id
        first.setdefault(key, one)
    return tuple(first.values())


_BEGUN = 100.0
"""Scores above it are of names that begin so, scores up to it of likeness."""


def _begun_score(wanted: tuple[str, ...], whole: str) -> float:
    """Above any mere likeness; first those that begin with what is typed, the shorter name before the longer."""
    return 200.0 + 20.0 * whole.startswith(f" {wanted[0]}") - min(whole.count(" "), 15)
