"""What is read out of a data sheet, as plain values.

The vocabulary of fields, topics and units is that of the document format
``tinsheet-claims/1`` (see DEVELOPERS.md, "Claims"). No third-party import: store/ and app/
share these values.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from typing import Any

FORMAT = "tinsheet-claims/1"

Box = tuple[float, float, float, float]
"""x0, top, x1, bottom in PDF points from the top left of the page as displayed (MediaBox, /Rotate applied)."""


class Topic(StrEnum):
    GOES_OVER = "goes_over"
    TOPPED_BY = "topped_by"
    PREPARATION = "preparation"
    OVERCOAT_WINDOW = "overcoat_window"
    EXPOSURE = "exposure"
    MIXING = "mixing"
    FILM = "film"
    APPLICATION = "application"
    DRYING = "drying"
    STORAGE = "storage"
    SAFETY = "safety"


class Stance(StrEnum):
    PERMITS = "permits"
    FORBIDS = "forbids"
    REQUIRES = "requires"
    STATES = "states"


class Condition(StrEnum):
    CLEAN = "clean"
    ABRADED = "abraded"
    CURED = "cured"
    SOUND = "sound"
    WITHIN_WINDOW = "within_window"
    ISOLATED = "isolated"
    SPOT_ONLY = "spot_only"
    THICKNESS_LIMITED = "thickness_limited"
    TESTED = "tested"
    ADDITIVE = "additive"


class Method(StrEnum):
    AIR = "air"
    FORCE = "force"
    IR = "ir"
    WET_ON_WET = "wet_on_wet"


PROPERTIES: Mapping[Topic, Mapping[str, str | None]] = {
    Topic.GOES_OVER: {},
    Topic.TOPPED_BY: {},
    Topic.PREPARATION: {
        "degrease": None,
        "derust": None,
        "neutralise": None,
        "rinse": None,
        "test_patch": None,
        "abrade": "P",
        "blast": None,
        "profile": "um",
        "own_film": "P",
        "prime_within": "min",
    },
    Topic.OVERCOAT_WINDOW: {"window": "min", "abrade_after": "P"},
    Topic.EXPOSURE: {
        "waterproof": None,
        "outdoors": "min",
        "wet_sanding": None,
        "topcoat_needed": None,
        "immersion": None,
        "uv": None,
    },
    Topic.MIXING: {
        "ratio": None,
        "thinner": "%",
        "pot_life": "min",
        "induction": "min",
        "mixed_viscosity": "s",
    },
    Topic.FILM: {
        "coats": "count",
        "wet": "um",
        "dry": "um",
        "dry_total_max": "um",
        "layer": "um",
        "coverage": "m2/l",
        "volume_solids": "%",
    },
    Topic.APPLICATION: {
        "air_temp": "degC",
        "surface_temp": "degC",
        "humidity": "%",
        "dew_margin": "degC",
        "nozzle": "mm",
        "pressure": "bar",
        "flash_off": "min",
        "method": None,
    },
    Topic.DRYING: dict.fromkeys(("dust", "touch", "handle", "sand", "hard", "cure", "return_to_service"), "min"),
    Topic.STORAGE: {"shelf_life": "months", "temp": "degC"},
    Topic.SAFETY: dict.fromkeys(("isocyanate", "air_fed", "professional_only", "flammable", "chromate", "lead"), None),
}
"""Each topic's properties with the unit fixed for their figures; None where the value is a word or a fact."""

SELF = "self"
PRODUCT_PREFIX = "product:"


@dataclass(frozen=True, slots=True)
class Evidence:
    """Where the words stand: page from 1, the words as printed, one box a line."""

    page: int
    quote: str
    boxes: tuple[Box, ...]


@dataclass(frozen=True, slots=True)
class Why:
    """Which pattern and which vocabulary terms produced a claim, and from which table cell if any."""

    pattern: str
    terms: tuple[str, ...] = ()
    cell: str = ""


@dataclass(frozen=True, slots=True)
class Claim:
    """One thing a sheet says. Figures are in the unit that PROPERTIES fixes; at_c in degC."""

    topic: Topic
    property: str | None
    stance: Stance
    evidence: Evidence
    object: str | None = None
    only: bool = False
    conditions: tuple[Condition, ...] = ()
    via: str | None = None
    low: float | None = None
    high: float | None = None
    unit: str | None = None
    unlimited: bool = False
    at_c: float | None = None
    method: Method | None = None
    parts: tuple[float, ...] = ()
    basis: str | None = None
    text: str | None = None
    subject: str | None = None
    confidence: float = 0.5
    from_picture: bool = False
    """True where the words were read from a picture (OCR): never certain."""
    why: Why | None = field(default=None, compare=False)


@dataclass(frozen=True, slots=True)
class SheetHeader:
    """What a sheet says of itself. issued is an ISO date; kind a vocabulary id."""

    file: str
    sha256: str
    pages: int
    maker: str | None = None
    product: str | None = None
    code: str | None = None
    kind: str | None = None
    issued: str | None = None
    revision: str | None = None
    language: str | None = None
    scanned: bool = False


class Pictures(StrEnum):
    """What becomes of pages that are pictures."""

    LEAVE = "leave"
    """They stay empty, and a problem says so."""
    REPORT = "report"
    """Where they could be read, HoldsPictures is raised once all pages are through, so that more room is made."""
    READ = "read"


@dataclass(frozen=True, slots=True)
class PageGeometry:
    """A page's boxes as the PDF gives them (x0, y0, x1, y1; origin bottom left) and its /Rotate in degrees."""

    mediabox: Box
    cropbox: Box
    rotation: int


@dataclass(frozen=True, slots=True)
class PageWord:
    """A word of the page with its box, in reading order: for search and for selecting words on the page."""

    text: str
    box: Box


@dataclass(frozen=True, slots=True)
class PageText:
    number: int
    geometry: PageGeometry
    words: tuple[PageWord, ...]
    from_picture: bool = False


@dataclass(frozen=True, slots=True)
class SheetReading:
    """Everything read from one product's sheet. problems are plain sentences about what could not be read."""

    header: SheetHeader
    claims: tuple[Claim, ...]
    pages: tuple[PageText, ...]
    problems: tuple[str, ...] = ()
    reader: str = ""
    """Version of the reader that made it."""


def claim_to_json(claim: Claim, *, why: bool = False) -> dict[str, Any]:
    """The claim as in tinsheet-claims/1; fields that do not apply are left out."""
    out: dict[str, Any] = {
        "topic": claim.topic.value,
        "property": claim.property,
        "stance": claim.stance.value,
        "object": claim.object,
    }
    if claim.only:
        out["only"] = True
    if claim.conditions:
        out["conditions"] = [c.value for c in claim.conditions]
    for name in ("via", "low", "high", "unit", "at_c", "basis", "text", "subject"):
        value = getattr(claim, name)
        if value is not None:
            out[name] = value
    if claim.unlimited:
        out["unlimited"] = True
    if claim.method is not None:
        out["method"] = claim.method.value
    if claim.parts:
        out["parts"] = list(claim.parts)
    if claim.from_picture:
        out["from_picture"] = True
    out["evidence"] = {
        "page": claim.evidence.page,
        "quote": claim.evidence.quote,
        "boxes": [list(box) for box in claim.evidence.boxes],
    }
    out["confidence"] = round(claim.confidence, 3)
    if why and claim.why is not None:
        out["why"] = {"pattern": claim.why.pattern, "terms": list(claim.why.terms), "cell": claim.why.cell}
    return out


def claim_from_json(data: Mapping[str, Any]) -> Claim:
    """Inverse of claim_to_json. Raises KeyError, TypeError or ValueError on data of another shape."""
    evidence = data["evidence"]
    why = data.get("why")
    return Claim(
        topic=Topic(data["topic"]),
        property=data.get("property"),
        stance=Stance(data["stance"]),
        evidence=Evidence(
            page=int(evidence["page"]),
            quote=str(evidence["quote"]),
            boxes=tuple(_box(b) for b in evidence["boxes"]),
        ),
        object=data.get("object"),
        only=bool(data.get("only", False)),
        conditions=tuple(Condition(c) for c in data.get("conditions", ())),
        via=data.get("via"),
        low=data.get("low"),
        high=data.get("high"),
        unit=data.get("unit"),
        unlimited=bool(data.get("unlimited", False)),
        at_c=data.get("at_c"),
        method=Method(data["method"]) if data.get("method") else None,
        parts=tuple(float(p) for p in data.get("parts", ())),
        basis=data.get("basis"),
        text=data.get("text"),
        subject=data.get("subject"),
        confidence=float(data.get("confidence", 0.5)),
        from_picture=bool(data.get("from_picture", False)),
        why=Why(why["pattern"], tuple(why.get("terms", ())), why.get("cell", "")) if why else None,
    )


def _box(values: Any) -> Box:
    x0, top, x1, bottom = (float(v) for v in values)
    return (x0, top, x1, bottom)
