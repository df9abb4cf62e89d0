"""A panel's plan and a build-up to be checked: the same layers, once as they are kept and once as they are judged."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from store.job_records import Layer as PlannedLayer
from store.job_records import Panel
from store.planning.buildup import BuildUp, Layer
from store.records import ProductRecord
from store.rules.reach import KindParty, Party, ProductParty


def plan_of(layers: Sequence[Layer]) -> tuple[str | None, tuple[PlannedLayer, ...]]:
    """The surface and the coats on it. A lowest layer that is a product counts as a coat: the surface is not named."""
    if not layers:
        return None, ()
    ground = layers[0].party
    if isinstance(ground, KindParty):
        return ground.kind, tuple(_planned(layer) for layer in layers[1:])
    return None, tuple(_planned(layer) for layer in layers)


def build_up_of(panel: Panel, products: Mapping[int, ProductRecord]) -> BuildUp:
    """The panel's surface and plan as a build-up. A layer whose product is not among `products` is left out."""
    parties: list[tuple[Party, float | None]] = []
    if panel.surface:
        parties.append((KindParty(panel.surface), None))
    for layer in panel.plan:
        product = products.get(layer.product_id) if layer.product_id is not None else None
        if product is not None:
            parties.append((ProductParty(product), layer.dry_um))
        elif layer.kind:
            parties.append((KindParty(layer.kind), layer.dry_um))
    return BuildUp(tuple(Layer(party, film_um=film) for party, film in parties))


def _planned(layer: Layer) -> PlannedLayer:
    party = layer.party
    if isinstance(party, ProductParty):
        return PlannedLayer(product_id=party.product.id, dry_um=layer.film_um)
    return PlannedLayer(kind=party.kind, dry_um=layer.film_um)
