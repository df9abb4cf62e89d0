"""Which kinds and products a passage mentions.

``Vocabulary.load("en")`` reads vocabulary/<language>/terms.toml into one tree of words; ``bind`` adds the names
of a sheet's own product and of the others that it names. A mention's span is in the text given, so a match on
a Passage's text leads straight to its glyphs.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from functools import cache
from importlib import resources
from typing import Any

from extract.claims import PRODUCT_PREFIX, SELF
from extract.document import Document, fold
from extract.kinds import ancestors, is_known
from extract.names import ProductNames, SubjectNames, document_texts

__all__ = ["Mention", "SubjectNames", "Vocabulary"]


@dataclass(frozen=True, slots=True)
class Mention:
    """A kind, a named product ('product:NAME') or the sheet's own product ('self') in a text.

    beneath is what the words mean where the thing is found there and not put on ('nitro' is old soft paint).
    of_kind is a named product's kind where the words beside its name say it. pronoun marks an 'it'.
    """

    start: int
    end: int
    object: str
    words: str
    beneath: str | None = None
    of_kind: str | None = None
    pronoun: bool = False

    @property
    def is_self(self) -> bool:
        return self.object == SELF

    @property
    def is_product(self) -> bool:
        return self.object.startswith(PRODUCT_PREFIX)

    def as_found(self) -> str:
        """The object where it lies beneath the next coat."""
        return self.beneath or self.object


@dataclass(slots=True)
class _Term:
    object: str | None
    beneath: str | None
    american: str | None
    combine: Mapping[str, str]


@dataclass(slots=True)
class _Node:
    next: dict[str, _Node] = field(default_factory=dict)
    modifiers: list[str] = field(default_factory=list)
    standing: str | None = None
    term: _Term | None = None


@dataclass(slots=True)
class _Lexeme:
    start: int
    end: int
    modifiers: tuple[str, ...]
    standing: str | None
    term: _Term | None
    plain: bool = False
    """True where the term is a head by itself and its modifiers come from the words before."""


_WORD = re.compile(r"\w+")
_INNER_GAP = re.compile(r"[ \-/'.]{1,2}|'s | - ?")
_CLOSE = re.compile(r"[ \-/]{1,2}")
_CONNECT = re.compile(
    r"\s*(?:,|/|&|\+|;|,? ?\band/or\b|,? ?\band\b|,? ?\bor\b|,? ?\bas well as\b)\s*(?:other |the |any )?"
)
_AND = re.compile(r"\s*(?:/|&|\band/or\b|\band\b|\bor\b)\s*")
_POST = re.compile(r"\s*(?:,|\(|:| -)\s*")
_PACKS = ("1k", "2k", "water", "solvent")
_POSTPONED = frozenset({"1k", "2k", "water", "solvent", "bare", "blasted", "rusted"})


class Vocabulary:
    """The terms of one language. Immutable; bind() gives a copy that knows a sheet's product names."""

    def __init__(
        self,
        root: _Node,
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
        self._own_kind: str | None = None
        self._american = False
        self._bound_to: tuple[int, SubjectNames] | None = None
        self._cache: dict[str, tuple[Mention, ...]] = {}

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
        bound._self_phrases = _self_pattern(self._own, subject.kind)
        return bound

    @property
    def own_kind(self) -> str | None:
        return self._own_kind

    def _is_word(self, word: str) -> bool:
        return word in self._root.next

    def _is_head(self, word: str) -> bool:
        node = self._root.next.get(word)
        return node is not None and node.term is not None and node.term.object is not None

    def mentions(self, text: str) -> tuple[Mention, ...]:
        """Every mention in the text, in order and not overlapping; the text may be folded or as printed."""
        known = self._cache.get(text)
        if known is None:
            known = self._cache[text] = tuple(self._find(text))
        return known

    def _find(self, text: str) -> list[Mention]:
        folded = fold(text)
        named = self._named(text, folded)
        taken = [(m.start, m.end) for m in named]
        kinds = self._kinds(folded, taken)
        return _settle(folded, named, kinds)

    def _named(self, text: str, folded: str) -> list[Mention]:
        out: list[Mention] = []
        if self._names is not None:
            for start, end, name in self._names.find(text):
                object_ = SELF if name is None else PRODUCT_PREFIX + name
                out.append(Mention(start, end, object_, text[start:end]))
        if self._self_phrases is not None:
            for match in self._self_phrases.finditer(folded):
                if not any(m.start < match.end() and match.start() < m.end for m in out):
                    pronoun = match.group() in self._own["pronouns"]
                    out.append(Mention(match.start(), match.end(), SELF, match.group(), pronoun=pronoun))
        return sorted(out, key=lambda m: m.start)

    def _lexemes(self, folded: str, taken: list[tuple[int, int]]) -> list[_Lexeme]:
        words = [(m.start(), m.end()) for m in _WORD.finditer(folded)]
        out: list[_Lexeme] = []
        i = 0
        while i < len(words):
            start, end = words[i]
            if any(a < end and start < b for a, b in taken):
                i += 1
                continue
            node = self._root.next.get(folded[start:end])
            best: tuple[int, _Node] | None = None
            j = i
            while node is not None:
                if node.modifiers or node.term:
                    best = (j, node)
                if j + 1 >= len(words):
                    break
                gap = folded[words[j][1] : words[j + 1][0]]
                if not _INNER_GAP.fullmatch(gap) or any(a < words[j + 1][1] and words[j + 1][0] < b for a, b in taken):
                    break
                j += 1
                node = node.next.get(folded[words[j][0] : words[j][1]])
            if best is None:
                i += 1
                continue
            last, found = best
            out.append(_Lexeme(start, words[last][1], tuple(found.modifiers), found.standing, found.term))
            i = last + 1
        return out

    def _kinds(self, folded: str, taken: list[tuple[int, int]]) -> list[Mention]:
        lexemes = self._lexemes(folded, taken)
        out: list[Mention] = []
        used: set[int] = set()
        for h, lexeme in enumerate(lexemes):
            if h in used or lexeme.term is None:
                continue
            if lexeme.modifiers and self._is_modifier_here(folded, lexemes, h):
                continue
            out.extend(self._head(folded, lexemes, h, used))
        for i, lexeme in enumerate(lexemes):
            if i not in used and lexeme.term is None and lexeme.standing:
                out.append(self._alone(folded, lexemes, i, used))
        return sorted(out, key=lambda m: m.start)

    def _alone(self, folded: str, lexemes: list[_Lexeme], i: int, used: set[int]) -> Mention:
        """A modifier that means something without a head ('nitro', 'two-pack epoxy')."""
        packs: list[str] = []
        start = lexemes[i].start
        for k in _close_before(lexemes, i, folded):
            if k in used:
                break
            packs.extend(lexemes[k].modifiers)
            used.add(k)
            start = lexemes[k].start
        return self._mention(folded, start, lexemes[i].end, _with_packs(lexemes[i].standing or "", packs))

    @staticmethod
    def _is_modifier_here(folded: str, lexemes: list[_Lexeme], h: int) -> bool:
        """A word that is both a head and a modifier is the latter where a head that takes it follows."""
        here = lexemes[h]
        for nxt in lexemes[h + 1 : h + 4]:
            gap = folded[here.end : nxt.start]
            if not _CLOSE.fullmatch(gap):
                return False
            if nxt.term is not None and any(m in nxt.term.combine for m in lexemes[h].modifiers):
                return True
            here = nxt
        return False

    def _head(self, folded: str, lexemes: list[_Lexeme], h: int, used: set[int]) -> Iterator[Mention]:
        head = lexemes[h]
        term = head.term
        if term is None:
            return
        groups: list[tuple[int, int, list[str]]] = []
        own: list[str] = []
        start = head.start
        k = h - 1
        while k >= 0 and k not in used and lexemes[k].modifiers and _CLOSE.fullmatch(folded[lexemes[k].end : start]):
            own = [*lexemes[k].modifiers, *own]
            start = lexemes[k].start
            used.add(k)
            k -= 1
        groups.append((start, head.end, own))
        # "etch and wash primers": modifiers set off by commas and conjunctions share the head.
        edge = start
        while own and k >= 0 and k not in used and lexemes[k].modifiers and lexemes[k].term is None:
            if not _CONNECT.fullmatch(folded[lexemes[k].end : edge]):
                break
            mods = list(lexemes[k].modifiers)
            if not self._takes(term, mods):
                break
            first = last = k
            used.add(k)
            k -= 1
            while (
                k >= 0
                and lexemes[k].modifiers
                and lexemes[k].term is None
                and _CLOSE.fullmatch(folded[lexemes[k].end : lexemes[first].start])
            ):
                mods = [*lexemes[k].modifiers, *mods]
                first = k
                used.add(k)
                k -= 1
            groups.append((lexemes[first].start, lexemes[last].end, mods))
            edge = lexemes[first].start
        used.add(h)
        inherited = self._inherited(folded, lexemes, h) if not own else []
        named = self._object(term, own or inherited) is not None
        post, end = self._postponed(folded, lexemes, h, used) if named else ([], head.end)
        for first, stop, own_mods in reversed(groups):
            last_group = stop == head.end
            mods = own_mods or inherited
            if post:
                variants = {self._object(term, [*mods, *p]) for p in post}
                plain = self._object(term, mods)
                if plain and {f"{plain}.1k", f"{plain}.2k"} <= variants:
                    variants = {plain}
                for variant in sorted(o for o in variants if o):
                    yield self._mention(folded, first, end if last_group else stop, variant, term)
                continue
            object_ = self._object(term, mods)
            if object_ is not None:
                yield self._mention(folded, first, end if last_group else stop, object_, term)

    @staticmethod
    def _inherited(folded: str, lexemes: list[_Lexeme], h: int) -> list[str]:
        """The modifiers of the head before, in 'polyester fillers and putties'."""
        if h == 0:
            return []
        before = lexemes[h - 1]
        here = lexemes[h]
        if before.term is None or here.term is None or not _AND.fullmatch(folded[before.end : here.start]):
            return []
        if (before.term.object or "?").split(".")[0] != (here.term.object or "!").split(".")[0]:
            return []
        mods: list[str] = []
        k, edge = h - 2, before.start
        while (
            k >= 0
            and lexemes[k].modifiers
            and lexemes[k].term is None
            and _CLOSE.fullmatch(folded[lexemes[k].end : edge])
        ):
            mods = [*lexemes[k].modifiers, *mods]
            edge = lexemes[k].start
            k -= 1
        return [m for m in mods if m in ("polyester", "1k", "2k", "water", "solvent", "old", "factory")]

    @staticmethod
    def _postponed(folded: str, lexemes: list[_Lexeme], h: int, used: set[int]) -> tuple[list[list[str]], int]:
        """Modifiers that follow their head: 'base coat, solvent or water-borne', 'steel, bare'."""
        out: list[list[str]] = []
        end = lexemes[h].end
        k = h + 1
        while k < len(lexemes):
            nxt = lexemes[k]
            gap = folded[end : nxt.start]
            fits = (_POST if not out else _CONNECT).fullmatch(gap) or (
                not out and gap == " " and "rusted" in nxt.modifiers
            )
            if not fits or nxt.term is not None or not (set(nxt.modifiers) & _POSTPONED):
                break
            if k + 1 < len(lexemes) and _CLOSE.fullmatch(folded[nxt.end : lexemes[k + 1].start]):
                break
            if re.match(r"[ -][a-z]", folded[nxt.end : nxt.end + 2]) and not re.match(
                r" (?:or|and|version|type|with|sanded|in)\b", folded[nxt.end : nxt.end + 9]
            ):
                break
            out.append([m for m in nxt.modifiers if m in _POSTPONED])
            end = nxt.end
            used.add(k)
            k += 1
        return out, end

    @staticmethod
    def _takes(term: _Term, mods: list[str]) -> bool:
        if any(m in term.combine for m in mods):
            return True
        return term.object is not None and any(m in _PACKS and is_known(f"{term.object}.{m}") for m in mods)

    @staticmethod
    def _object(term: _Term, mods: list[str]) -> str | None:
        object_ = term.object
        materials = [m for m in mods if m in term.combine and m not in _PACKS]
        # A particular finish ('factory', 'soft') says more than 'old' or 'acrylic'.
        weak = {"old": 1, "bare": 1, "spray": 1, "acrylic": 2}
        materials.sort(key=lambda m: weak.get(m, 0))
        if materials:
            object_ = term.combine[materials[0]]
            if materials[0] == "acrylic" and "polyester" in mods and "polyester" in term.combine:
                object_ = term.combine["polyester"]
        packs = [m for m in mods if m in _PACKS]
        if not materials or (materials[0] == "acrylic" and term.object is None):
            for pack in packs:
                if pack in term.combine:
                    return term.combine[pack]
        return _with_packs(object_, packs) if object_ else None

    def _mention(
        self,
        folded: str,
        start: int,
        end: int,
        object_: str,
        term: _Term | None = None,
    ) -> Mention:
        beneath = self._beneath.get(object_)
        if term is not None and object_ == term.object:
            if self._american and term.american:
                object_ = term.american
                beneath = self._beneath.get(object_)
            beneath = term.beneath or beneath
        if beneath == "finish.old" and self._own_kind and self._own_kind.startswith("topcoat"):
            beneath = None
        return Mention(start, end, object_, folded[start:end], beneath)


def _close_before(lexemes: list[_Lexeme], i: int, folded: str) -> list[int]:
    """The modifiers that stand close before lexeme i, nearest first."""
    out: list[int] = []
    k, edge = i - 1, lexemes[i].start
    while k >= 0 and lexemes[k].term is None and _CLOSE.fullmatch(folded[lexemes[k].end : edge]):
        out.append(k)
        edge = lexemes[k].start
        k -= 1
    return out


def _with_packs(object_: str, packs: list[str]) -> str:
    for pack in packs:
        if pack in _PACKS and is_known(f"{object_}.{pack}"):
            return f"{object_}.{pack}"
    return object_


_EXAMPLE = re.compile(
    r"(?:e\. ?g\.?|eg\.?|such as|for example|for instance|including|incl\.?|like|our own|our|i\. ?e\.?)[ ,:]*$"
)
_OTHER = re.compile(r"^ ?(?:,|and|or|/)+ ?(?:and |or )?(?:any )?(?:other|another|similar|comparable|equivalent)\b")
_TOUCHING = re.compile(r"[ \-]?")


def _settle(folded: str, named: list[Mention], kinds: list[Mention]) -> list[Mention]:
    """Drop a named product's own kind word, and the general word that a more particular one explains."""
    products = [m for m in named if m.is_product]
    drop: set[int] = set()
    of_kind: dict[int, str] = {}
    for p in products:
        for i, kind in enumerate(kinds):
            if i in drop:
                continue
            before = folded[kind.end : p.start] if kind.end <= p.start else None
            after = folded[p.end : kind.start] if p.end <= kind.start else None
            beside = (before is not None and _TOUCHING.fullmatch(before)) or (
                after is not None and _TOUCHING.fullmatch(after)
            )
            bracketed = before is not None and re.fullmatch(r" ?\(", before) is not None
            if bracketed:
                inside = folded[kind.end : _closing(folded, kind.end)]
                count = sum(kind.end <= q.start < kind.end + len(inside) for q in products)
                bracketed = count == 1 and not re.search(r"\brange\b|\bseries\b|e\. ?g\.|such as|\bour\b", inside)
            if beside or bracketed:
                drop.add(i)
                of_kind[p.start] = kind.object
    drop.update(i for i, kind in enumerate(kinds) if _is_role(folded, kind))
    for i, kind in enumerate(kinds):
        nxt = next((k for k in kinds[i + 1 :] if k.start >= kind.end), None)
        if nxt is None or kind.object not in ("finish.old", "surface.plastic", "surface.steel", "topcoat"):
            continue
        gap = folded[kind.end : nxt.start]
        refined = nxt.as_found().startswith("finish.") or nxt.object.startswith("family.1k")
        if kind.object == "finish.old" and re.fullmatch(r" ?[:(] ?(?:[\w-]+ ){0,3}?", gap) and refined:
            drop.add(i)
        if kind.object == "surface.plastic" and nxt.object == "surface.plastic" and re.fullmatch(r" ?\( ?", gap):
            continue
    out = [replace(m, of_kind=of_kind[m.start]) if m.start in of_kind else m for m in named]
    out.extend(k for i, k in enumerate(kinds) if i not in drop)
    return sorted(out, key=lambda m: (m.start, m.object))


_AS = re.compile(r"(?<!such )\bas (?:a |an |the )?(?:[\w-]+ )?$")
_VERB = re.compile(r" (?:pinholes|any|the|small|scratches|low|with|over|in)\b")


def _is_role(folded: str, kind: Mention) -> bool:
    """'As a sealer', 'sealer mix': a way of using this or that product; 'glaze pinholes': what to do."""
    before, after = folded[: kind.start], folded[kind.end :]
    if _AS.search(before) or re.match(r" (?:mix|mode|version|variant)\b", after):
        return True
    return kind.words in ("glaze", "etch", "filler") and (
        re.search(r"(?:^|[.;:] |\bthen |\band )$", before) is not None and _VERB.match(after) is not None
    )


def _closing(folded: str, start: int) -> int:
    end = folded.find(")", start)
    return len(folded) if end < 0 else end


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
    root = _Node()
    for entry in raw["modifier"]:
        standing_words = entry.get("standing_words", entry["words"]) if "standing" in entry else ()
        for words in entry["words"]:
            node = _place(root, words)
            node.modifiers.append(entry["id"])
            if words in standing_words:
                node.standing = entry["standing"]
    for entry in raw["term"]:
        term = _Term(entry.get("object"), entry.get("beneath"), entry.get("american"), entry.get("combine", {}))
        for words in entry["words"]:
            for form in (words, _plural(words)):
                _place(root, form).term = term
    _drop_compounds(root, root, [])
    return Vocabulary(root, raw["beneath"], raw["self"], language, frozenset(raw["names"]["no_name"].split()))


def _drop_compounds(root: _Node, node: _Node, path: list[str]) -> None:
    """Forget a whole term that a modifier and a head make up anyway, so that the modifier can be shared.

    'Weld-through primers' must stay two lexemes for 'zinc-rich and weld-through primers'.
    """
    for word, nxt in list(node.next.items()):
        here = [*path, word]
        _drop_compounds(root, nxt, here)
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


def _follow(root: _Node, words: list[str]) -> _Node | None:
    node: _Node | None = root
    for word in words:
        node = node.next.get(word) if node is not None else None
    return node


def _place(root: _Node, words: str) -> _Node:
    node = root
    for word in _WORD.findall(words):
        node = node.next.setdefault(word, _Node())
    return node


def _plural(words: str) -> str:
    if words.endswith("y") and words[-2] not in "aeou":
        return words[:-1] + "ies"
    if words.endswith(("s", "x", "ch", "sh", "z")):
        return words + "es"
    return words + "s"
