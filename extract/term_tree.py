"""The tree of words that terms.toml is read into."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, field

WORD = re.compile(r"\w+")


@dataclass(slots=True)
class Term:
    """A head or a whole term: what it means, and what modifiers make of it."""

    object: str | None
    beneath: str | None
    american: str | None
    combine: Mapping[str, str]


@dataclass(slots=True)
class Node:
    """A word of the tree, with what a text means that ends on it."""

    next: dict[str, Node] = field(default_factory=dict)
    modifiers: list[str] = field(default_factory=list)
    standing: str | None = None
    term: Term | None = None


@dataclass(slots=True)
class Lexeme:
    """A term or modifier where a text has it."""

    start: int
    end: int
    modifiers: tuple[str, ...]
    standing: str | None
    term: Term | None
    plain: bool = False
    """True where the term is a head by itself and its modifiers come from the words before."""


def drop_compounds(root: Node, node: Node, path: list[str]) -> None:
    """Forget a whole term that a modifier and a head make up anyway, so that the modifier can be shared.

    'Weld-through primers' must stay two lexemes for 'zinc-rich and weld-through primers'.
    """
    for word, nxt in list(node.next.items()):
        here = [*path, word]
        drop_compounds(root, nxt, here)
        if nxt.term is None or nxt.modifiers or len(here) < 2:
            continue
        for cut in range(1, len(here)):
            front, back = _follow(root, here[:cut]), _follow(root, here[cut:])
            if front is None or back is None or back.term is None or front.term is not None:
                continue
            made = [back.term.combine[m] for m in front.modifiers if m in back.term.combine]
            if made and made[0] == nxt.term.object and nxt.term.beneath is None:
                nxt.term = None
                break


def _follow(root: Node, words: list[str]) -> Node | None:
    node: Node | None = root
    for word in words:
        node = node.next.get(word) if node is not None else None
    return node


def place(root: Node, words: str) -> Node:
    """The node of these words, made where it is missing."""
    node = root
    for word in WORD.findall(words):
        node = node.next.setdefault(word, Node())
    return node


def plural(words: str) -> str:
    if words.endswith("y") and words[-2] not in "aeou":
        return words[:-1] + "ies"
    if words.endswith(("s", "x", "ch", "sh", "z")):
        return words + "es"
    return words + "s"
