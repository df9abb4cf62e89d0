"""Kinds beside product names: which of them say something of their own."""

from __future__ import annotations

import re
from dataclasses import replace

from extract.mention import Mention

_TOUCHING = re.compile(r"[ \-]?")


def settle(folded: str, named: list[Mention], kinds: list[Mention]) -> list[Mention]:
    """Drop a named product's own kind word, and the general word that a more particular one explains."""
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
    drop.update(i for i, kind in enumerate(kinds) if _is_role(folded, kind) or _is_denied(folded, kind))
    for i, kind in enumerate(kinds):
        nxt = next((k for k in kinds[i + 1 :] if k.start >= kind.end), None)
        if nxt is None or kind.object not in ("finish.old", "surface.plastic", "surface.steel", "topcoat"):
            continue
        gap = folded[kind.end : nxt.start]
        refined = nxt.as_found().startswith("finish.") or nxt.object.startswith("family.1k")
        explained = re.fullmatch(r" ?[:(] ?(?:[\w-]+ ){0,3}?", gap) and not _EXCEPTED.match(folded, kind.end)
        if kind.object == "finish.old" and explained and refined:
            drop.add(i)
        elif kind.object == "finish.old" and explained and nxt.object == "topcoat.solid.2k":
            drop.add(i)  # 'old paintwork: 2K finishes'
            kinds[kinds.index(nxt)] = replace(nxt, object="finish.old", beneath=None)
        if kind.object == "surface.plastic" and nxt.object == "surface.plastic" and re.fullmatch(r" ?\( ?", gap):
            continue
    drop.update(i for i, kind in enumerate(kinds) if _is_treated(folded, kind, kinds))
    kinds = _plastics(folded, kinds)
    kept = _softened(folded, [k for i, k in enumerate(kinds) if i not in drop])
    out = [replace(m, of_kind=of_kind[m.start]) if m.start in of_kind else m for m in named]
    out = [m for m in out if not (m.is_product and _AGENT.search(folded[: m.start]))]
    out.extend(kept)
    out.extend(_plain_paint(folded, kept))
    for match in _METAL.finditer(folded):
        out.append(Mention(match.start("metal"), match.end("metal"), "surface.steel", "metal"))
    return sorted(out, key=lambda m: (m.start, m.object))


_EXCEPTED = re.compile(r" ?\((?:not|no|never|except|excl|other|apart|but)\b|[^()]*\([^()]*\b(?:excepted|excluded)\)")
"""'Old paintwork (thermoplastic finishes excepted)': what a bracket takes out explains nothing."""
_TREATED = re.compile(
    r",? (?:(?:that|which) (?:has|have|had|is|are|was|were) (?:been )?)?(?:previously |already |first )?"
    r"(?:pre-?)?(?:treated|conditioned|prepared|washed) (?:with|by|using) (?:an? |the |any |our )?(?:[\w-]+ ){0,2}?"
)


def _is_treated(folded: str, kind: Mention, kinds: list[Mention]) -> bool:
    """'Steel treated with rust converter': what lies there is the treatment, not the steel."""
    return kind.object.startswith("surface.") and any(
        k.object.startswith("treatment.") and _TREATED.fullmatch(folded[kind.end : k.start])
        for k in kinds
        if k.start >= kind.end
    )


_JOINT = re.compile(r",? (?:and |or |nor )?(?:any |other |an? )?|/| ?& ?")
_SOFTENS = re.compile(
    r",? (?:that|which|whose film|if (?:it|they)|when (?:it|they)) "
    r"(?:can be |is |are |still |will |may |readily |easily )*"
    r"(?:soften(?:s|ed)?|(?:re)?dissolv(?:es?|ed)|swells?|swollen|wrinkles?|lifts?|comes? off|wipes? off|"
    r"rubs? off|(?:becomes?|goes|go|gets?) (?:soft|sticky|tacky)|attacked|loosened|soluble|reacts?)\b[^.;:]{0,30}?"
    r"\b(?:with|in|by|to|under|from|on contact with) (?:an? |the |its |strong |wiped |rubbed |cellulose |gun |lacquer |"
    r"rag |cloth |wet |soaked |with |in |"
    r"nitro |acrylic )*(?:solvents?|thinners?|wipe|reducers?|acetone)\b"
)
"""'Old enamel that softens with thinner': what a rag shows to be soft."""


def _plastics(folded: str, kinds: list[Mention]) -> list[Mention]:
    """'Flexible plastics such as TPO and urethane': in a list of plastics, urethane is one."""
    out = list(kinds)
    for i in range(1, len(out)):
        last, here = out[i - 1], out[i]
        listed = last.object == "surface.plastic" and _JOINT.fullmatch(folded[last.end : here.start])
        if listed and here.words in ("urethane", "polyurethane", "pu", "pur", "polyester"):
            out[i] = replace(here, object="surface.plastic", beneath=None)
    return out


_FIRM = re.compile(
    r",? (?:that|which|if (?:it|they)|when (?:it|they)) (?:(?:do|does|will|can|may)(?: not|n't)|cannot) "
    r"(?:be )?(?:soften|dissolve|redissolve|swell|wrinkle|lift|wipe|rub|come|react)"
)
"""'Old lacquer that does not soften': a test told it to be hard, whatever the name."""


def _softened(folded: str, kinds: list[Mention]) -> list[Mention]:
    """The coats of a list behind which stands that solvent softens them, or that it does not."""
    out = list(kinds)
    for pattern, object_ in ((_SOFTENS, "finish.old.soft"), (_FIRM, "finish.old")):
        for match in pattern.finditer(folded):
            at = match.start()
            for i in reversed(range(len(out))):
                if out[i].start >= at:
                    continue
                if out[i].end != at and not _JOINT.fullmatch(folded[out[i].end : at]):
                    break
                if not out[i].as_found().startswith(("finish.old", "topcoat")):
                    break
                if pattern is _SOFTENS or out[i].object == "finish.old.soft":
                    out[i] = replace(out[i], object=object_, beneath=None)
                at = out[i].start
    return out


_AGENT = re.compile(
    r"\badd(?:ed|ing)?\b (?:[\w.,%-]+ ){0,5}(?:of )?$|\baddition of (?:[\d.,%-]+ )*$"
    r"|\b(?:clean|degreas|wip|wash|rins|thinn|dilut|harden|activat|catalys|catalyz)\w*"
    r"(?: (?:off|down|well|first|thoroughly|it|them|carefully|again)){0,2} (?:with|using|by) (?:the |our )?$"
)
"""What a thing is cleaned or thinned with is no coat."""
_PAINT = re.compile(
    r"(?:(?:(?<=, )|(?<=\band )|(?<=\bor )|(?<=\bnor ))(?:paint|colou?r)|^colou?r)(?=,| and\b| or\b| nor\b|[;.]|$)"
)


_METAL = re.compile(
    r"\b(?:direct(?:ly)? |straight )(?:on|onto|to|over) (?:the )?(?P<metal>metal)"
    r"(?=[.,;:)]|$| (?:or|and|with|without|after)\b)"
)
"""'Directly onto metal' is onto bare metal."""


def _plain_paint(folded: str, kinds: list[Mention]) -> list[Mention]:
    """'E-coat, paint or seam sealer': in a list of coats, bare 'paint' is one of them."""
    out = []
    for match in _PAINT.finditer(folded):
        near = any(
            re.fullmatch(r",? (?:and |or |nor )?(?:any |the )?", folded[k.end : match.start()])
            or re.fullmatch(r",? (?:and |or |nor )?(?:any |the )?", folded[match.end() : k.start])
            for k in kinds
            if k.end <= match.start() or k.start >= match.end()
        )
        if near:
            out.append(Mention(match.start(), match.end(), "topcoat", match.group(), "finish.old"))
    return out


_AS = re.compile(r"(?<!such )(?<!well )\bas (?:a |an |the )?(?:[\w-]+ )?$")
_VERB_PLACE = re.compile(r"(?:^|[.;:,] |\b(?:not|never|to|may|can|must|should|then|and|or|only|always) )$")
_VERB_AFTER = re.compile(r" (?:only |exclusively )?(?:with|using|by)\b")
_MODE = re.compile(r"(?:wet[- ]on[- ]wet|non[- ]?sanding|sanding)\b")
_MODE_AFTER = re.compile(
    r": (?:(?:can|may|must|to) be )?(?:(?:over|re|top)[- ]?coat|sand|flat|grind|ground|matt|mix|thin|apply|spray|dry)"
)
"""'Wet-on-wet filler: overcoat after 15 min' is a way of using the filler that the sheet is about."""
_VERB = re.compile(r" (?:pinholes|any|the|small|scratches|low|with|over|in)\b")


def _is_role(folded: str, kind: Mention) -> bool:
    """'As a sealer', 'sealer mix': a way of using this or that product; 'glaze pinholes': what to do."""
    before, after = folded[: kind.start], folded[kind.end :]
    if kind.words == "finish" and re.match(r"[ -](?:sand|grind|grit|flat|abrad|with |at |to )", after):
        return True  # 'surfacer, finish sanded with P500'
    if _MODE.match(kind.words) and _MODE_AFTER.match(after):
        return True
    if kind.words == "clear" and re.match(r"[ -]?coat(?:ed|ing)\b(?! (?:system|is|may|can))", after):
        return True
    if re.fullmatch(r"(?:previous|preceding) (?:coats?|layers?)", kind.words):
        return True
    if _AS.search(before) or re.match(r" (?:mix|mode|version|variant)\b", after):
        return True
    if kind.words in ("topcoat", "top coat", "undercoat", "basecoat", "base coat", "clear"):
        return _VERB_PLACE.search(before) is not None and _VERB_AFTER.match(after) is not None
    return kind.words in ("glaze", "etch", "filler") and (
        re.search(r"(?:^|[.;:] |\bthen |\band )$", before) is not None and _VERB.match(after) is not None
    )


def _is_denied(folded: str, kind: Mention) -> bool:
    """'Old paint, not reversible': what the thing is not."""
    before = folded[max(0, kind.start - 24) : kind.start]
    if re.match(r"[- ]free\b", folded[kind.end :]) or re.search(
        r"\bfree (?:of|from) (?:all |any |\w+(?:,| and| or) ){0,2}$", before
    ):
        return True
    if re.match(
        r"[ -](?:gun )?(?:thinners?|reducers?|hardeners?|activators?|removers?|catalysts?|cleaners?|degreasers?)\b",
        folded[kind.end :],
    ):
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
