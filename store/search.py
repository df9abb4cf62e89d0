"""One search over products, makers, claims, the sheets' words and the user's notes, fast enough to run as one types.

Each index is asked for a bounded number of matches without ranking, because ranking a common word means reading
every match; the few that come back are then put in order here.
"""

from __future__ import annotations

import re
import unicodedata
from bisect import bisect_right
from collections.abc import Iterable, Sequence
from typing import Any

from sqlalchemy import Connection, select, text

from extract.claims import Box
from store.carrying import box_a_line
from store.converting import boxes_of, sheet_query, sheet_ref
from store.finding import has_a_place
from store.records import ClaimStatus, Hit, HitKind, SheetRef
from store.tables import ClaimRow, MakerRow, NoteRow, PageRow, ProductRow, SheetRow

_ACCENTS = re.compile("[\u0300-\u036f]")
_LOOKED_AT = 120
_AROUND = 7
"""Words shown on either side of a match on a page."""


def search(connection: Connection, words: str, limit: int) -> tuple[Hit, ...]:
    """Where every word stands, the last one taken as the beginning of a word; products and makers first."""
    wanted = _tokens(words)
    if not wanted or limit < 1:
        return ()
    query = match_expression(wanted)
    named = [*_products(connection, query, wanted), *_makers(connection, query)][: max(limit // 3, 1)]
    claims = _claims(connection, query, wanted)
    notes = _notes(connection, query)
    # Each sort gets its share before one of them fills the list.
    shares = [*named, *claims[: max(limit // 2, 1)], *notes[: max(limit // 6, 1)]]
    pages = _pages(connection, query, wanted, max(limit - len(shares), 1))
    hits = [*shares[: max(limit - len(pages), 1)], *pages][:limit]
    if len(hits) < limit:
        hits += [hit for hit in (*claims, *notes) if hit not in hits][: limit - len(hits)]
    return tuple(hits)


def match_expression(wanted: Sequence[str]) -> str:
    """The words as FTS5 wants them: each quoted, so that none is taken for an operator; the last one a prefix."""
    return " ".join(f'"{word}"' for word in wanted[:-1]) + f' "{wanted[-1]}"*'


def _tokens(words: str) -> list[str]:
    # Figures and letters run together stay one word, as the tokenizer keeps them.
    return re.findall(r"[^\W_]+", unicodedata.normalize("NFC", words))[:12]


def _ids(connection: Connection, index: str, query: str, most: int) -> list[int]:
    found = connection.execute(
        text(f"SELECT rowid FROM {index} WHERE {index} MATCH :query ORDER BY rowid DESC LIMIT :most"),  # noqa: S608
        {"query": query, "most": most},
    )
    return [int(row[0]) for row in found]


def _products(connection: Connection, query: str, wanted: Sequence[str]) -> list[Hit]:
    rows = connection.execute(
        select(ProductRow.id, ProductRow.name, ProductRow.code, MakerRow.name.label("maker"))
        .join_from(ProductRow, MakerRow, MakerRow.id == ProductRow.maker_id)
        .where(ProductRow.id.in_(_ids(connection, "products_search", query, _LOOKED_AT)), has_a_place())
    ).all()
    first = _fold(wanted[0])
    ordered = sorted(rows, key=lambda r: (not _fold(r.name).startswith(first), len(r.name), r.name, r.id))
    return [
        Hit(HitKind.PRODUCT, row.name, " ".join(part for part in (row.maker, row.code) if part), product_id=row.id)
        for row in ordered
    ]


def _makers(connection: Connection, query: str) -> list[Hit]:
    ids = _ids(connection, "makers_search", query, _LOOKED_AT)
    names = connection.scalars(
        select(MakerRow.name).where(
            MakerRow.id.in_(ids),
            select(ProductRow.id).where(ProductRow.maker_id == MakerRow.id, has_a_place()).exists(),
        )
    )
    return [Hit(HitKind.MAKER, name, name) for name in sorted(names, key=lambda n: (len(n), n))]


def _claims(connection: Connection, query: str, wanted: Sequence[str]) -> list[Hit]:
    """One hit a sentence, although several claims may share it; confirmed ones before the rest."""
    rows = connection.execute(
        select(ClaimRow.id, ClaimRow.sheet_id, ClaimRow.page, ClaimRow.quote, ClaimRow.boxes, ClaimRow.status).where(
            ClaimRow.id.in_(_ids(connection, "claims_search", query, _LOOKED_AT)),
            ClaimRow.withdrawn.is_(False),
            ClaimRow.status != ClaimStatus.REJECTED,
        )
    ).all()
    refs = _current(connection, {row.sheet_id for row in rows})
    found: dict[tuple[int, int, str], Any] = {}
    for row in rows:
        if row.sheet_id in refs:
            key = (row.sheet_id, row.page, row.quote)
            known = found.get(key)
            if known is None or (_open(known), known.id) > (_open(row), row.id):
                found[key] = row
    ordered = sorted(found.values(), key=lambda r: (not _whole(r.quote, wanted), _open(r), len(r.quote), r.id))
    return [
        Hit(
            HitKind.CLAIM,
            refs[row.sheet_id].product,
            row.quote,
            product_id=refs[row.sheet_id].product_id,
            sheet_id=row.sheet_id,
            claim_id=row.id,
            page=row.page,
            boxes=boxes_of(row.boxes),
        )
        for row in ordered
    ]


def _pages(connection: Connection, query: str, wanted: Sequence[str], most: int) -> list[Hit]:
    ids = _ids(connection, "pages_search", query, _LOOKED_AT)
    places = connection.execute(
        select(PageRow.id, SheetRow.id.label("sheet_id"))
        .join_from(PageRow, SheetRow, SheetRow.file_id == PageRow.file_id)
        .where(PageRow.id.in_(ids), SheetRow.superseded_by.is_(None), SheetRow.removed_at.is_(None))
        .order_by(PageRow.id.desc(), SheetRow.id.desc())
    )
    sheets = {row.id: row.sheet_id for row in places}
    # Unpacking a page's words is what costs here, so only as many pages are unpacked as can be shown.
    shown = list(sheets)[:most]
    refs = _current(connection, [sheets[page_id] for page_id in shown])
    rows = connection.execute(
        select(PageRow.id, PageRow.number, PageRow.text, PageRow.boxes).where(PageRow.id.in_(shown))
    )
    hits: list[Hit] = []
    for row in rows:
        ref = refs[sheets[row.id]]
        excerpt, boxes = _passage(row.text, row.boxes, wanted)
        hits.append(
            Hit(
                HitKind.PAGE,
                ref.product,
                excerpt,
                product_id=ref.product_id,
                sheet_id=ref.sheet_id,
                page=row.number,
                boxes=boxes,
            )
        )
    return hits


def _notes(connection: Connection, query: str) -> list[Hit]:
    rows = connection.execute(
        select(NoteRow.product_id, NoteRow.text, ProductRow.name)
        .join_from(NoteRow, ProductRow, ProductRow.id == NoteRow.product_id)
        .where(NoteRow.id.in_(_ids(connection, "notes_search", query, _LOOKED_AT)))
        .order_by(NoteRow.changed_at.desc())
    )
    return [Hit(HitKind.NOTE, row.name, row.text, product_id=row.product_id) for row in rows]


def _current(connection: Connection, sheet_ids: Iterable[int]) -> dict[int, SheetRef]:
    rows = connection.execute(sheet_query().where(SheetRow.id.in_(set(sheet_ids)), SheetRow.superseded_by.is_(None)))
    return {row.id: sheet_ref(row) for row in rows}


def _passage(printed: str, boxes: Sequence[Box], wanted: Sequence[str]) -> tuple[str, tuple[Box, ...]]:
    """The stretch of the page that holds most of the words sought, and the boxes of those words."""
    words = printed.split("\n")
    hits = _places(_fold(printed), [_fold(word) for word in wanted])
    if not hits:
        return " ".join(words[: 2 * _AROUND]), ()
    best, best_met = hits[0][0], 0
    for at, (start, _) in enumerate(hits):
        met_here: set[int] = set()
        for index, met in hits[at:]:
            if index > start + 2 * _AROUND:
                break
            met_here |= met
        if len(met_here) > best_met:
            best, best_met = start, len(met_here)
        if best_met == len(wanted):
            break
    lit = [index for index, _ in hits if best <= index <= best + 2 * _AROUND]
    begin, end = max(best - _AROUND, 0), lit[-1] + _AROUND + 1
    excerpt = " ".join(words[begin:end])
    excerpt = ("… " if begin else "") + excerpt + (" …" if end < len(words) else "")
    found = tuple(boxes[index] for index in lit)
    return excerpt, box_a_line(found) if _adjoining(lit) else found


def _places(folded: str, sought: Sequence[str]) -> list[tuple[int, set[int]]]:
    """Which of the page's words, one a line, meet which of the words sought; the last is the beginning of a word."""
    inner = r"(?![^\W_])"
    tokens = [f"({re.escape(token)}){inner if n < len(sought) - 1 else ''}" for n, token in enumerate(sought)]
    starts = [0, *(at.end() for at in re.finditer("\n", folded))]
    hits: dict[int, set[int]] = {}
    for token, pattern in enumerate(tokens):
        for found in re.finditer(rf"(?<![^\W_]){pattern}", folded):
            hits.setdefault(bisect_right(starts, found.start()) - 1, set()).add(token)
    return sorted(hits.items())


def _adjoining(indexes: Sequence[int]) -> bool:
    return indexes[-1] - indexes[0] == len(indexes) - 1


def _whole(quote: str, wanted: Sequence[str]) -> bool:
    return _fold(wanted[-1]) in {_fold(word) for word in re.findall(r"[^\W_]+", quote)}


def _open(row: Any) -> bool:
    return row.status is ClaimStatus.PROPOSED


def _fold(text: str) -> str:
    """Lower case without accents, as the index keeps it; lines stay lines."""
    if text.isascii():
        return text.lower()
    return _ACCENTS.sub("", unicodedata.normalize("NFKD", text)).casefold()
