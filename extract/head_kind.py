"""What kind of coating a sheet says that its product is."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence

from extract.document import fold
from extract.head_texts import HeadTexts, parts_of
from extract.kinds import is_known, kinds
from extract.terms import Vocabulary


def kind_of(texts: HeadTexts, product: str | None, vocabulary: Vocabulary) -> str | None:
    """The kind that the title's neighbours or the first sentences name; the most particular of equals."""
    name = fold(product or "")
    lines: list[str] = []
    for text in (*texts.titles, *texts.running, *texts.opening):
        for part in parts_of(text):
            if fold(part) != name and len(part) < 120:
                lines.append(part)
    telling = _self_sentence(texts, product, vocabulary)
    described = [
        refined(_head_of(found), line)
        for line in _unique(lines)
        if _is_descriptor(line) and (found := _put_on(vocabulary, line))
    ]
    if described:
        best = described[0]
        whole = refined(best, " ".join(lines[:6]))
        if whole.startswith(best + "."):
            best = whole
        # A later line or the sentence about the product may say more than the first one does.
        for other in (*described[1:4], *((telling,) if telling else ())):
            if other.startswith(best + "."):
                best = other
        return best
    if telling:
        return telling
    named = _put_on(vocabulary, product or "")
    return named[0] if named else None


def _head_of(found: Sequence[str]) -> str:
    """The kind that a descriptor means: an 'epoxy mastic primer' is a primer."""
    first = found[0]
    if first.startswith("sealant.") and len(found) > 1 and not found[1].startswith("sealant."):
        return found[1]
    return first


_SORTS = (
    (r"\bepox(?:y|ies|ide)\b", {"primer": "primer.epoxy", "filler": "filler.epoxy"}),
    (r"\bpolyester\b", {"filler": "filler.polyester", "surfacer": "surfacer.polyester"}),
    (r"\bwater[- ]?(?:based|borne|thinnable|dilutable)\b|\bhydro|\baqueous\b", {
        "surfacer": "surfacer.water", "surfacer.1k": "surfacer.water", "surfacer.2k": "surfacer.water",
        "topcoat.base": "topcoat.base.water",
    }),
    (r"\b(?:zinc[- ]rich|zinc dust)\b", {"primer": "primer.zinc"}),
    (r"\b(?:etch\w*|wash|acid)\b", {"primer": "primer.etch"}),
    (r"\b(?:alkyd|synthetic|red oxide)\b", {"primer": "primer.alkyd", "topcoat": "topcoat.alkyd"}),
)  # fmt: skip
_PACKS = (
    ("2k", r"\b(?:2[- ]?k|(?:two|2)[- ](?:pack|component|part)\w*|bi-?component)\b"),
    ("1k", r"\b(?:1[- ]?k|(?:one|1|single)[- ](?:pack|component|part)\w*|mono-?component)\b"),
)


def refined(kind: str, line: str) -> str:
    """The kind with what the rest of its line adds: 'two-component' makes an epoxy primer a primer.epoxy.2k."""
    folded = fold(line)
    for pattern, finer in _SORTS:
        if kind in finer and re.search(pattern, folded):
            kind = finer[kind]
            break
    for suffix, pattern in _PACKS:
        if is_known(f"{kind}.{suffix}") and re.search(pattern, folded):
            return f"{kind}.{suffix}"
    return kind


def _is_descriptor(line: str) -> bool:
    """A line that could stand under a product's name: short, no sentence, no figure."""
    return (
        len(line.split()) <= 14
        and not line.rstrip().endswith((":", "?"))
        and not (line.rstrip().endswith(".") and _SAYS.search(fold(line)))
        and not re.search(r"\d\s?(?:°|%|bar|mm)", line)
    )


_SAYS = re.compile(r"\b(?:is|are|can|may|must|should|has|have|was|be|apply|use|do|not|sand|spray|contains?)\b")


def _unique(lines: Iterable[str]) -> list[str]:
    return list(dict.fromkeys(" ".join(line.split()) for line in lines))


def _put_on(vocabulary: Vocabulary, text: str) -> list[str]:
    return [
        m.object
        for m in vocabulary.mentions(text)
        if not (m.is_product or m.is_self or m.pronoun or m.object.startswith("family."))
        and is_known(m.object) and kinds()[m.object].sort == "put_on"
    ]  # fmt: skip


def _self_sentence(texts: HeadTexts, product: str | None, vocabulary: Vocabulary) -> str | None:
    """The kind in 'NAME is a ... primer'."""
    names: Sequence[str] = [fold(n) for n in ((product or ""), *(product or "").split()) if len(n) > 3]
    for sentence in texts.body.split("\n")[:14]:
        folded = fold(sentence).replace("®", "")
        for name in names:
            m = re.search(rf"{re.escape(name)}\W{{0,3}}\s*(?:is|are)\s+(?:an?|the|our)\b", folded)
            if m:
                phrase = re.split(
                    r"[,;:]|\b(?:for|which|that|with|based|on|from|in|cured|pigmented)\b", folded[m.end() :]
                )
                for part in phrase:
                    found = _put_on(vocabulary, part)
                    if found:
                        return found[-1]
    return None
