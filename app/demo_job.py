"""What is going on in the demo workshop: an invented job on invented products, so that no place of it is empty."""

from __future__ import annotations

from datetime import datetime, timedelta
from typing import TYPE_CHECKING

from store.job_records import (
    Coat,
    Component,
    Layer,
    OutdoorSpell,
    Panel,
    Preparation,
    PreparationKind,
    Tin,
    TinTake,
)

if TYPE_CHECKING:
    from store.library import Library

EPOXY, FILLER, ETCH = "Keeper", "Planor", "Biter"
JOB = "the green van"


def lay_out_job(library: Library, now: datetime) -> None:
    """Two panels in work and four tins, with times counted back from `now` (zone known). Nothing where a product of
    the job is not in the library."""
    products = {product.name: product.id for product in library.products()}
    if not {EPOXY, FILLER, ETCH} <= products.keys():
        return
    epoxy, filler, etch = (products[name] for name in (EPOXY, FILLER, ETCH))
    day = timedelta(days=1)
    bought = (now - 60 * day).date()
    base = library.add_tin(
        Tin(epoxy, 1000, size=1000, batch="K 2204", bought=bought, place="left cupboard", price_per_litre=38.0)
    )
    hardener = library.add_tin(
        Tin(epoxy, 250, Component.HARDENER, size=250, batch="H 118", bought=bought, place="left cupboard")
    )
    library.add_tin(Tin(filler, 1400, size=2000, bought=bought, opened=(now - 20 * day).date(), place="bench"))
    library.add_tin(Tin(etch, 500, size=500, bought=bought, place="left cupboard"))

    door = library.add_panel(
        Panel(
            "left door", JOB, "surface.steel",
            plan=(Layer(epoxy, coats=2, dry_um=50), Layer(filler), Layer(kind="surfacer.2k"), Layer(kind="topcoat")),
            note="lower corner let in new",
        )
    )  # fmt: skip
    yesterday = now - day
    for kind, grit, hours in ((PreparationKind.ABRADED, 80, 3), (PreparationKind.DEGREASED, None, 2)):
        library.log_preparation(door.id, Preparation(yesterday - timedelta(hours=hours), kind, grit))
    library.log_coat(
        door.id,
        Coat(
            yesterday, epoxy, coats=2, takes=(TinTake(base.id, 280), TinTake(hardener.id, 70)),
            air_c=18, panel_c=17, humidity=55, note="two coats, second one full",
        ),
    )  # fmt: skip

    sill = library.add_panel(
        Panel("right sill", JOB, "surface.steel", plan=(Layer(epoxy, coats=2), Layer(kind="surfacer.2k")))
    )
    library.log_preparation(sill.id, Preparation(now - 40 * day, PreparationKind.BLASTED))
    library.log_coat(
        sill.id,
        Coat(
            now - 40 * day + timedelta(hours=2), epoxy, coats=2,
            takes=(TinTake(base.id, 160), TinTake(hardener.id, 40)), air_c=21, panel_c=20, humidity=50,
        ),
    )  # fmt: skip
    library.put_outdoors(sill.id, OutdoorSpell(now - 33 * day))
