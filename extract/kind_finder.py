"""Puts modifiers and heads together: 'etch and wash primers', 'base coat, solvent or water-borne'."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import replace

from extract.kinds import is_known
from extract.mention import Mention
from extract.term_tree import WORD, Lexeme, Node, Term

_INNER_GAP = re.compile(r"[ \-/'.]{1,2}|'s | - ?")
_CLOSE = re.compile(r"[ \-/]{1,2}")
_CLOSE_BRACKET = re.compile(r"\) ?")
_LISTED = re.compile(r" ?(?:,|/) ?(?:and |or )?| (?:and|or) ")
_OPEN_BRACKET = re.compile(r" ?\(")
_REMARK = re.compile(r"\(([^()]{1,40})\)[ \-]$")
"""'Epoxy (EP 20) primers': a remark between a word and its head."""
_CONNECT = re.compile(
    r"\s*(?:,|/|&|\+|;|,? ?\band/or\b|,? ?\band\b|,? ?\bor\b|,? ?\bas well as\b)\s*(?:other |the |any |at |of )?"
)
_OR = re.compile(r",? ?(?:or|and/or|/)")
_AND = re.compile(r"\s*(?:/|&|\band/or\b|\band\b|\bor\b)\s*")
_JOINED = re.compile(r" ?(?:,|/|&|,? and|,? or|,? and/or) ?")
_POST = re.compile(r"\s*(?:,|\(|:| -)\s*(?:at |of |only )?|\s+(?:of|at) ")
_PACKS = ("1k", "2k", "water", "solvent")
_POSTPONED = frozenset({"1k", "2k", "water", "solvent", "bare", "blasted", "rusted"})
_OF = frozenset({"polyester", "epoxy", "nitro", "synthetic", "acrylic", "rubber", "zinc_rich"})
"""What a thing may be said to be of ('putties of polyester')."""
_SHARED_BY_ALL = ("1k", "2k", "water", "solvent", "synthetic", "nitro", "rubber")
"""What, said of the first of a list, is said of every one: 'alkyd primers and enamels' are no enamels at large."""
_SHARED_BY_TOPS = ("epoxy", "acrylic")
"""'Epoxy primers and topcoats' are no topcoats at large; 'epoxy primers and fillers' may well be any fillers."""
_SHARED_BY_ALIKE = ("polyester", "old", "factory", "rusted")


class KindFinder:
    """Finds kinds in a folded text. american tells which meaning of 'lacquer' holds, own_kind the sheet's kind."""

    def __init__(self, root: Node, beneath: Mapping[str, str], *, american: bool, own_kind: str | None) -> None:
        self._root = root
        self._beneath = beneath
        self._american = american
        self._own_kind = own_kind

    def _lexemes(self, folded: str, taken: list[tuple[int, int]]) -> list[Lexeme]:
        words = [(m.start(), m.end()) for m in WORD.finditer(folded)]
        out: list[Lexeme] = []
        i = 0
        while i < len(words):
            start, end = words[i]
            if taken and any(a < end and start < b for a, b in taken):
                i += 1
                continue
            node = self._root.next.get(folded[start:end])
            best: tuple[int, Node] | None = None
            j = i
            while node is not None:
                if node.modifiers or node.term:
                    best = (j, node)
                if j + 1 >= len(words):
                    break
                gap = folded[words[j][1] : words[j + 1][0]]
                if gap != " " and not _INNER_GAP.fullmatch(gap):
                    break
                if taken and any(a < words[j + 1][1] and words[j + 1][0] < b for a, b in taken):
                    break
                j += 1
                node = node.next.get(folded[words[j][0] : words[j][1]])
            if best is None:
                i += 1
                continue
            last, found = best
            out.append(Lexeme(start, words[last][1], tuple(found.modifiers), found.standing, found.term))
            i = last + 1
        return out

    def find(self, folded: str, taken: list[tuple[int, int]]) -> list[Mention]:
        lexemes = self._lexemes(folded, taken)
        out: list[Mention] = []
        used: set[int] = set()
        for h, lexeme in enumerate(lexemes):
            if h in used or lexeme.term is None:
                continue
            if lexeme.modifiers and self._is_modifier_here(folded, lexemes, h):
                continue
            out.extend(self._head(folded, lexemes, h, used))
        for i, lexeme in reversed(list(enumerate(lexemes))):
            if i not in used and lexeme.term is None and lexeme.standing and not _explains(folded, lexeme):
                out.append(self._alone(folded, lexemes, i, used))
        return _compounded(folded, sorted(out, key=lambda m: m.start))

    def _alone(self, folded: str, lexemes: list[Lexeme], i: int, used: set[int]) -> Mention:
        """A modifier that means something without a head ('nitro', 'two-pack epoxy')."""
        packs: list[str] = []
        start = lexemes[i].start
        for k in _close_before(lexemes, i, folded):
            if k in used:
                break
            packs.extend(lexemes[k].modifiers)
            used.add(k)
            start = lexemes[k].start
        finish = {"1k": "topcoat.1k", "2k": "topcoat.solid.2k"}.get((*lexemes[i].modifiers, "")[0])
        behind = lexemes[i + 1] if i + 1 < len(lexemes) else None
        acrylic = behind is not None and behind.term is None and "acrylic" in behind.modifiers and i + 1 not in used
        if finish and behind is not None and acrylic and _CLOSE.fullmatch(folded[lexemes[i].end : behind.start]):
            # "1K or 2K acrylic" with nothing behind it is a finish.
            used.add(i + 1)
            return self._mention(folded, start, behind.end, finish)
        return self._mention(folded, start, lexemes[i].end, _with_packs(lexemes[i].standing or "", packs))

    @staticmethod
    def _is_modifier_here(folded: str, lexemes: list[Lexeme], h: int) -> bool:
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

    def _head(self, folded: str, lexemes: list[Lexeme], h: int, used: set[int]) -> Iterator[Mention]:
        head = lexemes[h]
        term = head.term
        if term is None:
            return
        groups: list[tuple[int, int, list[str]]] = []
        own: list[str] = []
        start = head.start
        k = h - 1
        for at in _before(folded, lexemes, h, used):
            own = [*lexemes[at].modifiers, *own]
            start = lexemes[at].start
            used.add(at)
            k = at - 1
        groups.append((start, head.end, own))
        # "etch and wash primers": modifiers set off by commas and conjunctions share the head.
        edge = start
        while own and k >= 0 and k not in used and lexemes[k].modifiers and lexemes[k].term is None:
            if not _CONNECT.fullmatch(folded[lexemes[k].end : edge]):
                break
            mods = list(lexemes[k].modifiers)
            if not self._takes(term, mods) or _listed_alone(folded, lexemes, k, head):
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
        pack = len(groups) == 2 and set(groups[1][2]) <= {"1k", "2k", "neutral"} and not set(own) & {"1k", "2k"}
        if pack and re.fullmatch(r" ?, ?", folded[groups[1][1] : start]):
            # "A two-component, chromate-free wash primer" is one thing.
            groups = [(groups[1][0], head.end, [*groups[1][2], *own])]
            own = groups[0][2]
        first_mods = groups[-1][2]
        shared_pack = [m for m in first_mods if m in ("1k", "2k")] if len(groups) > 1 and len(first_mods) > 1 else []
        if shared_pack and not any({"1k", "2k"} & set(mods) for _, _, mods in groups[:-1]):
            # "2K HS or UHS clear coats" are 2K, both of them.
            groups = [(a, b, [*shared_pack, *mods] if mods is not first_mods else mods) for a, b, mods in groups]
            own = groups[0][2]
        used.add(h)
        inherited = self._inherited(folded, lexemes, h) if set(own) <= {"solid", "neutral"} else []
        named = self._object(term, own or inherited) is not None
        post, end = self._postponed(folded, lexemes, h, used) if named else ([], head.end)
        for first, stop, own_mods in reversed(groups):
            # "Bare, sanded metal" is one thing.
            only_bare = stop != head.end and own_mods and set(own_mods) <= {"bare", "neutral"}
            if only_bare and _OR.match(folded, stop) is None:
                continue
            last_group = stop == head.end
            mods = [*inherited, *own_mods] if last_group else own_mods or inherited
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
    def _inherited(folded: str, lexemes: list[Lexeme], h: int) -> list[str]:
        """The modifiers of the heads before, in 'polyester fillers and putties', '2K primers, fillers and paints'."""
        here = lexemes[h]
        own = next(iter([*_before(folded, lexemes, h, set())][-1:]), h)
        first = own
        while (
            first
            and (first == own or lexemes[first].term is not None)
            and lexemes[first - 1].term is not None
            and _JOINED.fullmatch(folded[lexemes[first - 1].end : lexemes[first].start])
        ):
            first -= 1
        if first == own or here.term is None:
            return []
        near = lexemes[own - 1]
        akin = (
            near.term is not None
            and (near.term.object or "?").split(".")[0] == (here.term.object or "!").split(".")[0]
            and _AND.fullmatch(folded[near.end : here.start]) is not None
        )
        mods: list[str] = []
        for k in _before(folded, lexemes, first, set()):
            mods = [*lexemes[k].modifiers, *mods]
        shared = _SHARED_BY_ALL + (_SHARED_BY_ALIKE if akin and first == own - 1 else ())
        if here.term.object in (None, "topcoat"):
            shared += _SHARED_BY_TOPS
        return [m for m in mods if m in shared]

    @staticmethod
    def _postponed(folded: str, lexemes: list[Lexeme], h: int, used: set[int]) -> tuple[list[list[str]], int]:
        """Modifiers that follow their head: 'base coat, solvent or water-borne', 'steel, bare'."""
        out: list[list[str]] = []
        end = lexemes[h].end
        k = h + 1
        while k < len(lexemes):
            nxt = lexemes[k]
            gap = folded[end : nxt.start]
            fits = (_POST if not out else _CONNECT).fullmatch(gap) or (
                not out and gap == " " and {"rusted", "1k", "2k", "water", "solvent"} & set(nxt.modifiers)
            )
            able = _POSTPONED | _OF if gap.strip() == "of" else _POSTPONED
            if ":" in gap and re.match(r" (?:with|and|the|all|it|then)\b", folded[nxt.end :]):
                break  # 'Metal: clean with a wipe' tells what to do
            if not fits or nxt.term is not None or not (set(nxt.modifiers) & able):
                break
            if not out and "," in gap and _opens_a_head(folded, lexemes, k):
                break
            if k + 1 < len(lexemes) and _CLOSE.fullmatch(folded[nxt.end : lexemes[k + 1].start]):
                break
            if re.match(r"[ -][a-z]", folded[nxt.end : nxt.end + 2]) and not re.match(
                r" (?:or|and|only|version|type|with|sanded|in|is|are|may|can|must|on|after|before|from|hs|uhs|ms)\b",
                folded[nxt.end : nxt.end + 9],
            ):
                break
            out.append([m for m in nxt.modifiers if m in able])
            end = nxt.end
            used.add(k)
            k += 1
        return out, end

    @staticmethod
    def _takes(term: Term, mods: list[str]) -> bool:
        if any(m in term.combine for m in mods) or (term.object == "surface.steel" and "bare" in mods):
            return True
        return term.object is not None and any(m in _PACKS and is_known(f"{term.object}.{m}") for m in mods)

    @staticmethod
    def _object(term: Term, mods: list[str]) -> str | None:
        object_ = term.object
        materials = [m for m in mods if m in term.combine and m not in _PACKS]
        # A particular finish ('factory', 'soft') says more than 'old' or 'acrylic'.
        weak = {"old": 1, "bare": 1, "solid": 1, "spray": 1, "acrylic": 2}
        materials.sort(key=lambda m: weak.get(m, 0))
        if materials:
            object_ = term.combine[materials[0]]
            if materials[0] == "acrylic" and "polyester" in mods and "polyester" in term.combine:
                object_ = term.combine["polyester"]
        packs = sorted((m for m in mods if m in _PACKS), key=_PACKS.index)
        plain = materials[:1] == ["solid"] and "1k" in packs  # '1K solid colours' are no 2K enamel
        if not materials or plain or (materials[0] == "acrylic" and term.object is None):
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
        term: Term | None = None,
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


_GENERAL = frozenset({"primer", "surfacer", "sealer", "filler", "topcoat"})


def _compounded(folded: str, found: list[Mention]) -> list[Mention]:
    """'Sprayable polyester primer' is one thing: the general word behind a more particular coat adds nothing."""
    out: list[Mention] = []
    for m in found:
        last = out[-1] if out else None
        coat = last is not None and "." in last.object and not last.object.startswith(("surface.", "finish."))
        if last is not None and coat and m.object in _GENERAL and folded[last.end : m.start] in (" ", "-"):
            out[-1] = replace(last, end=m.end, words=folded[last.start : m.end])
        else:
            out.append(m)
    return out


def _explains(folded: str, lexeme: Lexeme) -> bool:
    """'Two-component (2K)', 'epoxy (2K)': a bare pack in brackets explains what stands before it."""
    packs = set(lexeme.modifiers) <= {"1k", "2k", "neutral"}
    before = re.search(r"[\w-] ?\($", folded[: lexeme.start]) is not None
    return packs and before and folded[lexeme.end : lexeme.end + 1] == ")"


def _listed_alone(folded: str, lexemes: list[Lexeme], k: int, head: Lexeme) -> bool:
    """'Colour, epoxy and polyester filler': of three things named, the second is no filler."""
    if not k or lexemes[k].standing is None or folded[head.end - 1] == "s":
        return False
    before = lexemes[k - 1]
    return before.term is not None and re.fullmatch(r" ?, ?", folded[before.end : lexemes[k].start]) is not None


def _opens_a_head(folded: str, lexemes: list[Lexeme], k: int) -> bool:
    """'X, two-pack and cellulose paints': the modifier belongs to what comes behind it."""
    first = k
    while k + 1 < len(lexemes):
        gap = folded[lexemes[k].end : lexemes[k + 1].start]
        if lexemes[k + 1].term is not None:
            return _AND.fullmatch(gap) is not None or (k > first and _CLOSE.fullmatch(gap) is not None)
        if not _AND.fullmatch(gap):
            return False
        k += 1
    return False


def _before(folded: str, lexemes: list[Lexeme], h: int, used: set[int]) -> Iterator[int]:
    """The modifiers close before head h, nearest first, through a bracket too: 'oil-based (alkyd) primers'."""
    k, edge, inside = h - 1, lexemes[h].start, False
    remark = _REMARK.search(folded, 0, edge)
    if remark is not None and not _all_read(folded, lexemes, remark):
        edge = remark.start()
        while k >= 0 and lexemes[k].start >= edge:
            k -= 1
    while k >= 0 and k not in used and lexemes[k].modifiers:
        gap = folded[lexemes[k].end : edge]
        if inside and _OPEN_BRACKET.fullmatch(gap):
            inside = False
        elif not inside and _CLOSE_BRACKET.fullmatch(gap):
            opened = folded.rfind("(", 0, lexemes[k].start)
            if opened < 0 or ")" in folded[opened : lexemes[k].end] or opened < lexemes[max(0, k - 4)].start:
                return
            inside = True
        elif not (_CLOSE.fullmatch(gap) or (inside and _LISTED.fullmatch(gap))):
            return
        yield k
        edge = lexemes[k].start
        k -= 1


def _all_read(folded: str, lexemes: list[Lexeme], remark: re.Match[str]) -> bool:
    """Whether every word in a bracket is a word of the trade, and so makes the head more particular."""
    start, end = remark.span(1)
    left = list(folded[start:end])
    for lexeme in lexemes:
        if start <= lexeme.start and lexeme.end <= end:
            left[lexeme.start - start : lexeme.end - start] = " " * (lexeme.end - lexeme.start)
    return re.search(r"\w", re.sub(r"\b(?:and|or)\b", "", "".join(left))) is None


def _close_before(lexemes: list[Lexeme], i: int, folded: str) -> list[int]:
    """The modifiers that stand close before lexeme i, nearest first."""
    out: list[int] = []
    k, edge = i - 1, lexemes[i].start
    while k >= 0 and lexemes[k].term is None and _CLOSE.fullmatch(folded[lexemes[k].end : edge]):
        if lexemes[k].standing and "/" in folded[lexemes[k].end : edge]:
            break
        out.append(k)
        edge = lexemes[k].start
        k -= 1
    return out


def _with_packs(object_: str, packs: list[str]) -> str:
    for pack in packs:
        if pack in _PACKS and is_known(f"{object_}.{pack}"):
            return f"{object_}.{pack}"
    return object_
