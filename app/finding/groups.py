"""Hits under headings, in words. No Qt widget."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from app.figure_words import page_words
from app.grouped_list import Entry, Group
from app.translating import QT_TRANSLATE_NOOP, translate
from store.records import Hit, HitKind

_TITLES: Mapping[HitKind, str] = {
    HitKind.PRODUCT: QT_TRANSLATE_NOOP("finding", "Products"),
    HitKind.MAKER: QT_TRANSLATE_NOOP("finding", "Makers"),
    HitKind.CLAIM: QT_TRANSLATE_NOOP("finding", "What sheets say"),
    HitKind.NOTE: QT_TRANSLATE_NOOP("finding", "Your notes"),
    HitKind.PAGE: QT_TRANSLATE_NOOP("finding", "In the sheets' own words"),
}


def groups_of(hits: Sequence[Hit]) -> tuple[Group, ...]:
    """One group a kind of hit, in the order of the titles; hits keep theirs."""
    return tuple(
        Group(translate("finding", title), tuple(_entry(hit) for hit in hits if hit.kind is kind))
        for kind, title in _TITLES.items()
    )


def _entry(hit: Hit) -> Entry:
    excerpt = " ".join(hit.excerpt.split())
    page = page_words(hit.page) if hit.page is not None else ""
    if hit.kind in (HitKind.CLAIM, HitKind.PAGE, HitKind.NOTE):
        # The sentence first, whose it is after it.
        quoted = f"“{excerpt}”" if hit.kind is not HitKind.NOTE else excerpt
        return Entry(quoted, ", ".join(part for part in (hit.title, page) if part), hit)
    return Entry(hit.title, excerpt if excerpt != hit.title else "", hit)
