"""A claim as it is typed, and the claim that comes of it. No Qt."""

from __future__ import annotations

from dataclasses import dataclass, replace

from app.translating import translate
from app.wording import duration_words, number_words, object_words
from extract.claims import (
    PRODUCT_PREFIX,
    PROPERTIES,
    SELF,
    Claim,
    Condition,
    Evidence,
    Method,
    Stance,
    Topic,
)
from extract.document import fold
from extract.kinds import kinds
from extract.quantities import read_cell

CONTACT = frozenset({Topic.GOES_OVER, Topic.TOPPED_BY})

_FIXED_STANCES: dict[Topic, Stance] = {
    Topic.PREPARATION: Stance.REQUIRES,
    Topic.MIXING: Stance.STATES,
    Topic.FILM: Stance.STATES,
    Topic.APPLICATION: Stance.STATES,
    Topic.DRYING: Stance.STATES,
    Topic.STORAGE: Stance.STATES,
}


class NotUnderstood(Exception):
    """What was typed is no claim. `field` is the Draft's field, `words` a sentence for the person."""

    def __init__(self, field: str, words: str) -> None:
        super().__init__(words)
        self.field = field
        self.words = words


@dataclass(frozen=True, slots=True)
class Draft:
    """The fields of a claim as text where they are typed, as choices where they are chosen."""

    topic: Topic
    property: str | None = None
    stance: Stance = Stance.STATES
    object: str = ""
    via: str = ""
    only: bool = False
    conditions: frozenset[Condition] = frozenset()
    low: str = ""
    high: str = ""
    unlimited: bool = False
    at_c: str = ""
    method: Method | None = None
    parts: str = ""
    basis: str | None = None
    text: str = ""


def draft_of(claim: Claim) -> Draft:
    """The claim as the form shows it."""
    unit = claim.unit or unit_of(claim.topic, claim.property)
    return Draft(
        topic=claim.topic,
        property=claim.property,
        stance=claim.stance,
        object=_object_text(claim.object),
        via=_object_text(claim.via),
        only=claim.only,
        conditions=frozenset(claim.conditions),
        low=_figure_text(claim.low, unit),
        high=_figure_text(claim.high, unit),
        unlimited=claim.unlimited,
        at_c=_figure_text(claim.at_c, "degC"),
        method=claim.method,
        parts=" : ".join(number_words(p) for p in claim.parts),
        basis=claim.basis,
        text=claim.text or "",
    )


def new_draft(topic: Topic) -> Draft:
    """An empty draft of a topic."""
    return Draft(topic=topic, property=properties_of(topic)[0], stance=stances_of(topic)[0])


def claim_of(draft: Draft, evidence: Evidence, before: Claim | None = None) -> Claim:
    """The claim that the draft comes to. `before` gives what no field shows. Raises NotUnderstood."""
    contact = draft.topic in CONTACT
    unit = unit_of(draft.topic, draft.property)
    low, high = _figure(draft.low, unit, "low"), _figure(draft.high, unit, "high")
    if low is not None and high is not None and low > high:
        raise NotUnderstood("high", translate("confirming", "The second figure is smaller than the first."))
    parts = _parts(draft.parts)
    if contact and not draft.object.strip():
        raise NotUnderstood(
            "object", translate("confirming", "Say what it is about: a surface, a coating, or a product by its name.")
        )
    if draft.property == "ratio" and len(parts) < 2:
        raise NotUnderstood("parts", translate("confirming", "A mixing ratio has at least two parts, as in 4 : 1."))
    base = before or Claim(draft.topic, draft.property, draft.stance, evidence)
    has_figure = low is not None or high is not None
    return replace(
        base,
        topic=draft.topic,
        property=None if contact else draft.property,
        stance=draft.stance,
        evidence=evidence,
        object=_object(draft.object, "object"),
        via=_object(draft.via, "via"),
        only=draft.only and contact,
        conditions=tuple(c for c in Condition if c in draft.conditions),
        low=low,
        high=high,
        unit=unit if has_figure else None,
        unlimited=draft.unlimited,
        at_c=_figure(draft.at_c, "degC", "at_c"),
        method=draft.method,
        parts=parts,
        basis=draft.basis if parts else None,
        text=draft.text.strip() or None,
        confidence=1.0,
        from_picture=False,
        why=None,
    )


def properties_of(topic: Topic) -> tuple[str | None, ...]:
    """What a claim of the topic can be about; (None,) for the two topics of contact."""
    return tuple(PROPERTIES[topic]) or (None,)


def unit_of(topic: Topic, name: str | None) -> str | None:
    """The unit of a property's figures; None where it has none."""
    return PROPERTIES[topic].get(name) if name is not None else None


def stances_of(topic: Topic, name: str | None = None) -> tuple[Stance, ...]:
    """The stances that make sense for a topic (and property)."""
    if topic in CONTACT:
        return (Stance.PERMITS, Stance.FORBIDS)
    if topic is Topic.OVERCOAT_WINDOW:
        return (Stance.REQUIRES,) if name == "abrade_after" else (Stance.STATES,)
    if topic is Topic.EXPOSURE:
        return (Stance.REQUIRES,) if name == "topcoat_needed" else (Stance.PERMITS, Stance.FORBIDS)
    if topic is Topic.SAFETY:
        return (Stance.REQUIRES,) if name in {"air_fed", "professional_only"} else (Stance.STATES,)
    if topic is Topic.PREPARATION:
        return (Stance.REQUIRES, Stance.FORBIDS)
    return (_FIXED_STANCES[topic],)


def object_choices() -> dict[str, str]:
    """Words for every kind that an object can be, with its id; a product's own name may be typed instead."""
    choices = {object_words(SELF): SELF}
    choices.update({object_words(kind, plural=True): kind for kind in kinds()})
    return choices


def _object_text(value: str | None) -> str:
    if value is None:
        return ""
    return object_words(value, plural=value != SELF and not value.startswith(PRODUCT_PREFIX))


def _object(text: str, field: str) -> str | None:
    said = text.strip()
    if not said:
        return None
    choices = {words.casefold(): id_ for words, id_ in object_choices().items()}
    known = choices.get(said.casefold())
    if known is not None:
        return known
    if said in kinds():
        return said
    if said.casefold().startswith(PRODUCT_PREFIX):
        said = said[len(PRODUCT_PREFIX) :].strip()
    if not said:
        raise NotUnderstood(field, translate("confirming", "Say which product."))
    return PRODUCT_PREFIX + said


def _figure_text(value: float | None, unit: str | None) -> str:
    if value is None:
        return ""
    if unit == "min":
        words = duration_words(value)
        # Words of a language that the field could not read again are given as minutes.
        return words if _minutes(words) == value else f"{value:g} min"
    return number_words(value).replace("−", "-")


def _minutes(typed: str) -> float | None:
    read = read_cell(fold(typed), "min")
    return read.low if read is not None and read.unit == "min" else None


def _figure(text: str, unit: str | None, field: str) -> float | None:
    said = text.strip().replace("−", "-").removeprefix("P").removeprefix("p").strip()
    if not said:
        return None
    if unit is None:
        raise NotUnderstood(field, translate("confirming", "This has no figure; put the words into the last field."))
    if unit == "min":
        # A length of time may be typed as it is said: 1 h 30, 3 days.
        minutes = _minutes(said)
        if minutes is None:
            raise NotUnderstood(field, translate("confirming", "Type a time like 45 min, 1 h 30 or 3 days."))
        return minutes
    try:
        return float(said.replace(",", "."))
    except ValueError:
        raise NotUnderstood(field, translate("confirming", "Type one number, without its unit.")) from None


def _parts(text: str) -> tuple[float, ...]:
    said = text.strip()
    if not said:
        return ()
    try:
        return tuple(float(part.replace(",", ".")) for part in said.split(":"))
    except ValueError:
        raise NotUnderstood(
            "parts", translate("confirming", "Type the parts with colons between, as in 4 : 1 : 1.")
        ) from None
