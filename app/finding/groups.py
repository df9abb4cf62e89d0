"""Hits under headings, in words. No Qt widget."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from app.grouped_list import Entry, Group
from store.records import Hit, HitKind

_TITLES: Mapping[HitKind, str] = {
    HitKind.PRODUCT: "Products",
    HitKind.MAKER: "Makers",
    HitKind.CLAIM: "What sheets say",
    HitKind.NOTE: "Your notes",
    HitKind.PAGE: "In the sheets' own words",
}


def groups_of(hits: Sequence[Hit]) -> tuple[Group, ...]:
    """One group a kind of hit, in the order of the titles; hits keep theirs."""
    return tuple(
        Group(title, tuple(_entry(hit) for hit in hits if hit.kind is kind)) for kind, title in _TITLES.items()
    )


def _entry(hit: Hit) -> Entry:
    excerpt = " ".join(hit.excerpt.split())
    page = f"p. {hit.page}" if hit.page is not None else ""
    if hit.kind in (HitKind.CLAIM, HitKind.PAGE, HitKind.NOTE):
        # The sentence first, whose it is after it.
        quoted = f"“{excerpt}”" if hit.kind is not HitKind.NOTE else excerpt
        return Entry(quoted, ", ".join(part for part in (hit.title, page) if part), hit)
    return Entry(hit.title, excerpt if excerpt != hit.title else "", hit)
