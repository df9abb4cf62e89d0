"""Claims, times, ranges and conditions as a painter says them. No Qt: the command line uses it too.

Figures come in the units that extract.claims.PROPERTIES fixes (minutes, degC, um, P grades ...).
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from app.figure_words import (
    date_words,
    duration_words,
    figure_words,
    joined,
    number_words,
    range_words,
    temperature_words,
    times_words,
)
from app.translating import QT_TRANSLATE_NOOP, translate
from extract.claims import PRODUCT_PREFIX, SELF, Claim, Condition, Method, Stance, Topic
from extract.kinds import is_known, kinds, label

__all__ = [
    "claim_words", "condition_words", "conditions_joined", "date_words", "duration_words", "joined", "kind_labels",
    "kind_words", "method_words", "number_words", "object_words", "property_words", "range_words", "temperature_words",
    "times_words", "topic_words",
]  # fmt: skip

_TOPICS: Mapping[Topic, str] = {
    Topic.GOES_OVER: QT_TRANSLATE_NOOP("wording", "What it may go over"),
    Topic.TOPPED_BY: QT_TRANSLATE_NOOP("wording", "What may go on it"),
    Topic.PREPARATION: QT_TRANSLATE_NOOP("wording", "Preparation"),
    Topic.OVERCOAT_WINDOW: QT_TRANSLATE_NOOP("wording", "Time to the next coat"),
    Topic.EXPOSURE: QT_TRANSLATE_NOOP("wording", "Left open to weather"),
    Topic.MIXING: QT_TRANSLATE_NOOP("wording", "Mixing"),
    Topic.FILM: QT_TRANSLATE_NOOP("wording", "Coats and film"),
    Topic.APPLICATION: QT_TRANSLATE_NOOP("wording", "Putting it on"),
    Topic.DRYING: QT_TRANSLATE_NOOP("wording", "Drying"),
    Topic.STORAGE: QT_TRANSLATE_NOOP("wording", "The tin"),
    Topic.SAFETY: QT_TRANSLATE_NOOP("wording", "Cautions"),
}

_PROPERTIES: Mapping[str, str] = {
    "degrease": QT_TRANSLATE_NOOP("wording", "degrease"),
    "derust": QT_TRANSLATE_NOOP("wording", "take off all rust"),
    "neutralise": QT_TRANSLATE_NOOP("wording", "neutralise"),
    "rinse": QT_TRANSLATE_NOOP("wording", "rinse"),
    "test_patch": QT_TRANSLATE_NOOP("wording", "try it on a test patch first"),
    "abrade": QT_TRANSLATE_NOOP("wording", "sand"),
    "blast": QT_TRANSLATE_NOOP("wording", "blast"),
    "profile": QT_TRANSLATE_NOOP("wording", "blast profile"),
    "own_film": QT_TRANSLATE_NOOP("wording", "sand this product's own film"),
    "prime_within": QT_TRANSLATE_NOOP("wording", "coat within"),
    "window": QT_TRANSLATE_NOOP("wording", "next coat"),
    "abrade_after": QT_TRANSLATE_NOOP("wording", "past the latest time, sand"),
    "waterproof": QT_TRANSLATE_NOOP("wording", "keeps water out"),
    "outdoors": QT_TRANSLATE_NOOP("wording", "outdoors without a further coat"),
    "wet_sanding": QT_TRANSLATE_NOOP("wording", "wet sanding"),
    "topcoat_needed": QT_TRANSLATE_NOOP("wording", "needs a topcoat"),
    "immersion": QT_TRANSLATE_NOOP("wording", "standing under water"),
    "uv": QT_TRANSLATE_NOOP("wording", "resists sunlight"),
    "ratio": QT_TRANSLATE_NOOP("wording", "mixing ratio"),
    "thinner": QT_TRANSLATE_NOOP("wording", "thinner"),
    "pot_life": QT_TRANSLATE_NOOP("wording", "pot life"),
    "induction": QT_TRANSLATE_NOOP("wording", "stand after mixing"),
    "mixed_viscosity": QT_TRANSLATE_NOOP("wording", "viscosity when mixed"),
    "coats": QT_TRANSLATE_NOOP("wording", "coats"),
    "wet": QT_TRANSLATE_NOOP("wording", "wet film"),
    "dry": QT_TRANSLATE_NOOP("wording", "dry film"),
    "dry_total_max": QT_TRANSLATE_NOOP("wording", "dry film of all coats, at most"),
    "layer": QT_TRANSLATE_NOOP("wording", "one layer"),
    "coverage": QT_TRANSLATE_NOOP("wording", "coverage"),
    "volume_solids": QT_TRANSLATE_NOOP("wording", "solids by volume"),
    "air_temp": QT_TRANSLATE_NOOP("wording", "air temperature"),
    "surface_temp": QT_TRANSLATE_NOOP("wording", "surface temperature"),
    "humidity": QT_TRANSLATE_NOOP("wording", "humidity of the air"),
    "dew_margin": QT_TRANSLATE_NOOP("wording", "surface above the dew point by"),
    "nozzle": QT_TRANSLATE_NOOP("wording", "nozzle"),
    "pressure": QT_TRANSLATE_NOOP("wording", "pressure"),
    "flash_off": QT_TRANSLATE_NOOP("wording", "flash-off"),
    "method": QT_TRANSLATE_NOOP("wording", "put on by"),
    "dust": QT_TRANSLATE_NOOP("wording", "dust dry"),
    "touch": QT_TRANSLATE_NOOP("wording", "touch dry"),
    "handle": QT_TRANSLATE_NOOP("wording", "ready to handle"),
    "sand": QT_TRANSLATE_NOOP("wording", "ready to sand"),
    "hard": QT_TRANSLATE_NOOP("wording", "hard"),
    "cure": QT_TRANSLATE_NOOP("wording", "fully cured"),
    "return_to_service": QT_TRANSLATE_NOOP("wording", "back in use"),
    "shelf_life": QT_TRANSLATE_NOOP("wording", "shelf life"),
    "temp": QT_TRANSLATE_NOOP("wording", "store at"),
    "isocyanate": QT_TRANSLATE_NOOP("wording", "contains isocyanates"),
    "air_fed": QT_TRANSLATE_NOOP("wording", "wear an air-fed mask"),
    "professional_only": QT_TRANSLATE_NOOP("wording", "for trained professionals only"),
    "flammable": QT_TRANSLATE_NOOP("wording", "flammable"),
    "chromate": QT_TRANSLATE_NOOP("wording", "contains chromates"),
    "lead": QT_TRANSLATE_NOOP("wording", "contains lead"),
}

_STATES: Mapping[Condition, str] = {
    Condition.CLEAN: QT_TRANSLATE_NOOP("wording", "clean"),
    Condition.ABRADED: QT_TRANSLATE_NOOP("wording", "sanded or keyed"),
    Condition.CURED: QT_TRANSLATE_NOOP("wording", "cured"),
    Condition.SOUND: QT_TRANSLATE_NOOP("wording", "sound"),
}
"""Conditions that the thing beneath must be in: said together, 'once it is clean, sanded or keyed and cured'."""

_CONDITIONS: Mapping[Condition, str] = {
    Condition.WITHIN_WINDOW: QT_TRANSLATE_NOOP("wording", "within its time limits"),
    Condition.ISOLATED: QT_TRANSLATE_NOOP("wording", "with another coat between"),
    Condition.SPOT_ONLY: QT_TRANSLATE_NOOP("wording", "on small spots only"),
    Condition.THICKNESS_LIMITED: QT_TRANSLATE_NOOP("wording", "within the stated thickness"),
    Condition.TESTED: QT_TRANSLATE_NOOP("wording", "after a trial on a small area"),
    Condition.ADDITIVE: QT_TRANSLATE_NOOP("wording", "with the stated additive"),
}

_METHODS: Mapping[Method, str] = {
    Method.AIR: QT_TRANSLATE_NOOP("wording", "air drying"),
    Method.FORCE: QT_TRANSLATE_NOOP("wording", "in the oven"),
    Method.IR: QT_TRANSLATE_NOOP("wording", "under infra-red"),
    Method.WET_ON_WET: QT_TRANSLATE_NOOP("wording", "wet on wet"),
}


def topic_words(topic: Topic) -> str:
    return translate("wording", _TOPICS[topic])


def property_words(name: str) -> str:
    return translate("wording", _PROPERTIES[name])


def condition_words(condition: Condition, via: str | None = None) -> str:
    """One condition as it follows a permission; via is the coat that must come between."""
    return conditions_joined([condition], via)


def conditions_joined(
    conditions: Sequence[Condition], via: str | None = None, details: Mapping[Condition, str] | None = None
) -> str:
    """All conditions of one permission: 'once it is clean and sanded or keyed (P180), within its time limits'.

    details are words to stand in brackets after a condition.
    """

    def worded(condition: Condition, words: str) -> str:
        detail = (details or {}).get(condition)
        return f"{words} ({detail})" if detail else words

    states = [worded(c, translate("wording", _STATES[c])) for c in _STATES if c in conditions]
    parts = [translate("wording", "once it is {joined}").format(joined=joined(states))] if states else []
    for condition in conditions:
        if condition is Condition.ISOLATED and via:
            parts.append(translate("wording", "with {object} between").format(object=object_words(via)))
        elif condition in _CONDITIONS:
            parts.append(worded(condition, translate("wording", _CONDITIONS[condition])))
    return ", ".join(parts)


def method_words(method: Method) -> str:
    return translate("wording", _METHODS[method])


def kind_words(kind: str, *, plural: bool = False) -> str:
    """A vocabulary id in a painter's words; an id of a newer vocabulary as it stands."""
    return translate("kinds", label(kind, plural)) if is_known(kind) else kind


def kind_labels() -> Mapping[str, tuple[str, str]]:
    """Every kind as the window's language calls it, one and several, by its id."""
    return {kind: (kind_words(kind), kind_words(kind, plural=True)) for kind in kinds()}


def object_words(object_: str | None, *, plural: bool = False) -> str:
    """A claim's object: a kind, a named product, the product itself, or anything at all."""
    if object_ is None:
        return translate("wording", "anything")
    if object_ == SELF:
        return translate("wording", "a further coat of itself")
    if object_.startswith(PRODUCT_PREFIX):
        return object_.removeprefix(PRODUCT_PREFIX)
    return kind_words(object_, plural=plural)


def claim_words(claim: Claim, product: str = "") -> str:
    """One claim in a sentence, without its full stop; product is the name that the sheet is about."""
    sentence = _CLAIM_WORDS[claim.topic](claim, product or translate("wording", "this product"))
    return _first_large(sentence)


def _first_large(sentence: str) -> str:
    return sentence[:1].upper() + sentence[1:]


def _with_conditions(sentence: str, claim: Claim) -> str:
    return ", ".join(part for part in (sentence, conditions_joined(claim.conditions, claim.via)) if part)


def _circumstances(claim: Claim) -> str:
    parts = []
    if claim.at_c is not None:
        parts.append(translate("wording", "at {temperature}").format(temperature=temperature_words(claim.at_c)))
    if claim.method is not None:
        parts.append(method_words(claim.method))
    return "".join(f", {part}" for part in parts)


_CONTACTS: Mapping[tuple[Topic, Stance, bool], str] = {
    (Topic.GOES_OVER, Stance.PERMITS, False): QT_TRANSLATE_NOOP("wording", "{product} may go over {target}"),
    (Topic.GOES_OVER, Stance.PERMITS, True): QT_TRANSLATE_NOOP("wording", "{product} may only go over {target}"),
    (Topic.GOES_OVER, Stance.REQUIRES, False): QT_TRANSLATE_NOOP("wording", "{product} must go over {target}"),
    (Topic.GOES_OVER, Stance.FORBIDS, False): QT_TRANSLATE_NOOP("wording", "{product} must not go over {target}"),
    (Topic.TOPPED_BY, Stance.PERMITS, False): QT_TRANSLATE_NOOP("wording", "{product} may be coated with {target}"),
    (Topic.TOPPED_BY, Stance.PERMITS, True): QT_TRANSLATE_NOOP("wording", "{product} may only be coated with {target}"),
    (Topic.TOPPED_BY, Stance.REQUIRES, False): QT_TRANSLATE_NOOP("wording", "{product} must be coated with {target}"),
    (Topic.TOPPED_BY, Stance.FORBIDS, False): QT_TRANSLATE_NOOP(
        "wording", "{product} must not be coated with {target}"
    ),
}
"""By topic, stance and whether nothing else is allowed, which only a permission says."""


def _contact_words(claim: Claim, product: str) -> str:
    stance = Stance.PERMITS if claim.stance is Stance.STATES else claim.stance
    pattern = _CONTACTS[claim.topic, stance, claim.only and stance is Stance.PERMITS]
    sentence = translate("wording", pattern).format(product=product, target=object_words(claim.object, plural=True))
    return _with_conditions(sentence, claim)


def _preparation_words(claim: Claim, product: str) -> str:
    name = claim.property or ""
    first = property_words(name)
    figure = range_words(claim.low, claim.high, claim.unit)
    if name == "prime_within" and claim.high is not None:
        figure = duration_words(claim.high)
    if name in {"abrade", "own_film", "blast", "profile"} and figure:
        figure = translate("wording", "to {figure}").format(figure=figure) if name != "profile" else figure
    text = claim.text or ""
    if claim.stance is Stance.FORBIDS:
        first = translate("wording", "do not {first}").format(first=first)
    # In brackets whatever it is: 'degrease (Spirit Wipe)', 'blast to Sa 2½'.
    bracketed = bool(figure) or name in {"degrease", "derust", "neutralise", "rinse"}
    said = " ".join(part for part in (first, figure, f"({text})" if text and bracketed else text) if part)
    if claim.object is not None:
        purpose = (
            translate("wording", "{said}, before {object}")
            if name == "own_film"
            else translate("wording", "{said}, on {object}")
        )
        said = purpose.format(said=said, object=object_words(claim.object))
    return _with_conditions(said, claim) + _circumstances(claim)


def _window_words(claim: Claim, product: str) -> str:
    if claim.property == "abrade_after":
        figure = range_words(claim.low, claim.high, "P") or (
            translate("wording", "with {text}").format(text=claim.text) if claim.text else ""
        )
        if figure and Condition.CLEAN in claim.conditions and claim.low is None and claim.high is None:
            said = translate("wording", "past the latest time, clean it first ({text})").format(text=claim.text)
        else:
            said = translate("wording", "past the latest time, sand {figure}").format(figure=figure).rstrip()
        return f"{object_words(claim.object)}: {said}" if claim.object is not None else said
    times = times_words(claim.low, claim.high, claim.unlimited, claim.at_c)
    if claim.method is not None:
        times = f"{times}, {method_words(claim.method)}"
    times = _with_conditions(times, claim)
    return f"{object_words(claim.object)}: {times}" if claim.object is not None else times


def _exposure_words(claim: Claim, product: str) -> str:
    forbids = claim.stance is Stance.FORBIDS
    if claim.property == "waterproof":
        said = translate("wording", "does not keep water out") if forbids else translate("wording", "keeps water out")
    elif claim.property == "outdoors":
        if forbids:
            said = translate("wording", "must not be left outdoors without a further coat")
        else:
            limit = translate("wording", "without a stated limit") if claim.unlimited else ""
            if claim.high is not None:
                limit = translate("wording", "for at most {duration}").format(duration=duration_words(claim.high))
            said = (
                translate("wording", "may stand outdoors without a further coat {limit}").format(limit=limit).rstrip()
            )
    elif claim.property == "wet_sanding":
        said = translate("wording", "must not be wet-sanded") if forbids else translate("wording", "may be wet-sanded")
    elif claim.property == "topcoat_needed":
        said = translate("wording", "needs a topcoat")
    elif claim.property == "immersion":
        said = (
            translate("wording", "must not stand under water")
            if forbids
            else translate("wording", "may stand under water")
        )
    else:
        said = translate("wording", "does not resist sunlight") if forbids else translate("wording", "resists sunlight")
    return f"{product} {_with_conditions(said, claim)}"


def _ratio_words(claim: Claim) -> str:
    ratio = " : ".join(number_words(part) for part in claim.parts)
    if claim.basis == "volume":
        words = translate("wording", "mixing ratio {ratio} by volume")
    elif claim.basis == "weight":
        words = translate("wording", "mixing ratio {ratio} by weight")
    else:
        words = translate("wording", "mixing ratio {ratio}")
    return words.format(ratio=ratio)


def _figure_words(claim: Claim, product: str) -> str:
    name = claim.property or ""
    if name == "ratio":
        said = _ratio_words(claim)
    elif name == "thinner" and claim.high == 0:
        said = translate("wording", "do not thin")
    elif name == "shelf_life":
        length = claim.high if claim.high is not None else claim.low
        said = (
            translate("wording", "shelf life {figure}").format(figure=figure_words(length, "months"))
            if length is not None
            else translate("wording", "shelf life")
        )
    elif name == "dry_total_max" and claim.high is not None:
        said = f"{property_words(name)} {figure_words(claim.high, claim.unit)}"
    elif name == "pot_life":
        length = claim.high if claim.low is None else claim.low
        said = translate("wording", "pot life {part}").format(
            part=range_words(claim.low, claim.high, claim.unit) if claim.low != length else _pot(claim)
        )
    else:
        said = f"{property_words(name)} {range_words(claim.low, claim.high, claim.unit)}".rstrip()
    if claim.unlimited and claim.high is None:
        said = translate("wording", "{said}, no upper limit").format(said=said)
    if claim.text:
        said = f"{said} ({claim.text})" if claim.low is not None or claim.high is not None or claim.parts else (
            f"{said} {claim.text}"
        )  # fmt: skip
    if claim.object is not None:
        said = translate("wording", "{said}, for {object}").format(said=said, object=object_words(claim.object))
    if claim.stance is Stance.FORBIDS:
        said = translate("wording", "not allowed: {said}").format(said=said)
    return _with_conditions(said, claim) + _circumstances(claim)


def _pot(claim: Claim) -> str:
    return range_words(claim.low, claim.high if claim.high is not None else claim.low, claim.unit)


def _safety_words(claim: Claim, product: str) -> str:
    said = property_words(claim.property or "")
    return f"{said} ({claim.text})" if claim.text else said


_CLAIM_WORDS = {
    Topic.GOES_OVER: _contact_words,
    Topic.TOPPED_BY: _contact_words,
    Topic.PREPARATION: _preparation_words,
    Topic.OVERCOAT_WINDOW: _window_words,
    Topic.EXPOSURE: _exposure_words,
    Topic.MIXING: _figure_words,
    Topic.FILM: _figure_words,
    Topic.APPLICATION: _figure_words,
    Topic.DRYING: _figure_words,
    Topic.STORAGE: _figure_words,
    Topic.SAFETY: _safety_words,
}
