"""`tinsheet find`: one search over products, makers, claims, notes and the sheets' own words."""

from __future__ import annotations

import argparse
from collections.abc import Mapping

from app.command_line.libraries import opened
from store.records import Hit, HitKind

_KINDS: Mapping[HitKind, str] = {
    HitKind.PRODUCT: "product",
    HitKind.MAKER: "maker",
    HitKind.CLAIM: "claim",
    HitKind.PAGE: "sheet",
    HitKind.NOTE: "your note",
}


def run(arguments: argparse.Namespace) -> int:
    words = " ".join(arguments.words)
    with opened(arguments, read_only=True) as library:
        hits = library.search(words, limit=arguments.limit)
    for hit in hits:
        print(hit_words(hit))
    if not hits:
        print(f"Nothing in the library holds “{words}”.")
    return 0


def hit_words(hit: Hit) -> str:
    page = f", p. {hit.page}" if hit.page is not None else ""
    excerpt = f"\n    {' '.join(hit.excerpt.split())}" if hit.excerpt.strip() and hit.excerpt != hit.title else ""
    return f"{hit.title} ({_KINDS[hit.kind]}{page}){excerpt}"
