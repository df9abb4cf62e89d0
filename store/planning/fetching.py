"""What a library holds on the products of a job, fetched at once for the pure functions of this package."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from store.job_records import PanelRecord, TinRecord
from store.rules.asking import Source
from store.rules.comparison import Material


def material_of(source: Source, product_ids: Iterable[int]) -> Material:
    """The rules and proposals of these products, the user's own rules, and every product to read names against."""
    ids = sorted(set(product_ids))
    return Material(
        source.rules(ids) if ids else (),
        source.proposals(ids) if ids else (),
        source.own_rules(),
        source.products(),
    )


def products_of(panels: Sequence[PanelRecord], tins: Sequence[TinRecord] = ()) -> set[int]:
    """Every product that is on a panel, planned for one, or in a tin."""
    on = {record.coat.product_id for panel in panels for record in panel.coats}
    planned = {layer.product_id for panel in panels for layer in panel.panel.plan if layer.product_id is not None}
    return on | planned | {record.tin.product_id for record in tins}
