"""Two readings of one product's sheet, claim by claim: what stands, what changed, what is new or gone, in words."""

from __future__ import annotations

import unicodedata
from collections import defaultdict
from collections.abc import Callable, Hashable, Sequence
from dataclasses import dataclass, replace

from extract.claims import PRODUCT_PREFIX, SELF, Claim, Stance, Topic
from extract.document import fold
from extract.kinds import kinds
from store.records import SheetDifference

_NOUNS: dict[tuple[Topic, str | None], str] = {
    (Topic.OVERCOAT_WINDOW, "window"): "overcoat",
    (Topic.OVERCOAT_WINDOW, "abrade_after"): "abrade once past the window",
    (Topic.PREPARATION, "own_film"): "preparing its own film",
    (Topic.PREPARATION, "prime_within"): "priming within",
    (Topic.EXPOSURE, "outdoors"): "standing outdoors",
    (Topic.EXPOSURE, "uv"): "resistance to sunlight",
    (Topic.FILM, "wet"): "wet film",
    (Topic.FILM, "dry"): "dry film",
    (Topic.FILM, "dry_total_max"): "greatest dry film in all",
    (Topic.MIXING, "ratio"): "mixing ratio",
    (Topic.STORAGE, "temp"): "storage temperature",
}
_DRYING = {"touch": "touch dry", "dust": "dust dry", "handle": "ready to handle", "sand": "ready to sand"}
_STANCES = {
    Stance.PERMITS: "permitted",
    Stance.FORBIDS: "forbidden",
    Stance.REQUIRES: "required",
    Stance.STATES: "stated",
}
_SPANS = ((10080, "week"), (1440, "day"), (60, "h"), (1, "min"))
_UNIT_WORDS = {"degC": "°C", "um": "µm", "m2/l": "m²/l", "count": "", "P": "P"}


def sentence_key(quote: str) -> str:
    """The sentence as it is compared between issues: case, dashes, quotes and spacing make no difference."""
    return " ".join(fold(unicodedata.normalize("NFKC", quote)).split()).strip(" .;,:")


def value_key(claim: Claim) -> Hashable:
    """Everything that a claim says, apart from where it stands and how sure the reader was."""
    figures = tuple(None if f is None else round(f, 6) for f in (claim.low, claim.high, claim.at_c))
    return (
        claim.topic, claim.property, claim.stance, claim.object, claim.only, tuple(sorted(claim.conditions)),
        claim.via, figures, claim.unit, claim.unlimited, claim.method, claim.parts, claim.basis, claim.text,
    )  # fmt: skip


def claim_key(claim: Claim) -> Hashable:
    """Equal for two claims where a decision on the one holds for the other."""
    return (sentence_key(claim.evidence.quote), value_key(claim))


@dataclass(frozen=True, slots=True)
class Matched:
    """Indexes into the two readings: pairs that stand unchanged, and what is left of either."""

    same: tuple[tuple[int, int], ...]
    gone: tuple[int, ...]
    new: tuple[int, ...]


def match(before: Sequence[Claim], after: Sequence[Claim]) -> Matched:
    """Pair the claims that say the same in the same words. Doubles pair in the order they stand in."""
    places: dict[Hashable, list[int]] = defaultdict(list)
    for index, claim in enumerate(after):
        places[claim_key(claim)].append(index)
    same: list[tuple[int, int]] = []
    gone: list[int] = []
    for index, claim in enumerate(before):
        waiting = places[claim_key(claim)]
        if waiting:
            same.append((index, waiting.pop(0)))
        else:
            gone.append(index)
    taken = {index for _, index in same}
    return Matched(tuple(same), tuple(gone), tuple(i for i in range(len(after)) if i not in taken))


def differences(before: Sequence[Claim], after: Sequence[Claim]) -> tuple[SheetDifference, ...]:
    """What changed in substance, in words. A sentence merely put otherwise is no difference."""
    gone, new = _without_common(before, after)
    found: list[SheetDifference] = []
    for slot in (_slot_exact, _slot_loose):
        gone, new = _pair(gone, new, slot, found)
    found += [SheetDifference(f"gone: {describe(claim)}", claim, None) for claim in gone]
    found += [SheetDifference(f"new: {describe(claim)}", None, claim) for claim in new]
    return tuple(found)


def describe(claim: Claim) -> str:
    """A claim in a few words: 'latest overcoat 7 days at 20 °C', 'over mill scale: forbidden'."""
    if claim.topic in (Topic.GOES_OVER, Topic.TOPPED_BY):
        return f"{_subject(claim)}: {_permission(claim)}"
    if claim.property == "window" and claim.topic is Topic.OVERCOAT_WINDOW:
        ends = [f"{end} {_subject(claim)} {value}" for end, value in _window(claim).items() if value]
        return f"{', '.join(ends) or _subject(claim)}{_circumstances(claim)}"
    return f"{_subject(claim)} {_value(claim)}".strip() + _circumstances(claim)


def duration(minutes: float) -> str:
    """Minutes in the largest unit that leaves a whole number ('7 days'); weeks only from two on."""
    for size, name in _SPANS:
        count = minutes / size
        if count >= (2 if name == "week" else 1) and count == int(count):
            plural = "s" if name in ("week", "day") and count != 1 else ""
            return f"{int(count)} {name}{plural}"
    return f"{minutes:g} min"


def _without_common(before: Sequence[Claim], after: Sequence[Claim]) -> tuple[list[Claim], list[Claim]]:
    left = list(after)
    keys = [value_key(claim) for claim in left]
    gone: list[Claim] = []
    for claim in before:
        key = value_key(claim)
        if key in keys:
            at = keys.index(key)
            del keys[at], left[at]
        else:
            gone.append(claim)
    return gone, left


def _slot_exact(claim: Claim) -> Hashable:
    return (*_place(claim), claim.at_c, claim.method, claim.text)


def _slot_loose(claim: Claim) -> Hashable:
    return _place(claim)


def _place(claim: Claim) -> tuple[Hashable, ...]:
    return (claim.topic, claim.property, claim.object)


def _pair(
    gone: list[Claim], new: list[Claim], slot: Callable[[Claim], Hashable], found: list[SheetDifference]
) -> tuple[list[Claim], list[Claim]]:
    """Pair what is alone in its slot on both sides; the rest stays over."""
    slots_before, slots_after = [slot(c) for c in gone], [slot(c) for c in new]
    paired = {s for s in slots_before if slots_before.count(s) == 1 and slots_after.count(s) == 1}
    by_slot = {s: c for s, c in zip(slots_after, new, strict=True) if s in paired}
    for key, before in zip(slots_before, gone, strict=True):
        if key in paired:
            after = by_slot[key]
            found.append(SheetDifference(_change(before, after), before, after))
    return (
        [c for c, s in zip(gone, slots_before, strict=True) if s not in paired],
        [c for c, s in zip(new, slots_after, strict=True) if s not in paired],
    )


def _change(before: Claim, after: Claim) -> str:
    if before.topic in (Topic.GOES_OVER, Topic.TOPPED_BY):
        return f"{_subject(before)}: {_permission(before)} -> {_permission(after)}"
    where_before, where_after = _circumstances(before), _circumstances(after)
    where = where_before if where_before == where_after else ""
    if before.topic is Topic.OVERCOAT_WINDOW and before.property == "window" and where_before == where_after:
        ends_before, ends_after = _window(before), _window(after)
        changed = [
            f"{end} {_subject(before)} {ends_before[end] or 'unsaid'} -> {ends_after[end] or 'unsaid'}"
            for end in ends_before
            if ends_before[end] != ends_after[end]
        ]
        if changed:
            return ", ".join(changed) + where
    was, now = _value(before), _value(after)
    if was == now and where_before == where_after:
        return f"{describe(before)}: said differently"
    if where:
        return f"{_subject(before)} {was} -> {now}{where}"
    return f"{_subject(before)} {was}{where_before} -> {now}{where_after}"


def _subject(claim: Claim) -> str:
    if claim.topic is Topic.GOES_OVER:
        return f"over {_object(claim)}"
    if claim.topic is Topic.TOPPED_BY:
        return f"under {_object(claim)}"
    noun = _NOUNS.get((claim.topic, claim.property))
    if noun is None and claim.topic is Topic.DRYING:
        noun = _DRYING.get(claim.property or "")
    noun = noun or (claim.property or claim.topic.value).replace("_", " ")
    if claim.object is None:
        return noun
    return f"{noun} with {_object(claim)}" if claim.topic is Topic.OVERCOAT_WINDOW else f"{noun} on {_object(claim)}"


def _object(claim: Claim) -> str:
    thing = claim.object or "anything"
    if thing == SELF:
        return "itself"
    if thing.startswith(PRODUCT_PREFIX):
        return thing.removeprefix(PRODUCT_PREFIX)
    known = kinds().get(thing)
    return known.label if known else thing


def _permission(claim: Claim) -> str:
    words = _STANCES[claim.stance]
    if claim.only:
        words += " (and nothing else of its sort)"
    if claim.conditions:
        words += " if " + " and ".join(c.value.replace("_", " ") for c in claim.conditions)
    if claim.via:
        words += f" by {_object(replace(claim, object=claim.via))}"
    return words


def _window(claim: Claim) -> dict[str, str]:
    high = "without limit" if claim.unlimited else _figure(claim.high, claim.unit)
    return {"earliest": _figure(claim.low, claim.unit), "latest": high}


def _figure(value: float | None, unit: str | None) -> str:
    if value is None:
        return ""
    if unit == "min":
        return duration(value)
    if unit == "P":
        return f"P{value:g}"
    return f"{value:g} {_UNIT_WORDS.get(unit or '', unit or '')}".strip()


def _value(claim: Claim) -> str:
    if claim.parts:
        basis = f" by {claim.basis}" if claim.basis else ""
        return ":".join(f"{part:g}" for part in claim.parts) + basis
    low, high = _figure(claim.low, claim.unit), _figure(claim.high, claim.unit)
    if claim.unlimited:
        high = "without limit"
    figures = low if low == high else f"{low} to {high}" if low and high else f"at least {low}" if low else high
    if high and not low and not claim.unlimited:
        figures = f"at most {high}"
    said = " ".join(part for part in (figures, claim.text or "") if part)
    if claim.stance in (Stance.STATES, Stance.REQUIRES) and said:
        return said
    return f"{_STANCES[claim.stance]} {said}".strip()


def _circumstances(claim: Claim) -> str:
    words = f" at {claim.at_c:g} °C" if claim.at_c is not None else ""
    return words + (f" ({claim.method.value.replace('_', ' ')})" if claim.method else "")
