"""Build-ups that a person has named and kept. They lie among the library's settings, so they travel with it.

A kept layer names its product by id and by name: a product that was joined to another is found again by its name, and
one that is gone is said to be lost instead of being taken for something else.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

from extract.kinds import is_known
from store.planning.buildup import BuildUp, Layer
from store.records import ProductRecord
from store.rules.reach import KindParty, Party, ProductParty

if TYPE_CHECKING:
    from store.library import Library

_SETTING = "build_ups"
_FIGURES = ("film_um", "after_min", "at_c", "hottest_c")
_FLAGS = ("abraded", "cleaned", "cured")


@dataclass(frozen=True, slots=True)
class KeptBuildUp:
    """lost are the names of layers whose product is no longer in the library; they are not among the layers."""

    name: str
    build_up: BuildUp
    lost: tuple[str, ...] = ()
    raw: Mapping[str, Any] = field(default_factory=dict, compare=False)
    """As it lies in the library."""


def kept(library: Library) -> tuple[KeptBuildUp, ...]:
    """All of them, by name."""
    products = library.products()
    found = [_read(name, raw, products) for name, raw in _stored(library).items() if isinstance(raw, Mapping)]
    return tuple(sorted(found, key=lambda one: one.name.casefold()))


def keep(library: Library, name: str, build_up: BuildUp) -> tuple[KeptBuildUp, ...]:
    """Keep it; one of the same name is replaced. Raises ValueError for a name of nothing but spaces."""
    if not name.strip():
        raise ValueError("a build-up that is kept needs a name")
    return _put(library, name.strip(), encoded(build_up))


def keep_again(library: Library, former: KeptBuildUp) -> tuple[KeptBuildUp, ...]:
    """Take back one that was forgotten, as it was."""
    return _put(library, former.name, former.raw)


def forget(library: Library, name: str) -> tuple[KeptBuildUp, ...]:
    """Keep it no longer; nothing happens where there is none of that name."""
    library.set_setting(_SETTING, _without(_stored(library), name))
    return kept(library)


def encoded(build_up: BuildUp) -> dict[str, Any]:
    """As JSON values; decoded() reads them."""
    return {"at_c": build_up.at_c, "layers": [_layer_out(layer) for layer in build_up.layers]}


def decoded(raw: Mapping[str, Any], products: Sequence[ProductRecord]) -> tuple[BuildUp, tuple[str, ...]]:
    """The build-up as the library knows its products now, and the names of those that it no longer knows."""
    layers: list[Layer] = []
    lost: list[str] = []
    written = raw.get("layers")
    for one in written if isinstance(written, list) else []:
        if not isinstance(one, Mapping):
            continue
        party = _party(one, products)
        if party is None:
            lost.append(str(one.get("name", "")))
        else:
            layers.append(_layer_in(one, party))
    return BuildUp(tuple(layers), _figure(raw.get("at_c"))), tuple(lost)


def _put(library: Library, name: str, raw: Mapping[str, Any]) -> tuple[KeptBuildUp, ...]:
    library.set_setting(_SETTING, {**_without(_stored(library), name), name: dict(raw)})
    return kept(library)


def _stored(library: Library) -> dict[str, Any]:
    found = library.setting(_SETTING, {})
    return dict(found) if isinstance(found, dict) else {}


def _without(stored: Mapping[str, Any], name: str) -> dict[str, Any]:
    return {other: raw for other, raw in stored.items() if other.casefold() != name.strip().casefold()}


def _read(name: str, raw: Mapping[str, Any], products: Sequence[ProductRecord]) -> KeptBuildUp:
    build_up, lost = decoded(raw, products)
    return KeptBuildUp(name, build_up, lost, raw)


def _layer_out(layer: Layer) -> dict[str, Any]:
    made: dict[str, Any] = {"name": layer.party.name}
    if isinstance(layer.party, ProductParty):
        made["product_id"] = layer.party.product.id
    else:
        made["kind"] = layer.party.kind
    made |= {name: value for name in (*_FIGURES, *_FLAGS) if (value := getattr(layer, name)) is not None}
    if layer.weeks_outdoors:
        made["weeks_outdoors"] = layer.weeks_outdoors
    return made


def _layer_in(raw: Mapping[str, Any], party: Party) -> Layer:
    said: dict[str, Any] = {name: _figure(raw.get(name)) for name in _FIGURES}
    said |= {name: raw[name] if isinstance(raw.get(name), bool) else None for name in _FLAGS}
    return Layer(party, **said, weeks_outdoors=_figure(raw.get("weeks_outdoors")) or 0.0)


def _party(raw: Mapping[str, Any], products: Sequence[ProductRecord]) -> Party | None:
    kind = raw.get("kind")
    if isinstance(kind, str):
        return KindParty(kind) if is_known(kind) else None
    by_id = next((product for product in products if product.id == raw.get("product_id")), None)
    if by_id is not None:
        return ProductParty(by_id)
    named = [product for product in products if product.name.casefold() == str(raw.get("name", "")).casefold()]
    return ProductParty(named[0]) if len(named) == 1 else None


def _figure(value: object) -> float | None:
    return float(value) if isinstance(value, int | float) and not isinstance(value, bool) else None
