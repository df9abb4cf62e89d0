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
from extract.claims import PRODUCT_PREFIX, SELF, Claim, Condition, Method, Stance, Topic
from extract.kinds import is_known, label

__all__ = [
    "claim_words", "condition_words", "conditions_joined", "date_words", "duration_words", "joined", "kind_words",
    "method_words", "number_words", "object_words", "property_words", "range_words", "temperature_words", "times_words",
    "topic_words",
]  # fmt: skip

_TOPICS: Mapping[Topic, str] = {
    Topic.GOES_OVER: "What it may go over",
    Topic.TOPPED_BY: "What may go on it",
    Topic.PREPARATION: "Preparation",
    Topic.OVERCOAT_WINDOW: "Time to the next coat",
    Topic.EXPOSURE: "Left open to weather",
    Topic.MIXING: "Mixing",
    Topic.FILM: "Coats and film",
    Topic.APPLICATION: "Putting it on",
    Topic.DRYING: "Drying",
    Topic.STORAGE: "The tin",
    Topic.SAFETY: "Cautions",
}

_PROPERTIES: Mapping[str, str] = {
    "degrease": "degrease",
    "derust": "take off all rust",
    "neutralise": "neutralise",
    "rinse": "rinse",
    "test_patch": "try it on a test patch first",
    "abrade": "sand",
    "blast": "blast",
    "profile": "blast profile",
    "own_film": "sand this product's own film",
    "prime_within": "coat within",
    "window": "next coat",
    "abrade_after": "past the latest time, sand",
    "waterproof": "keeps water out",
    "outdoors": "outdoors without a further coat",
    "wet_sanding": "wet sanding",
    "topcoat_needed": "needs a topcoat",
    "immersion": "standing under water",
    "uv": "resists sunlight",
    "ratio": "mixing ratio",
    "thinner": "thinner",
    "pot_life": "pot life",
    "induction": "stand after mixing",
    "mixed_viscosity": "viscosity when mixed",
    "coats": "coats",
    "wet": "wet film",
    "dry": "dry film",
    "dry_total_max": "dry film of all coats, at most",
    "layer": "one layer",
    "coverage": "coverage",
    "volume_solids": "solids by volume",
    "air_temp": "air temperature",
    "surface_temp": "surface temperature",
    "humidity": "humidity of the air",
    "dew_margin": "surface above the dew point by",
    "nozzle": "nozzle",
    "pressure": "pressure",
    "flash_off": "flash-off",
    "method": "put on by",
    "dust": "dust dry",
    "touch": "touch dry",
    "handle": "ready to handle",
    "sand": "ready to sand",
    "hard": "hard",
    "cure": "fully cured",
    "return_to_service": "back in use",
    "shelf_life": "shelf life",
    "temp": "store at",
    "isocyanate": "contains isocyanates",
    "air_fed": "wear an air-fed mask",
    "professional_only": "for trained professionals only",
    "flammable": "flammable",
    "chromate": "contains chromates",
    "lead": "contains lead",
}

_STATES: Mapping[Condition, str] = {
    Condition.CLEAN: "clean",
    Condition.ABRADED: "sanded or keyed",
    Condition.CURED: "cured",
    Condition.SOUND: "sound",
}
"""Conditions that the thing beneath must be in: said together, 'once it is clean, sanded or keyed and cured'."""

_CONDITIONS: Mapping[Condition, str] = {
    Condition.WITHIN_WINDOW: "within its time limits",
    Condition.ISOLATED: "with another coat between",
    Condition.SPOT_ONLY: "on small spots only",
    Condition.THICKNESS_LIMITED: "within the stated thickness",
    Condition.TESTED: "after a trial on a small area",
    Condition.ADDITIVE: "with the stated additive",
}

_METHODS: Mapping[Method, str] = {
    Method.AIR: "air drying",
    Method.FORCE: "in the oven",
    Method.IR: "under infra-red",
    Method.WET_ON_WET: "wet on wet",
}


def topic_words(topic: Topic) -> str:
    return _TOPICS[topic]


def property_words(name: str) -> str:
    return _PROPERTIES[name]


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

    states = [worded(c, _STATES[c]) for c in _STATES if c in conditions]
    parts = [f"once it is {joined(states)}"] if states else []
    for condition in conditions:
        if condition is Condition.ISOLATED and via:
            parts.append(f"with {object_words(via)} between")
        elif condition in _CONDITIONS:
            parts.append(worded(condition, _CONDITIONS[condition]))
    return ", ".join(parts)


def method_words(method: Method) -> str:
    return _METHODS[method]


def kind_words(kind: str, *, plural: bool = False) -> str:
    """A vocabulary id in a painter's words; an id of a newer vocabulary as it stands."""
    return label(kind, plural) if is_known(kind) else kind


def object_words(object_: str | None, *, plural: bool = False) -> str:
    """A claim's object: a kind, a named product, the product itself, or anything at all."""
    if object_ is None:
        return "anything"
    if object_ == SELF:
        return "a further coat of itself"
    if object_.startswith(PRODUCT_PREFIX):
        return object_.removeprefix(PRODUCT_PREFIX)
    return kind_words(object_, plural=plural)


def claim_words(claim: Claim, product: str = "this product") -> str:
    """One claim in a sentence, without its full stop; product is the name that the sheet is about."""
    sentence = _CLAIM_WORDS[claim.topic](claim, product)
    return _first_large(sentence)


def _first_large(sentence: str) -> str:
    return sentence[:1].upper() + sentence[1:]


def _with_conditions(sentence: str, claim: Claim) -> str:
    return ", ".join(part for part in (sentence, conditions_joined(claim.conditions, claim.via)) if part)


def _circumstances(claim: Claim) -> str:
    parts = []
    if claim.at_c is not None:
        parts.append(f"at {temperature_words(claim.at_c)}")
    if claim.method is not None:
        parts.append(method_words(claim.method))
    return "".join(f", {part}" for part in parts)


def _contact_words(claim: Claim, product: str) -> str:
    target = object_words(claim.object, plural=True)
    upper = claim.topic is Topic.GOES_OVER
    only = "only " if claim.only else ""
    if claim.stance is Stance.FORBIDS:
        sentence = f"must not go over {target}" if upper else f"must not be coated with {target}"
    elif claim.stance is Stance.REQUIRES:
        sentence = f"must go over {target}" if upper else f"must be coated with {target}"
    else:
        sentence = f"may {only}go over {target}" if upper else f"may {only}be coated with {target}"
    return f"{product} {_with_conditions(sentence, claim)}"


def _preparation_words(claim: Claim, product: str) -> str:
    name = claim.property or ""
    first = property_words(name)
    figure = range_words(claim.low, claim.high, claim.unit)
    if name == "prime_within" and claim.high is not None:
        figure = duration_words(claim.high)
    if name in {"abrade", "own_film", "blast", "profile"} and figure:
        figure = f"to {figure}" if name != "profile" else figure
    text = claim.text or ""
    if claim.stance is Stance.FORBIDS:
        first = f"do not {first}"
    said = " ".join(part for part in (first, figure, f"({text})" if text and figure else text) if part)
    if claim.object is not None:
        purpose = "before" if name == "own_film" else "on"
        said = f"{said}, {purpose} {object_words(claim.object)}"
    return _with_conditions(said, claim) + _circumstances(claim)


def _window_words(claim: Claim, product: str) -> str:
    if claim.property == "abrade_after":
        figure = range_words(claim.low, claim.high, "P") or (f"with {claim.text}" if claim.text else "")
        said = f"past the latest time, sand {figure}".rstrip()
        return f"{object_words(claim.object)}: {said}" if claim.object is not None else said
    times = times_words(claim.low, claim.high, claim.unlimited, claim.at_c)
    if claim.method is not None:
        times = f"{times}, {method_words(claim.method)}"
    times = _with_conditions(times, claim)
    return f"{object_words(claim.object)}: {times}" if claim.object is not None else times


def _exposure_words(claim: Claim, product: str) -> str:
    forbids = claim.stance is Stance.FORBIDS
    if claim.property == "waterproof":
        said = "does not keep water out" if forbids else "keeps water out"
    elif claim.property == "outdoors":
        if forbids:
            said = "must not be left outdoors without a further coat"
        else:
            limit = "without a stated limit" if claim.unlimited else ""
            if claim.high is not None:
                limit = f"for at most {duration_words(claim.high)}"
            said = f"may stand outdoors without a further coat {limit}".rstrip()
    elif claim.property == "wet_sanding":
        said = "must not be wet-sanded" if forbids else "may be wet-sanded"
    elif claim.property == "topcoat_needed":
        said = "needs a topcoat"
    elif claim.property == "immersion":
        said = "must not stand under water" if forbids else "may stand under water"
    else:
        said = "does not resist sunlight" if forbids else "resists sunlight"
    return f"{product} {_with_conditions(said, claim)}"


def _ratio_words(claim: Claim) -> str:
    ratio = " : ".join(number_words(part) for part in claim.parts)
    return f"mixing ratio {ratio}{f' by {claim.basis}' if claim.basis else ''}"


def _figure_words(claim: Claim, product: str) -> str:
    name = claim.property or ""
    if name == "ratio":
        said = _ratio_words(claim)
    elif name == "thinner" and claim.high == 0:
        said = "do not thin"
    elif name == "shelf_life":
        length = claim.high if claim.high is not None else claim.low
        said = f"shelf life {figure_words(length, 'months')}" if length is not None else "shelf life"
    elif name == "dry_total_max" and claim.high is not None:
        said = f"{property_words(name)} {figure_words(claim.high, claim.unit)}"
    elif name == "pot_life":
        length = claim.high if claim.low is None else claim.low
        said = f"pot life {range_words(claim.low, claim.high, claim.unit) if claim.low != length else _pot(claim)}"
    else:
        said = f"{property_words(name)} {range_words(claim.low, claim.high, claim.unit)}".rstrip()
    if claim.unlimited and claim.high is None:
        said = f"{said}, no upper limit"
    if claim.text:
        said = f"{said} ({claim.text})" if claim.low is not None or claim.high is not None or claim.parts else (
            f"{said} {claim.text}"
        )  # fmt: skip
    if claim.object is not None:
        said = f"{said}, for {object_words(claim.object)}"
    if claim.stance is Stance.FORBIDS:
        said = f"not allowed: {said}"
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
