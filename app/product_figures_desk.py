"""Fetches what a product's sheets say of mixing, film and cautions, off the main thread."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import TYPE_CHECKING

from app.jobs import Failed, LibraryDesk
from store.job_records import TinRecord
from store.planning.product_figures import ProductFigures, product_figures
from store.records import ClaimRecord

if TYPE_CHECKING:
    from store.library import Library


@dataclass(frozen=True, slots=True)
class ProductOnBench:
    """figures with their sentences; cautions of the current sheets, also those that nobody has confirmed; tins."""

    figures: ProductFigures
    cautions: tuple[ClaimRecord, ...]
    tins: tuple[TinRecord, ...]


def fetch(library: Library, product_id: int) -> ProductOnBench:
    """Raises UnknownRecord for a product that is gone."""
    product = library.product(product_id)
    figures = product_figures(product, library.rules([product_id]), library.proposals([product_id]))
    current = [sheet for sheet in library.sheets_of(product_id) if sheet.superseded_by is None]
    cautions = tuple(claim for sheet in current for claim in library.claims(sheet.id))
    tins = tuple(tin for tin in library.tins() if tin.tin.product_id == product_id)
    return ProductOnBench(figures, cautions, tins)


def ask_for(
    desk: LibraryDesk, product_id: int, done: Callable[[ProductOnBench], None], failed: Failed | None = None
) -> None:
    """done on the main thread."""
    desk.read(lambda library: fetch(library, product_id), done, failed)
