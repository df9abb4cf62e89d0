"""Bounds that the words round a figure turn about: 'do not apply below 10 °C' is a least temperature."""

from __future__ import annotations

import re
from dataclasses import replace

from extract.bounds import Bound
from extract.claims import Topic
from extract.figures.labels import Label, spec_of
from extract.quantities import Quantity

_LITERAL_BELOW = re.compile(r"(?<!not )(?<!never )\b(?:below|under|(?:less|lower|colder|cooler) than)\s*(?:about\s*)?$")
_LITERAL_ABOVE = re.compile(
    r"(?<!not )(?<!never )\b(?:above|over|exceed\w*|(?:more|higher|hotter|warmer) than)\s*(?:about\s*)?$"
)
_NEGATED = re.compile(
    r"\b(?:not|never|avoid|don't|stops?|ceases?|no|leave it|cannot|won't|poor|"
    r"slow\w*(?! (?:reducer|thinner|hardener|activator))|asleep|"
    r"to sleep|refrain|unless|neither)\b"
)
_BOUNDABLE = {"humidity", "air_temp", "surface_temp", "temp", "layer", "thinner"}


def limit_of(folded: str, q: Quantity, label: Label, language: str) -> Label:
    """'Greater than 120 µm is not permissible', 'above 120 µm dry it cracks': a limit of the whole, no film."""
    if label.spec.property != "dry" or q.bound is not Bound.LEAST:
        return label
    if not re.match(
        r"(?:above|over|more than|greater than|thicker than|exceed|beyond|past|in excess)",
        folded[q.lead : q.start],
    ):
        return label
    return replace(label, spec=spec_of(Topic.FILM, "dry_total_max", language))


def turned(folded: str, q: Quantity, label: Label) -> Quantity:
    """'Do not apply below 10 °C' and 'not in humidity above 75 %' say the opposite bound."""
    if q.bound is Bound.NONE and q.low == q.high and label.spec.property in _BOUNDABLE:
        ahead = folded[max(0, label.start - 12) : label.start]
        if label.end <= q.start and (m := re.search(r"\b(max|min)(?:imum)?\b\.?\s*(?:the\s*)?$", ahead)):
            # 'Max. r.h. 85 %'
            if m.group(1) == "max":
                return replace(q, bound=Bound.MOST, low=None, printed_low=None)
            return replace(q, bound=Bound.LEAST, high=None, printed_high=None)
    if q.bound is Bound.NONE:
        thicker = label.spec.property == "layer" and folded[label.start : label.end].endswith("than")
        return replace(q, bound=Bound.MOST, low=None, printed_low=None) if thicker else q
    before = folded[max(0, q.start - 40) : q.start]
    clause = folded[max(0, q.start - 120) : q.end + 60]
    if label.spec.property == "humidity" and q.bound is Bound.LEAST:
        return q.flipped()
    if label.spec.property == "dew_margin" and q.bound is Bound.MOST:
        return q.flipped()
    literal = _LITERAL_BELOW.search(before) if q.bound is Bound.MOST else _LITERAL_ABOVE.search(before)
    near = re.split(r"[.;:]", before)[-1]
    if label.spec.property == "temp" and literal and re.search(r"\b(?:not|never|avoid|don't|no|from|against)\b", near):
        return q.flipped()
    if label.spec.property in {"air_temp", "surface_temp"} and literal and _NEGATED.search(clause):
        return q.flipped()
    return q
