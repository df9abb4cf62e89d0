"""A build-up worked out against the library: its check, the figures of its sheets, and the sheets for more. No Qt."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from store.planning.buildup import BuildUp, Checked
from store.planning.buildup_check import check
from store.planning.buildup_sheets import Sheets
from store.planning.product_figures import ProductFigures, product_figures
from store.rules.reach import ProductParty

if TYPE_CHECKING:
    from store.library import Library


@dataclass(frozen=True, slots=True)
class Worked:
    """figures by product id: what each product's own sheets say of mixing, film and cautions."""

    checked: Checked
    figures: Mapping[int, ProductFigures]
    sheets: Sheets

    @property
    def build_up(self) -> BuildUp:
        return self.checked.build_up


def work_out(library: Library, build_up: BuildUp) -> Worked:
    """Runs on the library's thread. Raises ValueError where there is no layer on another."""
    products = library.products()
    known = {product.id: product for product in products}
    layers = tuple(
        replace(layer, party=ProductParty(known.get(layer.party.product.id, layer.party.product)))
        if isinstance(layer.party, ProductParty)
        else layer
        for layer in build_up.layers
    )
    used = {layer.party.product.id: layer.party.product for layer in layers if isinstance(layer.party, ProductParty)}
    ids = sorted(used)
    rules = library.rules(ids) if ids else ()
    proposals = library.proposals(ids) if ids else ()
    sheets = Sheets(rules, proposals, library.own_rules(), products)
    figures = {number: product_figures(product, rules, proposals) for number, product in used.items()}
    return Worked(check(BuildUp(layers, build_up.at_c), sheets), figures, sheets)
