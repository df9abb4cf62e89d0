"""The tree of kinds that a sheet speaks of, and the families that cut across it.

The data is vocabulary/kinds.toml. Every function takes an id of that file and raises UnknownKind
for any other; named products ('product:NAME') are no kinds.
"""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from functools import cache
from importlib import resources
from typing import Literal

Sort = Literal["found", "put_on"]
"""What the painter finds there (surfaces, finishes, treatments), or what the painter puts on."""


class UnknownKind(LookupError):
    """An id that the vocabulary does not hold."""

    def __init__(self, kind: str) -> None:
        super().__init__(kind)
        self.kind = kind


@dataclass(frozen=True, slots=True)
class Kind:
    """One entry of the vocabulary. families are those set for it alone, see families_of()."""

    id: str
    label: str
    plural: str
    sort: Sort
    families: tuple[str, ...] = ()
    forbidden_with: tuple[str, ...] = ()


@cache
def kinds() -> dict[str, Kind]:
    """Every kind by its id, in the vocabulary's order."""
    raw = tomllib.loads(resources.files("extract.vocabulary").joinpath("kinds.toml").read_text("utf-8"))
    return {
        entry["id"]: Kind(
            id=entry["id"],
            label=entry["label"],
            plural=entry.get("plural", entry["label"]),
            sort=entry["sort"],
            families=tuple(entry.get("families", ())),
            forbidden_with=tuple(entry.get("forbidden_with", ())),
        )
        for entry in raw["kind"]
    }


def is_known(kind: str) -> bool:
    return kind in kinds()


def _entry(kind: str) -> Kind:
    try:
        return kinds()[kind]
    except KeyError:
        raise UnknownKind(kind) from None


@cache
def ancestors(kind: str) -> tuple[str, ...]:
    """The kinds that it is a kind of, nearest first; not itself ('topcoat.solid.2k' -> 'topcoat')."""
    _entry(kind)
    parts = kind.split(".")
    return tuple(up for n in range(len(parts) - 1, 0, -1) if is_known(up := ".".join(parts[:n])))


def is_kind_of(child: str, parent: str) -> bool:
    """True where child is parent or stands below it in the tree. Families are another matter, see covers()."""
    return child == parent or parent in ancestors(child)


@cache
def families_of(kind: str) -> frozenset[str]:
    """The families that its chemistry, or an ancestor's, puts it in."""
    return frozenset(f for k in (kind, *ancestors(kind)) for f in _entry(k).families)


def covers(object_: str, kind: str, *, forbidding: bool = False) -> bool:
    """True where a rule on object_ speaks of kind: the same, an ancestor, or a family that it belongs to.

    forbidding widens it to kinds that a prohibition covers by their nature (glass filler under polyester filler).
    """
    if is_kind_of(kind, object_) or object_ in families_of(kind):
        return True
    return forbidding and any(object_ in _entry(k).forbidden_with for k in (kind, *ancestors(kind)))


def sort_of(kind: str) -> Sort:
    """The sort that an 'only' list over this kind closes."""
    return _entry(kind).sort


def label(kind: str, plural: bool = False) -> str:
    """The kind as a painter says it, in English."""
    entry = _entry(kind)
    return entry.plural if plural else entry.label
