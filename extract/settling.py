"""Kinds beside product names: which of them say something of their own."""

from __future__ import annotations

import re
from dataclasses import replace

from extract.mention import Mention
from extract.speech import Speech, speech

_TOUCHING = re.compile(r"[ \-]?")


def settle(folded: str, named: list[Mention], kinds: list[Mention], language: str = "en") -> list[Mention]:
    """Drop a named product's own kind word, and the general word that a more particular one explains."""
    says = speech(language)
    if not named and not kinds:
        return _metals(says, folded)
    products = [m for m in named if m.is_product]
    kinds = list(kinds)
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
            within = kind.start < p.start and p.end < kind.end  # 'epoxy (EP 20) primers'
            if beside or bracketed or within:
                drop.add(i)
                of_kind[p.start] = kind.object
    drop.update(i for i, kind in enumerate(kinds) if _is_role(says, folded, kind) or _is_denied(folded, kind))
    for i, kind in enumerate(kinds):
        nxt = next((k for k in kinds[i + 1 :] if k.start >= kind.end), None)
        if nxt is None or kind.object != "finish.old":
            continue
        gap = folded[kind.end : nxt.start]
        refined = nxt.as_found().startswith("finish.") or nxt.object.startswith("family.1k")
        explained = re.fullmatch(r" ?[:(] ?(?:[\w-]+ ){0,3}?", gap) and not says["excepted"].match(folded, kind.end)
        if explained and refined:
            drop.add(i)
        elif explained and nxt.object == "topcoat.solid.2k":
            drop.add(i)  # 'old paintwork: 2K finishes'
            kinds[kinds.index(nxt)] = replace(nxt, object="finish.old", beneath=None)
    drop.update(i for i, kind in enumerate(kinds) if _is_treated(says, folded, kind, kinds))
    kinds = _plastics(says, folded, kinds)
    kept = _softened(says, folded, [k for i, k in enumerate(kinds) if i not in drop])
    out = [replace(m, of_kind=of_kind[m.start]) if m.start in of_kind else m for m in named]
    out = [m for m in out if not (m.is_product and says["agent"].search(folded[: m.start]))]
    out.extend(kept)
    out.extend(_plain_paint(says, folded, kept))
    out.extend(_metals(says, folded))
    return sorted(out, key=lambda m: (m.start, m.object))


def _metals(says: Speech, folded: str) -> list[Mention]:
    return [Mention(m.start("metal"), m.end("metal"), "surface.steel", "metal") for m in says["metal"].finditer(folded)]


def _is_treated(says: Speech, folded: str, kind: Mention, kinds: list[Mention]) -> bool:
    """'Steel treated with rust converter': what lies there is the treatment, not the steel."""
    return kind.object.startswith("surface.") and any(
        k.object.startswith("treatment.") and says["treated"].fullmatch(folded[kind.end : k.start])
        for k in kinds
        if k.start >= kind.end
    )


def _plastics(says: Speech, folded: str, kinds: list[Mention]) -> list[Mention]:
    """'Flexible plastics such as TPO and urethane': in a list of plastics, urethane is one."""
    out = list(kinds)
    for i in range(1, len(out)):
        last, here = out[i - 1], out[i]
        listed = last.object == "surface.plastic" and says["joint"].fullmatch(folded[last.end : here.start])
        if listed and here.words in ("urethane", "polyurethane", "pu", "pur", "polyester"):
            out[i] = replace(here, object="surface.plastic", beneath=None)
    return out


def _softened(says: Speech, folded: str, kinds: list[Mention]) -> list[Mention]:
    """The coats of a list behind which stands that solvent softens them, or that it does not."""
    out = list(kinds)
    if not any(k.as_found().startswith(("finish.old", "topcoat")) for k in kinds):
        return out
    for pattern, object_ in ((says["softens"], "finish.old.soft"), (says["firm"], "finish.old")):
        for match in pattern.finditer(folded):
            at = match.start()
            for i in reversed(range(len(out))):
                if out[i].start >= at:
                    continue
                if out[i].end != at and not says["joint"].fullmatch(folded[out[i].end : at]):
                    break
                if not out[i].as_found().startswith(("finish.old", "topcoat")):
                    break
                if pattern is says["softens"] or out[i].object == "finish.old.soft":
                    out[i] = replace(out[i], object=object_, beneath=None)
                at = out[i].start
    return out


def _plain_paint(says: Speech, folded: str, kinds: list[Mention]) -> list[Mention]:
    """'E-coat, paint or seam sealer': in a list of coats, bare 'paint' is one of them."""
    out: list[Mention] = []
    if not kinds:
        return out
    for match in says["paint"].finditer(folded):
        near = any(
            re.fullmatch(r",? (?:and |or |nor )?(?:any |the )?", folded[k.end : match.start()])
            or re.fullmatch(r",? (?:and |or |nor )?(?:any |the )?", folded[match.end() : k.start])
            for k in kinds
            if k.end <= match.start() or k.start >= match.end()
        )
        if near:
            out.append(Mention(match.start(), match.end(), "topcoat", match.group(), "finish.old"))
    return out


_COAT_BEFORE = re.compile(r"(?:previous|preceding) (?:coats?|layers?)")
_IN_THAT_ROLE = re.compile(r" (?:mix|mode|version|variant)\b")
_FREE_OF = re.compile(r"\bfree (?:of|from) (?:all |any |\w+(?:,| and| or) ){0,2}$")
_DENIED_BEHIND = re.compile(
    r"[- ]free\b"
    r"|[ -](?:gun )?(?:thinners?|reducers?|hardeners?|activators?|removers?|catalysts?|cleaners?|degreasers?)\b"
)


def _is_role(says: Speech, folded: str, kind: Mention) -> bool:
    """'As a sealer', 'sealer mix': a way of using this or that product; 'glaze pinholes': what to do."""
    before, after = folded[: kind.start], folded[kind.end :]
    if kind.words == "finish" and re.match(r"[ -](?:sand|grind|grit|flat|abrad|with |at |to )", after):
        return True  # 'surfacer, finish sanded with P500'
    if says["mode"].match(kind.words) and says["mode_after"].match(after):
        return True
    if kind.words == "clear" and re.match(r"[ -]?coat(?:ed|ing)\b(?! (?:system|is|may|can))", after):
        return True
    if _COAT_BEFORE.fullmatch(kind.words):
        return True
    if says["as"].search(before) or _IN_THAT_ROLE.match(after):
        return True
    if kind.words in ("topcoat", "top coat", "undercoat", "basecoat", "base coat", "clear"):
        return says["verb_place"].search(before) is not None and says["verb_after"].match(after) is not None
    return kind.words in ("glaze", "etch", "filler") and (
        re.search(r"(?:^|[.;:] |\bthen |\band )$", before) is not None and says["verb"].match(after) is not None
    )


def _is_denied(folded: str, kind: Mention) -> bool:
    """'Old paint, not reversible': what the thing is not."""
    before = folded[max(0, kind.start - 24) : kind.start]
    if _DENIED_BEHIND.match(folded, kind.end) or ("free " in before and _FREE_OF.search(before)):
        return True
    if kind.words.startswith("ferrous") and re.search(r"\bnon[- ]$", before):
        return True
    if kind.words in ("alloy", "alloys") and re.search(r"\b(?:its|their)\b[ \w]*$", before):
        return True
    return (
        kind.object == "finish.old.soft"
        and re.search(r"(?:\bnot|\bnon|\bneither)[ -](?:too |very )?$", before) is not None
    )


def _closing(folded: str, start: int) -> int:
    end = folded.find(")", start)
    return len(folded) if end < 0 else end
