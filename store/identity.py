"""Which product a sheet is about: is it one that the library knows already?

Code numbers weigh most: two different codes are two products, whatever their names. Names are compared word by
word, and figures in them exactly: EX 4711 is not EX 4712.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable
from dataclasses import dataclass
from functools import lru_cache

from rapidfuzz import fuzz
from sqlalchemy import Connection, bindparam, insert, or_, select, update

from extract.claims import SheetHeader
from extract.kinds import kinds
from store.tables import IdentityRow, MakerRow, ProductRow

_SAME_MAKER = 86.0
# Strict, because a wrong match silently puts one product's sheet in the place of another's, while a missed one
# only leaves two sheets current: a letter more or less passes, another letter does not.
_SAME_NAME = 95.0
_SAME_WORD = 90.0
_NAME_WITH_SAME_CODE = 50.0
_LEGAL_FORMS = frozenset(
    {"ab", "ag", "as", "bv", "co", "company", "corp", "corporation", "gmbh", "group", "inc", "kg", "limited"}
    | {"llc", "ltd", "nv", "oy", "plc", "sa", "sas", "spa", "srl"}
)


@dataclass(frozen=True, slots=True)
class Identity:
    """Names folded for comparison; '' where the sheet does not say."""

    maker: str
    name: str
    code: str


@lru_cache(maxsize=4096)
def folded(text: str | None) -> str:
    """Words in lower case without accents or signs, letters and figures set apart ('EX-4711a' -> 'ex 4711 a')."""
    plain = unicodedata.normalize("NFKD", text or "").casefold()
    plain = "".join(c for c in plain if not unicodedata.combining(c))
    return " ".join(re.findall(r"\d+|[^\W\d_]+", plain))


def folded_code(text: str | None) -> str:
    return folded(text).replace(" ", "")


def folded_maker(text: str | None) -> str:
    """A maker's name without its legal form, unless there is nothing else to it."""
    words = folded(text).split()
    return " ".join(w for w in words if w not in _LEGAL_FORMS) or " ".join(words)


def identity_of(header: SheetHeader) -> Identity:
    return Identity(folded_maker(header.maker), folded(header.product or header.file), folded_code(header.code))


def same_maker(a: str, b: str) -> bool:
    if a == b:
        return True
    if not a or not b:
        return False
    alike = fuzz.ratio(a, b, score_cutoff=_SAME_MAKER) > 0 or a.replace(" ", "") == b.replace(" ", "")
    return alike and _figures(a) == _figures(b)


def same_name(a: str, b: str) -> bool:
    """Near enough to be one name misprinted: figures equal, every word with its counterpart."""
    close_a, close_b = a.replace(" ", ""), b.replace(" ", "")
    if not close_a or not close_b or _figures(a) != _figures(b):
        return False
    if close_a == close_b:
        return True
    if fuzz.ratio(close_a, close_b) < _SAME_NAME:
        return False
    words_a, words_b = a.split(), b.split()
    return len(words_a) == len(words_b) and all(_same_word(x, y) for x, y in zip(words_a, words_b, strict=True))


def same_product(a: Identity, b: Identity) -> bool:
    if a.code and b.code:
        if a.code != b.code:
            return False
        makers_agree = same_maker(a.maker, b.maker) or not a.maker or not b.maker
        return makers_agree and fuzz.ratio(a.name, b.name) >= _NAME_WITH_SAME_CODE
    return same_maker(a.maker, b.maker) and same_name(a.name, b.name)


# Built once: to build a statement costs more than to run it.
_IDENTITY = select(IdentityRow.product_id, IdentityRow.maker, IdentityRow.name, IdentityRow.code)
_KNOWN_MAKERS = select(IdentityRow.maker).distinct()
_OF_MAKERS = IdentityRow.maker.in_(bindparam("makers", expanding=True))
_BY_MAKERS = _IDENTITY.where(_OF_MAKERS)
_BY_MAKERS_OR_CODE = _IDENTITY.where(or_(_OF_MAKERS, IdentityRow.code == bindparam("code")))
_NEW_IDENTITY = insert(IdentityRow)
_MAKERS = select(MakerRow.id, MakerRow.name)
_NEW_MAKER = insert(MakerRow).returning(MakerRow.id)
_NEW_PRODUCT = insert(ProductRow).returning(ProductRow.id)


def find_product(connection: Connection, wanted: Identity, *, apart_from: Iterable[int] = ()) -> int | None:
    """The known product that a header is about, the best match first; None for a new one."""
    excluded = set(apart_from)
    makers = connection.scalars(_KNOWN_MAKERS).all()
    alike = [maker for maker in makers if same_maker(maker, wanted.maker)]
    if not alike and not wanted.code:
        return None
    if wanted.code:
        rows = connection.execute(_BY_MAKERS_OR_CODE, {"makers": alike, "code": wanted.code})
    else:
        rows = connection.execute(_BY_MAKERS, {"makers": alike})
    best: tuple[float, int] | None = None
    for row in rows:
        known = Identity(row.maker, row.name, row.code)
        if row.product_id in excluded or not same_product(known, wanted):
            continue
        score = (200.0 if known.code and known.code == wanted.code else 0.0) + fuzz.ratio(known.name, wanted.name)
        if best is None or (score, -row.product_id) > (best[0], -best[1]):
            best = (score, row.product_id)
    return best[1] if best else None


def remember(connection: Connection, product_id: int, identity: Identity) -> None:
    """Recognise the product by this identity from now on."""
    known = connection.execute(
        select(IdentityRow.id).where(
            IdentityRow.product_id == product_id,
            IdentityRow.maker == identity.maker,
            IdentityRow.name == identity.name,
            IdentityRow.code == identity.code,
        )
    ).first()
    if known is None:
        recognise(connection, product_id, identity)


def recognise(connection: Connection, product_id: int, identity: Identity) -> None:
    """As remember(), for a product that is not recognised by it yet."""
    values = {"product_id": product_id, "maker": identity.maker, "name": identity.name, "code": identity.code}
    connection.execute(_NEW_IDENTITY, values)


def maker_id(connection: Connection, name: str) -> int:
    """The maker of that name, spelt as the library already spells it; made where it is new."""
    rows = connection.execute(_MAKERS).all()
    for row in rows:
        if row.name == name:
            return int(row.id)
    wanted = folded_maker(name)
    for row in rows:
        if wanted and folded_maker(row.name) == wanted:
            return int(row.id)
    return int(connection.execute(_NEW_MAKER, {"name": name}).scalar_one())


def spelt_maker(connection: Connection, name: str) -> int:
    """The maker of that name, spelt so from now on for all its products."""
    found = maker_id(connection, name)
    spelling = connection.scalar(select(MakerRow.name).where(MakerRow.id == found))
    if spelling != name:
        connection.execute(update(MakerRow).where(MakerRow.id == found).values(name=name))
        for row in connection.execute(
            select(ProductRow.id, ProductRow.name, ProductRow.code, ProductRow.kind).where(ProductRow.maker_id == found)
        ).all():
            words = search_words(row.name, name, row.code, row.kind)
            connection.execute(update(ProductRow).where(ProductRow.id == row.id).values(words=words))
    return found


def search_words(name: str, maker: str, code: str | None, kind: str | None) -> str:
    """What a product is found by: what is on its tin, and what a painter calls its kind."""
    known = kinds().get(kind or "")
    return " ".join(part for part in (name, maker, code, known.label if known else None) if part)


def new_product(connection: Connection, name: str, maker: str, kind: str | None, code: str | None) -> int:
    values = {
        "maker_id": maker_id(connection, maker),
        "name": name,
        "kind": kind,
        "code": code,
        "words": search_words(name, maker, code, kind),
        "set_by_user": [],
    }
    return int(connection.execute(_NEW_PRODUCT, values).scalar_one())


def _same_word(a: str, b: str) -> bool:
    # Short words tell variants apart (HS and MS, 1K and 2K), so a letter of difference is a difference.
    return a == b or (min(len(a), len(b)) > 3 and fuzz.ratio(a, b) >= _SAME_WORD)


def _figures(text: str) -> list[str]:
    return re.findall(r"\d+", text)
