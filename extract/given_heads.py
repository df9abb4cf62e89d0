"""A head that a label or a lead-in gives to the words behind it: 'Suitable primers: 2K acrylic, epoxy'."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from dataclasses import replace

from extract.mention import Mention

_PARTS = re.compile(r"[^,;/().:]+?(?= (?:and|or|and/or|as well as|plus) |[,;/().:]|$)")
_JOIN = re.compile(r"(?:\s|(?:and|or|and/or|as well as|plus|also|all|any|the) )*")


def with_head(
    folded: str, start: int, kinds: Sequence[Mention], head: str, find: Callable[[str], Sequence[Mention]]
) -> list[Mention]:
    """kinds, where the parts of folded[start:] that lack a noun take the head.

    find gives the kinds of a text. A part keeps what it means by itself where the head makes nothing of it.
    """
    out = list(kinds)
    for part in _PARTS.finditer(folded, start):
        joint = _JOIN.match(part.group())
        begin = part.start() + (joint.end() if joint is not None else 0)
        words = folded[begin : part.end()].rstrip()
        if not words:
            continue
        made = find(f"{words} {head}")
        plain = find(head)
        if len(made) != 1 or made[0].end <= len(words) + 1 or made[0].start >= len(words):
            continue
        if not plain or made[0].object == plain[0].object or made[0].start > 0:
            continue
        out = [k for k in out if k.end <= begin or k.start >= begin + len(words)]
        out.append(replace(made[0], start=begin, end=begin + len(words), words=words))
    return sorted(out, key=lambda m: m.start)
