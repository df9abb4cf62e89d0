"""Which products are at hand for a build-up: those with something left in a tin of the paint itself."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from store.job_records import Component, TinRecord
from store.records import ProductRecord


def on_the_shelf(tins: Iterable[TinRecord], products: Sequence[ProductRecord]) -> tuple[ProductRecord, ...]:
    """The products of the tins that are not empty, in the library's order; hardeners and thinners are no coats."""
    held = {record.tin.product_id for record in tins if record.tin.left > 0 and record.tin.component is Component.BASE}
    return tuple(product for product in products if product.id in held)
