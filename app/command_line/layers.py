"""Layers as they are typed: a name, then what is said of it, parted by semicolons.

    "Keeper; 90 um; after 24 h; at 15 C; sanded; cleaned; cured; 8 weeks outdoors"

'unsanded', 'uncleaned' and 'uncured' say that it is not so; 'hottest 34 C' the highest temperature of the wait.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace

from store.planning.buildup import Layer
from store.planning.finder import Stop
from store.records import ProductRecord
from store.rules.names import Unknown, resolve
from store.rules.reach import Party, party_of

_NUMBER = r"(\d+(?:[.,]\d+)?)"
_MINUTES = {"min": 1.0, "h": 60.0, "d": 1440.0, "w": 10080.0}
_FILM = re.compile(rf"{_NUMBER}\s*(?:um|µm|μm|microns?)")
_AFTER = re.compile(rf"after\s+{_NUMBER}\s*(min|h|d|w)[a-z]*")
_AT = re.compile(r"(?:at\s+)?([-−]?\d+(?:[.,]\d+)?)\s*°?\s*c")
_HOTTEST = re.compile(rf"hottest\s+{_NUMBER}\s*°?\s*c")
_WEEKS = re.compile(rf"(?:then\s+)?{_NUMBER}\s*(weeks?|days?|months?)\s+out(?:doors|side)?")
_IN_WEEKS = {"week": 1.0, "day": 1 / 7, "month": 30 / 7}
_FLAGS = {"sanded": "abraded", "abraded": "abraded", "keyed": "abraded", "cleaned": "cleaned", "degreased": "cleaned",
          "washed": "cleaned", "cured": "cured"}  # fmt: skip


class NotUnderstood(ValueError):
    """Something typed that is neither a name nor a fact; nearest are names that may have been meant."""

    def __init__(self, text: str, nearest: tuple[str, ...] = ()) -> None:
        super().__init__(text)
        self.text, self.nearest = text, nearest


def layer_typed(text: str, products: Sequence[ProductRecord]) -> Layer:
    """Raises NotUnderstood."""
    name, *facts = (part.strip() for part in text.split(";"))
    layer = Layer(party_typed(name, products))
    for fact in facts:
        if fact:
            layer = _with(layer, fact)
    return layer


def party_typed(text: str, products: Sequence[ProductRecord]) -> Party:
    """Raises NotUnderstood."""
    meaning = resolve(text, products)
    if isinstance(meaning, Unknown):
        raise NotUnderstood(text, meaning.nearest)
    return party_of(meaning)


def stop_typed(text: str, products: Sequence[ProductRecord]) -> Stop:
    """'filler', '8 weeks outdoors', or 'filler; 2 weeks outdoors'. Raises NotUnderstood."""
    party: Party | None = None
    weeks = 0.0
    for part in filter(None, (part.strip() for part in text.split(";"))):
        outdoors = _weeks(part)
        if outdoors is not None:
            weeks += outdoors
        elif party is None:
            party = party_typed(part, products)
        else:
            raise NotUnderstood(part)
    if party is None and weeks == 0:
        raise NotUnderstood(text)
    return Stop(party, weeks)


def _with(layer: Layer, fact: str) -> Layer:
    said = " ".join(fact.casefold().split())
    flag = _FLAGS.get(said.removeprefix("un").removeprefix("not "))
    if flag is not None:
        done = not said.startswith(("un", "not "))
        return replace(layer, **{flag: done})  # type: ignore[arg-type]
    weeks = _weeks(said)
    if weeks is not None:
        return replace(layer, weeks_outdoors=layer.weeks_outdoors + weeks)
    if found := _FILM.fullmatch(said):
        return replace(layer, film_um=_number(found[1]))
    if found := _AFTER.fullmatch(said):
        return replace(layer, after_min=_number(found[1]) * _MINUTES[found[2]])
    if found := _HOTTEST.fullmatch(said):
        return replace(layer, hottest_c=_number(found[1]))
    if found := _AT.fullmatch(said):
        return replace(layer, at_c=_number(found[1]))
    raise NotUnderstood(fact)


def _weeks(said: str) -> float | None:
    found = _WEEKS.fullmatch(said.casefold())
    return None if found is None else _number(found[1]) * _IN_WEEKS[found[2].removesuffix("s")]


def _number(text: str) -> float:
    return float(text.replace(",", ".").replace("−", "-"))
