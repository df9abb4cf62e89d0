"""Which kinds and products a passage mentions.

``Vocabulary.load("en")`` reads vocabulary/<language>/terms.toml into one tree of words; ``bind`` adds the names
of a sheet's own product and of the others that it names. A mention's span is in the text given, so a match on
a Passage's text leads straight to its glyphs.
"""

from __future__ import annotations

import itertools
import re
import tomllib
from collections.abc import Mapping
from dataclasses import replace
from functools import cache
from importlib import resources
from typing import Any

from extract.claims import PRODUCT_PREFIX, SELF
from extract.document import Document, fold
from extract.given_heads import with_head
from extract.kind_finder import KindFinder
from extract.kinds import ancestors, is_known
from extract.mention import Mention
from extract.names import ProductNames, SubjectNames, document_texts
from extract.settling import settle
from extract.speech import speech
from extract.term_tree import WORD, Node, Term, drop_compounds, place, plural

__all__ = ["Mention", "SubjectNames", "Vocabulary"]


class Vocabulary:
    """The terms of one language. Immutable; bind() gives a copy that knows a sheet's product names."""

    def __init__(
        self,
        root: Node,
        beneath: Mapping[str, str],
        own: Mapping[str, Any],
        language: str,
        no_name: frozenset[str],
    ) -> None:
        self.language = language
        self._root = root
        self._beneath = beneath
        self._own = own
        self._no_name = no_name
        self._names: ProductNames | None = None
        self._self_phrases: re.Pattern[str] | None = None
        self._self_patterns: dict[str | None, re.Pattern[str]] = {}
        self._own_kind: str | None = None
        self._american = False
        self._bound_to: tuple[int, SubjectNames] | None = None
        self._cache: dict[tuple[str, str, int], tuple[Mention, ...]] = {}

    @staticmethod
    def load(language: str) -> Vocabulary:
        """The vocabulary of a language ('en'). Raises FileNotFoundError for one that has none."""
        return _load(language)

    def bind(self, document: Document, subject: SubjectNames) -> Vocabulary:
        """A copy that also knows the names on this sheet and its spelling, British or American."""
        if self._bound_to == (id(document), subject):
            return self
        texts = document_texts(document)
        bound = self.with_names(
            subject, ProductNames.collect(texts, subject, self._is_word, self._no_name, self._is_head)
        )
        bound._american = _is_american(texts)
        bound._bound_to = (id(document), subject)
        return bound

    def with_names(self, subject: SubjectNames, names: ProductNames) -> Vocabulary:
        bound = Vocabulary(self._root, self._beneath, self._own, self.language, self._no_name)
        bound._names = names
        bound._own_kind = subject.kind
        bound._american = self._american
        bound._self_phrases = self._self_pattern(subject.kind)
        return bound

    def _self_pattern(self, kind: str | None) -> re.Pattern[str]:
        if kind not in self._self_patterns:
            self._self_patterns[kind] = _self_pattern(self._own, kind)
        return self._self_patterns[kind]

    @property
    def own_kind(self) -> str | None:
        return self._own_kind

    def _is_word(self, word: str) -> bool:
        return word in self._root.next

    def _is_head(self, word: str) -> bool:
        node = self._root.next.get(word)
        return node is not None and node.term is not None and node.term.object is not None

    def has_head(self, words: str) -> bool:
        """Whether words of a mention end in a noun of the trade ('epoxy primer'), not in an adjective ('epoxy')."""
        split = WORD.findall(fold(words))
        for start in range(len(split)):
            node: Node | None = self._root
            for word in split[start:]:
                node = node.next.get(word) if node is not None else None
            if node is not None and node.term is not None:
                return True
        return False

    def mentions(self, text: str, head: str = "", behind: int = 0) -> tuple[Mention, ...]:
        """Every mention in the text, in order and not overlapping; the text may be folded or as printed.

        head is the noun that a label gives to the words from the offset behind on: 'Primers: 2K acrylic, epoxy'.
        """
        key = (text, head, behind)
        known = self._cache.get(key)
        if known is None:
            known = self._cache[key] = tuple(self._find(text, head, behind))
        return known

    def _find(self, text: str, head: str, behind: int) -> list[Mention]:
        folded = fold(text)
        named = self._named(text, folded)
        taken = [(m.start, m.end) for m in named]
        finder = self._finder()
        kinds = finder.find(folded, taken)
        if head:
            kinds = with_head(folded, behind, kinds, head, lambda words: finder.find(words, []))
        found = self._narrowed(folded, settle(folded, named, kinds, self.language))
        return _with_primed(folded, found, self.language) if (self._own_kind or "").startswith("sealant") else found

    def _narrowed(self, folded: str, found: list[Mention]) -> list[Mention]:
        """Without 'enamels' in 'synthetic or one-pack cart enamels': the words before say which enamels are meant."""
        out = list(found)
        for last, here in itertools.pairwise(found):
            bare = here.object in _BARE_KINDS and " " not in here.words and not here.is_product
            told = not (last.is_self or last.is_product or last.object in _BARE_KINDS or self.has_head(last.words))
            if bare and told and last.end <= here.start and _UNKNOWN_BETWEEN.fullmatch(folded, last.end, here.start):
                out.remove(here)
                # 'One-pack cart enamels' are one-pack enamels, not all that comes in one pack.
                joined = self._finder().find(f"{fold(last.words)} {fold(here.words)}", [])
                if len(joined) == 1:
                    out[out.index(last)] = replace(last, object=joined[0].object, beneath=joined[0].beneath)
        return out

    def _named(self, text: str, folded: str) -> list[Mention]:
        out: list[Mention] = []
        if self._names is not None:
            for start, end, name in self._names.find(text):
                object_ = SELF if name is None else PRODUCT_PREFIX + name
                out.append(Mention(start, end, object_, text[start:end]))
        if self._self_phrases is not None:
            for match in self._self_phrases.finditer(folded):
                if match.group() == "itself" and _EMPHASIS.search(folded, 0, match.start()):
                    continue
                if not any(m.start < match.end() and match.start() < m.end for m in out):
                    pronoun = match.group() in self._own["pronouns"]
                    out.append(Mention(match.start(), match.end(), SELF, match.group(), pronoun=pronoun))
        return sorted(out, key=lambda m: m.start)

    def _finder(self) -> KindFinder:
        return KindFinder(self._root, self._beneath, american=self._american, own_kind=self._own_kind)


def _with_primed(folded: str, found: list[Mention], language: str) -> list[Mention]:
    """'On primed or painted metal': a sealant goes over the primer, whichever it is."""
    primed = [
        Mention(m.start(), m.end(), "primer", m.group())
        for m in speech(language)["primed"].finditer(folded)
        if not any(f.start <= m.start() < f.end for f in found)
    ]
    return sorted([*found, *primed], key=lambda m: (m.start, m.object))


_BARE_KINDS = ("topcoat", "primer", "surfacer", "filler")
_UNKNOWN_BETWEEN = re.compile(
    r" (?:(?!(?:and|or|nor|with|over|on|onto|in|for|to|is|are|by|from|of|the|an?|as|under|upon|may|can|be|then|before|"
    r"after|but|not|only|must|should|which|that|when|if|into|its|our|any|all|both|than|used|using|without)\b)"
    r"[a-z-]+ ){1,2}"
)
"""A word or two of which the vocabulary knows nothing, between a word for a sort of paint and its noun."""
_EMPHASIS = re.compile(
    r"\b(?!(?:with|by|over|on|onto|to|for|of|in|and|or|upon|under|from|than|as|coat|recoat|overcoat|it|like)\b)"
    r"[a-z-]+ $"
)
"""'Rust itself' is rust; 'over itself' is this product."""


def _is_american(texts: list[str]) -> bool:
    whole = fold(" ".join(texts))
    american = len(re.findall(r"\b(?:color|colors|gray|aluminum|fiberglass|catalyzed|galvanized|mils?)\b|°f\b", whole))
    british = len(re.findall(r"\b(?:colour|colours|grey|aluminium|fibreglass|galvanised|fibre)\b|°c\b", whole))
    return american > british


def _self_pattern(own: Mapping[str, Any], kind: str | None) -> re.Pattern[str]:
    phrases = [*own["phrases"]]
    words: list[str] = []
    if kind is not None and is_known(kind):
        for k in (kind, *ancestors(kind)):
            words.extend(own["kind_words"].get(k, ()))
    for word in dict.fromkeys(words):
        phrases.extend(p.replace("{kind}", word) for p in own["kind_phrases"])
    phrases.extend(own["pronouns"])
    ordered = sorted(dict.fromkeys(phrases), key=len, reverse=True)
    # "the primer surfacer" is no "the primer", nor is "the primer of another maker".
    return re.compile(
        r"\b(?:" + "|".join(re.escape(p) for p in ordered) + r")(?:'s)?\b(?![ -](?:surfacer|filler|coats?\b)|-\w)"
    )


@cache
def _load(language: str) -> Vocabulary:
    path = resources.files("extract.vocabulary").joinpath(language, "terms.toml")
    raw = tomllib.loads(path.read_text("utf-8"))
    root = Node()
    for entry in raw["modifier"]:
        standing_words = entry.get("standing_words", entry["words"]) if "standing" in entry else ()
        for words in entry["words"]:
            node = place(root, words)
            node.modifiers.append(entry["id"])
            if words in standing_words:
                node.standing = entry["standing"]
    for entry in raw["term"]:
        term = Term(entry.get("object"), entry.get("beneath"), entry.get("american"), entry.get("combine", {}))
        for words in entry["words"]:
            for form in (words, plural(words)):
                place(root, form).term = term
    drop_compounds(root, root, [])
    return Vocabulary(root, raw["beneath"], raw["self"], language, frozenset(raw["names"]["no_name"].split()))
